//! Walls of sheets on posts and rails, corrugated or flat.
//!
//! Ribs along the wall: sheets are ripped to the height of the wall, or lie in rows above each other
//! where they are too narrow, and join end to end on posts. Ribs up the wall: sheets are cut to the
//! height and stand side by side, where those that lap stay whole and the last one laps further. Rails run from corner to corner on the inside of the sheets; posts
//! stand inside the rails. On falling ground each run is cut to the taller of its ends, and the crew
//! trims the foot of the sheet to the ground.

use super::panel_sheets::{Sheeting, area_of};
use super::{ROUND, cannot, caps, ends, fasteners, panel_rails, panel_steps, posts, trims};
use crate::model::frame::{Frame, PanelWall};
use crate::model::material::Category;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::geometry::Run;
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Length};

/// Everything made of sheets and lumber, and what holds it together.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &PanelWall),
    faces: &Faces,
    heights: &Heights,
    sticks: &Sticks,
    trace: &mut impl Trace,
) {
    let Some(runs) = faces.outside.runs() else {
        let why = "sheets on straight posts and rails cannot follow a curve";
        cannot(bill, frame, why, ROUND);
        return;
    };
    let Some(sheeting) = Sheeting::of(bill, (frame, wall), sticks) else {
        return;
    };
    let Some(posted) = sheeting.cover(bill, faces, heights, &runs) else {
        return;
    };
    show_sheets(bill, wall, trace);
    if let Some(posts) = &wall.posts {
        posts::set(bill, &faces.outside, heights, posts, &posted);
    }
    let Some(held) = panel_rails::build(bill, (frame, wall), faces, heights, sticks) else {
        return;
    };
    dress(bill, (frame, wall), faces, heights, &runs, sticks);
    fasteners::fasten(
        bill,
        (wall.fastener, &wall.per_joint),
        (held, "ends and crossings of rails and braces"),
        trace,
    );
    lumber_needs(bill, wall);
    if let Some(treatment) = wall.end_treatment {
        ends::treat(bill, treatment);
    }
    bill.weigh_pieces(None);
    panel_steps::note(bill, wall, &faces.outside, heights);
}

/// Trims and caps.
fn dress(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &PanelWall),
    faces: &Faces,
    heights: &Heights,
    runs: &[Run],
    sticks: &Sticks,
) {
    if let Some(trim) = wall.corner_trim {
        let slope = bill.bed.slope;
        let corner = |(i, run): (usize, &Run)| {
            posts::wall_at(&faces.outside, slope, heights, i, Length::ZERO, run.length)
        };
        let own = |(i, _): &(usize, &Run)| bill.shared.has_corner(*i);
        let tall: Vec<Length> = runs.iter().enumerate().filter(own).map(corner).collect();
        trims::corners(bill, trim, &tall);
    }
    let Some(cap) = wall.cap else {
        return;
    };
    if bill.material(cap).map(|m| m.category) == Some(Category::Trim) {
        let lengths = bill.shared.own_lengths(runs);
        trims::edge(bill, cap, &lengths, sticks);
    } else {
        caps::lay(bill, frame, cap, &faces.outside, runs, sticks);
        let length = Amount::Length(bill.length_of(cap, &["cap"]));
        bill.need(cap, Part::Cap, length, length);
    }
}

/// A waste percentage never touches what is cut: the cut list knows its offcuts.
fn lumber_needs(bill: &mut Bill<'_>, wall: &PanelWall) {
    let posts = wall.posts.as_ref().map(|posts| posts.material);
    let rails = wall.rails.as_ref().map(|rails| rails.material);
    let braces = wall.braces.as_ref().map(|braces| braces.material);
    let of = [
        (posts, Part::Post, "post"),
        (rails, Part::Rail, panel_rails::RAIL),
        (braces, Part::Brace, "brace"),
    ];
    for (material, part, mark) in of {
        if let Some(material) = material {
            let length = Amount::Length(bill.length_of(material, &[mark]));
            bill.need(material, part, length, length);
        }
    }
}

fn show_sheets(bill: &Bill<'_>, wall: &PanelWall, trace: &mut impl Trace) {
    let units = bill.units;
    trace.step(
        "sheets",
        || panel_steps::terms(bill, wall.panel),
        || units.area(area_of(bill)),
    );
    trace.step(
        "posts",
        || bill.terms(&["post"]),
        || bill.count_of(&["post"]).to_string(),
    );
}
