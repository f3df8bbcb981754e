//! Beds bought whole: one unit each, set level.

use rust_decimal::Decimal;

use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::heights::Heights;
use crate::units::{Amount, Length};

/// Height of a unit, which must be given; `None` after a problem was told.
pub(super) fn heights(bill: &mut Bill<'_>) -> Option<Heights> {
    let Some(height) = bill.bed.height.filter(|h| *h > Length::ZERO) else {
        let problem =
            Problem::error("a ready-made bed needs its height").hint("give Height, as 17 in");
        bill.tell(problem, "Height");
        return None;
    };
    if bill.bed.courses.is_some() {
        let words = "a ready-made bed has no courses: Courses is not used";
        bill.tell(Problem::notice(words), "Courses");
    }
    if bill.bed.slope.is_some_and(|s| !s.fall.is_zero()) {
        let words =
            "a ready-made bed is taken as set level: Slope % changes nothing but the digging";
        bill.tell(Problem::notice(words), "Slope %");
    }
    Some(Heights::level(height))
}

/// One unit.
pub(super) fn set(bill: &mut Bill<'_>, unit: MaterialId) {
    let one = Amount::Count(Decimal::ONE);
    bill.need(unit, Part::ReadyMade, one, one);
    bill.work(Driver::Unit, Decimal::ONE);
}
