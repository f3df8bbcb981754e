//! `Fills` and `Mixes`: what goes into a bed.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::materials::{SizeIn, look_up};
use super::reading::Reading;
use super::resolve::Found;
use super::roles::{Role, material_for};
use crate::model::fill::{Depth, Fill, FillId, Layer, Mix, MixId, Stuff};
use crate::model::library::folded;
use crate::model::material::{Category, MaterialId};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt};
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;

/// Reads the recipes.
pub(super) fn read_mixes(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Mixes) {
        let mut reading = Reading::of(&row);
        if let Some(name) =
            reading.wanted("Mix", "write the name of the recipe on each of its rows")
        {
            let part = part(draft, &mut reading);
            let place = match draft.mix_names.find(&name) {
                Found::Is(place) => place,
                _ => new_mix(draft, name),
            };
            push_part(draft, &mut reading, place, part);
        }
        draft.hear(reading);
    }
}

fn new_mix(draft: &mut Draft<'_>, name: Arc<str>) -> usize {
    let place = draft.mixes.len();
    draft.mix_names.add(&name, place);
    draft.mixes.push(Mix {
        name,
        parts: Vec::new(),
    });
    place
}

fn part(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<(MaterialId, Decimal)> {
    if !reading.has("Material") {
        reading.complain(
            "Material",
            "Material is missing",
            "name what goes into the mix",
        );
    }
    let material = material_for(draft, reading, "Material", Role::Part);
    if !reading.has("Parts") {
        reading.complain(
            "Parts",
            "Parts is missing",
            "write the parts by volume, as 2",
        );
    }
    let parts = reading.number("Parts");
    if parts.is_some_and(|p| p <= Decimal::ZERO) {
        reading.complain(
            "Parts",
            "Parts must be more than 0",
            "write the parts by volume, as 2",
        );
        return None;
    }
    material.zip(parts)
}

fn push_part(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    place: usize,
    part: Option<(MaterialId, Decimal)>,
) {
    let Some((mix, (material, parts))) = draft.mixes.get_mut(place).zip(part) else {
        return;
    };
    if mix.parts.iter().any(|(m, _)| *m == material) {
        let hint = "keep one row for each material of a mix";
        reading.complain("Material", "Material is twice in this mix", hint);
        return;
    }
    mix.parts.push((material, parts));
}

/// Reads the layer stacks, from the bottom up.
pub(super) fn read_fills(draft: &mut Draft<'_>, opened: &Opened) {
    let mut orders: BTreeMap<usize, Vec<(u32, RowAt)>> = BTreeMap::new();
    for row in rows(opened, Sheet::Fills) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Fill", "write the name of the fill on each of its rows")
        {
            let place = match draft.fill_names.find(&name) {
                Found::Is(place) => place,
                _ => new_fill(draft, name),
            };
            let rank = orders.entry(place).or_default();
            let rank_here = layer_rank(&mut reading, rank);
            if let Some(layer) = layer(draft, &mut reading)
                && let Some(fill) = draft.fills.get_mut(place)
            {
                rank.push((rank_here, reading.at()));
                fill.layers.push(layer);
            }
        }
        draft.hear(reading);
    }
    for (place, ranks) in orders {
        if let Some(fill) = draft.fills.get_mut(place) {
            let layers = std::mem::take(&mut fill.layers);
            let mut ranked: Vec<(u32, Layer)> =
                ranks.iter().map(|(rank, _)| *rank).zip(layers).collect();
            ranked.sort_by_key(|(rank, _)| *rank);
            fill.layers = ranked.into_iter().map(|(_, layer)| layer).collect();
            check_depths(&fill.layers, &mut draft.problems);
        }
    }
}

fn new_fill(draft: &mut Draft<'_>, name: Arc<str>) -> usize {
    let place = draft.fills.len();
    draft.fill_names.add(&name, place);
    draft.fills.push(Fill {
        name,
        layers: Vec::new(),
        amendments: Vec::new(),
    });
    place
}

/// The number in `Layer`, counted from the bottom; rows without one follow in file order.
fn layer_rank(reading: &mut Reading<'_, '_>, taken: &[(u32, RowAt)]) -> u32 {
    let next = taken
        .iter()
        .map(|(r, _)| *r)
        .max()
        .map_or(1, |r| r.saturating_add(1));
    let Some(rank) = reading.whole("Layer") else {
        return next;
    };
    if taken.iter().any(|(r, _)| *r == rank) {
        let hint = "count the layers of a fill from the bottom: 1, 2, 3";
        reading.complain("Layer", "Layer is used twice in this fill", hint);
    }
    rank
}

fn layer(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Layer> {
    let stuff = stuff(draft, reading)?;
    let category = match stuff {
        Stuff::Material(id) => draft.materials.get(id.index()).map(|m| m.category),
        Stuff::Mix(_) => None,
    };
    let depth = depth(reading, category == Some(Category::Sheet))?;
    Some(Layer {
        at: Some(reading.at()),
        stuff,
        depth,
        note: reading.text("Note"),
    })
}

fn stuff(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Stuff> {
    let name = reading.wanted("Material", "name the material or the mix of this layer")?;
    match draft.mix_names.find(&name) {
        Found::Is(place) => Some(Stuff::Mix(MixId::of(place))),
        Found::Broken => None,
        Found::Unknown => {
            material_for(draft, reading, "Material", Role::Layer).map(Stuff::Material)
        }
    }
}

const DEPTH_HINT: &str = "write 6 in, 150 mm, 40%, rest or 2 sheets";

fn depth(reading: &mut Reading<'_, '_>, sheet: bool) -> Option<Depth> {
    let Some(typed) = reading.text("Depth") else {
        if sheet {
            reading.notice("Material", "Depth is not set, taken as 1 sheet");
            return Some(Depth::Sheets(1));
        }
        reading.complain("Depth", "Depth is missing", DEPTH_HINT);
        return None;
    };
    let depth = typed_depth(reading, &typed)?;
    match (sheet, depth) {
        (true, Depth::Sheets(_)) => Some(depth),
        (true, _) => {
            let hint = "write how many lie on top of each other, as 1 sheet";
            reading.complain("Depth", "Depth of a sheet must be a number of sheets", hint);
            None
        }
        (false, Depth::Sheets(_)) => {
            let hint = "write 6 in, 40% or rest; only protective sheets are counted";
            reading.complain(
                "Depth",
                "Depth counts sheets of something that is no sheet",
                hint,
            );
            None
        }
        (false, _) => Some(depth),
    }
}

fn typed_depth(reading: &mut Reading<'_, '_>, typed: &str) -> Option<Depth> {
    let word = folded(typed);
    if matches!(
        word.as_str(),
        "rest" | "therest" | "remainder" | "remaining"
    ) {
        return Some(Depth::Rest);
    }
    let counted = ["sheets", "sheet", "layers", "layer", "ply"];
    if let Some(number) = counted.iter().find_map(|w| word.strip_suffix(w)) {
        let sheets: Option<u32> = number.parse().ok().filter(|n| (1..=100).contains(n));
        if sheets.is_none() {
            reading.complain(
                "Depth",
                "Depth must count 1 to 100 sheets",
                "write 2 sheets",
            );
        }
        return sheets.map(Depth::Sheets);
    }
    let percent = matches!(reading.row.raw("Depth"), Cell::Number { percent: true, .. });
    if percent || typed.contains('%') {
        let share = reading.percent("Depth")?;
        if share <= Decimal::ZERO || share > Decimal::ONE {
            let sentence = "Depth as a share must be more than 0% and at most 100%";
            reading.complain("Depth", sentence, DEPTH_HINT);
            return None;
        }
        return Some(Depth::Share(share));
    }
    let length = reading.length("Depth")?;
    if length.is_zero() {
        reading.complain("Depth", "Depth must be more than 0", DEPTH_HINT);
        return None;
    }
    Some(Depth::Fixed(length))
}

/// One `rest` at most, and shares that leave room for each other.
fn check_depths(layers: &[Layer], problems: &mut Vec<Problem>) {
    let mut rests = layers.iter().filter(|l| l.depth == Depth::Rest);
    rests.next();
    if let Some(at) = rests.next().and_then(|second| second.at) {
        let hint = "give all layers but one a depth or a percentage";
        problems.push(
            Problem::error("Depth is rest in two layers of one fill")
                .at(at, "Depth")
                .hint(hint),
        );
    }
    let mut total = Decimal::ZERO;
    for layer in layers {
        let Depth::Share(share) = layer.depth else {
            continue;
        };
        total = total.saturating_add(share);
        if total > Decimal::ONE {
            let over = Problem::error("Depth as shares of one fill comes to more than 100%");
            let at = layer.at.map_or(over.clone(), |at| over.at(at, "Depth"));
            problems.push(at.hint("lower one of the percentages, or write rest"));
            return;
        }
    }
}

/// The fill that a bed names: one of `Fills`, or a mix or material that fills it to the top.
pub(super) fn fill_of(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<FillId> {
    let name = reading.text("Fill")?;
    if matches!(folded(&name).as_str(), "none" | "empty" | "nofill") {
        return None;
    }
    match draft.fill_names.find(&name) {
        Found::Is(place) => return Some(FillId::of(place)),
        Found::Broken => return None,
        Found::Unknown => {}
    }
    let stuff = match draft.mix_names.find(&name) {
        Found::Is(place) => Stuff::Mix(MixId::of(place)),
        Found::Broken => return None,
        Found::Unknown => match look_up(draft, &name, SizeIn::Nothing) {
            Found::Unknown => return unknown_fill(draft, reading, &name),
            _ => Stuff::Material(material_for(draft, reading, "Fill", Role::Layer)?),
        },
    };
    let place = new_fill(draft, Arc::clone(&name));
    reading.notice(
        "Fill",
        format!("\"{name}\" is not in Fills: taken as one layer of it to the top"),
    );
    if let Some(fill) = draft.fills.get_mut(place) {
        fill.layers.push(Layer {
            at: None,
            stuff,
            depth: Depth::Rest,
            note: None,
        });
    }
    Some(FillId::of(place))
}

fn unknown_fill(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    name: &Arc<str>,
) -> Option<FillId> {
    let fills = draft.fill_names.all().chain(draft.mix_names.all());
    let library = draft.library.materials.iter().map(|m| &*m.name);
    let known = fills.chain(draft.material_names.all()).chain(library);
    let otherwise = "add its layers to Fills, or name one material such as compost";
    let hint = super::resolve::unknown_hint(name, known, otherwise);
    reading.complain(
        "Fill",
        "Fill is not among Fills, Mixes or known materials",
        &hint,
    );
    draft.fill_names.add_broken(name);
    None
}
