//! Walls of blocks.

use super::boards::spacing;
use super::mortar::{self, LAID};
use super::{Draft, Reading, Role, figure, material_for, wall_base, wall_material};
use crate::model::block::{BlockMake, BlockSize};
use crate::model::frame::{Adhesive, Bars, BlockLimits, BlockWall, Laid};
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::units::Length;

/// The blocks of a row, and all that goes with them; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<BlockWall> {
    let block = wall_material(draft, reading, Role::Block)?;
    let laid = laid(draft, reading, block)?;
    let library = draft.library;
    Some(BlockWall {
        block,
        half: material_for(draft, reading, "Half material", Role::Block),
        mortar: mortar::read(draft, reading, laid.value, "blocks are"),
        laid,
        cap: material_for(draft, reading, "Cap material", Role::Block),
        core: core(draft, reading, block),
        bars: bars(draft, reading),
        adhesive: material_for(draft, reading, "Adhesive", Role::Fastener).map(|material| {
            Adhesive {
                material,
                bead: figure(library, "adhesive_bead_ft", Length::feet),
            }
        }),
        base: wall_base::read(draft, reading),
        buried: reading
            .known_whole("Courses buried")
            .unwrap_or_else(|| Known::assumed(0, "not set, taken as none")),
        limits: BlockLimits {
            play: figure(library, "block_play_in", Length::inches),
            widest_joint: figure(library, "block_joint_widest_in", Length::inches),
            least_radius: reading
                .known_length("Least radius")
                .unwrap_or_else(|| figure(library, "segmental_radius_ft", Length::feet)),
        },
    })
}

fn size<'d>(draft: &'d Draft<'_>, block: MaterialId) -> Option<&'d BlockSize> {
    let material = draft.materials.get(block.index())?;
    material.block.as_ref().map(|known| &known.value)
}

/// Dry unless it says otherwise; segmental units are never laid in mortar.
fn laid(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    block: MaterialId,
) -> Option<Known<Laid>> {
    let laid = if reading.has("Laid") {
        reading.known_choice("Laid", LAID)?
    } else {
        Known::assumed(Laid::Dry, "not set, taken as dry")
    };
    let segmental = size(draft, block).is_some_and(|s| s.make == BlockMake::Segmental);
    if segmental && laid.value == Laid::Mortared {
        let hint = "write dry, or name a block that is laid in mortar";
        let sentence = "Laid must be dry for segmental units, whose lips and pins leave no joint";
        reading.complain("Laid", sentence, hint);
        return None;
    }
    Some(laid)
}

/// What fills the cells, of blocks that have some.
fn core(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    block: MaterialId,
) -> Option<MaterialId> {
    let core = material_for(draft, reading, "Core fill", Role::Part)?;
    if size(draft, block).is_some_and(|s| s.cells.is_zero()) {
        let name = &draft.materials.get(block.index())?.name;
        let words = format!(
            "{name} has no open cells to fill: its core fill is not taken off (Void % in Materials says how much of a block is open)"
        );
        reading.notice("Core fill", words);
        return None;
    }
    Some(core)
}

fn bars(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Bars> {
    let every = spacing(reading, "Bar every");
    let courses = reading.known_whole("Bar courses").filter(|n| n.value > 0);
    let material = material_for(draft, reading, "Bar material", Role::Bar)?;
    if every.is_none() && courses.is_none() {
        let sentence = "Bar material is named, but not how many bars there are";
        let hint = "give Bar every, as 32 in, for upright bars, or Bar courses, as 2, for bars all round in every second course";
        reading.complain("Bar material", sentence, hint);
        return None;
    }
    Some(Bars {
        material,
        every,
        courses,
        lap: figure(draft.library, "bar_lap_in", Length::inches),
    })
}
