//! Input sheets as ledger blocks: what was typed stands in the estimate again, so that a price exists
//! once and the workbook can be read back as a job.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::super::ledger::{Column, Format, Ledger, Role, Value};
use super::super::term::ColRef;
use crate::model::library::folded;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceColumn, SourceTable, Sources};
use crate::units::parse::{Unit, unit};

/// An input sheet on its way into the ledger.
pub(super) struct Echo {
    /// Index of the block.
    pub block: u16,
    /// The block's row of each input row.
    pub rows: BTreeMap<RowAt, usize>,
    columns: Vec<EchoColumn>,
}

struct EchoColumn {
    /// The title as it is compared, kept because a table can have thousands of columns.
    key: String,
    field: Option<&'static str>,
    at: ColRef,
}

/// Columns that nothing rests on, so that editing them makes nothing stale.
const WORDS_ONLY: &[&str] = &[
    "Note",
    "Contact",
    "Account",
    "Terms",
    "Address",
    "Client sees",
    "Funder",
    "Budget class",
    "Their name",
    "Listed at",
    "Low",
    "High",
];

impl Echo {
    /// Puts the rows of `sheet` into a new block, with `extra_rows` empty rows below them.
    pub(super) fn new(
        ledger: &mut Ledger,
        sources: &Sources,
        sheet: Sheet,
        extra_rows: usize,
    ) -> Self {
        let tables: Vec<(u16, &SourceTable)> = sources.of(sheet).collect();
        let typed: usize = tables.iter().map(|(_, t)| t.rows.len()).sum();
        let block = ledger.block(sheet.title(), "", typed.saturating_add(extra_rows));
        let mut echo = Self {
            block,
            rows: BTreeMap::new(),
            columns: Vec::new(),
        };
        let mut first = 0;
        for (index, table) in &tables {
            for (offset, row) in table.rows.iter().enumerate() {
                let at = RowAt {
                    table: *index,
                    row: row.row,
                };
                echo.rows.insert(at, first + offset);
            }
            echo.take(ledger, table, first, true);
            first += table.rows.len();
        }
        // Columns that are only carried along stand right of those that are read.
        let mut first = 0;
        for (_, table) in &tables {
            echo.take(ledger, table, first, false);
            first += table.rows.len();
        }
        echo.columns_of_words(ledger);
        echo
    }

    /// Columns without a number are words, which stand at the left.
    fn columns_of_words(&self, ledger: &mut Ledger) {
        for own in &self.columns {
            if let Some(column) = ledger.column_mut(own.at)
                && !column.values.iter().any(|v| matches!(v, Value::Number(_)))
            {
                column.format = Format::Text;
            }
        }
    }

    /// Takes over the columns of a table that are read, or those that are not, from row `first` on.
    fn take(&mut self, ledger: &mut Ledger, table: &SourceTable, first: usize, read: bool) {
        let columns = table.columns.iter().enumerate();
        for (place, source) in columns.filter(|(_, c)| c.field.is_some() == read) {
            let key = folded(&source.title);
            let alike = self.columns.iter().find(|c| c.is_for(source, &key));
            let found = alike.map(|c| (c.at, c.key == key));
            let (at, same) =
                found.unwrap_or_else(|| (self.add(ledger, &source.title, source.field), true));
            // A column stands under the title of its first table: cells of a table that has another
            // unit in its title take that unit with them.
            let unit = if same {
                None
            } else {
                unit_in_title(&source.title)
            };
            let Some(column) = ledger.column_mut(at) else {
                continue;
            };
            for (offset, row) in table.rows.iter().enumerate() {
                if let (Some(cell), Some(value)) =
                    (row.cells.get(place), column.values.get_mut(first + offset))
                {
                    *value = unit.map_or_else(|| shown(cell), |unit| with_unit(cell, unit));
                }
            }
        }
    }

    fn add(
        &mut self,
        ledger: &mut Ledger,
        title: &Arc<str>,
        field: Option<&'static str>,
    ) -> ColRef {
        let role = match field {
            Some(field) if !WORDS_ONLY.contains(&field) => Role::Fixed,
            _ => Role::Label,
        };
        let values = vec![Value::Empty; ledger.rows(self.block)];
        let at = ledger.column(
            self.block,
            Column::plain(title, Format::Number(6), role, values),
        );
        self.columns.push(EchoColumn {
            key: folded(title),
            field,
            at,
        });
        at
    }

    /// The column of a field, made when the job does not have it.
    pub(super) fn field(&mut self, ledger: &mut Ledger, field: &'static str) -> ColRef {
        let found = self
            .columns
            .iter()
            .find(|c| c.field == Some(field))
            .map(|c| c.at);
        found.unwrap_or_else(|| self.add(ledger, &field.into(), Some(field)))
    }

    /// Turns the column of a field into cells meant for change, under `title` and with these numbers.
    pub(super) fn given(
        &mut self,
        ledger: &mut Ledger,
        (field, title): (&'static str, &str),
        format: Format,
        numbers: impl IntoIterator<Item = (usize, Option<Decimal>)>,
    ) -> ColRef {
        let at = self.field(ledger, field);
        if let Some(column) = ledger.column_mut(at) {
            column.title = title.into();
            column.format = format;
            column.role = Role::Given;
            for (row, number) in numbers {
                if let Some(value) = column.values.get_mut(row) {
                    *value = number.map_or(Value::Empty, Value::number);
                }
            }
        }
        at
    }

    /// The block's row of an input row.
    pub(super) fn row(&self, at: RowAt) -> Option<usize> {
        self.rows.get(&at).copied()
    }
}

impl EchoColumn {
    fn is_for(&self, source: &SourceColumn, key: &str) -> bool {
        match source.field {
            Some(field) => self.field == Some(field),
            None => self.field.is_none() && self.key == key,
        }
    }
}

/// The unit that a title ends in: `Length (ft)`, `length_ft`, `Volume limit cu yd`.
fn unit_in_title(title: &str) -> Option<&str> {
    let title = title.trim().trim_end_matches([')', ']']);
    let ends = title.char_indices().filter_map(|(at, c)| {
        let is_end = c.is_whitespace() || matches!(c, '(' | '[' | '_' | ',' | '/' | '-');
        let tail = title.get(at.checked_add(c.len_utf8())?..)?.trim();
        (is_end && !tail.is_empty()).then_some(tail)
    });
    let mut ends = ends.filter(|tail| {
        let named = unit(&tail.replace('_', " "));
        named.is_some_and(|unit| unit != Unit::Each)
    });
    ends.next()
}

/// A bare number with the unit of its title; anything else says itself what it is.
fn with_unit(cell: &Cell, unit: &str) -> Value {
    let bare = |text: &str| {
        let mut marks = text.chars();
        marks.all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' '))
    };
    let number = match shown(cell) {
        Value::Number(number) => number.normalize().to_string(),
        Value::Text(text) if bare(&text) => text.to_string(),
        other => return other,
    };
    Value::text(&format!("{number} {}", unit.replace('_', " ")))
}

/// A cell as it stands in the estimate: text that is a plain number becomes one.
pub(super) fn shown(cell: &Cell) -> Value {
    match cell {
        Cell::Empty => Value::Empty,
        Cell::Text(text) => {
            plain_number(text).map_or_else(|| Value::Text(text.clone()), Value::number)
        }
        Cell::Number {
            value,
            percent: false,
        } => Value::number(*value),
        Cell::Number { percent: true, .. } | Cell::Date(_) | Cell::Bool(_) => {
            Value::text(&cell.text())
        }
    }
}

/// The number that a text is in its plainest form: no sign but minus, no zeros that could be left out
/// (a bed may be called 1.10), at most 15 digits.
fn plain_number(text: &str) -> Option<Decimal> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, part) = digits.split_once('.').unwrap_or((digits, "0"));
    let all_digits = |t: &str| !t.is_empty() && t.bytes().all(|b| b.is_ascii_digit());
    let leading_zero = whole.len() > 1 && whole.starts_with('0');
    if !all_digits(whole) || !all_digits(part) || leading_zero || digits.len() > 15 {
        return None;
    }
    let number: Decimal = text.parse().ok()?;
    (number.normalize().to_string() == text).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_numbers_are_numbers_and_codes_stay_text() {
        assert_eq!(plain_number("12.5"), Some(Decimal::new(125, 1)));
        assert_eq!(plain_number("-3"), Some(Decimal::from(-3)));
        for text in [
            "00123",
            "1E5",
            "inf",
            "8 ft",
            "",
            ".5",
            "1.",
            "1,234",
            "1.10",
            "1234567890123456",
        ] {
            assert_eq!(plain_number(text), None, "{text}");
        }
    }
}
