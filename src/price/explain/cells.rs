//! Cells of the ledger: what they are called, how they read, and which cell of the job they are.

use rust_decimal::Decimal;

use super::super::Estimate;
use super::super::evaluate::Reckoner;
use super::super::ledger::{Block, Column, Format, Role, Value};
use super::super::term::{CellRef, ColRef, Term};
use super::Step;
use super::terms::Words;
use crate::model::sheet::Sheet;
use crate::units::Money;
use crate::units::show::{grouped_plain, plain};

/// Figures that one derivation tells, unless what a figure rests on at once is more.
const MOST_STEPS: usize = 60;
/// How far it goes back.
const DEEPEST: usize = 6;

/// Walks from a cell back to what it rests on.
pub(super) struct Walk<'a> {
    pub(super) estimate: &'a Estimate,
    pub(super) reckoner: Reckoner<'a>,
    told: Vec<CellRef>,
    steps: Vec<Step>,
}

/// A cell and what it rests on, as far back as a screen or two hold it whole.
pub(super) fn derivation(estimate: &Estimate, at: CellRef, depth: usize) -> Vec<Step> {
    let mut whole: Vec<Step> = Vec::new();
    for further in 1..=DEEPEST {
        let mut walk = Walk::new(estimate);
        walk.tell(at, depth, depth.saturating_add(further));
        if further > 1 && walk.steps.len() > MOST_STEPS {
            break;
        }
        whole = walk.steps;
    }
    whole
}

impl<'a> Walk<'a> {
    fn new(estimate: &'a Estimate) -> Self {
        Self {
            estimate,
            reckoner: Reckoner::new(&estimate.ledger, &estimate.values),
            told: Vec::new(),
            steps: Vec::new(),
        }
    }

    pub(super) fn column(&self, at: ColRef) -> Option<&'a Column> {
        self.estimate.ledger.get(at)
    }

    fn block(&self, at: ColRef) -> Option<&'a Block> {
        self.estimate.ledger.blocks.get(usize::from(at.block))
    }

    /// Tells a cell, then each cell that it rests on, one further in, each once.
    fn tell(&mut self, at: CellRef, depth: usize, deepest: usize) {
        if depth > deepest || self.told.contains(&at) {
            return;
        }
        self.told.push(at);
        let row = usize::try_from(at.row).unwrap_or(usize::MAX);
        let term = self.term(at).cloned();
        let (arithmetic, cells) = match &term {
            Some(term) => {
                let mut words = Words::new(self, at.col.block, row);
                let text = words.of(term);
                (text, words.cells)
            }
            None => (String::new(), Vec::new()),
        };
        let step = Step {
            depth,
            what: self.name(at),
            arithmetic,
            value: self.shown(at),
            from: if term.is_some() {
                String::new()
            } else {
                self.from(at)
            },
        };
        self.steps.push(step);
        for cell in cells {
            self.tell(cell, depth.saturating_add(1), deepest);
        }
    }

    /// The term of a live cell.
    fn term(&self, at: CellRef) -> Option<&'a Term> {
        let row = usize::try_from(at.row).ok()?;
        match &self.column(at.col)?.role {
            Role::Live(term) | Role::Running(term) => Some(term),
            Role::LiveRows(terms) => terms.get(row)?.as_ref(),
            _ => None,
        }
    }

    /// `Carpenter, Pay rate`: the first words of its row, and its title.
    pub(super) fn name(&self, at: CellRef) -> String {
        let row = usize::try_from(at.row).unwrap_or(usize::MAX);
        let title = self.column(at.col).map_or("?", |column| &*column.title);
        let Some(block) = self.block(at.col) else {
            return title.to_owned();
        };
        let words = row_words(block, row);
        match words {
            // The lines of the price and the settings are called by their own names.
            Some(words) if matches!(title, "Amount" | "Value") => words,
            Some(words) if block.rows > 1 => format!("{words}, {title}"),
            _ => title.to_owned(),
        }
    }

    /// The number in a cell as its column shows it.
    pub(super) fn shown(&self, at: CellRef) -> String {
        let row = usize::try_from(at.row).unwrap_or(usize::MAX);
        let column = self.column(at.col);
        if let Some(Value::Text(text)) = column.and_then(|c| c.values.get(row)) {
            return text.to_string();
        }
        let number = self.reckoner.number(at.col, row).unwrap_or_default();
        let own = column.and_then(|c| c.row_formats.get(row).copied());
        let format = own.or_else(|| column.map(|c| c.format));
        self.number(number, format.unwrap_or(Format::Number(6)))
    }

    pub(super) fn number(&self, number: Decimal, format: Format) -> String {
        let currency = self.estimate.job.settings.currency.value;
        match format {
            Format::Money => currency.show(Money::of(number)),
            Format::Percent => {
                format!("{}%", plain(number.saturating_mul(Decimal::ONE_HUNDRED), 4))
            }
            Format::UnitPrice => grouped_plain(number, currency.minor.saturating_add(4)),
            Format::Number(_) | Format::Text => grouped_plain(number, 6),
        }
    }

    /// The cell of the job that a cell of an input sheet is, or what its row says of itself.
    fn from(&self, at: CellRef) -> String {
        let (Some(block), Some(column)) = (self.block(at.col), self.column(at.col)) else {
            return String::new();
        };
        let row = usize::try_from(at.row).unwrap_or(usize::MAX);
        if let Some(place) = self.place(block, column, row) {
            return place;
        }
        let from = block.columns.iter().find(|c| &*c.title == "From");
        match from.and_then(|c| c.values.get(row)) {
            Some(Value::Text(text)) if !text.is_empty() => text.to_string(),
            _ if column.role == Role::Fixed => {
                format!("sheet {}, which only the program can redo", block.sheet)
            }
            _ => format!("sheet {}", block.sheet),
        }
    }

    /// Rows of an input sheet stand in the estimate in the order in which they were read.
    fn place(&self, block: &Block, column: &Column, row: usize) -> Option<String> {
        let sheet = Sheet::ALL
            .into_iter()
            .find(|sheet| sheet.title() == block.sheet)?;
        let field = column.title.split(" (").next().unwrap_or(&column.title);
        let mut first = 0_usize;
        for (_, table) in self.estimate.sources.of(sheet) {
            let within = row.checked_sub(first)?;
            if let Some(found) = table.rows.get(within) {
                let index = table.column_of(field)?;
                let cell = table.columns.iter().position(|c| c.index == index)?;
                let is_typed = found.cells.get(cell).is_some_and(|cell| !cell.is_empty());
                return is_typed.then(|| table.place(found.row, Some(index)));
            }
            first = first.saturating_add(table.rows.len());
        }
        None
    }
}

/// The first words of a row, with the next ones where another row begins alike: `Creek Yard, small tipper`.
fn row_words(block: &Block, row: usize) -> Option<String> {
    let text = |column: &Column, row: usize| match column.values.get(row) {
        Some(Value::Text(text)) if !text.is_empty() => Some(text.to_string()),
        _ => None,
    };
    let mut columns = block.columns.iter();
    let (first, words) = columns.find_map(|column| Some((column, text(column, row)?)))?;
    let alike = (0..block.rows).filter(|other| text(first, *other).as_ref() == Some(&words));
    if alike.count() < 2 {
        return Some(words);
    }
    match columns.find_map(|column| text(column, row)) {
        Some(more) => Some(format!("{words}, {more}")),
        None => Some(words),
    }
}
