//! Bags against bulk: from which quantity on a load costs less than packs.

use super::choose::{Quote, Want, quotes};
use super::desk::Desk;
use super::supply::{self, Supply};
use super::{Scope, demand};
use crate::model::job::Job;
use crate::model::material::MaterialId;
use crate::model::offer::Handover;
use crate::takeoff::{Kinds, TakeOff};
use crate::units::{Amount, Decimal, Money};

/// Steps in which quantities are tried: a twentieth of a cubic metre or yard.
const STEPS_A_UNIT: u32 = 20;
/// Quantities that are tried at most.
const MOST_STEPS: u32 = 600;
/// Times the need up to which they are tried, at the least so many units.
const TIMES: u32 = 2;
/// Units that are tried at the least.
const LEAST_UNITS: u32 = 8;

/// A loose material that is for sale in packs too.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BreakEven {
    /// What.
    pub material: MaterialId,
    /// The largest need of one drop.
    pub need: Amount,
    /// What that need costs in packs and in loads; nothing where nobody has so much at a known price.
    pub at_need: (Option<Money>, Option<Money>),
    /// The least quantity from which on a load never costs more; nothing within what was tried.
    pub from: Option<Amount>,
    /// Quantities that were tried with the cheapest packs and the cheapest loads, delivery included.
    pub points: Vec<(Amount, Money, Money)>,
}

impl BreakEven {
    /// From and to which of the quantities that were tried a load costs no more than packs.
    pub fn ranges(&self) -> Vec<(Amount, Amount)> {
        let mut ranges: Vec<(Amount, Amount)> = Vec::new();
        let mut goes_on = false;
        for (amount, packed, loose) in &self.points {
            let fits = loose <= packed;
            match ranges.last_mut().filter(|_| fits && goes_on) {
                Some(last) => last.1 = *amount,
                None if fits => ranges.push((*amount, *amount)),
                None => {}
            }
            goes_on = fits;
        }
        ranges
    }
}

/// Every material that comes both ways, in the order of its demand.
pub fn break_evens(job: &Job, kinds: &Kinds, takeoffs: &[TakeOff]) -> Vec<BreakEven> {
    let desk = Desk::new(job, None);
    let mut unheard = Vec::new();
    let demands = demand::demands(&desk, kinds, takeoffs, &mut unheard);
    let wants = demands.into_iter().map(|demand| Want {
        supplies: supply::supplies(&desk, &demand, &mut unheard),
        demand,
    });
    let wants: Vec<Want> = wants.collect();
    let mut found: Vec<BreakEven> = Vec::new();
    for want in &wants {
        if found
            .iter()
            .all(|known| known.material != want.demand.material)
        {
            found.extend(break_even(&desk, want));
        }
    }
    found
}

fn break_even(desk: &Desk<'_>, want: &Want) -> Option<BreakEven> {
    let comes = |handover| {
        want.supplies
            .iter()
            .any(move |s: &Supply| s.handover == handover && s.is_priced())
    };
    let drop = want.demand.drops.iter().max_by_key(|drop| drop.net())?;
    if !comes(Handover::Bulk) || !comes(Handover::Packed) || drop.net().is_zero() {
        return None;
    }
    let unit = desk.system.number(want.demand.amount(Decimal::ONE));
    let step = Decimal::ONE
        .checked_div(unit)?
        .checked_div(Decimal::from(STEPS_A_UNIT))?;
    let needed = drop.net().checked_div(step)?.ceil();
    let most = needed.saturating_mul(Decimal::from(TIMES));
    let most = most.max(Decimal::from(LEAST_UNITS * STEPS_A_UNIT));
    let most = u32::try_from(most).unwrap_or(MOST_STEPS).min(MOST_STEPS);
    let scope = Scope::Drop(drop.site, drop.phase);
    let at = |scope, need| cheapest(desk, want, scope, need);
    let points = (1..=most).filter_map(|n| {
        let need = step.saturating_mul(Decimal::from(n));
        let (packed, loose) = (at(Scope::Job, need)?, at(scope, need)?);
        Some((want.demand.amount(need), packed, loose))
    });
    let points: Vec<(Amount, Money, Money)> = points.collect();
    let last_packed = points.iter().rposition(|(_, packed, loose)| packed < loose);
    let first = last_packed.map_or(0, |place| place.saturating_add(1));
    Some(BreakEven {
        material: want.demand.material,
        need: want.demand.amount(drop.net()),
        at_need: (at(Scope::Job, drop.net()), at(scope, drop.net())),
        from: points.get(first).map(|(amount, ..)| *amount),
        points,
    })
}

/// The least that a need costs in one scope, with trips; nothing when nobody meets it at a known price.
fn cheapest(desk: &Desk<'_>, want: &Want, scope: Scope, need: Decimal) -> Option<Money> {
    let all = want.supplies.iter().enumerate();
    let quotes =
        all.flat_map(|(index, supply)| quotes(desk, &want.demand, index, supply, scope, need));
    let whole = quotes.filter(|quote: &Quote| quote.gaps == 0 && !quote.bid.short);
    whole.map(|quote| quote.landed).min()
}
