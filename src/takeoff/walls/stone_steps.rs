//! What the crew does to build a wall of stone, in order, with the measures of the bed.

use super::stone::Measures;
use crate::model::frame::{Laid, StoneWall};
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::heights::Heights;

/// Notes the steps of one bed.
pub(super) fn note(
    bill: &mut Bill<'_>,
    wall: &StoneWall,
    faces: &Faces,
    heights: &Heights,
    measures: &Measures,
) {
    let units = bill.units;
    let name = bill.job.material_name(wall.stone);
    let high = if heights.low > heights.high {
        let (high, low) = (units.length(heights.high), units.length(heights.low));
        format!("{high} to {low} high with the rim level")
    } else {
        format!("{} high", units.length(heights.high))
    };
    bill.note(format!(
        "set the largest stones of {name} first, on line: {} round, {} thick where the wall stands",
        units.length(faces.outside.perimeter() - bill.shared.total()),
        units.length(faces.thickness),
    ));
    let lean = faces.thickness - measures.top;
    let face = if lean.is_zero() {
        "both faces upright".to_owned()
    } else {
        format!(
            "the outside leaning in by {} to a rim {} thick, the inside upright",
            units.length(lean),
            units.length(measures.top)
        )
    };
    bill.note(format!("build it {high}, {face}"));
    if !lean.is_zero() && !bill.shared.borne().is_zero() {
        bill.note("build the stretch that serves two beds with both faces upright".to_owned());
    }
    bill.note(
        match wall.laid.value {
            Laid::Dry => {
                "lay every stone over a joint and with its length into the wall, pack the heart tight as you go, and tie both faces with a long stone every yard or metre"
            }
            Laid::Mortared => {
                "wet the stones, fill every joint, leave weep holes in the lowest course and put gravel behind them"
            }
        }
        .to_owned(),
    );
    bill.note(format!(
        "{} of face, {} of stone",
        units.area(measures.face),
        units.weight(measures.stone)
    ));
    if let Some(cap) = wall.cap {
        let name = bill.job.material_name(cap);
        let rim = units.length(measures.rim);
        bill.note(format!("bed the cap of {name} level: {rim}"));
    }
}
