//! `Workers`: kinds of people, paid and unpaid.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::{Draft, figure};
use super::reading::{Reading, Words};
use super::resolve::{Found, unknown_hint};
use super::spreads;
use crate::model::known::Known;
use crate::model::labour::{Pay, Worker, WorkerId};
use crate::model::library::folded;
use crate::model::setting_titles::title_of;
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Hours;

/// Words for who is paid.
pub(super) const PAYS: &Words<Pay> = &[
    (&["paid", "crew", "employee", "hired"], Pay::Paid),
    (&["volunteer", "unpaid", "volunteers"], Pay::Volunteer),
];

/// Reads every kind of worker.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Workers) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Worker", "write what they are called, as Crew") {
            if draft.worker_names.has(&name) {
                let hint = "keep one row for each kind of worker";
                reading.complain("Worker", "Worker is listed twice", hint);
            } else {
                match worker(draft, &mut reading, &name) {
                    Some(worker) => {
                        draft.worker_names.add(&name, draft.workers.len());
                        spreads::note(draft, &mut reading, "Pay rate", worker.pay_rate.as_ref());
                        draft.workers.push(worker);
                    }
                    None => draft.worker_names.add_broken(&name),
                }
            }
        }
        draft.hear(reading);
    }
    put_usual_first(draft, opened);
}

/// Puts the worker first who does every task that names nobody: the `Usual worker` of the job, else
/// the first by name, paid ones before volunteers. The order of rows must not change a price.
fn put_usual_first(draft: &mut Draft<'_>, opened: &Opened) {
    let said = rows(opened, Sheet::Job).find_map(|row| {
        let is_usual = title_of(&row.text("Setting")?) == Some("Usual worker");
        Some((row.text("Value")?, row.at)).filter(|_| is_usual)
    });
    let usual = said
        .as_ref()
        .and_then(|(name, at)| match draft.worker_names.find(name) {
            Found::Is(place) => Some(place),
            Found::Broken => None,
            Found::Unknown => {
                let known = draft.worker_names.all();
                let hint = unknown_hint(name, known, "add a row for them to Workers");
                let sentence = "Usual worker is not among Workers";
                let problem = Problem::error(sentence).at(*at, "Value").hint(hint);
                draft.problems.push(problem);
                None
            }
        });
    let usual = usual
        .and_then(|place| draft.workers.get(place))
        .map(|w| Arc::clone(&w.name));
    draft.workers.sort_by_cached_key(|w| {
        (
            Some(&w.name) != usual.as_ref(),
            w.pay == Pay::Volunteer,
            folded(&w.name),
        )
    });
    for (place, worker) in draft.workers.iter().enumerate() {
        draft.worker_names.move_to(&worker.name, place);
    }
    let paid = draft.workers.iter().filter(|w| w.pay == Pay::Paid).count();
    if said.is_none() && paid > 1 {
        let first = draft.workers.first().map_or("nobody", |w| &w.name);
        let words = format!("tasks that name nobody are done by {first}, the first by name");
        let hint = "set Usual worker on the Job sheet, or name a worker for the task in Labour";
        draft.problems.push(Problem::notice(words).hint(hint));
    }
}

fn worker(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, name: &Arc<str>) -> Option<Worker> {
    let library = draft.library;
    let pay = if reading.has("Paid or volunteer") {
        reading.choice("Paid or volunteer", PAYS)?
    } else {
        unsaid_pay(reading)
    };
    let factor = match pay {
        Pay::Paid => Known::assumed(Decimal::ONE, "not set, taken as 1 for paid workers"),
        Pay::Volunteer => figure(library, "volunteer_factor", |n| n),
    };
    let no_show = || figure(library, "volunteer_no_show_pct", percent);
    let no_show = reading.known_percent("No-show %").unwrap_or_else(no_show);
    if no_show.value >= Decimal::ONE {
        reading.complain("No-show %", "No-show % must be under 100%", "write 20%");
        return None;
    }
    let worker = Worker {
        at: reading.at(),
        name: Arc::clone(name),
        pay,
        pay_rate: reading.known_hourly("Pay rate"),
        burden: reading
            .known_percent("Burden %")
            .unwrap_or_else(|| Known::assumed(Decimal::ZERO, "not set, taken as 0%")),
        charge_rate: reading.known_hourly("Charge rate"),
        in_kind: reading.known_hourly("In-kind value"),
        headcount: reading.whole("Headcount"),
        session: reading
            .known_hours("Session length")
            .unwrap_or_else(|| figure(library, "volunteer_session_h", Hours::of)),
        no_show,
        per_supervisor: reading
            .known_whole("Per supervisor")
            .unwrap_or_else(|| figure(library, "volunteer_per_supervisor", whole)),
        factor: reading.known_number("Hours factor").unwrap_or(factor),
        briefing: reading
            .known_hours("Briefing")
            .unwrap_or_else(|| figure(library, "volunteer_briefing_h", Hours::of)),
    };
    checked(reading, worker)
}

fn unsaid_pay(reading: &mut Reading<'_, '_>) -> Pay {
    let paid =
        reading.has("Pay rate") || reading.has("Charge rate") || !reading.has("In-kind value");
    if !paid {
        let said = "Paid or volunteer is not set, taken as volunteer from the in-kind value";
        reading.notice("Worker", said);
        return Pay::Volunteer;
    }
    reading.notice("Worker", "Paid or volunteer is not set, taken as paid");
    Pay::Paid
}

/// Figures that would make sessions endless or empty.
fn checked(reading: &mut Reading<'_, '_>, worker: Worker) -> Option<Worker> {
    if worker.factor.value <= Decimal::ZERO {
        let hint = "1 is a trained crew, 1.65 takes two thirds more hours";
        reading.complain("Hours factor", "Hours factor must be more than 0", hint);
        return None;
    }
    if worker.per_supervisor.value == 0 {
        let hint = "write how many people one supervisor looks after, as 9";
        reading.complain("Per supervisor", "Per supervisor must be 1 or more", hint);
        return None;
    }
    if worker.session.value <= worker.briefing.value {
        let sentence = "Session length must be more than the briefing in it";
        reading.complain(
            "Session length",
            sentence,
            "write the hours of one session, as 3",
        );
        return None;
    }
    Some(worker)
}

fn percent(number: Decimal) -> Decimal {
    number.checked_div(Decimal::ONE_HUNDRED).unwrap_or_default()
}

fn whole(number: Decimal) -> u32 {
    u32::try_from(number.round()).unwrap_or(0)
}

/// The worker that a cell names; `None` for an empty cell and after a problem.
pub(super) fn worker_of(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<WorkerId> {
    let name = reading.text("Worker")?;
    let spot = (reading.at(), "Worker");
    let names = &draft.worker_names;
    let found = names.resolve(&name, spot, "Workers", &mut reading.problems);
    found.map(WorkerId::of)
}
