//! From work to hours, days and hire. Labour is always person-hours; a crew only sets elapsed time.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::job::SiteId;
use crate::model::labour::{Driver, TaskId, WorkerId};
use crate::problem::Problem;
use crate::takeoff::{KindId, Moment};
use crate::units::Hours;

/// One task on one site.
#[derive(Clone, Debug)]
pub struct LabourLine {
    /// The task of the job; `None` for hours of an extra, set-up and travel, or supervision.
    pub task: Option<TaskId>,
    /// What it is called.
    pub name: Arc<str>,
    /// Where.
    pub site: SiteId,
    /// Build or top-up visit.
    pub moment: Moment,
    /// What it is counted by.
    pub driver: Driver,
    /// How much there is to do, in the unit of `unit`.
    pub quantity: Decimal,
    /// The unit that the rate is for, in words: `100 ft2`.
    pub unit: Arc<str>,
    /// Person-hours a unit.
    pub rate: Decimal,
    /// Product of all multipliers (season, slope, ground, gate, volunteers).
    pub multiplier: Decimal,
    /// What the multipliers are, in words; empty when it is 1.
    pub multiplier_words: String,
    /// `quantity x rate x multiplier`, tidied to 15 digits.
    pub hours: Hours,
    /// The same with the low and the high rate, when the rate is a typical figure.
    pub range: Option<(Hours, Hours)>,
    /// Whether the rate is a typical figure and not the user's.
    pub typical: bool,
    /// Who does it; `None` when the job names no worker.
    pub worker: Option<WorkerId>,
    /// Hours for one bed of each kind, by which the cost is shared. Empty: shared by all hours of the site.
    pub measures: Vec<(KindId, Decimal)>,
}

/// Days on one site.
#[derive(Clone, Debug)]
pub struct SiteDays {
    /// Where.
    pub site: SiteId,
    /// Build or top-up visit.
    pub moment: Moment,
    /// Hours of work, without set-up and travel.
    pub work: Hours,
    /// People who come.
    pub crew: u32,
    /// Person-hours of work that a day holds.
    pub day_holds: Hours,
    /// Started crew days.
    pub days: Decimal,
    /// Person-hours of set-up and travel.
    pub overhead: Hours,
    /// Who is paid for set-up and travel.
    pub worker: Option<WorkerId>,
}

/// Volunteers on one site.
#[derive(Clone, Debug)]
pub struct Volunteering {
    /// Where.
    pub site: SiteId,
    /// Which volunteers.
    pub worker: WorkerId,
    /// Hours of work that they do, at their own pace.
    pub work: Hours,
    /// Person-sessions.
    pub sessions: Decimal,
    /// Hours that they are there, briefing included.
    pub present: Hours,
    /// How many to invite so that enough come.
    pub invite: Decimal,
    /// Days on which they come.
    pub days: Decimal,
    /// Supervisors needed on each day.
    pub supervisors: Decimal,
    /// Paid hours of supervisors.
    pub supervision: Hours,
}

/// Hire of one machine for one site.
#[derive(Clone, Debug)]
pub struct HireLine {
    /// The row of `Equipment`, by its place in the job's list.
    pub equipment: usize,
    /// Where.
    pub site: SiteId,
    /// Hours that it works.
    pub hours: Hours,
    /// Steps of hire, rounded up for the site.
    pub steps: Decimal,
    /// The step in words: `day`.
    pub step_words: &'static str,
    /// Rate a step; `None` when it is missing.
    pub rate: Option<Decimal>,
    /// Delivery and collection.
    pub delivery: Option<Decimal>,
    /// Measure by which it is shared, for one bed of each kind; empty: by all hours of the site.
    pub measures: Vec<(KindId, Decimal)>,
}

/// All work of the job.
#[derive(Clone, Debug, Default)]
pub struct Labour {
    /// Tasks, by site name, moment and task order.
    pub lines: Vec<LabourLine>,
    /// Days, by site name and moment.
    pub days: Vec<SiteDays>,
    /// Volunteers, by site and worker name.
    pub volunteering: Vec<Volunteering>,
    /// Hire, by site and equipment name.
    pub hire: Vec<HireLine>,
    /// Everything to tell.
    pub problems: Vec<Problem>,
}
