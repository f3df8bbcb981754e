//! Cautions that the names, the origin and the weight of goods give reason for.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::super::naming::speaks_of;
use super::{At, Group, Look, Reason};
use crate::model::fill::Stuff;
use crate::model::frame::Wall;
use crate::model::labour::Driver;
use crate::model::labour::ExtraKind;
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer};
use crate::takeoff::Part;
use crate::units::show::grouped;
use crate::units::{Amount, Weight};

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    use Category::{
        Aggregate, Amendment, Compost, Litter, Lumber, Medium, Mulch, Other, Panel, ReadyMade,
        Soil, Trim, Wood,
    };
    let growing = [Soil, Compost, Litter, Mulch, Medium, Aggregate, Amendment];
    let built = [Lumber, Panel, ReadyMade, Other];
    let sheeting = [Panel, Trim, ReadyMade];
    let salvage = named(look, "salvage_wood", &built);
    let mut treated = named(look, "treated_wood", &built);
    treated
        .members
        .retain(|name, _| !salvage.members.contains_key(name));
    [
        named(look, "herbicide", &growing).reason("herbicide"),
        salvage.reason("salvage_wood"),
        treated.reason("treated_wood"),
        buried(look),
        named(look, "walnut", &[Wood, Mulch, Litter]).reason("walnut"),
        silica(look, &built),
        named(look, "sharp_edges", &sheeting).reason("sharp_edges"),
        named(look, "zinc", &sheeting).reason("zinc"),
        lifting(look, &[Wood, Lumber, ReadyMade]),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Materials that the job needs, each with a cell that shows it, in the order of their names.
pub(super) fn in_use(look: &Look) -> Vec<(MaterialId, At)> {
    let needs = look.takeoffs.iter().flat_map(|takeoff| &takeoff.needs);
    let mut found: BTreeMap<&str, MaterialId> = BTreeMap::new();
    for need in needs.filter(|need| !need.net.base().is_zero()) {
        found.insert(look.job.material_name(need.material), need.material);
    }
    found
        .into_values()
        .map(|id| (id, shown_at(look, id)))
        .collect()
}

/// The row of `Materials`, else of `Fills`, else of `Frames`, else of `Prices` that names a material.
fn shown_at(look: &Look, id: MaterialId) -> At {
    let job = look.job;
    let own = job.material(id).and_then(|m| m.at);
    let layers = job.fills.iter().flat_map(|fill| &fill.layers);
    let layer = || {
        layers
            .filter(|layer| layer.stuff == Stuff::Material(id))
            .find_map(|layer| layer.at)
    };
    let framed = || {
        let frames = job.frames.iter();
        frames
            .filter(|frame| frame.material() == Some(id))
            .find_map(|frame| frame.at)
    };
    let priced = || job.offers.iter().find(|o| o.material == id).map(|o| o.at);
    let at = own.or_else(layer).or_else(framed).or_else(priced)?;
    Some((at, "Material"))
}

fn named(look: &Look, key: &str, categories: &[Category]) -> Group {
    let mut group = Group::default();
    let Some(row) = look.row(key) else {
        return group;
    };
    for (id, spot) in in_use(look) {
        if let Some(material) = look.job.material(id)
            && categories.contains(&material.category)
            && speaks_of(&called(material), &row.names)
        {
            group.add(&material.name, String::new(), spot);
        }
    }
    group
}

/// Everything that a material is called by: name and specification.
fn called(material: &Material) -> String {
    let spec = material.spec.as_deref().unwrap_or_default();
    format!("{}, {spec}", material.name)
}

/// Wood in a layer of fill whose kind or treatment nobody may know.
fn buried(look: &Look) -> Option<Reason> {
    let doubtful = &look.row("buried_wood")?.names;
    let mut group = Group::default();
    for (id, spot) in in_use(look) {
        let Some(material) = look.job.material(id) else {
            continue;
        };
        if material.category != Category::Wood || !is_layer(look, id) {
            continue;
        }
        let origin = match material.source.value {
            Source::OnSite => "found on the site",
            Source::Donated => "donated",
            Source::Buy => "",
        };
        if !origin.is_empty() || speaks_of(&called(material), doubtful) {
            group.add(&material.name, origin.to_owned(), spot);
        }
    }
    group.reason_of("buried_wood", "Wood buried as fill, ")
}

fn is_layer(look: &Look, id: MaterialId) -> bool {
    let mut needs = look.takeoffs.iter().flat_map(|takeoff| &takeoff.needs);
    needs.any(|need| need.material == id && matches!(need.part, Part::Layer(_)))
}

fn silica(look: &Look, categories: &[Category]) -> Option<Reason> {
    let mut group = named(look, "silica", categories);
    for (kind, takeoff) in look.kinds() {
        let cuts = takeoff.work.iter().find(|(d, _)| *d == Driver::BlockCut);
        let Some((_, cuts)) = cuts else { continue };
        for bed in look.beds(kind) {
            let detail = format!("{} cuts in its walls", cuts.normalize());
            group.add(&bed.name, detail, Some((bed.at, "Frame")));
        }
    }
    add_stone(look, &mut group, "stone that is cut or dressed");
    let names: &[Arc<str>] = &look.row("silica")?.names;
    for extra in &look.job.extras {
        if extra.kind != ExtraKind::Exclusion && speaks_of(&extra.item, names) {
            group.add(&extra.item, String::new(), Some((extra.at, "Item")));
        }
    }
    group.reason("silica")
}

fn lifting(look: &Look, categories: &[Category]) -> Option<Reason> {
    let mark = Weight::pounds(look.mark("lifting")?);
    let mut group = named(look, "lifting", categories);
    for (id, spot) in in_use(look) {
        let material = look.job.material(id);
        let weight = material.and_then(weight_of_one).filter(|w| *w > mark);
        if let Some((weight, material)) = weight.zip(material) {
            let detail = format!("{} each", pounds_or_kilograms(look, weight));
            group.add(&material.name, detail, spot);
        }
    }
    add_stone(look, &mut group, "stones of a wall");
    add_timbers(look, &mut group, mark);
    let lines = look.bought.lines.iter().filter(|l| !l.quantity.is_zero());
    for offer in lines.filter_map(|line| look.job.offers.get(line.offer?.index())) {
        if offer.handover != Handover::Packed {
            continue;
        }
        if let Some(weight) = pack_weight(look, offer).filter(|weight| *weight > mark) {
            let name = look.job.material_name(offer.material);
            let detail = format!(
                "{}, about {}",
                offer.pack,
                pounds_or_kilograms(look, weight)
            );
            group.add(name, detail, Some((offer.at, "Holds")));
        }
    }
    group.reason("lifting")
}

/// What one block, sheet, module or ready-made bed weighs.
fn weight_of_one(material: &Material) -> Option<Weight> {
    let block = material.block.as_ref().and_then(|b| b.value.weight);
    block.or_else(|| material.panel.weight.as_ref().map(|known| known.value))
}

/// Stone of walls and their caps.
fn add_stone(look: &Look, group: &mut Group, what: &str) {
    for (id, spot) in in_use(look) {
        let material = look.job.material(id);
        if let Some(stone) = material.filter(|m| m.category == Category::Stone) {
            group.add(&stone.name, what.to_owned(), spot);
        }
    }
}

/// Timbers of walls by the longest piece that is carried.
fn add_timbers(look: &Look, group: &mut Group, mark: Weight) {
    for frame in &look.job.frames {
        let Wall::Timbers(wall) = &frame.wall else {
            continue;
        };
        let pieces = look.takeoffs.iter().flat_map(|takeoff| &takeoff.pieces);
        let own = pieces.filter(|piece| piece.material == wall.timber);
        let Some(longest) = own.map(|piece| piece.length).max() else {
            continue;
        };
        let Some(material) = look.job.material(wall.timber) else {
            continue;
        };
        let Some(section) = material.section.as_ref().map(|s| &s.value) else {
            continue;
        };
        let density = material.delivered.as_ref().unwrap_or(&wall.density).value;
        let weight = density.weigh((section.face * section.thickness).filled_to(longest));
        if weight > mark {
            let length = look.system().length(longest);
            let detail = format!("{length} weigh about {}", pounds_or_kilograms(look, weight));
            let spot = frame.at.map(|at| (at, "Material"));
            group.add(&material.name, detail, spot);
        }
    }
}

/// What one pack weighs; `None` when its material has no density.
fn pack_weight(look: &Look, offer: &Offer) -> Option<Weight> {
    match offer.holds {
        Amount::Weight(weight) => Some(weight),
        Amount::Volume(volume) => {
            let density = look.job.material(offer.material)?.delivered.as_ref()?;
            Some(density.value.weigh(volume))
        }
        _ => None,
    }
}

fn pounds_or_kilograms(look: &Look, weight: Weight) -> String {
    let number = look.system().number(Amount::Weight(weight));
    let unit = look.system().unit(Amount::Weight(weight).dimension());
    format!("{} {unit}", grouped(number, 0))
}
