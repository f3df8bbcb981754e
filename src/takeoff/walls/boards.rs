//! Walls of boards on edge: courses of runs, their joints, posts, caps, braces and fasteners.
//!
//! On falling ground the boards hang from the level rim, and the low side gets more courses. A
//! rectangle gets each extra course on its low end and on both sides, counted in full length though it
//! tapers out against the ground; the high end gets none. Any other outline gets the extra courses
//! on every run, because nothing says which of its corners lies low.

use rust_decimal::Decimal;

use super::board_steps::{self, WALLS};
use super::corners::{Span, spans};
use super::splices::{joints, near, parts, staggered};
use super::{ROUND, cannot, caps, ends, fasteners, posts};
use crate::model::bed::Along;
use crate::model::frame::{BoardWall, Braces, Frame};
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::{Figure, Run};
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Length};

/// What was counted of a wall while its boards were taken off.
#[derive(Clone, Copy, Debug, Default)]
struct Joints {
    /// Board ends at corners, and boards passing or ending at posts along the runs.
    held: Decimal,
    /// Corner joints, one a corner and course.
    corners: Decimal,
    /// Posts that were added for splices.
    added: u32,
    /// Boards joined without a post behind.
    loose: u32,
    /// Length of the boards of the top course.
    top: Length,
}

/// Everything made of boards, and what holds it together.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &BoardWall),
    faces: &Faces,
    heights: &Heights,
    sticks: &Sticks,
    trace: &mut impl Trace,
) {
    let Some(runs) = faces.outside.runs() else {
        cannot(bill, frame, "boards cannot follow a curve", ROUND);
        return;
    };
    let Some(joints) = walls(bill, (frame, wall), faces, heights, &runs, sticks) else {
        return;
    };
    bill.work(Driver::Board, Decimal::from(bill.count_of(&WALLS)));
    bill.work(Driver::CornerJoint, joints.corners);
    if heights.ripped.is_some() {
        bill.work(Driver::Rip, joints.top.in_metres());
    }
    if let Some(cap) = wall.cap {
        caps::lay(bill, frame, cap, &faces.outside, &runs, sticks);
    }
    let braces = match &wall.braces {
        Some(braces) => caps::brace(
            bill,
            frame,
            braces,
            (&faces.outside, &faces.inside),
            heights.high,
        ),
        None => 0,
    };
    tell_splices(bill, frame, &joints);
    lumber_needs(bill, wall);
    show_lumber(bill, wall.board, trace);
    let brace_ends = Decimal::from(braces).saturating_mul(Decimal::TWO);
    let held = joints.held.saturating_add(brace_ends);
    fasteners::fasten(
        bill,
        (wall.fastener, &wall.per_joint),
        (held, "board ends"),
        trace,
    );
    if let Some(treatment) = wall.end_treatment {
        ends::treat(bill, treatment);
    }
    bill.work(Driver::Cut, Decimal::from(bill.count()));
    bill.weigh_pieces(None);
    board_steps::note(bill, wall, &faces.outside, heights);
}

/// How many courses a run has: the extra ones of the low side on all runs but a rectangle's high end.
pub(super) fn courses_of(bill: &Bill<'_>, figure: &Figure, heights: &Heights, run: usize) -> u32 {
    let high_end = match bill.bed.slope.map(|s| s.along) {
        Some(Along::Length) => 3,
        Some(Along::Width) => 0,
        None => return heights.courses,
    };
    if matches!(figure, Figure::Rectangle { .. }) && run == high_end {
        heights.courses
    } else {
        heights.low_courses
    }
}

/// What the crew calls a run.
pub(super) fn mark_of(figure: &Figure, run: &Run) -> &'static str {
    match figure {
        Figure::Rectangle { length, width } if length == width => "side",
        Figure::Rectangle { length, width } if run.length == (*length).max(*width) => "long side",
        Figure::Rectangle { .. } => "short side",
        _ => "side",
    }
}

/// Boards and posts, run by run.
fn walls(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &BoardWall),
    faces: &Faces,
    heights: &Heights,
    runs: &[Run],
    sticks: &Sticks,
) -> Option<Joints> {
    let figure = &faces.outside;
    let rule = wall.corner.value;
    let first = spans(figure, runs, rule, faces.thickness, false);
    let second = spans(figure, runs, rule, faces.thickness, true);
    let longest = sticks.longest(wall.board);
    let mut all = Joints::default();
    let mut posted = Vec::with_capacity(runs.len());
    for (i, (run, spans)) in runs.iter().zip(first.into_iter().zip(second)).enumerate() {
        if bill.shared.is_whole(i) {
            posted.push((*run, Vec::new()));
            continue;
        }
        let own = bill.shared.length(i);
        let stands = match &wall.posts {
            Some(posts) => posts::along(bill, frame, posts, run, own)?,
            None => Vec::new(),
        };
        let spans = (spans.0.after(own), spans.1.after(own));
        let side = Side {
            board: wall.board,
            has_posts: wall.posts.is_some(),
            mark: mark_of(figure, run),
            courses: courses_of(bill, figure, heights, i),
            stands,
            longest,
        };
        let places = side.boards(bill, frame, spans, &mut all)?;
        posted.push((*run, places));
    }
    all.corners = corner_joints(figure, heights, runs.len());
    if let Some(posts) = &wall.posts {
        posts::set(bill, figure, heights, posts, &posted);
    }
    Some(all)
}

/// One a corner and course; a rectangle's extra courses meet only at the two corners of its low end.
fn corner_joints(figure: &Figure, heights: &Heights, runs: usize) -> Decimal {
    let corners = Decimal::from(u32::try_from(runs).unwrap_or(u32::MAX));
    let low = if matches!(figure, Figure::Rectangle { .. }) {
        Decimal::TWO
    } else {
        corners
    };
    let extra = heights.low_courses.saturating_sub(heights.courses);
    corners
        .saturating_mul(Decimal::from(heights.courses))
        .saturating_add(low.saturating_mul(Decimal::from(extra)))
}

/// One run of a wall.
struct Side {
    board: MaterialId,
    has_posts: bool,
    mark: &'static str,
    courses: u32,
    stands: Vec<Length>,
    longest: Option<Length>,
}

impl Side {
    /// Cuts the boards of all courses; returns the places of all posts along the run.
    fn boards(
        &self,
        bill: &mut Bill<'_>,
        frame: &Frame,
        (first, second): (Span, Span),
        all: &mut Joints,
    ) -> Option<Vec<Length>> {
        if first.length() <= Length::ZERO || second.length() <= Length::ZERO {
            bill.tell_frame(frame, eaten(), "Material");
            return None;
        }
        let one = joints(first, &self.stands, self.longest, &[]);
        let other = staggered(second, &self.stands, self.longest, &one);
        all.top += first.length();
        let (odd, even) = (self.courses.div_ceil(2), self.courses / 2);
        let mut places = self.stands.clone();
        for (span, joints, courses) in [(first, &one, odd), (second, &other, even)] {
            for part in parts(span, joints) {
                bill.cut(self.board, part, self.mark, courses);
            }
            if courses > 0 {
                places.extend(joints.iter().filter(|j| !near(**j, &self.stands)));
            }
        }
        self.count(&one, &other, &places, all);
        Some(places)
    }

    /// Counts what holds this run: an end at each corner, one for each post passed, two at each splice.
    fn count(&self, one: &[Length], other: &[Length], places: &[Length], all: &mut Joints) {
        let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let splices = number(one.len())
            .saturating_mul(self.courses.div_ceil(2))
            .saturating_add(number(other.len()).saturating_mul(self.courses / 2));
        let passed = if self.has_posts {
            number(places.len()).saturating_mul(self.courses)
        } else {
            all.loose = all.loose.saturating_add(splices);
            splices
        };
        let ends = self.courses.saturating_mul(2);
        let held = ends.saturating_add(passed).saturating_add(splices);
        all.held = all.held.saturating_add(Decimal::from(held));
        if self.has_posts {
            let added = number(places.len().saturating_sub(self.stands.len()));
            all.added = all.added.saturating_add(added);
        }
    }
}

fn tell_splices(bill: &mut Bill<'_>, frame: &Frame, joints: &Joints) {
    if joints.added > 0 {
        let words = format!(
            "runs longer than the longest stick are spliced on posts, and {} {} added for that",
            joints.added,
            if joints.added == 1 {
                "post is"
            } else {
                "posts are"
            },
        );
        bill.tell(Problem::notice(words), "Frame");
    }
    if joints.loose > 0 {
        let words = format!(
            "{} boards are spliced where no post stands, because frame {} has no posts",
            joints.loose, frame.name
        );
        let problem =
            Problem::caution(words).hint("give the frame a post material, or longer sticks");
        bill.tell_frame(frame, problem, "Post material");
    }
}

/// The lengths of boards and posts, each piece with its number.
fn show_lumber(bill: &Bill<'_>, board: MaterialId, trace: &mut impl Trace) {
    let units = bill.units;
    trace.step(
        "length of boards",
        || bill.terms(&WALLS),
        || units.length(bill.length_of(board, &WALLS)),
    );
    trace.step(
        "posts",
        || bill.terms(&["post"]),
        || bill.count_of(&["post"]).to_string(),
    );
}

/// The lengths as needs. A waste percentage never touches them: the cut list knows its offcuts.
fn lumber_needs(bill: &mut Bill<'_>, wall: &BoardWall) {
    let mut whole = |material: MaterialId, part: Part, marks: &[&str]| {
        let length = Amount::Length(bill.length_of(material, marks));
        bill.need(material, part, length, length);
    };
    whole(wall.board, Part::Board, &WALLS);
    if let Some(posts) = &wall.posts {
        whole(posts.material, Part::Post, &["post"]);
    }
    if let Some(cap) = wall.cap {
        whole(cap, Part::Cap, &["cap"]);
    }
    if let Some(Braces { material, .. }) = wall.braces {
        whole(material, Part::Brace, &["brace"]);
    }
}
