//! What the crew does to build a wall of boards, in order, with the measures of the bed.

use rust_decimal::MathematicalOps;

use super::trims::EDGE;
use crate::model::frame::{BoardWall, Braces, Corner, Posts};
use crate::model::material::MaterialId;
use crate::takeoff::bill::Bill;
use crate::takeoff::geometry::Figure;
use crate::takeoff::heights::Heights;
use crate::units::Length;

/// The marks of wall boards.
pub(super) const WALLS: [&str; 3] = ["long side", "short side", "side"];

/// Notes the steps of one bed, whose pieces are all on its bill.
pub(super) fn note(bill: &mut Bill<'_>, wall: &BoardWall, figure: &Figure, heights: &Heights) {
    bill.note(set_out(bill, figure));
    let board = bill.job.material_name(wall.board);
    bill.note(format!("cut {} of {board}", bill.terms(&WALLS)));
    note_posts(bill, wall.posts.as_ref());
    bill.note(stack(bill, wall, heights));
    note_cap_and_braces(bill, wall.cap, wall.braces.as_ref());
}

/// The cap, and the braces as far as the bed has any.
pub(super) fn note_cap_and_braces(
    bill: &mut Bill<'_>,
    cap: Option<MaterialId>,
    braces: Option<&Braces>,
) {
    if let Some(cap) = cap.filter(|_| bill.count_of(&["cap"]) > 0) {
        let name = bill.job.material_name(cap);
        let terms = bill.terms(&["cap"]);
        bill.note(format!("lay the cap of {name}, mitred: {terms}"));
    }
    if let Some(cap) = cap.filter(|_| bill.count_of(&[EDGE]) > 0) {
        let name = bill.job.material_name(cap);
        let terms = bill.terms(&[EDGE]);
        bill.note(format!("put the trim of {name} over the edge: {terms}"));
    }
    if let Some(braces) = braces.filter(|_| bill.count_of(&["brace"]) > 0) {
        let name = bill.job.material_name(braces.material);
        let terms = bill.terms(&["brace"]);
        bill.note(format!("fix braces of {name} across the bed: {terms}"));
    }
}

/// Where the walls stand; a rectangle is square when its diagonals are alike.
pub(super) fn set_out(bill: &Bill<'_>, figure: &Figure) -> String {
    let level = "level the ground where the walls stand";
    let Figure::Rectangle { length, width } = figure else {
        return level.to_owned();
    };
    let square = |l: &Length| l.in_metres().saturating_mul(l.in_metres());
    let sum = square(length).saturating_add(square(width));
    match sum.sqrt() {
        Some(diagonal) => format!(
            "{level}; it is square when both diagonals measure {}",
            bill.units.length(Length::metres(diagonal))
        ),
        None => level.to_owned(),
    }
}

pub(super) fn note_posts(bill: &mut Bill<'_>, posts: Option<&Posts>) {
    let Some(posts) = posts else {
        return;
    };
    let name = bill.job.material_name(posts.material);
    let buried = posts.buried.value;
    let stand = if buried > Length::ZERO {
        format!("set {} deep", bill.units.length(buried))
    } else {
        "standing on the ground".to_owned()
    };
    let terms = bill.terms(&["post"]);
    bill.note(format!("cut posts of {name}: {terms}; {stand}"));
}

fn stack(bill: &Bill<'_>, wall: &BoardWall, heights: &Heights) -> String {
    let corners = match wall.corner.value {
        Corner::Butt => "the long sides run through",
        Corner::Mitre => "both boards cut at half the angle",
        Corner::Lapped => "the side that runs through changes with each course",
    };
    let courses = heights.courses_in_words();
    let fixed = match wall.fastener {
        Some(fastener) => format!(
            "; {} of {} in each board end",
            wall.per_joint.value,
            bill.job.material_name(fastener)
        ),
        None => String::new(),
    };
    format!("stand {courses} with the rim level: {corners}{fixed}")
}
