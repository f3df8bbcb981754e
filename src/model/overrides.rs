//! Where a job gives a figure of its own instead of one of the trade library.

use std::fmt;
use std::sync::Arc;

use super::library::Library;
use super::sheet::Sheet;

/// What stands in a job's file over a figure of the library.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Override {
    /// The table, as `materials`.
    pub table: Arc<str>,
    /// The row's key; `None` for every row of the table.
    pub key: Option<Arc<str>>,
    /// The column; `None` for the whole row.
    pub column: Option<Arc<str>>,
    /// The sheet and its column (a setting's title on `Job`); `None` when a job has no cell for it.
    pub place: Option<(Sheet, Arc<str>)>,
    /// How that cell bears on the figure when it does not simply replace it; else empty.
    pub how: Arc<str>,
}

impl Override {
    /// Whether the cell simply takes the figure's place.
    pub fn replaces(&self) -> bool {
        self.place.is_some() && self.how.is_empty()
    }

    fn is_about(&self, table: &str, key: &str, column: &str) -> bool {
        &*self.table == table
            && self.key.as_deref().is_none_or(|k| k == key)
            && self.column.as_deref().is_none_or(|c| c == column)
    }
}

/// `Materials: Wet density`, or in words why there is no cell.
impl fmt::Display for Override {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.place {
            Some((sheet, field)) if self.how.is_empty() => write!(f, "{}: {field}", sheet.title()),
            Some((sheet, field)) => write!(f, "{}: {field}, {}", sheet.title(), self.how),
            None => f.write_str(&self.how),
        }
    }
}

impl Library {
    /// What a job has for a figure: the row that names it most closely stands first in the table.
    pub fn override_of(&self, table: &str, key: &str, column: &str) -> Option<&Override> {
        self.overrides
            .iter()
            .find(|o| o.is_about(table, key, column))
    }

    /// The figures that a cell of a job simply replaces.
    pub fn replaced_by<'a>(
        &'a self,
        sheet: Sheet,
        field: &'a str,
    ) -> impl Iterator<Item = &'a Override> {
        self.overrides.iter().filter(move |o| {
            let place = o.place.as_ref();
            o.replaces() && place.is_some_and(|(s, f)| *s == sheet && &**f == field)
        })
    }
}
