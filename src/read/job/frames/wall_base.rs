//! What walls stand on.

use super::{Draft, Reading, Role, figure, material_for};
use crate::model::frame::WallBase;
use crate::units::Length;

/// The trench of a row; `None` when it names nothing that fills one.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<WallBase> {
    let depth = reading.known_length("Base depth");
    let material = material_for(draft, reading, "Base material", Role::Aggregate);
    if material.is_none() && depth.is_some() && !reading.has("Base material") {
        let words = "Base depth is not used, because no Base material is named";
        reading.notice("Base depth", words);
    }
    let library = draft.library;
    Some(WallBase {
        material: material?,
        depth: depth.unwrap_or_else(|| figure(library, "wall_base_depth", Length::inches)),
        wider: figure(library, "wall_base_wider", Length::inches),
    })
}
