//! Hired machines: how long they work or stand by, and for how many steps they are paid.
//!
//! A machine that does a driver takes the place of all hand work on that driver at the build: one
//! operator is there for as long as it runs. The top-up visit is small and is done by hand.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::hours::{Draft, in_units};
use super::multiplier::{Multiplier, is_narrow, narrow_words};
use super::workload::{Workload, over};
use super::{Basis, HireLine, LabourLine};
use crate::model::job::SiteId;
use crate::model::labour::{Driver, Equipment, HireStep, Pay, WorkerId};
use crate::problem::Problem;
use crate::takeoff::{KindId, Moment};
use crate::units::{Dimension, Hours, round};

/// Hours of half a day's hire.
pub const HALF_DAY: Decimal = Decimal::from_parts(4, 0, 0, false, 0);
/// Days of a week's hire.
pub const WEEK_DAYS: Decimal = Decimal::from_parts(5, 0, 0, false, 0);

/// Which machine does which driver: its place in the job's list and its output an hour, in base units.
#[derive(Debug, Default)]
pub(super) struct Machines {
    by_driver: BTreeMap<Driver, (usize, Decimal)>,
}

impl Machines {
    /// Machines by name; the second one for a driver is a problem, since all of it can be done once only.
    pub(super) fn of(basis: &Basis, problems: &mut Vec<Problem>) -> Self {
        let mut machines = Self::default();
        for index in by_name(basis) {
            let Some(machine) = basis.job.equipment.get(index) else {
                continue;
            };
            let Some(driver) = machine.does else { continue };
            match machine.output.filter(|output| *output > Decimal::ZERO) {
                None if machine.step == HireStep::Job => problems.push(hands_too(machine)),
                None => problems.push(no_output(machine)),
                Some(_) if machines.by_driver.contains_key(&driver) => {
                    problems.push(second(machine, driver));
                }
                Some(output) => {
                    machines.by_driver.insert(driver, (index, output));
                    problems.extend(instead_of_hands(basis, machine, driver));
                }
            }
        }
        machines
    }

    /// Whether a machine does this driver on such a visit.
    pub(super) fn does(&self, moment: Moment, driver: Driver) -> bool {
        moment == Moment::Build && self.by_driver.contains_key(&driver)
    }
}

fn by_name(basis: &Basis) -> Vec<usize> {
    let mut order: Vec<usize> = (0..basis.job.equipment.len()).collect();
    order.sort_by_key(|index| (basis.job.equipment.get(*index).map(|e| &e.name), *index));
    order
}

fn no_output(machine: &Equipment) -> Problem {
    let words = format!("{} does something but has no output an hour", machine.name);
    Problem::error(words)
        .at(machine.at, "Output per hour")
        .hint("write how much it does in an hour, as 10 yd3, or leave Does empty")
}

/// A machine hired for the whole job may come without an output: it is there, and hands do the work.
fn hands_too(machine: &Equipment) -> Problem {
    let words = format!(
        "{} has no output an hour: its hire counts, and the hours by hand stay",
        machine.name
    );
    Problem::notice(words)
        .at(machine.at, "Output per hour")
        .hint("write how much it does in an hour to have its operator's hours instead")
}

fn second(machine: &Equipment, driver: Driver) -> Problem {
    let words = format!(
        "another machine does {} already, and all of it can be done only once",
        driver.word()
    );
    Problem::error(words)
        .at(machine.at, "Does")
        .hint("leave Does empty to have it on site by the day")
}

fn instead_of_hands(basis: &Basis, machine: &Equipment, driver: Driver) -> Option<Problem> {
    let tasks = basis.job.tasks.iter().filter(|t| t.driver == driver);
    let mut names: Vec<&str> = tasks.map(|t| &*t.name).collect();
    if names.is_empty() && driver == Driver::HaulVolume {
        names.push("hauling by barrow");
    }
    if names.is_empty() {
        return None;
    }
    let words = format!(
        "{} takes the place of hand work at the build: {}",
        machine.name,
        names.join(", ")
    );
    Some(Problem::notice(words).at(machine.at, "Does"))
}

/// Operators' lines and hire of machines that do something on a visit.
pub(super) fn running(
    basis: &Basis,
    visit: &Workload,
    machines: &Machines,
) -> Vec<(LabourLine, HireLine)> {
    let mut out = Vec::new();
    let mut order: Vec<_> = machines.by_driver.iter().collect();
    order.sort_by_key(|(_, (index, _))| basis.job.equipment.get(*index).map(|e| &e.name));
    for (driver, (index, output)) in order {
        let machine = basis.job.equipment.get(*index);
        if let Some(machine) = machine.filter(|_| machines.does(visit.moment, *driver)) {
            let operator = operator(basis, visit, machine, *driver, *output);
            out.extend(operator.map(|line| {
                let hire = hired(basis, *index, machine, &line);
                (line, hire)
            }));
        }
    }
    out
}

/// What the line of a machine's operator is called.
pub fn operator_name(machine: &Equipment) -> String {
    format!("{}, operator", machine.name)
}

/// One person for as long as the machine runs. The season slows it, the way does not: its output is
/// what it does on this ground.
fn operator(
    basis: &Basis,
    visit: &Workload,
    machine: &Equipment,
    driver: Driver,
    output: Decimal,
) -> Option<LabourLine> {
    let todo = visit.amount(driver);
    if todo.whole.is_zero() {
        return None;
    }
    let system = basis.job.settings.units.value;
    let dimension = driver.dimension();
    let one = over(Decimal::ONE, system.number(dimension.of_base(Decimal::ONE)));
    let (quantity, per_bed) = in_units(&todo, one);
    let unit = match dimension {
        Dimension::Count => driver.word(),
        other => system.unit(other),
    };
    let draft = Draft {
        kind: super::LineKind::Work,
        extra: None,
        task: None,
        name: operator_name(machine).into(),
        site: visit.site,
        moment: visit.moment,
        driver,
        quantity,
        per_bed,
        unit: Arc::from(unit),
        rate: over(one, output),
        range: None,
        typical: false,
        worker: operating(basis, driver),
        multiplier: Multiplier::season(basis),
    };
    Some(draft.line())
}

/// Who runs it: whoever did the task by hand, but never a volunteer.
fn operating(basis: &Basis, driver: Driver) -> Option<WorkerId> {
    let task = basis.job.tasks.iter().find(|t| t.driver == driver);
    let hand = basis.worker_or_first(task.and_then(|t| t.worker));
    let paid = basis.worker(hand).is_some_and(|w| w.pay == Pay::Paid);
    if paid { hand } else { basis.first_paid() }
}

fn hired(basis: &Basis, index: usize, machine: &Equipment, line: &LabourLine) -> HireLine {
    let hours = line.hours;
    HireLine {
        measures: line.measures.clone(),
        ..bare(basis, index, machine, line.site, hours)
    }
}

fn bare(basis: &Basis, index: usize, machine: &Equipment, site: SiteId, hours: Hours) -> HireLine {
    let day = basis.job.settings.hours_per_day.value.in_hours();
    let (steps, step_words) = steps(machine.step, hours, day);
    HireLine {
        equipment: index,
        site,
        hours,
        steps,
        step_words,
        rate: machine.rate.as_ref().map(|r| r.value),
        delivery: machine.delivery.as_ref().map(|d| d.value),
        measures: Vec::<(KindId, Decimal)>::new(),
    }
}

/// Started steps of hire for so many hours, and the step in words. `day` is the length of a working day.
pub fn steps(step: HireStep, hours: Hours, day: Decimal) -> (Decimal, &'static str) {
    let hours = hours.in_hours();
    let started = |length: Decimal| round::whole_up(over(hours, length));
    match step {
        HireStep::Hour => (started(Decimal::ONE), "hour"),
        HireStep::HalfDay => (started(HALF_DAY), "half-day"),
        HireStep::Day => (started(day), "day"),
        HireStep::Week => (started(day.saturating_mul(WEEK_DAYS)), "week"),
        HireStep::Job => (Decimal::ONE, "job"),
    }
}

fn is_only_there(machine: &Equipment) -> bool {
    let unknown = machine.output.is_none_or(|output| output <= Decimal::ZERO);
    machine.does.is_none() || (unknown && machine.step == HireStep::Job)
}

/// Machines that are only there: for every day of the build on which somebody works, crew or volunteers.
pub(super) fn standing_by(basis: &Basis, visit: &Workload, days: Decimal) -> Vec<HireLine> {
    if visit.moment != Moment::Build || days.is_zero() {
        return Vec::new();
    }
    let day = basis.job.settings.hours_per_day.value;
    let machines = by_name(basis).into_iter();
    machines
        .filter_map(|index| Some((index, basis.job.equipment.get(index)?)))
        .filter(|(_, machine)| is_only_there(machine))
        .map(|(index, machine)| bare(basis, index, machine, visit.site, day.times(days)))
        .collect()
}

/// What is to be said about machines: idle ones, and narrow gates that a hauling one must pass.
pub(super) fn messages(basis: &Basis, visits: &[Workload], machines: &Machines) -> Vec<Problem> {
    let builds: Vec<&Workload> = visits
        .iter()
        .filter(|v| v.moment == Moment::Build)
        .collect();
    let mut told = Vec::new();
    for (driver, (index, _)) in &machines.by_driver {
        let Some(machine) = basis.job.equipment.get(*index) else {
            continue;
        };
        if builds.iter().all(|v| v.amount(*driver).whole.is_zero()) {
            let words = format!(
                "{} is not hired: there is no {} to do",
                machine.name,
                driver.word()
            );
            told.push(Problem::notice(words).at(machine.at, "Does"));
        } else if *driver == Driver::HaulVolume {
            told.extend(gates(basis, &builds, machine));
        }
    }
    told
}

fn gates(basis: &Basis, builds: &[&Workload], machine: &Equipment) -> Vec<Problem> {
    let sites = builds
        .iter()
        .filter_map(|v| basis.job.sites.get(v.site.index()));
    sites
        .filter(|site| is_narrow(basis, site))
        .map(|site| {
            let words = format!(
                "the narrowest gate of {} is under {}: see whether {} gets through",
                site.name,
                narrow_words(basis),
                machine.name
            );
            let caution = Problem::caution(words);
            match site.at {
                Some(row) => caution.at(row, "Gate width"),
                None => caution,
            }
        })
        .collect()
}
