//! One built-in table: rows read by column title, every slip reported with its line and column.
//!
//! A slip here is a mistake of this program and never the user's, so each one is a bug.

use std::str::FromStr;
use std::sync::Arc;

use csv::StringRecord;
use rust_decimal::Decimal;

use crate::model::library::{Backing, Checked};
use crate::problem::Problem;

/// A mistake in a table; boxed because problems are large and slips are rare.
pub(super) struct Slip(Box<Problem>);

/// What was read, or the slip in the way.
pub(super) type Read<T> = Result<T, Slip>;

/// A row of a built-in table.
pub(super) struct TableRow<'a> {
    file: &'a str,
    line: u64,
    head: &'a StringRecord,
    cells: StringRecord,
}

/// Every row of `text` that `parse` understands; the others become problems.
pub(super) fn rows<T>(
    file: &str,
    text: &str,
    problems: &mut Vec<Problem>,
    parse: impl Fn(&TableRow) -> Read<T>,
) -> Vec<T> {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let head = match reader.headers() {
        Ok(head) => head.clone(),
        Err(error) => {
            problems.push(*broken(file, &error).0);
            return Vec::new();
        }
    };
    let mut found = Vec::new();
    for record in reader.into_records() {
        let parsed = record
            .map_err(|error| broken(file, &error))
            .and_then(|cells| {
                let line = cells.position().map_or(0, csv::Position::line);
                parse(&TableRow {
                    file,
                    line,
                    head: &head,
                    cells,
                })
            });
        match parsed {
            Ok(row) => found.push(row),
            Err(slip) => problems.push(*slip.0),
        }
    }
    found
}

fn broken(file: &str, error: &csv::Error) -> Slip {
    let problem = Problem::bug(format!("a built-in table cannot be read: {error}"))
        .place(format!("templates/library/{file}"));
    Slip(Box::new(problem))
}

impl TableRow<'_> {
    /// A cell that must hold something.
    pub(super) fn text(&self, column: &str) -> Read<Arc<str>> {
        match self.cell(column)? {
            "" => Err(self.slip(column, "must not be empty")),
            text => Ok(text.into()),
        }
    }

    /// A cell that may be empty.
    pub(super) fn words(&self, column: &str) -> Read<Arc<str>> {
        Ok(self.cell(column)?.into())
    }

    /// A cell of names between semicolons; none when it is empty.
    pub(super) fn names(&self, column: &str) -> Read<Vec<Arc<str>>> {
        let names = self.cell(column)?.split(';').map(str::trim);
        Ok(names.filter(|n| !n.is_empty()).map(Arc::from).collect())
    }

    /// A number that must be there and not below zero.
    pub(super) fn number(&self, column: &str) -> Read<Decimal> {
        self.optional(column)?
            .ok_or_else(|| self.slip(column, "must hold a number"))
    }

    /// A number not below zero, or nothing.
    pub(super) fn optional(&self, column: &str) -> Read<Option<Decimal>> {
        match self.cell(column)? {
            "" => Ok(None),
            text => Decimal::from_str(text)
                .ok()
                .filter(|number| !number.is_sign_negative())
                .map(Some)
                .ok_or_else(|| self.slip(column, "must hold a number that is not below zero")),
        }
    }

    /// A share in percent, from 0 to 100.
    pub(super) fn percent(&self, column: &str) -> Read<Decimal> {
        let share = self.number(column)?;
        if share > Decimal::ONE_HUNDRED {
            return Err(self.slip(column, "must be a percentage from 0 to 100"));
        }
        Ok(share)
    }

    /// Low, typical and high, which must stand in that order.
    pub(super) fn range(
        &self,
        low: &str,
        typical: &str,
        high: &str,
    ) -> Read<(Decimal, Decimal, Decimal)> {
        let range = (self.number(low)?, self.number(typical)?, self.number(high)?);
        if range.0 <= range.1 && range.1 <= range.2 {
            return Ok(range);
        }
        Err(self.slip(typical, "must lie between low and high"))
    }

    /// A word of a closed list.
    pub(super) fn word<T>(&self, column: &str, known: impl Fn(&str) -> Option<T>) -> Read<T> {
        known(self.cell(column)?).ok_or_else(|| self.slip(column, "holds a word that is not known"))
    }

    /// Source, confidence and whether the source was seen.
    pub(super) fn backing(&self) -> Read<Backing> {
        let confidence = self.text("confidence")?;
        if !matches!(&*confidence, "published" | "typical-range" | "assumption") {
            return Err(self.slip("confidence", "holds a word that is not known"));
        }
        Ok(Backing {
            source: self.text("source")?,
            confidence,
            checked: self.word("checked", |word| match word {
                "read" => Some(Checked::Read),
                "computed" => Some(Checked::Computed),
                "recalled" => Some(Checked::Recalled),
                _ => None,
            })?,
        })
    }

    fn cell(&self, column: &str) -> Read<&str> {
        self.column(column)
            .and_then(|index| self.cells.get(index))
            .map(str::trim)
            .ok_or_else(|| self.slip(column, "is missing"))
    }

    fn column(&self, title: &str) -> Option<usize> {
        self.head.iter().position(|head| head == title)
    }

    fn slip(&self, column: &str, what: &str) -> Slip {
        let index = self.column(column).map_or(0, |index| index + 1);
        let holds = self.column(column).and_then(|index| self.cells.get(index));
        let problem = Problem::bug(format!("{column} of a built-in table {what}"))
            .place(format!(
                "templates/library/{}:{}:{index}",
                self.file, self.line
            ))
            .holds(holds.unwrap_or_default());
        Slip(Box::new(problem))
    }
}
