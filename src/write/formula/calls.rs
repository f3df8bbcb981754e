//! Functions: rounding, comparisons, sums over ranges.

use std::fmt::Write as _;

use super::{Binding, Printer, Standing, Unprintable};
use crate::price::term::{ColRef, Cond, Term};

impl Printer<'_> {
    pub(super) fn put_call(
        &self,
        term: &Term,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
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
            // A table without rows has no range to look through, and `SUMIF(0,1,0)` is no formula.
            Term::SumIf { key, .. } if self.ledger.rows(key.block) == 0 => {
                out.push('0');
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

    pub(super) fn put_cond(
        &self,
        when: &Cond,
        at: Standing,
        out: &mut String,
    ) -> Result<(), Unprintable> {
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
}
