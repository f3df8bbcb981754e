//! Terms to formula text. Only functions that every common spreadsheet program has.

mod calls;
mod text;

use std::fmt::Write as _;

pub(super) use self::text::{push_fixed, push_sheet};
use self::text::{push_letters, push_number, push_quoted};
use super::layout::Layout;
use crate::price::ledger::{Block, Ledger};
use crate::price::term::{CellRef, ColRef, Cond, LinkRef, Term};

/// Every function that may stand in a formula of the workbook.
pub const FUNCTIONS: [&str; 9] = [
    "ABS",
    "AND",
    "IF",
    "MAX",
    "MIN",
    "ROUND",
    "ROUNDUP",
    "SUM",
    "SUMPRODUCT",
];

/// The one function with a criterion; it stands apart because its first argument must be a range.
pub const SUM_IF: &str = "SUMIF";

/// Most characters of a formula that spreadsheet programs take.
const LONGEST: usize = 8_192;

/// Why a term stands in the workbook as a plain number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unprintable {
    /// Its text would be longer than spreadsheet programs take.
    TooLong,
    /// It reads rows that are beyond the last row of a sheet.
    BeyondSheet,
    /// It names a column, row or link that the ledger does not have, or a range with gaps.
    Unknown,
}

/// Where a formula stands.
#[derive(Clone, Copy, Debug)]
pub struct Standing {
    /// Its block.
    pub block: u16,
    /// Its row in the block, from 0.
    pub row: usize,
}

/// Prints terms of one ledger at their places in one workbook.
#[derive(Clone, Copy, Debug)]
pub struct Printer<'a> {
    ledger: &'a Ledger,
    layout: &'a Layout,
}

/// How tightly a printed term binds: a looser one needs parentheses inside a tighter one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Binding {
    Negative,
    Sum,
    Product,
    Whole,
}

impl<'a> Printer<'a> {
    /// A printer for the blocks of `ledger` as `layout` places them.
    pub fn new(ledger: &'a Ledger, layout: &'a Layout) -> Self {
        Self { ledger, layout }
    }

    /// Replaces `out` by the formula of a term, without the leading `=`.
    ///
    /// # Errors
    /// [`Unprintable`] says why the cell must hold its number instead.
    pub fn term(&self, term: &Term, at: Standing, out: &mut String) -> Result<(), Unprintable> {
        out.clear();
        self.put(term, at, Binding::Negative, out)?;
        fits(out)
    }

    /// Replaces `out` by a formula with one of two fixed texts.
    ///
    /// # Errors
    /// As [`Printer::term`].
    pub fn flag(
        &self,
        when: &Cond,
        (yes, no): (&str, &str),
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        out.clear();
        out.push_str("IF(");
        self.put_cond(when, at, out)?;
        out.push(',');
        push_quoted(yes, out);
        out.push(',');
        push_quoted(no, out);
        out.push(')');
        fits(out)
    }

    /// An absolute reference with its sheet, for formulas on other sheets.
    pub fn cell(&self, cell: CellRef) -> Option<String> {
        let row = usize::try_from(cell.row).ok()?;
        let mut out = String::new();
        self.put_cell(cell.col, row, None, &mut out).ok()?;
        Some(out)
    }

    /// An absolute range over a whole column with its sheet.
    pub fn column(&self, col: ColRef) -> Option<String> {
        let mut out = String::new();
        self.put_range(col, None, &mut out).ok()?;
        Some(out)
    }

    fn put(
        &self,
        term: &Term,
        at: Standing,
        outside: Binding,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        let parens = binding(term) < outside;
        if parens {
            out.push('(');
        }
        match term {
            Term::Number(n) => push_number(*n, out),
            Term::Here(col) => self.put_here(*col, at.row, at, out)?,
            Term::Before(col) => match self.before(at)? {
                Some(row) => self.put_here(*col, row, at, out)?,
                None => out.push('0'),
            },
            Term::Via(link, col) => match self.linked(at, *link)? {
                Some(row) => self.put_cell(*col, row, Some(at), out)?,
                None => out.push('0'),
            },
            Term::Cell(cell) => {
                let row = usize::try_from(cell.row).map_err(|_| Unprintable::Unknown)?;
                self.put_cell(cell.col, row, Some(at), out)?;
            }
            Term::Add(a, b) => self.put_two(a, "+", b, (Binding::Sum, Binding::Sum), at, out)?,
            Term::Sub(a, b) => {
                self.put_two(a, "-", b, (Binding::Sum, Binding::Product), at, out)?;
            }
            Term::Mul(a, b) => {
                self.put_two(a, "*", b, (Binding::Product, Binding::Product), at, out)?;
            }
            Term::Div(a, b) => {
                self.put_two(a, "/", b, (Binding::Product, Binding::Whole), at, out)?;
            }
            call => self.put_call(call, at, out)?,
        }
        if parens {
            out.push(')');
        }
        Ok(())
    }

    fn put_two(
        &self,
        a: &Term,
        sign: &str,
        b: &Term,
        (left, right): (Binding, Binding),
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        self.put(a, at, left, out)?;
        out.push_str(sign);
        self.put(b, at, right, out)
    }

    fn put_row_range(
        &self,
        from: ColRef,
        to: ColRef,
        row: usize,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        let placed = self.layout.placed(from.block).ok_or(Unprintable::Unknown)?;
        let run = placed
            .columns
            .get(usize::from(from.column)..=usize::from(to.column))
            .ok_or(Unprintable::Unknown)?;
        let gaps = run.windows(2).any(|pair| match pair {
            [a, b] => a.checked_add(1) != Some(*b),
            _ => false,
        });
        if gaps {
            return Err(Unprintable::Unknown);
        }
        self.put_cell(from, row, Some(at), out)?;
        if from != to {
            out.push(':');
            self.put_fixed(to, row, out)?;
        }
        Ok(())
    }

    /// A cell of the same block: relative, so that the formula can be copied down.
    fn put_here(
        &self,
        col: ColRef,
        row: usize,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        if col.block != at.block {
            return self.put_cell(col, row, Some(at), out);
        }
        let (row, column) = self.find(col, row)?;
        push_letters(column, out);
        let _ = write!(out, "{}", u64::from(row) + 1);
        Ok(())
    }

    fn put_cell(
        &self,
        col: ColRef,
        row: usize,
        from: Option<Standing>,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        self.find(col, row)?;
        self.put_sheet(col.block, from, out)?;
        self.put_fixed(col, row, out)
    }

    fn put_fixed(&self, col: ColRef, row: usize, out: &mut String) -> Result<(), Unprintable> {
        let (row, column) = self.find(col, row)?;
        push_fixed(row, column, out);
        Ok(())
    }

    fn put_range(
        &self,
        col: ColRef,
        from: Option<Standing>,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        let placed = self.layout.placed(col.block).ok_or(Unprintable::Unknown)?;
        if placed.cut {
            return Err(Unprintable::BeyondSheet);
        }
        let Some(last) = placed.rows.checked_sub(1) else {
            out.push('0');
            return Ok(());
        };
        // A range even of one row: not every program takes a single cell where SUMIF wants a range.
        self.put_cell(col, 0, from, out)?;
        out.push(':');
        self.put_fixed(col, last, out)
    }

    fn put_sheet(
        &self,
        block: u16,
        from: Option<Standing>,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        let sheet = self.sheet_of(block).ok_or(Unprintable::Unknown)?;
        if from.and_then(|at| self.sheet_of(at.block)) != Some(sheet) {
            let plan = self.layout.sheets.get(sheet).ok_or(Unprintable::Unknown)?;
            push_sheet(&plan.name, out);
        }
        Ok(())
    }

    fn sheet_of(&self, block: u16) -> Option<usize> {
        self.layout.placed(block).map(|placed| placed.sheet)
    }

    fn find(&self, col: ColRef, row: usize) -> Result<(u32, u16), Unprintable> {
        let block = self.block(col.block)?;
        if row >= block.rows {
            return Err(Unprintable::Unknown);
        }
        self.layout.find(col, row).ok_or(Unprintable::BeyondSheet)
    }

    fn block(&self, block: u16) -> Result<&'a Block, Unprintable> {
        let found = self.ledger.blocks.get(usize::from(block));
        found.ok_or(Unprintable::Unknown)
    }

    fn before(&self, at: Standing) -> Result<Option<usize>, Unprintable> {
        let block = self.block(at.block)?;
        if block.before.is_empty() {
            return Ok(at.row.checked_sub(1));
        }
        let before = block.before.get(at.row).ok_or(Unprintable::Unknown)?;
        Ok(before.and_then(|row| usize::try_from(row).ok()))
    }

    fn linked(&self, at: Standing, link: LinkRef) -> Result<Option<usize>, Unprintable> {
        let links = &self.block(at.block)?.links;
        let found = links.get(usize::from(link.link));
        let row = found.and_then(|l| l.rows.get(at.row));
        let row = row.ok_or(Unprintable::Unknown)?;
        Ok(row.and_then(|row| usize::try_from(row).ok()))
    }
}

fn fits(formula: &str) -> Result<(), Unprintable> {
    // The limit counts the equals sign, which is not part of the stored text.
    if formula.len() < LONGEST {
        Ok(())
    } else {
        Err(Unprintable::TooLong)
    }
}

fn binding(term: &Term) -> Binding {
    match term {
        Term::Number(n) if n.is_sign_negative() && !n.is_zero() => Binding::Negative,
        Term::Add(..) | Term::Sub(..) => Binding::Sum,
        Term::Mul(..) | Term::Div(..) => Binding::Product,
        _ => Binding::Whole,
    }
}

#[cfg(test)]
mod tests;
