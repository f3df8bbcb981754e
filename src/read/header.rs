//! The row of column titles, wherever it stands.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::doubt::{self, Doubt};
use super::fields;
use super::grouped::{self, Title};
use super::names::{did_you_mean, key};
use super::raw::{RawRow, RawSheet};
use super::titles;
use crate::model::sheet::Sheet;
use crate::model::source::{SourceColumn, SourceTable, column_letters};
use crate::problem::Problem;
use crate::units::parse::{Unit, unit};

/// Rows that may be title block before the header.
const LOOKED_AT: usize = 30;

/// What may stand around a unit.
const MARKS: &[char] = &['(', ')', '[', ']'];

/// The header of a sheet as found.
#[derive(Debug, Default)]
pub(super) struct Header {
    /// Columns in file order.
    pub(super) columns: Vec<SourceColumn>,
    /// The unit of each column.
    pub(super) units: Vec<Option<Unit>>,
    /// The row of each title, from 0.
    rows: Vec<u32>,
    /// The rows that make the header as they are compared, for pages pasted below each other.
    as_typed: Vec<Vec<(u32, String)>>,
    /// Columns without a title that are kept.
    untitled: BTreeSet<u32>,
    /// How many of the sheet's rows are used up by what stands above, the header and its units.
    pub(super) used: usize,
}

/// Where the titles of a sheet stand.
struct Found {
    /// Different titles that are known.
    known: usize,
    /// The place of their first row among the rows.
    at: usize,
    /// Their rows.
    rows: usize,
    titles: Vec<Title>,
}

/// How many different known titles of `sheet` are among `titles`.
pub(super) fn known_titles<'a>(titles: impl Iterator<Item = &'a str>, sheet: Sheet) -> usize {
    let fields = titles.filter_map(|title| titles::column(title, sheet));
    fields
        .map(|(field, _)| field)
        .collect::<BTreeSet<_>>()
        .len()
}

/// How many known titles the best row near the top has.
pub(super) fn most_known(raw: &RawSheet, sheet: Sheet) -> usize {
    best(raw, sheet).map_or(0, |found| found.known)
}

/// The row, or two rows together, with most known titles; the first of equals, and one row rather
/// than two.
fn best(raw: &RawSheet, sheet: Sheet) -> Option<Found> {
    let mut best: Option<Found> = None;
    let mut offer = |at, rows, titles: Vec<Title>| {
        let known = known_titles(titles.iter().map(|t| &*t.text), sheet);
        if known > best.as_ref().map_or(0, |b| b.known) {
            best = Some(Found {
                known,
                at,
                rows,
                titles,
            });
        }
    };
    for (at, row) in raw.rows.iter().take(LOOKED_AT).enumerate() {
        offer(at, 1, grouped::single(row));
    }
    for (at, rows) in raw.rows.windows(2).take(LOOKED_AT).enumerate() {
        if let [upper, lower] = rows
            && let Some(titles) = grouped::titles(upper, lower, sheet)
        {
            offer(at, 2, titles);
        }
    }
    best
}

/// Finds the header of `sheet`; `None` when no row has known titles enough.
pub(super) fn find(raw: &RawSheet, sheet: Sheet) -> Option<Header> {
    let found = best(raw, sheet);
    let narrow = |f: &Found| raw.rows.get(f.at).is_some_and(|row| row.cells.len() <= 2);
    let Some(found) = found.filter(|f| f.known > 1 || narrow(f)) else {
        return (sheet == Sheet::Job).then(without_titles);
    };
    let rows = raw.rows.iter().skip(found.at).take(found.rows);
    let mut header = Header {
        used: found.at.saturating_add(found.rows),
        as_typed: rows.clone().map(compared).collect(),
        ..Header::default()
    };
    let rows: Vec<u32> = rows.map(|row| row.row).collect();
    for title in &found.titles {
        let row = if title.below {
            rows.last()
        } else {
            rows.first()
        };
        header.take(title, row.copied().unwrap_or_default(), sheet);
    }
    if let Some(units) = raw.rows.get(header.used).filter(|r| is_units_row(r)) {
        header.take_units(units);
        header.as_typed.push(compared(units));
        header.used = header.used.saturating_add(1);
    }
    Some(header)
}

/// A `Job` sheet needs no titles: the first column names settings, the second holds them.
fn without_titles() -> Header {
    let column = |index, field| SourceColumn {
        index,
        title: Arc::from(field),
        field: Some(field),
    };
    Header {
        columns: vec![column(0, "Setting"), column(1, "Value")],
        units: vec![None, None],
        rows: vec![0, 0],
        ..Header::default()
    }
}

/// The texts of a row as they are compared.
fn compared(row: &RawRow) -> Vec<(u32, String)> {
    let texts = row.cells.iter();
    texts
        .filter_map(|(column, cell)| Some((*column, key(cell.as_text()?))))
        .collect()
}

/// Whether a row under the titles names units and nothing else: `ft`, `(in)`.
fn is_units_row(row: &RawRow) -> bool {
    let mut units = row.cells.iter().map(|(_, cell)| cell.as_text());
    units.all(|text| text.is_some_and(|t| unit_in_cell(t).is_some() || is_unit_word(t)))
}

fn is_unit_word(text: &str) -> bool {
    matches!(text.to_lowercase().trim_end_matches(':'), "unit" | "units")
}

fn unit_in_cell(text: &str) -> Option<Unit> {
    unit(text.trim_matches(MARKS))
}

impl Header {
    /// A header whose columns were found otherwise.
    pub(super) fn of(columns: Vec<(SourceColumn, Option<Unit>)>, used: usize) -> Self {
        let (columns, units) = columns.into_iter().unzip();
        Self {
            columns,
            units,
            used,
            ..Self::default()
        }
    }

    fn take(&mut self, title: &Title, row: u32, sheet: Sheet) {
        let found = titles::column(&title.text, sheet);
        self.columns.push(SourceColumn {
            index: title.column,
            title: Arc::clone(&title.text),
            field: found.map(|(field, _)| field),
        });
        self.units.push(found.and_then(|(_, unit)| unit));
        self.rows.push(row);
    }

    /// Adds a column that has no title, so that what stands in it is kept.
    pub(super) fn add_untitled(&mut self, column: u32) {
        let place = self.columns.partition_point(|c| c.index < column);
        let title = format!("Untitled {}", column_letters(column));
        let added = SourceColumn {
            index: column,
            title: Arc::from(title),
            field: None,
        };
        self.untitled.insert(column);
        self.columns.insert(place, added);
        self.units.insert(place, None);
    }

    /// Whether a column is one without a title.
    pub(super) fn is_untitled(&self, column: u32) -> bool {
        self.untitled.contains(&column)
    }

    fn take_units(&mut self, row: &RawRow) {
        for (column, unit) in self.columns.iter_mut().zip(&mut self.units) {
            let below = row.at(column.index).and_then(|cell| cell.as_text());
            let Some(below) = below.filter(|_| unit.is_none()) else {
                continue;
            };
            *unit = unit_in_cell(below);
            // The title says it from here on, wherever the column is shown again.
            if unit.is_some() {
                let bare = below.trim_matches(MARKS);
                column.title = Arc::from(format!("{} ({bare})", column.title));
            }
        }
    }

    /// Gives up all but the first of columns that mean the same, settles doubtful titles, and says
    /// so; tells which columns are not known. `table` speaks of the places.
    pub(super) fn check(&mut self, table: &SourceTable, sheet: Sheet, problems: &mut Vec<Problem>) {
        let mut taken: BTreeSet<&'static str> = BTreeSet::new();
        let mut told: Vec<(u32, Problem)> = Vec::new();
        for (column, row) in self.columns.iter_mut().zip(&self.rows) {
            if let Some(field) = column.field
                && !taken.insert(field)
            {
                column.field = None;
                let place = table.place(*row, Some(column.index));
                told.push((column.index, twice(field, &column.title).place(place)));
            }
        }
        let columns = self.columns.iter_mut().zip(&mut self.units);
        for ((column, unit), row) in columns.zip(&self.rows) {
            if column.field.is_some() || titles::column(&column.title, sheet).is_some() {
                continue;
            }
            let problem = match doubt::doubt(&column.title, sheet, &taken) {
                Some(Doubt::Is(field, said)) => {
                    column.field = Some(field);
                    *unit = unit.or(said);
                    taken.insert(field);
                    doubt::said(&column.title, field)
                }
                Some(Doubt::Asks(open)) => doubt::asked(&column.title, &open),
                None => unknown(&column.title, sheet),
            };
            let place = table.place(*row, Some(column.index));
            told.push((column.index, problem.place(place)));
        }
        told.sort_by_key(|(column, _)| *column);
        problems.extend(told.into_iter().map(|(_, problem)| problem));
    }
}

fn twice(field: &str, title: &str) -> Problem {
    // Remarks of two people stand beside each other, and nothing is computed from them.
    if field == "Note" {
        let sentence = "a second column of notes is carried along as it is";
        return Problem::notice(sentence).holds(title);
    }
    Problem::error(format!("two columns of this table mean {field}"))
        .holds(title)
        .hint("keep one; feet and inches go into one cell, as 7' 6\"")
}

fn unknown(title: &str, sheet: Sheet) -> Problem {
    let notice = Problem::notice(format!(
        "a column of {} is not known: it is carried along and not used",
        sheet.title()
    ))
    .holds(title);
    match did_you_mean(title, fields::of(sheet).iter().copied()) {
        Some(name) => notice.hint(format!("did you mean {name}?")),
        None => notice,
    }
}

/// Whether a row repeats one of the rows of the header, as printed pages do. One cell alone does not:
/// a site may be called `Site`.
pub(super) fn repeats(header: &Header, row: &RawRow) -> bool {
    if row.cells.len() < header.columns.len().clamp(1, 2) || header.as_typed.is_empty() {
        return false;
    }
    // A number or a date is no title, and most rows have one.
    if row.cells.iter().any(|(_, cell)| cell.as_text().is_none()) {
        return false;
    }
    let first = row
        .cells
        .first()
        .and_then(|(at, cell)| Some((*at, key(cell.as_text()?))));
    let begins = |typed: &&Vec<(u32, String)>| first.as_ref().is_some_and(|f| typed.contains(f));
    let rows = header.as_typed.iter().filter(begins);
    rows.into_iter().any(|typed| {
        let row = compared(row);
        row.iter().all(|cell| typed.contains(cell))
    })
}
