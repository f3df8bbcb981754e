//! Beds without walls: mounds with even side slopes.

use rust_decimal::Decimal;

use crate::model::frame::Mound;
use crate::problem::Problem;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::geometry::Figure;
use crate::takeoff::room::Room;
use crate::units::Length;

/// The mound over an outline: `Height` is its height, and its sides run `side slope` for each rise of one.
///
/// `None` after a problem was told.
pub(super) fn room(bill: &mut Bill<'_>, mound: &Mound, faces: &Faces) -> Option<Room> {
    let Some(height) = bill.bed.height.filter(|h| *h > Length::ZERO) else {
        let problem = Problem::error("a mound needs its height").hint("give Height, as 10 in");
        bill.tell(problem, "Height");
        return None;
    };
    let slope = &mound.side_slope;
    if slope.value < Decimal::ZERO {
        let words = "the side slope of a mound cannot be negative";
        bill.tell_from(&slope.from, Problem::error(words), "Frame");
        return None;
    }
    let run = height.times(slope.value);
    let Some(top) = faces.outside.inward(run) else {
        let words = format!(
            "the sides of this mound meet before it is {} high: they run {} for each rise of 1",
            bill.units.length(height),
            slope.value.normalize()
        );
        let problem = Problem::error(words).hint("make it lower, wider or steeper");
        bill.tell(problem, "Height");
        return None;
    };
    if bill.bed.slope.is_some_and(|slope| !slope.fall.is_zero()) {
        let words = "a mound is taken off as on level ground";
        let hint = "on falling ground level its foot first, and count the digging as ground work";
        bill.tell(Problem::notice(words).hint(hint), "Slope %");
    }
    note(bill, (height, run), faces, &top);
    Some(Room::Mound {
        foot: faces.outside.clone(),
        slope: slope.value,
        height,
    })
}

/// How it is heaped up.
fn note(bill: &mut Bill<'_>, (height, run): (Length, Length), faces: &Faces, top: &Figure) {
    let units = bill.units;
    bill.note(format!(
        "mark its foot on the ground, {} round",
        units.length(faces.outside.perimeter())
    ));
    bill.note(format!(
        "heap it in layers {} high; the sides lean in by {} to a level top of {}",
        units.length(height),
        units.length(run),
        units.area(top.area())
    ));
    bill.note("firm the sides with the back of a rake and cover them before the first heavy rain");
}
