//! Cautions about prices that may no longer hold, and vehicles that may not hold the load.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::{Group, Look, Reason};
use crate::buying::{Bought, Load, Trips};
use crate::model::job::Job;
use crate::model::offer::{Offer, OfferId, Vehicle};
use crate::takeoff::Moment;
use crate::units::Weight;

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    [
        stale(look),
        undated(look),
        future(look),
        overloaded(look),
        unlimited(look),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// The oldest price that the orders rest on and its age in days; `None` when no price is dated.
pub fn oldest_price(job: &Job, bought: &Bought, date: Date) -> Option<(OfferId, i32)> {
    let dated = used(job, bought).into_iter().filter_map(|(id, offer)| {
        let called = (supplier(job, offer), job.material_name(offer.material));
        Some((offer.price_date?, called, id))
    });
    let (day, _, id) = dated.min()?;
    Some((id, age(day, date)))
}

/// Offers with a price that something is bought at.
fn used<'a>(job: &'a Job, bought: &Bought) -> Vec<(OfferId, &'a Offer)> {
    let lines = bought.lines.iter();
    let lines = lines.filter(|line| !line.free && !line.quantity.is_zero());
    let sticks = bought.cut_lists.iter().flat_map(|list| &list.sticks);
    let ids: BTreeSet<OfferId> = lines
        .filter_map(|line| line.offer)
        .chain(sticks.filter_map(|stick| stick.offer))
        .collect();
    ids.into_iter()
        .filter_map(|id| Some((id, job.offers.get(id.index())?)))
        .filter(|(_, offer)| is_asked_for(offer))
        .collect()
}

/// Whether a price can change: what costs nothing, as boards on hand, has none that could.
fn is_asked_for(offer: &Offer) -> bool {
    let price = offer.price.as_ref();
    price.is_some_and(|price| !price.value.is_zero())
}

/// Days from one date to another, negative when the first is the later one.
fn age(from: Date, to: Date) -> i32 {
    from.until(to).map_or(0, |span| span.get_days())
}

fn supplier<'a>(job: &'a Job, offer: &Offer) -> &'a str {
    let supplier = job.suppliers.get(offer.supplier.index());
    supplier.map_or("?", |s| &*s.name)
}

fn priced(job: &Job, offer: &Offer) -> String {
    let material = job.material_name(offer.material);
    format!("{material} from {}", supplier(job, offer))
}

fn stale(look: &Look) -> Option<Reason> {
    let limit = i32::try_from(look.job.settings.stale_days.value).unwrap_or(i32::MAX);
    let (oldest, days) = oldest_price(look.job, look.bought, look.date)?;
    if days <= limit {
        return None;
    }
    let offers = used(look.job, look.bought);
    let old = offers.iter().filter(|(_, offer)| {
        let day = offer.price_date;
        day.is_some_and(|day| age(day, look.date) > limit)
    });
    let (old, all) = (old.count(), offers.len());
    let offer = look.job.offers.get(oldest.index())?;
    Some(Reason {
        key: "stale_prices",
        subject: format!(
            "The price of {} is {days} days old (older than {limit} days: {old} of {all} prices used)",
            priced(look.job, offer)
        ),
        about: Vec::new(),
        spot: Some((offer.at, "Price date")),
    })
}

fn undated(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for (_, offer) in used(look.job, look.bought) {
        if offer.price_date.is_none() {
            let spot = Some((offer.at, "Price date"));
            group.add(&priced(look.job, offer), String::new(), spot);
        }
    }
    group.reason_of("undated_prices", "No date on the price of ")
}

fn future(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for (_, offer) in used(look.job, look.bought) {
        if let Some(day) = offer.price_date.filter(|day| *day > look.date) {
            let spot = Some((offer.at, "Price date"));
            group.add(&priced(look.job, offer), day.to_string(), spot);
        }
    }
    let after = format!("Priced after {}, the date of the estimate, ", look.date);
    group.reason_of("future_prices", &after)
}

fn overloaded(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for trips in &look.bought.trips {
        let Some(vehicle) = vehicle(look, trips) else {
            continue;
        };
        let loads = trips.loads.len();
        let detail = if trips.loads.iter().any(|load| too_much(vehicle, load)) {
            heaviest(look, trips)
        } else if usize::try_from(trips.after_rain).is_ok_and(|rain| rain > loads) {
            format!("loads: {loads}, after rain {}", trips.after_rain)
        } else {
            continue;
        };
        let spot = Some((vehicle.at, "Weight limit"));
        group.add(&called(look, trips, vehicle), detail, spot);
    }
    group.reason("truck_overload")
}

fn unlimited(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for trips in &look.bought.trips {
        // Goods without any vehicle are told when they are bought.
        let Some(vehicle) = vehicle(look, trips).filter(|v| v.weight.is_none()) else {
            continue;
        };
        if !trips.loads.is_empty() {
            let spot = Some((vehicle.at, "Weight limit"));
            group.add(&called(look, trips, vehicle), heaviest(look, trips), spot);
        }
    }
    group.reason("truck_unlimited")
}

fn vehicle<'a>(look: &Look<'a>, trips: &Trips) -> Option<&'a Vehicle> {
    look.job.vehicles.get(trips.vehicle?.index())
}

fn too_much(vehicle: &Vehicle, load: &Load) -> bool {
    let weight = vehicle.weight.as_ref().map(|limit| limit.value);
    let volume = vehicle.volume.as_ref().map(|limit| limit.value);
    weight.is_some_and(|limit| load.weight.tidy() > limit.tidy())
        || volume.is_some_and(|limit| load.volume.tidy() > limit.tidy())
}

fn heaviest(look: &Look, trips: &Trips) -> String {
    let weights = trips.loads.iter().map(|load| load.weight);
    let most = weights.max().unwrap_or(Weight::ZERO);
    format!("a load of up to {}", look.system().weight(most))
}

/// Whose vehicle goes where: `Tipper of Hill Yard to School, Spring`.
fn called(look: &Look, trips: &Trips, vehicle: &Vehicle) -> String {
    let job = look.job;
    let supplier = job.suppliers.get(trips.supplier.index());
    let site = job.sites.get(trips.site.index());
    let mut called = format!(
        "{} of {} to {}",
        vehicle.name,
        supplier.map_or("?", |s| &*s.name),
        site.map_or("?", |s| &*s.name)
    );
    if job.phases.len() > 1
        && let Some(phase) = job.phases.get(trips.phase.index())
    {
        called.push_str(", ");
        called.push_str(phase);
    }
    if trips.moment == Moment::TopUp {
        called.push_str(", top-up");
    }
    called
}
