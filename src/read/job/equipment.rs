//! `Equipment`: machines for hire.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::drivers::driver_by_word;
use super::measures::one_of;
use super::reading::{Reading, Told, Words};
use super::resolve::unknown_hint;
use crate::model::labour::{Driver, Equipment, HireStep};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::parse;

/// Words for what hire is counted by.
pub(super) const STEPS: &Words<HireStep> = &[
    (&["hour", "hourly", "h"], HireStep::Hour),
    (&["half-day", "half day"], HireStep::HalfDay),
    (&["day", "daily"], HireStep::Day),
    (&["week", "weekly"], HireStep::Week),
    (&["job", "once", "whole job"], HireStep::Job),
];

/// Reads every machine.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Equipment) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Item", "write what is hired, as mini loader")
            && let Some(machine) = machine(draft, &mut reading, name)
        {
            draft.equipment.push(machine);
        }
        draft.hear(reading);
    }
}

fn machine(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, name: Arc<str>) -> Option<Equipment> {
    let step = if reading.has("Hire step") {
        reading.choice("Hire step", STEPS)?
    } else {
        let hint = "write hour, half-day, day, week or job";
        reading.complain("Hire step", "Hire step is missing", hint);
        return None;
    };
    let does = does(draft, reading).ok()?;
    let output = output(reading, does).ok()?;
    if does.is_some() && output.is_none() && step != HireStep::Job {
        let hint = "write how much it does in an hour, as 8 yd3";
        let sentence = "Output per hour is missing, and Does needs it";
        reading.complain("Output per hour", sentence, hint);
        return None;
    }
    Some(Equipment {
        at: reading.at(),
        name,
        step,
        rate: reading.known_money("Rate"),
        does,
        output,
        delivery: reading.known_money("Delivery"),
    })
}

/// The driver that a machine works on, by its word or by a task that is counted by it.
fn does(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Result<Option<Driver>, Told> {
    let Some(typed) = reading.text("Does") else {
        return Ok(None);
    };
    let task = draft.library.task(&typed).map(|t| t.driver);
    let driver = driver_by_word(&typed).or(task);
    if driver.is_none() {
        let words = Driver::ALL.iter().map(|d| d.word());
        let tasks = draft.library.tasks.iter().map(|t| &*t.name);
        let otherwise = "write what it works on, as haul, spread or set post";
        let hint = unknown_hint(&typed, words.chain(tasks), otherwise);
        reading.complain("Does", "Does is not a kind of work", &hint);
        return Err(Told);
    }
    Ok(driver)
}

fn output(reading: &mut Reading<'_, '_>, does: Option<Driver>) -> Result<Option<Decimal>, Told> {
    let Some(typed) = reading.text("Output per hour") else {
        return Ok(None);
    };
    let context = reading.row.context("Output per hour");
    let bare = typed.trim_end_matches("/h").trim_end_matches("/hour");
    let bare = bare.trim_end_matches(" per hour").trim();
    let amount = match parse::amount(&one_of(bare), &context) {
        Ok(amount) => amount,
        Err(wrong) => {
            let sentence = format!("Output per hour {}", wrong.sentence);
            reading.complain("Output per hour", sentence, &wrong.hint);
            return Err(Told);
        }
    };
    let unlike = does.is_some_and(|d| d.dimension() != amount.dimension());
    if unlike || amount.base() <= Decimal::ZERO {
        let hint = "write 8 yd3, 100 ft2 or 12, as the work is measured";
        let sentence = "Output per hour is not measured as the work in Does is";
        reading.complain("Output per hour", sentence, hint);
        return Err(Told);
    }
    Ok(Some(amount.base()))
}
