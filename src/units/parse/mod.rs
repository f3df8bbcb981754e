//! Text to quantities: the ways in which the trade writes lengths, volumes, weights and money.
//!
//! Nothing here knows a cell. What cannot be read comes back as a [`Wrong`], a sentence without its
//! subject, which the reader of a row completes with the column's title and the cell.

mod accents;
mod counts;
mod dates;
mod examples;
mod figure;
#[cfg(test)]
mod laws;
mod measure;
mod money;
mod plain;
mod remarks;
mod sides;
mod size;
mod slips;
mod spanish;
mod spellings;
#[cfg(test)]
mod tests;
mod unit;
mod words;

pub(crate) use accents::without_accents;
pub use counts::count;
pub use dates::{DateOrder, date, date_evidence};
pub(crate) use dates::{serial, serial_wrong};
pub use figure::{Commas, comma_evidence, number};
pub(crate) use measure::{NEEDS_UNIT, amount_of_number, measured, of_number, unit_in};
pub use measure::{amount, area, density, length, volume, weight};
pub use money::{currencies, currency_named, money};
pub use plain::{hours, percent, whole, yes_no};
pub(crate) use plain::{percent_of_number, whole_of_number};
pub(crate) use remarks::turned_into_date;
pub use remarks::{is_nothing, is_open, remark};
pub use sides::{Side, side_said};
pub use size::{SizeRead, sides, size, size_read};
pub use unit::{Measures, Unit, unit};

use super::System;

/// Why a text is not the quantity that was asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// The sentence without its subject: `needs a unit`.
    pub sentence: String,
    /// What to write instead.
    pub hint: String,
}

impl Wrong {
    pub(crate) fn new(sentence: impl Into<String>, hint: impl Into<String>) -> Self {
        Self {
            sentence: sentence.into(),
            hint: hint.into(),
        }
    }
}

/// What surrounds a text and helps to read it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Context {
    /// The unit that the column's header gives to bare numbers.
    pub bare: Option<Unit>,
    /// The job's system of units, which decides what a `ton` is.
    pub system: System,
    /// What a comma means in the numbers of this file.
    pub decimal_comma: Commas,
}
