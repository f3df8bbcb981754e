//! A sheet as it lies in a file, before any column is recognised.

use std::collections::{BTreeSet, HashSet};
use std::sync::Arc;

use crate::model::source::{Cell, Form};

/// What a cell of a file holds.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum RawCell {
    /// A value.
    Good(Cell),
    /// An error value, as `#REF!`.
    Error(Arc<str>),
    /// A formula whose result the file does not hold.
    Unevaluated,
    /// A number that no cell of a job can mean, as typed.
    TooLarge(Arc<str>),
}

/// One row that holds something.
#[derive(Clone, Debug, Default)]
pub(super) struct RawRow {
    /// Row in the file, from 0.
    pub(super) row: u32,
    /// Cells with something in them, by column from 0, in file order.
    pub(super) cells: Vec<(u32, RawCell)>,
}

/// A block of merged cells, ends included.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Merge {
    /// First row and column.
    pub(super) from: (u32, u32),
    /// Last row and column.
    pub(super) to: (u32, u32),
}

/// A sheet of a workbook or a text table.
#[derive(Clone, Debug)]
pub(super) struct RawSheet {
    /// File name without folders.
    pub(super) file: Arc<str>,
    /// Sheet name, or the file's stem.
    pub(super) label: Arc<str>,
    /// How places are spoken of.
    pub(super) form: Form,
    /// Rows with something in them, in file order.
    pub(super) rows: Vec<RawRow>,
    /// Merged blocks.
    pub(super) merges: Vec<Merge>,
    /// Rows with a cell that is struck out, in file order.
    pub(super) struck: Vec<u32>,
    /// Rows that the file hides, in file order.
    pub(super) hidden: Vec<u32>,
    /// Columns that the file hides, first and last of each run.
    pub(super) hidden_columns: Vec<(u32, u32)>,
    /// Rows with bold letters, in file order.
    pub(super) bold: Vec<u32>,
    /// Rows in which a cell is merged with those at its right, in file order.
    pub(super) merged_across: Vec<u32>,
    /// Rows of an estimate that the program filled in for want of a word in the job.
    pub(super) filled_in: BTreeSet<u32>,
    /// Whether number cells may show as percentages without our knowing.
    pub(super) formats_unknown: bool,
}

impl RawCell {
    /// Text, trimmed, or nothing.
    pub(super) fn text(text: &str, shared: &mut Shared) -> Option<Self> {
        let text = text.trim();
        if is_error(text) {
            return Some(Self::Error(shared.text(text)));
        }
        (!text.is_empty()).then(|| Self::Good(Cell::Text(shared.text(text))))
    }

    /// The text of a text cell.
    pub(super) fn as_text(&self) -> Option<&str> {
        match self {
            Self::Good(Cell::Text(text)) => Some(text),
            _ => None,
        }
    }
}

/// Error values of spreadsheet programs as text, and the hashes of a column that is too narrow.
fn is_error(text: &str) -> bool {
    const ERRORS: [&str; 9] = [
        "#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!", "#SPILL!", "#CALC!",
    ];
    let marked = text.starts_with('#') && (ERRORS.contains(&text) || is_too_narrow(text));
    let numbered = text.strip_prefix("Err:").is_some_and(|n| n.len() == 3);
    marked || numbered
}

/// `####`, as a column shows that is too narrow for its numbers.
pub(super) fn is_too_narrow(text: &str) -> bool {
    text.len() > 2 && text.bytes().all(|b| b == b'#')
}

impl RawRow {
    /// The cell in a column from 0.
    pub(super) fn at(&self, column: u32) -> Option<&RawCell> {
        let found = self.cells.binary_search_by_key(&column, |(c, _)| *c).ok()?;
        self.cells.get(found).map(|(_, cell)| cell)
    }
}

/// Keeps one copy of texts that return again and again: suppliers, materials, units.
#[derive(Debug, Default)]
pub(super) struct Shared {
    seen: HashSet<Arc<str>>,
}

impl Shared {
    /// Longer texts are notes, which rarely return.
    const LONGEST: usize = 64;
    /// So many different texts are names of single things; more are not worth remembering.
    const MOST: usize = 50_000;

    /// The text, shared with the last one alike.
    pub(super) fn text(&mut self, text: &str) -> Arc<str> {
        if text.len() > Self::LONGEST {
            return Arc::from(text);
        }
        if let Some(known) = self.seen.get(text) {
            return Arc::clone(known);
        }
        let new: Arc<str> = Arc::from(text);
        if self.seen.len() < Self::MOST {
            self.seen.insert(Arc::clone(&new));
        }
        new
    }
}
