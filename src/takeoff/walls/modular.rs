//! Walls of modules that are bolted to each other: whole modules, corner pieces and bolts by count.
//!
//! A straight run takes whole modules between its corner pieces, a circle or a half-round end whole
//! curved ones. Modules are never cut, so a run that does not come out is a problem that names the two
//! nearest lengths that do.

use rust_decimal::Decimal;

use super::modular_runs::{Ring, ring};
use super::{caps, fasteners, modular_steps, trims};
use crate::model::frame::{Frame, ModularWall};
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Length, round};

/// A height this near to whole modules is whole: 1/8 in.
const NEAR: Length = Length::metres(Decimal::from_parts(3175, 0, 0, false, 6));

/// Height of the wall, which stands level, and how many modules stand above each other.
pub(super) fn heights(bill: &mut Bill<'_>, wall: &ModularWall) -> Option<(Heights, u32)> {
    let Some(high) = bill.bed.height.filter(|h| *h > Length::ZERO) else {
        let problem =
            Problem::error("a bed of modules needs its height").hint("give Height, as 17 in");
        bill.tell(problem, "Height");
        return None;
    };
    if bill.bed.slope.is_some_and(|s| !s.fall.is_zero()) {
        let words = "modules are taken as set level, the high side dug in: Slope % changes nothing but the digging";
        bill.tell(Problem::notice(words), "Slope %");
    }
    let module = bill.material(wall.module)?;
    let Some(each) = module.panel.width.as_ref().map(|known| known.value) else {
        return Some((Heights::level(high), 1));
    };
    let tiers = round::half_away(high.ratio(each), 0).max(Decimal::ONE);
    let built = each.times(tiers);
    if built - high > NEAR || high - built > NEAR {
        let below = high.ratio(each).floor();
        let heights = nearest(bill, below, |n| each.times(n));
        let words = format!(
            "a wall {} high is no whole number of modules of {}, which are {} high",
            bill.units.length(high),
            module.name,
            bill.units.length(each)
        );
        let hint = format!("make it {heights}");
        bill.tell(Problem::error(words).hint(hint), "Height");
        return None;
    }
    let tiers = u32::try_from(tiers).unwrap_or(u32::MAX);
    Some((Heights::level(high), tiers))
}

/// The two lengths round one that does not come out; the lower one is left out when it is none.
pub(super) fn nearest(
    bill: &Bill<'_>,
    below: Decimal,
    length: impl Fn(Decimal) -> Length,
) -> String {
    let above = bill
        .units
        .length(length(below.saturating_add(Decimal::ONE)));
    if below < Decimal::ONE {
        return above;
    }
    format!("{} or {above}", bill.units.length(length(below)))
}

/// Everything that the walls take.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &ModularWall),
    faces: &Faces,
    (heights, tiers): (&Heights, u32),
    sticks: &Sticks,
    trace: &mut impl Trace,
) {
    let Some(mut ring) = ring(bill, (frame, wall), &faces.outside) else {
        return;
    };
    let ends = ring.leave(bill, wall.module);
    let tiers = Decimal::from(tiers);
    let straight = ring.straight.saturating_mul(tiers);
    bill.need_whole(wall.module, Part::Panel, straight);
    let curved = ring.curved.saturating_mul(tiers);
    bill.need_whole(ring.curve, Part::Panel, curved);
    if let Some(corner) = wall.corner {
        let corners = ring.corners.saturating_mul(tiers);
        bill.need_whole(corner, Part::CornerPiece, corners);
    }
    // Pieces in a ring have as many joints as there are pieces, those between two neighbours one more.
    let lines = ring.pieces().saturating_add(ends).saturating_mul(tiers);
    show(&ring, ends, tiers, lines, trace);
    if let Some(cap) = wall.cap {
        let stretches: Vec<Length> = match faces.outside.runs() {
            Some(runs) => bill.shared.own_lengths(&runs),
            None => vec![faces.outside.perimeter()],
        };
        trims::edge(bill, cap, &stretches, sticks);
    }
    brace(bill, (frame, wall), faces, heights);
    fasteners::fasten(
        bill,
        (wall.fastener, &wall.per_joint),
        (lines, "lines of bolts"),
        trace,
    );
    bill.work(Driver::ModularBed, Decimal::ONE);
    bill.work(Driver::BoltLine, lines);
    bill.weigh_pieces(None);
    modular_steps::note(bill, wall, &faces.outside, &ring, (tiers, lines));
}

fn brace(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &ModularWall),
    faces: &Faces,
    heights: &Heights,
) {
    let Some(braces) = &wall.braces else {
        return;
    };
    let planes = (&faces.outside, &faces.inside);
    caps::brace(bill, frame, braces, planes, heights.high);
    let length = Amount::Length(bill.length_of(braces.material, &["brace"]));
    bill.need(braces.material, Part::Brace, length, length);
    bill.work(Driver::Cut, Decimal::from(bill.count_of(&["brace"])));
}

fn show(ring: &Ring, ends: Decimal, tiers: Decimal, lines: Decimal, trace: &mut impl Trace) {
    let modules = ring.straight.saturating_add(ring.curved);
    trace.step(
        "modules",
        || format!("{modules} round the bed x {tiers}"),
        || modules.saturating_mul(tiers).normalize().to_string(),
    );
    trace.step(
        "lines of bolts",
        || {
            let corners = ring.corners;
            let mut pieces = format!("{modules} modules + {corners} corner pieces");
            if !ends.is_zero() {
                pieces = format!("{pieces} + {ends} at a shared wall");
            }
            format!("({pieces}) x {tiers}")
        },
        || lines.normalize().to_string(),
    );
}
