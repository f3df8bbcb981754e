//! `Frames`: how walls are built.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::{Draft, figure};
use super::materials::look_up;
use super::reading::{Reading, Words, meaning_in};
use super::resolve::{Found, unknown_hint};
use super::roles::{Role, material_for};
use super::section::section_in_name;
use crate::model::frame::{Corner, Frame, FrameId, FrameKind, Posts};
use crate::model::known::Known;
use crate::model::library::Library;
use crate::model::material::{Category, Material, MaterialId};
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
        &["ready-made", "ready made", "kit", "bought whole"],
        Some(FrameKind::ReadyMade),
    ),
    (
        &["none", "mound", "no frame", "no wall"],
        Some(FrameKind::None),
    ),
    (
        &[
            "panels",
            "panel",
            "metal panels",
            "sheet metal",
            "blocks",
            "block",
            "concrete block",
            "stone",
            "dry stone",
            "timbers",
            "timber",
            "sleepers",
            "ties",
            "logs",
        ],
        None,
    ),
];
/// Words for corner joints.
pub(super) const CORNERS: &Words<Corner> = &[
    (&["butt", "butted"], Corner::Butt),
    (&["mitre", "miter", "mitred", "mitered"], Corner::Mitre),
    (&["lapped", "lap", "alternating"], Corner::Lapped),
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
    let material = match kind {
        FrameKind::None => None,
        FrameKind::Boards => Some(wall_material(draft, reading, Role::Lumber)?),
        FrameKind::ReadyMade => Some(wall_material(draft, reading, Role::ReadyMade)?),
    };
    let bare = bare(draft, Arc::clone(name), kind, material);
    let posts = posts(draft, reading);
    let coats = reading.known_whole("Coats").unwrap_or(bare.coats);
    Some(Frame {
        at: Some(reading.at()),
        wall: reading.known_length("Thickness").unwrap_or(bare.wall),
        posts,
        corner: reading
            .known_choice("Corner", CORNERS)
            .unwrap_or(bare.corner),
        cap: material_for(draft, reading, "Cap material", Role::Lumber),
        brace_every: spacing(reading, "Brace every"),
        brace: material_for(draft, reading, "Brace material", Role::Lumber),
        fastener: material_for(draft, reading, "Fastener", Role::Fastener),
        per_joint: reading
            .known_whole("Fasteners per joint")
            .unwrap_or(bare.per_joint),
        liner: material_for(draft, reading, "Liner", Role::Liner),
        mesh: material_for(draft, reading, "Bottom mesh", Role::Mesh),
        finish: material_for(draft, reading, "Finish", Role::Finish),
        coats,
        side_slope: side_slope(reading).unwrap_or(bare.side_slope),
        name: bare.name,
        kind,
        material,
    })
}

fn kind(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<FrameKind> {
    if reading.has("Frame kind") {
        let built = reading.choice("Frame kind", KINDS)?;
        if built.is_none() {
            let hint = "write boards, ready-made or none; for other walls enter the inside size as ready-made";
            let sentence = "Frame kind is not built yet: it must be boards, ready-made or none";
            reading.complain("Frame kind", sentence, hint);
        }
        return built;
    }
    let Some(name) = reading.text("Material") else {
        let hint = "write boards, ready-made or none";
        reading.complain("Frame kind", "Frame kind is missing", hint);
        return None;
    };
    let kind = match look_up(draft, &name, true) {
        Found::Is(place) => match draft.materials.get(place).map(|m| m.category) {
            Some(Category::ReadyMade) => FrameKind::ReadyMade,
            _ => FrameKind::Boards,
        },
        _ => FrameKind::Boards,
    };
    let word = if kind == FrameKind::Boards {
        "boards"
    } else {
        "ready-made"
    };
    reading.notice(
        "Frame",
        format!("Frame kind is not set, taken as {word} from its material"),
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
            _ => "name the boards, as 2x10 or 2x10 cedar",
        };
        reading.complain("Material", "Material is missing", hint);
    }
    material_for(draft, reading, "Material", role)
}

fn posts(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Posts> {
    let typed = reading.text("Post material")?;
    if meaning_in("Post material", &typed, &[(&["none", "no"], ())]).is_some() {
        return None;
    }
    let material = material_for(draft, reading, "Post material", Role::Lumber)?;
    let library = draft.library;
    Some(Posts {
        material,
        spacing: spacing(reading, "Post spacing")
            .unwrap_or_else(|| figure(library, "post_spacing_ft", Length::feet)),
        buried: reading
            .known_length("Post buried")
            .unwrap_or_else(|| figure(library, "post_buried", Length::inches)),
    })
}

/// A greatest distance; zero would mean endlessly many.
fn spacing(reading: &mut Reading<'_, '_>, field: &'static str) -> Option<Known<Length>> {
    let least = Length::millimetres(Decimal::ONE_HUNDRED);
    let known = reading.known_length(field)?;
    if known.value < least {
        let sentence = format!("{field} must be at least 4 in or 100 mm");
        reading.complain(field, sentence, "write the greatest distance, as 4 ft");
        return None;
    }
    Some(known)
}

fn side_slope(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let known = reading.known_number("Side slope")?;
    if known.value <= Decimal::ZERO || known.value > Decimal::TEN {
        let hint = "write the run for each rise of 1, as 1.5";
        reading.complain(
            "Side slope",
            "Side slope must be more than 0 and at most 10",
            hint,
        );
        return None;
    }
    Some(known)
}

/// A frame of which only the kind and the material are known.
fn bare(draft: &Draft<'_>, name: Arc<str>, kind: FrameKind, material: Option<MaterialId>) -> Frame {
    let walls = material.and_then(|id| draft.materials.get(id.index()));
    let slope = Decimal::new(15, 1);
    Frame {
        at: None,
        name,
        kind,
        material,
        wall: Known::assumed(Length::ZERO, "not set, taken as no thickness"),
        posts: None,
        corner: Known::assumed(Corner::Butt, "not set, taken as butt"),
        cap: None,
        brace_every: None,
        brace: None,
        fastener: None,
        per_joint: per_joint(draft.library, walls),
        liner: None,
        mesh: None,
        finish: None,
        coats: Known::assumed(2, "not set, taken as 2 coats"),
        side_slope: Known::assumed(slope, "not set, taken as 1.5 run for 1 rise"),
    }
}

/// Screws for each board end, which grow with the face of the board.
fn per_joint(library: &Library, walls: Option<&Material>) -> Known<u32> {
    let section = walls.and_then(|m| m.section.as_ref());
    let face = section.map_or(Length::ZERO, |s| s.value.nominal_face);
    let key = if face > Length::inches(Decimal::from(9)) {
        "screws_per_end_wide"
    } else if face > Length::inches(Decimal::from(7)) {
        "screws_per_end_medium"
    } else {
        "screws_per_end_narrow"
    };
    figure(library, key, |n| u32::try_from(n.round()).unwrap_or(0))
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
        let frame = bare(draft, name, FrameKind::None, None);
        return Some(push(draft, frame, None));
    }
    if lumber_name(draft, &name) {
        let material = material_for(draft, reading, "Frame", Role::Lumber)?;
        let said = format!(
            "\"{name}\" is not in Frames: taken as boards of that section with butt corners, and no posts, cap, braces or fasteners"
        );
        reading.notice("Frame", said);
        let frame = bare(draft, name, FrameKind::Boards, Some(material));
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
