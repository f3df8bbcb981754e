//! The schedule as rows that a sheet, a crew's page and a calendar share.

use jiff::civil::Date;

use crate::schedule::{Delivery, Schedule, Visit};
use crate::takeoff::Moment;
use crate::units::show::plain;

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RowKind {
    /// The last day to order something.
    Order,
    /// Goods that come or are fetched.
    Delivery,
    /// A stay of the crew.
    Visit,
    /// A day from which beds can be planted.
    Ready,
}

/// One row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayRow {
    /// What it is.
    pub kind: RowKind,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// What happens, in words.
    pub what: String,
    /// More of it.
    pub more: String,
    /// Where.
    pub site: Option<String>,
}

/// All rows by day; orders before deliveries before visits of one day.
pub fn day_rows(schedule: &Schedule) -> Vec<DayRow> {
    let mut rows: Vec<DayRow> = schedule.visits.iter().map(visit).collect();
    rows.extend(schedule.deliveries.iter().map(delivery));
    rows.extend(schedule.deliveries.iter().filter_map(order));
    rows.extend(schedule.ready.iter().map(|ready| DayRow {
        kind: RowKind::Ready,
        from: ready.day,
        to: ready.day,
        what: format!("Plant {} from here on", ready.site),
        more:
            "the fill has settled so far as it does at first; wet it and rake it level".to_owned(),
        site: Some(ready.site.to_string()),
    }));
    rows.sort_by(|a, b| {
        let by_day = a.from.cmp(&b.from).then(a.kind.cmp(&b.kind));
        by_day.then_with(|| a.what.cmp(&b.what))
    });
    rows
}

fn visit(visit: &Visit) -> DayRow {
    let what = match visit.moment {
        Moment::Build => format!("Build at {}", visit.name),
        Moment::TopUp => format!("Top up at {}", visit.name),
    };
    let days = if visit.days == 1 {
        "working day"
    } else {
        "working days"
    };
    let crew = match visit.crew {
        0 => "volunteers".to_owned(),
        n => format!("a crew of {n}"),
    };
    let hours = plain(visit.work.in_hours(), 1);
    DayRow {
        kind: RowKind::Visit,
        from: visit.from,
        to: visit.to,
        what,
        more: format!(
            "{} {days} with {crew}, {hours} person-hours of work",
            visit.days
        ),
        site: Some(visit.name.to_string()),
    }
}

fn delivery(delivery: &Delivery) -> DayRow {
    let loads = match delivery.loads {
        0 => "fetch or have sent".to_owned(),
        1 => "1 load".to_owned(),
        n => format!("{n} loads"),
    };
    DayRow {
        kind: RowKind::Delivery,
        from: delivery.day,
        to: delivery.day,
        what: format!("From {}: {loads}", delivery.name),
        more: delivery.what.clone(),
        site: delivery.site.as_ref().map(ToString::to_string),
    }
}

fn order(delivery: &Delivery) -> Option<DayRow> {
    let day = delivery.order_by?;
    Some(DayRow {
        kind: RowKind::Order,
        from: day,
        to: day,
        what: format!("Last day to order from {}", delivery.name),
        more: delivery.what.clone(),
        site: delivery.site.as_ref().map(ToString::to_string),
    })
}
