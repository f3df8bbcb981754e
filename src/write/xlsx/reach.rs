//! Which cells meant for change the formulas really read.
//!
//! A price of an offer that was not chosen is read by no formula: changing it may call for another
//! choice, which only the program can make. Such cells are watched instead of marked.

use std::collections::BTreeMap;

use crate::price::ledger::{Block, Ledger, Role};
use crate::price::term::{ColRef, Cond, Term};

/// Cells read by any formula, by column.
#[derive(Debug, Default)]
pub(crate) struct Reach {
    columns: BTreeMap<ColRef, Rows>,
}

#[derive(Debug)]
enum Rows {
    All,
    Some(Vec<bool>),
}

/// The rows in which a term stands.
#[derive(Clone, Copy)]
enum In {
    Every,
    One(usize),
}

impl Reach {
    /// Walks every term of the ledger once.
    pub(crate) fn of(ledger: &Ledger) -> Self {
        let mut reach = Self::default();
        for block in &ledger.blocks {
            for column in &block.columns {
                match &column.role {
                    Role::Live(term) | Role::Running(term) => {
                        reach.term(ledger, block, term, In::Every);
                    }
                    Role::LiveRows(terms) => {
                        for (row, term) in terms.iter().enumerate() {
                            if let Some(term) = term {
                                reach.term(ledger, block, term, In::One(row));
                            }
                        }
                    }
                    Role::Flag { when, .. } => reach.cond(ledger, block, when, In::Every),
                    Role::Label | Role::Given | Role::Fixed => {}
                }
            }
        }
        reach
    }

    /// Whether a formula reads the cell.
    pub(crate) fn holds(&self, col: ColRef, row: usize) -> bool {
        match self.columns.get(&col) {
            None => false,
            Some(Rows::All) => true,
            Some(Rows::Some(rows)) => rows.get(row).copied().unwrap_or(false),
        }
    }

    fn all(&mut self, col: ColRef) {
        self.columns.insert(col, Rows::All);
    }

    fn one(&mut self, ledger: &Ledger, col: ColRef, row: usize) {
        let height = ledger
            .blocks
            .get(usize::from(col.block))
            .map_or(0, |b| b.rows);
        let rows = self
            .columns
            .entry(col)
            .or_insert_with(|| Rows::Some(vec![false; height]));
        if let Rows::Some(rows) = rows
            && let Some(cell) = rows.get_mut(row)
        {
            *cell = true;
        }
    }

    fn run(&mut self, from: ColRef, to: ColRef) {
        for column in from.column..=to.column {
            self.all(ColRef { column, ..from });
        }
    }

    fn term(&mut self, ledger: &Ledger, block: &Block, term: &Term, at: In) {
        match term {
            Term::Number(_) => {}
            Term::Here(col) => match at {
                In::Every => self.all(*col),
                In::One(row) => self.one(ledger, *col, row),
            },
            Term::Before(col) | Term::Sum(col) => self.all(*col),
            Term::Via(link, col) => {
                let rows = block.links.get(usize::from(link.link)).map(|l| &l.rows);
                let linked = rows.into_iter().flatten().enumerate();
                for (row, target) in linked {
                    let here = match at {
                        In::Every => true,
                        In::One(one) => one == row,
                    };
                    if let (true, Some(target)) = (here, target) {
                        self.one(ledger, *col, usize::try_from(*target).unwrap_or(usize::MAX));
                    }
                }
            }
            Term::Cell(cell) => {
                let row = usize::try_from(cell.row).unwrap_or(usize::MAX);
                self.one(ledger, cell.col, row);
            }
            Term::SumIf { key, is, col } => {
                self.all(*key);
                self.all(*col);
                self.term(ledger, block, is, at);
            }
            Term::Dot { from, to, head } => {
                self.run(*from, *to);
                let width = to.column.saturating_sub(from.column);
                let last = head.column.saturating_add(width);
                self.run(
                    *head,
                    ColRef {
                        column: last,
                        ..*head
                    },
                );
            }
            Term::Add(a, b)
            | Term::Sub(a, b)
            | Term::Mul(a, b)
            | Term::Div(a, b)
            | Term::StepUp(a, b)
            | Term::Max(a, b)
            | Term::Min(a, b) => {
                self.term(ledger, block, a, at);
                self.term(ledger, block, b, at);
            }
            Term::Money(x) | Term::Round(x, _) | Term::WholeUp(x) => {
                self.term(ledger, block, x, at);
            }
            Term::If(when, a, b) => {
                self.cond(ledger, block, when, at);
                self.term(ledger, block, a, at);
                self.term(ledger, block, b, at);
            }
        }
    }

    fn cond(&mut self, ledger: &Ledger, block: &Block, when: &Cond, at: In) {
        match when {
            Cond::Greater(a, b) | Cond::Equal(a, b) => {
                self.term(ledger, block, a, at);
                self.term(ledger, block, b, at);
            }
            Cond::And(a, b) => {
                self.cond(ledger, block, a, at);
                self.cond(ledger, block, b, at);
            }
        }
    }
}
