//! From work to hours, days and hire. Labour is always person-hours; a crew only sets elapsed time.

//!
//! [`Labour::lines`] holds every person-hour once: tasks, hauling, extras, supervision, set-up and travel.
//! [`Labour::days`] and [`Labour::volunteering`] explain some of these lines and are not added again.

mod bags;
pub mod barrow;
#[cfg(test)]
pub(crate) mod by_hand;
pub mod days;
mod extras;
mod hauling;
pub mod hire;
mod hours;
mod multiplier;
mod summary;
#[cfg(test)]
mod tests;
pub mod volunteers;
mod workload;

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::buying::Bought;
use crate::model::job::{Job, SiteId};
use crate::model::labour::{Driver, Pay, Per, TaskId, Worker, WorkerId};
use crate::model::library::Library;
use crate::model::settings::TopUp;
use crate::problem::Problem;
use crate::takeoff::{KindId, Kinds, Moment, TakeOff};
use crate::units::Hours;

pub use extras::{extra_shares, extra_times};
pub use summary::{HoursSummary, hours_in_price, hours_summary, hours_summary_at};

use extras::{Census, Working};
use hauling::Means;
use hire::Machines;
use workload::Workload;

/// What labour is worked out from.
#[derive(Clone, Copy)]
pub(crate) struct Basis<'a> {
    job: &'a Job,
    kinds: &'a Kinds,
    takeoffs: &'a [TakeOff],
    bought: &'a Bought,
    library: &'a Library,
}

impl<'a> Basis<'a> {
    fn has_top_up(&self) -> bool {
        self.job.settings.top_up.value != TopUp::None
    }

    fn site_name(&self, id: SiteId) -> &'a str {
        self.job.sites.get(id.index()).map_or("?", |s| &s.name)
    }

    fn count(&self, kind: KindId) -> Decimal {
        self.kinds.count(kind)
    }

    fn worker(&self, id: Option<WorkerId>) -> Option<&'a Worker> {
        self.job.workers.get(id?.index())
    }

    /// The named worker, or the job's first, who is the usual one; `None` when the job names none.
    fn worker_or_first(&self, id: Option<WorkerId>) -> Option<WorkerId> {
        id.or_else(|| (!self.job.workers.is_empty()).then_some(WorkerId(0)))
    }

    fn first_paid(&self) -> Option<WorkerId> {
        let workers = self.job.workers.iter();
        let index = workers.clone().position(|w| w.pay == Pay::Paid)?;
        Some(WorkerId::of(index))
    }
}

/// All work of a job: hours by task, days, volunteers and hire.
///
/// `takeoffs` stand in the order of `kinds.kinds`, each for one bed. Hours are person-hours.
pub fn work(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    bought: &Bought,
    library: &Library,
) -> Labour {
    let basis = Basis {
        job,
        kinds,
        takeoffs,
        bought,
        library,
    };
    let barrow = barrow::Barrow::of(library, barrow::Pace::Typical);
    let mut labour = Labour {
        barrow: barrow.is_whole().then_some(barrow),
        ..Labour::default()
    };
    let machines = Machines::of(&basis, &mut labour.problems);
    let census = Census::of(job, kinds, takeoffs);
    let visits = workload::visits(&basis);
    let means =
        |visit: &Workload| Means::of(&basis, machines.does(visit.moment, Driver::HaulVolume));
    for visit in &visits {
        visit_site(&basis, &census, visit, &machines, means(visit), &mut labour);
    }
    let hauled: Vec<_> = visits.iter().map(|v| (v, means(v))).collect();
    labour.problems.extend(hauling::messages(&basis, &hauled));
    labour
        .problems
        .extend(hire::messages(&basis, &visits, &machines));
    labour.problems.extend(hours::messages(&basis, &visits));
    labour.problems.extend(extras::messages(&basis, &census));
    let volunteers = volunteers::messages(&basis, &labour.volunteering);
    labour.problems.extend(volunteers);
    let days = days::messages(&basis, &labour.days);
    labour.problems.extend(days);
    labour
}

/// One visit to one site: first what the beds bring, then what people and days bring with them.
fn visit_site(
    basis: &Basis,
    census: &Census,
    visit: &Workload,
    machines: &Machines,
    means: Means,
    labour: &mut Labour,
) {
    let mut lines = hours::task_lines(basis, visit, |d| machines.does(visit.moment, d));
    let (operators, mut hired): (Vec<_>, Vec<_>) =
        hire::running(basis, visit, machines).into_iter().unzip();
    lines.extend(operators);
    lines.extend(hauling::lines(basis, visit, means));
    let extras = Working::on(basis, census, visit);
    lines.extend(extras.counted());
    let groups = volunteers::reckon(basis, visit, &lines, |worker| {
        extras.each(Per::Session, Some(worker), &lines)
    });
    let sessions = groups.iter().map(|g| g.sessions);
    let sessions = sessions.fold(Decimal::ZERO, Decimal::saturating_add);
    lines.extend(extras.repeated(Per::Session, sessions, &lines));
    let each = extras.each(Per::Day, None, &lines);
    let days = days::reckon(basis, visit, &lines, each);
    if let Some(days) = &days {
        lines.extend(extras.repeated(Per::Day, days.days, &lines));
    }
    // Crew and volunteers may come on the same days, so the longer stay counts and not the sum.
    let stays = groups.iter().map(|g| g.days);
    let stays = stays.chain(days.iter().map(|d| d.days)).max();
    hired.extend(hire::standing_by(basis, visit, stays.unwrap_or_default()));
    lines.extend(
        groups
            .iter()
            .filter_map(|g| volunteers::supervision_line(basis, g)),
    );
    lines.extend(days.iter().filter_map(|d| days::overhead_line(basis, d)));
    hired.sort_by_key(|h| machine_name(basis, h));
    labour.hire.extend(hired);
    labour.lines.extend(lines);
    labour.volunteering.extend(groups);
    labour.days.extend(days);
}

fn machine_name<'a>(basis: &Basis<'a>, hire: &HireLine) -> (Option<&'a Arc<str>>, usize) {
    let machine = basis.job.equipment.get(hire.equipment);
    (machine.map(|m| &m.name), hire.equipment)
}

/// What a line of labour is, which decides how days count it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineKind {
    /// Work, which fills the days of the paid crew.
    Work,
    /// Looking after volunteers, who come to sessions of their own.
    Supervision,
    /// Set-up and travel of started days.
    SetUp,
}

/// One task on one site.
#[derive(Clone, Debug)]
pub struct LabourLine {
    /// What it is.
    pub kind: LineKind,
    /// The row of `Extras` whose hours these are.
    pub extra: Option<crate::model::source::RowAt>,
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
    /// Build or top-up visit.
    pub moment: Moment,
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
    /// The barrow that fill is wheeled in.
    pub barrow: Option<barrow::Barrow>,
    /// Everything to tell.
    pub problems: Vec<Problem>,
}
