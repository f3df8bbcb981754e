//! What is marked: each problem with the cell that it is about, and the note of each cell.

use std::collections::BTreeMap;

use super::CellMark;
use super::sheet::{Marks, column_of};
use crate::model::source::{Form, SourceTable, Sources};
use crate::problem::{Problem, Severity, Spot, printable};

/// Notes of one copy. More would make the file slow to open; the sheet of problems has them all.
const MOST_NOTES: usize = 1_000;
/// Letters of one note that are shown.
const LONGEST_NOTE: usize = 2_000;

/// A cell by its table among the sources, and its row and column in the file, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct At {
    pub(super) table: usize,
    pub(super) row: u32,
    pub(super) column: u32,
}

/// One problem in words.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub(super) severity: Severity,
    pub(super) sentence: String,
    pub(super) place: String,
    pub(super) holds: String,
    pub(super) hint: String,
    pub(super) at: Option<At>,
}

/// All problems, the most important first, then by cell.
pub(super) fn entries(problems: &[Problem], sources: &Sources) -> Vec<Entry> {
    let mut entries: Vec<Entry> = problems.iter().map(|p| entry(p, sources)).collect();
    entries.sort_by_key(|e| (e.severity, e.at.is_none(), e.at));
    entries
}

fn entry(problem: &Problem, sources: &Sources) -> Entry {
    let named = problem.place.as_deref();
    let at = match (named, problem.spot) {
        (Some(place), _) => cell_named(place, sources),
        (None, Some(spot)) => cell_of(spot, sources),
        (None, None) => None,
    };
    let place = named
        .map(str::to_owned)
        .or_else(|| sources.place(problem.spot?));
    let hint = problem.hint.as_deref().unwrap_or_default();
    Entry {
        severity: problem.severity,
        sentence: printable(&problem.sentence),
        place: printable(&place.unwrap_or_default()),
        holds: problem.held(sources).unwrap_or_default(),
        hint: printable(hint),
        at,
    }
}

/// The cell of a spot; where the table has no such column, the one that names the row.
fn cell_of(spot: Spot, sources: &Sources) -> Option<At> {
    let table = usize::from(spot.row.table);
    let row = spot.row.row;
    let found = sources.tables.get(table)?;
    let column = found.column_of(spot.field).or_else(|| names_row(found))?;
    Some(At { table, row, column })
}

fn names_row(table: &SourceTable) -> Option<u32> {
    let own = table
        .sheet
        .and_then(|sheet| table.column_of(sheet.naming_column()));
    own.or_else(|| table.columns.first().map(|c| c.index))
}

/// The cell of a place in words, as `job.xlsx!Beds!D7` or `Beds.csv:7:4`, when a table holds it.
fn cell_named(place: &str, sources: &Sources) -> Option<At> {
    let mut tables = sources.tables.iter().enumerate();
    tables.find_map(|(table, found)| {
        let cell = place.strip_prefix(&found.place_begins())?;
        let (line, column) = match found.form {
            Form::Workbook => (
                cell.trim_start_matches(|c: char| c.is_ascii_alphabetic()),
                column_of(cell),
            ),
            Form::Text => match cell.split_once(':') {
                Some((line, column)) => (line, column.parse::<u32>().ok()?.checked_sub(1)),
                None => (cell, None),
            },
        };
        let row = line.parse::<u32>().ok()?.checked_sub(1)?;
        let column = column.or_else(|| names_row(found))?;
        Some(At { table, row, column })
    })
}

/// The marks of each table. Where there are too many notes, the least important ones are left out.
pub(super) fn marks(entries: &[Entry]) -> BTreeMap<usize, Marks> {
    let mut marks: BTreeMap<usize, Marks> = BTreeMap::new();
    let mut notes = 0_usize;
    for entry in entries {
        let Some(at) = entry.at else {
            continue;
        };
        let cells = marks.entry(at.table).or_default();
        // Entries come with the most important first: the first one of a cell gives its colour.
        let mark = cells.entry((at.row, at.column)).or_insert_with(|| {
            notes = notes.saturating_add(1);
            CellMark {
                severity: entry.severity,
                note: (notes <= MOST_NOTES).then(String::new),
            }
        });
        if let Some(note) = &mut mark.note
            && note.len() < LONGEST_NOTE
        {
            if !note.is_empty() {
                note.push_str("\n\n");
            }
            note.push_str(&in_note(entry));
        }
    }
    marks
}

/// `ERROR: Length needs a unit`, and the hint below it: the word says what the colour says.
fn in_note(entry: &Entry) -> String {
    let word = entry.severity.word().to_uppercase();
    let mut note = format!("{word}: {}", entry.sentence);
    if !entry.hint.is_empty() {
        note.push_str("\nHint: ");
        note.push_str(&entry.hint);
    }
    note
}
