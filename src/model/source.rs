//! Where every value came from: the tables as read, and places in words.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::sheet::Sheet;
use crate::problem::Spot;

/// A row of the input: which table, and the row in its file, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowAt {
    /// Index into [`Sources::tables`].
    pub table: u16,
    /// Row in the file, from 0.
    pub row: u32,
}

/// What a cell held.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing, or only white space.
    Empty,
    /// Text, trimmed.
    Text(Arc<str>),
    /// A number, cleaned to 15 significant digits; `percent` when its format shows a percentage.
    Number {
        /// The stored number (0.15 for a cell that shows 15%).
        value: Decimal,
        /// Whether the cell's format shows it as a percentage.
        percent: bool,
    },
    /// A date.
    Date(Date),
    /// A truth value.
    Bool(bool),
}

/// Whether places in a table are spoken of as cells or as lines of text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// `job.xlsx!Beds!D7`
    Workbook,
    /// `Beds.csv:7:4`
    Text,
}

/// One column of a table as found.
#[derive(Clone, Debug)]
pub struct SourceColumn {
    /// Column in the file, from 0.
    pub index: u32,
    /// The header as typed.
    pub title: Arc<str>,
    /// The canonical column title that it was recognised as.
    pub field: Option<&'static str>,
}

/// One row of a table; cells stand in the order of [`SourceTable::columns`].
#[derive(Clone, Debug)]
pub struct SourceRow {
    /// Row in the file, from 0.
    pub row: u32,
    /// One cell a column.
    pub cells: Vec<Cell>,
}

/// One sheet or CSV file as read.
#[derive(Clone, Debug)]
pub struct SourceTable {
    /// Which of the job's sheets it is; `None` for one that was not recognised.
    pub sheet: Option<Sheet>,
    /// File name without folders.
    pub file: Arc<str>,
    /// Sheet name as typed; the file stem for CSV.
    pub label: Arc<str>,
    /// How places are spoken of.
    pub form: Form,
    /// Columns in file order.
    pub columns: Vec<SourceColumn>,
    /// Rows in file order, blank ones left out.
    pub rows: Vec<SourceRow>,
}

/// All tables of one job.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    /// In the order read.
    pub tables: Vec<SourceTable>,
}

impl Sources {
    /// The place of a cell in words, `None` when the table is unknown.
    pub fn place(&self, spot: Spot) -> Option<String> {
        let table = self.tables.get(usize::from(spot.row.table))?;
        Some(table.place(spot.row.row, table.column_of(spot.field)))
    }

    /// The same for a row and a canonical column title.
    pub fn place_of(&self, row: RowAt, field: &'static str) -> Option<String> {
        self.place(Spot { row, field })
    }

    /// What the cell holds, as text.
    pub fn held(&self, spot: Spot) -> Option<String> {
        let table = self.tables.get(usize::from(spot.row.table))?;
        let column = table
            .columns
            .iter()
            .position(|c| c.field == Some(spot.field))?;
        let found = table
            .rows
            .binary_search_by_key(&spot.row.row, |r| r.row)
            .ok()?;
        Some(table.rows.get(found)?.cells.get(column)?.text())
    }

    /// The sheet that a row stands on.
    pub fn sheet_of(&self, row: RowAt) -> Option<Sheet> {
        self.tables.get(usize::from(row.table))?.sheet
    }

    /// The tables that were recognised as `sheet`, with their index.
    pub fn of(&self, sheet: Sheet) -> impl Iterator<Item = (u16, &SourceTable)> {
        let indexed = self.tables.iter().enumerate();
        indexed
            .filter(move |(_, t)| t.sheet == Some(sheet))
            .map(|(i, t)| (u16::try_from(i).unwrap_or(u16::MAX), t))
    }
}

impl SourceTable {
    /// The column in the file, from 0, of a canonical title.
    pub fn column_of(&self, field: &str) -> Option<u32> {
        let mut columns = self.columns.iter();
        columns.find(|c| c.field == Some(field)).map(|c| c.index)
    }

    /// What every place in this table begins with: `job.xlsx!Beds!`, or `Beds.csv:`.
    pub fn place_begins(&self) -> String {
        match self.form {
            Form::Workbook => format!("{}!{}!", self.file, self.label),
            Form::Text => format!("{}:", self.file),
        }
    }

    /// The place of a cell: `job.xlsx!Beds!D7`, or `Beds.csv:7:4` (line and column, from 1).
    pub fn place(&self, row: u32, column: Option<u32>) -> String {
        let (line, begins) = (row.saturating_add(1), self.place_begins());
        match (self.form, column) {
            (Form::Workbook, Some(c)) => format!("{begins}{}", a1(row, c)),
            (Form::Text, Some(c)) => format!("{begins}{line}:{}", c.saturating_add(1)),
            (_, None) => format!("{begins}{line}"),
        }
    }
}

impl Cell {
    /// The cell as a person would read it.
    pub fn text(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) => text.to_string(),
            Self::Number {
                value,
                percent: true,
            } => format!(
                "{}%",
                value.saturating_mul(Decimal::ONE_HUNDRED).normalize()
            ),
            Self::Number { value, .. } => value.normalize().to_string(),
            Self::Date(date) => date.to_string(),
            Self::Bool(true) => "yes".to_owned(),
            Self::Bool(false) => "no".to_owned(),
        }
    }

    /// Whether there is nothing in it.
    pub fn is_empty(&self) -> bool {
        matches!(self, Self::Empty)
    }
}

/// A cell's name in a spreadsheet, from row and column counted from 0: `A1`, `AA1`, `XFD1048576`.
pub fn a1(row: u32, column: u32) -> String {
    format!("{}{}", column_letters(column), u64::from(row) + 1)
}

/// A column's letters, from 0: `A`, `Z`, `AA`.
pub fn column_letters(column: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = u64::from(column) + 1;
    while rest > 0 {
        let digit = u8::try_from((rest - 1) % 26).unwrap_or(0);
        letters.push(char::from(b'A' + digit));
        rest = (rest - 1) / 26;
    }
    letters.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_named_as_spreadsheets_name_them() {
        assert_eq!(a1(0, 0), "A1");
        assert_eq!(a1(0, 25), "Z1");
        assert_eq!(a1(6, 26), "AA7");
        assert_eq!(a1(0, 701), "ZZ1");
        assert_eq!(a1(1_048_575, 16_383), "XFD1048576");
    }
}
