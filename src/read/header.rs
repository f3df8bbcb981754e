//! The row of column titles, wherever it stands.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::fields;
use super::names::did_you_mean;
use super::raw::{RawRow, RawSheet};
use super::titles;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceColumn, SourceTable};
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
    /// How many of the sheet's rows are used up by what stands above, the header and its units.
    pub(super) used: usize,
}

/// How many different known titles of `sheet` are among `titles`.
pub(super) fn known_titles<'a>(titles: impl Iterator<Item = &'a str>, sheet: Sheet) -> usize {
    let fields = titles.filter_map(|title| titles::column(title, sheet));
    fields
        .map(|(field, _)| field)
        .collect::<BTreeSet<_>>()
        .len()
}

/// How many known titles the best row near the top has, and which row it is.
pub(super) fn best_row(raw: &RawSheet, sheet: Sheet) -> (usize, usize) {
    let mut best = (0, 0);
    for (at, row) in raw.rows.iter().take(LOOKED_AT).enumerate() {
        let texts = row.cells.iter().filter_map(|(_, cell)| cell.as_text());
        let known = known_titles(texts, sheet);
        if known > best.0 {
            best = (known, at);
        }
    }
    best
}

/// Finds the header of `sheet`; `None` when no row has known titles enough.
pub(super) fn find(raw: &RawSheet, sheet: Sheet) -> Option<Header> {
    let (known, at) = best_row(raw, sheet);
    let row = raw.rows.get(at)?;
    let narrow = row.cells.len() <= 2;
    if known == 0 || (known == 1 && !narrow) {
        return (sheet == Sheet::Job).then(without_titles);
    }
    let mut header = of_row(row, sheet);
    header.used = at.saturating_add(1);
    if let Some(units) = raw.rows.get(header.used).filter(|r| is_units_row(r)) {
        header.take_units(units);
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
        used: 0,
    }
}

fn of_row(row: &RawRow, sheet: Sheet) -> Header {
    let mut header = Header::default();
    for (index, cell) in &row.cells {
        let Some(title) = cell.as_text() else {
            continue;
        };
        let found = titles::column(title, sheet);
        header.columns.push(SourceColumn {
            index: *index,
            title: Arc::from(title),
            field: found.map(|(field, _)| field),
        });
        header.units.push(found.and_then(|(_, unit)| unit));
    }
    header
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

    /// Gives up all but the first of columns that mean the same, and says so; tells which columns
    /// are not known. `table` speaks of the places.
    pub(super) fn check(
        &mut self,
        table: &SourceTable,
        header_row: u32,
        sheet: Sheet,
        problems: &mut Vec<Problem>,
    ) {
        let mut seen: BTreeSet<&'static str> = BTreeSet::new();
        for column in &mut self.columns {
            let place = table.place(header_row, Some(column.index));
            match column.field {
                Some(field) if seen.insert(field) => {}
                Some(field) => {
                    column.field = None;
                    problems.push(twice(field, &column.title).place(place));
                }
                None => problems.push(unknown(&column.title, sheet).place(place)),
            }
        }
    }
}

fn twice(field: &str, title: &str) -> Problem {
    Problem::error(format!("two columns of this table mean {field}"))
        .holds(title)
        .hint("keep one; feet and inches go into one cell, as 7' 6\"")
}

fn unknown(title: &str, sheet: Sheet) -> Problem {
    let notice = Problem::notice(format!(
        "a column of {} is not known and is not read",
        sheet.title()
    ))
    .holds(title);
    match did_you_mean(title, fields::of(sheet).iter().copied()) {
        Some(name) => notice.hint(format!("did you mean {name}?")),
        None => notice,
    }
}

/// Whether a row repeats the titles, as printed pages do. One cell alone does not: a site may be
/// called `Site`.
pub(super) fn repeats(header: &Header, row: &RawRow) -> bool {
    row.cells.len() >= header.columns.len().clamp(1, 2)
        && row.cells.iter().all(|(index, cell)| {
            let mut columns = header.columns.iter();
            let title = columns.find(|c| c.index == *index).map(|c| &*c.title);
            title.is_some() && cell.as_text() == title
        })
}

/// Whether a row adds up those above: its first text is `Total` or the like, and all the rest are
/// numbers.
pub(super) fn is_total(cells: &[Cell]) -> bool {
    let mut filled = cells.iter().filter(|cell| !cell.is_empty());
    let Some(Cell::Text(first)) = filled.next() else {
        return false;
    };
    let first = first.to_lowercase();
    let words = [
        "total",
        "totals",
        "sum",
        "subtotal",
        "sub-total",
        "grand total",
        "sub total",
    ];
    words.contains(&first.trim_end_matches(':').trim())
        && filled.all(|cell| match cell {
            Cell::Text(text) => text.starts_with(|c: char| !c.is_alphabetic()),
            _ => true,
        })
}
