//! `Beds`: the rows that everything else serves.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::fills::fill_of;
use super::frames::frame_of;
use super::ground::under_bed;
use super::joins;
use super::reading::{Reading, Words};
use super::resolve::unknown_hint;
use super::shapes::{Sized, positive, shape};
use super::sites::site_of;
use crate::model::bed::{Along, Base, Bed, Measured, Slope};
use crate::model::frame::{Frame, FrameId, FrameKind};
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Length;

/// Words for where sizes were taken.
pub(super) const MEASURED: &Words<Measured> = &[
    (&["outside", "out"], Measured::Outside),
    (&["inside", "in"], Measured::Inside),
];
/// Words for what a bed stands on.
pub(super) const BASES: &Words<Base> = &[
    (
        &["open ground", "ground", "soil", "lawn", "grass"],
        Base::OpenGround,
    ),
    (
        &["paved", "paving", "concrete", "patio", "asphalt"],
        Base::Paved,
    ),
    (
        &["roof or deck", "roof", "deck", "roof/deck", "balcony"],
        Base::RoofOrDeck,
    ),
];
/// Words for the side along which the ground falls.
pub(super) const ALONG: &Words<Along> = &[(&["length"], Along::Length), (&["width"], Along::Width)];

/// Reads every bed.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    let mut unfilled: Vec<Arc<str>> = Vec::new();
    let mut outside_taken = 0_usize;
    for row in rows(opened, Sheet::Beds) {
        let mut reading = Reading::of(&row);
        if let Some(name) = own_name(draft, &mut reading) {
            if !reading.has("Fill") {
                unfilled.push(Arc::clone(&name));
            }
            if !reading.has("Measured") {
                outside_taken = outside_taken.saturating_add(1);
            }
            match bed(draft, &mut reading, &name) {
                Some(bed) => {
                    let said = joins::of_row(&reading, draft.beds.len());
                    draft.joins.extend(said);
                    draft.bed_names.add(&name, draft.beds.len());
                    draft.beds.push(bed);
                }
                None => draft.bed_names.add_broken(&name),
            }
        }
        draft.hear(reading);
    }
    joins::settle(draft, &opened.beds_left_out);
    say_assumed(draft, &unfilled, outside_taken);
}

fn say_assumed(draft: &mut Draft<'_>, unfilled: &[Arc<str>], outside_taken: usize) {
    if !unfilled.is_empty() {
        let names: Vec<&str> = unfilled.iter().take(5).map(|n| &**n).collect();
        let more = if unfilled.len() > 5 { " …" } else { "" };
        let said = format!(
            "Fill is not set: nothing is put into {}{more}",
            names.join(", ")
        );
        draft.problems.push(Problem::notice(said));
    }
    if outside_taken > 0 {
        let said = "Measured is not set: sizes are taken as the outside of the walls";
        draft.problems.push(Problem::notice(said));
    }
}

fn own_name(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Arc<str>> {
    let name = reading.wanted("Bed", "give the bed a name of its own, as B1")?;
    if draft.bed_names.has(&name) {
        let hint = "give each bed its own name, or set Count for beds that are alike";
        reading.complain("Bed", "Bed is named twice", hint);
        return None;
    }
    Some(name)
}

fn bed(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>, name: &Arc<str>) -> Option<Bed> {
    let count = count(reading);
    let sized = shape(reading);
    let frame = frame_of(draft, reading);
    let wrong_fill = reading.problems.len();
    let fill = fill_of(draft, reading);
    let fill_ok = fill.is_some() || reading.problems.len() == wrong_fill;
    let site = site_of(draft, reading);
    let ground = under_bed(draft, reading, site);
    let heights = heights(draft, reading, &sized, frame);
    let slope = slope(reading);
    let phase = draft.phase(reading.text("Phase"));
    let (measured, base) = (
        reading.choice("Measured", MEASURED),
        reading.choice("Base", BASES),
    );
    if reading.has("Ground") && base.is_some_and(|b| b != Base::OpenGround) {
        let said = "Ground is not used: the bed stands on no open ground";
        reading.notice("Ground", said);
    }
    let closed_bottom = reading.yes_no("Closed bottom").unwrap_or(false);
    let underside_clear = reading.length("Underside clear");
    let priority = reading.whole("Priority");
    let (height, courses) = heights?;
    fill_ok.then_some(Bed {
        at: reading.at(),
        name: Arc::clone(name),
        count: count?,
        shape: sized.shape?,
        measured: measured.unwrap_or(Measured::Outside),
        height,
        courses,
        frame: frame?,
        fill,
        crop: crop(draft, reading),
        site: site?,
        phase,
        base: base.unwrap_or(Base::OpenGround),
        closed_bottom,
        underside_clear,
        joins: Vec::new(),
        ground: ground?,
        slope,
        drip: None,
        priority,
        note: reading.text("Note"),
    })
}

/// What grows in the bed; a crop that is in no list is told, since its depth of soil is not known.
fn crop(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Arc<str>> {
    let typed = reading.text("Crop")?;
    if let Some(name) = draft.library.unknown_crop(&typed) {
        let known = draft.library.crops.iter();
        let known = known.flat_map(|c| c.examples.iter().chain([&c.name]).map(|n| &**n));
        let hint = unknown_hint(&name, known, "see loamwright defaults crops");
        let said = "Crop is not in the list of crops: soil is looked at as for mixed vegetables";
        reading
            .problems
            .push(Problem::notice(said).at(reading.at(), "Crop").hint(hint));
    }
    Some(typed)
}

/// A whole number of 1 or more; 1 when the cell is empty.
fn count(reading: &mut Reading<'_, '_>) -> Option<u32> {
    if !reading.has("Count") {
        return Some(1);
    }
    match reading.whole("Count") {
        Some(0) => {
            let hint = "write how many alike, or delete the row";
            reading.complain("Count", "Count must be a whole number of 1 or more", hint);
            None
        }
        count => count,
    }
}

/// Height and courses as the kind of wall needs them; `None` after a problem.
fn heights(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    sized: &Sized,
    frame: Option<FrameId>,
) -> Option<(Option<Length>, Option<u32>)> {
    let typed = positive(reading, "Height");
    let from_size = sized.height;
    if let (Some(typed), Some(from_size)) = (typed, from_size)
        && typed != from_size
    {
        let hint = "keep one of the two";
        reading.complain("Height", "Height and Size say different things", hint);
    }
    let courses = reading.whole("Courses");
    if courses == Some(0) {
        reading.complain(
            "Courses",
            "Courses must be 1 or more",
            "write how many courses stand on each other",
        );
        return None;
    }
    let spoilt =
        reading.has("Height") && typed.is_none() || reading.has("Courses") && courses.is_none();
    let frame = frame?;
    let kind = draft.frames.get(frame.index()).map(Frame::kind)?;
    let unit = draft.unit_heights.get(frame.index()).copied().flatten();
    let height = typed.or(from_size).or(unit);
    let spoilt = spoilt || sized.size_told;
    if !kind.has_courses() && courses.is_some() {
        let words = format!("Courses are not used by a frame of kind {}", kind.word());
        reading.notice("Courses", words);
    }
    let courses = courses.filter(|_| kind.has_courses());
    if spoilt {
        return None;
    }
    if height.is_none() && courses.is_none() {
        let (sentence, hint) = match kind {
            FrameKind::Boards | FrameKind::Blocks | FrameKind::Timbers => (
                "Height is missing, and Courses too",
                "write a height, as 18 in, or a number of courses",
            ),
            FrameKind::Modular | FrameKind::Panels => (
                "Height is missing",
                "write the height of the wall, as 24 in",
            ),
            FrameKind::ReadyMade => (
                "Height is missing",
                "write the height of the unit, as 17 in",
            ),
            FrameKind::Stone => (
                "Height is missing",
                "write how high the wall stands, as 20 in",
            ),
            FrameKind::None => (
                "Height is missing",
                "write how high the mound stands, as 8 in",
            ),
        };
        reading.complain("Height", sentence, hint);
        return None;
    }
    Some((height, courses))
}

fn slope(reading: &mut Reading<'_, '_>) -> Option<Slope> {
    let along = reading.choice("Slope along", ALONG);
    let fall = reading.percent("Slope %")?;
    if fall >= Decimal::ONE {
        let hint = "write the fall in each 100 of distance, as 5%";
        reading.complain("Slope %", "Slope % must be under 100%", hint);
        return None;
    }
    let along = along.unwrap_or_else(|| {
        if !fall.is_zero() {
            reading.notice("Slope %", "Slope along is not set, taken as length");
        }
        Along::Length
    });
    (!fall.is_zero()).then_some(Slope { fall, along })
}
