//! Terms to numbers.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::ledger::{Block, Ledger, Role};
use super::term::{CellRef, ColRef, Cond, LinkRef, Term};
use crate::units::round::{half_away, step_up, tidy15, whole_up};

/// A figure left the range of numbers, or a divisor was zero: a bug, since limits at reading forbid it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("the figure \"{column}\" on sheet {sheet} cannot be computed")]
pub struct OutOfRange {
    /// Title of the column.
    pub column: String,
    /// Its sheet.
    pub sheet: String,
}

/// The computed numbers of every live column, and of flags whether they hold (1 or 0).
#[derive(Clone, Debug, Default)]
pub struct Values {
    columns: BTreeMap<ColRef, Vec<Decimal>>,
}

impl Values {
    /// The numbers of a live column; `None` for other columns.
    pub fn column(&self, at: ColRef) -> Option<&[Decimal]> {
        self.columns.get(&at).map(Vec::as_slice)
    }

    /// One number of a live column; zero when there is none.
    pub fn at(&self, at: ColRef, row: usize) -> Decimal {
        self.columns
            .get(&at)
            .and_then(|c| c.get(row))
            .copied()
            .unwrap_or_default()
    }
}

/// Computes every live column in the ledger's sequence.
///
/// # Errors
/// [`OutOfRange`] names the first column whose arithmetic left the range of decimals.
pub fn evaluate(ledger: &Ledger) -> Result<Values, OutOfRange> {
    let mut work = Work {
        ledger,
        values: Values::default(),
        sums: BTreeMap::new(),
    };
    for at in &ledger.sequence {
        work.compute(*at).ok_or_else(|| {
            let block = ledger.blocks.get(usize::from(at.block));
            OutOfRange {
                column: ledger
                    .get(*at)
                    .map(|c| c.title.to_string())
                    .unwrap_or_default(),
                sheet: block.map(|b| b.sheet.to_owned()).unwrap_or_default(),
            }
        })?;
    }
    Ok(work.values)
}

struct Work<'a> {
    ledger: &'a Ledger,
    values: Values,
    /// Sums by key, made once for each pair of key and summed column.
    sums: BTreeMap<(ColRef, ColRef), BTreeMap<Decimal, Decimal>>,
}

/// Looks terms of a computed ledger up again, to tell how a figure came about.
pub struct Reckoner<'a>(Work<'a>);

impl<'a> Reckoner<'a> {
    /// For a ledger and the numbers that were computed of it.
    pub fn new(ledger: &'a Ledger, values: &Values) -> Self {
        Self(Work {
            ledger,
            values: values.clone(),
            sums: BTreeMap::new(),
        })
    }

    fn here(&self, block: u16, row: usize) -> Option<Here<'a>> {
        let block = self.0.ledger.blocks.get(usize::from(block))?;
        Some(Here { block, row })
    }

    /// The number in a cell.
    pub fn number(&self, at: ColRef, row: usize) -> Option<Decimal> {
        self.0.number(at, row)
    }

    /// What a term comes to in a row.
    pub fn value(&mut self, term: &Term, block: u16, row: usize) -> Option<Decimal> {
        let here = self.here(block, row)?;
        self.0.value(term, here)
    }

    /// Whether a comparison holds in a row.
    pub fn holds(&mut self, when: &Cond, block: u16, row: usize) -> Option<bool> {
        let here = self.here(block, row)?;
        self.0.holds(when, here)
    }

    /// The row before one in sharing order.
    pub fn before(&self, block: u16, row: usize) -> Option<usize> {
        before(self.here(block, row)?)
    }

    /// The row that a link leads to.
    pub fn linked(&self, link: LinkRef, row: usize) -> Option<usize> {
        linked(self.here(link.block, row)?, link)
    }
}

/// Where a term stands.
#[derive(Clone, Copy)]
struct Here<'a> {
    block: &'a Block,
    row: usize,
}

impl<'a> Work<'a> {
    fn compute(&mut self, at: ColRef) -> Option<()> {
        let block = self.ledger.blocks.get(usize::from(at.block))?;
        let role = &block.columns.get(usize::from(at.column))?.role;
        self.values
            .columns
            .insert(at, vec![Decimal::ZERO; block.rows]);
        if block.order.is_empty() {
            for row in 0..block.rows {
                self.compute_row(at, role, Here { block, row })?;
            }
        } else {
            for row in &block.order {
                self.compute_row(
                    at,
                    role,
                    Here {
                        block,
                        row: usize::try_from(*row).ok()?,
                    },
                )?;
            }
        }
        Some(())
    }

    fn compute_row(&mut self, at: ColRef, role: &'a Role, here: Here<'a>) -> Option<()> {
        let value = match role {
            Role::Live(term) | Role::Running(term) => tidy15(self.value(term, here)?),
            Role::LiveRows(terms) => match terms.get(here.row)? {
                Some(term) => tidy15(self.value(term, here)?),
                None => return Some(()),
            },
            Role::Flag { when, .. } => Decimal::from(u8::from(self.holds(when, here)?)),
            Role::Label | Role::Given | Role::Fixed => return Some(()),
        };
        *self.values.columns.get_mut(&at)?.get_mut(here.row)? = value;
        Some(())
    }

    fn number(&self, at: ColRef, row: usize) -> Option<Decimal> {
        if let Some(column) = self.values.columns.get(&at) {
            return column.get(row).copied();
        }
        Some(self.ledger.get(at)?.values.get(row)?.as_number())
    }

    fn value(&mut self, term: &Term, here: Here<'a>) -> Option<Decimal> {
        Some(match term {
            Term::Number(n) => *n,
            Term::Here(at) => self.number(*at, here.row)?,
            Term::Before(at) => match before(here) {
                Some(row) => self.number(*at, row)?,
                None => Decimal::ZERO,
            },
            Term::Via(link, at) => match linked(here, *link) {
                Some(row) => self.number(*at, row)?,
                None => Decimal::ZERO,
            },
            Term::Cell(CellRef { col, row }) => self.number(*col, usize::try_from(*row).ok()?)?,
            Term::Sum(at) => self.sum(*at)?,
            Term::SumIf { key, is, col } => {
                let is = self.value(is, here)?;
                self.sum_if(*key, *col, is)?
            }
            Term::Dot { from, to, head } => self.dot(*from, *to, *head, here.row)?,
            Term::Add(a, b) => self.value(a, here)?.checked_add(self.value(b, here)?)?,
            Term::Sub(a, b) => self.value(a, here)?.checked_sub(self.value(b, here)?)?,
            Term::Mul(a, b) => self.value(a, here)?.checked_mul(self.value(b, here)?)?,
            Term::Div(a, b) => self.value(a, here)?.checked_div(self.value(b, here)?)?,
            Term::Money(x) => half_away(self.value(x, here)?, self.ledger.currency.minor),
            Term::Round(x, places) => half_away(self.value(x, here)?, *places),
            Term::WholeUp(x) => whole_up(self.value(x, here)?),
            Term::StepUp(x, step) => step_up(self.value(x, here)?, self.value(step, here)?),
            Term::Max(a, b) => self.value(a, here)?.max(self.value(b, here)?),
            Term::Min(a, b) => self.value(a, here)?.min(self.value(b, here)?),
            Term::If(when, a, b) => {
                if self.holds(when, here)? {
                    self.value(a, here)?
                } else {
                    self.value(b, here)?
                }
            }
        })
    }

    fn holds(&mut self, when: &Cond, here: Here<'a>) -> Option<bool> {
        Some(match when {
            Cond::Greater(a, b) => tidy15(self.value(a, here)?) > tidy15(self.value(b, here)?),
            Cond::Equal(a, b) => tidy15(self.value(a, here)?) == tidy15(self.value(b, here)?),
            Cond::And(a, b) => self.holds(a, here)? && self.holds(b, here)?,
        })
    }

    fn rows(&self, at: ColRef) -> usize {
        self.ledger
            .blocks
            .get(usize::from(at.block))
            .map_or(0, |b| b.rows)
    }

    fn sum(&self, at: ColRef) -> Option<Decimal> {
        (0..self.rows(at)).try_fold(Decimal::ZERO, |sum, row| {
            sum.checked_add(self.number(at, row)?)
        })
    }

    fn sum_if(&mut self, key: ColRef, col: ColRef, is: Decimal) -> Option<Decimal> {
        if !self.sums.contains_key(&(key, col)) {
            let mut by_key: BTreeMap<Decimal, Decimal> = BTreeMap::new();
            for row in 0..self.rows(key) {
                let sum = by_key.entry(self.number(key, row)?).or_default();
                *sum = sum.checked_add(self.number(col, row)?)?;
            }
            self.sums.insert((key, col), by_key);
        }
        Some(
            self.sums
                .get(&(key, col))?
                .get(&is)
                .copied()
                .unwrap_or_default(),
        )
    }

    fn dot(&self, from: ColRef, to: ColRef, head: ColRef, row: usize) -> Option<Decimal> {
        let mut sum = Decimal::ZERO;
        for column in from.column..=to.column {
            let measure = self.number(ColRef { column, ..from }, row)?;
            let rate = self.number(
                ColRef {
                    column: head.column.checked_add(column - from.column)?,
                    ..head
                },
                0,
            )?;
            sum = sum.checked_add(measure.checked_mul(rate)?)?;
        }
        Some(sum)
    }
}

/// The row before `here` in sharing order.
fn before(here: Here<'_>) -> Option<usize> {
    if here.block.before.is_empty() {
        here.row.checked_sub(1)
    } else {
        usize::try_from((*here.block.before.get(here.row)?)?).ok()
    }
}

/// The row that `here` links to.
fn linked(here: Here<'_>, link: LinkRef) -> Option<usize> {
    let rows = &here.block.links.get(usize::from(link.link))?.rows;
    usize::try_from((*rows.get(here.row)?)?).ok()
}

#[cfg(test)]
mod tests {
    use super::super::ledger::{Format, Value};
    use super::*;
    use crate::units::Currency;

    fn numbers(list: &[i64]) -> Vec<Value> {
        list.iter()
            .map(|n| Value::number(Decimal::from(*n)))
            .collect()
    }

    #[test]
    fn shares_of_a_hundred_over_three_beds_run_in_sharing_order() {
        // Rows stand as third, first, second; the order of sharing is by name.
        let mut ledger = Ledger::new(Currency::USD);
        let beds = ledger.block("Beds", "", 3);
        let measure = ledger.numbers(
            beds,
            "Measure",
            Format::Number(2),
            Role::Fixed,
            numbers(&[1, 1, 1]),
        );
        ledger.blocks[0].order = vec![1, 2, 0];
        ledger.blocks[0].before = vec![Some(2), None, Some(1)];
        let third = Term::whole(100).ratio(Term::whole(3));
        let running_at = ColRef {
            block: beds,
            column: 1,
        };
        let running = ledger.running(
            beds,
            "Running",
            Term::Before(running_at) + Term::Here(measure) * third,
        );
        let share = ledger.live(
            beds,
            "Share",
            Format::Money,
            (Term::Here(running).money() - Term::Before(running).money()).money(),
        );
        let values = evaluate(&ledger).unwrap();
        let shares: Vec<String> = values
            .column(share)
            .unwrap()
            .iter()
            .map(ToString::to_string)
            .collect();
        // running 33.333, 66.667, 100 -> 33.33, 33.34, 33.33; the third row in order stands first
        assert_eq!(shares, ["33.33", "33.33", "33.34"]);
    }

    #[test]
    fn overflow_is_an_error_not_a_panic() {
        let mut ledger = Ledger::new(Currency::USD);
        let block = ledger.block("Price", "", 1);
        ledger.live(
            block,
            "Too much",
            Format::Money,
            Term::Number(Decimal::MAX) * Term::whole(2),
        );
        assert_eq!(evaluate(&ledger).unwrap_err().column, "Too much");
    }
}
