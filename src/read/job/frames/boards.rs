//! Walls of boards.

use rust_decimal::Decimal;

use super::{Draft, Reading, Role, Words, figure, material_for, meaning_in, wall_material};
use crate::model::frame::{BoardWall, Braces, Corner, PostSide, Posts, Tiers, TopCourse};
use crate::model::known::Known;
use crate::model::library::Library;
use crate::model::material::{Material, MaterialId};
use crate::units::Length;

/// Words for corner joints.
pub(in crate::read::job) const CORNERS: &Words<Corner> = &[
    (&["butt", "butted"], Corner::Butt),
    (&["mitre", "miter", "mitred", "mitered"], Corner::Mitre),
    (&["lapped", "lap", "alternating"], Corner::Lapped),
];

const TOPS: &Words<TopCourse> = &[
    (&["whole", "full", "full board"], TopCourse::Whole),
    (&["ripped", "rip", "cut to height"], TopCourse::Ripped),
];
const SIDES: &Words<PostSide> = &[
    (&["inside", "in"], PostSide::Inside),
    (&["outside", "out"], PostSide::Outside),
];

/// The boards of a row, and what holds them; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<BoardWall> {
    let board = wall_material(draft, reading, Role::Lumber)?;
    let bare = bare(draft, board);
    Some(BoardWall {
        board,
        posts: posts(draft, reading),
        corner: reading
            .known_choice("Corner", CORNERS)
            .unwrap_or(bare.corner),
        cap: material_for(draft, reading, "Cap material", Role::Lumber),
        braces: braces(draft, reading, Some(board)),
        fastener: material_for(draft, reading, "Fastener", Role::Fastener),
        per_joint: reading
            .known_whole("Fasteners per joint")
            .unwrap_or(bare.per_joint),
        top: reading.known_choice("Top course", TOPS).unwrap_or(bare.top),
        end_treatment: material_for(draft, reading, "End treatment", Role::Finish),
    })
}

/// Boards of which only the material is known.
pub(super) fn bare(draft: &Draft<'_>, board: MaterialId) -> BoardWall {
    BoardWall {
        board,
        posts: None,
        corner: Known::assumed(Corner::Butt, "not set, taken as butt"),
        cap: None,
        braces: None,
        fastener: None,
        per_joint: per_joint(draft.library, draft.materials.get(board.index())),
        top: Known::assumed(TopCourse::Whole, "not set, taken as whole"),
        end_treatment: None,
    }
}

/// Braces of a row; where it names no material they are of the `usual` one.
pub(super) fn braces(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    usual: Option<MaterialId>,
) -> Option<Braces> {
    let every = spacing(reading, "Brace every");
    let material = material_for(draft, reading, "Brace material", Role::Lumber);
    let tiers = match reading.known_whole("Brace tiers") {
        Some(number) => Tiers::Given(number),
        None => Tiers::Each(figure(draft.library, "brace_tier", Length::inches)),
    };
    let every = every?;
    let material = material.or(usual);
    if material.is_none() && !reading.has("Brace material") {
        let hint = "name the lumber of the braces, as 2x4";
        reading.complain("Brace material", "Brace material is missing", hint);
    }
    Some(Braces {
        material: material?,
        every,
        tiers,
    })
}

/// Posts of a row.
pub(super) fn posts(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Posts> {
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
        side: reading
            .known_choice("Post side", SIDES)
            .unwrap_or_else(|| Known::assumed(PostSide::Inside, "not set, taken as inside")),
    })
}

/// A greatest distance; zero would mean endlessly many.
pub(super) fn spacing(reading: &mut Reading<'_, '_>, field: &'static str) -> Option<Known<Length>> {
    let least = Length::millimetres(Decimal::ONE_HUNDRED);
    let known = reading.known_length(field)?;
    if known.value < least {
        let sentence = format!("{field} must be at least 4 in or 100 mm");
        reading.complain(field, sentence, "write the greatest distance, as 4 ft");
        return None;
    }
    Some(known)
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
    figure(library, key, super::count)
}
