//! The trips of every drop, with the fees that the drop's goods as a whole bring, and what to watch.

use std::collections::{BTreeMap, BTreeSet};

use super::choose::{self, Want};
use super::convert;
use super::desk::Desk;
use super::loads::{self, Cargo, TripPlan};
use super::orders::Draft;
use super::packs::Bid;
use super::supply::Supply;
use super::{Bound, Load, OrderLine, Scope, Trips};
use crate::model::job::{PhaseId, SiteId};
use crate::model::offer::{OfferId, SupplierId, Vehicle};
use crate::problem::Problem;
use crate::takeoff::{KindId, Moment};
use crate::units::show::{grouped_plain, packs};
use crate::units::{Amount, Decimal, Money, Volume, Weight};

/// More loads than this to one drop are counted and charged, but not listed one by one.
const MOST_LISTED: usize = 100_000;

type Drop = (SupplierId, SiteId, PhaseId, Moment);

/// The trips of all loose goods, in the order of their lines; each material has loads of its own.
pub(super) fn trips(
    desk: &Desk<'_>,
    wants: &[Want],
    drafts: &[Draft],
    problems: &mut Vec<Problem>,
) -> Vec<Trips> {
    let mut goods: BTreeMap<Drop, Money> = BTreeMap::new();
    for draft in drafts {
        if let Some(found) = travelling(wants, draft) {
            *goods.entry(found.drop).or_default() += draft.line.cost;
        }
    }
    let mut trips = Vec::new();
    let mut told = BTreeSet::new();
    for (index, draft) in drafts.iter().enumerate() {
        let Some(found) = travelling(wants, draft) else {
            continue;
        };
        let goods = goods.get(&found.drop).copied().unwrap_or_default();
        let Some(cargo) = cargo_of(desk, &found, &draft.line) else {
            continue;
        };
        let plan = loads::plan(desk, &cargo, draft.line.quantity, goods);
        problems.extend(missing_vehicle(desk, &cargo, &plan, &draft.line));
        if let Some(vehicle) = plan
            .vehicle
            .and_then(|id| desk.job.vehicles.get(id.index()))
        {
            problems.extend(weight_unknown(&cargo, vehicle));
            if told.insert((found.drop, plan.vehicle)) {
                problems.extend(under_minimum(desk, found.drop, vehicle, goods));
            }
        }
        trips.push(trips_of(desk, &found, &cargo, &plan, index, &draft.line));
    }
    trips
}

/// A line that travels.
struct Travelling<'w> {
    want: &'w Want,
    supply: &'w Supply,
    drop: Drop,
}

fn travelling<'w>(wants: &'w [Want], draft: &Draft) -> Option<Travelling<'w>> {
    let (want, supply) = draft.cargo?;
    let want = wants.get(want)?;
    let supply = want.supplies.get(supply)?;
    let Scope::Drop(site, phase) = draft.line.scope else {
        return None;
    };
    Some(Travelling {
        want,
        supply,
        drop: (supply.supplier, site, phase, draft.line.moment),
    })
}

fn cargo_of<'a>(desk: &Desk<'a>, found: &Travelling<'_>, line: &OrderLine) -> Option<Cargo<'a>> {
    let bid = Bid {
        offer: line.offer?,
        step: line.step,
        quantity: line.quantity,
        price: line.price,
        cost: line.cost,
        short: false,
    };
    choose::cargo(desk, &found.want.demand, found.supply, line.scope, &bid)
}

fn trips_of(
    desk: &Desk<'_>,
    found: &Travelling<'_>,
    cargo: &Cargo<'_>,
    plan: &TripPlan,
    index: usize,
    line: &OrderLine,
) -> Trips {
    let (supplier, site, phase, moment) = found.drop;
    let listed = plan.parts(line.quantity, MOST_LISTED).unwrap_or_default();
    let loads = listed.into_iter().map(|units| Load {
        parts: vec![(index, units)],
        volume: cargo.volume.map_or(Volume::ZERO, |one| one.times(units)),
        weight: cargo.weight.map_or(Weight::ZERO, |one| one.times(units)),
    });
    Trips {
        supplier,
        vehicle: plan.vehicle,
        site,
        phase,
        moment,
        lines: vec![index],
        loads: loads.collect(),
        bound: plan.bound,
        after_rain: plan.after_rain.try_into().unwrap_or(u32::MAX),
        fee: plan.fee,
        charged: plan.charged,
        cost: plan.cost,
        measures: measures(found, cargo, plan.bound, line),
        words: words(desk, found, cargo, plan, line),
    }
}

/// What bound the loads, for one bed of each kind: cubic metres or kilograms.
fn measures(
    found: &Travelling<'_>,
    cargo: &Cargo<'_>,
    bound: Bound,
    line: &OrderLine,
) -> Vec<(KindId, Decimal)> {
    let in_bound = |base: Decimal| {
        let amount = found.want.demand.amount(base);
        match bound {
            Bound::Volume => {
                convert::volume_of(amount, cargo.material).map(Volume::in_cubic_metres)
            }
            Bound::Weight => convert::weight_of(amount, cargo.material).map(Weight::in_kilograms),
            Bound::Nothing => None,
        }
        .unwrap_or(base)
    };
    let shares = line.measures.iter();
    shares
        .map(|(kind, base)| (*kind, in_bound(*base)))
        .collect()
}

/// The loads in words: `12.5 yd3 of topsoil to Site A: 3 loads at 2,200 lb/yd3, after rain 4`.
fn words(
    desk: &Desk<'_>,
    found: &Travelling<'_>,
    cargo: &Cargo<'_>,
    plan: &TripPlan,
    line: &OrderLine,
) -> String {
    let (_, site, phase, moment) = found.drop;
    let place = match (desk.job.sites.len(), desk.job.phases.len()) {
        (..=1, ..=1) => String::new(),
        _ => format!(" to {}", desk.drop_words(site, phase)),
    };
    let goods = format!(
        "{} of {}{place}{}",
        goods_words(desk, found.supply, cargo, line),
        cargo.material.name,
        super::reasons::when(moment)
    );
    loads_words(desk, cargo, plan, &goods)
}

/// How much travels: `12.5 yd3`, `7 t (5 m3)`.
fn goods_words(desk: &Desk<'_>, supply: &Supply, cargo: &Cargo<'_>, line: &OrderLine) -> String {
    let amount = supply.holds.times(line.quantity);
    match (amount, cargo.volume) {
        (Amount::Volume(volume), _) => desk.system.volume(volume),
        (other, Some(one)) => {
            let volume = desk.system.volume(one.times(line.quantity));
            format!("{} ({volume})", desk.system.amount(other))
        }
        (other, None) => desk.system.amount(other),
    }
}

fn loads_words(desk: &Desk<'_>, cargo: &Cargo<'_>, plan: &TripPlan, goods: &str) -> String {
    let plural = if plan.loads == Decimal::ONE { "" } else { "s" };
    let loads = format!("{} load{plural}", grouped_plain(plan.loads, 0));
    if plan.vehicle.is_none() {
        return format!("{goods}: loads not known, no vehicle is given");
    }
    if plan.bound == Bound::Nothing {
        return format!("{goods}: {loads}, no limit is given");
    }
    let density = cargo.material.delivered.as_ref().map(|known| known.value);
    let at = match density {
        Some(density) => format!("at {}", desk.system.density(density)),
        None => "by volume, weight not known".to_owned(),
    };
    let rain = match cargo.wet {
        Some(_) => format!(", after rain {}", grouped_plain(plan.after_rain, 0)),
        None => String::new(),
    };
    let free = if plan.free { ", delivery free" } else { "" };
    format!("{goods}: {loads} {at}{rain}{free}")
}

/// Why no vehicle brings a line: none is given, none carries it, or not even one step may travel.
fn missing_vehicle(
    desk: &Desk<'_>,
    cargo: &Cargo<'_>,
    plan: &TripPlan,
    line: &OrderLine,
) -> Option<Problem> {
    if plan.vehicle.is_some() {
        return None;
    }
    let name = desk.supplier_name(cargo.supplier);
    let carriers = loads::carriers(desk, cargo);
    if let Some((_, vehicle)) = carriers.first() {
        let field = match vehicle.weight {
            Some(_) => "Weight limit",
            None => "Volume limit",
        };
        let sentence = format!(
            "{} cannot bring {}: one step of {} is over its limit",
            vehicle.name,
            cargo.material.name,
            grouped_plain(line.step, 3)
        );
        return Some(
            Problem::error(sentence)
                .at(vehicle.at, field)
                .hint("check the limit, or the step of the price"),
        );
    }
    let sentence = if desk.vehicles_of(cargo.supplier).is_empty() {
        format!(
            "{name} brings loose goods, and Deliveries has no vehicle of theirs: loads and fees are not priced"
        )
    } else {
        format!(
            "no vehicle of {name} carries {}: its loads and fees are not priced",
            cargo.material.name
        )
    };
    let offer = line.offer.and_then(|id| desk.job.offers.get(id.index()));
    let problem =
        Problem::caution(sentence).hint("add a row to Deliveries, with Fee 0 when you collect");
    Some(match offer {
        Some(offer) => problem.at(offer.at, "Supplier"),
        None => problem,
    })
}

fn weight_unknown(cargo: &Cargo<'_>, vehicle: &Vehicle) -> Option<Problem> {
    let limited = vehicle.weight.is_some() && cargo.weight.is_none();
    limited.then(|| {
        let sentence = format!(
            "loads of {} are counted by volume only: its weight is not known, and {} has a weight limit",
            cargo.material.name, vehicle.name
        );
        let problem = Problem::caution(sentence).hint("give its Delivered density in Materials");
        match cargo.material.at {
            Some(row) => problem.at(row, "Delivered density"),
            None => problem.at(vehicle.at, "Weight limit"),
        }
    })
}

fn under_minimum(
    desk: &Desk<'_>,
    (supplier, site, phase, moment): Drop,
    vehicle: &Vehicle,
    goods: Money,
) -> Option<Problem> {
    let least = vehicle.minimum_order.as_ref()?.value;
    (goods.amount() < least).then(|| {
        let sentence = format!(
            "goods of {} for {}{} come to {}, under the minimum order of {}",
            desk.supplier_name(supplier),
            desk.drop_words(site, phase),
            super::reasons::when(moment),
            desk.show(goods),
            desk.show(Money::of(least))
        );
        Problem::caution(sentence)
            .at(vehicle.at, "Minimum order")
            .hint("ask whether they deliver less, and at what charge")
    })
}

/// Cautions about packed goods that a vehicle names: they are counted as collected, without its fee.
pub(super) fn tell_collected(desk: &Desk<'_>, drafts: &[Draft], problems: &mut Vec<Problem>) {
    for draft in drafts.iter().filter(|draft| draft.cargo.is_none()) {
        let offer = draft
            .line
            .offer
            .and_then(|id| desk.job.offers.get(id.index()));
        let material = desk.job.material(draft.line.material);
        let Some((offer, material)) = offer.zip(material) else {
            continue;
        };
        for (_, vehicle) in desk.vehicles_of(offer.supplier) {
            if loads::names(vehicle, material) {
                let sentence = format!(
                    "{} is bought by the pack and counted as collected: no trip of {} is priced for it",
                    material.name, vehicle.name
                );
                problems.push(
                    Problem::caution(sentence)
                        .at(vehicle.at, "Carries")
                        .hint("when it is brought, add the fee as a row of Extras"),
                );
            }
        }
    }
}

/// Cautions about offers of which more is bought than there is.
pub(super) fn tell_shortages(desk: &Desk<'_>, drafts: &[Draft], problems: &mut Vec<Problem>) {
    let mut bought: BTreeMap<OfferId, Decimal> = BTreeMap::new();
    let mut order = Vec::new();
    for line in drafts.iter().map(|draft| &draft.line) {
        let Some(offer) = line.offer else { continue };
        let sum = bought.entry(offer).or_insert_with(|| {
            order.push(offer);
            Decimal::ZERO
        });
        *sum = sum.saturating_add(line.quantity);
    }
    for id in order {
        let Some(offer) = desk.job.offers.get(id.index()) else {
            continue;
        };
        let quantity = bought.get(&id).copied().unwrap_or_default();
        if let Some(there) = offer.available.filter(|there| quantity > *there) {
            let sentence = format!(
                "{} of {} are needed, and {} has {}",
                packs(quantity, &offer.pack),
                desk.job.material_name(offer.material),
                desk.supplier_name(offer.supplier),
                grouped_plain(there, 3)
            );
            problems.push(
                Problem::caution(sentence)
                    .at(offer.at, "Available")
                    .hint("ask when more comes, or add another offer"),
            );
        }
    }
}
