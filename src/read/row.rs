//! One row of a recognised table, read by column title.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::open::{Opened, Way};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceTable};
use crate::problem::Problem;
use crate::units::parse::{Context, Unit};
use crate::units::{Amount, Area, Density, Hours, Length, System, Volume, Weight};

/// A row with typed access by canonical column title.
///
/// An accessor returns `None` for an empty cell and for one that it could not read; in the second
/// case it has told a problem that names the cell.
#[derive(Clone, Copy, Debug)]
pub struct Row<'a> {
    /// The table it stands in.
    pub table: &'a SourceTable,
    /// Where it stands.
    pub at: RowAt,
    /// Its cells, in the order of the table's columns.
    pub cells: &'a [Cell],
    way: &'a Way,
    system: System,
}

/// The rows of every table that was recognised as `sheet`, in the order read.
pub fn rows(opened: &Opened, sheet: Sheet) -> impl Iterator<Item = Row<'_>> {
    let tables = opened.sources.of(sheet).zip(&opened.ways);
    tables.flat_map(move |((index, table), way)| {
        table.rows.iter().map(move |row| Row {
            table,
            at: RowAt {
                table: index,
                row: row.row,
            },
            cells: &row.cells,
            way,
            system: opened.system,
        })
    })
}

impl<'a> Row<'a> {
    /// The cell, `Empty` when there is no such column.
    pub fn raw(&self, field: &'static str) -> &'a Cell {
        let _ = field;
        &Cell::Empty
    }

    /// Whether the cell holds anything.
    pub fn has(&self, field: &'static str) -> bool {
        !self.raw(field).is_empty()
    }

    /// Whether the cell was already reported (an error value, a formula without a result), so
    /// that a second problem about its emptiness would only confuse.
    pub fn spoilt(&self, field: &'static str) -> bool {
        let _ = (field, &self.way.spoilt);
        false
    }

    /// The unit in the column's header.
    pub fn header_unit(&self, field: &'static str) -> Option<Unit> {
        let _ = (field, &self.way.units);
        None
    }

    /// What surrounds a text of this column, for reading parts of it.
    pub fn context(&self, field: &'static str) -> Context {
        Context {
            bare: self.header_unit(field),
            system: self.system,
            decimal_comma: self.way.commas,
        }
    }

    /// The cell as text; numbers, dates and truth values as a person would read them.
    pub fn text(&self, field: &'static str) -> Option<Arc<str>> {
        let _ = field;
        None
    }
}

macro_rules! accessor {
    ($($(#[$doc:meta])* $name:ident -> $kind:ty;)*) => {
        impl Row<'_> {
            $($(#[$doc])*
            pub fn $name(&self, field: &'static str, problems: &mut Vec<Problem>) -> Option<$kind> {
                let _ = (field, problems);
                None
            })*
        }
    };
}

accessor! {
    /// A length within `limit::LENGTH`.
    length -> Length;
    /// A distance within `limit::DISTANCE`.
    distance -> Length;
    /// An area.
    area -> Area;
    /// A volume.
    volume -> Volume;
    /// A weight.
    weight -> Weight;
    /// A density.
    density -> Density;
    /// An amount of any dimension.
    amount -> Amount;
    /// Hours.
    hours -> Hours;
    /// A percentage, as a fraction.
    percent -> Decimal;
    /// Money.
    money -> Decimal;
    /// A plain number.
    number -> Decimal;
    /// A whole number.
    whole -> u32;
    /// A date.
    date -> Date;
    /// Yes or no.
    yes_no -> bool;
    /// Two or three lengths in one cell; a notice says how a mixed one was read.
    size -> Vec<Length>;
}
