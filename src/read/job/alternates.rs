//! `Alternates`: the job again with some cells changed, one whole job for each name.
//!
//! A row names a sheet (Beds when it is empty), a row of it by its name or `all`, a column and the value
//! that stands there instead. `leave out` without a column takes the row out.

use std::sync::Arc;

use super::reading::Reading;
use super::{build, folder_of};
use crate::model::alternate::Alternate;
use crate::model::library::{Library, folded};
use crate::model::setting_titles::title_of;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceColumn, SourceRow, SourceTable};
use crate::problem::{Problem, Severity};
use crate::read::lists;
use crate::read::names::did_you_mean;
use crate::read::open::{Opened, Source};
use crate::read::row::rows;
use crate::read::titles::{self, SheetName};

/// Alternates of one job: each of them is priced as a whole job.
const MOST: usize = 12;
/// Words that take a row out.
const LEAVE_OUT: [&str; 6] = ["leave out", "left out", "without", "omit", "quitar", "sin"];
/// Words for every row of a sheet.
const ALL: [&str; 4] = ["all", "every", "todos", "todas"];

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
    let mut alternates = Vec::new();
    for one in named.iter().take(MOST) {
        match changed(opened, one, (library, source), known) {
            Ok(alternate) => alternates.push(alternate),
            Err(mut wrong) => told.append(&mut wrong),
        }
    }
    known.append(&mut told);
    alternates
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
        let near = did_you_mean(&name, titles);
        let hint = near.map_or_else(
            || "write the name of a sheet of the job, as Beds or Extras".to_owned(),
            |near| format!("did you mean \"{near}\"?"),
        );
        reading.complain("Sheet", format!("no sheet is called {name}"), &hint);
    }
    found
}

fn is_one_of(text: &str, words: &[&str]) -> bool {
    words.iter().any(|word| folded(word) == folded(text))
}

/// The job with the changes of one name, or what is wrong with them.
fn changed(
    opened: &Opened,
    named: &Named,
    (library, source): (&Library, &Source),
    known: &[Problem],
) -> Result<Alternate, Vec<Problem>> {
    let mut changed = opened.clone();
    let mut words = Vec::new();
    for edit in &named.edits {
        match apply(&mut changed, edit) {
            Ok(said) => words.push(said),
            Err(problem) => return Err(vec![*problem]),
        }
    }
    let mut problems = Vec::new();
    let lists = lists::open(&changed, &folder_of(source), &mut Vec::new());
    let job = build(&mut changed, lists, library, source, &mut problems);
    let is_new = |p: &&Problem| p.severity == Severity::Error && !known.contains(p);
    let at = named.edits.first().map(|edit| edit.at);
    let wrong: Vec<Problem> = problems
        .iter()
        .filter(is_new)
        .map(|p| {
            let words = format!("with alternate \"{}\": {}", named.name, p.sentence);
            let problem = Problem::error(words);
            let problem = at.map_or(problem.clone(), |at| problem.at(at, "Value"));
            match &p.hint {
                Some(hint) => problem.hint(hint.clone()),
                None => problem,
            }
        })
        .collect();
    match (at, wrong.is_empty()) {
        (Some(at), true) => Ok(Alternate {
            at,
            name: Arc::clone(&named.name),
            note: named.note.clone(),
            edits: words,
            job,
            sources: changed.sources,
        }),
        _ => Err(wrong),
    }
}

/// Changes the cells that a row is about; tells what it did in words.
fn apply(opened: &mut Opened, edit: &Edit) -> Result<String, Box<Problem>> {
    let column = column(edit)?;
    let places: Vec<u16> = opened
        .sources
        .of(edit.sheet)
        .map(|(index, _)| index)
        .collect();
    let title = edit.sheet.title();
    if places.is_empty() {
        let hint = format!("add a sheet {title}, or name another one");
        let sentence = format!("the job has no {title}");
        return Err(Box::new(complaint(edit, "Sheet", sentence, hint)));
    }
    let (mut met, mut before) = (false, None);
    for place in &places {
        let index = usize::from(*place);
        let (Some(table), Some(way)) = (
            opened.sources.tables.get_mut(index),
            opened.ways.get_mut(index),
        ) else {
            continue;
        };
        let rows = rows_met(table, edit);
        met |= !rows.is_empty();
        match column {
            None => table.rows.retain(|row| !rows.contains(&row.row)),
            Some(field) => {
                let position = position(table, field);
                let found = table.rows.iter_mut().filter(|row| rows.contains(&row.row));
                for row in found {
                    way.filled_in.remove(&row.row);
                    way.spoilt.remove(&(row.row, position));
                    if let Some(cell) = row.cells.get_mut(position) {
                        before.get_or_insert_with(|| cell.text());
                        cell.clone_from(&edit.value);
                    }
                }
            }
        }
    }
    if !met && edit.sheet == Sheet::Job {
        met = add_setting(opened, edit);
    }
    if !met {
        return Err(Box::new(no_such_row(opened, edit)));
    }
    Ok(said(edit, column, before))
}

/// `Beds B2, Fill: Deep bed -> Compost only`.
fn said(edit: &Edit, column: Option<&'static str>, before: Option<String>) -> String {
    let whose = format!("{} {}", edit.sheet.title(), edit.row);
    let shown = |text: String| {
        if text.is_empty() {
            "nothing".to_owned()
        } else {
            text
        }
    };
    match column {
        None => format!("{whose}: left out"),
        Some(column) => {
            let was = shown(before.unwrap_or_default());
            let now = shown(edit.value.text());
            match edit.sheet {
                Sheet::Job => format!("{}: {was} -> {now}", edit.row),
                _ => format!("{whose}, {column}: {was} -> {now}"),
            }
        }
    }
}

/// The column that changes; `None` where rows are taken out.
fn column(edit: &Edit) -> Result<Option<&'static str>, Box<Problem>> {
    let Some(typed) = &edit.column else {
        return Ok((edit.sheet == Sheet::Job).then_some("Value"));
    };
    if let Some((field, _)) = titles::column(typed, edit.sheet) {
        return Ok(Some(field));
    }
    let known = crate::read::fields::of(edit.sheet).iter().copied();
    let near = did_you_mean(typed, known);
    let hint = near.map_or_else(
        || format!("write a column of {}", edit.sheet.title()),
        |near| format!("did you mean \"{near}\"?"),
    );
    let sentence = format!("{} has no column {typed}", edit.sheet.title());
    Err(Box::new(complaint(edit, "Column", sentence, hint)))
}

/// Rows of a table that an edit is about.
fn rows_met(table: &SourceTable, edit: &Edit) -> Vec<u32> {
    let naming = edit.sheet.naming_column();
    let named = table.columns.iter().position(|c| c.field == Some(naming));
    let is_all = is_one_of(&edit.row, &ALL);
    let is_met = |row: &&SourceRow| {
        let cell = named.and_then(|position| row.cells.get(position));
        let text = cell.map(Cell::text).unwrap_or_default();
        let by_title = || title_of(&text).is_some() && title_of(&text) == title_of(&edit.row);
        is_all || folded(&text) == folded(&edit.row) || (edit.sheet == Sheet::Job && by_title())
    };
    table
        .rows
        .iter()
        .filter(is_met)
        .map(|row| row.row)
        .collect()
}

/// Where the column stands, added at the right when the table does not have it.
fn position(table: &mut SourceTable, field: &'static str) -> usize {
    let found = table.columns.iter().position(|c| c.field == Some(field));
    found.unwrap_or_else(|| {
        let last = table.columns.iter().map(|c| c.index).max();
        table.columns.push(SourceColumn {
            index: last.map_or(0, |last| last.saturating_add(1)),
            title: field.into(),
            field: Some(field),
        });
        for row in &mut table.rows {
            row.cells.push(Cell::Empty);
        }
        table.columns.len() - 1
    })
}

/// A setting that the job does not have yet, as a last row of its sheet.
fn add_setting(opened: &mut Opened, edit: &Edit) -> bool {
    let Some(title) = title_of(&edit.row) else {
        return false;
    };
    let mut tables = opened.sources.tables.iter_mut();
    let Some(table) = tables.find(|t| t.sheet == Some(Sheet::Job)) else {
        return false;
    };
    let (name, value) = (position(table, "Setting"), position(table, "Value"));
    let last = table.rows.last().map_or(0, |row| row.row);
    let mut cells = vec![Cell::Empty; table.columns.len()];
    for (position, cell) in [
        (name, Cell::Text(title.into())),
        (value, edit.value.clone()),
    ] {
        if let Some(slot) = cells.get_mut(position) {
            *slot = cell;
        }
    }
    table.rows.push(SourceRow {
        row: last.saturating_add(1),
        cells,
    });
    true
}

fn no_such_row(opened: &Opened, edit: &Edit) -> Problem {
    let naming = edit.sheet.naming_column();
    let names: Vec<String> = opened
        .sources
        .of(edit.sheet)
        .flat_map(|(_, table)| {
            let named = table.columns.iter().position(|c| c.field == Some(naming));
            let cells = table
                .rows
                .iter()
                .filter_map(move |row| row.cells.get(named?));
            cells.map(Cell::text)
        })
        .collect();
    let near = did_you_mean(&edit.row, names.iter().map(String::as_str));
    let hint = near.map_or_else(
        || "write the name of a row as it stands there, or all".to_owned(),
        |near| format!("did you mean \"{near}\"?"),
    );
    let sentence = format!("{} has no row {}", edit.sheet.title(), edit.row);
    complaint(edit, "Row", sentence, hint)
}

fn complaint(edit: &Edit, field: &'static str, sentence: String, hint: String) -> Problem {
    Problem::error(sentence).at(edit.at, field).hint(hint)
}
