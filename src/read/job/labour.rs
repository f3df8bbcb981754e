//! `Labour`: the library's tasks with the job's own rates over them, and tasks of the job's own.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::drivers::{Counted, counted};
use super::reading::{Reading, Told};
use super::resolve::{Found, Names, unknown_hint};
use super::spreads;
use super::workers::worker_of;
use crate::model::known::Known;
use crate::model::labour::{Driver, Task};
use crate::model::library::LibraryTask;
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Dimension;
use crate::units::round::tidy15;

/// Lays the job's rows over the tasks of the library.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    draft.tasks = draft.library.tasks.iter().map(from_library).collect();
    let mut own = Names::default();
    for row in rows(opened, Sheet::Labour) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Task", "write what is done, as spread or hang gates") {
            let place = match draft.library.task(&name) {
                Some(known) => draft.tasks.iter().position(|t| t.key == known.key),
                None => None,
            };
            let key = place
                .and_then(|p| draft.tasks.get(p))
                .map_or_else(|| Arc::clone(&name), |t| Arc::clone(&t.key));
            if own.find(&key) == Found::Unknown {
                own.add(&key, 0);
                take(draft, &mut reading, name, place);
            } else {
                reading.complain("Task", "Task is listed twice", "keep one row for each task");
            }
        }
        draft.hear(reading);
    }
}

fn take(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    name: Arc<str>,
    place: Option<usize>,
) {
    let worker = worker_of(draft, reading);
    let rate = reading.known_number("Person-hours");
    let per = per(reading);
    match place {
        Some(place) => {
            if let Some(task) = draft.tasks.get_mut(place) {
                overlay(reading, task, rate, per);
                task.worker = worker.or(task.worker);
                ranged(reading, task);
            }
        }
        None => {
            if let Some(mut task) = own_task(draft, reading, name, rate, per) {
                task.worker = worker;
                ranged(reading, &mut task);
                draft.tasks.push(task);
            }
        }
    }
}

/// The job's own range takes the place of the library's.
fn ranged(reading: &mut Reading<'_, '_>, task: &mut Task) {
    let own = spreads::spread(reading, "Person-hours", Some(task.rate.value));
    task.range = own.map(|own| (own.low, own.high)).or(task.range);
}

/// What the hours are for; `None` for an empty cell.
fn per(reading: &mut Reading<'_, '_>) -> Result<Option<Counted>, Told> {
    let Some(typed) = reading.text("Per") else {
        return Ok(None);
    };
    let context = reading.row.context("Per");
    let read = counted(&typed, context);
    if read.is_none() {
        let words: Vec<&str> = Driver::ALL.iter().map(|d| d.word()).collect();
        let known = words.iter().copied();
        let otherwise = "write bed, 100 ft2 of sheet or yd3 of spread";
        let hint = unknown_hint(&typed, known, otherwise);
        reading.complain("Per", "Per does not say what the hours are for", &hint);
        return Err(Told);
    }
    Ok(read)
}

fn overlay(
    reading: &mut Reading<'_, '_>,
    task: &mut Task,
    rate: Option<Known<Decimal>>,
    per: Result<Option<Counted>, Told>,
) {
    let Ok(per) = per else {
        return;
    };
    if let Some(per) = per {
        let other = per.driver.is_some_and(|d| d != task.driver);
        let unlike = per.dimension != task.driver.dimension();
        if other || unlike {
            let sentence = format!("Per of this task must be {}", per_words(task.driver));
            let hint = format!(
                "write {}, or give a task of your own another name",
                task.per_words
            );
            reading.complain("Per", sentence, &hint);
            return;
        }
        // The typical hours that an estimate shows are still typical when it is read back.
        let typical = Some(task.rate.value) == rate.as_ref().map(|r| r.value);
        if reading.row.is_filled_in() && typical && same_amount(per.base, task.per) {
            return;
        }
        if rate.is_some() {
            task.per = per.base;
            task.per_words = per.words;
        }
    }
    if let Some(rate) = rate {
        task.at = Some(reading.at());
        task.rate = rate;
        task.range = None;
    }
}

/// An amount in words was rounded where its decimals do not end.
fn same_amount(a: Decimal, b: Decimal) -> bool {
    tidy15(a) == tidy15(b)
}

fn per_words(driver: Driver) -> String {
    let unit = match driver.dimension() {
        Dimension::Area => "an area of ",
        Dimension::Length => "a length of ",
        Dimension::Volume => "a volume of ",
        _ => "a ",
    };
    format!("{unit}{}", driver.word())
}

fn own_task(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    name: Arc<str>,
    rate: Option<Known<Decimal>>,
    per: Result<Option<Counted>, Told>,
) -> Option<Task> {
    let per = per.ok()?;
    let driver = per.as_ref().and_then(|p| p.driver);
    let Some((per, driver)) = per.zip(driver) else {
        let tasks = draft.library.tasks.iter().map(|t| &*t.name);
        let keys = draft.library.tasks.iter().map(|t| &*t.key);
        let otherwise =
            "for a task of your own write what it is counted by in Per, as bed or 100 ft2 of sheet";
        let hint = unknown_hint(&name, tasks.chain(keys), otherwise);
        reading.complain(
            "Task",
            "Task is not in the trade library, and Per does not say what it is counted by",
            &hint,
        );
        return None;
    };
    if rate.is_none() && !reading.has("Person-hours") {
        let hint = "write the person-hours for what Per says";
        reading.complain("Person-hours", "Person-hours is missing", hint);
    }
    Some(Task {
        at: Some(reading.at()),
        key: Arc::from(""),
        name,
        driver,
        rate: rate?,
        range: None,
        per: per.base,
        per_words: per.words,
        haul: driver == Driver::HaulVolume,
        worker: None,
    })
}

fn from_library(known: &LibraryTask) -> Task {
    let (low, typical, high) = known.hours;
    let key = Arc::clone(&known.key);
    Task {
        at: None,
        key: Arc::clone(&known.key),
        name: Arc::clone(&known.name),
        driver: known.driver,
        rate: Known::library(typical, "tasks", key, "typical_h"),
        range: Some((low, high)),
        per: known.per,
        per_words: Arc::clone(&known.per_words),
        haul: known.haul,
        worker: None,
    }
}
