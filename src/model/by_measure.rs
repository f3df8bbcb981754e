//! Prices by a measure: boards by the foot or the board foot, sheets by the square, in place of by the piece.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::material::Section;
use crate::units::round::tidy15;
use crate::units::{Length, Volume};

/// Inches that a board counts at least as thick: under one inch it is sold as one inch.
const LEAST_INCHES: Decimal = Decimal::ONE;
/// Sides of a section named in bare numbers are inches up to here, and millimetres above: `2x10`, `47x225`.
const MOST_INCHES: Decimal = Decimal::from_parts(16, 0, 0, false, 0);
/// A board foot is a foot long, an inch thick and twelve inches wide.
const TWELVE: Decimal = Decimal::from_parts(12, 0, 0, false, 0);

/// A unit of measure by which pieces are priced.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PriceUnit {
    /// A foot of length, whatever the section (linear or lineal foot).
    Foot,
    /// A metre of length.
    Metre,
    /// A board foot: nominal inches thick x nominal inches wide / 12 x feet long.
    BoardFoot,
    /// A cubic metre of sawn timber, by the sizes that name it.
    CubicMetre,
    /// A square foot of sheet.
    SquareFoot,
    /// A square metre of sheet.
    SquareMetre,
}

impl PriceUnit {
    /// The symbol on an order.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Foot => "lf",
            Self::Metre => "m",
            Self::BoardFoot => "bf",
            Self::CubicMetre => "m3",
            Self::SquareFoot => "ft2",
            Self::SquareMetre => "m2",
        }
    }
}

/// How a price by a measure reaches the piece that is handed over.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ByMeasure {
    /// The unit.
    pub unit: PriceUnit,
    /// So many units are priced: 1, or 100 for linear feet by the hundred, 1,000 for MBF.
    pub per: Decimal,
    /// Units in one piece: 16.6666666666667 bf in a 2x10 of 10 ft.
    pub in_one: Decimal,
    /// The pack as the price row has it: `bf`.
    pub word: Arc<str>,
    /// Whether the row gives no lengths, so that the usual ones of the library are taken.
    pub usual_lengths: bool,
}

impl ByMeasure {
    /// How often a piece holds what the price is for, tidied to 15 digits as spreadsheets keep them.
    pub fn times(&self) -> Decimal {
        tidy15(self.in_one.checked_div(self.per).unwrap_or_default())
    }

    /// `100 lf` or `bf`: what the price is for.
    pub fn priced(&self) -> String {
        let symbol = self.unit.symbol();
        if self.per == Decimal::ONE {
            return symbol.to_owned();
        }
        format!(
            "{} {symbol}",
            crate::units::show::grouped_plain(self.per, 0)
        )
    }
}

/// Thickness and width by which a section is named: 2 and 10 for `2x10 rough`, 47 and 225 for `47x225`.
///
/// `None` for a section given by measured sizes, whose name holds units.
fn named(section: &Section) -> Option<(Decimal, Decimal)> {
    let name = section.nominal.replace(" rough", "");
    let (a, b) = name.split_once('x')?;
    let (a, b) = (number(a)?, number(b)?);
    Some((a.min(b), a.max(b)))
}

/// 1.25 of `5/4`.
fn number(text: &str) -> Option<Decimal> {
    match text.trim().split_once('/') {
        Some((a, b)) => number(a)?.checked_div(number(b)?),
        None => text.trim().parse().ok(),
    }
}

/// Board feet in a stick of this length; `None` when the section is not named in inches.
///
/// A board foot is nominal: a 5/4 counts 1.25 in, and what is thinner than 1 in counts as 1 in (American
/// Softwood Lumber Standard, PS 20). A 2x10 of 12 ft is 2 x 10 / 12 x 12 = 20 bf.
pub fn board_feet(section: &Section, length: Length) -> Option<Decimal> {
    let (thin, wide) = named(section).filter(|(_, wide)| *wide <= MOST_INCHES)?;
    let inches = thin.max(LEAST_INCHES).checked_mul(wide)?;
    inches.checked_mul(length.in_feet())?.checked_div(TWELVE)
}

/// Volume of a sawn stick by the sizes that name it, else by its measured section.
pub fn sawn_volume(section: &Section, length: Length) -> Volume {
    let (thin, wide) = match named(section) {
        Some((a, b)) if b <= MOST_INCHES => (Length::inches(a), Length::inches(b)),
        Some((a, b)) => (Length::millimetres(a), Length::millimetres(b)),
        None => (section.thickness, section.face),
    };
    (thin * wide).filled_to(length)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::by_hand::{d, feet, inches};

    fn section(nominal: &str) -> Section {
        Section {
            nominal: Arc::from(nominal),
            nominal_face: inches("9.25"),
            thickness: inches("1.5"),
            face: inches("9.25"),
        }
    }

    #[track_caller]
    fn check_bf(nominal: &str, long: &str, expected: Option<&str>) {
        let found = board_feet(&section(nominal), feet(long));
        assert_eq!(found.map(tidy15), expected.map(d));
    }

    #[test]
    fn a_board_foot_is_nominal() {
        // 2 x 10 / 12 x 12 = 20
        check_bf("2x10", "12", Some("20"));
        // 1.25 x 6 / 12 x 8 = 5
        check_bf("5/4x6", "8", Some("5"));
        // 6 x 8 / 12 x 8 = 32
        check_bf("6x8 rough", "8", Some("32"));
        // 3/4 in counts as 1: 1 x 6 / 12 x 8 = 4
        check_bf("3/4x6", "8", Some("4"));
        check_bf("47x225", "8", None);
        check_bf("1.5 x 9.25 in", "8", None);
    }

    #[test]
    fn sawn_timber_is_sold_by_the_sizes_that_name_it() {
        // 0.047 x 0.225 x 4.8 = 0.05076 m3
        let long = Length::metres(d("4.8"));
        let volume = sawn_volume(&section("47x225"), long);
        assert_eq!(volume.in_cubic_metres(), d("0.05076"));
        // Measured 1.5 x 9.25 in: 0.0381 x 0.23495 x 4.8 = 0.042967656 m3
        let volume = sawn_volume(&section("1.5 x 9.25 in"), long);
        assert_eq!(volume.in_cubic_metres(), d("0.042967656"));
    }
}
