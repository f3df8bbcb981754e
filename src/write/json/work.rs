//! Hours, days, volunteers and hire in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::job::number;
use super::number::{Measure, Number};
use crate::labour::{HireLine, LabourLine, SiteDays, Volunteering};
use crate::price::Estimate;
use crate::write::names::{Names, moment_word};

/// One task on one site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoursJson {
    /// What is done.
    pub task: String,
    /// Where.
    pub site: String,
    /// `build` or `top-up`.
    pub moment: String,
    /// How much there is to do, in `per`.
    pub quantity: Number,
    /// What the rate is for: `100 ft2`.
    pub per: String,
    /// Person-hours for one `per`.
    pub person_hours_per: Number,
    /// Product of all multipliers.
    pub multiplier: Number,
    /// What the multipliers are.
    pub multiplier_words: String,
    /// Person-hours.
    pub person_hours: Measure,
    /// Person-hours at the low rate, for typical figures.
    pub low: Option<Measure>,
    /// Person-hours at the high rate, for typical figures.
    pub high: Option<Measure>,
    /// Whether the rate is a typical figure and not the user's.
    pub typical: bool,
    /// Who does it.
    pub worker: Option<String>,
}

/// Days on one site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DaysJson {
    /// Where.
    pub site: String,
    /// `build` or `top-up`.
    pub moment: String,
    /// Person-hours of work.
    pub work: Measure,
    /// People who come.
    pub crew: u32,
    /// Person-hours of work that a day holds.
    pub day_holds: Measure,
    /// Started days.
    pub days: Number,
    /// Person-hours of set-up and travel.
    pub set_up_and_travel: Measure,
    /// Who is paid for them.
    pub worker: Option<String>,
}

/// Volunteers on one site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VolunteersJson {
    /// Where.
    pub site: String,
    /// Which.
    pub worker: String,
    /// Hours of work at their own pace.
    pub work: Measure,
    /// Person-sessions.
    pub person_sessions: Number,
    /// Hours that they are there.
    pub present: Measure,
    /// How many to invite.
    pub invite: Number,
    /// Days on which they come.
    pub days: Number,
    /// Supervisors on each day.
    pub supervisors: Number,
    /// Paid hours of supervisors.
    pub supervision: Measure,
}

/// Hire of one machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HireJson {
    /// What.
    pub item: String,
    /// Where.
    pub site: String,
    /// Hours that it works.
    pub works: Measure,
    /// Steps of hire.
    pub steps: Number,
    /// The step: `day`.
    pub step: String,
    /// Rate a step; absent when it is missing.
    pub rate: Option<Number>,
    /// Delivery and collection.
    pub delivery: Option<Number>,
}

/// All tasks, by site, moment and name.
pub(super) fn hours(estimate: &Estimate) -> Vec<HoursJson> {
    let names = Names(&estimate.job);
    let line = |l: &LabourLine| HoursJson {
        task: l.name.to_string(),
        site: names.site(l.site).to_owned(),
        moment: moment_word(l.moment).to_owned(),
        quantity: Number::of(l.quantity),
        per: l.unit.to_string(),
        person_hours_per: Number::of(l.rate),
        multiplier: Number::of(l.multiplier),
        multiplier_words: l.multiplier_words.clone(),
        person_hours: Measure::hours(l.hours),
        low: l.range.map(|(low, _)| Measure::hours(low)),
        high: l.range.map(|(_, high)| Measure::hours(high)),
        typical: l.typical,
        worker: l.worker.map(|w| names.worker(w).to_owned()),
    };
    let mut lines: Vec<HoursJson> = estimate.labour.lines.iter().map(line).collect();
    lines.sort_by_cached_key(|l| {
        let place = (l.site.clone(), l.moment.clone());
        (place, l.task.clone(), l.worker.clone(), l.quantity.clone())
    });
    lines
}

/// All days, by site and moment.
pub(super) fn days(estimate: &Estimate) -> Vec<DaysJson> {
    let names = Names(&estimate.job);
    let one = |d: &SiteDays| DaysJson {
        site: names.site(d.site).to_owned(),
        moment: moment_word(d.moment).to_owned(),
        work: Measure::hours(d.work),
        crew: d.crew,
        day_holds: Measure::hours(d.day_holds),
        days: Number::of(d.days),
        set_up_and_travel: Measure::hours(d.overhead),
        worker: d.worker.map(|w| names.worker(w).to_owned()),
    };
    let mut days: Vec<DaysJson> = estimate.labour.days.iter().map(one).collect();
    days.sort_by_cached_key(|d| (d.site.clone(), d.moment.clone(), d.worker.clone()));
    days
}

/// All volunteers, by site and name.
pub(super) fn volunteers(estimate: &Estimate) -> Vec<VolunteersJson> {
    let names = Names(&estimate.job);
    let one = |v: &Volunteering| VolunteersJson {
        site: names.site(v.site).to_owned(),
        worker: names.worker(v.worker).to_owned(),
        work: Measure::hours(v.work),
        person_sessions: Number::of(v.sessions),
        present: Measure::hours(v.present),
        invite: Number::of(v.invite),
        days: Number::of(v.days),
        supervisors: Number::of(v.supervisors),
        supervision: Measure::hours(v.supervision),
    };
    let mut all: Vec<VolunteersJson> = estimate.labour.volunteering.iter().map(one).collect();
    all.sort_by_cached_key(|v| (v.site.clone(), v.worker.clone()));
    all
}

/// All hire, by site and item.
pub(super) fn hire(estimate: &Estimate) -> Vec<HireJson> {
    let names = Names(&estimate.job);
    let one = |h: &HireLine| {
        let machine = estimate.job.equipment.get(h.equipment);
        HireJson {
            item: machine.map(|m| m.name.to_string()).unwrap_or_default(),
            site: names.site(h.site).to_owned(),
            works: Measure::hours(h.hours),
            steps: Number::of(h.steps),
            step: h.step_words.to_owned(),
            rate: number(h.rate),
            delivery: number(h.delivery),
        }
    };
    let mut all: Vec<HireJson> = estimate.labour.hire.iter().map(one).collect();
    all.sort_by_cached_key(|h| (h.site.clone(), h.item.clone(), h.steps.clone()));
    all
}
