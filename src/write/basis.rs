//! What the estimate rested on: a copy of every input cell that no formula follows, and the formulas
//! that compare the two.
//!
//! Cells that formulas read flow to the price when they change, and need no copy. All others can
//! only be taken up by the next run, and the price must say so.

use std::fmt::Write as _;

use rust_decimal::Decimal;

use super::formats::{Digits, Style};
use super::formula::{push_fixed, push_sheet};
use super::layout::{BASIS, Layout, Purpose, SheetPlan};
use super::xlsx::WriteError;
use super::xlsx::block::Figures;
use super::xlsx::echo;
use super::xlsx::page::{Page, Shown};
use crate::model::source::{Cell, SourceTable, Sources};
use crate::price::ledger::{Role, Value};
use crate::price::term::{CellRef, ColRef};
use crate::units::round::half_away;

/// Up to so many cells are compared one by one; above, sums of columns are.
const MOST_CELLS: usize = 50_000;
/// Free rows below an input table that are watched too, so that an added row is noticed.
const ROOM: u32 = 50;

/// Where a watched column comes from.
#[derive(Clone, Copy, Debug)]
enum Origin {
    /// A column of a ledger block.
    Block(ColRef),
    /// A column of an input table: table and column, as indices.
    Table(usize, usize),
}

/// One watched column.
#[derive(Clone, Copy, Debug)]
struct Watched {
    position: u16,
    origin: Origin,
}

/// The watched columns of one input sheet.
#[derive(Clone, Debug)]
pub(super) struct Part {
    /// Name of the input sheet.
    pub(super) sheet: String,
    /// First row on the input sheet.
    first: u32,
    rows: usize,
    /// First row of the copy.
    copy: u32,
    columns: Vec<Watched>,
}

/// All that is watched.
#[derive(Clone, Debug, Default)]
pub(super) struct Basis {
    /// Input sheets.
    pub(super) parts: Vec<Part>,
    /// Whether only sums of number columns are compared, because there are too many cells.
    pub(super) by_sums: bool,
}

impl Basis {
    /// Finds the cells to watch.
    pub(super) fn plan(figures: &Figures<'_>, sources: &Sources) -> Self {
        let mut parts: Vec<Part> = Vec::new();
        for plan in &figures.layout.sheets {
            let part = match plan.purpose {
                Purpose::Input => block_part(figures, plan),
                Purpose::Echo => table_part(sources, plan),
                _ => None,
            };
            parts.extend(part.filter(|p| !p.columns.is_empty()));
        }
        let cells: usize = parts.iter().map(|p| p.rows * p.columns.len()).sum();
        let mut basis = Self {
            parts,
            by_sums: cells > MOST_CELLS,
        };
        basis.place(figures.layout);
        basis
    }

    /// Rows of all copies.
    pub(super) fn rows(&self) -> usize {
        if self.by_sums {
            self.parts.len()
        } else {
            self.parts.iter().map(|p| p.rows).sum()
        }
    }

    fn place(&mut self, layout: &Layout) {
        let mut row = layout.own(BASIS).map_or(3, |plan| plan.free);
        for part in &mut self.parts {
            part.copy = row.saturating_add(1);
            let rows = if self.by_sums {
                1
            } else {
                u32::try_from(part.rows).unwrap_or(0)
            };
            row = part.copy.saturating_add(rows).saturating_add(1);
        }
    }

    /// The formula that counts what was changed on one input sheet.
    pub(super) fn formula(&self, part: &Part, figures: &Figures<'_>, sources: &Sources) -> String {
        let mut out = String::new();
        if self.by_sums {
            for column in &part.columns {
                if let Some((sum, places)) = part.sum(*column, figures, sources) {
                    part.push_sum(&mut out, *column, (sum, places));
                }
            }
        } else {
            for run in runs(&part.columns) {
                part.push_compared(&mut out, run);
            }
        }
        if out.is_empty() {
            out.push('0');
        }
        out
    }

    /// Writes the copies.
    pub(super) fn write(
        &self,
        page: &mut Page<'_>,
        figures: &Figures<'_>,
        sources: &Sources,
    ) -> Result<(), WriteError> {
        for part in &self.parts {
            part.widen(page, figures, sources)?;
            let heading = part.copy.saturating_sub(1);
            page.words(heading, 0, &part.sheet, Style::Heading)?;
            if self.by_sums {
                for column in &part.columns {
                    if let Some((sum, _)) = part.sum(*column, figures, sources) {
                        let at = (part.copy, column.position);
                        page.figure(at, sum, Style::Quiet, Digits::Any)?;
                    }
                }
                continue;
            }
            for row in 0..part.rows {
                let to = part.copy + u32::try_from(row).unwrap_or(0);
                for column in &part.columns {
                    Part::copy_cell(page, (to, row), *column, figures, sources)?;
                }
            }
        }
        Ok(())
    }
}

impl Part {
    /// Makes columns wide enough for the first rows; nobody reads this sheet but to find a change.
    fn widen(
        &self,
        page: &mut Page<'_>,
        figures: &Figures<'_>,
        sources: &Sources,
    ) -> Result<(), WriteError> {
        for column in &self.columns {
            for row in 0..self.rows.min(100) {
                let length = match column.origin {
                    Origin::Block(col) => {
                        let values = figures.ledger.get(col).map(|c| c.values.as_slice());
                        match values.and_then(|v| v.get(row)) {
                            Some(Value::Text(text)) => text.chars().count(),
                            _ => 8,
                        }
                    }
                    Origin::Table(table, index) => cell_of(sources, table, index, row)
                        .map_or(0, |cell| cell.text().chars().count()),
                };
                page.widen(column.position, length.min(30))?;
            }
        }
        Ok(())
    }

    fn copy_cell(
        page: &mut Page<'_>,
        (to, row): (u32, usize),
        column: Watched,
        figures: &Figures<'_>,
        sources: &Sources,
    ) -> Result<(), WriteError> {
        let position = column.position;
        match column.origin {
            Origin::Block(col) => {
                let found = figures.ledger.get(col);
                let value = found.and_then(|c| c.values.get(row));
                let number = value.map(Value::as_number).unwrap_or_default();
                // A cell that formulas follow is free to change: its copy follows it too.
                let cell = CellRef {
                    col,
                    row: u32::try_from(row).unwrap_or(u32::MAX),
                };
                let is_text = matches!(value, Some(Value::Text(_)));
                if figures.is_free(col, row)
                    && !is_text
                    && let Some(reference) = figures.printer().cell(cell)
                {
                    return page.live(to, position, &reference, Shown::Number(number), None);
                }
                match value {
                    Some(Value::Text(text)) => page.text(to, position, text, None),
                    Some(Value::Number(_)) => page.number(to, position, number, None),
                    Some(Value::Empty) | None => Ok(()),
                }
            }
            Origin::Table(table, index) => match cell_of(sources, table, index, row) {
                Some(cell) => echo::cell(page, to, position, cell),
                None => Ok(()),
            },
        }
    }

    /// The sum of a column's numbers, rounded to as many decimals as binary sums of its size keep;
    /// `None` for a column of words.
    fn sum(
        &self,
        column: Watched,
        figures: &Figures<'_>,
        sources: &Sources,
    ) -> Option<(Decimal, u32)> {
        let (mut sum, mut size, mut any) = (Decimal::ZERO, Decimal::ZERO, false);
        for row in 0..self.rows {
            let number = match column.origin {
                Origin::Block(col) => match figures.ledger.get(col)?.values.get(row) {
                    Some(Value::Number(number)) => Some(*number),
                    _ => None,
                },
                Origin::Table(table, index) => match cell_of(sources, table, index, row) {
                    Some(Cell::Number { value, .. }) => Some(*value),
                    _ => None,
                },
            };
            if let Some(number) = number {
                any = true;
                sum = sum.checked_add(number)?;
                size = size.checked_add(number.abs())?;
            }
        }
        let digits = size.trunc().to_string().len();
        let places = u32::try_from(11_usize.saturating_sub(digits))
            .unwrap_or(0)
            .min(9);
        any.then(|| (half_away(sum, places), places))
    }

    fn last(&self, first: u32) -> u32 {
        first.saturating_add(u32::try_from(self.rows).unwrap_or(0).saturating_sub(1))
    }

    fn push_sum(&self, out: &mut String, column: Watched, (_, places): (Decimal, u32)) {
        push_plus(out);
        let half = Decimal::new(5, places + 1);
        out.push_str("IF(ABS(SUM(");
        let bounds = (self.first, self.last(self.first));
        push_range(out, &self.sheet, bounds, (column.position, column.position));
        out.push_str(")-");
        push_sheet(BASIS, out);
        push_fixed(self.copy, column.position, out);
        let _ = write!(out, ")>{half},1,0)");
    }

    /// Cells that differ from their copies, and cells below the table that hold anything.
    fn push_compared(&self, out: &mut String, (from, to): (u16, u16)) {
        let last = self.last(self.first);
        if self.rows > 0 {
            push_plus(out);
            out.push_str("SUMPRODUCT(--(");
            push_range(out, &self.sheet, (self.first, last), (from, to));
            out.push_str("<>");
            push_range(out, BASIS, (self.copy, self.last(self.copy)), (from, to));
            out.push_str("))");
        }
        push_plus(out);
        out.push_str("SUMPRODUCT(--(");
        let below = self.first + u32::try_from(self.rows).unwrap_or(0);
        push_range(out, &self.sheet, (below, below + ROOM), (from, to));
        out.push_str("<>\"\"))");
    }
}

fn push_plus(out: &mut String) {
    if !out.is_empty() {
        out.push('+');
    }
}

fn push_range(out: &mut String, sheet: &str, rows: (u32, u32), columns: (u16, u16)) {
    push_sheet(sheet, out);
    push_fixed(rows.0, columns.0, out);
    out.push(':');
    push_fixed(rows.1, columns.1, out);
}

/// Runs of neighbouring columns, as first and last position.
fn runs(columns: &[Watched]) -> Vec<(u16, u16)> {
    let mut positions: Vec<u16> = columns.iter().map(|c| c.position).collect();
    positions.sort_unstable();
    let mut runs: Vec<(u16, u16)> = Vec::new();
    for position in positions {
        match runs.last_mut() {
            Some((_, last)) if last.checked_add(1) == Some(position) => *last = position,
            _ => runs.push((position, position)),
        }
    }
    runs
}

/// The block of an input sheet: all columns of words and figures but those that formulas follow in
/// every row.
fn block_part(figures: &Figures<'_>, plan: &SheetPlan) -> Option<Part> {
    let block = *plan.blocks.first()?;
    let placed = figures.layout.placed(block)?;
    let found = figures.ledger.blocks.get(usize::from(block))?;
    let numbered = found.columns.iter().zip(&placed.columns).enumerate();
    let watched = numbered.filter_map(|(index, (column, position))| {
        let col = ColRef {
            block,
            column: u16::try_from(index).ok()?,
        };
        let free = (0..placed.rows).all(|row| figures.is_free(col, row));
        let is_watched = match column.role {
            Role::Label | Role::Fixed => true,
            Role::Given => !free,
            _ => false,
        };
        is_watched.then_some(Watched {
            position: *position,
            origin: Origin::Block(col),
        })
    });
    Some(Part {
        sheet: plan.name.clone(),
        first: placed.first,
        rows: placed.rows,
        copy: 0,
        columns: watched.collect(),
    })
}

fn table_part(sources: &Sources, plan: &SheetPlan) -> Option<Part> {
    let index = *plan.tables.first()?;
    let table: &SourceTable = sources.tables.get(index)?;
    let columns = (0..table.columns.len()).map(|column| Watched {
        position: u16::try_from(column).unwrap_or(u16::MAX),
        origin: Origin::Table(index, column),
    });
    Some(Part {
        sheet: plan.name.clone(),
        first: 1,
        rows: table.rows.len(),
        copy: 0,
        columns: columns.collect(),
    })
}

fn cell_of(sources: &Sources, table: usize, column: usize, row: usize) -> Option<&Cell> {
    sources.tables.get(table)?.rows.get(row)?.cells.get(column)
}
