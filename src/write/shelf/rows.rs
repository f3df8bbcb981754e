//! Rows of the library with everything that there is to say about each figure.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::known::LibraryRef;
use crate::model::library::folded;
use crate::units::show::grouped_plain;

/// A table of the library.
#[derive(Clone, Debug)]
pub struct ShelfTable {
    /// Its name, as `materials`.
    pub name: &'static str,
    /// What it holds, in words.
    pub about: &'static str,
    /// The sheet of a job that its export can be pasted into.
    pub pastes_into: Option<&'static str>,
    /// Its rows, in the order of the library.
    pub rows: Vec<ShelfRow>,
}

/// A row of the library.
#[derive(Clone, Debug)]
pub struct ShelfRow {
    /// Its key, as `compost`.
    pub key: Arc<str>,
    /// Its name.
    pub name: Arc<str>,
    /// What kind it is: a material's category, what a task is counted by, how lumber is sawn.
    pub kind: String,
    /// Rows of one group have the same figures.
    pub group: &'static str,
    /// Other names, or the crops of a class.
    pub also: Vec<Arc<str>>,
    /// What a caution says; else empty.
    pub words: Arc<str>,
    /// Its figures.
    pub figures: Vec<ShelfFigure>,
}

/// A figure of the library.
#[derive(Clone, Debug)]
pub struct ShelfFigure {
    /// Its column in the library, as `wet_down_pct`.
    pub column: &'static str,
    /// What it is.
    pub label: &'static str,
    /// The same above a narrow column.
    pub short: &'static str,
    /// Its value in `unit`; `None` for a caution without a number.
    pub value: Option<Decimal>,
    /// Least and most, in `unit`.
    pub range: Option<(Decimal, Decimal)>,
    /// The unit.
    pub unit: String,
    /// A source in which it was seen, or that it is typical.
    pub basis: String,
    /// `published`, `typical-range` or `assumption`.
    pub confidence: String,
    /// Whether it was seen in the source, or computed.
    pub is_seen: bool,
    /// The cell of a job for it, in words.
    pub yours: String,
}

impl ShelfTable {
    /// The rows that speak of `word`, in name, key, other names or kind, without regard to case.
    #[must_use]
    pub fn about(mut self, word: &str) -> Self {
        let word = folded(word);
        self.rows.retain(|row| row.speaks_of(&word));
        self
    }

    /// A figure by its reference.
    pub fn figure(&self, at: &LibraryRef) -> Option<&ShelfFigure> {
        let row = self.rows.iter().find(|row| row.key == at.key)?;
        row.figures.iter().find(|f| f.column == at.column)
    }
}

impl ShelfRow {
    fn speaks_of(&self, folded_word: &str) -> bool {
        let own = [&*self.key, &*self.name, &*self.kind];
        let also = self.also.iter().map(|name| &**name);
        own.into_iter()
            .chain(also)
            .any(|text| folded(text).contains(folded_word))
    }
}

impl ShelfFigure {
    /// `1,000 lb/yd3`; nothing for a caution without a number.
    pub fn with_unit(&self) -> String {
        match (self.value, &*self.unit) {
            (None, _) => String::new(),
            (Some(value), "%") => format!("{}%", grouped_plain(value, 6)),
            (Some(value), unit) => format!("{} {unit}", grouped_plain(value, 6)),
        }
    }

    /// `800 to 1,350`; nothing when there is no range.
    pub fn range_words(&self) -> String {
        match self.range {
            Some((low, high)) => format!("{} to {}", grouped_plain(low, 6), grouped_plain(high, 6)),
            None => String::new(),
        }
    }
}
