//! Walls of sheets on posts and rails.

use super::boards::{CORNERS, braces, posts, spacing};
use super::{Draft, Reading, Role, Words, figure, material_for, wall_material};
use crate::model::frame::{Corner, PanelWall, Rails, Ribs};
use crate::model::known::Known;
use crate::model::material::{Material, MaterialId};
use crate::units::Length;

const RIBS: &Words<Ribs> = &[
    (
        &["along", "along the wall", "horizontal", "lengthwise"],
        Ribs::Along,
    ),
    (&["upright", "vertical", "up"], Ribs::Upright),
];

/// The sheets of a row, and what holds them; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<PanelWall> {
    let panel = wall_material(draft, reading, Role::Panel)?;
    let rails = rails(draft, reading);
    let posts = posts(draft, reading);
    let usual = rails.as_ref().map(|rails| rails.material);
    let usual = usual.or(posts.as_ref().map(|posts| posts.material));
    let library = draft.library;
    let laps = laps(draft, panel);
    Some(PanelWall {
        panel,
        ribs: reading
            .known_choice("Ribs", RIBS)
            .unwrap_or_else(|| Known::assumed(Ribs::Along, "not set, taken as along the wall")),
        thickness: reading.known_length("Thickness").unwrap_or_else(|| {
            if laps {
                figure(library, "panel_depth_in", Length::inches)
            } else {
                Known::assumed(Length::ZERO, "flat sheet, taken as no thickness")
            }
        }),
        end_lap: reading.known_length("End lap").unwrap_or_else(|| {
            if laps {
                figure(library, "panel_end_lap_in", Length::inches)
            } else {
                Known::assumed(Length::ZERO, "flat sheets meet without a lap")
            }
        }),
        corner: reading
            .known_choice("Corner", CORNERS)
            .unwrap_or_else(|| Known::assumed(Corner::Butt, "not set, taken as butt")),
        corner_trim: material_for(draft, reading, "Corner trim", Role::Trim),
        cap: material_for(draft, reading, "Cap material", Role::Rim),
        braces: braces(draft, reading, usual),
        fastener: material_for(draft, reading, "Fastener", Role::Fastener),
        per_joint: reading
            .known_whole("Fasteners per joint")
            .unwrap_or_else(|| figure(library, "screws_per_end_narrow", super::count)),
        screw: material_for(draft, reading, "Panel screw", Role::Fastener),
        screw_spacing: spacing(reading, "Screw every")
            .unwrap_or_else(|| figure(library, "screw_every_in", Length::inches)),
        end_treatment: material_for(draft, reading, "End treatment", Role::Finish),
        posts,
        rails,
    })
}

fn rails(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Rails> {
    let material = material_for(draft, reading, "Rail material", Role::Lumber)?;
    let number = reading
        .known_whole("Rails")
        .unwrap_or_else(|| Known::assumed(2, "not set, taken as 2, top and bottom"));
    if number.value == 0 || number.value > 12 {
        let hint = "write 2 for top and bottom, or clear Rail material for none";
        reading.complain("Rails", "Rails must be from 1 to 12", hint);
        return None;
    }
    Some(Rails { material, number })
}

/// Whether sheets of a material lap each other side by side, as corrugated ones do.
fn laps(draft: &Draft<'_>, panel: MaterialId) -> bool {
    let lapped = |m: &Material| m.panel.cover.is_some() || m.lap.value > Length::ZERO;
    draft.materials.get(panel.index()).is_some_and(lapped)
}
