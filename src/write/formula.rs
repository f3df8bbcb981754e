//! Terms to formula text. Only functions that every common spreadsheet program has.

use std::fmt::Write as _;

use rust_decimal::Decimal;

use super::layout::Layout;
use crate::model::source::column_letters;
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
                self.put_two(a, "-", b, (Binding::Sum, Binding::Product), at, out)?
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

    fn put_call(&self, term: &Term, at: Standing, out: &mut String) -> Result<(), Unprintable> {
        match term {
            Term::Money(x) => self.put_round(x, self.ledger.currency.minor, at, out),
            Term::Round(x, places) => self.put_round(x, *places, at, out),
            Term::WholeUp(x) => {
                out.push_str("ROUNDUP(");
                self.put_round(x, 9, at, out)?;
                out.push_str(",0)");
                Ok(())
            }
            Term::StepUp(x, step) => self.put_step(x, step, at, out),
            Term::Max(a, b) => self.put_pair("MAX(", a, b, at, out),
            Term::Min(a, b) => self.put_pair("MIN(", a, b, at, out),
            Term::If(when, a, b) => {
                out.push_str("IF(");
                self.put_cond(when, at, out)?;
                out.push(',');
                self.put_pair("", a, b, at, out)
            }
            Term::Sum(col) => {
                out.push_str("SUM(");
                self.put_range(*col, Some(at), out)?;
                out.push(')');
                Ok(())
            }
            Term::SumIf { key, is, col } => {
                out.push_str("SUMIF(");
                self.put_range(*key, Some(at), out)?;
                out.push(',');
                self.put(is, at, Binding::Negative, out)?;
                out.push(',');
                self.put_range(*col, Some(at), out)?;
                out.push(')');
                Ok(())
            }
            Term::Dot { from, to, head } => self.put_dot(*from, *to, *head, at, out),
            _ => Err(Unprintable::Unknown),
        }
    }

    fn put_round(
        &self,
        x: &Term,
        places: u32,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        out.push_str("ROUND(");
        self.put(x, at, Binding::Negative, out)?;
        // Writing to a string cannot fail.
        let _ = write!(out, ",{places})");
        Ok(())
    }

    fn put_pair(
        &self,
        open: &str,
        a: &Term,
        b: &Term,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        out.push_str(open);
        self.put(a, at, Binding::Negative, out)?;
        out.push(',');
        self.put(b, at, Binding::Negative, out)?;
        out.push(')');
        Ok(())
    }

    /// `IF(s>0,ROUNDUP(ROUND(x/s,9),0)*s,x)`: a step of zero leaves the number as it is.
    fn put_step(
        &self,
        x: &Term,
        step: &Term,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        out.push_str("IF(");
        self.put(step, at, Binding::Negative, out)?;
        out.push_str(">0,ROUNDUP(ROUND(");
        self.put(x, at, Binding::Product, out)?;
        out.push('/');
        self.put(step, at, Binding::Whole, out)?;
        out.push_str(",9),0)*");
        self.put(step, at, Binding::Product, out)?;
        out.push(',');
        self.put(x, at, Binding::Negative, out)?;
        out.push(')');
        Ok(())
    }

    /// The row's cells times the head's cells. Both ranges must be whole runs of neighbours.
    fn put_dot(
        &self,
        from: ColRef,
        to: ColRef,
        head: ColRef,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
        let width = to
            .column
            .checked_sub(from.column)
            .ok_or(Unprintable::Unknown)?;
        let head_to = ColRef {
            column: head.column.checked_add(width).ok_or(Unprintable::Unknown)?,
            ..head
        };
        out.push_str("SUMPRODUCT(");
        self.put_row_range(head, head_to, 0, at, out)?;
        out.push(',');
        self.put_row_range(from, to, at.row, at, out)?;
        out.push(')');
        Ok(())
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

    fn put_cond(&self, when: &Cond, at: Standing, out: &mut String) -> Result<(), Unprintable> {
        let (a, sign, b) = match when {
            Cond::Greater(a, b) => (a, '>', b),
            Cond::Equal(a, b) => (a, '=', b),
            Cond::And(a, b) => {
                out.push_str("AND(");
                self.put_cond(a, at, out)?;
                out.push(',');
                self.put_cond(b, at, out)?;
                out.push(')');
                return Ok(());
            }
        };
        self.put(a, at, Binding::Negative, out)?;
        out.push(sign);
        self.put(b, at, Binding::Negative, out)
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
        self.put_cell(col, 0, from, out)?;
        if last > 0 {
            out.push(':');
            self.put_fixed(col, last, out)?;
        }
        Ok(())
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

/// A number in full, without an exponent and without needless zeros.
fn push_number(number: Decimal, out: &mut String) {
    let _ = write!(out, "{}", number.normalize());
}

/// `$F$12`, from a row and a column counted from 0.
pub(super) fn push_fixed(row: u32, column: u16, out: &mut String) {
    out.push('$');
    push_letters(column, out);
    let _ = write!(out, "${}", u64::from(row) + 1);
}

/// A column's letters, without an allocation for the first 26: this runs for every reference.
fn push_letters(column: u16, out: &mut String) {
    match u8::try_from(column) {
        Ok(n) if n < 26 => out.push(char::from(b'A' + n)),
        _ => out.push_str(&column_letters(u32::from(column))),
    }
}

/// `'Cut list'!`, in quotes unless the name is a plain word.
pub(super) fn push_sheet(name: &str, out: &mut String) {
    // Three letters and fewer could be read as a column.
    let plain = name.len() > 3 && name.chars().all(|c| c.is_ascii_alphabetic());
    if plain {
        out.push_str(name);
    } else {
        out.push('\'');
        out.push_str(&name.replace('\'', "''"));
        out.push('\'');
    }
    out.push('!');
}

/// Text in double quotes, for the fixed words of flags.
pub(super) fn push_quoted(text: &str, out: &mut String) {
    out.push('"');
    out.push_str(&text.replace('"', "\"\""));
    out.push('"');
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::source::Sources;
    use crate::price::ledger::{Format, Role, Value};
    use crate::units::Currency;

    fn col(block: u16, column: u16) -> ColRef {
        ColRef { block, column }
    }

    fn here(column: u16) -> Term {
        Term::Here(col(0, column))
    }

    fn whole(n: i64) -> Term {
        Term::whole(n)
    }

    /// Three rows of three figures on `Orders`, one on `Cut list`, a link with a gap between them.
    fn ledger() -> Ledger {
        let mut ledger = Ledger::new(Currency::USD);
        let orders = ledger.block("Orders", "", 3);
        for title in ["A", "B", "C"] {
            let values = vec![Value::number(Decimal::ONE); 3];
            ledger.numbers(orders, title, Format::Number(2), Role::Fixed, values);
        }
        let cuts = ledger.block("Cut list", "Sticks", 3);
        let values = vec![Value::number(Decimal::ONE); 3];
        ledger.numbers(cuts, "Sticks", Format::Number(0), Role::Fixed, values);
        ledger.link(orders, cuts, vec![None, Some(2), Some(0)]);
        ledger
    }

    #[track_caller]
    fn check(term: &Term, row: usize, expected: &str) {
        let ledger = ledger();
        let layout = Layout::plan(&ledger, &Sources::default(), &[]);
        let mut out = String::new();
        let printer = Printer::new(&ledger, &layout);
        printer
            .term(term, Standing { block: 0, row }, &mut out)
            .unwrap();
        assert_eq!(out, expected);
    }

    #[test]
    fn parentheses_stand_where_the_order_of_work_needs_them() {
        // Orders starts in row 5: title, line below it, free row, headers.
        check(&(here(0) + here(1) * here(2)), 0, "A5+B5*C5");
        check(&((here(0) + here(1)) * here(2)), 0, "(A5+B5)*C5");
        check(&(here(0) - (here(1) - here(2))), 0, "A5-(B5-C5)");
        check(&(here(0) - here(1) - here(2)), 0, "A5-B5-C5");
        let below = Term::Div(Box::new(here(0)), Box::new(here(1) * here(2)));
        check(&below, 1, "A6/(B6*C6)");
        check(&(here(0) - whole(-5)), 0, "A5-(-5)");
        check(&(whole(-5)).money(), 0, "ROUND(-5,2)");
        let third = Term::Number(Decimal::new(333_333_333_333_333, 21));
        check(&(here(0) * third), 2, "A7*0.000000333333333333333");
    }

    #[test]
    fn rounding_is_written_as_every_spreadsheet_knows_it() {
        check(&here(0).money(), 0, "ROUND(A5,2)");
        let packs = Term::WholeUp(Box::new(here(0) * here(1)));
        check(&packs, 0, "ROUNDUP(ROUND(A5*B5,9),0)");
        let steps = Term::StepUp(Box::new(here(0) + here(1)), Box::new(here(2)));
        let text = "IF(C5>0,ROUNDUP(ROUND((A5+B5)/C5,9),0)*C5,A5+B5)";
        check(&steps, 0, text);
        check(&here(0).ratio(here(1)), 0, "IF(B5=0,0,A5/B5)");
        check(&here(0).max(whole(0)), 0, "MAX(A5,0)");
    }

    #[test]
    fn references_name_other_sheets_only() {
        let link = LinkRef { block: 0, link: 0 };
        // The link has no target in the first row; the second row leads to the third of the block,
        // which stands below a heading and headers: row 8.
        check(&Term::Via(link, col(1, 0)), 0, "0");
        check(&Term::Via(link, col(1, 0)), 1, "'Cut list'!$A$8");
        check(&Term::Before(col(0, 0)), 0, "0");
        check(&Term::Before(col(0, 0)), 2, "A6");
        check(&Term::total(col(0, 1)), 0, "ROUND(SUM($B$5:$B$7),2)");
        let sticks = "ROUND(SUM('Cut list'!$A$6:$A$8),2)";
        check(&Term::total(col(1, 0)), 0, sticks);
        let by_key = "ROUND(SUMIF($A$5:$A$7,2,$C$5:$C$7),2)";
        check(&Term::total_if(col(0, 0), 2, col(0, 2)), 0, by_key);
        let dot = Term::Dot {
            from: col(0, 0),
            to: col(0, 2),
            head: col(0, 0),
        };
        check(&dot, 1, "SUMPRODUCT($A$5:$C$5,$A$6:$C$6)");
    }

    #[test]
    fn what_no_program_would_take_is_refused() {
        let ledger = ledger();
        let layout = Layout::plan(&ledger, &Sources::default(), &[]);
        let printer = Printer::new(&ledger, &layout);
        let at = Standing { block: 0, row: 0 };
        let mut out = String::new();
        // 400 constants of 30 characters and the signs between them: over 12,000.
        let constant = Term::Number(Decimal::new(1, 28));
        let long = Term::add_all((0..400).map(|_| constant.clone()));
        let refused = printer.term(&long, at, &mut out);
        assert_eq!(refused, Err(Unprintable::TooLong));
        let missing = Term::cell(col(0, 7), 0);
        let refused = printer.term(&missing, at, &mut out);
        assert_eq!(refused, Err(Unprintable::BeyondSheet));
        let missing = Term::cell(col(9, 0), 0);
        let refused = printer.term(&missing, at, &mut out);
        assert_eq!(refused, Err(Unprintable::Unknown));
    }
}
