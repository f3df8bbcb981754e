//! What a quote has beside its overall shares: markups of single categories, overhead by the hour, a
//! discount, how the price is rounded, a tax rate to come, and the stages in which the price is paid.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::known::Known;
use super::source::RowAt;

/// A category of direct cost that may have a markup of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Marked {
    /// Order lines.
    Materials,
    /// Trips and site fees.
    Delivery,
    /// Hours at wages.
    Labour,
    /// Hire.
    Equipment,
    /// Extras that are costs.
    Other,
    /// Extras that are allowances.
    Allowances,
}

impl Marked {
    /// All of them in the order of the price.
    pub const ALL: [Self; 6] = [
        Self::Materials,
        Self::Delivery,
        Self::Labour,
        Self::Equipment,
        Self::Other,
        Self::Allowances,
    ];

    /// The line of the price whose cost it is.
    pub const fn line(self) -> &'static str {
        match self {
            Self::Materials => "materials",
            Self::Delivery => "delivery",
            Self::Labour => "labour",
            Self::Equipment => "equipment",
            Self::Other => "other",
            Self::Allowances => "allowances",
        }
    }

    /// Its name within a sentence.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Other => "other costs",
            named => named.line(),
        }
    }

    /// The setting that holds its markup.
    pub const fn setting(self) -> &'static str {
        match self {
            Self::Materials => "Materials markup %",
            Self::Delivery => "Delivery markup %",
            Self::Labour => "Labour markup %",
            Self::Equipment => "Equipment markup %",
            Self::Other => "Other markup %",
            Self::Allowances => "Allowances markup %",
        }
    }
}

/// Which way the price is rounded to its step.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the next step; never below what was worked out.
    #[default]
    Up,
    /// To the nearest step, half a step up.
    Nearest,
    /// To the step below.
    Down,
}

impl Rounding {
    /// Its word on the `Job` sheet and in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::Nearest => "nearest",
            Self::Down => "down",
        }
    }
}

/// A tax rate that is known to come into force.
#[derive(Clone, Debug)]
pub struct NewTax {
    /// The rate as a fraction.
    pub rate: Known<Decimal>,
    /// Its first day.
    pub from: Known<Date>,
}

/// What the `Job` sheet says of the quote; nothing of it for a job that says nothing.
///
/// Percentages are fractions: 0.15 for 15%.
#[derive(Clone, Debug, Default)]
pub struct Quote {
    /// Markups of single categories, in the order of [`Marked::ALL`]. Their cost is out of the base of
    /// the overall profit.
    pub markups: Vec<(Marked, Known<Decimal>)>,
    /// Overhead for each paid person-hour of the price, beside the overhead on direct cost.
    pub overhead_per_hour: Option<Known<Decimal>>,
    /// What is taken off the rounded price before tax: a share of it or a sum.
    pub discount: Option<Known<Part>>,
    /// What the discount is for, in the user's words.
    pub discount_for: Option<Arc<str>>,
    /// Which way the price is rounded; up when it is not said.
    pub rounding: Option<Known<Rounding>>,
    /// A tax rate to come.
    pub new_tax: Option<NewTax>,
}

impl Quote {
    /// Which way the price is rounded.
    pub fn rounds(&self) -> Rounding {
        self.rounding.as_ref().map_or(Rounding::Up, |r| r.value)
    }

    /// The new tax rate, when it is in force on a day.
    pub fn tax_on(&self, day: Date) -> Option<&Known<Decimal>> {
        let new = self.new_tax.as_ref()?;
        (new.from.value <= day).then_some(&new.rate)
    }
}

/// A part of the price: what a stage pays, or what a discount takes off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Part {
    /// A share of the price, as a fraction.
    Share(Decimal),
    /// A sum.
    Sum(Decimal),
    /// What the other stages leave.
    Rest,
}

/// One row of `Payments`.
#[derive(Clone, Debug)]
pub struct Payment {
    /// The row.
    pub at: RowAt,
    /// What the user calls it.
    pub stage: Arc<str>,
    /// Which part of the price.
    pub part: Known<Part>,
    /// When it is due, in words.
    pub when: Option<Arc<str>>,
}
