//! Walls of timbers and sleepers: courses that lap at the corners, joints that never stand one above
//! the other, pins, anchors, and what the first course is bedded on.
//!
//! Square corners lap (or as the frame says); an outline with any other corner is mitred all round,
//! because timbers that cross at another angle leave open ends. On falling ground the courses hang
//! from the level rim, as those of boards do.

use rust_decimal::Decimal;

use super::boards::{courses_of, mark_of};
use super::corners::{Span, spans};
use super::splices::{joints, parts, staggered, without_stubs};
use super::{ROUND, anchors, cannot, caps, ends, timber_steps, wall_base};
use crate::model::bed::Base;
use crate::model::frame::{Corner, Frame, Lie, Pins, TimberWall};
use crate::model::labour::Driver;
use crate::model::material::Section;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::Run;
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Length, round};

/// Pins through each anchor: one into the wall, one into its crosspiece.
const PER_ANCHOR: u32 = 2;

/// The shortest part of a timber at the end of a run: 2 ft.
const STUB: Length = Length::metres(Decimal::from_parts(6096, 0, 0, false, 4));

/// A section as it stands in the wall: its face is the rise of a course, its thickness that of the wall.
///
/// The nominal rise of a timber laid flat is known for square ones only; others rise what they measure.
pub(super) fn laid(section: &Section, lie: Lie) -> Section {
    if lie == Lie::OnEdge || section.face == section.thickness {
        return section.clone();
    }
    Section {
        nominal: section.nominal.clone(),
        nominal_face: section.thickness,
        thickness: section.face,
        face: section.thickness,
    }
}

/// What was counted of the courses.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Courses {
    /// Length of all timbers in them.
    pub(super) length: Length,
    /// Pins into the course below.
    pub(super) pins: u32,
    /// Pins of the lowest course into the ground.
    pub(super) ground_pins: u32,
    /// Places where two timbers meet along a run.
    pub(super) joints: u32,
}

/// Everything made of timber, what holds it together and what it stands on.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall, laid): (&Frame, &TimberWall, &Section),
    faces: &Faces,
    heights: &Heights,
    sticks: &Sticks,
    trace: &mut impl Trace,
) {
    let Some(runs) = faces.outside.runs() else {
        cannot(bill, frame, "timbers cannot follow a curve", ROUND);
        return;
    };
    wall_base::dig_all(bill, wall.base.as_ref(), faces, trace);
    let Some(courses) = stack(bill, (frame, wall), faces, heights, &runs, sticks) else {
        return;
    };
    bill.work(Driver::TimberLength, courses.length.in_metres());
    let anchors = anchors::set(bill, (frame, wall, laid), faces, heights, &runs);
    let length = Amount::Length(bill.length_in(wall.timber));
    bill.need(wall.timber, Part::Timber, length, length);
    if let Some(pins) = &wall.pins {
        pin(bill, (frame, pins, laid), courses, anchors, trace);
    }
    timber_steps::note(bill, (wall, laid), faces, heights, courses, anchors);
    if let Some(cap) = wall.cap {
        let before = bill.length_in(cap);
        caps::lay(bill, frame, cap, &faces.outside, &runs, sticks);
        let length = Amount::Length(bill.length_in(cap) - before);
        bill.need(cap, Part::Cap, length, length);
        timber_steps::note_cap(bill, cap);
    }
    if let Some(treatment) = wall.end_treatment {
        ends::treat(bill, treatment);
    }
    bill.weigh_pieces(Some(wall.density.value));
}

/// The corner rule of an outline: that of the frame where every corner is square, else mitred.
fn rule(bill: &mut Bill<'_>, wall: &TimberWall, runs: &[Run]) -> Corner {
    let is_square = |run: &Run| run.start.mitre.round_dp(9) == Decimal::ONE;
    if runs.iter().all(is_square) {
        return wall.corner.value;
    }
    if wall.corner.value != Corner::Mitre {
        let words = format!(
            "timbers lap at square corners only: those of bed {} are mitred, so pin both sides of each",
            bill.bed.name
        );
        bill.tell(Problem::notice(words), "Shape");
    }
    Corner::Mitre
}

/// Cuts the timbers of every course, each marked with its course from the ground up.
fn stack(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &TimberWall),
    faces: &Faces,
    heights: &Heights,
    runs: &[Run],
    sticks: &Sticks,
) -> Option<Courses> {
    let figure = &faces.outside;
    let corner = rule(bill, wall, runs);
    let first = spans(figure, runs, corner, faces.thickness, false);
    let second = spans(figure, runs, corner, faces.thickness, true);
    let longest = sticks.longest(wall.timber);
    let mut all = Courses::default();
    for (i, (run, (first, second))) in runs.iter().zip(first.into_iter().zip(second)).enumerate() {
        if first.length() <= Length::ZERO || second.length() <= Length::ZERO {
            bill.tell_frame(frame, eaten(), "Material");
            return None;
        }
        if bill.shared.is_whole(i) {
            continue;
        }
        let own = bill.shared.length(i);
        let (first, second) = (first.after(own), second.after(own));
        // A stick gives away at most a third of itself for the sake of its neighbour.
        let stub = longest.map_or(STUB, |l| STUB.min(l.split(Decimal::from(3))));
        let one = without_stubs(first, joints(first, &[], longest, &[]), stub, &[]);
        let other = staggered(second, &[], longest, &one);
        let other = without_stubs(second, other, stub, &one);
        let courses = courses_of(bill, figure, heights, i);
        let side = mark_of(figure, run);
        for below in 0..courses {
            let (span, joints): (Span, _) = if below.is_multiple_of(2) {
                (first, &one)
            } else {
                (second, &other)
            };
            let number = heights.low_courses.saturating_sub(below);
            let mark = format!("course {number} {side}");
            for part in parts(span, joints) {
                bill.cut(wall.timber, part, &mark, 1);
                all.count(part, wall.pins.as_ref(), below.saturating_add(1) == courses);
            }
            let met = u32::try_from(joints.len()).unwrap_or(u32::MAX);
            all.joints = all.joints.saturating_add(met);
        }
    }
    Some(all)
}

impl Courses {
    /// A timber of a course; `lowest` when it lies on the ground.
    fn count(&mut self, length: Length, pins: Option<&Pins>, lowest: bool) {
        self.length += length;
        let pins = pins.map_or(0, |pins| pins_of(length, pins.every.value));
        let sum = if lowest {
            &mut self.ground_pins
        } else {
            &mut self.pins
        };
        *sum = sum.saturating_add(pins);
    }
}

/// One at each end, and between them no further apart than `every`: `ceil(length / every) + 1`.
fn pins_of(length: Length, every: Length) -> u32 {
    let bays = round::whole_up(length.ratio(every)).max(Decimal::ONE);
    u32::try_from(bays).unwrap_or(u32::MAX).saturating_add(1)
}

/// Pins of all courses and anchors. On paving or a roof none goes into what lies below.
fn pin(
    bill: &mut Bill<'_>,
    (frame, pins, laid): (&Frame, &Pins, &Section),
    courses: Courses,
    anchors: u32,
    trace: &mut impl Trace,
) {
    let open = bill.bed.base == Base::OpenGround;
    let ground = if open { courses.ground_pins } else { 0 };
    if !open {
        let words = format!(
            "bed {} does not stand on open ground: its lowest course is not pinned down, so ask what may hold it",
            bill.bed.name
        );
        bill.tell_frame(frame, Problem::notice(words), "Fastener");
    }
    let least = laid.face.times(Decimal::new(15, 1));
    if courses.pins > 0 && pins.length.value < least {
        let units = bill.units;
        let words = format!(
            "a pin of {} does not reach half way into the timber below, which takes {}",
            units.length(pins.length.value),
            units.length(least)
        );
        let problem = Problem::caution(words).hint("take longer pins");
        bill.tell_from(&pins.length.from, problem, "Frame");
    }
    bill.work(Driver::TimberPin, Decimal::from(courses.pins));
    bill.work(Driver::GroundPin, Decimal::from(ground));
    let of_anchors = anchors.saturating_mul(PER_ANCHOR);
    let count = courses
        .pins
        .saturating_add(ground)
        .saturating_add(of_anchors);
    let (count, waste) = (Decimal::from(count), bill.with_waste(pins.material));
    let order = count.saturating_mul(waste);
    trace.step(
        "pins",
        || {
            let between = courses.pins;
            format!("({between} between courses + {ground} into the ground + {of_anchors} of anchors) x {waste}")
        },
        || order.normalize().to_string(),
    );
    bill.need(
        pins.material,
        Part::Fastener,
        Amount::Count(count),
        Amount::Count(order),
    );
}
