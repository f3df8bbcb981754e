//! Trims by length: over the edge of a wall, and on its corners.

use super::corners::Span;
use super::splices::{joints, parts};
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::sticks::Sticks;
use crate::units::{Amount, Length};

/// The mark of an edge trim.
pub(super) const EDGE: &str = "edge trim";
/// The mark of a corner trim.
pub(super) const CORNER: &str = "corner trim";

/// A trim over the edge of the sheets, each stretch split where no length for sale reaches.
pub(super) fn edge(bill: &mut Bill<'_>, trim: MaterialId, stretches: &[Length], sticks: &Sticks) {
    for stretch in stretches {
        let span = Span {
            from: Length::ZERO,
            to: *stretch,
        };
        for part in parts(span, &joints(span, &[], sticks.longest(trim), &[])) {
            bill.cut(trim, part, EDGE, 1);
        }
    }
    let all: Length = stretches.iter().copied().sum();
    bill.work(Driver::CapLength, all.in_metres());
    need(bill, trim, Part::Cap, EDGE);
}

/// A trim on each corner, as high as the wall stands there.
pub(super) fn corners(bill: &mut Bill<'_>, trim: MaterialId, heights: &[Length]) {
    for height in heights {
        bill.cut(trim, *height, CORNER, 1);
    }
    need(bill, trim, Part::CornerTrim, CORNER);
}

/// A waste percentage never touches what is cut: the cut list knows its offcuts.
fn need(bill: &mut Bill<'_>, trim: MaterialId, part: Part, mark: &str) {
    let length = Amount::Length(bill.length_of(trim, &[mark]));
    bill.need(trim, part, length, length);
}
