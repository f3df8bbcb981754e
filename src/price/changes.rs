//! What moved between two estimates: beds, orders, hours, choices and lines of the price, each known by
//! its name, so that any two estimates can be compared.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Estimate;
use crate::buying::{OrderLine, Scope, Trips};
use crate::model::offer::Offer;
use crate::takeoff::Moment;
use crate::units::{Amount, Hours, Money, show};

/// One thing that differs; `None` where it does not exist.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved<T> {
    /// What it is.
    pub name: String,
    /// In the first estimate.
    pub before: Option<T>,
    /// In the second.
    pub after: Option<T>,
}

impl<T> Moved<T> {
    /// The same for reading.
    pub fn in_words(&self, words: impl Fn(&T) -> String) -> Moved<String> {
        Moved {
            name: self.name.clone(),
            before: self.before.as_ref().map(&words),
            after: self.after.as_ref().map(&words),
        }
    }
}

/// Goods of one kind from one supplier: how many packs, in words, and what they cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bought {
    /// `12 boards of 8'`.
    pub packs: String,
    /// Cost without delivery.
    pub cost: Money,
}

/// How one need is met, in words, and what that costs with its trips.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Met {
    /// `Hill Yard, yard, by tandem tipper`.
    pub words: String,
    /// Goods and trips.
    pub landed: Money,
}

/// Everything that differs between two estimates. Things that are equal stand nowhere.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Changes {
    /// Rows of `Beds` whose number or size differs, in words.
    pub sizes: Vec<Moved<String>>,
    /// Shares of the price that beds bear.
    pub beds: Vec<Moved<Money>>,
    /// What is bought.
    pub orders: Vec<Moved<Bought>>,
    /// How needs are met: supplier, pack, vehicle, sticks.
    pub choices: Vec<Moved<Met>>,
    /// Person-hours by task and site.
    pub hours: Vec<Moved<Hours>>,
    /// Lines of the price in their order, the total last.
    pub price: Vec<Moved<Money>>,
    /// The price before and after.
    pub total: (Money, Money),
}

impl Changes {
    /// Whether nothing differs.
    pub fn is_empty(&self) -> bool {
        self.sizes.is_empty()
            && self.beds.is_empty()
            && self.orders.is_empty()
            && self.choices.is_empty()
            && self.hours.is_empty()
            && self.price.is_empty()
    }
}

/// What moved from `before` to `after`. Both are in one currency; a caller that compares estimates in
/// two says so first.
pub fn changes(before: &Estimate, after: &Estimate) -> Changes {
    Changes {
        sizes: moved(sizes(before), sizes(after)),
        beds: moved(beds(before), beds(after)),
        orders: moved(orders(before), orders(after)),
        choices: met_otherwise(before, after),
        hours: moved(hours(before), hours(after)),
        price: price_lines(before, after),
        total: (before.price.total, after.price.total),
    }
}

/// Needs that are met in another way; a need that only one of the two has is none of them.
pub(super) fn met_otherwise(before: &Estimate, after: &Estimate) -> Vec<Moved<Met>> {
    let mut choices = moved(needs(before), needs(after));
    choices.retain(|m| {
        let words = |met: &Option<Met>| met.as_ref().map(|met| met.words.clone());
        m.before.is_some() && m.after.is_some() && words(&m.before) != words(&m.after)
    });
    choices
}

/// The union of two lists by name, without what is equal.
fn moved<T: PartialEq>(
    mut before: BTreeMap<String, T>,
    mut after: BTreeMap<String, T>,
) -> Vec<Moved<T>> {
    let mut names: Vec<String> = before.keys().chain(after.keys()).cloned().collect();
    names.sort();
    names.dedup();
    let all = names.into_iter().map(|name| Moved {
        before: before.remove(&name),
        after: after.remove(&name),
        name,
    });
    all.filter(|m| m.before != m.after).collect()
}

fn sizes(estimate: &Estimate) -> BTreeMap<String, String> {
    let kinds = &estimate.kinds;
    let beds = estimate.job.beds.iter().zip(&kinds.of_bed);
    beds.map(|(bed, kind)| {
        let takeoff = estimate.takeoffs.get(kind.index());
        let size = takeoff.map_or("?", |t| t.size.as_str());
        let count = show::plain(Decimal::from(bed.count), 0);
        (bed.name.to_string(), format!("{count} x {size}"))
    })
    .collect()
}

fn beds(estimate: &Estimate) -> BTreeMap<String, Money> {
    let beds = estimate.price.beds.iter();
    beds.filter_map(|money| {
        let bed = estimate.job.beds.get(money.bed.index())?;
        Some((bed.name.to_string(), money.price))
    })
    .collect()
}

fn hours(estimate: &Estimate) -> BTreeMap<String, Hours> {
    let mut hours: BTreeMap<String, Hours> = BTreeMap::new();
    for line in &estimate.labour.lines {
        let site = estimate.job.sites.get(line.site.index());
        let at = site
            .filter(|_| estimate.job.sites.len() > 1)
            .map_or_else(String::new, |site| format!(" at {}", site.name));
        let name = format!("{}{at}{}", line.name, later(line.moment));
        *hours.entry(name).or_default() += line.hours;
    }
    hours
}

fn later(moment: Moment) -> &'static str {
    match moment {
        Moment::Build => "",
        Moment::TopUp => ", top-up",
    }
}

/// `Topsoil to Front court, spring, top-up`.
fn need_name(estimate: &Estimate, line: &OrderLine) -> String {
    let job = &estimate.job;
    let material = job.material_name(line.material);
    let place = match line.scope {
        Scope::Job => String::new(),
        Scope::Drop(site, phase) => {
            let site = job.sites.get(site.index()).filter(|_| job.sites.len() > 1);
            let phases = &job.phases;
            let phase = phases.get(phase.index()).filter(|_| phases.len() > 1);
            let parts = site.map(|s| s.name.to_string()).into_iter();
            let parts: Vec<String> = parts.chain(phase.map(ToString::to_string)).collect();
            parts.join(", ")
        }
    };
    let to = if place.is_empty() { "" } else { " to " };
    format!("{material}{to}{place}{}", later(line.moment))
}

fn offer_of<'e>(estimate: &'e Estimate, line: &OrderLine) -> Option<&'e Offer> {
    estimate.job.offers.get(line.offer?.index())
}

fn seller<'e>(estimate: &'e Estimate, offer: &Offer) -> &'e str {
    let supplier = estimate.job.suppliers.get(offer.supplier.index());
    supplier.map_or("?", |s| &s.name)
}

/// `yard`, `board 8'`: a pack of the same word may come in several sizes.
fn pack(estimate: &Estimate, offer: &Offer) -> String {
    match offer.holds {
        Amount::Length(length) => {
            let length = estimate.job.settings.units.value.length(length);
            format!("{} {length}", offer.pack)
        }
        _ => offer.pack.to_string(),
    }
}

fn orders(estimate: &Estimate) -> BTreeMap<String, Bought> {
    let system = estimate.job.settings.units.value;
    let mut sums: BTreeMap<String, (Decimal, String, Money)> = BTreeMap::new();
    for line in &estimate.bought.lines {
        let need = need_name(estimate, line);
        let unit = system.unit(line.need.dimension());
        let (name, pack) = match offer_of(estimate, line) {
            Some(offer) => {
                let pack = pack(estimate, offer);
                let seller = seller(estimate, offer);
                (format!("{need}, {pack} from {seller}"), pack)
            }
            None => (need, unit.to_owned()),
        };
        let sum = sums
            .entry(name)
            .or_insert((Decimal::ZERO, pack, Money::ZERO));
        // What nobody sells comes in no pack: it is told as it is measured.
        let quantity = match line.offer {
            Some(_) => line.quantity,
            None => system.number(line.need),
        };
        sum.0 = sum.0.saturating_add(quantity);
        sum.2 += line.cost;
    }
    let told = sums.into_iter().map(|(name, (quantity, pack, cost))| {
        let packs = show::packs(quantity, &pack);
        (name, Bought { packs, cost })
    });
    told.collect()
}

/// How each need is met.
fn needs(estimate: &Estimate) -> BTreeMap<String, Met> {
    let mut met: BTreeMap<String, (Vec<String>, Money)> = BTreeMap::new();
    for (index, line) in estimate.bought.lines.iter().enumerate() {
        // Loose for each drop or packed for the job: one need, met in one way or the other.
        let name = format!(
            "{}{}",
            estimate.job.material_name(line.material),
            later(line.moment)
        );
        let entry = met.entry(name).or_default();
        entry.1 += line.cost;
        let Some(offer) = offer_of(estimate, line) else {
            continue;
        };
        let seller = seller(estimate, offer);
        let place = match line.scope {
            Scope::Job => String::new(),
            Scope::Drop(..) => need_name(estimate, line)
                .split_once(" to ")
                .map_or_else(String::new, |(_, place)| format!(" to {place}")),
        };
        let goods = match offer.holds {
            Amount::Length(_) => show::packs(line.quantity, &pack(estimate, offer)),
            _ => offer.pack.to_string(),
        };
        let mut words = format!("{seller}, {goods}");
        let trips = estimate.bought.trips.iter();
        for trips in trips.filter(|t| t.lines.contains(&index)) {
            entry.1 += share(trips);
            let vehicle = trips
                .vehicle
                .and_then(|id| estimate.job.vehicles.get(id.index()));
            if let Some(vehicle) = vehicle {
                words = format!("{words} by {}", vehicle.name);
            }
        }
        words.push_str(&place);
        entry.0.push(words);
    }
    let told = met.into_iter().map(|(name, (mut words, landed))| {
        words.sort();
        words.dedup();
        let words = words.join("; ");
        (name, Met { words, landed })
    });
    told.collect()
}

/// What the trips cost one of the lines that they bring.
fn share(trips: &Trips) -> Money {
    let lines = Decimal::from(trips.lines.len().max(1));
    Money::of(trips.cost.amount().checked_div(lines).unwrap_or_default())
}

fn price_lines(before: &Estimate, after: &Estimate) -> Vec<Moved<Money>> {
    let lines = before.price.lines.iter().filter_map(|line| {
        let moved = Moved {
            name: line.label.to_string(),
            before: Some(line.amount),
            after: after.price.line(line.key).map(|l| l.amount),
        };
        (moved.before != moved.after).then_some((line.is_total, moved))
    });
    let lines: Vec<(bool, Moved<Money>)> = lines.collect();
    // A sum that moves as the next one does says nothing more: price before tax, and price.
    let repeats = |at: usize, (is_total, moved): &(bool, Moved<Money>)| {
        let next = lines.get(at.saturating_add(1));
        *is_total
            && next.is_some_and(|(is_total, next)| {
                *is_total && (next.before, next.after) == (moved.before, moved.after)
            })
    };
    let told = lines.iter().enumerate();
    let told = told.filter(|(at, line)| !repeats(*at, line));
    told.map(|(_, (_, moved))| moved.clone()).collect()
}
