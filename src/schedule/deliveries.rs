//! What comes when, and by when it is ordered.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use super::visits::after;
use super::{Delivery, Visit};
use crate::buying::{Bought, OrderLine, Trips};
use crate::model::job::Job;
use crate::model::offer::{Offer, SupplierId};
use crate::takeoff::Moment;

/// Names that are said of what is fetched together.
const MOST_NAMES: usize = 4;

/// Deliveries by day, those of one day by supplier.
pub(super) fn deliveries(job: &Job, bought: &Bought, visits: &[Visit]) -> Vec<Delivery> {
    let mut together: BTreeMap<_, Vec<&Trips>> = BTreeMap::new();
    for trips in &bought.trips {
        let key = (
            trips.supplier,
            trips.site,
            trips.moment,
            bought.is_taken_away(trips, job.spoil),
        );
        together.entry(key).or_default().push(trips);
    }
    let drops = together.values();
    let mut all: Vec<Delivery> = drops
        .filter_map(|trips| brought(job, bought, trips, visits))
        .collect();
    all.extend(fetched(job, bought, visits));
    all.sort_by(|a, b| {
        let by_day = a.day.cmp(&b.day).then_with(|| a.name.cmp(&b.name));
        by_day.then_with(|| (&a.site, &a.what).cmp(&(&b.site, &b.what)))
    });
    all
}

fn offer<'a>(job: &'a Job, line: &OrderLine) -> Option<&'a Offer> {
    job.offers.get(line.offer?.index())
}

fn supplier(job: &Job, id: SupplierId) -> Arc<str> {
    let supplier = job.suppliers.get(id.index());
    supplier.map_or_else(|| "?".into(), |s| Arc::clone(&s.name))
}

/// The last working day on which goods with so many lead days can be ordered.
fn order_by(job: &Job, day: Date, lead: Option<u32>) -> Option<Date> {
    let calendar = &job.settings.calendar;
    lead.map(|days| calendar.on_or_before(after(day, -i64::from(days))))
}

/// All loads of one supplier for one visit: ground that is dug goes on the first day, goods come when filling
/// begins.
fn brought(job: &Job, bought: &Bought, trips: &[&Trips], visits: &[Visit]) -> Option<Delivery> {
    let first = trips.first()?;
    let own = |visit: &&Visit| (visit.site, visit.moment) == (first.site, first.moment);
    let visit = visits.iter().find(own)?;
    let lines = trips.iter().flat_map(|trips| &trips.lines);
    let lines: Vec<&OrderLine> = lines.filter_map(|place| bought.lines.get(*place)).collect();
    let lead = lines
        .iter()
        .filter_map(|line| offer(job, line)?.lead_days)
        .max();
    let names = lines.iter().map(|line| job.material_name(line.material));
    let away = bought.is_taken_away(first, job.spoil);
    let day = if away { visit.from } else { visit.filling };
    let what = listed(names);
    Some(Delivery {
        supplier: first.supplier,
        name: supplier(job, first.supplier),
        site: Some(Arc::clone(&visit.name)),
        moment: first.moment,
        day,
        taken_away: away,
        loads: trips.iter().map(|trips| trips.loads.len()).sum(),
        what: if away {
            format!("taken away: {what}")
        } else {
            what
        },
        order_by: order_by(job, day, lead),
    })
}

/// Goods that no vehicle brings, for each supplier and moment together, on the first day that needs them.
fn fetched(job: &Job, bought: &Bought, visits: &[Visit]) -> Vec<Delivery> {
    let is_brought = |place: usize| bought.trips.iter().any(|t| t.lines.contains(&place));
    let mut together: BTreeMap<(SupplierId, Moment), Vec<(&OrderLine, &Offer)>> = BTreeMap::new();
    for (place, line) in bought.lines.iter().enumerate() {
        let Some(offer) = offer(job, line).filter(|_| !line.quantity.is_zero()) else {
            continue;
        };
        if !is_brought(place) {
            let key = (offer.supplier, line.moment);
            together.entry(key).or_default().push((line, offer));
        }
    }
    let fetched = together.into_iter().filter_map(|((id, moment), lines)| {
        let of_moment = visits.iter().filter(|visit| visit.moment == moment);
        let day = of_moment.map(|visit| visit.from).min()?;
        let lead = lines.iter().filter_map(|(_, offer)| offer.lead_days).max();
        let names = lines
            .iter()
            .map(|(line, _)| job.material_name(line.material));
        Some(Delivery {
            supplier: id,
            name: supplier(job, id),
            site: None,
            moment,
            day,
            taken_away: false,
            loads: 0,
            what: listed(names),
            order_by: order_by(job, day, lead),
        })
    });
    fetched.collect()
}

/// Each name once: `2x10 cedar, 4x4 cedar and 3 more`.
fn listed<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut names: Vec<&str> = names.collect();
    names.sort_unstable();
    names.dedup();
    let more = names.len().saturating_sub(MOST_NAMES);
    let shown: Vec<&str> = names.into_iter().take(MOST_NAMES).collect();
    match more {
        0 => shown.join(", "),
        n => format!("{} and {n} more", shown.join(", ")),
    }
}

/// Says what would have had to be ordered before the day of the estimate.
pub(super) fn tell_late(deliveries: &[Delivery], today: Date, notes: &mut Vec<String>) {
    for delivery in deliveries {
        let Some(order_by) = delivery.order_by.filter(|day| *day < today) else {
            continue;
        };
        notes.push(format!(
            "{} from {} would have had to be ordered by {order_by}: ask for an earlier delivery, or begin later",
            delivery.what, delivery.name
        ));
    }
}
