//! Which offer for which drop: least landed cost, which is the goods and the trips that they cause.
//!
//! Ties go to the supplier first by name, then the pack first by name, then the lower values; the
//! order of rows decides nothing.

use super::Scope;
use super::convert;
use super::demand::Demand;
use super::desk::Desk;
use super::flip::{flip_of_plan, flip_price, lower};
use super::loads::{self, Cargo, TripPlan};
use super::lumber::{self, CutPlan};
use super::packs::{self, Bid};
use super::supply::Supply;
use super::{SheetList, sheets};
use crate::model::offer::{Handover, OfferId, SupplierId};
use crate::units::round::tidy15;
use crate::units::{Decimal, Money};

/// A demand and all ways to meet it.
#[derive(Clone, Debug)]
pub(super) struct Want {
    /// What is needed.
    pub(super) demand: Demand,
    /// What is for sale, in an order of its own.
    pub(super) supplies: Vec<Supply>,
}

/// One way to meet a need of one scope.
#[derive(Clone, Debug)]
pub(super) struct Quote {
    /// Which supply.
    pub(super) supply: usize,
    /// Quantity, price and cost.
    pub(super) bid: Bid,
    /// The trips that bring it; `None` for what is collected.
    pub(super) trip: Option<TripPlan>,
    /// Cost with its own trips.
    pub(super) landed: Money,
    /// Prices and fees that are missing.
    pub(super) gaps: u32,
}

/// What was chosen for one scope.
#[derive(Clone, Debug)]
pub(super) struct Chosen {
    /// For what.
    pub(super) scope: Scope,
    /// Base units needed, stock on hand taken off.
    pub(super) need: Decimal,
    /// The same in priced units.
    pub(super) need_units: Decimal,
    /// The way chosen.
    pub(super) quote: Quote,
    /// The least quantity that would do from the same supply, and what that would cost.
    pub(super) fewest: (Decimal, Money),
    /// The next best way: supplier and pack, and how much more it costs.
    pub(super) next: Option<(String, Money)>,
    /// Price of a unit at which another way becomes cheaper.
    pub(super) flip: Option<Decimal>,
    /// What would cost less but for a delivery fee that nobody gave: the offer, and its goods alone.
    pub(super) without_fee: Option<(OfferId, Money)>,
}

/// A whole way to meet a demand.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    /// One entry a scope; empty for what is cut.
    pub(super) lines: Vec<Chosen>,
    /// How sheets are cut, for what comes from sheets.
    pub(super) sheets: Option<SheetList>,
    /// The sticks, for what is cut.
    pub(super) cut: Option<CutPlan>,
    /// Cost of what is cut from the cheapest other supplier.
    pub(super) other_cut: Option<Money>,
    /// Cost with trips.
    pub(super) cost: Money,
    /// Prices and fees that are missing.
    pub(super) gaps: u32,
    /// Whether a seller has too few.
    pub(super) short: bool,
    /// Loose against packed, in words, when there was a choice.
    pub(super) loose_or_packed: Option<String>,
    /// What would cost less but for a fee that nobody gave: the offer, and its goods alone.
    pub(super) without_fee: Option<(OfferId, Money)>,
}

impl Plan {
    fn rank(&self) -> (bool, u32, Money) {
        (self.short, self.gaps, self.cost)
    }

    /// A plan of whole packs.
    pub(super) fn of(lines: Vec<Chosen>) -> Self {
        Self {
            cost: lines.iter().map(|line| line.quote.landed).sum(),
            gaps: lines.iter().map(|line| line.quote.gaps).sum(),
            short: lines.iter().any(|line| line.quote.bid.short),
            lines,
            sheets: None,
            cut: None,
            other_cut: None,
            loose_or_packed: None,
            without_fee: None,
        }
    }
}

/// The cheapest plan from the supplies that are `allowed`; `None` when they cannot meet the demand.
pub(super) fn best(
    desk: &Desk<'_>,
    want: &Want,
    allowed: impl Fn(&Supply) -> bool,
) -> Option<Plan> {
    let from: Vec<(usize, Supply)> = want
        .supplies
        .iter()
        .enumerate()
        .filter(|(_, supply)| allowed(supply))
        .map(|(index, supply)| (index, supply.clone()))
        .collect();
    if !want.demand.pieces.is_empty() {
        return best_cut(desk, &want.demand, &from);
    }
    if !want.demand.sheets.is_empty() {
        let from = kept(desk, &want.demand, from);
        return sheets::best(desk, &want.demand, &from);
    }
    let packed = packed_plan(desk, &want.demand, &from);
    let loose = loose_plan(desk, &want.demand, &from);
    match (packed, loose) {
        (Some(packed), Some(loose)) => Some(cheaper_of(desk, packed, loose)),
        (one, other) => one.or(other),
    }
}

/// Loose for every drop, or packed for the job: whichever costs less with its trips.
fn cheaper_of(desk: &Desk<'_>, packed: Plan, loose: Plan) -> Plan {
    let words = format!(
        "loose with delivery {}, packed {}",
        desk.show(loose.cost),
        desk.show(packed.cost)
    );
    let (mut taken, other) = if packed.rank() < loose.rank() {
        (packed, loose)
    } else {
        (loose, packed)
    };
    taken.loose_or_packed = Some(words);
    taken.without_fee = lacks_fees_alone(&other).filter(|(_, goods)| *goods < taken.cost);
    if other.gaps == 0 && !other.short {
        let wholes: Vec<Option<Decimal>> = taken
            .lines
            .iter()
            .map(|line| flip_of_plan(&taken, line.quote.bid.offer, other.cost))
            .collect();
        for (line, whole) in taken.lines.iter_mut().zip(wholes) {
            line.flip = lower(line.flip, whole);
        }
    }
    taken
}

/// The first offer of a plan whose prices are known and only fees are not, and what all of it costs.
fn lacks_fees_alone(plan: &Plan) -> Option<(OfferId, Money)> {
    let is_priced = |line: &Chosen| line.quote.bid.price.is_some();
    let first = plan.lines.first()?;
    (plan.gaps > 0 && !plan.short && plan.lines.iter().all(is_priced))
        .then_some((first.quote.bid.offer, plan.cost))
}

fn packed_plan(desk: &Desk<'_>, demand: &Demand, from: &[(usize, Supply)]) -> Option<Plan> {
    let line = chosen(desk, demand, from, Scope::Job, demand.net())?;
    Some(Plan::of(vec![line]))
}

fn loose_plan(desk: &Desk<'_>, demand: &Demand, from: &[(usize, Supply)]) -> Option<Plan> {
    if from.iter().all(|(_, s)| s.handover != Handover::Bulk) {
        return None;
    }
    let needed = demand.drops.iter().filter(|drop| !drop.net().is_zero());
    let lines: Option<Vec<Chosen>> = needed
        .map(|drop| {
            let scope = Scope::Drop(drop.site, drop.phase);
            chosen(desk, demand, from, scope, drop.net())
        })
        .collect();
    lines.map(Plan::of)
}

/// The best way to meet the need of one scope.
fn chosen(
    desk: &Desk<'_>,
    demand: &Demand,
    from: &[(usize, Supply)],
    scope: Scope,
    need: Decimal,
) -> Option<Chosen> {
    let kept: Vec<(usize, Supply)>;
    let from = match desk.held_for(demand.material, scope, demand.moment) {
        Some(offers) => {
            let only = |(index, s): &(usize, Supply)| Some((*index, s.only(offers)?));
            kept = from.iter().filter_map(only).collect();
            &kept
        }
        None => from,
    };
    let quotes: Vec<Quote> = from
        .iter()
        .flat_map(|(index, supply)| quotes(desk, demand, *index, supply, scope, need))
        .collect();
    let rank = |(_, quote): &(usize, &Quote)| {
        (
            quote.bid.short,
            quote.gaps,
            quote.landed,
            quote.bid.quantity,
        )
    };
    let (place, quote) = quotes.iter().enumerate().min_by_key(rank)?;
    let others = quotes.iter().enumerate().filter(|(i, _)| *i != place);
    let next = others
        .filter(|(_, other)| other.gaps == 0 && !other.bid.short)
        .min_by_key(rank)
        .map(|(_, other)| other);
    let supply_of = |index: usize| from.iter().find(|(i, _)| *i == index).map(|(_, s)| s);
    let lacks_a_fee = |other: &&Quote| {
        let has_no_fee = other.trip.as_ref().is_some_and(|trip| trip.fee.is_none());
        has_no_fee && other.bid.price.is_some() && !other.bid.short
    };
    let unstated = quotes.iter().filter(lacks_a_fee);
    let unstated = unstated
        .filter(|other| quote.gaps == 0 && other.bid.cost < quote.landed)
        .min_by_key(|other| other.bid.cost);
    let fees = quote.landed - quote.bid.cost;
    let same = quotes.iter().filter(|other| other.supply == quote.supply);
    let fewest = same.min_by_key(|other| other.bid.quantity);
    Some(Chosen {
        scope,
        need,
        need_units: need_units(need, supply_of(quote.supply)?.unit),
        fewest: fewest.map_or((quote.bid.quantity, quote.landed), |q| {
            (q.bid.quantity, q.landed)
        }),
        next: next.and_then(|other| {
            let words = supply_of(other.supply)?.words();
            Some((words, other.landed - quote.landed))
        }),
        flip: next.and_then(|other| flip_price(&quote.bid, other.landed - fees)),
        without_fee: unstated.map(|other| (other.bid.offer, other.bid.cost)),
        quote: quote.clone(),
    })
}

/// A need in priced units, tidied as a cell would hold it.
pub(super) fn need_units(need: Decimal, unit: Decimal) -> Decimal {
    tidy15(need.checked_div(unit).unwrap_or_default())
}

/// What one supply asks for a need: one quote for each price that it has.
pub(super) fn quotes(
    desk: &Desk<'_>,
    demand: &Demand,
    index: usize,
    supply: &Supply,
    scope: Scope,
    need: Decimal,
) -> Vec<Quote> {
    let loose = matches!(scope, Scope::Drop(..));
    if loose != (supply.handover == Handover::Bulk) {
        return Vec::new();
    }
    let bids = packs::bids(&supply.tiers, need_units(need, supply.unit), desk.currency);
    let quote = |bid: Bid| {
        let trip = if loose {
            let cargo = cargo(desk, demand, supply, scope, &bid)?;
            Some(loads::plan(desk, &cargo, bid.quantity, bid.cost))
        } else {
            None
        };
        let fees = trip.as_ref().map_or(Money::ZERO, |trip| trip.cost);
        let no_fee = trip.as_ref().is_some_and(|trip| trip.fee.is_none());
        Some(Quote {
            supply: index,
            landed: bid.cost + fees,
            gaps: u32::from(bid.price.is_none()) + u32::from(no_fee),
            trip,
            bid,
        })
    };
    bids.into_iter().filter_map(quote).collect()
}

/// What a quantity of a supply is as cargo.
pub(super) fn cargo<'a>(
    desk: &Desk<'a>,
    demand: &Demand,
    supply: &Supply,
    scope: Scope,
    bid: &Bid,
) -> Option<Cargo<'a>> {
    let material = desk.job.material(demand.material)?;
    let volume = convert::volume_of(supply.holds, material);
    let wet = material.wet.as_ref().map(|known| known.value);
    Some(Cargo {
        supplier: supply.supplier,
        material,
        id: demand.material,
        scope,
        moment: demand.moment,
        volume,
        weight: convert::weight_of(supply.holds, material),
        wet: volume.zip(wet).map(|(volume, wet)| wet.weigh(volume)),
        step: bid.step,
    })
}

/// One supplier's sticks for all pieces; several suppliers' only when no single one can yield them.
fn best_cut(desk: &Desk<'_>, demand: &Demand, from: &[(usize, Supply)]) -> Option<Plan> {
    let from = kept(desk, demand, from.to_vec());
    let from = from.as_slice();
    let mut plans: Vec<CutPlan> = by_supplier(from)
        .iter()
        .filter_map(|own| lumber::plan(desk, demand, own))
        .collect();
    if plans.iter().all(|plan| plan.short) {
        plans.extend(lumber::plan(desk, demand, from));
    }
    // A stable sort keeps the order of suppliers' names among equals.
    plans.sort_by_key(|plan| (plan.short, plan.gaps, plan.cost));
    let mut plans = plans.into_iter();
    let cut = plans.next()?;
    let other_cut = plans
        .find(|plan| plan.gaps == 0 && !plan.short)
        .map(|plan| plan.cost);
    Some(Plan {
        lines: Vec::new(),
        sheets: None,
        other_cut,
        cost: cut.cost,
        gaps: cut.gaps,
        short: cut.short,
        loose_or_packed: None,
        without_fee: None,
        cut: Some(cut),
    })
}

/// Only the price rows that an earlier run chose, where its choices are held.
fn kept(desk: &Desk<'_>, demand: &Demand, from: Vec<(usize, Supply)>) -> Vec<(usize, Supply)> {
    match desk.held_for(demand.material, Scope::Job, demand.moment) {
        Some(offers) => {
            let only = |(index, s): &(usize, Supply)| Some((*index, s.only(offers)?));
            from.iter().filter_map(only).collect()
        }
        None => from,
    }
}

/// The supplies of each supplier, which stand together since supplies are in name order; what costs
/// nothing, as boards in stock, goes with everyone's.
pub(super) fn by_supplier(from: &[(usize, Supply)]) -> Vec<Vec<(usize, Supply)>> {
    let (free, sold): (Vec<_>, Vec<_>) = from.iter().partition(|(_, supply)| supply.is_free());
    let mut groups: Vec<(SupplierId, Vec<(usize, Supply)>)> = Vec::new();
    for (index, supply) in sold {
        let entry = (*index, supply.clone());
        match groups.last_mut() {
            Some((supplier, group)) if *supplier == supply.supplier => group.push(entry),
            _ => groups.push((supply.supplier, vec![entry])),
        }
    }
    let mut groups: Vec<Vec<_>> = groups.into_iter().map(|(_, group)| group).collect();
    groups.push(Vec::new());
    for group in &mut groups {
        group.extend(free.iter().map(|entry| (*entry).clone()));
    }
    groups
}
