//! Alternates priced, each as a whole job, and what they add to or take off the price.

use std::sync::Arc;
use std::thread;

use super::Estimate;
use super::changes::{Changes, changes};
use super::ledger::{Format, Role, Value};
use crate::model::alternate;
use crate::model::job::Job;
use crate::model::source::Sources;
use crate::problem::{Problem, Severity, Staged};
use crate::units::{Decimal, Money};

/// What an alternate comes to.
#[derive(Clone, Debug)]
pub struct Alternate {
    /// Its name.
    pub name: Arc<str>,
    /// What the user says of it.
    pub note: Option<Arc<str>>,
    /// What it changes in the job, in words.
    pub edits: Vec<String>,
    /// The price of the job with it, rounded as the price is.
    pub total: Money,
    /// That price less the price without it: what it adds, or below zero what it deducts.
    pub adds: Money,
    /// What moves in quantities, hours and money.
    pub changes: Changes,
}

/// The estimate `base` with its alternates, each priced by `price`.
///
/// They are priced beside each other, and stand in the order of the job whichever is done first.
pub fn with_alternates(
    mut base: Staged<Option<Estimate>>,
    alternates: Vec<alternate::Alternate>,
    price: impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync,
) -> Staged<Option<Estimate>> {
    let Some(estimate) = &mut base.output else {
        return base;
    };
    let mut told = Vec::new();
    for (asked, priced) in priced(alternates, &price) {
        match priced.output {
            Some(other) => {
                if let Some(lacks) = other.not_complete().filter(|_| estimate.is_complete()) {
                    let words = format!("alternate \"{}\": {lacks}", asked.name);
                    told.push(Problem::notice(words).at(asked.at, "Alternate"));
                }
                let total = other.price.total;
                estimate.alternates.push(Alternate {
                    name: asked.name,
                    note: asked.note,
                    edits: asked.edits,
                    total,
                    adds: total - estimate.price.total,
                    changes: changes(estimate, &other),
                });
            }
            None => told.extend(unpriced(&asked, &priced.problems)),
        }
    }
    in_ledger(estimate);
    estimate.problems.extend(told.iter().cloned());
    let is_wrong = told.iter().any(|p| p.severity == Severity::Error);
    base.problems.extend(told);
    if is_wrong {
        base.output = None;
    }
    base
}

/// What was asked, without the job, which is used up in pricing it.
struct Asked {
    at: crate::model::source::RowAt,
    name: Arc<str>,
    note: Option<Arc<str>>,
    edits: Vec<String>,
}

fn priced(
    alternates: Vec<alternate::Alternate>,
    price: &(impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync),
) -> Vec<(Asked, Staged<Option<Estimate>>)> {
    let workers = thread::available_parallelism().map_or(1, usize::from);
    let mut waiting = alternates.into_iter();
    let mut done = Vec::new();
    loop {
        let batch: Vec<_> = waiting.by_ref().take(workers).collect();
        if batch.is_empty() {
            return done;
        }
        thread::scope(|scope| {
            let running: Vec<_> = batch
                .into_iter()
                .map(|one| {
                    let asked = Asked {
                        at: one.at,
                        name: one.name,
                        note: one.note,
                        edits: one.edits,
                    };
                    let (job, sources) = (one.job, one.sources);
                    (asked, scope.spawn(move || price(job, sources)))
                })
                .collect();
            for (asked, run) in running {
                let lost = || Staged {
                    output: None,
                    problems: vec![Problem::bug("an alternate was lost while it was priced")],
                };
                let priced = run.join().unwrap_or_else(|_| lost());
                done.push((asked, priced));
            }
        });
    }
}

/// Why an alternate has no price.
fn unpriced(asked: &Asked, problems: &[Problem]) -> Vec<Problem> {
    let errors = problems.iter().filter(|p| p.severity == Severity::Error);
    errors
        .map(|error| {
            let words = format!("with alternate \"{}\": {}", asked.name, error.sentence);
            let problem = Problem::error(words).at(asked.at, "Value");
            match &error.hint {
                Some(hint) => problem.hint(hint.clone()),
                None => problem,
            }
        })
        .collect()
}

/// Two tables below the price: what each alternate comes to, and what it moves.
fn in_ledger(estimate: &mut Estimate) {
    if estimate.alternates.is_empty() {
        return;
    }
    let all = &estimate.alternates;
    let title = "Alternates, each by itself: two together are not the sum of both";
    let block = estimate.ledger.block("Price", title, all.len());
    let words =
        |of: &dyn Fn(&Alternate) -> String| all.iter().map(|a| Value::text(&of(a))).collect();
    let sums =
        |of: &dyn Fn(&Alternate) -> Decimal| all.iter().map(|a| Value::number(of(a))).collect();
    let names = words(&|a| a.name.to_string());
    let edits = words(&|a| a.edits.join("; "));
    let (adds, totals) = (sums(&|a| a.adds.amount()), sums(&|a| a.total.amount()));
    let rows = moved_rows(all);
    let ledger = &mut estimate.ledger;
    ledger.label(block, "Alternate", names);
    ledger.label(block, "What changes in the job", edits);
    ledger.numbers(block, "Add or deduct", Format::Money, Role::Fixed, adds);
    ledger.numbers(block, "Price with it", Format::Money, Role::Fixed, totals);
    if rows.is_empty() {
        return;
    }
    let block = ledger.block("Price", "What the alternates move", rows.len());
    let titles = ["Alternate", "What moves", "Now", "With it"];
    for (place, title) in titles.into_iter().enumerate() {
        let cells = rows.iter().filter_map(|row| row.get(place));
        ledger.label(block, title, cells.map(|text| Value::text(text)).collect());
    }
}

/// Orders, beds and hours that an alternate moves, in words: name, what, before, after.
fn moved_rows(alternates: &[Alternate]) -> Vec<[String; 4]> {
    let mut rows = Vec::new();
    for alternate in alternates {
        let mut row = |what: &str, before: String, after: String| {
            let what = what.to_owned();
            rows.push([alternate.name.to_string(), what, before, after]);
        };
        let none = || "none".to_owned();
        let moved = &alternate.changes;
        for bed in &moved.sizes {
            let words = |size: &Option<String>| size.clone().unwrap_or_else(none);
            row(&bed.name, words(&bed.before), words(&bed.after));
        }
        for order in &moved.orders {
            let words = |b: &Option<super::changes::Bought>| {
                b.as_ref().map_or_else(none, |bought| bought.packs.clone())
            };
            row(&order.name, words(&order.before), words(&order.after));
        }
        for task in &moved.hours {
            let words = |hours: &Option<crate::units::Hours>| {
                let hours = hours.unwrap_or_default().in_hours();
                format!("{} h", crate::units::show::grouped_plain(hours, 2))
            };
            row(&task.name, words(&task.before), words(&task.after));
        }
    }
    rows
}
