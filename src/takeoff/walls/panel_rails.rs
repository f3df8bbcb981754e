//! Rails that hold sheets, from corner to corner on their inside, and braces between them.

use rust_decimal::Decimal;

use super::corners::{Span, spans};
use super::splices::{joints, parts};
use super::{caps, posts};
use crate::model::frame::{Frame, PanelWall, Rails};
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::Figure;
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::Sticks;
use crate::units::Length;

/// The mark of a rail.
pub(super) const RAIL: &str = "rail";

/// Cuts rails and braces; returns how many ends and crossings of them are fastened, `None` after a problem.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &PanelWall),
    faces: &Faces,
    heights: &Heights,
    sticks: &Sticks,
) -> Option<Decimal> {
    let (mut held, mut within) = (Decimal::ZERO, faces.inside.clone());
    if let Some(rails) = &wall.rails {
        let section = bill.material(rails.material)?.section.as_ref()?;
        let thickness = section.value.thickness;
        held = lay(bill, (frame, wall, rails), &faces.inside, thickness, sticks)?;
        let Some(inner) = faces.inside.inward(thickness) else {
            bill.tell_frame(frame, eaten(), "Rail material");
            return None;
        };
        within = inner;
    }
    let Some(braces) = &wall.braces else {
        return Some(held);
    };
    let planes = (&faces.outside, &within);
    let number = caps::brace(bill, frame, braces, planes, heights.high);
    let ends = Decimal::from(number).saturating_mul(Decimal::TWO);
    Some(held.saturating_add(ends))
}

/// Rails of all runs, joined on posts where one stands in reach.
fn lay(
    bill: &mut Bill<'_>,
    (frame, wall, rails): (&Frame, &PanelWall, &Rails),
    inside: &Figure,
    thickness: Length,
    sticks: &Sticks,
) -> Option<Decimal> {
    let runs = inside.runs()?;
    let longest = sticks.longest(rails.material);
    let number = rails.number.value;
    let mut held = Decimal::ZERO;
    let spans: Vec<Span> = spans(inside, &runs, wall.corner.value, thickness, false);
    for (i, (run, span)) in runs.iter().zip(spans).enumerate() {
        if bill.shared.is_whole(i) {
            continue;
        }
        let own = bill.shared.length(i);
        let span = span.after(own);
        if span.length() <= Length::ZERO {
            bill.tell_frame(frame, eaten(), "Rail material");
            return None;
        }
        let stands = match &wall.posts {
            Some(posts) => posts::along(bill, frame, posts, run, own)?,
            None => Vec::new(),
        };
        let joints = joints(span, &stands, longest, &[]);
        for part in parts(span, &joints) {
            bill.cut(rails.material, part, RAIL, number);
        }
        // Both ends, every post passed, and two ends at each joint.
        let each = joints.len().saturating_mul(2).saturating_add(2);
        let each = Decimal::from(each.saturating_add(stands.len()));
        held = held.saturating_add(each.saturating_mul(Decimal::from(number)));
    }
    Some(held)
}
