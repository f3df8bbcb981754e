//! Rows of a table that are no entries: sums at its end, headings inside it, notes below it.

use rust_decimal::Decimal;

use super::fields;
use super::names::key;
use super::raw::RawRow;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceColumn, SourceRow};

/// Words with which a row of sums begins, as they are compared.
const SUM_WORDS: &[&str] = &[
    "total",
    "totals",
    "sum",
    "sums",
    "subtotal",
    "subtotals",
    "grandtotal",
    "totales",
    "subtotales",
    "suma",
    "sumas",
    "grantotal",
    "totalgeneral",
    "importetotal",
];
/// Marks with which a note below a table begins.
const NOTE_MARKS: &[char] = &['*', '†', '‡', '§', '¹', '²', '³', '•'];
/// And words, as they are compared up to a colon.
const NOTE_WORDS: &[&str] = &["note", "notes", "nb", "nota", "notas", "source", "fuente"];
/// Words of a sentence that is no name.
const LONG_NAME: usize = 8;

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// An entry.
    Entry,
    /// An entry that is called as a row of sums is, whose numbers are no sums.
    CalledTotal,
    /// The sum of those above.
    Total,
    /// A heading over those below.
    Heading,
    /// A note.
    Remark,
    /// A name and nothing else, where one is not enough.
    BareName,
    /// Nothing that is read, and nothing that is said.
    Nothing,
}

/// The sums of the columns so far: of all rows, and of those since the last row of sums. Made only
/// when a row asks for them, so that tables without such a row pay nothing.
#[derive(Debug, Default)]
pub(super) struct Sums {
    taken: usize,
    all: Vec<Decimal>,
    since: Vec<Decimal>,
}

impl Sums {
    fn bring_up(&mut self, rows: &[SourceRow], columns: usize) {
        self.all.resize(columns, Decimal::ZERO);
        self.since.resize(columns, Decimal::ZERO);
        for row in rows.get(self.taken..).unwrap_or_default() {
            let sums = self.all.iter_mut().zip(&mut self.since);
            for (cell, (all, since)) in row.cells.iter().zip(sums) {
                if let Some(number) = number(cell) {
                    *all = all.saturating_add(number);
                    *since = since.saturating_add(number);
                }
            }
        }
        self.taken = rows.len();
    }

    fn are(&self, column: usize, number: Decimal) -> bool {
        let same = |sums: &Vec<Decimal>| sums.get(column) == Some(&number);
        !number.is_zero() && (same(&self.all) || same(&self.since))
    }

    /// How many numbers of a row there are, and how many of them are sums.
    fn found(&self, cells: &[Cell]) -> (usize, usize) {
        let numbers = cells.iter().enumerate();
        let numbers = numbers.filter_map(|(i, cell)| Some((i, number(cell)?)));
        numbers.fold((0, 0), |(all, sums), (i, number)| {
            (all + 1, sums + usize::from(self.are(i, number)))
        })
    }

    fn begin_anew(&mut self) {
        self.since.fill(Decimal::ZERO);
    }
}

/// The number in a cell, also where a sign or a unit stands beside it.
fn number(cell: &Cell) -> Option<Decimal> {
    match cell {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => {
            let is_mark = |c: char| !c.is_ascii_digit() && !matches!(c, '-' | '.' | ',');
            let bare = text.trim_matches(is_mark);
            bare.replace(',', "").parse().ok()
        }
        _ => None,
    }
}

/// A row as it stands in its file.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stands {
    /// Row from 0.
    pub(super) row: u32,
    /// The column of its first cell, from 0.
    pub(super) column: u32,
    /// How many cells of it hold something.
    pub(super) cells: usize,
}

impl Stands {
    /// Where a row stands.
    pub(super) fn of(raw: &RawRow) -> Self {
        Self {
            row: raw.row,
            column: raw.cells.first().map_or(0, |(column, _)| *column),
            cells: raw.cells.len(),
        }
    }
}

/// What is known about a table while its rows are taken.
pub(super) struct Telling<'a> {
    /// Its sheet.
    pub(super) sheet: Sheet,
    /// Its columns.
    pub(super) columns: &'a [SourceColumn],
    /// Rows with bold letters, in file order.
    pub(super) bold: &'a [u32],
    /// Rows in which a cell is merged with those at its right, in file order.
    pub(super) merged: &'a [u32],
    /// The sums so far.
    pub(super) sums: Sums,
}

impl Telling<'_> {
    /// What the row that stands `here` with these `cells` is, `above` being the entries before it and
    /// `next` the row below it.
    pub(super) fn kind(
        &mut self,
        here: Stands,
        cells: &[Cell],
        above: &[SourceRow],
        next: Option<Stands>,
    ) -> Kind {
        if self.sheet == Sheet::Job {
            return Kind::Entry;
        }
        let mut known = self.columns.iter().zip(cells);
        if !known.any(|(column, cell)| column.field.is_some() && !cell.is_empty()) {
            // Formulas are drawn further down than the entries: numbers alone are not worth a word.
            let says = cells.iter().any(|cell| matches!(cell, Cell::Text(_)));
            return if says { Kind::Remark } else { Kind::Nothing };
        }
        if let Some(total) = self.total(cells, above) {
            return total;
        }
        match cells.iter().find(|cell| !cell.is_empty()) {
            Some(Cell::Text(text)) if here.cells == 1 && self.columns.len() > 2 => {
                self.lone_kind(here, text, next)
            }
            _ => Kind::Entry,
        }
    }

    /// A row of sums by its word or by its numbers; `None` when it is neither.
    fn total(&mut self, cells: &[Cell], above: &[SourceRow]) -> Option<Kind> {
        // A word of sums says so as the name of its row: a unit may be "sum" too.
        let is_filled = |cell: &&Cell| !cell.is_empty();
        let first = self.name(cells).or_else(|| cells.iter().find(is_filled))?;
        let others = cells.iter().filter(|cell| !std::ptr::eq(*cell, first));
        let mut words = others.filter(|cell| matches!(cell, Cell::Text(text) if is_word(text)));
        let other_words = words.next().is_some();
        let first = match first {
            Cell::Text(text) if is_word(text) => key(text),
            _ => String::new(),
        };
        let said = SUM_WORDS.contains(&&*first);
        let begins = SUM_WORDS.iter().any(|word| first.starts_with(word));
        let nameless = first.is_empty() && !other_words && self.name(cells).is_none();
        if above.is_empty() || !(begins || nameless) {
            return None;
        }
        self.sums.bring_up(above, self.columns.len());
        let (numbers, sums) = self.sums.found(cells);
        // What one row adds up to is that row again, as a second bed alike would be.
        let sums = if above.len() > 1 { sums } else { 0 };
        let mostly = sums > 0 && sums * 2 >= numbers;
        let is_total = said && !other_words && (mostly || numbers < 2)
            || begins && mostly
            || nameless && sums > 0 && sums == numbers;
        if is_total {
            self.sums.begin_anew();
            return Some(Kind::Total);
        }
        said.then_some(Kind::CalledTotal)
    }

    /// What stands in the column that names the rows of the sheet.
    fn name<'c>(&self, cells: &'c [Cell]) -> Option<&'c Cell> {
        let name = fields::of(self.sheet).first();
        let mut columns = self.columns.iter().zip(cells);
        let named = columns.find(|(c, cell)| c.field.as_ref() == name && !cell.is_empty());
        named.map(|(_, cell)| cell)
    }

    /// What a row with one text only is. A name alone may be a bed that nobody has measured, so it is
    /// a heading only where it looks like one.
    fn lone_kind(&self, here: Stands, text: &str, next: Option<Stands>) -> Kind {
        let mut columns = self.columns.iter();
        let field = columns
            .find(|c| c.index == here.column)
            .and_then(|c| c.field);
        let is_in = |rows: &[u32], row| rows.binary_search(&row).is_ok();
        let next_is_plain = next.is_some_and(|n| n.cells > 1 && !is_in(self.bold, n.row));
        if field == Some("Note") || is_remark(text) {
            Kind::Remark
        } else if text.ends_with(':')
            || is_in(self.merged, here.row)
            || is_in(self.bold, here.row) && next_is_plain
        {
            Kind::Heading
        } else if field == Some("Bed") && self.sheet == Sheet::Beds {
            Kind::BareName
        } else {
            Kind::Entry
        }
    }
}

/// Whether a text is more than a number with its sign or unit.
fn is_word(text: &str) -> bool {
    text.starts_with(char::is_alphabetic)
}

fn is_remark(text: &str) -> bool {
    let first = text.split(':').next().unwrap_or_default();
    let words = text.split_whitespace().count();
    text.starts_with(NOTE_MARKS)
        || first.len() < text.len() && NOTE_WORDS.contains(&&*key(first))
        || words > LONG_NAME
        || words > LONG_NAME / 2 && text.ends_with('.')
}
