//! Posts: one inside each corner, and along the runs no further apart than their spacing.

use rust_decimal::Decimal;

use crate::model::bed::{Along, Slope};
use crate::model::frame::{Frame, PostSide, Posts};
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::bill::Bill;
use crate::takeoff::geometry::{Figure, Run};
use crate::takeoff::heights::Heights;
use crate::units::{Length, round};

/// More posts than any one run has.
const MOST: u32 = 1_000;

/// Places of the posts along a run between its corners, evenly, from its start.
///
/// `ceil(run / spacing) - 1` of them: 8 ft at 4 ft is one in the middle. None stands where the wall is a
/// neighbour's, which is `shared` from the start.
pub(super) fn along(
    bill: &mut Bill<'_>,
    frame: &Frame,
    posts: &Posts,
    run: &Run,
    shared: Length,
) -> Option<Vec<Length>> {
    if posts.spacing.value <= Length::ZERO {
        let problem = Problem::error("posts need a spacing greater than zero").hint("write 4 ft");
        bill.tell_frame(frame, problem, "Post spacing");
        return None;
    }
    let Some(mut places) = evenly(run.length, posts.spacing.value) else {
        let words = format!("this spacing asks for more than {MOST} posts along one run");
        bill.tell_frame(frame, Problem::error(words), "Post spacing");
        return None;
    };
    places.retain(|place| *place > shared);
    Some(places)
}

/// Places that part a length into equal bays of at most `spacing`; `None` for more than any run has.
pub(super) fn evenly(length: Length, spacing: Length) -> Option<Vec<Length>> {
    let bays = round::whole_up(length.ratio(spacing)).max(Decimal::ONE);
    let bays = u32::try_from(bays).ok().filter(|bays| *bays <= MOST)?;
    let bay = length.split(Decimal::from(bays));
    Some((1..bays).map(|i| bay.times(Decimal::from(i))).collect())
}

/// Height of the wall at a place on a run.
///
/// A rectangle's walls follow the fall; for any other outline the program is not told which corner
/// lies high, so every post is taken as long as on the low side.
pub(super) fn wall_at(
    figure: &Figure,
    slope: Option<Slope>,
    heights: &Heights,
    run: usize,
    place: Length,
    length: Length,
) -> Length {
    let Some(slope) = slope else {
        return heights.high;
    };
    if !matches!(figure, Figure::Rectangle { .. }) {
        return heights.low;
    }
    // Runs of a rectangle go round: 0 along x, 1 along y, 2 back along x, 3 back along y.
    let fallen = match (slope.along, run % 4) {
        (Along::Length, 0) | (Along::Width, 1) => place,
        (Along::Length, 2) | (Along::Width, 3) => length - place,
        (Along::Length, 1) | (Along::Width, 2) => return heights.low,
        _ => return heights.high,
    };
    heights.high + fallen.times(slope.fall)
}

/// All posts of a bed: `places` along each run, and one in each corner. A post outside cannot hold both
/// boards of a corner, so there each run has one at both its ends. Where a neighbour's wall stands, its posts do.
pub(super) fn set(
    bill: &mut Bill<'_>,
    figure: &Figure,
    heights: &Heights,
    posts: &Posts,
    runs: &[(Run, Vec<Length>)],
) {
    let slope = bill.bed.slope;
    let buried = posts.buried.value;
    let outside = posts.side.value == PostSide::Outside;
    for (i, (run, places)) in runs.iter().enumerate() {
        let mut ends = Vec::new();
        if bill.shared.has_corner(i) {
            ends.push(Length::ZERO);
        }
        if outside && !bill.shared.is_whole(i) {
            ends.push(run.length);
        }
        for place in ends.iter().chain(places) {
            let wall = wall_at(figure, slope, heights, i, *place, run.length);
            bill.cut(posts.material, wall + buried, "post", 1);
        }
    }
    let count = Decimal::from(bill.count_of(&["post"]));
    let driver = if buried > Length::ZERO {
        Driver::PostSet
    } else {
        Driver::PostInside
    };
    bill.work(driver, count);
}
