//! `Materials`: the trade library with the job's own figures laid over it, figure by figure.
//!
//! Longer than most because every figure of a material is laid over in one place.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::block::{block_in_name, known_size, of_block, overlay, surely_block};
use super::draft::{Draft, figure};
use super::measures::{halves, measured_by, one_of, suits, usual};
use super::panel_size;
use super::reading::{Reading, Words};
use super::resolve::Found;
use super::section::{section_cell, section_in_name};
use super::sticks;
use crate::model::known::{From, Known};
use crate::model::library::{Library, LibraryMaterial, LibrarySection};
use crate::model::material::{Category, Material, PanelSize, Source};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Amount, Area, Density, Dimension, Length, parse};

/// Words for kinds of material.
pub(super) const CATEGORIES: &Words<Category> = &[
    (&["soil", "topsoil", "soil blend", "blend"], Category::Soil),
    (&["compost"], Category::Compost),
    (&["wood", "logs", "brush", "woody"], Category::Wood),
    (&["litter", "leaves", "straw"], Category::Litter),
    (&["mulch"], Category::Mulch),
    (&["aggregate", "gravel", "sand"], Category::Aggregate),
    (&["medium", "peat", "coir"], Category::Medium),
    (
        &["amendment", "fertiliser", "fertilizer"],
        Category::Amendment,
    ),
    (&["sheet", "cardboard", "fabric"], Category::Sheet),
    (&["liner"], Category::Liner),
    (&["mesh", "wire mesh"], Category::Mesh),
    (
        &["lumber", "timber", "board", "boards", "post", "wood board"],
        Category::Lumber,
    ),
    (
        &["fastener", "fasteners", "screws", "bolts"],
        Category::Fastener,
    ),
    (
        &["block", "blocks", "brick", "cap block", "segmental unit"],
        Category::Block,
    ),
    (&["bar", "bars", "rebar"], Category::Bar),
    (
        &["stone", "wall stone", "building stone", "rubble"],
        Category::Stone,
    ),
    (&["ready-made", "kit"], Category::ReadyMade),
    (
        &["panel", "panels", "wall panel", "sheet metal", "module"],
        Category::Panel,
    ),
    (&["trim", "edging trim", "corner trim"], Category::Trim),
    (&["tube", "dripline", "tubing"], Category::Tube),
    (&["fitting", "fittings"], Category::Fitting),
    (&["finish", "oil", "stain"], Category::Finish),
    (&["other"], Category::Other),
];
/// Words for where a material comes from.
pub(super) const SOURCES: &Words<Source> = &[
    (&["buy", "bought"], Source::Buy),
    (&["on site", "from site"], Source::OnSite),
    (&["donated", "donation", "gift"], Source::Donated),
];

/// Reads every row of `Materials`.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Materials) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Material", "write its name as other sheets do") {
            if draft.material_names.has(&name) {
                let hint = "keep one row for each material";
                reading.complain("Material", "Material is listed twice", hint);
            } else {
                define(draft, &mut reading, &name);
            }
        }
        draft.hear(reading);
    }
}

fn define(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>, name: &Arc<str>) {
    let library = draft.library;
    let known = library.material(name);
    let category = reading.choice("Category", CATEGORIES);
    let section = section_in_name(library, name);
    let block = match category {
        Some(Category::Block) => block_in_name(library, name),
        Some(_) => None,
        None => surely_block(library, name),
    };
    let base = match (known, block, category, section) {
        (Some(known), ..) => from_library(library, Arc::clone(name), known),
        (None, Some(block), ..) => of_block(Arc::clone(name), block),
        (None, None, None | Some(Category::Lumber), Some(section)) => {
            of_section(Arc::clone(name), section)
        }
        (None, None, Some(category), _) => plain(Arc::clone(name), category),
        (None, None, None, None) if reading.has("Section") => {
            plain(Arc::clone(name), Category::Lumber)
        }
        (None, None, None, None) => {
            if !reading.has("Category") {
                let hint = "write soil, compost, wood, sheet, lumber, block, fastener, ready-made … since the trade library does not know this material";
                reading.complain("Category", "Category is missing", hint);
            }
            draft.material_names.add_broken(name);
            return;
        }
    };
    let material = overlaid(draft, reading, base, category);
    let is_lumber = material.category == Category::Lumber;
    let place = add(draft, material);
    if is_lumber {
        draft.on_hand.extend(sticks::of_cell(reading, place));
    }
    if let Some(known) = known {
        draft
            .library_places
            .entry(Arc::clone(&known.key))
            .or_insert(place);
    }
}

/// Adds a material under its name and returns its place.
pub(super) fn add(draft: &mut Draft<'_>, mut material: Material) -> usize {
    if material.category == Category::Finish && material.coverage.is_none() {
        material.coverage = Some(usual_coverage(draft.library));
    }
    if material.category == Category::Stone && matches!(material.void.from, From::Assumed(_)) {
        material.void = figure(draft.library, "stone_void_pct", |percent| {
            percent
                .checked_div(Decimal::ONE_HUNDRED)
                .unwrap_or_default()
        });
    }
    let place = draft.materials.len();
    draft.material_names.add(&material.name, place);
    draft.materials.push(material);
    place
}

fn overlaid(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    mut material: Material,
    category: Option<Category>,
) -> Material {
    material.at = Some(reading.at());
    material.category = category.unwrap_or(material.category);
    material.delivered = reading
        .known_density("Delivered density")
        .or(material.delivered);
    material.wet = reading.known_density("Wet density").or(material.wet);
    overlay_share(reading, "Wet-down %", &mut material.wet_down, true);
    overlay_share(reading, "First season %", &mut material.first_season, true);
    overlay_share(reading, "Void %", &mut material.void, true);
    overlay_share(reading, "Infill %", &mut material.infill, false);
    overlay_share(reading, "Waste %", &mut material.waste, false);
    if material.category == Category::Block {
        overlay(draft, reading, &mut material);
    } else if let Some(section) = section_cell(draft.library, reading) {
        material.section = Some(section);
    }
    match material.category {
        Category::Panel => material.panel = panel_size::read(reading),
        Category::ReadyMade => material.panel.weight = panel_size::weight(reading),
        _ => {}
    }
    material.roll_width = reading.known_length("Roll width").or(material.roll_width);
    if let Some(lap) = reading.known_length("Lap") {
        material.lap = lap;
    }
    if material.category == Category::Stone {
        material.face = face(reading);
    } else {
        material.coverage = coverage(reading).or(material.coverage);
    }
    material.spec = reading.text("Spec").or(material.spec);
    if let Some(source) = reading.known_choice("Source", SOURCES) {
        material.source = source;
    }
    material.on_hand = on_hand(reading, material.category);
    material.value = value(draft, reading, material.category);
    material
}

/// Puts the job's percentage over the library's. A loss or a void of the whole leaves nothing.
fn overlay_share(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    share: &mut Known<Decimal>,
    under_all: bool,
) {
    let Some(known) = reading.known_percent(field) else {
        return;
    };
    if under_all && known.value >= Decimal::ONE {
        let sentence = format!("{field} must be under 100%");
        reading.complain(field, sentence, "write the share that is lost, as 12%");
        return;
    }
    if !under_all && known.value > Decimal::ONE {
        let sentence = format!("{field} must be at most 100%");
        reading.complain(field, sentence, "write a percentage, as 10%");
        return;
    }
    *share = known;
}

fn coverage(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let at = reading.at();
    let typed = reading.text("Coverage")?;
    let context = reading.row.context("Coverage");
    let read = halves(&typed).and_then(|(area, volume)| {
        let area = parse::area(area, &context).ok()?;
        let volume = parse::volume(&one_of(volume), &context).ok()?;
        let square = area.in_square_metres();
        square.checked_div(volume.in_cubic_metres())
    });
    if read.is_none() {
        let hint = "write 150 ft2/gal or 10 m2/L, for one coat";
        reading.complain("Coverage", "Coverage needs an area for a volume", hint);
    }
    read.map(|value| Known::job(value, at, "Coverage"))
}

/// The face of wall that stone builds, as its seller states it: `30 ft2/ton`, in m2 a kg.
fn face(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let at = reading.at();
    let typed = reading.text("Coverage")?;
    let context = reading.row.context("Coverage");
    let read = halves(&typed).and_then(|(area, weight)| {
        let area = parse::area(area, &context).ok()?;
        let weight = parse::weight(&one_of(weight), &context).ok()?;
        let face = area.in_square_metres();
        face.checked_div(weight.in_kilograms())
    });
    let read = read.filter(|face| *face > Decimal::ZERO);
    if read.is_none() {
        let hint = "write 30 ft2 per ton or 2.8 m2 per tonne, for a wall as thick as yours";
        let sentence = "Coverage of stone needs an area of face for a weight";
        reading.complain("Coverage", sentence, hint);
    }
    read.map(|value| Known::job(value, at, "Coverage"))
}

fn on_hand(reading: &mut Reading<'_, '_>, category: Category) -> Option<Known<Amount>> {
    if category == Category::Lumber && !sticks::of_cell(reading, 0).is_empty() {
        // Sticks by number and length are offers that cost nothing.
        return None;
    }
    let known = reading.known_amount("On hand")?;
    if suits(category, known.value.dimension()) {
        return Some(known);
    }
    let sentence = format!(
        "On hand of {} must be {}",
        category.word(),
        measured_by(category)
    );
    reading.complain("On hand", sentence, "write what is there, with its unit");
    None
}

/// The stated value of a donation, as money for an amount: `18/yd3`, `0.40 per board ft` asks.
fn value(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    category: Category,
) -> Option<Known<Decimal>> {
    let at = reading.at();
    let typed = reading.text("Value")?;
    let context = reading.row.context("Value");
    let unit = draft.system.unit(usual(category));
    let read = match halves(&typed) {
        Some((money, unit)) => {
            let amount = parse::amount(&one_of(unit), &context).ok();
            let money = parse::money(money, context.decimal_comma).ok();
            money
                .zip(amount)
                .filter(|(_, a)| suits(category, a.dimension()))
        }
        None if usual(category) == Dimension::Count => {
            let money = parse::money(&typed, context.decimal_comma).ok();
            money.map(|m| (m, Amount::Count(Decimal::ONE)))
        }
        None => None,
    };
    let each = read.and_then(|(money, amount)| money.checked_div(amount.base()));
    if each.is_none() {
        let hint = match unit {
            "" => "write 45 each".to_owned(),
            unit => format!("write 18/{unit}"),
        };
        reading.complain("Value", "Value needs money for an amount", &hint);
    }
    each.map(|value| Known::job(value, at, "Value"))
}

/// What a finish covers when the job does not say: square feet a gallon as the library has it,
/// in square metres a cubic metre.
fn usual_coverage(library: &Library) -> Known<Decimal> {
    /// A US gallon is 231 in3 by definition.
    const GALLON: Decimal = Decimal::from_parts(3_785_411_784, 0, 0, false, 12);
    figure(library, "finish_cover_ft2_gal", |square_feet| {
        let square_metres = Area::square_feet(square_feet).in_square_metres();
        square_metres.checked_div(GALLON).unwrap_or_default()
    })
}

/// The library's material under a name of the job.
fn from_library(library: &Library, name: Arc<str>, known: &LibraryMaterial) -> Material {
    let figure = |value: Decimal, column: &'static str| {
        let share = value.checked_div(Decimal::ONE_HUNDRED).unwrap_or_default();
        Known::library(share, "materials", Arc::clone(&known.key), column)
    };
    let density = |value: Option<Decimal>, column: &'static str| {
        let density = value.map(Density::pounds_per_cubic_yard)?;
        Some(Known::library(
            density,
            "materials",
            Arc::clone(&known.key),
            column,
        ))
    };
    let inches = |value: Option<Decimal>, column: &'static str| {
        let length = value.map(Length::inches)?;
        Some(Known::library(
            length,
            "materials",
            Arc::clone(&known.key),
            column,
        ))
    };
    let plain = plain(name, known.category);
    Material {
        delivered: density(known.delivered, "delivered_lb_yd3"),
        wet: density(known.wet, "wet_lb_yd3"),
        wet_down: figure(known.wet_down, "wet_down_pct"),
        first_season: figure(known.first_season, "first_season_pct"),
        void: figure(known.void, "void_pct"),
        infill: figure(known.infill, "infill_pct"),
        waste: figure(known.waste, "waste_pct"),
        roll_width: inches(known.roll_width, "roll_width_in"),
        lap: inches(known.lap, "lap_in").unwrap_or(plain.lap),
        block: (known.category == Category::Block)
            .then(|| block_in_name(library, &known.name).map(known_size))
            .flatten(),
        ..plain
    }
}

/// Lumber of a section of the library.
fn of_section(name: Arc<str>, section: &LibrarySection) -> Material {
    let key = Arc::clone(&section.key);
    Material {
        section: Some(Known::library(
            section.section.clone(),
            "sections",
            key,
            "face",
        )),
        ..plain(name, Category::Lumber)
    }
}

/// A material of which only its category is known.
pub(super) fn plain(name: Arc<str>, category: Category) -> Material {
    let none = Known::assumed(Decimal::ZERO, "not set, taken as 0%");
    let sheet = matches!(category, Category::Sheet | Category::Liner | Category::Mesh);
    Material {
        name,
        at: None,
        category,
        delivered: None,
        wet: None,
        wet_down: none.clone(),
        first_season: none.clone(),
        void: none.clone(),
        infill: none.clone(),
        waste: none,
        section: None,
        panel: PanelSize::default(),
        block: None,
        roll_width: None,
        lap: if sheet {
            Known::assumed(Length::inches(Decimal::from(6)), "not set, taken as 6 in")
        } else {
            Known::assumed(Length::ZERO, "not set, taken as 0")
        },
        coverage: None,
        face: None,
        spec: None,
        source: Known::assumed(Source::Buy, "not set, taken as bought"),
        on_hand: None,
        value: None,
    }
}

/// Whose size a name may tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum SizeIn {
    /// None, unless the name says that it is a block.
    Nothing,
    /// A board's section.
    Lumber,
    /// A block's.
    Block,
}

/// The place of a material by any of its names, made from the library when the job has not used
/// it yet; a name with a size in it becomes lumber or a block when `size` says that it may.
pub(super) fn look_up(draft: &mut Draft<'_>, name: &Arc<str>, size: SizeIn) -> Found {
    let found = draft.material_names.find(name);
    if found != Found::Unknown {
        return found;
    }
    let library = draft.library;
    if let Some(known) = library.material(name) {
        let place = match draft.library_places.get(&known.key) {
            Some(place) => *place,
            None => add(draft, from_library(library, Arc::clone(name), known)),
        };
        draft.material_names.add(name, place);
        draft.library_places.insert(Arc::clone(&known.key), place);
        return Found::Is(place);
    }
    let block = match size {
        SizeIn::Block => block_in_name(library, name),
        SizeIn::Lumber | SizeIn::Nothing => surely_block(library, name),
    };
    if let Some(block) = block {
        return Found::Is(add(draft, of_block(Arc::clone(name), block)));
    }
    if size == SizeIn::Lumber
        && let Some(section) = section_in_name(library, name)
    {
        return Found::Is(add(draft, of_section(Arc::clone(name), section)));
    }
    Found::Unknown
}
