//! Hauling from the tipping place to the beds, and what is bought beyond the need.
//!
//! Wood is no load for hauling: the task that places it carries it by hand over the first stretch of the
//! way, `wood_carry_ft` of the library. A barrow adds only the walking beyond that stretch.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::barrow::{Barrow, Pace};
use super::hours::{Draft, in_units, task_line};
use super::multiplier::Multiplier;
use super::workload::{Todo, Workload, placing};
use super::{Basis, LabourLine};
use crate::model::labour::{Driver, Task, TaskId};
use crate::model::material::{Material, MaterialId};
use crate::problem::Problem;
use crate::units::{Amount, Density, Dimension, Length, System, Volume, show};

/// How goods get from the tipping place to the beds on one visit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Means {
    /// By machine: its operator's hours stand elsewhere.
    Machine,
    /// At the job's own rate.
    OwnRate,
    /// By wheelbarrow.
    Barrow,
}

impl Means {
    /// A machine comes before the job's own rate, that before the barrow.
    pub(super) fn of(basis: &Basis, machine: bool) -> Self {
        if machine {
            Self::Machine
        } else if own_tasks(basis).next().is_some() {
            Self::OwnRate
        } else {
            Self::Barrow
        }
    }
}

/// Tasks of the job that set their own rate for hauling.
fn own_tasks<'a>(basis: &'a Basis) -> impl Iterator<Item = (TaskId, &'a Task)> {
    let tasks = basis.job.tasks.iter().enumerate();
    let own = |task: &Task| task.driver == Driver::HaulVolume && task.rate.is_given();
    tasks
        .filter(move |(_, task)| own(task))
        .map(|(index, task)| (TaskId::of(index), task))
}

/// Lines for hauling what is needed, then for hauling and placing what is bought beyond it.
pub(super) fn lines(basis: &Basis, visit: &Workload, means: Means) -> Vec<LabourLine> {
    let mut lines = match means {
        Means::Machine => Vec::new(),
        Means::OwnRate => own_lines(basis, visit),
        Means::Barrow => {
            let barrows = Barrows::new(basis, visit);
            let wheeled = by_name(basis, &visit.hauled).into_iter();
            let carried = by_name(basis, &visit.carried).into_iter();
            wheeled
                .filter_map(|(id, todo)| barrows.line(visit, id, todo, Stretch::Whole))
                .chain(
                    carried.filter_map(|(id, todo)| barrows.line(visit, id, todo, Stretch::Beyond)),
                )
                .collect()
        }
    };
    for (material, surplus) in by_name(basis, &visit.surplus) {
        lines.extend(surplus_lines(basis, visit, means, material, *surplus));
    }
    lines
}

fn by_name<'a, T>(basis: &Basis, map: &'a BTreeMap<MaterialId, T>) -> Vec<(MaterialId, &'a T)> {
    let mut pairs: Vec<(MaterialId, &T)> = map.iter().map(|(id, value)| (*id, value)).collect();
    pairs.sort_by_key(|(id, _)| (basis.job.material_name(*id), *id));
    pairs
}

fn own_lines(basis: &Basis, visit: &Workload) -> Vec<LabourLine> {
    let needed = Workload {
        surplus: BTreeMap::new(),
        ..visit.clone()
    };
    let todo = needed.amount(Driver::HaulVolume);
    own_tasks(basis)
        .filter_map(|(id, task)| task_line(basis, visit, id, task, &todo))
        .collect()
}

/// The surplus of a step came with the load: somebody wheels it away and spreads it all the same.
fn surplus_lines(
    basis: &Basis,
    visit: &Workload,
    means: Means,
    material: MaterialId,
    surplus: Decimal,
) -> Vec<LabourLine> {
    let todo = Todo {
        whole: surplus,
        per_bed: Vec::new(),
    };
    let name = basis.job.material_name(material);
    let mut lines = Vec::new();
    let stretch = Stretch::of(visit, material);
    if let Some(stretch) = stretch {
        match means {
            Means::Machine => {}
            // A rate of the job's own takes no wood, which is carried, so it takes no surplus of it.
            Means::OwnRate if stretch == Stretch::Beyond => {}
            Means::OwnRate => {
                let own = own_tasks(basis);
                lines.extend(own.filter_map(|(id, task)| task_line(basis, visit, id, task, &todo)));
            }
            Means::Barrow => {
                lines.extend(Barrows::new(basis, visit).line(visit, material, &todo, stretch));
            }
        }
    }
    for line in &mut lines {
        line.name = format!("Surplus beyond the need, hauled: {name}").into();
    }
    if let Some(mut line) = placed(basis, visit, material, &todo) {
        line.name = format!("Surplus beyond the need, spread: {name}").into();
        lines.push(line);
    }
    lines
}

fn placed(
    basis: &Basis,
    visit: &Workload,
    material: MaterialId,
    todo: &Todo,
) -> Option<LabourLine> {
    let driver = placing(basis.job.material(material)?.category);
    let tasks = basis.job.tasks.iter();
    let index = tasks.clone().position(|task| task.driver == driver)?;
    let task = basis.job.tasks.get(index)?;
    task_line(basis, visit, TaskId::of(index), task, todo)
}

/// Which part of the way goods go by barrow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stretch {
    /// From heap to bed.
    Whole,
    /// What lies beyond the stretch over which wood is carried by hand.
    Beyond,
}

impl Stretch {
    /// Of a material that is brought to the beds on this visit.
    fn of(visit: &Workload, material: MaterialId) -> Option<Self> {
        let whole = visit.hauled.contains_key(&material).then_some(Self::Whole);
        whole.or_else(|| {
            let carried = visit.carried.contains_key(&material);
            carried.then_some(Self::Beyond)
        })
    }
}

/// The barrow at its three paces, on the way of one site.
struct Barrows<'a> {
    basis: &'a Basis<'a>,
    typical: Barrow,
    quick: Barrow,
    slow: Barrow,
    distance: Length,
    unit: Volume,
}

impl<'a> Barrows<'a> {
    fn new(basis: &'a Basis<'a>, visit: &Workload) -> Self {
        let site = basis.job.sites.get(visit.site.index());
        let unit = match basis.job.settings.units.value {
            System::UsCustomary => Volume::cubic_yards(Decimal::ONE),
            System::Metric => Volume::cubic_metres(Decimal::ONE),
        };
        Self {
            basis,
            typical: Barrow::of(basis.library, Pace::Typical),
            quick: Barrow::of(basis.library, Pace::Quick),
            slow: Barrow::of(basis.library, Pace::Slow),
            distance: site.map_or(Length::ZERO, |s| s.haul.value),
            unit,
        }
    }

    fn line(
        &self,
        visit: &Workload,
        material: MaterialId,
        todo: &Todo,
        stretch: Stretch,
    ) -> Option<LabourLine> {
        let basis = self.basis;
        let way = self.way(stretch);
        if todo.whole.is_zero() || (stretch == Stretch::Beyond && way.is_zero()) {
            return None;
        }
        let density = density(basis.job.material(material));
        let rate = |barrow: &Barrow| match stretch {
            Stretch::Whole => barrow.hours(self.unit, density, way),
            Stretch::Beyond => barrow.walking(self.unit, density, way),
        };
        let (quantity, per_bed) = in_units(todo, self.unit.in_cubic_metres());
        let worker = basis.worker_or_first(library_haul(basis).and_then(|task| task.worker));
        let name = basis.job.material_name(material);
        let draft = Draft {
            kind: super::LineKind::Work,
            extra: None,
            task: None,
            name: format!("Barrow {name} {}", self.way_words(stretch, way)).into(),
            site: visit.site,
            moment: visit.moment,
            driver: Driver::HaulVolume,
            quantity,
            per_bed,
            unit: Arc::from(basis.job.settings.units.value.unit(Dimension::Volume)),
            rate: rate(&self.typical),
            range: Some((rate(&self.quick), rate(&self.slow))),
            typical: true,
            worker,
            multiplier: Multiplier::on(basis, visit.site, true, worker),
        };
        Some(draft.line())
    }

    /// How far the barrow goes one way.
    fn way(&self, stretch: Stretch) -> Length {
        match stretch {
            Stretch::Whole => self.distance,
            Stretch::Beyond => {
                let carried = Length::feet(self.basis.library.typical("wood_carry_ft"));
                (self.distance - carried).max(Length::ZERO)
            }
        }
    }

    fn way_words(&self, stretch: Stretch, way: Length) -> String {
        let system = self.basis.job.settings.units.value;
        let number = system.number(Amount::Length(way));
        let unit = system.unit(Dimension::Length);
        let words = format!("{} {unit}", show::grouped_plain(number, 1));
        match stretch {
            Stretch::Whole => words,
            Stretch::Beyond => format!("{words} farther than it is carried"),
        }
    }
}

/// A haul task that the job left at the library's rate: it may still say who hauls.
fn library_haul<'a>(basis: &'a Basis) -> Option<&'a Task> {
    let mut tasks = basis.job.tasks.iter();
    tasks.find(|task| task.driver == Driver::HaulVolume && !task.rate.is_given())
}

fn density(material: Option<&Material>) -> Option<Density> {
    let known = material?.delivered.as_ref()?;
    Some(known.value).filter(|d| *d > Density::ZERO)
}

/// What is to be said about hauling, once for the job.
pub(super) fn messages(basis: &Basis, visits: &[(&Workload, Means)]) -> Vec<Problem> {
    let mut told = Vec::new();
    if visits.iter().any(|(_, means)| *means == Means::OwnRate) {
        told.extend(own_tasks(basis).filter_map(|(_, task)| {
            let words = format!(
                "{} sets the hours of hauling; the barrow is not reckoned",
                task.name
            );
            let own = Problem::notice(words)
                .hint("count the task by spread to have it beside the barrow");
            Some(own.at(task.at?, "Person-hours"))
        }));
    }
    let barrows = visits.iter().filter(|(_, means)| *means == Means::Barrow);
    let wheeled: BTreeSet<MaterialId> = barrows
        .flat_map(|(visit, _)| visit.hauled.keys().copied())
        .collect();
    if !wheeled.is_empty() && !Barrow::of(basis.library, Pace::Typical).is_whole() {
        told.push(Problem::bug(
            "the trade library has no whole set of barrow figures",
        ));
    }
    let mut names: Vec<&Material> = wheeled
        .iter()
        .filter_map(|id| basis.job.material(*id))
        .filter(|material| density(Some(material)).is_none())
        .collect();
    names.sort_by(|a, b| a.name.cmp(&b.name));
    told.extend(names.into_iter().map(unweighed));
    told
}

fn unweighed(material: &Material) -> Problem {
    let words = format!(
        "{} has no delivered density, so a barrow of it is taken as full and its weight is not checked",
        material.name
    );
    let caution = Problem::caution(words).hint(
        "give Delivered density in the Materials sheet: wet soil fills half a barrow at most",
    );
    match material.at {
        Some(row) => caution.at(row, "Delivered density"),
        None => caution,
    }
}
