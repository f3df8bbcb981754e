//! A raw sheet to a table with recognised columns, and what was found wrong on the way.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::fields;
use super::header::{self, Header};
use super::open::Way;
use super::raw::{Merge, RawCell, RawRow, RawSheet, is_too_narrow};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, RowAt, SourceRow, SourceTable};
use crate::problem::Problem;
use crate::units::parse::{Commas, DateOrder, comma_evidence, date_evidence};

/// Columns whose merged cells name a group of rows, so that the name is meant for all of them.
const LABELS: [&str; 8] = [
    "Supplier", "Site", "Phase", "Fill", "Mix", "Frame", "Vehicle", "Funder",
];

/// A table, and how it was written.
pub(super) struct Assembled {
    /// The table.
    pub(super) table: SourceTable,
    /// How it was written.
    pub(super) way: Way,
    /// What its texts show about their writing.
    pub(super) votes: Votes,
}

/// How many texts show which way of writing.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Votes {
    /// Numbers with a decimal point.
    pub(super) points: usize,
    /// Numbers with a decimal comma.
    pub(super) commas: usize,
    /// Dates with the day first.
    pub(super) days_first: usize,
    /// Dates with the month first.
    pub(super) months_first: usize,
}

impl std::ops::AddAssign for Votes {
    fn add_assign(&mut self, more: Self) {
        self.points += more.points;
        self.commas += more.commas;
        self.days_first += more.days_first;
        self.months_first += more.months_first;
    }
}

/// Makes the table that will be number `index` of the job; `None` when it has no header.
pub(super) fn table(
    raw: RawSheet,
    sheet: Sheet,
    index: u16,
    problems: &mut Vec<Problem>,
) -> Option<Assembled> {
    let mut header = header::find(&raw, sheet)?;
    let mut table = SourceTable {
        sheet: Some(sheet),
        file: Arc::clone(&raw.file),
        label: Arc::clone(&raw.label),
        form: raw.form,
        columns: Vec::new(),
        rows: Vec::new(),
    };
    let mut above = raw.rows.iter().take(header.used);
    let first = header.columns.first().map(|column| column.index);
    let titles_row = above.rfind(|row| first.is_some_and(|column| row.at(column).is_some()));
    let titles_row = titles_row.map_or(0, |row| row.row);
    if header.used > 0 {
        header.check(&table, titles_row, sheet, problems);
    }
    table.columns.clone_from(&header.columns);
    let mut filling = Filling {
        table: &mut table,
        header: &header,
        index,
        sheet,
        spoilt: BTreeSet::new(),
        stray: BTreeSet::new(),
        problems,
    };
    let (merges, struck, hidden) = (raw.merges, raw.struck, raw.hidden);
    let (formats_unknown, filled_in) = (raw.formats_unknown, raw.filled_in);
    for row in raw.rows.into_iter().skip(header.used) {
        filling.take(row);
    }
    for merge in merges {
        filling.fill_down(merge);
    }
    filling.tell_rows("struck out", &struck);
    filling.tell_rows("hidden", &hidden);
    let spoilt = filling.spoilt;
    let votes = votes(&table);
    let way = Way {
        units: header.units,
        commas: Commas::Ask,
        dates: DateOrder::Ask,
        filled_in,
        formats_unknown,
        spoilt,
    };
    Some(Assembled { table, way, votes })
}

/// The state while rows are taken over.
struct Filling<'a> {
    table: &'a mut SourceTable,
    header: &'a Header,
    index: u16,
    sheet: Sheet,
    spoilt: BTreeSet<(u32, usize)>,
    stray: BTreeSet<u32>,
    problems: &'a mut Vec<Problem>,
}

impl Filling<'_> {
    fn take(&mut self, raw: RawRow) {
        if header::repeats(self.header, &raw) {
            return;
        }
        let row = raw.row;
        let mut cells = vec![Cell::Empty; self.header.columns.len()];
        let mut spoilt = Vec::new();
        let mut position = 0;
        for (column, cell) in raw.cells {
            let columns = &self.header.columns;
            while columns.get(position).is_some_and(|c| c.index < column) {
                position += 1;
            }
            let known = columns.get(position).filter(|c| c.index == column);
            match (known, cell) {
                (None, _) => self.tell_stray(row, column),
                (Some(_), RawCell::Good(cell)) => {
                    if let Some(slot) = cells.get_mut(position) {
                        *slot = cell;
                    }
                }
                (Some(known), bad) => spoilt.extend(known.field.map(|f| (position, f, bad))),
            }
        }
        // What stands under no title only, or in columns that are not read, makes no row.
        if spoilt.is_empty() && cells.iter().all(Cell::is_empty) {
            return;
        }
        if self.sheet != Sheet::Job && header::is_total(&cells) {
            self.tell_total(row, &cells);
            return;
        }
        for (position, field, bad) in spoilt {
            self.spoilt.insert((row, position));
            self.problems
                .push(bad_cell(&bad, field).at(self.at(row), field));
        }
        self.table.rows.push(SourceRow { row, cells });
    }

    fn at(&self, row: u32) -> RowAt {
        RowAt {
            table: self.index,
            row,
        }
    }

    /// A value under no title is told once a column.
    fn tell_stray(&mut self, row: u32, column: u32) {
        if !self.stray.insert(column) {
            return;
        }
        let place = self.table.place(row, Some(column));
        let beyond = self.header.columns.last().is_some_and(|c| c.index < column);
        let problem = match self.table.form {
            // In a text table a cell too many is mostly a comma that was meant as a decimal mark.
            Form::Text if beyond => Problem::error("this line has more cells than the header")
                .hint("put quotation marks around a cell that holds the delimiter"),
            _ => Problem::notice("a value that stands under no column title is not read"),
        };
        self.problems.push(problem.place(place));
    }

    fn tell_total(&mut self, row: u32, cells: &[Cell]) {
        let first = cells.iter().position(|cell| !cell.is_empty());
        let (column, text) = match first.and_then(|i| self.header.columns.get(i).zip(cells.get(i)))
        {
            Some((column, cell)) => (Some(column.index), cell.text()),
            None => (None, String::new()),
        };
        let place = self.table.place(row, column);
        let notice = Problem::notice("a row that adds up others is passed over");
        self.problems.push(notice.place(place).holds(text));
    }

    /// Gives a merged label to all its rows; merged amounts stay in the first, which is told.
    fn fill_down(&mut self, merge: Merge) {
        let (first, last) = (merge.from.0, merge.to.0);
        let columns = &self.header.columns;
        let Some(position) = columns.iter().position(|c| c.index == merge.from.1) else {
            return;
        };
        let Some(field) = columns.get(position).and_then(|c| c.field) else {
            return;
        };
        let rows = &mut self.table.rows;
        let start = rows.partition_point(|r| r.row < first);
        let end = rows.partition_point(|r| r.row <= last);
        let Some((top, below)) = rows.get_mut(start..end).and_then(<[_]>::split_first_mut) else {
            return;
        };
        let label = top
            .cells
            .get(position)
            .filter(|_| top.row == first)
            .cloned();
        let Some(label) = label.filter(|cell| !cell.is_empty() && !below.is_empty()) else {
            return;
        };
        let own_key = fields::of(self.sheet).first() == Some(&field) && is_unique_key(self.sheet);
        if LABELS.contains(&field) && !own_key && matches!(label, Cell::Text(_)) {
            let slots = below
                .iter_mut()
                .filter_map(|row| row.cells.get_mut(position));
            slots
                .filter(|slot| slot.is_empty())
                .for_each(|slot| *slot = label.clone());
            return;
        }
        let notice = Problem::notice(format!(
            "cells of {field} are merged, and only the first row has the value"
        ));
        let at = self.at(first);
        self.problems.push(notice.at(at, field));
    }

    /// Says that rows of a kind that a reader may take for absent are read all the same.
    fn tell_rows(&mut self, kind: &str, rows: &[u32]) {
        let is_read = |row: &&u32| {
            self.table
                .rows
                .binary_search_by_key(*row, |r| r.row)
                .is_ok()
        };
        let read: Vec<u32> = rows.iter().filter(is_read).copied().collect();
        let Some(first) = read.first() else { return };
        let place = self.table.place(*first, None);
        let sentence = match read.len() {
            1 => format!("a row is {kind} and is read all the same"),
            n => format!("{n} rows are {kind} and are read all the same; this is the first"),
        };
        let notice = Problem::notice(sentence).place(place);
        self.problems
            .push(notice.hint("delete rows that do not count"));
    }
}

/// Sheets on which each row names a thing of its own, so that a name over two rows is a slip.
fn is_unique_key(sheet: Sheet) -> bool {
    matches!(
        sheet,
        Sheet::Beds
            | Sheet::Sites
            | Sheet::Suppliers
            | Sheet::Frames
            | Sheet::Workers
            | Sheet::Funding
    )
}

fn bad_cell(bad: &RawCell, field: &str) -> Problem {
    match bad {
        RawCell::Error(text) if is_too_narrow(text) => {
            let sentence = "holds only the marks of a column that was too narrow";
            Problem::error(format!("{field} {sentence}"))
                .holds(&**text)
                .hint("widen the column in the spreadsheet and save again, or type the value")
        }
        RawCell::Error(text) => {
            Problem::error(format!("{field} holds an error instead of a value"))
                .holds(&**text)
                .hint("mend the formula, or type the value")
        }
        RawCell::TooLarge(text) => {
            Problem::error(format!("{field} holds a number beyond what any job needs"))
                .holds(&**text)
                .hint("write a number below 1,000,000,000")
        }
        RawCell::Unevaluated | RawCell::Good(_) => {
            Problem::error(format!("{field} holds a formula without its result"))
                .hint("open it in a spreadsheet program, let it calculate and save")
        }
    }
}

/// What the texts of recognised columns show.
fn votes(table: &SourceTable) -> Votes {
    let read: Vec<bool> = table.columns.iter().map(|c| c.field.is_some()).collect();
    let mut votes = Votes::default();
    for row in &table.rows {
        let cells = row.cells.iter().zip(&read).filter(|(_, read)| **read);
        for (cell, _) in cells {
            let Cell::Text(text) = cell else { continue };
            match comma_evidence(text) {
                Commas::Thousands => votes.points += 1,
                Commas::Decimal => votes.commas += 1,
                Commas::Ask => {}
            }
            match date_evidence(text) {
                DateOrder::DayFirst => votes.days_first += 1,
                DateOrder::MonthFirst => votes.months_first += 1,
                DateOrder::Ask => {}
            }
        }
    }
    votes
}
