//! Beds bought whole: one unit each, set level.

use rust_decimal::Decimal;

use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::heights::Heights;
use crate::units::{Length, System};

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

/// Ground for each drain hole in the bottom, square feet: what the caution about closed bottoms says too.
const FEET_PER_DRAIN: Decimal = Decimal::TWO;

/// One unit, and how it is set.
pub(super) fn set(bill: &mut Bill<'_>, unit: MaterialId, faces: &Faces) {
    bill.need_whole(unit, Part::ReadyMade, Decimal::ONE);
    bill.work(Driver::Unit, Decimal::ONE);
    let name = bill.job.material_name(unit);
    let outside = bill.units.area(faces.outside.area());
    bill.note(format!(
        "level and firm {outside} of ground: {name} is not moved once it is filled"
    ));
    if bill.bed.closed_bottom {
        let feet = faces.inside.area().in_square_feet();
        let holes = feet.checked_div(FEET_PER_DRAIN).unwrap_or_default();
        let holes = holes.ceil().normalize();
        let drill = match bill.units {
            System::UsCustomary => "1/2 in",
            System::Metric => "12 mm",
        };
        bill.note(format!(
            "drill {holes} holes of {drill} in its bottom before it is placed, smooth their edges, and see that nothing below stops them"
        ));
    }
    let weight = bill.material(unit).and_then(|m| m.panel.weight.as_ref());
    let weight = weight.map_or(String::new(), |known| {
        format!("; it weighs {}", bill.units.weight(known.value))
    });
    bill.note(format!("set {name} level both ways{weight}"));
}
