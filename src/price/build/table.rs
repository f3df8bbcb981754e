//! A block on its way into the ledger, column by column.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Rank, Role, Value};
use super::super::term::{ColRef, LinkRef, Term};

/// Writes the columns of one block from the left.
pub(super) struct Table<'l> {
    ledger: &'l mut Ledger,
    block: u16,
}

impl<'l> Table<'l> {
    /// A new block.
    pub(super) fn new(
        ledger: &'l mut Ledger,
        sheet: &'static str,
        title: &str,
        rows: usize,
    ) -> Self {
        let block = ledger.block(sheet, title, rows);
        Self { ledger, block }
    }

    /// The block.
    pub(super) fn block(&self) -> u16 {
        self.block
    }

    /// More columns at the right of a block.
    pub(super) fn of(ledger: &'l mut Ledger, block: u16) -> Self {
        Self { ledger, block }
    }

    /// A column of words.
    pub(super) fn words(&mut self, title: &str, words: impl IntoIterator<Item = String>) -> ColRef {
        let values = words.into_iter().map(|w| Value::text(&w)).collect();
        self.ledger.label(self.block, title, values)
    }

    /// A column of numbers for reading.
    pub(super) fn label(
        &mut self,
        title: &str,
        places: u8,
        numbers: impl IntoIterator<Item = Decimal>,
    ) -> ColRef {
        self.numbers(title, places, Role::Label, numbers)
    }

    /// A column of numbers that only the program can redo.
    pub(super) fn fixed(
        &mut self,
        title: &str,
        places: u8,
        numbers: impl IntoIterator<Item = Decimal>,
    ) -> ColRef {
        self.numbers(title, places, Role::Fixed, numbers)
    }

    /// As [`Table::fixed`], with empty cells.
    pub(super) fn some(
        &mut self,
        title: &str,
        places: u8,
        numbers: impl IntoIterator<Item = Option<Decimal>>,
    ) -> ColRef {
        let cell = |n: Option<Decimal>| n.map_or(Value::Empty, Value::number);
        let values = numbers.into_iter().map(cell).collect();
        let format = Format::Number(places);
        self.ledger
            .numbers(self.block, title, format, Role::Fixed, values)
    }

    fn numbers(
        &mut self,
        title: &str,
        places: u8,
        role: Role,
        numbers: impl IntoIterator<Item = Decimal>,
    ) -> ColRef {
        let values = numbers.into_iter().map(Value::number).collect();
        let format = Format::Number(places);
        self.ledger.numbers(self.block, title, format, role, values)
    }

    /// A live column of numbers.
    pub(super) fn live(&mut self, title: &str, places: u8, term: Term) -> ColRef {
        let format = Format::Number(places);
        self.ledger.live(self.block, title, format, term)
    }

    /// A live column of unit prices.
    pub(super) fn unit_price(&mut self, title: &str, term: Term) -> ColRef {
        self.ledger.live(self.block, title, Format::UnitPrice, term)
    }

    /// A live column of money, rounded line by line.
    pub(super) fn money(&mut self, title: &str, term: Term) -> ColRef {
        self.ledger
            .live(self.block, title, Format::Money, term.money())
    }

    /// A column with a term of its own in each row.
    pub(super) fn rows(
        &mut self,
        title: &str,
        format: Format,
        terms: impl IntoIterator<Item = Term>,
    ) -> ColRef {
        let role = Role::LiveRows(terms.into_iter().map(Some).collect());
        self.ledger
            .numbers(self.block, title, format, role, Vec::new())
    }

    /// A live column of money that is rounded already.
    pub(super) fn live_money(&mut self, title: &str, term: Term) -> ColRef {
        self.ledger.live(self.block, title, Format::Money, term)
    }

    /// A column of any role.
    pub(super) fn column(&mut self, title: &str, format: Format, role: Role) -> ColRef {
        self.ledger
            .numbers(self.block, title, format, role, Vec::new())
    }

    /// A running total.
    pub(super) fn running(&mut self, title: &str, term: Term) -> ColRef {
        self.ledger.running(self.block, title, term)
    }

    /// Sets the order in which rows follow each other for running totals.
    pub(super) fn in_order(&mut self, rows: Vec<usize>) {
        let rows: Vec<u32> = rows.into_iter().map(super::inputs::row_u32).collect();
        let mut before = vec![None; rows.len()];
        for (first, second) in rows.iter().zip(rows.iter().skip(1)) {
            let place = usize::try_from(*second).unwrap_or(usize::MAX);
            if let Some(slot) = before.get_mut(place) {
                *slot = Some(*first);
            }
        }
        if let Some(block) = self.ledger.blocks.get_mut(usize::from(self.block)) {
            block.before = before;
            block.order = rows;
        }
    }

    /// The place of the column that is added next, for terms that look at the row before.
    pub(super) fn next(&self) -> ColRef {
        let block = self.ledger.blocks.get(usize::from(self.block));
        let columns = block.map_or(0, |b| b.columns.len());
        ColRef {
            block: self.block,
            column: u16::try_from(columns).unwrap_or(u16::MAX),
        }
    }

    /// Links the rows to rows of another block.
    pub(super) fn link(
        &mut self,
        target: u16,
        rows: impl IntoIterator<Item = Option<u32>>,
    ) -> LinkRef {
        self.ledger
            .link(self.block, target, rows.into_iter().collect())
    }

    /// Moves a column that few people read behind the others.
    pub(super) fn behind(&mut self, at: ColRef) {
        self.rank(at, Rank::Behind);
    }

    /// Moves a column of long words to the right end.
    pub(super) fn last(&mut self, at: ColRef) {
        self.rank(at, Rank::Last);
    }

    fn rank(&mut self, at: ColRef, rank: Rank) {
        if let Some(column) = self.ledger.column_mut(at) {
            column.rank = rank;
        }
    }

    /// Gives a column a note on its header.
    pub(super) fn note(&mut self, at: ColRef, note: &str) {
        self.ledger.note(at, note);
    }
}
