//! What slows work down: season, the way to the beds, and who does it.

use rust_decimal::Decimal;

use super::Basis;
use crate::model::job::{HaulGround, Site, SiteId};
use crate::model::labour::WorkerId;
use crate::units::{Length, round, show};

/// A product of factors, each with its reason.
#[derive(Clone, Debug)]
pub(super) struct Multiplier {
    value: Decimal,
    words: Vec<String>,
}

impl Multiplier {
    /// No change.
    pub(super) fn one() -> Self {
        Self {
            value: Decimal::ONE,
            words: Vec::new(),
        }
    }

    /// Everything that acts on a task: the season on all of them, the way on `haul` tasks alone.
    pub(super) fn on(basis: &Basis, site: SiteId, haul: bool, worker: Option<WorkerId>) -> Self {
        let mut product = Self::season(basis);
        if let Some(site) = basis.job.sites.get(site.index()).filter(|_| haul) {
            product.way(basis, site);
        }
        product.pace(basis, worker);
        product
    }

    /// The season alone.
    pub(super) fn season(basis: &Basis) -> Self {
        let mut product = Self::one();
        product.by("season", basis.job.settings.season_factor.value);
        product
    }

    /// The product, at the digits that a sheet keeps.
    pub(super) fn value(&self) -> Decimal {
        round::tidy15(self.value)
    }

    /// The factors in words, as `season x1.1, soft ground x1.3`; empty when nothing acts.
    pub(super) fn words(&self) -> String {
        self.words.join(", ")
    }

    fn by(&mut self, why: &str, factor: Decimal) {
        if factor == Decimal::ONE {
            return;
        }
        self.value = self.value.saturating_mul(factor);
        self.words
            .push(format!("{why} x{}", show::plain(factor, 4)));
    }

    fn way(&mut self, basis: &Basis, site: &Site) {
        if let Some((why, key)) = slope(site.haul_slope.value) {
            self.by(why, basis.library.typical(key));
        }
        match site.haul_ground.value {
            HaulGround::Firm => {}
            HaulGround::Soft => self.by("soft ground", basis.library.typical("haul_soft")),
            HaulGround::Stairs => self.by("stairs", basis.library.typical("haul_stairs")),
        }
        if is_narrow(basis, site) {
            let why = format!("gate under {}", narrow_words(basis));
            self.by(&why, basis.library.typical("haul_gate_narrow"));
        }
    }

    fn pace(&mut self, basis: &Basis, worker: Option<WorkerId>) {
        if let Some(worker) = basis.worker(worker) {
            self.by(&worker.name, worker.factor.value);
        }
    }
}

/// Whether the site's narrowest gate slows loads down and keeps machines out.
pub(super) fn is_narrow(basis: &Basis, site: &Site) -> bool {
    let gate = site.gate.as_ref().map(|g| g.value);
    gate.is_some_and(|width| width < narrow(basis))
}

fn narrow(basis: &Basis) -> Length {
    Length::inches(basis.library.typical("haul_gate_narrow_in"))
}

/// The width below which a gate is narrow, in words: `36 in`.
pub(super) fn narrow_words(basis: &Basis) -> String {
    basis.job.settings.units.value.depth(narrow(basis))
}

/// The class of a slope: under 5% nothing, then up to 10%, up to 15%, and above.
fn slope(fall: Decimal) -> Option<(&'static str, &'static str)> {
    let percent = fall.saturating_mul(Decimal::ONE_HUNDRED);
    if percent < Decimal::from(5) {
        None
    } else if percent <= Decimal::TEN {
        Some(("slope of 5 to 10%", "haul_slope_5_10"))
    } else if percent <= Decimal::from(15) {
        Some(("slope of 10 to 15%", "haul_slope_10_15"))
    } else {
        Some(("slope over 15%", "haul_slope_over_15"))
    }
}
