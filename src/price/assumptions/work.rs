//! Typical hours, hauling, volunteers and extras that the estimate rests on.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::settings::{hours, is_haul};
use super::{Notes, percent};
use crate::model::job::{HaulGround, Site, SiteId};
use crate::model::labour::{Driver, Extra, Pay, Task, TaskId, Worker, WorkerId};
use crate::units::show::{grouped_plain, plain};
use crate::units::{Hours, Length};

/// What the barrow model takes from the library.
const BARROW: [&str; 8] = [
    "barrow_volume_ft3",
    "barrow_weight_lb",
    "barrow_speed_loaded_ft_min",
    "barrow_speed_empty_ft_min",
    "barrow_dump_min",
    "barrow_start_min",
    "barrow_loading_yd3_h",
    "barrow_rest_pct",
];

pub(super) fn note(notes: &mut Notes) {
    tasks(notes);
    hauling(notes);
    workers(notes);
    extras(notes);
}

/// Rates that brought hours, in the order of the job's tasks.
fn tasks(notes: &mut Notes) {
    let mut worked: BTreeMap<TaskId, Hours> = BTreeMap::new();
    for line in &notes.labour.lines {
        let task = line
            .task
            .and_then(|id| Some((id, notes.job.tasks.get(id.index())?)));
        if let Some((id, task)) = task
            && (line.typical || task.rate.is_given())
            && !line.hours.is_zero()
        {
            *worked.entry(id).or_default() += line.hours;
        }
    }
    for (id, time) in worked {
        if let Some(task) = notes.job.tasks.get(id.index()) {
            let show = |rate: &Decimal| rate_words(task, *rate);
            notes.known(&task.name, &task.rate, show, &time_words(time));
        }
    }
}

/// `1.9 h per 100 ft2 (1 to 3.8)`
fn rate_words(task: &Task, rate: Decimal) -> String {
    let rate = plain(rate, 4);
    let per = &task.per_words;
    match task.range {
        Some((low, high)) => {
            format!(
                "{rate} h per {per} ({} to {})",
                plain(low, 4),
                plain(high, 4)
            )
        }
        None => format!("{rate} h per {per}"),
    }
}

fn time_words(time: Hours) -> String {
    format!("{} h of work", grouped_plain(time.in_hours(), 1))
}

fn hauling(notes: &mut Notes) {
    let lines = notes.labour.lines.iter();
    let barrow = lines.filter(|line| line.driver == Driver::HaulVolume && line.typical);
    let time: Hours = barrow.map(|line| line.hours).sum();
    if !time.is_zero() {
        for key in BARROW {
            notes.figure(key, &time_words(time));
        }
    }
    let mut lines = notes.labour.lines.iter();
    if lines.any(|line| line.driver == Driver::WoodVolume) {
        notes.figure("wood_carry_ft", "wood, which a barrow takes only farther");
    }
    let lines = notes.labour.lines.iter();
    let ids: BTreeSet<SiteId> = lines
        .filter(|line| is_haul(notes, line))
        .map(|line| line.site)
        .collect();
    let mut sites: Vec<&Site> = ids
        .into_iter()
        .filter_map(|id| notes.job.sites.get(id.index()))
        .collect();
    sites.sort_by(|a, b| a.name.cmp(&b.name));
    for site in sites {
        for key in slowed_by(notes, site) {
            notes.figure(key, &site.name);
        }
    }
}

/// The figures of the library by which the way of a site slows hauling.
fn slowed_by(notes: &Notes, site: &Site) -> Vec<&'static str> {
    let slope = site.haul_slope.value.saturating_mul(Decimal::ONE_HUNDRED);
    let slope = match slope {
        s if s < Decimal::from(5) => None,
        s if s <= Decimal::TEN => Some("haul_slope_5_10"),
        s if s <= Decimal::from(15) => Some("haul_slope_10_15"),
        _ => Some("haul_slope_over_15"),
    };
    let ground = match site.haul_ground.value {
        HaulGround::Firm => None,
        HaulGround::Soft => Some("haul_soft"),
        HaulGround::Stairs => Some("haul_stairs"),
    };
    let narrow = Length::inches(notes.library.typical("haul_gate_narrow_in"));
    let gate = site.gate.as_ref().filter(|gate| gate.value < narrow);
    let gate = gate.map(|_| "haul_gate_narrow");
    [slope, ground, gate].into_iter().flatten().collect()
}

/// People who work on the job, in the order of their names.
fn workers(notes: &mut Notes) {
    let labour = notes.labour;
    let lines = labour.lines.iter().filter(|line| !line.hours.is_zero());
    let ids: BTreeSet<WorkerId> = lines
        .filter_map(|line| line.worker)
        .chain(labour.days.iter().filter_map(|day| day.worker))
        .chain(labour.volunteering.iter().map(|v| v.worker))
        .collect();
    let mut workers: Vec<&Worker> = ids
        .into_iter()
        .filter_map(|id| notes.job.workers.get(id.index()))
        .collect();
    workers.sort_by(|a, b| a.name.cmp(&b.name));
    for worker in workers {
        match worker.pay {
            Pay::Paid => paid(notes, worker),
            Pay::Volunteer => volunteer(notes, worker),
        }
    }
}

fn paid(notes: &mut Notes, worker: &Worker) {
    // A charge rate holds everything; a burden matters to a wage only.
    if worker.pay_rate.is_some() && worker.charge_rate.is_none() {
        notes.of(
            "Burden %",
            &worker.name,
            &worker.burden,
            percent,
            "labour cost",
        );
    }
}

fn volunteer(notes: &mut Notes, worker: &Worker) {
    let (name, used) = (&*worker.name, "volunteer hours");
    let times = |n: &Decimal| format!("x {}", plain(*n, 4));
    notes.of("Hours against a crew", name, &worker.factor, times, used);
    notes.of("Session length", name, &worker.session, hours, used);
    notes.of("Briefing", name, &worker.briefing, hours, used);
    notes.of(
        "No-show %",
        name,
        &worker.no_show,
        percent,
        "people to invite",
    );
    let count = |n: &u32| n.to_string();
    let used = "supervisors";
    notes.of("Per supervisor", name, &worker.per_supervisor, count, used);
}

fn extras(notes: &mut Notes) {
    let mut extras: Vec<&Extra> = notes.job.extras.iter().collect();
    extras.sort_by(|a, b| a.item.cmp(&b.item));
    for extra in extras {
        let number = |n: &Decimal| plain(*n, 4);
        notes.of("Quantity", &extra.item, &extra.quantity, number, "extras");
    }
}
