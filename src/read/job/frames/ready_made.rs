//! Beds bought whole.

use super::{Draft, Reading, Role, wall_material};
use crate::model::frame::UnitWall;
use crate::model::known::Known;
use crate::units::Length;

/// The unit of a row; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<UnitWall> {
    let unit = wall_material(draft, reading, Role::ReadyMade)?;
    let thickness = reading.known_length("Thickness");
    Some(UnitWall {
        unit,
        thickness: thickness
            .unwrap_or_else(|| Known::assumed(Length::ZERO, "not set, taken as no thickness")),
    })
}
