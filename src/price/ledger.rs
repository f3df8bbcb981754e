//! Blocks of columns: what stands in the workbook's tables, with the terms of what is computed live.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::term::{ColRef, Cond, LinkRef, Term};
use crate::units::Currency;

/// What a cell of a column that is not live holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Nothing.
    Empty,
    /// Text.
    Text(Arc<str>),
    /// A number, tidied to 15 digits.
    Number(Decimal),
}

/// How a column's numbers are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Format {
    /// Text.
    Text,
    /// A sum of money with the currency's decimals.
    Money,
    /// A price of one unit: the currency's decimals and up to two more.
    UnitPrice,
    /// A number with up to so many decimals.
    Number(u8),
    /// A fraction shown as a percentage.
    Percent,
}

/// What a column is.
#[derive(Clone, Debug, PartialEq)]
pub enum Role {
    /// Words and figures for reading; nothing rests on them.
    Label,
    /// Cells meant for change: the live formulas point at them.
    Given,
    /// Figures that only the program can redo.
    Fixed,
    /// One formula for all rows.
    Live(Term),
    /// A formula of its own for each row; `None` for an empty cell.
    LiveRows(Vec<Option<Term>>),
    /// One of two fixed texts by a comparison; never read by another term.
    Flag {
        /// The comparison.
        when: Cond,
        /// Text when it holds.
        yes: &'static str,
        /// Text otherwise.
        no: &'static str,
    },
    /// Scaffolding of the arithmetic (running totals): live, and shown at the far right in grey.
    Running(Term),
}

/// Where a column stands: the order of reading is not the order of computing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rank {
    /// What a reader looks for.
    First,
    /// Long words: at the right end of what is read and printed.
    Last,
    /// What formulas need and few people read: behind the others, in grey, and not printed.
    Behind,
}

/// One column.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its header.
    pub title: Arc<str>,
    /// A note for the header, in plain words; empty for none.
    pub note: Arc<str>,
    /// How it is shown.
    pub format: Format,
    /// Formats of single rows where they differ (the values of the `Job` sheet); empty otherwise.
    pub row_formats: Vec<Format>,
    /// What it is.
    pub role: Role,
    /// Where it stands among the others.
    pub rank: Rank,
    /// Cells of `Label`, `Given` and `Fixed` columns.
    pub values: Vec<Value>,
}

/// A link column: for each row, the row of the target block.
#[derive(Clone, Debug)]
pub struct Link {
    /// Index of the target block.
    pub target: u16,
    /// One target row a row.
    pub rows: Vec<Option<u32>>,
}

/// A table of the workbook.
#[derive(Clone, Debug)]
pub struct Block {
    /// The sheet it stands on.
    pub sheet: &'static str,
    /// A heading above it; empty for none.
    pub heading: Arc<str>,
    /// Number of rows.
    pub rows: usize,
    /// Columns from the left.
    pub columns: Vec<Column>,
    /// Links to other blocks.
    pub links: Vec<Link>,
    /// For each row, the row before it in sharing order; empty when the order is that of the rows.
    pub before: Vec<Option<u32>>,
    /// Rows in sharing order; empty when it is that of the rows.
    pub order: Vec<u32>,
}

/// All blocks, and the order in which their live columns are computed (the order of creation).
#[derive(Clone, Debug)]
pub struct Ledger {
    /// Blocks.
    pub blocks: Vec<Block>,
    /// Live columns in the order of computing.
    pub sequence: Vec<ColRef>,
    /// The currency whose minor unit money rounds to.
    pub currency: Currency,
    /// Given cells (column and row) that formulas follow and on which figures rest as well that only
    /// the program can redo: changing one moves the price and leaves those figures behind.
    pub rested_on: BTreeSet<(ColRef, usize)>,
}

impl Ledger {
    /// An empty ledger.
    pub fn new(currency: Currency) -> Self {
        Self {
            blocks: Vec::new(),
            sequence: Vec::new(),
            currency,
            rested_on: BTreeSet::new(),
        }
    }

    /// Adds an empty block and returns its index.
    pub fn block(&mut self, sheet: &'static str, heading: impl Into<Arc<str>>, rows: usize) -> u16 {
        let block = Block {
            sheet,
            heading: heading.into(),
            rows,
            columns: Vec::new(),
            links: Vec::new(),
            before: Vec::new(),
            order: Vec::new(),
        };
        self.blocks.push(block);
        u16::try_from(self.blocks.len() - 1).unwrap_or(u16::MAX)
    }

    /// Adds a column at the right of a block.
    pub fn column(&mut self, block: u16, column: Column) -> ColRef {
        let live = matches!(
            column.role,
            Role::Live(_) | Role::LiveRows(_) | Role::Running(_) | Role::Flag { .. }
        );
        let index = self.blocks.get_mut(usize::from(block)).map_or(0, |b| {
            b.columns.push(column);
            b.columns.len() - 1
        });
        let at = ColRef {
            block,
            column: u16::try_from(index).unwrap_or(u16::MAX),
        };
        if live {
            self.sequence.push(at);
        }
        at
    }

    /// Adds a column of words.
    pub fn label(&mut self, block: u16, title: &str, values: Vec<Value>) -> ColRef {
        self.column(
            block,
            Column::plain(title, Format::Text, Role::Label, values),
        )
    }

    /// Adds a column of numbers with a role.
    pub fn numbers(
        &mut self,
        block: u16,
        title: &str,
        format: Format,
        role: Role,
        values: Vec<Value>,
    ) -> ColRef {
        self.column(block, Column::plain(title, format, role, values))
    }

    /// Adds a live column.
    pub fn live(&mut self, block: u16, title: &str, format: Format, term: Term) -> ColRef {
        self.column(
            block,
            Column::plain(title, format, Role::Live(term), Vec::new()),
        )
    }

    /// Adds a running-total column.
    pub fn running(&mut self, block: u16, title: &str, term: Term) -> ColRef {
        self.column(
            block,
            Column::plain(title, Format::Number(6), Role::Running(term), Vec::new()),
        )
    }

    /// Adds a link from a block's rows to rows of `target`.
    pub fn link(&mut self, block: u16, target: u16, rows: Vec<Option<u32>>) -> LinkRef {
        let index = self.blocks.get_mut(usize::from(block)).map_or(0, |b| {
            b.links.push(Link { target, rows });
            b.links.len() - 1
        });
        LinkRef {
            block,
            link: u16::try_from(index).unwrap_or(u16::MAX),
        }
    }

    /// Gives a column a note on its header.
    pub fn note(&mut self, at: ColRef, note: impl Into<Arc<str>>) {
        if let Some(column) = self.column_mut(at) {
            column.note = note.into();
        }
    }

    /// Rows of a block.
    pub fn rows(&self, block: u16) -> usize {
        self.blocks.get(usize::from(block)).map_or(0, |b| b.rows)
    }

    /// A column.
    pub fn get(&self, at: ColRef) -> Option<&Column> {
        self.blocks
            .get(usize::from(at.block))?
            .columns
            .get(usize::from(at.column))
    }

    /// A column, for changing its values.
    pub fn column_mut(&mut self, at: ColRef) -> Option<&mut Column> {
        self.blocks
            .get_mut(usize::from(at.block))?
            .columns
            .get_mut(usize::from(at.column))
    }
}

impl Column {
    /// A column without a note.
    pub fn plain(title: &str, format: Format, role: Role, values: Vec<Value>) -> Self {
        Self {
            title: title.into(),
            note: "".into(),
            format,
            row_formats: Vec::new(),
            role,
            rank: Rank::First,
            values,
        }
    }
}

impl Value {
    /// Text, or nothing when it is empty.
    pub fn text(text: &str) -> Self {
        if text.is_empty() {
            Self::Empty
        } else {
            Self::Text(text.into())
        }
    }

    /// A number as a sheet will keep it.
    pub fn number(number: Decimal) -> Self {
        Self::Number(crate::units::round::tidy15(number))
    }

    /// The number, nothing for text and empty cells.
    pub fn as_number(&self) -> Decimal {
        if let Self::Number(number) = self {
            *number
        } else {
            Decimal::ZERO
        }
    }
}
