//! The example jobs, from `templates/start`: a table for each sheet, in both systems of units.
//!
//! A cell that differs between the systems holds both, US customary first: `8|2.4`. `{today}` stands
//! for the date of the prices and `{job}` for the name of the job.

use super::notes::{self, ColumnNote, Holds};
use super::{Purpose, Starter};
use crate::model::sheet::Sheet;
use crate::model::source::Cell;
use crate::units::{Decimal, System};

/// The tables of one purpose, in the order of their sheets.
macro_rules! tables_of {
    ($folder:literal: $($sheet:ident)*) => {
        &[$((
            Sheet::$sheet,
            include_str!(concat!("../../../templates/start/", $folder, "/", stringify!($sheet), ".csv")),
        )),*]
    };
}

const QUOTE: &[(Sheet, &str)] = tables_of!("quote": Job Sites Beds Areas Frames Fills Materials Prices Suppliers Deliveries Labour Workers Extras);
const GRANT: &[(Sheet, &str)] = tables_of!("grant": Job Sites Beds Frames Fills Materials Prices Suppliers Deliveries Labour Workers Extras Funding);
const SUPPLIERS: &[(Sheet, &str)] =
    tables_of!("suppliers": Job Sites Beds Frames Fills Mixes Prices Suppliers Deliveries Workers);

/// Stands for the name of the job.
const JOB: &str = "{job}";
/// Stands for the date of the prices.
const TODAY: &str = "{today}";

/// One sheet of a starter.
pub(super) struct Table {
    /// Which one.
    pub(super) sheet: Sheet,
    /// Its columns.
    pub(super) columns: Vec<Column>,
    /// Its example rows, as they are typed.
    pub(super) rows: Vec<Vec<String>>,
}

/// One column.
pub(super) struct Column {
    /// What stands above it, with its unit.
    pub(super) title: String,
    /// What it means; `None` only when the notes lack it, of which a test says that it never happens.
    pub(super) note: Option<&'static ColumnNote>,
}

impl Table {
    /// The place of a column.
    pub(super) fn column(&self, field: &str) -> Option<usize> {
        self.columns.iter().position(|c| bare(&c.title) == field)
    }

    /// What stands in a column, by row.
    pub(super) fn entries(&self, field: &str) -> impl Iterator<Item = &str> {
        let column = self.column(field);
        self.rows
            .iter()
            .filter_map(move |row| row.get(column?).map(String::as_str))
    }
}

/// The tables of a starter.
pub(super) fn tables(starter: &Starter<'_>) -> Vec<Table> {
    let texts = match starter.purpose {
        Purpose::Quote => QUOTE,
        Purpose::Grant => GRANT,
        Purpose::Suppliers => SUPPLIERS,
    };
    let table = |(sheet, text): &(Sheet, &str)| {
        let mut rows = notes::records(text)
            .into_iter()
            .map(|row| row.iter().map(|cell| filled(cell, starter)).collect());
        let titles: Vec<String> = rows.next().unwrap_or_default();
        let column = |title: String| Column {
            note: notes::of(*sheet, bare(&title)),
            title,
        };
        Table {
            sheet: *sheet,
            columns: titles.into_iter().map(column).collect(),
            rows: rows.collect(),
        }
    };
    texts.iter().map(table).collect()
}

/// A cell in the system of the starter.
fn filled(cell: &str, starter: &Starter<'_>) -> String {
    let (us, metric) = cell.split_once('|').unwrap_or((cell, cell));
    let cell = match starter.system {
        System::UsCustomary => us,
        System::Metric => metric,
    };
    match cell {
        JOB => starter.job.to_owned(),
        TODAY => starter.today.to_string(),
        other => other.to_owned(),
    }
}

/// A title without its unit.
pub(super) fn bare(title: &str) -> &str {
    title.split(" (").next().unwrap_or(title)
}

/// What is typed, as a cell of a workbook.
pub(super) fn typed(text: &str, holds: Holds) -> Cell {
    let number = || Some(plain(text.parse().ok()?));
    let percent = || {
        let number: Decimal = text.strip_suffix('%')?.parse().ok()?;
        let value = number.checked_div(Decimal::ONE_HUNDRED)?;
        Some(Cell::Number {
            value,
            percent: true,
        })
    };
    let found = match holds {
        _ if text.is_empty() => Some(Cell::Empty),
        Holds::Words => None,
        Holds::Number | Holds::Money => number(),
        Holds::Percent => percent(),
        Holds::Any => percent().or_else(number),
        Holds::Date => text.parse().ok().map(Cell::Date),
    };
    found.unwrap_or_else(|| Cell::Text(text.into()))
}

fn plain(value: Decimal) -> Cell {
    Cell::Number {
        value,
        percent: false,
    }
}
