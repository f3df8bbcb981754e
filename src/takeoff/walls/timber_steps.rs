//! What the crew does to build a wall of timbers, in order, with the measures of the bed.

use super::timbers::Courses;
use crate::model::frame::{Lie, TimberWall};
use crate::model::material::{MaterialId, Section};
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::heights::Heights;

/// Notes the steps of one bed whose timbers are all on its bill.
pub(super) fn note(
    bill: &mut Bill<'_>,
    (wall, laid): (&TimberWall, &Section),
    faces: &Faces,
    heights: &Heights,
    courses: Courses,
    anchors: u32,
) {
    let units = bill.units;
    let name = bill.job.material_name(wall.timber);
    let lie = match wall.lie.value {
        Lie::Flat => "flat",
        Lie::OnEdge => "on edge",
    };
    let number = heights.courses_in_words();
    bill.note(format!(
        "set {name} {lie}: {number}, each {} high, {} of timber round {}; level the first one dead true, since every other follows it",
        units.length(laid.face),
        units.length(courses.length),
        units.length(faces.outside.perimeter() - bill.shared.total()),
    ));
    if courses.joints > 0 {
        bill.note("keep joints apart: none stands above one of the course below".to_owned());
    }
    let kerf = units.length(bill.job.settings.timber_kerf.value);
    bill.note(format!(
        "the cut list takes {kerf} for each cut through a timber"
    ));
    if let Some(pins) = &wall.pins {
        bill.note(format!(
            "pin every timber at both ends and at most every {} with pins of {}: {} into the ground, {} into the course below",
            units.length(pins.every.value),
            units.length(pins.length.value),
            courses.ground_pins,
            courses.pins,
        ));
    }
    if anchors > 0 {
        bill.note(format!(
            "dig in {anchors} anchors: {}, each with a crosspiece: {}",
            bill.terms(&["anchor"]),
            bill.terms(&["crosspiece"]),
        ));
    }
}

/// Notes the cap, whose pieces are on the bill.
pub(super) fn note_cap(bill: &mut Bill<'_>, cap: MaterialId) {
    let name = bill.job.material_name(cap);
    let terms = bill.terms(&["cap"]);
    bill.note(format!("lay the cap of {name}, mitred: {terms}"));
}
