//! Tasks, people and machines.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::funding::ClassRef;
use super::id;
use super::job::{PhaseId, SiteId};
use super::known::Known;
use super::source::RowAt;
use crate::units::Hours;

pub use super::driver::Driver;

id!(
    /// A kind of worker, by its place in [`crate::model::job::Job::workers`].
    WorkerId
);
id!(
    /// A task, by its place in [`crate::model::job::Job::tasks`].
    TaskId
);

/// One task: a row of `Labour`, or of the trade library.
#[derive(Clone, Debug)]
pub struct Task {
    /// The row, for the job's own figures.
    pub at: Option<RowAt>,
    /// Key of the library's task that it overrides or is; empty for a task of the job's own.
    pub key: Arc<str>,
    /// What it is called.
    pub name: Arc<str>,
    /// What it is counted by.
    pub driver: Driver,
    /// Person-hours per `per` of the driver.
    pub rate: Known<Decimal>,
    /// Low and high of the rate, for the range printed beside typical figures.
    pub range: Option<(Decimal, Decimal)>,
    /// How much of the driver, in base units, the rate is for (100 ft2 as 9.29 m2; 1 yd3 as 0.7646 m3).
    pub per: Decimal,
    /// That amount in words: `100 ft2`.
    pub per_words: Arc<str>,
    /// Whether slope, ground and gate of the site slow it down.
    pub haul: bool,
    /// Who does it; the job's first worker when `None`.
    pub worker: Option<WorkerId>,
}

/// Whether a worker is paid.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Pay {
    /// Wage with burden, or a charge rate.
    Paid,
    /// Unpaid; counts at a stated value as in-kind.
    Volunteer,
}

/// One row of `Workers`.
#[derive(Clone, Debug)]
pub struct Worker {
    /// The row.
    pub at: RowAt,
    /// What they are called: `Crew`, `Carpenter`, `Volunteer`.
    pub name: Arc<str>,
    /// Paid or volunteer.
    pub pay: Pay,
    /// Wage an hour.
    pub pay_rate: Option<Known<Decimal>>,
    /// Taxes, insurance and benefits as a fraction of the wage.
    pub burden: Known<Decimal>,
    /// Rate charged to the client an hour; takes the line out of all bases.
    pub charge_rate: Option<Known<Decimal>>,
    /// Value an hour of volunteer time.
    pub in_kind: Option<Known<Decimal>>,
    /// How many there are.
    pub headcount: Option<u32>,
    /// Length of a volunteer session.
    pub session: Known<Hours>,
    /// Share of volunteers who do not come.
    pub no_show: Known<Decimal>,
    /// Volunteers for each supervisor.
    pub per_supervisor: Known<u32>,
    /// Hours against a trained crew's: 1.65 for volunteers, 1 for crew.
    pub factor: Known<Decimal>,
    /// Hours of briefing a session.
    pub briefing: Known<Hours>,
}

/// For how long a machine is hired at the least.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HireStep {
    /// An hour.
    Hour,
    /// Half a day.
    HalfDay,
    /// A day.
    Day,
    /// A week of five days.
    Week,
    /// The whole job on one site.
    Job,
}

/// One row of `Equipment`.
#[derive(Clone, Debug)]
pub struct Equipment {
    /// The row.
    pub at: RowAt,
    /// What it is.
    pub name: Arc<str>,
    /// Step of hire.
    pub step: HireStep,
    /// Rate a step.
    pub rate: Option<Known<Decimal>>,
    /// Driver that it works on; `None` when it is only there.
    pub does: Option<Driver>,
    /// Base units of the driver that it does in an hour.
    pub output: Option<Decimal>,
    /// Delivery and collection, each time it comes.
    pub delivery: Option<Known<Decimal>>,
}

/// What an extra is charged for each of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Per {
    /// Each bed.
    Bed,
    /// Each square metre of bed (rates are converted at reading).
    Area,
    /// Each site.
    Site,
    /// Each visit (one a site and phase).
    Visit,
    /// Each crew day.
    Day,
    /// Each volunteer session.
    Session,
    /// The job, once.
    Job,
}

/// What an extra is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ExtraKind {
    /// A cost like others.
    Cost,
    /// A sum or unit price set aside.
    Allowance,
    /// Passed on at cost, outside all bases.
    PassThrough,
    /// Named as not included; costs nothing.
    Exclusion,
}

/// One row of `Extras`.
#[derive(Clone, Debug)]
pub struct Extra {
    /// The row.
    pub at: RowAt,
    /// What it is.
    pub item: Arc<str>,
    /// How many for each `per`.
    pub quantity: Known<Decimal>,
    /// Unit in words.
    pub unit: Option<Arc<str>>,
    /// Rate a unit.
    pub rate: Option<Known<Decimal>>,
    /// For each of what.
    pub per: Per,
    /// Person-hours for each unit.
    pub hours: Option<Known<Decimal>>,
    /// Who works them.
    pub worker: Option<WorkerId>,
    /// Only on this site.
    pub site: Option<SiteId>,
    /// Only in this phase.
    pub phase: Option<PhaseId>,
    /// What it is.
    pub kind: ExtraKind,
    /// Whether overhead and profit go on it.
    pub marked_up: bool,
    /// Whether the client's page names it.
    pub client_sees: bool,
    /// Whether tax is paid on it.
    pub taxable: bool,
    /// Who pays for it, by the place in [`crate::model::funding::Funding::funders`].
    pub funder: Option<usize>,
    /// The class of the budget that it stands under.
    pub budget_class: Option<ClassRef>,
}
