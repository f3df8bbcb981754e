//! Caps laid flat on the rim, and braces across long beds.

use rust_decimal::Decimal;

use super::corners::spans;
use super::splices::{joints, parts};
use crate::model::frame::{Braces, Corner, Frame, Tiers};
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::takeoff::bill::Bill;
use crate::takeoff::geometry::{Figure, Run};
use crate::takeoff::sticks::Sticks;
use crate::units::{Area, Length, round};

/// More braces than any bed has.
const MOST_BRACES: u32 = 1_000;

/// Caps of one bed: mitred, flush with the outside face, each run split where no stick is long
/// enough. A wall that a neighbour bears is capped with it.
pub(super) fn lay(
    bill: &mut Bill<'_>,
    frame: &Frame,
    cap: MaterialId,
    figure: &Figure,
    runs: &[Run],
    sticks: &Sticks,
) {
    let Some(face) = face_of(bill, frame, cap) else {
        return;
    };
    if !fits(bill, frame, figure, face) {
        return;
    }
    let spans = spans(figure, runs, Corner::Mitre, face, false);
    for (i, span) in spans.into_iter().enumerate() {
        if bill.shared.is_whole(i) {
            continue;
        }
        let span = span.after(bill.shared.length(i));
        for part in parts(span, &joints(span, &[], sticks.longest(cap), &[])) {
            bill.cut(cap, part, "cap", 1);
        }
    }
    let capped = figure.perimeter() - bill.shared.total();
    bill.work(Driver::CapLength, capped.in_metres());
}

/// Whether caps of that width leave room between them; told when they do not.
pub(super) fn fits(bill: &mut Bill<'_>, frame: &Frame, figure: &Figure, width: Length) -> bool {
    let fits = figure.inward(width).is_some();
    if !fits {
        let problem = Problem::error("the cap is so wide that caps of opposite walls would meet")
            .hint("take a narrower cap");
        bill.tell_frame(frame, problem, "Cap material");
    }
    fits
}

/// Top of a bed's own cap of that width: the ring between the outside face and its inner edge, less what a
/// neighbour's wall is capped with.
pub(super) fn top(bill: &Bill<'_>, cap: Option<MaterialId>, outside: &Figure) -> Area {
    let cap = cap.and_then(|cap| bill.job.material(cap));
    let board = cap.and_then(|cap| cap.section.as_ref().map(|s| s.value.face));
    let unit = cap.and_then(|cap| cap.block.as_ref());
    let unit = unit.map(|b| b.value.depth.max(b.value.height));
    let Some(width) = board.or(unit) else {
        return Area::ZERO;
    };
    let within = outside.inward(width).map(|f| f.area());
    let left = bill.shared.total() * width;
    within.map_or(Area::ZERO, |inner| outside.area() - inner - left)
}

/// Width of a cap; a material without a section cannot be one.
fn face_of(bill: &mut Bill<'_>, frame: &Frame, cap: MaterialId) -> Option<Length> {
    let material = bill.material(cap)?;
    let face = material.section.as_ref().map(|s| s.value.face);
    if face.is_none() {
        let words = format!("{} has no section, so it cannot be a cap", material.name);
        let problem = Problem::error(words).hint("give its Section in Materials, as 2x6");
        bill.tell_frame(frame, problem, "Cap material");
    }
    face
}

/// How many braces stand above each other in a wall of that height.
fn tiers(braces: &Braces, height: Length) -> u32 {
    match &braces.tiers {
        Tiers::Given(number) => number.value,
        Tiers::Each(each) if each.value > Length::ZERO => {
            u32::try_from(round::whole_up(height.ratio(each.value))).unwrap_or(u32::MAX)
        }
        Tiers::Each(_) => 1,
    }
}

/// Braces across the short way of a rectangle: `ceil(long side / every) - 1` along the bed, as many above each
/// other as it is high, each as long as the bed is wide inside.
///
/// Returns how many there are.
pub(super) fn brace(
    bill: &mut Bill<'_>,
    frame: &Frame,
    braces: &Braces,
    (outside, inside): (&Figure, &Figure),
    height: Length,
) -> u32 {
    let (
        Figure::Rectangle { length, width },
        Figure::Rectangle {
            length: l,
            width: w,
        },
    ) = (outside, inside)
    else {
        let words = format!(
            "braces are counted for rectangular beds only: beds of other shapes with frame {} get none",
            frame.name
        );
        bill.tell_frame(frame, Problem::notice(words), "Brace every");
        return 0;
    };
    if braces.every.value <= Length::ZERO {
        let problem = Problem::error("braces need a distance greater than zero").hint("write 6 ft");
        bill.tell_frame(frame, problem, "Brace every");
        return 0;
    }
    let bays = round::whole_up((*length).max(*width).ratio(braces.every.value));
    let along = u32::try_from(bays).unwrap_or(u32::MAX).saturating_sub(1);
    let count = along.saturating_mul(tiers(braces, height));
    if count > MOST_BRACES {
        let words = format!("this distance asks for more than {MOST_BRACES} braces in one bed");
        bill.tell_frame(frame, Problem::error(words), "Brace every");
        return 0;
    }
    bill.cut(braces.material, (*l).min(*w), "brace", count);
    bill.work(Driver::Brace, Decimal::from(count));
    count
}
