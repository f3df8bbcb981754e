//! Fill that comes in bags: it is carried and opened bag by bag, not wheeled from a heap.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Basis;
use super::workload::over;
use crate::buying::OrderLine;
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::model::offer::Handover;
use crate::takeoff::{KindId, Moment};
use crate::units::{Amount, Volume, round};

/// The largest pack that a person carries and empties, in cubic feet. A bale holds up to 4;
/// a bulk bag of a yard is emptied into barrows like a heap.
const MOST_CARRIED_FT3: Decimal = Decimal::from_parts(4, 0, 0, false, 0);

/// Which part of each bed's fill comes in bags, and how many bags that is.
#[derive(Debug, Default)]
pub(super) struct Bags {
    per_bed: BTreeMap<(Moment, KindId), Decimal>,
    /// Part in bags and loose part of one bed's need, in the measure of the order.
    parts: BTreeMap<(Moment, MaterialId, KindId), (Decimal, Decimal)>,
}

impl Bags {
    /// From the orders. Without a task for bags everything counts as loose, so that no work is lost.
    pub(super) fn of(basis: &Basis) -> Self {
        let mut bags = Self::default();
        if !basis.job.tasks.iter().any(|t| t.driver == Driver::Bag) {
            return bags;
        }
        for line in &basis.bought.lines {
            bags.add(basis, line);
        }
        bags
    }

    /// Bags opened for one bed of a kind.
    pub(super) fn of_bed(&self, moment: Moment, kind: KindId) -> Decimal {
        let found = self.per_bed.get(&(moment, kind));
        found.copied().unwrap_or_default()
    }

    /// The fraction of a material that is wheeled loose to the beds of a kind.
    pub(super) fn loose_share(
        &self,
        moment: Moment,
        material: MaterialId,
        kind: KindId,
    ) -> Decimal {
        match self.parts.get(&(moment, material, kind)) {
            Some((packed, loose)) if !packed.is_zero() => {
                over(*loose, packed.saturating_add(*loose))
            }
            _ => Decimal::ONE,
        }
    }

    fn add(&mut self, basis: &Basis, line: &OrderLine) {
        let opened = opened(basis, line);
        let total = line.measures.iter().fold(Decimal::ZERO, |sum, (kind, m)| {
            sum.saturating_add(m.saturating_mul(basis.count(*kind)))
        });
        // Stock that is there already is loose, whatever is bought beside it.
        let stocked = line.on_hand.base();
        let bought = over(line.need.base(), line.need.base().saturating_add(stocked));
        for (kind, measure) in &line.measures {
            let key = (line.moment, line.material, *kind);
            let (packed, loose) = self.parts.entry(key).or_default();
            let Some(opened) = opened else {
                *loose = loose.saturating_add(*measure);
                continue;
            };
            let in_bags = measure.saturating_mul(bought);
            *packed = packed.saturating_add(in_bags);
            *loose = loose.saturating_add(measure.saturating_sub(in_bags));
            let share = over(opened.saturating_mul(*measure), total);
            let sum = self.per_bed.entry((line.moment, *kind)).or_default();
            *sum = sum.saturating_add(share);
        }
    }
}

/// Bags opened for an order line; `None` when it does not come in bags. Bags bought beyond the need
/// for a minimum or a price break stay shut.
fn opened(basis: &Basis, line: &OrderLine) -> Option<Decimal> {
    let offer = basis.job.offers.get(line.offer?.index())?;
    let Amount::Volume(holds) = offer.holds else {
        return None;
    };
    let is_fill = basis.job.material(line.material)?.category.is_fill();
    let carried = holds <= Volume::cubic_feet(MOST_CARRIED_FT3);
    let in_bags = offer.handover == Handover::Packed && is_fill && carried;
    in_bags.then(|| round::whole_up(line.need_units).min(line.quantity))
}
