//! What goes into and between blocks: filling of cells, mortar, bars, adhesive.

use rust_decimal::Decimal;

use super::bond::Course;
use super::{Stack, Stood};
use crate::model::frame::{Bars, Laid};
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::walls::pour::pour_in;
use crate::takeoff::walls::wall_base::middle;
use crate::units::{Amount, Length, round};

/// The cap units of a wall.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Caps {
    pub(super) units: Course,
    pub(super) length: Length,
    /// Across the rim.
    pub(super) width: Length,
    /// The joint below them in mortar.
    pub(super) joint: Length,
}

/// Fills the cells of every block.
pub(super) fn cores(bill: &mut Bill<'_>, stack: &Stack<'_>, stood: &Stood) {
    let Some(core) = stack.wall.core else {
        return;
    };
    let cells = stack.size.bulk().times(stack.size.cells);
    let net = cells.times(stood.all.bulk());
    pour_in(bill, core, Part::CoreFill, net);
    bill.work(Driver::BlockCore, Decimal::from(stood.all.units()));
}

/// A full bed joint below each block and a full joint at one end of it, though the webs of hollow block
/// get none: what is squeezed out and dropped takes about as much. Caps lie on a full bed.
pub(super) fn mortar(bill: &mut Bill<'_>, stack: &Stack<'_>, stood: &Stood, caps: &Caps) {
    let Some(mortar) = stack.wall.mortar else {
        return;
    };
    let size = stack.size;
    let faces = size.length * size.depth + size.height * size.depth;
    let below_caps = (caps.length * caps.width).filled_to(caps.joint);
    let net = faces.filled_to(size.joint).times(stood.all.bulk()) + below_caps;
    pour_in(bill, mortar, Part::Mortar, net);
}

/// Upright bars as high as the wall with its buried courses, and bars all round in some courses.
pub(super) fn bars(
    bill: &mut Bill<'_>,
    stack: &Stack<'_>,
    stood: &Stood,
    faces: &Faces,
    sticks: &Sticks,
) {
    let Some(bars) = &stack.wall.bars else {
        return;
    };
    if stack.wall.core.is_none() {
        let words = "bars stand loose in a wall whose cells are not filled";
        let hint = "name the grout that holds them in Core fill";
        bill.tell_frame(
            stack.frame,
            Problem::caution(words).hint(hint),
            "Bar material",
        );
    }
    let round = middle(bill, faces);
    let mut count = 0;
    if let Some(every) = &bars.every {
        let upright = u32::try_from(round::whole_up(round.ratio(every.value))).unwrap_or(u32::MAX);
        let height = stack.rise().times(Decimal::from(stood.most_courses));
        bill.cut(bars.material, height, "upright bar", upright);
        count = upright;
    }
    if let Some(courses) = &bars.courses {
        let times = stood.courses.checked_div(courses.value).unwrap_or(0).max(1);
        count = u32::saturating_add(count, along(bill, bars, round, times, sticks));
    }
    bill.work(Driver::Bar, Decimal::from(count));
    let all = bill.length_of(bars.material, &["upright bar", "bar along"]);
    let length = Amount::Length(all);
    bill.need(bars.material, Part::Bar, length, length);
}

/// Bars all round: as few as the longest stick allows, each longer by a lap; returns how many.
fn along(bill: &mut Bill<'_>, bars: &Bars, round: Length, times: u32, sticks: &Sticks) -> u32 {
    let lap = bars.lap.value;
    let parts = match sticks.longest(bars.material) {
        Some(longest) if longest > lap => round::whole_up(round.ratio(longest - lap)),
        _ => Decimal::ONE,
    };
    let each = round.split(parts) + lap;
    let count = u32::try_from(parts)
        .unwrap_or(u32::MAX)
        .saturating_mul(times);
    bill.cut(bars.material, each, "bar along", count);
    count
}

/// Two beads on every dry block but those of the top course, and two below the caps.
pub(super) fn adhesive(bill: &mut Bill<'_>, stack: &Stack<'_>, stood: &Stood, caps: &Caps) {
    let Some(adhesive) = &stack.wall.adhesive else {
        return;
    };
    let between = match stack.wall.laid.value {
        Laid::Mortared => Length::ZERO,
        Laid::Dry => {
            let joints = stood.all.bulk() - stood.course.bulk();
            stack.size.length.times(joints.max(Decimal::ZERO))
        }
    };
    let beads = (between + caps.length).times(Decimal::TWO);
    let tubes = beads.ratio(adhesive.bead.value);
    let order = tubes.saturating_mul(bill.with_waste(adhesive.material));
    bill.need(
        adhesive.material,
        Part::Adhesive,
        Amount::Count(tubes),
        Amount::Count(order),
    );
}
