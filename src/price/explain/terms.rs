//! Terms in words, with the numbers of a row in them: `12% x 9,927.75`.

use super::super::ledger::Format;
use super::super::term::{CellRef, ColRef, Term};
use super::cells::Walk;
use crate::units::show::grouped_plain;

/// Rows of a sum that are followed.
const MOST_ROWS: usize = 12;

/// A term being put into words; the cells that it names are kept in the order in which they stand.
pub(super) struct Words<'w, 'a> {
    walk: &'w mut Walk<'a>,
    block: u16,
    row: usize,
    pub(super) cells: Vec<CellRef>,
}

impl<'w, 'a> Words<'w, 'a> {
    pub(super) fn new(walk: &'w mut Walk<'a>, block: u16, row: usize) -> Self {
        Self {
            walk,
            block,
            row,
            cells: Vec::new(),
        }
    }

    pub(super) fn of(&mut self, term: &Term) -> String {
        match term {
            Term::Number(n) => grouped_plain(*n, 6),
            Term::Here(at) => self.cell(*at, Some(self.row)),
            Term::Before(at) => {
                let before = self.walk.reckoner.before(self.block, self.row);
                self.cell(*at, before)
            }
            Term::Via(link, at) => {
                let row = self.walk.reckoner.linked(*link, self.row);
                self.cell(*at, row)
            }
            Term::Cell(at) => self.cell(at.col, usize::try_from(at.row).ok()),
            Term::Sum(at) => self.sum(*at),
            Term::SumIf { key, is, col } => {
                let is = self.walk.reckoner.value(is, self.block, self.row);
                self.sum_if(*key, *col, is)
            }
            Term::Dot { from, .. } => {
                let value = self.value(term);
                let sheet = self.title(*from);
                format!("{value} (measures from {sheet} on x their rates)")
            }
            Term::Add(a, b) => self.both(a, "+", b),
            Term::Sub(a, b) => {
                let (left, right) = (self.of(a), self.within(b, true));
                format!("{left} - {right}")
            }
            Term::Mul(a, b) => self.factors(a, "x", b),
            Term::Div(a, b) => self.factors(a, "/", b),
            // Rounding shows in the value.
            Term::Money(x) | Term::Round(x, _) => self.of(x),
            Term::WholeUp(x) => format!("{} up to a whole number", self.within(x, true)),
            Term::StepUp(x, step) => {
                let (x, step) = (self.within(x, true), self.of(step));
                format!("{x} up to a multiple of {step}")
            }
            Term::Max(a, b) => format!("the greater of {} and {}", self.of(a), self.of(b)),
            Term::Min(a, b) => format!("the lesser of {} and {}", self.of(a), self.of(b)),
            Term::If(when, a, b) => {
                let holds = self.walk.reckoner.holds(when, self.block, self.row);
                self.of(if holds == Some(true) { a } else { b })
            }
        }
    }

    /// A sum of two, of which one that is nothing is left out.
    fn both(&mut self, a: &Term, sign: &str, b: &Term) -> String {
        match (self.is_nothing(a), self.is_nothing(b)) {
            (true, false) => self.of(b),
            (false, true) => self.of(a),
            _ => format!("{} {sign} {}", self.of(a), self.of(b)),
        }
    }

    fn factors(&mut self, a: &Term, sign: &str, b: &Term) -> String {
        let (left, right) = (self.within(a, false), self.within(b, sign == "/"));
        format!("{left} {sign} {right}")
    }

    fn is_nothing(&mut self, term: &Term) -> bool {
        let value = self.walk.reckoner.value(term, self.block, self.row);
        value.is_none_or(|value| value.is_zero())
    }

    /// In brackets where it is a sum, or a product behind a sign that binds as much.
    fn within(&mut self, term: &Term, strict: bool) -> String {
        let bare = inside(term);
        let is_sum = matches!(bare, Term::Add(..) | Term::Sub(..));
        let is_product = strict && matches!(bare, Term::Mul(..) | Term::Div(..));
        let words = self.of(term);
        let is_many = words.contains(' ');
        if (is_sum || is_product) && is_many {
            format!("({words})")
        } else {
            words
        }
    }

    fn cell(&mut self, at: ColRef, row: Option<usize>) -> String {
        let Some(row) = row else {
            return "0".to_owned();
        };
        let at = CellRef {
            col: at,
            row: u32::try_from(row).unwrap_or(u32::MAX),
        };
        self.cells.push(at);
        self.walk.shown(at)
    }

    fn title(&self, at: ColRef) -> String {
        let column = self.walk.column(at);
        column.map_or_else(String::new, |column| column.title.to_string())
    }

    fn value(&mut self, term: &Term) -> String {
        let value = self.walk.reckoner.value(term, self.block, self.row);
        self.walk
            .number(value.unwrap_or_default(), Format::Number(6))
    }

    /// Rows with anything in them, each a cell of its own.
    fn sum(&mut self, at: ColRef) -> String {
        let rows = self.walk.estimate.ledger.rows(at.block);
        self.rows(at, (0..rows).collect())
    }

    fn sum_if(&mut self, key: ColRef, col: ColRef, is: Option<rust_decimal::Decimal>) -> String {
        let rows = self.walk.estimate.ledger.rows(key.block);
        let matches = |row: &usize| self.walk.reckoner.number(key, *row) == is;
        let rows: Vec<usize> = (0..rows).filter(matches).collect();
        self.rows(col, rows)
    }

    fn rows(&mut self, at: ColRef, mut rows: Vec<usize>) -> String {
        let is_something = |row: &usize| {
            let number = self.walk.reckoner.number(at, *row);
            number.is_some_and(|number| !number.is_zero())
        };
        rows.retain(is_something);
        let sheet = self.walk.estimate.ledger.blocks.get(usize::from(at.block));
        let sheet = sheet.map_or("?", |block| block.sheet);
        let title = self.title(at);
        let count = rows.len();
        if count <= MOST_ROWS {
            let cells = rows.iter().map(|row| CellRef {
                col: at,
                row: u32::try_from(*row).unwrap_or(u32::MAX),
            });
            self.cells.extend(cells);
        }
        match count {
            0 => format!("no {title} on sheet {sheet}"),
            1 => format!("the one {title} on sheet {sheet}"),
            n => format!("the sum of {n} rows of {title} on sheet {sheet}"),
        }
    }
}

/// A term without its rounding.
fn inside(term: &Term) -> &Term {
    match term {
        Term::Money(x) | Term::Round(x, _) => inside(x),
        other => other,
    }
}
