//! `Pieces`: lengths to cut beside those of the frames, from the same sticks.

use std::sync::Arc;

use super::draft::Draft;
use super::materials::{SizeIn, add, look_up, plain};
use super::reading::Reading;
use super::resolve::{Found, unknown_hint};
use super::sites::unnamed_site;
use crate::model::bed::BedId;
use crate::model::job::{CutRow, SiteId};
use crate::model::library::folded;
use crate::model::material::{Category, MaterialId};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Length;

/// Reads every row of lengths to cut.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Pieces) {
        let mut reading = Reading::of(&row);
        if let Some(piece) = piece(draft, &mut reading) {
            draft.pieces.push(piece);
        }
        draft.hear(reading);
    }
}

fn piece(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<CutRow> {
    let material = material(draft, reading);
    let length = length(reading);
    let count = count(reading);
    let bed = bed(draft, reading);
    let (material, length, count, (bed, name)) = (material?, length?, count?, bed?);
    let note = reading.text("Note");
    let words: Vec<Arc<str>> = name.into_iter().chain(note).collect();
    let mark = if words.is_empty() {
        Arc::from("piece")
    } else {
        Arc::from(words.join(", "))
    };
    let own = bed.and_then(|bed| draft.beds.get(bed.index()));
    let (site, phase) = match own.map(|bed| (bed.site, bed.phase)) {
        Some(place) => place,
        None => (any_site(draft), draft.any_phase()),
    };
    Some(CutRow {
        at: reading.at(),
        material,
        length,
        count,
        bed,
        mark,
        site,
        phase,
    })
}

/// Lumber by its name; what only `Prices` knows is taken as lumber, since it is cut to length.
fn material(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<MaterialId> {
    let hint = "name what it is cut from, as Prices does";
    let name = reading.wanted("Material", hint)?;
    let place = match look_up(draft, &name, SizeIn::Lumber) {
        Found::Is(place) => place,
        Found::Broken => return None,
        Found::Unknown if draft.priced.contains(&folded(&name)) => {
            let said = format!("\"{name}\" is taken as lumber, since Pieces cuts it to length");
            reading.notice("Material", said);
            add(draft, plain(name, Category::Lumber))
        }
        Found::Unknown => {
            let priced = draft.priced.iter().map(String::as_str);
            let known = draft.material_names.all().chain(priced);
            let hint = unknown_hint(&name, known, "add a row for it to Prices");
            reading.complain("Material", "Material is not known", &hint);
            return None;
        }
    };
    let category = draft.materials.get(place)?.category;
    if category != Category::Lumber {
        let sentence = format!("Material must be lumber, not {}", category.word());
        let hint = "name another material, or give this one the Category lumber in Materials";
        reading.complain("Material", sentence, hint);
        return None;
    }
    draft.used.insert(place);
    Some(MaterialId::of(place))
}

fn length(reading: &mut Reading<'_, '_>) -> Option<Length> {
    const HINT: &str = "write how long one piece is, as 3 ft 9 in";
    if !reading.has("Length") {
        reading.complain("Length", "Length is missing", HINT);
        return None;
    }
    let length = reading.length("Length")?;
    if length <= Length::ZERO {
        reading.complain("Length", "Length must be more than zero", HINT);
        return None;
    }
    Some(length)
}

/// How many; one where nothing is written.
fn count(reading: &mut Reading<'_, '_>) -> Option<u32> {
    if !reading.has("Count") {
        reading.notice("Count", "Count of Pieces is not set, taken as 1");
        return Some(1);
    }
    reading.whole("Count")
}

/// The bed that it is for, and the words of the cell. A job without beds takes them as a mark.
fn bed(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
) -> Option<(Option<BedId>, Option<Arc<str>>)> {
    let Some(name) = reading.text("Bed") else {
        return Some((None, None));
    };
    if draft.bed_names.is_empty() {
        return Some((None, Some(name)));
    }
    let spot = (reading.at(), "Bed");
    let place = draft
        .bed_names
        .resolve(&name, spot, "Beds", &mut reading.problems)?;
    Some((Some(BedId::of(place)), Some(name)))
}

/// The first site, made when there is none.
fn any_site(draft: &mut Draft<'_>) -> SiteId {
    if draft.sites.is_empty() {
        return unnamed_site(draft);
    }
    SiteId::of(0)
}
