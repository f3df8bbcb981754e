//! Orders as data: a CSV file for each supplier, with what they are asked for and nothing of the owner's.

use super::csv_safe::CsvTable;
use super::file_name::distinct;
use super::names::{Names, by_name, moment_word};
use crate::buying::{OrderLine, Scope, Trips};
use crate::model::offer::{Offer, SupplierId};
use crate::price::Estimate;
use crate::schedule::Schedule;
use crate::units::Decimal;

/// Columns of an order.
pub const COLUMNS: [&str; 18] = [
    "Supplier",
    "Contact",
    "Account",
    "Site",
    "Phase",
    "For",
    "Address",
    "Tipped",
    "Brought or taken away",
    "Day",
    "Material",
    "Spec",
    "Quantity",
    "Pack",
    "Holds",
    "Price",
    "Amount",
    "Loads",
];

/// Suppliers of whom anything is bought, by name, each with the part of a file's name that is their own.
pub fn sellers(estimate: &Estimate) -> Vec<(SupplierId, String)> {
    let names = Names(&estimate.job);
    let lines = estimate.bought.lines.iter();
    let offers = lines.filter_map(|line| names.offer(line.offer?));
    let mut sellers: Vec<SupplierId> = offers.map(|offer| offer.supplier).collect();
    sellers.sort_by(|a, b| by_name(names.supplier(*a), names.supplier(*b)).then(a.cmp(b)));
    sellers.dedup();
    let files = distinct(sellers.iter().map(|id| names.supplier(*id)));
    sellers.into_iter().zip(files).collect()
}

/// A file for each supplier: `order-Yard.csv`.
pub fn orders(estimate: &Estimate) -> Vec<(String, Vec<u8>)> {
    let schedule = estimate.schedule().filter(|schedule| schedule.has_dates);
    let sellers = sellers(estimate).into_iter();
    sellers
        .map(|(supplier, file)| {
            let bytes = order(estimate, schedule.as_ref(), supplier);
            (format!("order-{file}.csv"), bytes)
        })
        .collect()
}

fn order(estimate: &Estimate, schedule: Option<&Schedule>, supplier: SupplierId) -> Vec<u8> {
    let names = Names(&estimate.job);
    let mut table = CsvTable::new(&COLUMNS);
    for (place, line) in estimate.bought.lines.iter().enumerate() {
        let offer = line.offer.and_then(|id| names.offer(id));
        let Some(offer) = offer.filter(|offer| offer.supplier == supplier) else {
            continue;
        };
        if !line.quantity.is_zero() {
            row(&mut table, (estimate, schedule), (place, line), offer);
        }
    }
    table.into_bytes()
}

fn row(
    table: &mut CsvTable,
    (estimate, schedule): (&Estimate, Option<&Schedule>),
    (place, line): (usize, &OrderLine),
    offer: &Offer,
) {
    let job = &estimate.job;
    let names = Names(job);
    let supplier = job.suppliers.get(offer.supplier.index());
    let text =
        |text: Option<&std::sync::Arc<str>>| text.map_or_else(String::new, ToString::to_string);
    let (site, phase) = match line.scope {
        Scope::Drop(site, phase) => (job.sites.get(site.index()), names.phase(phase)),
        Scope::Job => (None, ""),
    };
    table.text(names.supplier(offer.supplier));
    table.text(&text(supplier.and_then(|s| s.contact.as_ref())));
    table.text(&text(supplier.and_then(|s| s.account.as_ref())));
    table.text(site.map_or("", |site| &site.name));
    table.text(phase);
    table.text(moment_word(line.moment));
    table.text(&text(site.and_then(|s| s.address.as_ref())));
    table.text(&text(site.and_then(|s| s.tipping_place.as_ref())));
    let leaves = job.spoil == Some(line.material);
    table.text(if leaves { "taken away" } else { "brought" });
    table.text(&day(
        schedule,
        (line, leaves),
        offer,
        site.map(|s| &*s.name),
    ));
    table.text(job.material_name(line.material));
    table.text(&text(offer.spec.as_ref()));
    table.number(line.quantity);
    table.text(&offer.pack);
    table.text(&job.settings.units.value.pack(offer.holds));
    if let Some(price) = line.price {
        table.number(price);
        table.number(line.cost.amount());
    } else {
        table.empty();
        table.empty();
    }
    let trips = estimate.bought.trips.iter();
    let trips = trips.filter(|trips: &&Trips| trips.lines.contains(&place));
    let loads: usize = trips.map(|trips| trips.loads.len()).sum();
    if loads == 0 {
        table.empty();
    } else {
        table.number(Decimal::from(loads));
    }
    table.end_row();
}

/// The day on which the schedule has it. Spoil leaves before fill comes, so that the two are told apart.
fn day(
    schedule: Option<&Schedule>,
    (line, leaves): (&OrderLine, bool),
    offer: &Offer,
    site: Option<&str>,
) -> String {
    let deliveries = schedule
        .into_iter()
        .flat_map(|schedule| &schedule.deliveries);
    let mut own = deliveries.filter(|delivery| {
        let is_there = delivery.site.as_deref() == site;
        delivery.supplier == offer.supplier
            && delivery.moment == line.moment
            && delivery.taken_away == leaves
            && is_there
    });
    own.next()
        .map_or_else(String::new, |delivery| delivery.day.to_string())
}
