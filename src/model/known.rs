//! A value together with where it came from.

use std::sync::Arc;

use super::source::RowAt;

/// Where a value came from.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum From {
    /// A cell of the job: the row, and the canonical column title.
    Job(RowAt, &'static str),
    /// A figure of the trade library: `table`, `key` of the row, `column`.
    Library(LibraryRef),
    /// Taken by a rule of this program because the job is silent, in words: `not set, taken as 0%`.
    Assumed(&'static str),
}

/// A figure of the trade library.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct LibraryRef {
    /// The table, as `materials`.
    pub table: &'static str,
    /// The row's key, as `compost`.
    pub key: Arc<str>,
    /// The column, as `wet_down_pct`.
    pub column: &'static str,
}

/// A value and where it came from.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Known<T> {
    /// The value.
    pub value: T,
    /// Its origin.
    pub from: From,
}

impl<T> Known<T> {
    /// A value read from a cell of the job.
    pub fn job(value: T, at: RowAt, field: &'static str) -> Self {
        Self {
            value,
            from: From::Job(at, field),
        }
    }

    /// A value that the program takes because the job is silent; `words` say so in the Assumptions.
    pub fn assumed(value: T, words: &'static str) -> Self {
        Self {
            value,
            from: From::Assumed(words),
        }
    }

    /// A value of the trade library.
    pub fn library(value: T, table: &'static str, key: Arc<str>, column: &'static str) -> Self {
        Self {
            value,
            from: From::Library(LibraryRef { table, key, column }),
        }
    }

    /// Whether the user gave it.
    pub fn is_given(&self) -> bool {
        matches!(self.from, From::Job(..))
    }

    /// Another value with the same origin.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Known<U> {
        Known {
            value: change(self.value),
            from: self.from,
        }
    }
}
