//! Blocks on curves: segmental units follow one, straight blocks only where mortar fills their gaping joints.

use rust_decimal::Decimal;

use super::Stack;
use super::bond::{Bond, Course};
use crate::model::block::BlockMake;
use crate::model::frame::Laid;
use crate::takeoff::angle::{PI, tangent};
use crate::takeoff::bill::Bill;
use crate::takeoff::curved::Curved;
use crate::takeoff::faces::Faces;
use crate::takeoff::walls::{ROUND, cannot};
use crate::units::{Length, round};

/// The bond of a wall on a curve; `None` after a problem was told.
pub(super) fn bond(
    bill: &mut Bill<'_>,
    stack: &Stack<'_>,
    faces: &Faces,
    curved: Curved,
) -> Option<Bond> {
    let course = match stack.size.make {
        BlockMake::Segmental => segmental(bill, stack, faces, curved)?,
        BlockMake::Hollow | BlockMake::Solid => straight(bill, stack, curved)?,
    };
    Some(Bond {
        first: vec![course],
        second: vec![course],
    })
}

/// The tightest radius of an outline and the number of its corners.
fn tightest(curved: Curved) -> (Length, u32) {
    match curved {
        Curved::Circle { radius } | Curved::RoundEnded { radius, .. } => (radius, 0),
        Curved::Quarter { radius, .. } => (radius, 3),
        Curved::Keyhole { radius, .. } => (radius, 4),
        // An ellipse bends most at the ends of its long axis, by b2 / a.
        Curved::Ellipse { along, across } => {
            let (long, short) = (along.max(across), along.min(across));
            (short.times(short.ratio(long)), 0)
        }
    }
}

/// Units side by side on the outside face, the last one cut when they do not come out.
fn segmental(
    bill: &mut Bill<'_>,
    stack: &Stack<'_>,
    faces: &Faces,
    curved: Curved,
) -> Option<Course> {
    let (radius, corners) = tightest(curved);
    let least = stack.wall.limits.least_radius.value;
    if radius < least {
        let units = bill.units;
        let why = format!(
            "segmental units follow a radius of {} or more (Least radius), the outside here bends by {}",
            units.length(least),
            units.length(radius)
        );
        cannot(bill, stack.frame, &why, ROUND);
        return None;
    }
    let round = stack.unit.fit(faces.outside.perimeter(), 1)?;
    let cut = round.half.saturating_add(round.cut);
    // At a corner both end units are cut to the angle.
    let at_corners = corners.saturating_mul(2).min(round.whole);
    Some(Course {
        whole: round.whole.saturating_sub(at_corners),
        half: 0,
        cut: cut.saturating_add(at_corners),
        saw: cut.saturating_add(at_corners),
    })
}

/// Straight blocks as the sides of a regular outline: `n` of them round an inside radius `r` leave joints of
/// `2 r tan(180/n) - length` inside and, round the outside radius `R`, of `2 R tan(180/n) - length` outside.
fn straight(bill: &mut Bill<'_>, stack: &Stack<'_>, curved: Curved) -> Option<Course> {
    let unit = stack.unit;
    let units = bill.units;
    let Curved::Circle { radius } = curved else {
        let why =
            "straight blocks follow no curve but a wide ring, where tapered segmental units do";
        cannot(bill, stack.frame, why, ROUND);
        return None;
    };
    let inner = radius - unit.depth;
    // Joints open towards the outside as the radius grows.
    let gap = unit.module().times(radius.ratio(inner)) - unit.length;
    let widest = stack.wall.limits.widest_joint.value;
    if stack.wall.laid.value == Laid::Mortared && gap <= widest {
        return Some(closed(stack, radius, inner));
    }
    let gaping = format!(
        "straight blocks {} long gape by {} at the outside of a ring {} across",
        units.length(unit.length),
        units.length(gap),
        units.length(radius.times(Decimal::TWO))
    );
    let why = match stack.wall.laid.value {
        Laid::Dry => format!("{gaping} and are laid dry; tapered segmental units can be"),
        Laid::Mortared => {
            let across = least_across(stack, widest);
            format!(
                "{gaping}, and mortar fills at most {}: a ring must be {} across for them",
                units.length(widest),
                units.length(across)
            )
        }
    };
    cannot(bill, stack.frame, &why, ROUND);
    None
}

/// As many blocks as have room inside, their joints opened evenly to close the ring, or two of them cut to close
/// it where the joints would get too wide for that.
fn closed(stack: &Stack<'_>, outer: Length, inner: Length) -> Course {
    let unit = stack.unit;
    let side = |radius: Length, n: u32| {
        let half_turn = PI.checked_div(Decimal::from(n)).unwrap_or_default();
        radius.times(Decimal::TWO).times(tangent(half_turn))
    };
    let circle = inner.times(Decimal::TWO).times(PI).ratio(unit.module());
    let mut count = u32::try_from(round::step_down(circle, Decimal::ONE)).unwrap_or(0);
    // The sides stand outside the circle, so that one more can find room.
    while side(inner, count.saturating_add(1)) >= unit.module() {
        count = count.saturating_add(1);
    }
    if side(outer, count) - unit.length <= stack.wall.limits.widest_joint.value {
        return Course {
            whole: count,
            ..Course::default()
        };
    }
    Course {
        whole: count.saturating_sub(1),
        half: 0,
        cut: 2,
        saw: 2,
    }
}

/// The least ring on which the outer joint is no wider: `R (length + joint) / (R - depth) - length = widest`.
fn least_across(stack: &Stack<'_>, widest: Length) -> Length {
    let unit = stack.unit;
    let play = widest - unit.joint;
    let radius = unit.depth.times((widest + unit.length).ratio(play));
    radius.times(Decimal::TWO)
}
