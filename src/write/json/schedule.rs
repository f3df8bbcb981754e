//! The schedule in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::Estimate;
use crate::schedule::Schedule;
use crate::units::Decimal;
use crate::write::names::moment_word;

/// When a crew comes, what is brought when, and when it can be planted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ScheduleJson {
    /// Whether days are dates; else they are counted from day 1, a Monday.
    pub has_dates: bool,
    /// Visits, by day.
    pub visits: Vec<VisitJson>,
    /// Deliveries and goods to be fetched, by day.
    pub deliveries: Vec<DeliveryJson>,
    /// From when on each site can be planted.
    pub ready: Vec<ReadyJson>,
    /// What was taken for granted or does not fit.
    pub notes: Vec<String>,
}

/// A stay at a site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VisitJson {
    /// The site.
    pub site: String,
    /// `build` or `top-up`.
    pub moment: String,
    /// First day: a date, or `day 12`.
    pub from: String,
    /// Last day.
    pub to: String,
    /// Working days.
    pub days: u32,
    /// The day on which filling begins.
    pub filling: String,
    /// People of the crew.
    pub crew: u32,
    /// Person-hours of work.
    pub person_hours: Number,
}

/// Goods that come, or are fetched.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DeliveryJson {
    /// The supplier.
    pub supplier: String,
    /// Where to; nothing for goods of the whole job.
    pub site: Option<String>,
    /// `build` or `top-up`.
    pub moment: String,
    /// When.
    pub day: String,
    /// How many loads; 0 for goods in packs.
    pub loads: usize,
    /// What, in words.
    pub what: String,
    /// The last working day on which it can be ordered, as far as the lead days are known.
    pub order_by: Option<String>,
}

/// A site that can be planted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadyJson {
    /// The site.
    pub site: String,
    /// From this day on.
    pub day: String,
}

pub(super) fn schedule(estimate: &Estimate) -> Option<ScheduleJson> {
    let schedule = estimate.schedule()?;
    Some(ScheduleJson {
        has_dates: schedule.has_dates,
        visits: visits(&schedule),
        deliveries: deliveries(&schedule),
        ready: schedule
            .ready
            .iter()
            .map(|ready| ReadyJson {
                site: ready.site.to_string(),
                day: schedule.day_words(ready.day),
            })
            .collect(),
        notes: schedule.notes.clone(),
    })
}

fn visits(schedule: &Schedule) -> Vec<VisitJson> {
    let visits = schedule.visits.iter().map(|visit| VisitJson {
        site: visit.name.to_string(),
        moment: moment_word(visit.moment).to_owned(),
        from: schedule.day_words(visit.from),
        to: schedule.day_words(visit.to),
        days: visit.days,
        filling: schedule.day_words(visit.filling),
        crew: visit.crew,
        person_hours: Number::of(visit.work.in_hours().round_dp(4).max(Decimal::ZERO)),
    });
    visits.collect()
}

fn deliveries(schedule: &Schedule) -> Vec<DeliveryJson> {
    let deliveries = schedule.deliveries.iter().map(|delivery| DeliveryJson {
        supplier: delivery.name.to_string(),
        site: delivery.site.as_ref().map(ToString::to_string),
        moment: moment_word(delivery.moment).to_owned(),
        day: schedule.day_words(delivery.day),
        loads: delivery.loads,
        what: delivery.what.clone(),
        order_by: delivery.order_by.map(|day| schedule.day_words(day)),
    });
    deliveries.collect()
}
