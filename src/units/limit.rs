//! Named limits of what a cell may hold, each with the words that a problem needs.
//!
//! They are wide enough for any real job and narrow enough that no product of inputs can leave the
//! range of a decimal: the largest chain (count x volume x price) stays below 1e25, and 28 digits reach 7.9e28.

use rust_decimal::Decimal;

/// One limit: the thing, the least and the most of it, and the unit they are in.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// What is limited, as it begins a sentence.
    pub what: &'static str,
    /// Least accepted number.
    pub least: Decimal,
    /// Greatest accepted number.
    pub most: Decimal,
    /// The unit in words, empty for a plain number.
    pub unit: &'static str,
}

const fn upto(what: &'static str, most: u32, unit: &'static str) -> Limit {
    Limit {
        what,
        least: Decimal::ZERO,
        most: Decimal::from_parts(most, 0, 0, false, 0),
        unit,
    }
}

/// A length along a wall or a depth.
pub const LENGTH: Limit = upto("a length", 1_000, "m");
/// A distance to haul or travel.
pub const DISTANCE: Limit = upto("a distance", 10_000_000, "m");
/// How many alike.
pub const COUNT: Limit = upto("a count", 1_000_000, "");
/// A price, fee, wage or sum of money.
pub const PRICE: Limit = upto("a price", 1_000_000_000, "");
/// A volume in one cell.
pub const VOLUME: Limit = upto("a volume", 1_000_000, "m3");
/// An area in one cell.
pub const AREA: Limit = upto("an area", 1_000_000, "m2");
/// A weight in one cell.
pub const WEIGHT: Limit = upto("a weight", 1_000_000_000, "kg");
/// A density.
pub const DENSITY: Limit = upto("a density", 25_000, "kg/m3");
/// A flow of water.
pub const FLOW: Limit = upto("a flow", 1_000_000, "L/h");
/// A pressure of water.
pub const PRESSURE: Limit = upto("a pressure", 10_000, "kPa");
/// A percentage, as a percentage.
pub const PERCENT: Limit = upto("a percentage", 1_000, "%");
/// Hours in one cell.
pub const HOURS: Limit = upto("hours", 1_000_000, "h");
/// Parts, rates and other plain numbers.
pub const NUMBER: Limit = upto("a number", 1_000_000_000, "");

impl Limit {
    /// Whether `number`, in the limit's unit, is within it.
    pub fn holds(&self, number: Decimal) -> bool {
        number >= self.least && number <= self.most
    }

    /// The limit as words: `a length must be from 0 to 1,000 m`.
    pub fn words(&self) -> String {
        let most = super::show::grouped(self.most, 0);
        let text = format!(
            "{} must be from {} to {most} {}",
            self.what, self.least, self.unit
        );
        text.trim_end().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_says_itself() {
        assert_eq!(LENGTH.words(), "a length must be from 0 to 1,000 m");
        assert_eq!(COUNT.words(), "a count must be from 0 to 1,000,000");
        assert!(!LENGTH.holds(Decimal::from(-1)));
    }
}
