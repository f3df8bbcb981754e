//! How blocks and stone are laid, and the mortar between them.

use std::sync::Arc;

use super::{Draft, Reading, Role, Words, material_for};
use crate::model::frame::Laid;
use crate::model::material::MaterialId;
use crate::read::job::materials::{SizeIn, look_up};
use crate::read::job::resolve::Found;

pub(in crate::read::job) const LAID: &Words<Laid> = &[
    (
        &["dry", "dry-stacked", "dry stacked", "dry laid", "stacked"],
        Laid::Dry,
    ),
    (&["mortared", "mortar", "in mortar", "wet"], Laid::Mortared),
];

/// The mortar of a mortared wall: the one named, else the library's. `what` is laid, as `blocks`.
pub(super) fn read(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    laid: Laid,
    what: &str,
) -> Option<MaterialId> {
    let named = material_for(draft, reading, "Mortar", Role::Aggregate);
    match laid {
        Laid::Dry => {
            if named.is_some() {
                let words = format!("the {what} laid dry: the mortar is not taken off");
                reading.notice("Mortar", words);
            }
            None
        }
        Laid::Mortared if reading.has("Mortar") => named,
        Laid::Mortared => {
            let name = Arc::from("Mortar mix");
            reading.notice("Laid", "Mortar is not named, taken as Mortar mix");
            match look_up(draft, &name, SizeIn::Nothing) {
                Found::Is(place) => {
                    draft.used.insert(place);
                    Some(MaterialId::of(place))
                }
                _ => None,
            }
        }
    }
}
