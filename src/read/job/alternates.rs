//! `Alternates`: the job again with some cells changed, one whole job for each name.
//!
//! A row names a sheet (Beds when it is empty), a row of it by its name or `all`, a column and the value
//! that stands there instead. `leave out` without a column takes the row out.

mod apply;

use std::sync::Arc;

use super::reading::Reading;
use super::{build, folder_of};
use crate::model::alternate::Alternate;
use crate::model::library::{Library, folded};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt};
use crate::problem::{Problem, Severity};
use crate::read::lists;
use crate::read::names::did_you_mean;
use crate::read::open::{Opened, Source};
use crate::read::row::rows;
use crate::read::titles::{self, SheetName};
use apply::{Applied, apply};

/// Alternates of one job: each of them is priced as a whole job.
const MOST: usize = 12;
/// Words that take a row out.
const LEAVE_OUT: [&str; 6] = ["leave out", "left out", "without", "omit", "quitar", "sin"];

/// One row of the sheet.
#[derive(Clone, Debug)]
struct Edit {
    at: RowAt,
    sheet: Sheet,
    row: Arc<str>,
    column: Option<Arc<str>>,
    value: Cell,
}

/// Everything that one name stands for.
struct Named {
    name: Arc<str>,
    note: Option<Arc<str>>,
    edits: Vec<Edit>,
}

/// The alternates of a job whose tables are `opened`, before anything was built from them.
///
/// `known` are the problems of the job itself: only what is wrong beside them is told.
pub(super) fn read(
    opened: &Opened,
    (library, source): (&Library, &Source),
    known: &mut Vec<Problem>,
) -> Vec<Alternate> {
    let mut told = Vec::new();
    let named = named(opened, &mut told);
    if let Some(beyond) = named.get(MOST).and_then(|n| n.edits.first()) {
        let many = Problem::error(format!("there are more than {MOST} alternates"));
        let hint = "split the job, or drop the alternates that nobody asks about";
        told.push(many.at(beyond.at, "Alternate").hint(hint));
    }
    let taken = named.iter().take(MOST);
    let read = taken.filter_map(|one| changed(opened, one, (library, source), known, &mut told));
    let alternates = read.collect();
    known.append(&mut told);
    alternates
}

/// Says that alternates were left aside, when there are any.
pub(super) fn not_read(opened: &Opened) -> Option<Problem> {
    let mut tables = opened.sources.of(Sheet::Alternates);
    let (table, row) = tables.find_map(|(index, table)| Some((index, table.rows.first()?.row)))?;
    let words = "alternates are not priced together with a part of the job";
    Some(Problem::notice(words).at(RowAt { table, row }, "Alternate"))
}

/// The rows by the name of their alternate, in the order in which names come first.
fn named(opened: &Opened, told: &mut Vec<Problem>) -> Vec<Named> {
    let mut all: Vec<Named> = Vec::new();
    for row in rows(opened, Sheet::Alternates) {
        let mut reading = Reading::of(&row);
        if let Some((name, edit)) = edit(&mut reading) {
            let note = reading.text("Note");
            let key = folded(&name);
            match all.iter_mut().find(|n| folded(&n.name) == key) {
                Some(known) => {
                    known.edits.push(edit);
                    known.note = known.note.take().or(note);
                }
                None => all.push(Named {
                    name,
                    note,
                    edits: vec![edit],
                }),
            }
        }
        told.append(&mut reading.problems);
    }
    all
}

fn edit(reading: &mut Reading<'_, '_>) -> Option<(Arc<str>, Edit)> {
    let name = reading.wanted("Alternate", "write what it is, as no drip lines")?;
    let sheet = sheet(reading)?;
    let row = reading.wanted("Row", "write the name of the row that changes, or all")?;
    let value = reading.row.raw("Value").clone();
    let column = reading.text("Column");
    if column.is_none() && sheet != Sheet::Job && !is_one_of(&value.text(), &LEAVE_OUT) {
        let hint = "name the column whose cells change, or write leave out in Value";
        reading.complain("Column", "Column is missing", hint);
        return None;
    }
    let edit = Edit {
        at: reading.at(),
        sheet,
        row,
        column,
        value,
    };
    Some((name, edit))
}

/// The sheet that a row names; `Beds` when it names none.
fn sheet(reading: &mut Reading<'_, '_>) -> Option<Sheet> {
    let Some(name) = reading.text("Sheet") else {
        return Some(Sheet::Beds);
    };
    let found = match titles::sheet(&name) {
        SheetName::Known(sheet) | SheetName::Called(sheet) | SheetName::Begins(sheet) => {
            Some(sheet)
        }
        SheetName::Unknown => None,
    };
    let found = found.filter(|sheet| *sheet != Sheet::Alternates);
    if found.is_none() {
        let titles = Sheet::ALL.iter().map(|sheet| sheet.title());
        let hint = near(
            &name,
            titles,
            "write the name of a sheet of the job, as Beds or Extras",
        );
        reading.complain("Sheet", format!("no sheet is called {name}"), &hint);
    }
    found
}

/// A hint at the nearest of these names, else other words.
fn near<'n>(name: &str, known: impl Iterator<Item = &'n str>, otherwise: &str) -> String {
    let near = did_you_mean(name, known);
    near.map_or_else(
        || otherwise.to_owned(),
        |near| format!("did you mean \"{near}\"?"),
    )
}

fn is_one_of(text: &str, words: &[&str]) -> bool {
    words.iter().any(|word| folded(word) == folded(text))
}

/// The job with the changes of one name; nothing when they are wrong, which is told.
fn changed(
    opened: &Opened,
    named: &Named,
    (library, source): (&Library, &Source),
    known: &[Problem],
    told: &mut Vec<Problem>,
) -> Option<Alternate> {
    let at = named.edits.first()?.at;
    let mut changed = opened.clone();
    let mut done: Vec<Applied> = Vec::new();
    for edit in &named.edits {
        match apply(&mut changed, edit) {
            Ok(applied) => done.push(applied),
            Err(problem) => {
                told.push(*problem);
                return None;
            }
        }
    }
    let mut problems = Vec::new();
    let lists = lists::open(&changed, &folder_of(source), &mut Vec::new());
    let job = build(&mut changed, lists, library, source, &mut problems);
    problems.retain(|p| p.severity != Severity::Notice && !known.contains(p));
    let is_wrong = problems.iter().any(|p| p.severity == Severity::Error);
    told.extend(problems.iter().map(|p| {
        let cause = done.iter().rev().find(|applied| applied.touched(p.spot));
        let cause = cause.map_or(at, |applied| applied.at);
        p.of_alternate(&named.name).at(cause, "Value")
    }));
    (!is_wrong).then(|| Alternate {
        at,
        name: Arc::clone(&named.name),
        note: named.note.clone(),
        edits: done.into_iter().map(|applied| applied.words).collect(),
        job,
        sources: changed.sources,
    })
}
