//! Beds without walls.

use rust_decimal::Decimal;

use super::Reading;
use crate::model::frame::Mound;
use crate::model::known::Known;

/// The sides of a row's mound.
pub(super) fn read(reading: &mut Reading<'_, '_>) -> Mound {
    Mound {
        side_slope: side_slope(reading).unwrap_or(bare().side_slope),
    }
}

/// A mound of which nothing is known.
pub(super) fn bare() -> Mound {
    let slope = Decimal::new(15, 1);
    Mound {
        side_slope: Known::assumed(slope, "not set, taken as 1.5 run for 1 rise"),
    }
}

fn side_slope(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let known = reading.known_number("Side slope")?;
    if known.value <= Decimal::ZERO || known.value > Decimal::TEN {
        let hint = "write the run for each rise of 1, as 1.5";
        reading.complain(
            "Side slope",
            "Side slope must be more than 0 and at most 10",
            hint,
        );
        return None;
    }
    Some(known)
}
