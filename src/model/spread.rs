//! How far a typed figure may turn out to lie from what was typed.

use rust_decimal::Decimal;

/// The least and the greatest that a figure may come to, in the unit of its own cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spread {
    /// Least.
    pub low: Decimal,
    /// Greatest.
    pub high: Decimal,
}
