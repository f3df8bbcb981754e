//! Walls of modules bolted to each other.

use super::boards::braces;
use super::{Draft, Reading, Role, count, figure, material_for, wall_material};
use crate::model::frame::ModularWall;
use crate::model::known::Known;
use crate::units::Length;

/// The modules of a row, and what holds them; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<ModularWall> {
    let module = wall_material(draft, reading, Role::Panel)?;
    Some(ModularWall {
        module,
        curved: material_for(draft, reading, "Curved module", Role::Panel),
        corner: material_for(draft, reading, "Corner piece", Role::Panel),
        thickness: reading
            .known_length("Thickness")
            .unwrap_or_else(|| Known::assumed(Length::ZERO, "not set, taken as no thickness")),
        cap: material_for(draft, reading, "Cap material", Role::Trim),
        braces: braces(draft, reading, None),
        fastener: material_for(draft, reading, "Fastener", Role::Fastener),
        per_joint: reading
            .known_whole("Fasteners per joint")
            .unwrap_or_else(|| figure(draft.library, "bolts_per_line", count)),
    })
}
