//! What comes to a site, load by load, and what is fetched.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::buying::{Load, OrderLine, Scope, Trips};
use crate::model::job::SiteId;
use crate::price::Estimate;
use crate::takeoff::Moment;
use crate::units::show;
use crate::write::names::{Names, by_name};

#[derive(Debug, Serialize)]
pub(super) struct DropRow {
    title: String,
    loads: Vec<LoadRow>,
    tipped: Option<String>,
    words: String,
}

#[derive(Debug, Serialize)]
pub(in crate::write::document) struct LoadRow {
    name: String,
    what: String,
    volume: String,
    weight: String,
}

#[derive(Debug, Serialize)]
pub(super) struct Seller {
    name: String,
    lines: Vec<Fetched>,
}

#[derive(Debug, Serialize)]
struct Fetched {
    packs: String,
    what: String,
}

/// A drop for each supplier's vehicle, site and phase.
pub(super) fn drops(estimate: &Estimate) -> Vec<DropRow> {
    let trips = estimate.bought.trips.iter();
    trips.map(|trips| drop_row(estimate, trips)).collect()
}

fn drop_row(estimate: &Estimate, trips: &Trips) -> DropRow {
    let names = Names(&estimate.job);
    let place = names.drop(trips.site, trips.phase);
    let place = if place.is_empty() {
        String::new()
    } else {
        format!(" to {place}")
    };
    let topping = match trips.moment {
        Moment::Build => "",
        Moment::TopUp => ", for the top-up",
    };
    DropRow {
        title: format!("{}{place}{topping}", names.supplier(trips.supplier)),
        loads: load_rows(estimate, trips),
        tipped: tipping(estimate, trips.site),
        words: trips.words.clone(),
    }
}

/// Each load of these trips.
pub(in crate::write::document) fn load_rows(estimate: &Estimate, trips: &Trips) -> Vec<LoadRow> {
    let vehicle = trips
        .vehicle
        .map_or("", |id| Names(&estimate.job).vehicle(id));
    let units = estimate.job.settings.units.value;
    let loads = trips.loads.iter().zip(1_u32..);
    loads
        .map(|(load, n)| LoadRow {
            name: match vehicle {
                "" => n.to_string(),
                vehicle => format!("{n}: {vehicle}"),
            },
            what: carried(estimate, load),
            volume: units.volume(load.volume),
            weight: units.weight(load.weight),
        })
        .collect()
}

impl LoadRow {
    /// What is on it.
    pub(in crate::write::document) fn what(&self) -> &str {
        &self.what
    }
}

fn tipping(estimate: &Estimate, site: SiteId) -> Option<String> {
    let site = estimate.job.sites.get(site.index())?;
    site.tipping_place.as_ref().map(ToString::to_string)
}

/// What is on a load, in the units that it is sold by.
fn carried(estimate: &Estimate, load: &Load) -> String {
    let parts = load.parts.iter().filter_map(|(line, quantity)| {
        let line = estimate.bought.lines.get(*line)?;
        let packs = packs(estimate, line, *quantity);
        Some(format!(
            "{packs} {}",
            estimate.job.material_name(line.material)
        ))
    });
    let parts: Vec<String> = parts.collect();
    parts.join(", ")
}

/// So many of what a line is sold by: `5.5 yards`.
pub(in crate::write::document) fn packs(
    estimate: &Estimate,
    line: &OrderLine,
    quantity: crate::units::Decimal,
) -> String {
    let job = &estimate.job;
    let units = job.settings.units.value;
    let Some(offer) = line.offer.and_then(|id| job.offers.get(id.index())) else {
        return units.amount(line.need);
    };
    let pack = match offer.holds {
        crate::units::Amount::Length(length) => {
            format!("{} {}", offer.pack, units.length(length))
        }
        crate::units::Amount::Count(n) if n != crate::units::Decimal::ONE => {
            format!("{} of {}", offer.pack, show::plain(n, 0))
        }
        _ => offer.pack.to_string(),
    };
    show::packs(quantity.round_dp(2), &pack)
}

/// What is bought for the whole job, by seller; what is free comes from the site.
pub(super) fn collected(estimate: &Estimate) -> Vec<Seller> {
    let names = Names(&estimate.job);
    let mut sellers: BTreeMap<String, Vec<Fetched>> = BTreeMap::new();
    let whole = |line: &&OrderLine| matches!(line.scope, Scope::Job) && !line.quantity.is_zero();
    for line in estimate.bought.lines.iter().filter(whole) {
        let offer = line.offer.and_then(|id| names.offer(id));
        let seller = match (offer, line.free) {
            (Some(offer), _) => names.supplier(offer.supplier).to_owned(),
            (None, true) => "nobody: found, given or on hand".to_owned(),
            (None, false) => "a supplier not yet chosen".to_owned(),
        };
        let top_up = match line.moment {
            Moment::Build => "",
            Moment::TopUp => ", for the top-up",
        };
        sellers.entry(seller).or_default().push(Fetched {
            packs: packs(estimate, line, line.quantity),
            what: format!("{}{top_up}", estimate.job.material_name(line.material)),
        });
    }
    let mut sellers: Vec<Seller> = sellers
        .into_iter()
        .map(|(name, lines)| Seller { name, lines })
        .collect();
    sellers.sort_by(|a, b| by_name(&a.name, &b.name));
    sellers
}
