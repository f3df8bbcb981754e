//! What the crew does to build a wall of sheets, in order, with the measures of the bed.

use super::board_steps::{note_cap_and_braces, note_posts, set_out};
use super::panel_rails::RAIL;
use super::trims::CORNER;
use crate::model::frame::{PanelWall, Ribs};
use crate::model::material::MaterialId;
use crate::takeoff::bill::Bill;
use crate::takeoff::geometry::Figure;
use crate::takeoff::heights::Heights;

/// Notes the steps of one bed, whose pieces are all on its bill.
pub(super) fn note(bill: &mut Bill<'_>, wall: &PanelWall, figure: &Figure, heights: &Heights) {
    bill.note(set_out(bill, figure));
    note_posts(bill, wall.posts.as_ref());
    if let Some(rails) = &wall.rails {
        let name = bill.job.material_name(rails.material);
        let (number, terms) = (rails.number.value, bill.terms(&[RAIL]));
        let stand = match number {
            1 => "1 at the top",
            2 => "top and bottom",
            _ => "evenly from top to bottom",
        };
        bill.note(format!(
            "cut rails of {name}: {terms}; {stand}, between the sheets and the posts"
        ));
    }
    note_sheets(bill, wall, heights);
    if let Some(trim) = wall.corner_trim {
        let name = bill.job.material_name(trim);
        let terms = bill.terms(&[CORNER]);
        bill.note(format!("cover the corners with {name}: {terms}"));
    }
    note_cap_and_braces(bill, wall.cap, wall.braces.as_ref());
    bill.note("file cut edges smooth, and leave none where a hand or knee can reach it");
}

fn note_sheets(bill: &mut Bill<'_>, wall: &PanelWall, heights: &Heights) {
    let name = bill.job.material_name(wall.panel);
    let terms = terms(bill, wall.panel);
    let cut = match wall.ribs.value {
        Ribs::Along => "rip sheets along their ribs, then cut them to length",
        Ribs::Upright => {
            "cut sheets to the height of the wall and stand them side by side, the last one lapping as far as it must"
        }
    };
    bill.note(format!("{cut}, of {name}: {terms}"));
    if heights.low > heights.high {
        bill.note("set the top edge level, and trim the foot of each sheet to the ground");
    }
    if let Some(screw) = wall.screw {
        let name = bill.job.material_name(screw);
        let every = bill.units.length(wall.screw_spacing.value);
        bill.note(format!(
            "fix the sheets with {name}, one each {every} along rails and laps"
        ));
    }
}

/// The rectangles as a sum, along the ribs first: `2 x 8' x 24"`.
pub(super) fn terms(bill: &Bill<'_>, panel: MaterialId) -> String {
    let own = bill.sheet_pieces.iter().filter(|p| p.material == panel);
    let terms = own.map(|p| {
        let (length, width) = (bill.units.length(p.length), bill.units.length(p.width));
        format!("{} x {length} x {width}", p.count)
    });
    terms.collect::<Vec<_>>().join(" + ")
}
