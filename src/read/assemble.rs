//! A raw sheet to a table with recognised columns, and what was found wrong on the way.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::fields;
use super::header::{self, Header};
use super::open::Way;
use super::passed_over::{Kind, Stands, Sums, Telling};
use super::raw::{Merge, RawCell, RawRow, RawSheet, is_too_narrow};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, RowAt, SourceRow, SourceTable};
use crate::problem::Problem;
use crate::units::parse::{Commas, DateOrder, comma_evidence, date_evidence};

/// Columns whose merged cells name a group of rows, so that the name is meant for all of them.
const LABELS: [&str; 8] = [
    "Supplier", "Site", "Phase", "Fill", "Mix", "Frame", "Vehicle", "Funder",
];

/// Columns without a title that are kept; more are a picture made of cells.
const MOST_UNTITLED: usize = 20;

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
    if header.used > 0 {
        header.check(&empty(&raw, sheet), sheet, problems);
    }
    add_untitled(&raw, &mut header);
    Some(rows(raw, header, sheet, index, problems))
}

/// A table of a raw sheet, without columns and rows yet.
fn empty(raw: &RawSheet, sheet: Sheet) -> SourceTable {
    SourceTable {
        sheet: Some(sheet),
        file: Arc::clone(&raw.file),
        label: Arc::clone(&raw.label),
        form: raw.form,
        columns: Vec::new(),
        rows: Vec::new(),
    }
}

/// Takes the rows below a header that has been found.
pub(super) fn rows(
    raw: RawSheet,
    header: Header,
    sheet: Sheet,
    index: u16,
    problems: &mut Vec<Problem>,
) -> Assembled {
    let mut table = empty(&raw, sheet);
    table.columns.clone_from(&header.columns);
    let mut filling = Filling {
        table: &mut table,
        header: &header,
        telling: Telling {
            sheet,
            columns: &header.columns,
            bold: &raw.bold,
            merged: &raw.merged_across,
            sums: Sums::default(),
        },
        index,
        sheet,
        spoilt: BTreeSet::new(),
        stray: BTreeSet::new(),
        problems,
    };
    let mut rows = raw.rows.into_iter().skip(header.used).peekable();
    while let Some(row) = rows.next() {
        filling.take(row, rows.peek());
    }
    for merge in raw.merges {
        filling.fill_down(merge);
    }
    filling.tell_rows("struck out", &raw.struck);
    filling.tell_rows("hidden", &raw.hidden);
    filling.tell_columns(&raw.hidden_columns);
    let spoilt = filling.spoilt;
    let votes = votes(&table);
    let way = Way {
        units: header.units,
        commas: Commas::Ask,
        dates: DateOrder::Ask,
        filled_in: raw.filled_in,
        formats_unknown: raw.formats_unknown,
        spoilt,
    };
    Assembled { table, way, votes }
}

/// The state while rows are taken over.
struct Filling<'a> {
    table: &'a mut SourceTable,
    header: &'a Header,
    telling: Telling<'a>,
    index: u16,
    sheet: Sheet,
    spoilt: BTreeSet<(u32, usize)>,
    /// Columns without a title of which it was told.
    stray: BTreeSet<u32>,
    problems: &'a mut Vec<Problem>,
}

impl Filling<'_> {
    fn take(&mut self, raw: RawRow, next: Option<&RawRow>) {
        if header::repeats(self.header, &raw) {
            return;
        }
        let here = Stands::of(&raw);
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
                (None, _) => self.tell_stray(here.row, column),
                (Some(_), RawCell::Good(cell)) => {
                    if let Some(slot) = cells.get_mut(position) {
                        *slot = cell;
                    }
                }
                (Some(known), bad) => spoilt.extend(known.field.map(|f| (position, f, bad))),
            }
        }
        let (above, next) = (&self.table.rows, next.map(Stands::of));
        let kind = if spoilt.is_empty() {
            self.telling.kind(here, &cells, above, next)
        } else {
            Kind::Entry
        };
        self.tell(here, &cells, kind);
        if !matches!(kind, Kind::Entry | Kind::CalledTotal) {
            return;
        }
        let row = here.row;
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

    /// Says what was made of a row that is no usual entry.
    fn tell(&mut self, here: Stands, cells: &[Cell], kind: Kind) {
        let problem = match kind {
            Kind::Total => Problem::notice("a row that adds up others is passed over"),
            Kind::Heading => Problem::notice("a heading inside the table is passed over"),
            Kind::Remark => Problem::notice("a remark outside the entries is passed over"),
            Kind::BareName => Problem::error("this row has a name and nothing else")
                .hint("give the bed its sizes, or end a heading with a colon"),
            Kind::CalledTotal => Problem::notice(
                "this row is read as an entry, since its numbers do not add up those above",
            )
            .hint("delete it if it is a sum"),
            Kind::Entry | Kind::Nothing => return,
        };
        let place = self.table.place(here.row, Some(here.column));
        let held = cells.iter().find(|cell| !cell.is_empty());
        let held = held.map(Cell::text).unwrap_or_default();
        self.problems.push(problem.place(place).holds(held));
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

    /// Says that columns are hidden and read all the same, and that some have no title.
    fn tell_columns(&mut self, hidden: &[(u32, u32)]) {
        let row = self.table.rows.first().map_or(0, |row| row.row);
        for column in &self.header.columns {
            let is_hidden = |(first, last): &(u32, u32)| (*first..=*last).contains(&column.index);
            if column.field.is_some() && hidden.iter().any(is_hidden) {
                let notice = Problem::notice("this column is hidden and is read all the same")
                    .place(self.table.place(row, Some(column.index)))
                    .holds(&*column.title);
                self.problems.push(notice);
            }
            if self.header.is_untitled(column.index) {
                let notice =
                    Problem::notice("this column has no title: it is carried along and not used")
                        .place(self.table.place(row, Some(column.index)));
                self.problems.push(notice);
            }
        }
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

/// Gives columns that have no title but hold something beside an entry one to be kept under. A text
/// table has no columns beyond its titles: there a cell too many is a slip.
fn add_untitled(raw: &RawSheet, header: &mut Header) {
    let last = header.columns.last().map_or(0, |column| column.index);
    let titled: BTreeMap<u32, bool> = header
        .columns
        .iter()
        .map(|c| (c.index, c.field.is_some()))
        .collect();
    let is_read = |(column, _): &(u32, RawCell)| titled.get(column) == Some(&true);
    let is_kept = |column: &u32| raw.form == Form::Workbook || *column < last;
    let mut untitled: BTreeSet<u32> = BTreeSet::new();
    for row in raw.rows.iter().skip(header.used) {
        let strays = row.cells.iter().map(|(column, _)| *column);
        let strays = strays.filter(|c| is_kept(c) && !titled.contains_key(c));
        if row.cells.len() > 1 && row.cells.iter().any(is_read) {
            untitled.extend(strays);
        }
    }
    for column in untitled.into_iter().take(MOST_UNTITLED) {
        header.add_untitled(column);
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
                Commas::Decimal | Commas::Mostly => votes.commas += 1,
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
