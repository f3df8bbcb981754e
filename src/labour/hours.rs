//! Hours of tasks: quantity x rate x multiplier.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::multiplier::Multiplier;
use super::workload::{Todo, Workload, over};
use super::{Basis, LabourLine};
use crate::model::job::SiteId;
use crate::model::labour::{Driver, Task, TaskId, WorkerId};
use crate::problem::Problem;
use crate::takeoff::{KindId, Moment};
use crate::units::{Hours, round};

/// A labour line before its hours are worked out.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    pub(super) kind: super::LineKind,
    pub(super) extra: Option<crate::model::source::RowAt>,
    pub(super) task: Option<TaskId>,
    pub(super) name: Arc<str>,
    pub(super) site: SiteId,
    pub(super) moment: Moment,
    pub(super) driver: Driver,
    /// How much there is to do, in the unit of the rate.
    pub(super) quantity: Decimal,
    /// The same for one bed of each kind.
    pub(super) per_bed: Vec<(KindId, Decimal)>,
    pub(super) unit: Arc<str>,
    pub(super) rate: Decimal,
    pub(super) range: Option<(Decimal, Decimal)>,
    pub(super) typical: bool,
    pub(super) worker: Option<WorkerId>,
    pub(super) multiplier: Multiplier,
}

impl Draft {
    /// The line. Every number is tidied before it is multiplied, so that a sheet that multiplies the
    /// printed numbers gets the same hours.
    pub(super) fn line(self) -> LabourLine {
        let quantity = round::tidy15(self.quantity);
        let rate = round::tidy15(self.rate);
        let multiplier = self.multiplier.value();
        let hours = |quantity: Decimal, rate: Decimal| {
            Hours::of(quantity.saturating_mul(rate).saturating_mul(multiplier)).tidy()
        };
        let measure = |(kind, q): &(KindId, Decimal)| (*kind, hours(*q, rate).in_hours());
        LabourLine {
            kind: self.kind,
            extra: self.extra,
            task: self.task,
            name: self.name,
            site: self.site,
            moment: self.moment,
            driver: self.driver,
            quantity,
            unit: self.unit,
            rate,
            multiplier,
            multiplier_words: self.multiplier.words(),
            hours: hours(quantity, rate),
            range: self
                .range
                .map(|(low, high)| (hours(quantity, low), hours(quantity, high))),
            typical: self.typical,
            worker: self.worker,
            measures: self.per_bed.iter().map(measure).collect(),
        }
    }
}

/// Amounts of a driver as numbers of the unit that a rate is for.
pub(super) fn in_units(todo: &Todo, per: Decimal) -> (Decimal, Vec<(KindId, Decimal)>) {
    let per_bed = todo.per_bed.iter();
    let per_bed = per_bed.map(|(kind, amount)| (*kind, over(*amount, per)));
    (over(todo.whole, per), per_bed.collect())
}

/// A task's line on one visit; `None` when there is nothing of it to do.
pub(super) fn task_line(
    basis: &Basis,
    visit: &Workload,
    id: TaskId,
    task: &Task,
    todo: &Todo,
) -> Option<LabourLine> {
    if todo.whole.is_zero() {
        return None;
    }
    let (quantity, per_bed) = in_units(todo, task.per);
    let worker = basis.worker_or_first(task.worker);
    let typical = !task.rate.is_given();
    let draft = Draft {
        kind: super::LineKind::Work,
        extra: None,
        task: Some(id),
        name: Arc::clone(&task.name),
        site: visit.site,
        moment: visit.moment,
        driver: task.driver,
        quantity,
        per_bed,
        unit: Arc::clone(&task.per_words),
        rate: task.rate.value,
        range: task.range.filter(|_| typical),
        typical,
        worker,
        multiplier: Multiplier::on(basis, visit.site, task.haul, worker),
    };
    Some(draft.line())
}

/// Lines of the job's tasks on one visit, in their order. `by_machine` tells the drivers that a machine
/// does instead; hauling by hand stands in [`super::hauling`].
pub(super) fn task_lines(
    basis: &Basis,
    visit: &Workload,
    by_machine: impl Fn(Driver) -> bool,
) -> Vec<LabourLine> {
    let tasks = basis.job.tasks.iter().enumerate();
    tasks
        .filter(|(_, task)| task.driver != Driver::HaulVolume && !by_machine(task.driver))
        .filter_map(|(index, task)| {
            let todo = visit.todo.get(&task.driver)?;
            task_line(basis, visit, TaskId::of(index), task, todo)
        })
        .collect()
}

/// A notice for hours typed as such in a job of several sites: they are for the job, so one site has them.
pub(super) fn messages(basis: &Basis, visits: &[Workload]) -> Vec<Problem> {
    let mut builds = visits.iter().filter(|v| v.moment == Moment::Build);
    let (Some(first), Some(_)) = (builds.next(), builds.next()) else {
        return Vec::new();
    };
    let tasks = basis.job.tasks.iter();
    let typed = tasks.filter(|t| t.driver == Driver::Hour && !t.rate.value.is_zero());
    typed
        .filter_map(|task| {
            let site = basis.site_name(first.site);
            let words = format!("{} is counted once, on {site}", task.name);
            let notice = Problem::notice(words).hint("write Per site to have it on each site");
            Some(notice.at(task.at?, "Per"))
        })
        .collect()
}
