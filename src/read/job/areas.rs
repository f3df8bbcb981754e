//! `Areas`: paths, surrounds and yards, with what lies on them, below them and at their edge.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::{Draft, figure};
use super::ground::ground_work;
use super::reading::Reading;
use super::roles::{Role, material_for};
use super::shapes::positive;
use super::sites::site_of;
use crate::model::ground::{Area, Edging, GroundWork, Plan, Surface};
use crate::model::known::Known;
use crate::model::material::Category;
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Length, parse};

/// Reads every area.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Areas) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Area", "give it a name of its own, as Main path") {
            if draft.area_names.has(&name) {
                let hint = "give each area its own name";
                reading.complain("Area", "Area is named twice", hint);
            } else {
                draft.area_names.add(&name, draft.areas.len());
                if let Some(area) = area(draft, &mut reading, name) {
                    draft.areas.push(area);
                }
            }
        }
        draft.hear(reading);
    }
    tell_taken_twice(draft);
}

fn area(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>, name: Arc<str>) -> Option<Area> {
    let before = reading.problems.len();
    let plan = plan(reading);
    let site = site_of(draft, reading);
    let phase = draft.phase(reading.text("Phase"));
    let surface = surface(draft, reading);
    let under = material_for(draft, reading, "Under", Role::Under);
    let edging = edging(draft, reading, plan);
    let less_beds = reading.yes_no("Less beds").unwrap_or(false);
    let own = ground_work(reading, "Ground");
    let ground = match own {
        Some(work) => Known::job(work, reading.at(), "Ground"),
        None => Known::assumed(GroundWork::Leave, "not set, taken as leave"),
    };
    let nothing = surface.is_none() && under.is_none() && edging.is_none() && own.is_none();
    let wrong = reading.problems.iter().skip(before);
    let wrong = wrong.filter(|p| p.severity == crate::problem::Severity::Error);
    if wrong.count() > 0 {
        return None;
    }
    if nothing {
        let said = format!("nothing is laid or done on {name}: it costs nothing");
        reading.notice("Area", said);
    }
    Some(Area {
        at: reading.at(),
        name,
        site: site?,
        phase,
        plan: plan?,
        surface,
        under,
        edging,
        less_beds,
        ground,
    })
}

/// A length and a width, or the area itself.
fn plan(reading: &mut Reading<'_, '_>) -> Option<Plan> {
    let (length, width) = (positive(reading, "Length"), positive(reading, "Width"));
    let typed = reading.text("Size");
    let context = reading.row.context("Size");
    let sized = typed.as_deref().and_then(|typed| {
        let sides = parse::sides(typed, &context).ok();
        match sides.as_deref() {
            Some([length, width]) => Some(Plan::Rectangle {
                length: *length,
                width: *width,
            }),
            _ => parse::area(typed, &context).ok().map(Plan::Measured),
        }
    });
    let sized = sized.filter(|plan| !plan.area().is_zero());
    if typed.is_some() && sized.is_none() {
        let hint = "write 30 x 4 ft, or the area as 120 ft2";
        reading.complain("Size", "Size needs two lengths or an area", hint);
        return None;
    }
    match (sized, length, width) {
        (None, Some(length), Some(width)) => Some(Plan::Rectangle { length, width }),
        (Some(plan), None, None) => Some(plan),
        (Some(_), _, _) => {
            let sentence = "Size and Length or Width both say how large it is";
            reading.complain("Size", sentence, "keep one of the two ways");
            None
        }
        (None, _, _) => {
            let missing = if length.is_none() { "Length" } else { "Width" };
            if !reading.has(missing) {
                let hint = "write Length and Width, or one Size as 30 x 4 ft or 120 ft2";
                reading.complain(missing, format!("{missing} is missing"), hint);
            }
            None
        }
    }
}

fn surface(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Surface> {
    let material = material_for(draft, reading, "Material", Role::Surface);
    let depth = positive(reading, "Depth");
    let given = compaction(reading);
    if reading.has("Material") && !reading.has("Depth") {
        let hint = "write how deep it lies when trodden or tamped down, as 3 in";
        reading.complain("Depth", "Depth is missing for the material", hint);
    }
    if reading.has("Depth") && !reading.has("Material") {
        reading.notice("Depth", "Depth is not used without a Material");
    }
    let (material, depth) = material.zip(depth)?;
    let usual = usual_compaction(draft, material.index())?;
    Some(Surface {
        material,
        depth: Known::job(depth, reading.at(), "Depth"),
        compaction: given.unwrap_or(usual),
    })
}

fn compaction(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let known = reading.known_percent("Compaction %")?;
    if known.value >= Decimal::ONE {
        let hint = "write the share of the loose volume that tamping takes, as 18%";
        reading.complain("Compaction %", "Compaction % must be under 100%", hint);
        return None;
    }
    Some(known)
}

/// What treading or tamping takes: of a material with a wet-down loss of its own that, of an aggregate
/// without one the library's figure.
fn usual_compaction(draft: &Draft<'_>, place: usize) -> Option<Known<Decimal>> {
    let material = draft.materials.get(place)?;
    let silent = material.wet_down.value.is_zero() && !material.wet_down.is_given();
    if material.category == Category::Aggregate && silent {
        return Some(figure(draft.library, "path_compaction_pct", |n| {
            n.checked_div(Decimal::ONE_HUNDRED).unwrap_or_default()
        }));
    }
    Some(material.wet_down.clone())
}

/// Edging all round, unless a length is given.
fn edging(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    plan: Option<Plan>,
) -> Option<Edging> {
    let material = material_for(draft, reading, "Edging", Role::Edging);
    let given = positive(reading, "Edging length");
    if !reading.has("Edging") {
        if reading.has("Edging length") {
            reading.notice("Edging length", "Edging length is not used without Edging");
        }
        return None;
    }
    let length = match (given, plan.and_then(Plan::perimeter)) {
        (Some(length), _) => Known::job(length, reading.at(), "Edging length"),
        (None, Some(round)) => Known::assumed(round, "not set, taken as all round"),
        (None, None) => {
            if plan.is_some() && !reading.has("Edging length") {
                let hint = "write how long the edging is, as 60 ft";
                let sentence = "Edging length is missing, and only the area is known";
                reading.complain("Edging length", sentence, hint);
            }
            Known::assumed(Length::ZERO, "not known")
        }
    };
    Some(Edging {
        material: material?,
        length,
    })
}

/// Two areas of one site that both leave the beds out take them off twice.
fn tell_taken_twice(draft: &mut Draft<'_>) {
    let less = || draft.areas.iter().filter(|a| a.less_beds);
    let twice = less().enumerate().find(|(place, area)| {
        let mut before = less().take(*place);
        before.any(|other| other.site == area.site)
    });
    if let Some((_, area)) = twice {
        let said = format!(
            "the beds of the site are taken off {} and off another area too",
            area.name
        );
        let hint = "write yes in Less beds only where the beds lie inside the size that is given";
        let problem = crate::problem::Problem::caution(said)
            .at(area.at, "Less beds")
            .hint(hint);
        draft.problems.push(problem);
    }
}
