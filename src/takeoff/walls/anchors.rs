//! Anchors of timber walls: timbers that run back from the wall into what it holds, each with a
//! crosspiece at its end.
//!
//! They stand on falling ground where the wall is as high as one row of them is for, and anywhere when
//! the frame says how far apart they are. Along a run they part it into equal bays, and the corners hold
//! themselves. A wall twice as high has two rows.

use rust_decimal::Decimal;

use super::posts;
use crate::model::bed::Base;
use crate::model::frame::{Anchors, Frame, TimberWall};
use crate::model::labour::Driver;
use crate::model::material::Section;
use crate::problem::Problem;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::geometry::Run;
use crate::takeoff::heights::Heights;
use crate::units::Length;

/// Cuts the anchors of one bed and their crosspieces; returns how many there are.
pub(super) fn set(
    bill: &mut Bill<'_>,
    (frame, wall, laid): (&Frame, &TimberWall, &Section),
    faces: &Faces,
    heights: &Heights,
    runs: &[Run],
) -> u32 {
    let anchors = &wall.anchors;
    if heights.low < anchors.tier.value {
        return 0;
    }
    if !wanted(bill, frame, anchors, heights) {
        return 0;
    }
    let mut count: u32 = 0;
    for (i, run) in runs.iter().enumerate() {
        if bill.shared.is_whole(i) {
            continue;
        }
        let Some(places) = posts::evenly(run.length, anchors.every.value) else {
            let words = "this distance asks for more anchors than any run has";
            bill.tell_frame(frame, Problem::error(words), "Anchor every");
            return 0;
        };
        let own = bill.shared.length(i);
        for place in places.into_iter().filter(|place| *place > own) {
            let slope = bill.bed.slope;
            let height = posts::wall_at(&faces.outside, slope, heights, i, place, run.length);
            count = count.saturating_add(rows(anchors, height));
        }
    }
    if count > 0 {
        let reach = reach(bill, frame, anchors, faces);
        bill.cut(wall.timber, reach + laid.thickness, "anchor", count);
        bill.cut(wall.timber, anchors.cross.value, "crosspiece", count);
        bill.work(Driver::Anchor, Decimal::from(count));
    }
    count
}

/// Rows of anchors in a wall of that height: one for each whole tier of it.
fn rows(anchors: &Anchors, height: Length) -> u32 {
    let rows = height.tidy().ratio(anchors.tier.value).floor();
    u32::try_from(rows).unwrap_or(0)
}

/// Whether a wall this high gets anchors; says so where it should have some and has none.
fn wanted(bill: &mut Bill<'_>, frame: &Frame, anchors: &Anchors, heights: &Heights) -> bool {
    if bill.bed.base != Base::OpenGround {
        return false;
    }
    let falls = bill.bed.slope.is_some_and(|s| !s.fall.is_zero());
    let wanted = falls || anchors.every.is_given();
    if !wanted {
        let units = bill.units;
        let words = format!(
            "the wall of bed {} is {} high and has no anchors: against a bank a timber wall of {} or more leans out without them",
            bill.bed.name,
            units.length(heights.high),
            units.length(anchors.tier.value)
        );
        let problem = Problem::caution(words)
            .hint("write Anchor every, as 6 ft, where it stands against a bank");
        bill.tell_frame(frame, problem, "Anchor every");
    }
    wanted
}

/// How far an anchor reaches: no further than the middle of the bed, where those of the other side come.
fn reach(bill: &mut Bill<'_>, frame: &Frame, anchors: &Anchors, faces: &Faces) -> Length {
    let (length, width) = faces.inside.extent();
    let half = length.min(width).split(Decimal::TWO);
    let asked = anchors.length.value;
    if asked <= half {
        return asked;
    }
    let units = bill.units;
    let words = format!(
        "anchors of bed {} reach {} to the middle of it, not {}",
        bill.bed.name,
        units.length(half),
        units.length(asked)
    );
    bill.tell_frame(frame, Problem::notice(words), "Anchor length");
    half
}
