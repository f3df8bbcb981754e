//! Beds and kinds of bed in JSON.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::{Measure, Number};
use super::shared_walls::{self, SharedWallJson};
use super::sheets;
use super::watering::{WateringJson, watering};
use crate::model::bed::{Base, Bed, BedId};
use crate::price::{BedMoney, Estimate, Group};
use crate::takeoff::{BedKind, LayerTakeOff, Need, Piece, TakeOff};
use crate::units::{Amount, Money, System};
use crate::write::names::{Names, by_name, moment_word, part_word};

/// One row of `Beds`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BedJson {
    /// Name.
    pub name: String,
    /// How many alike.
    pub count: u32,
    /// The kind that it belongs to, by the name of the kind's first bed: see `kinds`.
    pub kind: String,
    /// Where.
    pub site: String,
    /// When.
    pub phase: String,
    /// Its size in words.
    pub size: String,
    /// Each bed, outside the walls.
    pub outside_area: Measure,
    /// Each bed, inside the walls.
    pub inside_area: Measure,
    /// Height of the wall at the highest ground.
    pub wall_height: Measure,
    /// What it stands on: `open ground`, `paved`, `roof or deck`.
    pub base: String,
    /// What will grow.
    pub crop: Option<String>,
    /// What is done to the ground first: `leave`, `strip 3 in`.
    pub ground: String,
    /// Walls in common with beds beside it; absent when there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shared_walls: Vec<SharedWallJson>,
    /// Shares of cost of all beds of the row.
    pub cost_by_group: GroupsJson,
    /// Cost of all beds of the row.
    pub cost: Number,
    /// Share of the price with tax, for all beds of the row.
    pub price: Number,
}

/// Cost by group.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupsJson {
    /// Goods, with the tax paid on them.
    pub materials: Number,
    /// Trips.
    pub delivery: Number,
    /// Hours.
    pub labour: Number,
    /// Hire.
    pub equipment: Number,
    /// Extras, allowances, pass-through.
    pub other: Number,
}

/// Beds that are alike in all that is computed. Quantities are for one bed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct KindJson {
    /// The first of its beds by name, which stands for the kind.
    pub first_bed: String,
    /// Rows of `Beds`, by name.
    pub beds: Vec<String>,
    /// How many beds that is.
    pub count: Number,
    /// Where.
    pub site: String,
    /// When.
    pub phase: String,
    /// Frame.
    pub frame: String,
    /// Fill.
    pub fill: Option<String>,
    /// The size in words.
    pub size: String,
    /// Outline outside the walls.
    pub outside_perimeter: Measure,
    /// Area outside the walls.
    pub outside_area: Measure,
    /// Area inside the walls.
    pub inside_area: Measure,
    /// Height of the wall at the highest ground.
    pub wall_height: Measure,
    /// Height of the wall at the lowest ground.
    pub low_side_height: Measure,
    /// Courses at the highest ground.
    pub courses: u32,
    /// Height that is filled.
    pub fill_height: Measure,
    /// Layers from the bottom up.
    pub layers: Vec<LayerJson>,
    /// What one bed needs.
    pub needs: Vec<NeedJson>,
    /// Lengths to cut for one bed.
    pub pieces: Vec<PieceJson>,
    /// Ground that is worked below one bed, with its margin.
    pub ground_area: Measure,
    /// Undisturbed ground that one bed turns into spoil.
    pub spoil: Measure,
    /// Rectangles to cut from sheets for one bed; absent when there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sheet_pieces: Vec<sheets::SheetPieceJson>,
    /// Weight of the fill when soaked.
    pub saturated_weight: Measure,
    /// Weight of the walls, where what they are built of says it.
    pub wall_weight: Option<Measure>,
    /// How far the surface will sink by the end of the first season.
    pub sinks: Measure,
    /// How far the fill stands above the wall on filling day.
    pub stands_above_wall: Measure,
    /// Volume of the top-up after the first season.
    pub top_up: Measure,
    /// What the crew does to build one, in order.
    pub crew_notes: Vec<String>,
    /// How one bed is watered; absent without drip lines.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub watering: Option<WateringJson>,
    /// Cost of all beds of the kind.
    pub cost: Number,
    /// Price with tax of all beds of the kind.
    pub price: Number,
}

/// One layer of one bed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LayerJson {
    /// Material or mix.
    pub name: String,
    /// Depth when settled.
    pub depth: Measure,
    /// Volume in place.
    pub volume: Measure,
    /// What runs into the voids of wood below.
    pub infill: Measure,
    /// Volume to order for filling day, before packs.
    pub order: Measure,
    /// What the first season takes.
    pub first_season_loss: Measure,
    /// Number of sheets; 0 for other layers.
    pub sheets: u32,
}

/// Something that one bed needs.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NeedJson {
    /// What.
    pub material: String,
    /// What for.
    pub part: String,
    /// `build` or `top-up`.
    pub moment: String,
    /// What stands in the bed.
    pub net: Measure,
    /// What must be ordered for it, before packs.
    pub order: Measure,
}

/// Lengths to cut for one bed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PieceJson {
    /// Of which material.
    pub material: String,
    /// How long.
    pub length: Measure,
    /// How many in one bed.
    pub count: u32,
    /// Where it goes.
    pub mark: String,
}

/// All rows of `Beds`, by name.
pub(super) fn beds(estimate: &Estimate) -> Vec<BedJson> {
    let mut money: BTreeMap<BedId, &BedMoney> = BTreeMap::new();
    money.extend(estimate.price.beds.iter().map(|m| (m.bed, m)));
    let rows = estimate.job.beds.iter().enumerate();
    let mut beds: Vec<BedJson> = rows
        .filter_map(|(i, row)| bed(estimate, row, i, money.get(&BedId::of(i)).copied()))
        .collect();
    beds.sort_by(|a, b| by_name(&a.name, &b.name));
    beds
}

fn bed(estimate: &Estimate, row: &Bed, index: usize, money: Option<&BedMoney>) -> Option<BedJson> {
    let names = Names(&estimate.job);
    let kind_id = estimate.kinds.of_bed.get(index)?;
    let kind = estimate.kinds.kinds.get(kind_id.index())?;
    let takeoff = estimate.takeoffs.get(kind_id.index())?;
    let system = estimate.job.settings.units.value;
    let currency = estimate.job.settings.currency.value;
    let show = |m: Option<Money>| Number::money(m.unwrap_or_default(), currency);
    Some(BedJson {
        name: row.name.to_string(),
        count: row.count,
        kind: bed_name(estimate, kind.first),
        site: names.site(row.site).to_owned(),
        phase: names.phase(row.phase).to_owned(),
        size: takeoff.size.clone(),
        outside_area: Measure::of(system, Amount::Area(takeoff.outside_area)),
        inside_area: Measure::of(system, Amount::Area(takeoff.inside_area)),
        wall_height: Measure::short(system, takeoff.wall_height),
        base: base_word(row.base).to_owned(),
        crop: row.crop.as_ref().map(ToString::to_string),
        ground: row.ground.value.words(system),
        shared_walls: shared_walls::of(estimate, row),
        cost_by_group: groups(estimate, money.map(|m| &m.groups)),
        cost: show(money.map(|m| m.cost)),
        price: show(money.map(|m| m.price)),
    })
}

pub(super) fn groups(estimate: &Estimate, money: Option<&[Money; 5]>) -> GroupsJson {
    let currency = estimate.job.settings.currency.value;
    let of = |group: Group| {
        let index = Group::ALL.iter().position(|g| *g == group);
        let share = money.and_then(|groups| groups.get(index?));
        Number::money(share.copied().unwrap_or_default(), currency)
    };
    GroupsJson {
        materials: of(Group::Materials),
        delivery: of(Group::Delivery),
        labour: of(Group::Labour),
        equipment: of(Group::Equipment),
        other: of(Group::Other),
    }
}

/// All kinds, by the name of their first bed.
pub(super) fn kinds(estimate: &Estimate) -> Vec<KindJson> {
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    let mut kinds: Vec<KindJson> = pairs
        .enumerate()
        .map(|(i, (of, takeoff))| kind(estimate, i, of, takeoff))
        .collect();
    kinds.sort_by(|a, b| by_name(&a.first_bed, &b.first_bed));
    kinds
}

fn kind(estimate: &Estimate, index: usize, of: &BedKind, takeoff: &TakeOff) -> KindJson {
    let job = &estimate.job;
    let system = job.settings.units.value;
    let currency = job.settings.currency.value;
    let first = job.beds.get(of.first.index());
    let frame = first.and_then(|b| job.frames.get(b.frame.index()));
    let fill = first.and_then(|b| job.fills.get(b.fill?.index()));
    let money = estimate
        .price
        .kinds
        .iter()
        .find(|m| m.kind.index() == index);
    let mut beds: Vec<String> = of.beds.iter().map(|b| bed_name(estimate, *b)).collect();
    beds.sort_by(|a, b| by_name(a, b));
    KindJson {
        first_bed: bed_name(estimate, of.first),
        beds,
        count: Number::of(of.count),
        site: Names(job).site(of.site).to_owned(),
        phase: Names(job).phase(of.phase).to_owned(),
        frame: frame.map(|f| f.name.to_string()).unwrap_or_default(),
        fill: fill.map(|f| f.name.to_string()),
        size: takeoff.size.clone(),
        outside_perimeter: Measure::of(system, Amount::Length(takeoff.outside_perimeter)),
        outside_area: Measure::of(system, Amount::Area(takeoff.outside_area)),
        inside_area: Measure::of(system, Amount::Area(takeoff.inside_area)),
        wall_height: Measure::short(system, takeoff.wall_height),
        low_side_height: Measure::short(system, takeoff.low_side_height),
        courses: takeoff.courses,
        fill_height: Measure::short(system, takeoff.fill_height),
        layers: takeoff.layers.iter().map(|l| layer(l, system)).collect(),
        needs: needs(estimate, &takeoff.needs),
        pieces: pieces(estimate, &takeoff.pieces),
        ground_area: Measure::of(system, Amount::Area(takeoff.ground_area)),
        spoil: Measure::of(system, Amount::Volume(takeoff.spoil)),
        sheet_pieces: sheets::pieces(estimate, &takeoff.sheet_pieces),
        saturated_weight: Measure::of(system, Amount::Weight(takeoff.saturated_weight)),
        wall_weight: (!takeoff.wall_weight.is_zero())
            .then(|| Measure::of(system, Amount::Weight(takeoff.wall_weight))),
        sinks: Measure::short(system, takeoff.sink),
        stands_above_wall: Measure::short(system, takeoff.stands_above),
        top_up: Measure::of(system, Amount::Volume(takeoff.top_up)),
        crew_notes: takeoff.crew_notes.clone(),
        watering: takeoff.watering.as_ref().map(|w| watering(system, w)),
        cost: Number::money(money.map(|m| m.cost).unwrap_or_default(), currency),
        price: Number::money(money.map(|m| m.price).unwrap_or_default(), currency),
    }
}

fn layer(layer: &LayerTakeOff, system: System) -> LayerJson {
    let volume = |v| Measure::of(system, Amount::Volume(v));
    LayerJson {
        name: layer.name.to_string(),
        depth: Measure::short(system, layer.depth),
        volume: volume(layer.volume),
        infill: volume(layer.infill),
        order: volume(layer.order),
        first_season_loss: volume(layer.season_loss),
        sheets: layer.sheets,
    }
}

/// Needs in the order of building and filling; amendments by name, since their rows have no order.
pub(super) fn needs(estimate: &Estimate, needs: &[Need]) -> Vec<NeedJson> {
    let system = estimate.job.settings.units.value;
    let mut ordered: Vec<&Need> = needs.iter().collect();
    ordered.sort_by(|a, b| {
        let names = (
            estimate.job.material_name(a.material),
            estimate.job.material_name(b.material),
        );
        let of_part = rank(a).cmp(&rank(b));
        of_part
            .then_with(|| by_name(names.0, names.1))
            .then_with(|| a.order.cmp(&b.order))
    });
    let told = ordered.into_iter().map(|need| NeedJson {
        material: estimate.job.material_name(need.material).to_owned(),
        part: part_word(need.part).to_owned(),
        moment: moment_word(need.moment).to_owned(),
        net: Measure::of(system, need.net),
        order: Measure::of(system, need.order),
    });
    told.collect()
}

fn rank(need: &Need) -> (crate::takeoff::Moment, crate::takeoff::Part) {
    use crate::takeoff::Part;
    let part = match need.part {
        Part::Amendment(_) => Part::Amendment(0),
        other => other,
    };
    (need.moment, part)
}

fn pieces(estimate: &Estimate, pieces: &[Piece]) -> Vec<PieceJson> {
    let job = &estimate.job;
    let mut ordered: Vec<&Piece> = pieces.iter().collect();
    ordered.sort_by(|a, b| {
        by_name(job.material_name(a.material), job.material_name(b.material))
            .then_with(|| b.length.cmp(&a.length))
            .then_with(|| a.mark.cmp(&b.mark))
            .then_with(|| a.count.cmp(&b.count))
    });
    let told = ordered.into_iter().map(|piece| PieceJson {
        material: job.material_name(piece.material).to_owned(),
        length: Measure::short(job.settings.units.value, piece.length),
        count: piece.count,
        mark: piece.mark.to_string(),
    });
    told.collect()
}

pub(super) fn bed_name(estimate: &Estimate, id: BedId) -> String {
    let bed = estimate.job.beds.get(id.index());
    bed.map(|b| b.name.to_string()).unwrap_or_default()
}

const fn base_word(base: Base) -> &'static str {
    match base {
        Base::OpenGround => "open ground",
        Base::Paved => "paved",
        Base::RoofOrDeck => "roof or deck",
    }
}
