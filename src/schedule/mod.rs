//! Days: when a crew comes, what is brought when, by when it is ordered, when it can be planted.
//!
//! A visit takes the started days of its hours, on working days one after the other. Sites follow each other
//! as their first days say, the others behind them by name, since there is one crew. Loose goods come on the
//! day on which filling begins; goods in packs are there on the first day.

mod deliveries;
mod visits;

use std::sync::Arc;

use jiff::civil::{Date, date};

use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::job::{Job, SiteId};
use crate::model::offer::SupplierId;
use crate::takeoff::Moment;
use crate::units::Hours;

/// Day 1 of a schedule without dates, which is a Monday.
const DAY_ONE: Date = date(2001, 1, 1);

/// When everything happens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Schedule {
    /// Whether the job has a first day; else days are counted from day 1, a Monday.
    pub has_dates: bool,
    /// Visits, by day.
    pub visits: Vec<Visit>,
    /// Deliveries and goods to be fetched, by day.
    pub deliveries: Vec<Delivery>,
    /// From when on each site can be planted, in the order of the visits.
    pub ready: Vec<Ready>,
    /// What was taken for granted or does not fit, in words.
    pub notes: Vec<String>,
}

/// A stay at a site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Visit {
    /// Where.
    pub site: SiteId,
    /// Its name.
    pub name: Arc<str>,
    /// Build or top-up.
    pub moment: Moment,
    /// First day.
    pub from: Date,
    /// Last day.
    pub to: Date,
    /// Working days.
    pub days: u32,
    /// The day on which filling begins.
    pub filling: Date,
    /// People of the crew.
    pub crew: u32,
    /// Person-hours of work, paid and volunteer, without set-up and travel.
    pub work: Hours,
}

/// Goods that come, or are fetched.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Delivery {
    /// From whom.
    pub supplier: SupplierId,
    /// Their name.
    pub name: Arc<str>,
    /// Where to; nothing for goods of the whole job.
    pub site: Option<Arc<str>>,
    /// For the build or the top-up.
    pub moment: Moment,
    /// When.
    pub day: Date,
    /// Whether it leaves the site: spoil.
    pub taken_away: bool,
    /// How many loads; none for goods in packs.
    pub loads: usize,
    /// What, in words.
    pub what: String,
    /// The last working day on which it can be ordered, as far as the lead days are known.
    pub order_by: Option<Date>,
}

/// A site that can be planted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ready {
    /// Its name.
    pub site: Arc<str>,
    /// From this day on.
    pub day: Date,
}

impl Schedule {
    /// `2026-03-02`, or `day 12` without dates.
    pub fn day_words(&self, day: Date) -> String {
        if self.has_dates {
            return day.to_string();
        }
        match self.number(day) {
            n if n >= 1 => format!("day {n}"),
            0 => "the day before day 1".to_owned(),
            n => format!("{} days before day 1", 1_i64.saturating_sub(n)),
        }
    }

    /// Days from day 1, or from the first day of the job, counted from 1.
    pub fn number(&self, day: Date) -> i64 {
        let days = (day - self.first()).get_days();
        i64::from(days).saturating_add(1)
    }

    /// The first day of anything.
    pub fn first(&self) -> Date {
        if !self.has_dates {
            return DAY_ONE;
        }
        let visits = self.visits.iter().map(|visit| visit.from);
        let deliveries = self.deliveries.iter().map(|d| d.order_by.unwrap_or(d.day));
        visits.chain(deliveries).min().unwrap_or(DAY_ONE)
    }
}

/// The schedule of a job; nothing to schedule when it takes no hours. `today` is the day of the estimate.
pub fn schedule(job: &Job, bought: &Bought, labour: &Labour, today: Date) -> Option<Schedule> {
    let mut notes = Vec::new();
    let visits = visits::visits(job, labour, &mut notes);
    if visits.is_empty() {
        return None;
    }
    let has_dates = visits::has_dates(job);
    let deliveries = deliveries::deliveries(job, bought, &visits);
    if has_dates {
        deliveries::tell_late(&deliveries, today, &mut notes);
    }
    let calendar = &job.settings.calendar;
    let wait = i64::from(calendar.settling.value);
    let built = visits.iter().filter(|visit| visit.moment == Moment::Build);
    let ready = built.map(|visit| Ready {
        site: Arc::clone(&visit.name),
        day: visits::after(visit.to, wait),
    });
    Some(Schedule {
        has_dates,
        ready: ready.collect(),
        visits,
        deliveries,
        notes,
    })
}
