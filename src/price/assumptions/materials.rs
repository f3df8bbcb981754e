//! Figures of the materials that are needed.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::{Notes, exact, percent};
use crate::model::bed::Base;
use crate::model::block::BlockSize;
use crate::model::ground::Area;
use crate::model::labour::Driver;
use crate::model::material::{Category, Material, Section, Source};
use crate::model::offer::OfferId;
use crate::takeoff::{Need, Part};
use crate::units::show::plain;
use crate::units::{Length, System};

pub(super) fn note(notes: &mut Notes) {
    let needs = notes.takeoffs.iter().flat_map(|takeoff| &takeoff.needs);
    let needs: Vec<&Need> = needs
        .filter(|need| !need.net.base().is_zero() || !need.order.base().is_zero())
        .collect();
    let used: BTreeMap<&str, &Material> = needs
        .iter()
        .filter_map(|need| notes.job.material(need.material))
        .map(|material| (&*material.name, material))
        .collect();
    for material in used.values() {
        origin(notes, material);
        if material.category.is_fill() {
            densities(notes, material);
            if is_spoil(notes, material) {
                continue;
            }
            if is_placed(notes, &needs, material) {
                settling(notes, material);
            } else {
                built_in(notes, material);
            }
        }
        sizes(notes, material);
    }
    let categories: BTreeSet<Category> = used.values().map(|m| m.category).collect();
    if categories.contains(&Category::Sheet) {
        notes.figure("sheet_turn_up_in", "sheets to buy");
    }
    areas(notes);
    stock_lengths(notes);
    if needs.iter().any(|need| need.part == Part::Mesh) {
        notes.figure("mesh_turn_up_in", "mesh to buy");
    }
    if categories.contains(&Category::Wood) {
        notes.figure("clean_soil_over_wood_in", "caution about soil over wood");
    }
}

/// Whether it is filled into a bed, and not only built into its walls.
fn is_placed(notes: &Notes, needs: &[&Need], material: &Material) -> bool {
    let own = |need: &&&Need| notes.job.material_name(need.material) == &*material.name;
    let mut own = needs.iter().filter(own);
    own.any(|need| {
        !matches!(
            need.part,
            Part::WallBase | Part::Mortar | Part::Hearting | Part::CoreFill
        )
    })
}

/// Figures of what is tamped below walls or built into them.
fn built_in(notes: &mut Notes, material: &Material) {
    let (name, order) = (&*material.name, "quantities to order");
    notes.of("Wet-down loss", name, &material.wet_down, percent, order);
    waste(notes, material);
}

/// Lengths of sticks that a price by a measure did not give.
fn stock_lengths(notes: &mut Notes) {
    let offers = notes.bought.lines.iter().filter_map(|line| line.offer);
    let taken = |id: OfferId| {
        let by = notes.job.offers.get(id.index())?.by.as_ref()?;
        Some(by.usual_lengths)
    };
    if offers.filter_map(taken).any(|usual| usual) {
        let keys = match notes.job.settings.units.value {
            System::UsCustomary => ["stock_length_ft", "stock_length_step_ft"],
            System::Metric => ["stock_length_m", "stock_length_step_m"],
        };
        for key in keys {
            notes.figure(key, "sticks to choose from");
        }
    }
}

/// Whether it is what leaves the ground, which settles nowhere.
fn is_spoil(notes: &Notes, material: &Material) -> bool {
    let spoil = notes.job.spoil.and_then(|id| notes.job.material(id));
    spoil.is_some_and(|s| s.name == material.name)
}

fn waste(notes: &mut Notes, material: &Material) {
    let (name, order) = (&*material.name, "quantities to order");
    notes.of("Waste", name, &material.waste, percent, order);
}

fn origin(notes: &mut Notes, material: &Material) {
    let source = |s: &Source| match s {
        Source::Buy => "bought".to_owned(),
        Source::OnSite => "on site".to_owned(),
        Source::Donated => "donated".to_owned(),
    };
    notes.of("Source", &material.name, &material.source, source, "orders");
}

/// Densities, when something is carried, and the wet ones where rain or a roof make them count.
fn densities(notes: &mut Notes, material: &Material) {
    let shown = notes.job.settings.units.value;
    let show = |d: &crate::units::Density| shown.density(*d);
    let trips = !notes.bought.trips.is_empty();
    let lines = &notes.labour.lines;
    let hauled = lines.iter().any(|line| line.driver == Driver::HaulVolume);
    if let Some(delivered) = &material.delivered
        && (trips || hauled)
    {
        let label = "Delivered density";
        notes.of(label, &material.name, delivered, show, "loads and hauling");
    }
    let carried = notes.job.beds.iter().any(|b| b.base != Base::OpenGround);
    if let Some(wet) = &material.wet
        && (trips || carried)
    {
        let used = "loads after rain and weight on roofs, decks and paving";
        notes.of("Wet density", &material.name, wet, show, used);
    }
}

/// What the loose goods of paths lose when they are trodden or tamped down, and edging all round.
fn areas(notes: &mut Notes) {
    let mut areas: Vec<&Area> = notes.job.areas.iter().collect();
    areas.sort_by(|a, b| a.name.cmp(&b.name));
    for area in areas {
        if let Some(surface) = &area.surface {
            let used = "quantities to order";
            notes.of("Compaction", &area.name, &surface.compaction, percent, used);
        }
        if let Some(edging) = &area.edging {
            let shown = notes.job.settings.units.value;
            let length = |l: &Length| shown.length(*l);
            notes.of(
                "Edging length",
                &area.name,
                &edging.length,
                length,
                "edging",
            );
        }
    }
}

fn settling(notes: &mut Notes, material: &Material) {
    let (name, order) = (&*material.name, "quantities to order");
    notes.of("Wet-down loss", name, &material.wet_down, percent, order);
    let season = "sinking, top-up and quantities to order";
    let label = "First-season loss";
    notes.of(label, name, &material.first_season, percent, season);
    if !material.void.value.is_zero() {
        let infill = "soil that runs into the voids";
        notes.of("Void share", name, &material.void, percent, infill);
        let label = "Infill of the voids";
        notes.of(label, name, &material.infill, percent, infill);
    }
    notes.of("Waste", name, &material.waste, percent, order);
}

/// Sizes and waste of what is not poured.
fn sizes(notes: &mut Notes, material: &Material) {
    let shown = notes.job.settings.units.value;
    let name = &*material.name;
    let depth = |l: &crate::units::Length| exact(shown, *l);
    match material.category {
        Category::Sheet | Category::Liner | Category::Mesh => {
            if let Some(width) = &material.roll_width {
                notes.of("Roll width", name, width, depth, "strips to lay");
            }
            notes.of("Lap", name, &material.lap, depth, "strips to lay");
        }
        Category::Lumber => {
            if let Some(section) = &material.section {
                let size = |s: &Section| {
                    let (thick, face) = (exact(shown, s.thickness), exact(shown, s.face));
                    format!("{thick} x {face}")
                };
                let used = "height of walls, inside size and cut list";
                notes.of("Dressed size", name, section, size, used);
            }
        }
        Category::Finish => {
            if let Some(coverage) = &material.coverage {
                // Kept as m2 a m3; a litre is a thousandth of one.
                let show = |c: &Decimal| {
                    let per_litre = c.checked_div(Decimal::ONE_THOUSAND).unwrap_or_default();
                    format!("{} m2 a litre", plain(per_litre, 2))
                };
                notes.of("Coverage", name, coverage, show, "finish to buy");
            }
            notes.of(
                "Waste",
                name,
                &material.waste,
                percent,
                "quantities to order",
            );
        }
        Category::Panel => lap_of_sheets(notes, material),
        Category::Block => size_of_block(notes, material),
        Category::Stone => {
            densities(notes, material);
            waste(notes, material);
        }
        Category::Fastener
        | Category::Amendment
        | Category::ReadyMade
        | Category::Tube
        | Category::Fitting
        | Category::Other => {
            notes.of(
                "Waste",
                name,
                &material.waste,
                percent,
                "quantities to order",
            );
        }
        _ => {}
    }
}

/// Sheets that are cut lap as their material says, where it gives no cover width.
fn lap_of_sheets(notes: &mut Notes, material: &Material) {
    let (shown, name) = (notes.job.settings.units.value, &*material.name);
    let cut = |id| notes.job.material_name(id) == name;
    let mut pieces = notes.takeoffs.iter().flat_map(|t| &t.sheet_pieces);
    let is_cut = pieces.any(|piece| cut(piece.material));
    if is_cut && material.panel.cover.is_none() {
        let depth = |l: &Length| exact(shown, *l);
        notes.of("Lap", name, &material.lap, depth, "sheets to cut");
    }
}

fn size_of_block(notes: &mut Notes, material: &Material) {
    let (shown, name) = (notes.job.settings.units.value, &*material.name);
    if let Some(block) = &material.block {
        let size = |b: &BlockSize| block_words(shown, b);
        let used = "height and length of walls, inside size";
        notes.of("Size", name, block, size, used);
    }
    let used = "quantities to order";
    notes.of("Waste", name, &material.waste, percent, used);
}

/// `15.625 in long, 7.625 in high, 7.625 in deep, 46% open cells, 34 lb`.
fn block_words(shown: System, block: &BlockSize) -> String {
    let (length, height) = (exact(shown, block.length), exact(shown, block.height));
    let depth = exact(shown, block.depth);
    let mut words = format!("{length} long, {height} high, {depth} deep");
    if !block.cells.is_zero() {
        words = format!("{words}, {} open cells", percent(&block.cells));
    }
    if let Some(weight) = block.weight {
        words = format!("{words}, {}", shown.weight(weight));
    }
    words
}
