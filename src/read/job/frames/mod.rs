//! `Frames`: how walls are built, each kind by a file of its own.

mod blocks;
pub(super) mod boards;
mod modular;
pub(super) mod mortar;
mod mound;
mod panels;
mod ready_made;
mod stone;
mod timbers;
mod wall_base;

use std::sync::Arc;

use super::draft::{Draft, figure};
use super::materials::{SizeIn, look_up};
use super::reading::{Reading, Words, meaning_in};
use super::resolve::{Found, unknown_hint};
use super::roles::{Role, material_for};
use super::section::section_in_name;
use crate::model::frame::{Frame, FrameId, FrameKind, Wall};
use crate::model::known::Known;
use crate::model::material::{Category, MaterialId};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Length;

/// Words for kinds of frame; nothing for a kind that is known and not priced.
pub(super) const KINDS: &Words<Option<FrameKind>> = &[
    (
        &["boards", "board", "lumber", "planks"],
        Some(FrameKind::Boards),
    ),
    (
        &[
            "modular",
            "modules",
            "modular panels",
            "bolt-together",
            "bolted panels",
        ],
        Some(FrameKind::Modular),
    ),
    (
        &[
            "panels",
            "panel",
            "metal panels",
            "sheet metal",
            "corrugated",
            "sheets",
        ],
        Some(FrameKind::Panels),
    ),
    (
        &["blocks", "block", "concrete block", "masonry", "bricks"],
        Some(FrameKind::Blocks),
    ),
    (
        &["ready-made", "ready made", "kit", "bought whole"],
        Some(FrameKind::ReadyMade),
    ),
    (
        &[
            "stone",
            "dry stone",
            "drystone",
            "stone wall",
            "mortared stone",
            "rubble",
        ],
        Some(FrameKind::Stone),
    ),
    (
        &["timbers", "timber", "sleepers", "sleeper", "ties"],
        Some(FrameKind::Timbers),
    ),
    (
        &["none", "mound", "no frame", "no wall"],
        Some(FrameKind::None),
    ),
    (&["logs"], None),
];
/// Reads every frame.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Frames) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Frame", "write a name that the beds can point at") {
            if draft.frame_names.has(&name) {
                reading.complain(
                    "Frame",
                    "Frame is named twice",
                    "give each frame its own name",
                );
            } else {
                match frame(draft, &mut reading, &name) {
                    Some(frame) => {
                        let height = reading.length("Height");
                        push(draft, frame, height);
                    }
                    None => draft.frame_names.add_broken(&name),
                }
            }
        }
        draft.hear(reading);
    }
}

fn push(draft: &mut Draft<'_>, frame: Frame, unit_height: Option<Length>) -> FrameId {
    let place = draft.frames.len();
    draft.frame_names.add(&frame.name, place);
    draft.frames.push(frame);
    draft.unit_heights.push(unit_height);
    FrameId::of(place)
}

fn frame(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>, name: &Arc<str>) -> Option<Frame> {
    let kind = kind(draft, reading)?;
    let wall = match kind {
        FrameKind::Boards => Wall::Boards(Box::new(boards::read(draft, reading)?)),
        FrameKind::Modular => Wall::Modular(Box::new(modular::read(draft, reading)?)),
        FrameKind::Panels => Wall::Panels(Box::new(panels::read(draft, reading)?)),
        FrameKind::Blocks => Wall::Blocks(Box::new(blocks::read(draft, reading)?)),
        FrameKind::ReadyMade => Wall::ReadyMade(ready_made::read(draft, reading)?),
        FrameKind::Stone => Wall::Stone(Box::new(stone::read(draft, reading)?)),
        FrameKind::Timbers => Wall::Timbers(Box::new(timbers::read(draft, reading)?)),
        FrameKind::None => Wall::Mound(mound::read(reading)),
    };
    tell_unused(reading, name, kind);
    let bare = bare(Arc::clone(name), wall);
    Some(Frame {
        at: Some(reading.at()),
        liner: material_for(draft, reading, "Liner", Role::Liner),
        mesh: material_for(draft, reading, "Bottom mesh", Role::Mesh),
        finish: material_for(draft, reading, "Finish", Role::Finish)
            .filter(|_| kind != FrameKind::Stone),
        coats: reading.known_whole("Coats").unwrap_or(bare.coats),
        ..bare
    })
}

/// The columns that only some kinds of wall use, each with those kinds.
const USED_BY: &[(&str, &[FrameKind])] = {
    use FrameKind::{Blocks, Boards, Modular, None, Panels, ReadyMade, Stone, Timbers};
    &[
        ("Post material", &[Boards, Panels]),
        ("Post spacing", &[Boards, Panels]),
        ("Post buried", &[Boards, Panels]),
        ("Post side", &[Boards, Panels]),
        ("Corner", &[Boards, Panels, Timbers]),
        ("Top course", &[Boards]),
        ("Laid", &[Blocks, Stone, Timbers]),
        ("Half material", &[Blocks]),
        ("Mortar", &[Blocks, Stone]),
        ("Adhesive", &[Blocks]),
        ("Core fill", &[Blocks]),
        ("Bar material", &[Blocks]),
        ("Bar every", &[Blocks]),
        ("Bar courses", &[Blocks]),
        ("Base material", &[Blocks, Stone, Timbers]),
        ("Base depth", &[Blocks, Stone, Timbers]),
        ("Courses buried", &[Blocks]),
        ("Least radius", &[Blocks]),
        ("Batter", &[Stone]),
        ("Hearting material", &[Stone]),
        ("Hearting %", &[Stone]),
        (
            "Cap material",
            &[Boards, Blocks, Modular, Panels, Stone, Timbers],
        ),
        ("Brace every", &[Boards, Modular, Panels]),
        ("Brace tiers", &[Boards, Modular, Panels]),
        ("Brace material", &[Boards, Modular, Panels]),
        ("Fastener", &[Boards, Modular, Panels, Timbers]),
        ("Fasteners per joint", &[Boards, Modular, Panels]),
        ("End treatment", &[Boards, Panels, Timbers]),
        ("Pin every", &[Timbers]),
        ("Pin length", &[Timbers]),
        ("Anchor every", &[Timbers]),
        ("Anchor length", &[Timbers]),
        (
            "Liner",
            &[Boards, Blocks, Modular, Panels, ReadyMade, Stone, Timbers],
        ),
        (
            "Finish",
            &[Boards, Blocks, Modular, Panels, ReadyMade, Timbers],
        ),
        (
            "Coats",
            &[Boards, Blocks, Modular, Panels, ReadyMade, Timbers],
        ),
        ("Thickness", &[Modular, Panels, ReadyMade, Stone]),
        ("Ribs", &[Panels]),
        ("Rail material", &[Panels]),
        ("Rails", &[Panels]),
        ("End lap", &[Panels]),
        ("Corner trim", &[Panels]),
        ("Panel screw", &[Panels]),
        ("Screw every", &[Panels]),
        ("Corner piece", &[Modular]),
        ("Curved module", &[Modular]),
        ("Side slope", &[None]),
    ]
};

/// Says of cells that hold something which walls of this kind do not have.
fn tell_unused(reading: &mut Reading<'_, '_>, name: &str, kind: FrameKind) {
    let is = match kind {
        FrameKind::None => "without walls".to_owned(),
        FrameKind::ReadyMade => "ready-made".to_owned(),
        FrameKind::Boards => "of boards".to_owned(),
        FrameKind::Modular => "of modules".to_owned(),
        FrameKind::Panels => "of panels".to_owned(),
        FrameKind::Blocks => "of blocks".to_owned(),
        FrameKind::Stone => "of stone".to_owned(),
        FrameKind::Timbers => "of timbers".to_owned(),
    };
    for &(field, kinds) in USED_BY {
        if reading.has(field) && !kinds.contains(&kind) {
            let field_word = field.to_lowercase();
            let is_one = !field_word.ends_with('s')
                || field_word.ends_with("ss")
                || field_word.ends_with("us");
            let verb = if is_one { "is" } else { "are" };
            let words = format!("frame {name} is {is}: its {field_word} {verb} not taken off");
            reading.notice(field, words);
        }
    }
}

fn kind(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<FrameKind> {
    if reading.has("Frame kind") {
        let built = reading.choice("Frame kind", KINDS)?;
        if built.is_none() {
            let hint = "for other walls write ready-made, and the inside size of the bed";
            let sentence = format!(
                "Frame kind is not built yet: it must be {}",
                FrameKind::words(&FrameKind::ALL)
            );
            reading.complain("Frame kind", sentence, hint);
        }
        return built;
    }
    let Some(name) = reading.text("Material") else {
        let hint = format!("write {}", FrameKind::words(&FrameKind::ALL));
        reading.complain("Frame kind", "Frame kind is missing", &hint);
        return None;
    };
    let kind = match look_up(draft, &name, SizeIn::Lumber) {
        Found::Is(place) => match draft.materials.get(place).map(|m| m.category) {
            Some(Category::ReadyMade) => FrameKind::ReadyMade,
            Some(Category::Panel) => FrameKind::Panels,
            Some(Category::Block) => FrameKind::Blocks,
            Some(Category::Stone) => FrameKind::Stone,
            _ => FrameKind::Boards,
        },
        _ => FrameKind::Boards,
    };
    reading.notice(
        "Frame",
        format!(
            "Frame kind is not set, taken as {} from its material",
            kind.word()
        ),
    );
    Some(kind)
}

fn wall_material(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    role: Role,
) -> Option<MaterialId> {
    if !reading.has("Material") {
        let hint = match role {
            Role::ReadyMade => "name the unit that is bought",
            Role::Panel => "name the sheets or modules, as corrugated steel",
            Role::Block => "name the blocks, as Hollow block 8x8x16",
            Role::Stone => "name the stone, as Wall stone",
            _ => "name the boards, as 2x10 or 2x10 cedar",
        };
        reading.complain("Material", "Material is missing", hint);
    }
    material_for(draft, reading, "Material", role)
}

/// A whole number of the library.
fn count(number: rust_decimal::Decimal) -> u32 {
    u32::try_from(number.round()).unwrap_or(0)
}

/// A frame of which only the wall is known.
fn bare(name: Arc<str>, wall: Wall) -> Frame {
    Frame {
        at: None,
        name,
        wall,
        liner: None,
        mesh: None,
        finish: None,
        coats: Known::assumed(2, "not set, taken as 2 coats"),
    }
}

/// The frame that a bed names: one of `Frames`, a board such as `2x10 cedar`, or none.
pub(super) fn frame_of(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<FrameId> {
    let hint = "name a row of Frames, a board as 2x10, or none for a mound without walls";
    let columns = &reading.row.table.columns;
    if !columns.iter().any(|c| c.field == Some("Frame")) {
        if !draft.frames_asked_for {
            reading.complain("", "Frame is not among the columns of the beds", hint);
        }
        draft.frames_asked_for = true;
        return None;
    }
    let name = reading.wanted("Frame", hint)?;
    match draft.frame_names.find(&name) {
        Found::Is(place) => return Some(FrameId::of(place)),
        Found::Broken => return None,
        Found::Unknown => {}
    }
    if meaning_in("Frame kind", &name, KINDS) == Some(Some(FrameKind::None)) {
        let frame = bare(name, Wall::Mound(mound::bare()));
        return Some(push(draft, frame, None));
    }
    if lumber_name(draft, &name) {
        let material = material_for(draft, reading, "Frame", Role::Lumber)?;
        let said = format!(
            "\"{name}\" is not in Frames: taken as boards of that section with butt corners, and no posts, cap, braces or fasteners"
        );
        reading.notice("Frame", said);
        let frame = bare(name, Wall::Boards(Box::new(boards::bare(draft, material))));
        return Some(push(draft, frame, None));
    }
    let known = draft.frame_names.all().chain(["none"]);
    let hint = unknown_hint(&name, known, hint);
    reading.complain("Frame", "Frame is not among Frames", &hint);
    draft.frame_names.add_broken(&name);
    None
}

/// Whether a bed's frame names boards: lumber of the job, or a name with a section in it.
fn lumber_name(draft: &Draft<'_>, name: &str) -> bool {
    if let Found::Is(place) = draft.material_names.find(name) {
        let material = draft.materials.get(place);
        return material.is_some_and(|m| m.category == Category::Lumber);
    }
    section_in_name(draft.library, name).is_some()
}
