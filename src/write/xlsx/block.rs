//! One block of the ledger on its sheet.

use std::cell::Cell;
use std::rc::Rc;

use rust_decimal::Decimal;
use rust_xlsxwriter::Format as Look;

use super::super::formats::{Digits, Formats, Style, changes, numbers_of};
use super::super::formula::{Printer, Standing};
use super::super::layout::{Layout, Placed, is_input};
use super::WriteError;
use super::page::{Page, Shown};
use super::reach::Reach;
use crate::price::evaluate::Values;
use crate::price::ledger::{Column, Format, Ledger, Rank, Role, Value};
use crate::price::term::ColRef;

/// Rows from which a block's formats are those of whole columns: a format a cell costs time.
const LONG: usize = 500;
/// Most characters of a line of long words; longer ones go on below.
const LONG_WORDS: usize = 40;
/// Note on the header of marked cells.
const MARKED_NOTE: &str =
    "The marked cells in this column are meant for change: the price follows.";
/// Note on the header of figures that no formula can redo.
const FIXED_NOTE: &str =
    "Redone by the next run only: no formula of this workbook computes these figures.";
/// Note on the header of what the user typed and the figures rest on.
const TYPED_NOTE: &str = "As you typed it. After a change here run the estimate again.";

/// The ledger with its numbers, its places and its looks.
pub(crate) struct Figures<'a> {
    pub(crate) ledger: &'a Ledger,
    pub(crate) values: &'a Values,
    pub(crate) layout: &'a Layout,
    pub(crate) formats: &'a Formats,
    pub(crate) reach: &'a Reach,
    /// How many live figures stand as plain numbers because their formula cannot be written.
    pub(crate) plain: Cell<u64>,
}

/// One column, ready to be written row by row.
struct Ready<'a> {
    at: ColRef,
    position: u16,
    column: &'a Column,
    computed: Option<&'a [Decimal]>,
    digits: Digits,
    /// `None` where the look of the whole column serves.
    look: Option<Rc<Look>>,
    marked: Rc<Look>,
}

impl<'a> Figures<'a> {
    /// Whether formulas follow all that rests on a cell, so that it may change without a new run.
    pub(crate) fn is_free(&self, col: ColRef, row: usize) -> bool {
        self.reach.holds(col, row) && !self.ledger.rested_on.contains(&(col, row))
    }

    /// Writes heading, headers and rows of a block.
    pub(crate) fn write(&self, page: &mut Page<'_>, block: u16) -> Result<(), WriteError> {
        let (Some(placed), Some(found)) = (
            self.layout.placed(block),
            self.ledger.blocks.get(usize::from(block)),
        ) else {
            return Ok(());
        };
        let columns = self.ready(block, placed);
        self.widen(page, &columns, placed)?;
        if let Some(row) = placed.heading {
            page.words(row, 0, &found.heading, Style::Heading)?;
        }
        self.heads(page, &columns, placed)?;
        let mut formula = String::new();
        for row in 0..placed.rows {
            for column in &columns {
                self.cell(page, column, (block, row), placed, &mut formula)?;
            }
        }
        if placed.cut {
            let left = found.rows - placed.rows;
            let row = placed.first + u32::try_from(placed.rows).unwrap_or(u32::MAX);
            let words = format!("The sheet is full: {left} more rows are in the CSV file only.");
            page.words(row, 0, &words, Style::Alert)?;
        }
        Ok(())
    }

    /// A printer of this ledger's terms.
    pub(crate) fn printer(&self) -> Printer<'a> {
        Printer::new(self.ledger, self.layout)
    }

    fn ready(&self, block: u16, placed: &Placed) -> Vec<Ready<'a>> {
        let columns = self.ledger.blocks.get(usize::from(block));
        let columns = columns.map(|b| b.columns.as_slice()).unwrap_or_default();
        let long = self.longest_on(placed.sheet) == Some(block);
        let numbered = columns.iter().zip(&placed.columns).enumerate();
        numbered
            .map(|(index, (column, position))| {
                let at = ColRef {
                    block,
                    column: u16::try_from(index).unwrap_or(u16::MAX),
                };
                let computed = self.values.column(at);
                let numbers = numbers_of(column, computed);
                let digits = self
                    .formats
                    .digits(column.format, changes(&column.role), numbers);
                let look = self.formats.get(style_of(column), digits);
                Ready {
                    at,
                    position: *position,
                    column,
                    computed,
                    digits,
                    look: (!long).then_some(look),
                    marked: self.formats.get(Style::Marked, digits),
                }
            })
            .collect()
    }

    /// The block whose looks are those of whole columns, on a sheet with many rows.
    fn longest_on(&self, sheet: usize) -> Option<u16> {
        let blocks = &self.layout.sheets.get(sheet)?.blocks;
        let rows = |block: &u16| self.layout.placed(*block).map_or(0, |p| p.rows);
        blocks
            .iter()
            .copied()
            .filter(|block| rows(block) >= LONG)
            .max_by_key(rows)
    }

    /// Sets widths, and looks of whole columns, before any row is written.
    fn widen(
        &self,
        page: &mut Page<'_>,
        columns: &[Ready<'_>],
        placed: &Placed,
    ) -> Result<(), WriteError> {
        for ready in columns {
            if ready.look.is_none() {
                let look = self.formats.get(style_of(ready.column), ready.digits);
                page.sheet.set_column_format(ready.position, &look)?;
            }
            let width = width_of(ready, placed.rows);
            page.widen(ready.position, width)?;
        }
        Ok(())
    }

    fn heads(
        &self,
        page: &mut Page<'_>,
        columns: &[Ready<'_>],
        placed: &Placed,
    ) -> Result<(), WriteError> {
        // One band from the left to the right, also over columns that only the blocks below have.
        for free in 0..placed.readable {
            if !placed.columns.contains(&free) {
                page.words(placed.header, free, "", Style::Head)?;
            }
        }
        for ready in columns {
            let style = head_of(ready.column);
            page.words(placed.header, ready.position, &ready.column.title, style)?;
            let more = match ready.column.role {
                Role::Given if self.is_marked(ready, placed.rows) => MARKED_NOTE,
                Role::Fixed if is_typed(self.ledger, ready.at) => TYPED_NOTE,
                Role::Fixed => FIXED_NOTE,
                _ => "",
            };
            let note = [ready.column.note.as_ref(), more];
            let note: Vec<&str> = note.into_iter().filter(|t| !t.is_empty()).collect();
            if !note.is_empty() {
                page.note(placed.header, ready.position, &note.join("\n\n"))?;
            }
        }
        Ok(())
    }

    fn is_marked(&self, ready: &Ready<'_>, rows: usize) -> bool {
        (0..rows).any(|row| self.is_free(ready.at, row))
    }

    fn cell(
        &self,
        page: &mut Page<'_>,
        ready: &Ready<'_>,
        (block, row): (u16, usize),
        placed: &Placed,
        formula: &mut String,
    ) -> Result<(), WriteError> {
        let on_sheet = placed.first + u32::try_from(row).unwrap_or(u32::MAX);
        let at = Standing { block, row };
        let position = ready.position;
        let look = ready.look.as_deref();
        let number = || {
            let numbers = ready.computed.unwrap_or_default();
            numbers.get(row).copied().unwrap_or_default()
        };
        let printed = match &ready.column.role {
            Role::Live(term) | Role::Running(term) => self.printer().term(term, at, formula),
            Role::LiveRows(terms) => match terms.get(row).and_then(Option::as_ref) {
                Some(term) => self.printer().term(term, at, formula),
                None => return Ok(()),
            },
            Role::Flag { when, yes, no } => {
                let word = if number().is_zero() { no } else { yes };
                if self.printer().flag(when, (yes, no), at, formula).is_err() {
                    self.plain.set(self.plain.get() + 1);
                    return page.text(on_sheet, position, word, look);
                }
                return page.live(on_sheet, position, formula, Shown::Word(word), look);
            }
            Role::Label | Role::Given | Role::Fixed => {
                return self.stored(page, ready, row, on_sheet);
            }
        };
        let own = self.row_look(ready, row, &number());
        let look = own.as_deref().or(look);
        if printed.is_err() {
            self.plain.set(self.plain.get() + 1);
            return page.number(on_sheet, position, number(), look);
        }
        page.live(on_sheet, position, formula, Shown::Number(number()), look)
    }

    /// A cell that is no formula.
    fn stored(
        &self,
        page: &mut Page<'_>,
        ready: &Ready<'_>,
        row: usize,
        on_sheet: u32,
    ) -> Result<(), WriteError> {
        let value = ready.column.values.get(row).unwrap_or(&Value::Empty);
        let marked = ready.column.role == Role::Given && self.is_free(ready.at, row);
        let own = self.row_look(ready, row, &value.as_number());
        let look = match (&own, marked) {
            (Some(own), _) => Some(own.as_ref()),
            (None, true) => Some(ready.marked.as_ref()),
            (None, false) => ready.look.as_deref(),
        };
        // Typed words stand off the figures at their left.
        let words = self.formats.words(Style::Words);
        let off = ready.column.format == Format::Text && !marked && own.is_none();
        let off = off && look.is_some() && matches!(value, Value::Text(_));
        let look = if off { Some(words.as_ref()) } else { look };
        match value {
            Value::Text(text) if off && ready.column.rank == Rank::Last => {
                page.words(on_sheet, ready.position, text, Style::Wrapped)
            }
            Value::Number(number) => page.number(on_sheet, ready.position, *number, look),
            Value::Text(text) => page.text(on_sheet, ready.position, text, look),
            Value::Empty => match look.filter(|_| marked) {
                Some(look) => page.text(on_sheet, ready.position, "", Some(look)),
                None => Ok(()),
            },
        }
    }

    /// The look of a cell whose row is shown in another format than its column.
    fn row_look(&self, ready: &Ready<'_>, row: usize, number: &Decimal) -> Option<Rc<Look>> {
        let format = ready.column.row_formats.get(row)?;
        let role = &ready.column.role;
        let digits = self
            .formats
            .digits(*format, changes(role), std::iter::once(number));
        let marked = *role == Role::Given && self.is_free(ready.at, row);
        let style = if marked {
            Style::Marked
        } else {
            style_of(ready.column)
        };
        Some(self.formats.get(style, digits))
    }
}

fn head_of(column: &Column) -> Style {
    let is_words = column.format == Format::Text || matches!(column.role, Role::Flag { .. });
    let is_quiet = column.rank == Rank::Behind || matches!(column.role, Role::Running(_));
    match (is_words, is_quiet) {
        (true, true) => Style::HeadQuietWords,
        (true, false) => Style::Head,
        (false, true) => Style::HeadQuiet,
        (false, false) => Style::HeadNumber,
    }
}

fn style_of(column: &Column) -> Style {
    match column.role {
        Role::Running(_) => Style::Quiet,
        _ if column.rank == Rank::Behind && column.format != Format::Text => Style::Quiet,
        Role::Flag { .. } => Style::Words,
        Role::Label if column.format == Format::Text => Style::Words,
        _ => Style::Plain,
    }
}

/// Characters that a column needs for its figures and for its header on two or three lines.
fn width_of(ready: &Ready<'_>, rows: usize) -> usize {
    let title = &ready.column.title;
    let longest_word = title.split_whitespace().map(|w| w.chars().count()).max();
    let title_width = longest_word
        .unwrap_or(0)
        .max(title.chars().count().div_ceil(2));
    let words = ready.column.values.iter().take(rows).map(|v| match v {
        Value::Text(text) => text.chars().count(),
        _ => 0,
    });
    let flags = match ready.column.role {
        Role::Flag { yes, no, .. } => yes.chars().count().max(no.chars().count()),
        _ => 0,
    };
    let most = match ready.column.rank {
        Rank::Last => LONG_WORDS,
        Rank::First | Rank::Behind => usize::MAX,
    };
    let words = words.max().unwrap_or(0).max(flags).min(most);
    words.max(number_width(ready)).max(title_width)
}

/// Characters of the greatest number, grouped by thousands, with its decimals and a sign.
fn number_width(ready: &Ready<'_>) -> usize {
    let numbers = numbers_of(ready.column, ready.computed);
    let (mut greatest, mut decimals, mut any) = (Decimal::ZERO, 0, false);
    for number in numbers {
        greatest = greatest.max(number.abs());
        decimals = decimals.max(number.scale().min(12));
        any = true;
    }
    if !any {
        return 0;
    }
    let whole = greatest.trunc().to_string().len();
    let decimals = match ready.digits {
        Digits::Any => usize::try_from(decimals).unwrap_or(0),
        other => other.decimals(),
    };
    whole + whole / 3 + decimals + 3
}

/// Whether a fixed column was typed by the user: it stands on an input sheet before the first figure
/// that the program put at the right of the typed columns.
fn is_typed(ledger: &Ledger, at: ColRef) -> bool {
    let Some(block) = ledger.blocks.get(usize::from(at.block)) else {
        return false;
    };
    let own = block
        .columns
        .iter()
        .position(|c| c.role == Role::Label && &*c.title == "Size in words");
    is_input(block.sheet) && own.is_none_or(|first| usize::from(at.column) < first)
}
