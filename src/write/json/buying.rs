//! Orders, trips and cut lists in JSON.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::job::number;
use super::number::{Measure, Number};
use crate::buying::{Bound, CutList, Load, OrderLine, Scope, Stick, Trips};
use crate::model::offer::Offer;
use crate::price::Estimate;
use crate::units::round::half_away;
use crate::units::{Amount, Length};
use crate::write::names::{Names, by_name, moment_word};

/// One line of an order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrderJson {
    /// Who sells it; absent when nothing is for sale or need be bought.
    pub supplier: Option<String>,
    /// What.
    pub material: String,
    /// Of which specification.
    pub spec: Option<String>,
    /// The pack in the seller's word.
    pub pack: Option<String>,
    /// What one pack holds.
    pub pack_holds: Option<Measure>,
    /// The site of the drop; absent for goods that are bought once for the job.
    pub site: Option<String>,
    /// The phase of the drop.
    pub phase: Option<String>,
    /// `build` or `top-up`.
    pub moment: String,
    /// What is needed, stock already taken off.
    pub need: Measure,
    /// Stock that was taken off.
    pub on_hand: Measure,
    /// The need in packs, before rounding.
    pub need_in_packs: Number,
    /// Packs come in multiples of this.
    pub step: Number,
    /// Packs bought.
    pub quantity: Number,
    /// Price of one pack; absent when it is missing.
    pub unit_price: Option<Number>,
    /// What the price is for, when it is by a measure and not by the pack.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub priced_by: Option<PricedByJson>,
    /// `quantity` x `unit_price`.
    pub cost: Number,
    /// What is bought beyond the need.
    pub surplus: Measure,
    /// Whether it costs nothing: found on site, given, or all in stock.
    pub free: bool,
    /// Whether the quantity came from a cut list, loads, a minimum or a price break, so that it is
    /// not simply the need rounded up to the step.
    pub quantity_by_program: bool,
    /// How the choice came about.
    pub why: String,
}

/// A price by a measure: `unit_price` of a pack is `price` x `in_one` / `per`, not rounded.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PricedByJson {
    /// The unit: `lf`, `m`, `bf` (board feet), `m3`, `ft2` or `m2`.
    pub unit: String,
    /// So many units have the price: 1, 100 or 1,000.
    pub per: Number,
    /// Units in one pack.
    pub in_one: Number,
    /// Units in the whole order line.
    pub total: Number,
    /// Price of `per` units; absent when it is missing.
    pub price: Option<Number>,
}

/// The trips of one vehicle to one drop.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TripsJson {
    /// Who drives.
    pub supplier: String,
    /// The vehicle.
    pub vehicle: Option<String>,
    /// Where to.
    pub site: String,
    /// When.
    pub phase: String,
    /// `build` or `top-up`.
    pub moment: String,
    /// The loads.
    pub loads: Vec<LoadJson>,
    /// What binds them: `volume`, `weight`, or `nothing known`.
    pub bound_by: String,
    /// How many loads it would take after rain.
    pub loads_after_rain: u32,
    /// Fee a trip; absent when it is missing.
    pub fee: Option<Number>,
    /// Trips that are charged.
    pub charged_trips: Number,
    /// `charged_trips` x `fee`.
    pub cost: Number,
    /// In words.
    pub words: String,
}

/// One load.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadJson {
    /// Volume.
    pub volume: Measure,
    /// Weight as delivered.
    pub weight: Measure,
    /// What it carries.
    pub parts: Vec<LoadPartJson>,
}

/// A part of a load.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadPartJson {
    /// What.
    pub material: String,
    /// Packs.
    pub quantity: Number,
}

/// Which pieces come out of which sticks, for one material.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutListJson {
    /// The material.
    pub material: String,
    /// Sticks, longest first.
    pub sticks: Vec<StickJson>,
    /// Whole extra sticks for culls.
    pub extra_for_culls: u32,
    /// Cost of the sticks without culls.
    pub cost: Number,
    /// A cost that no cutting can go below.
    pub lower_bound: Number,
    /// Whether no other cutting is cheaper.
    pub proven: bool,
    /// What remains, longest first.
    pub offcuts: Vec<OffcutJson>,
}

/// Sticks that are cut the same way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StickJson {
    /// Length.
    pub length: Measure,
    /// Who sells it.
    pub supplier: Option<String>,
    /// How many.
    pub count: u32,
    /// Pieces from one.
    pub pieces: Vec<CutJson>,
    /// What remains of one.
    pub offcut: Measure,
}

/// Pieces cut from one stick.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutJson {
    /// How long.
    pub length: Measure,
    /// Where it goes.
    pub mark: String,
    /// How many.
    pub count: u32,
}

/// Equal offcuts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OffcutJson {
    /// How long.
    pub length: Measure,
    /// How many.
    pub count: u32,
    /// Whether they are as long as `Least offcut`, so that they are worth keeping.
    pub kept: bool,
}

/// All order lines, by supplier, material and drop.
pub(super) fn orders(estimate: &Estimate) -> Vec<OrderJson> {
    let mut orders: Vec<OrderJson> = estimate
        .bought
        .lines
        .iter()
        .map(|l| order(estimate, l))
        .collect();
    orders.sort_by_cached_key(|o| {
        // What nobody sells comes last.
        let seller = (o.supplier.is_none(), o.supplier.clone());
        let whose = (seller, o.material.clone(), o.spec.clone());
        let drop = (o.site.clone(), o.phase.clone(), o.moment.clone());
        let how = (o.pack_holds.clone(), o.need.clone(), o.quantity.clone());
        (whose, drop, how)
    });
    orders
}

fn order(estimate: &Estimate, line: &OrderLine) -> OrderJson {
    let names = Names(&estimate.job);
    let system = estimate.job.settings.units.value;
    let currency = estimate.job.settings.currency.value;
    let offer = line.offer.and_then(|id| names.offer(id));
    let drop = match line.scope {
        Scope::Drop(site, phase) => Some((site, phase)),
        Scope::Job => None,
    };
    let material = estimate.job.material(line.material);
    let spec = offer
        .and_then(|o| o.spec.as_ref())
        .or_else(|| material?.spec.as_ref());
    OrderJson {
        supplier: offer.map(|o| names.supplier(o.supplier).to_owned()),
        material: estimate.job.material_name(line.material).to_owned(),
        spec: spec.map(ToString::to_string),
        pack: offer.map(|o| o.pack.to_string()),
        pack_holds: offer.map(|o| Measure::of(system, o.holds)),
        site: drop.map(|(site, _)| names.site(site).to_owned()),
        phase: drop.map(|(_, phase)| names.phase(phase).to_owned()),
        moment: moment_word(line.moment).to_owned(),
        need: Measure::of(system, line.need),
        on_hand: Measure::of(system, line.on_hand),
        need_in_packs: Number::of(line.need_units),
        step: Number::of(line.step),
        quantity: Number::of(line.quantity),
        unit_price: number(line.price),
        priced_by: offer.and_then(|o| priced_by(o, line)),
        cost: Number::money(line.cost, currency),
        surplus: Measure::of(system, line.surplus),
        free: line.free,
        quantity_by_program: line.fixed,
        why: line.why.clone(),
    }
}

fn priced_by(offer: &Offer, line: &OrderLine) -> Option<PricedByJson> {
    let by = offer.by.as_ref()?;
    // 6 sticks of 10.6666666666667 bf are 64 bf: the dust behind the ninth digit is of the division.
    let total = half_away(line.quantity.saturating_mul(by.in_one), 9);
    Some(PricedByJson {
        unit: by.unit.symbol().to_owned(),
        per: Number::of(by.per),
        in_one: Number::of(by.in_one),
        total: Number::of(total),
        price: number(offer.price.as_ref().map(|known| known.value)),
    })
}

/// All trips, by supplier and drop.
pub(super) fn trips(estimate: &Estimate) -> Vec<TripsJson> {
    let mut trips: Vec<TripsJson> = estimate
        .bought
        .trips
        .iter()
        .map(|t| one_drop(estimate, t))
        .collect();
    trips.sort_by_cached_key(|t| {
        let who = (t.supplier.clone(), t.vehicle.clone());
        let drop = (t.site.clone(), t.phase.clone(), t.moment.clone());
        (who, drop, t.words.clone())
    });
    trips
}

fn one_drop(estimate: &Estimate, trips: &Trips) -> TripsJson {
    let names = Names(&estimate.job);
    let currency = estimate.job.settings.currency.value;
    let bound = match trips.bound {
        Bound::Volume => "volume",
        Bound::Weight => "weight",
        Bound::Nothing => "nothing known",
    };
    TripsJson {
        supplier: names.supplier(trips.supplier).to_owned(),
        vehicle: trips.vehicle.map(|v| names.vehicle(v).to_owned()),
        site: names.site(trips.site).to_owned(),
        phase: names.phase(trips.phase).to_owned(),
        moment: moment_word(trips.moment).to_owned(),
        loads: trips.loads.iter().map(|l| load(estimate, l)).collect(),
        bound_by: bound.to_owned(),
        loads_after_rain: trips.after_rain,
        fee: number(trips.fee),
        charged_trips: Number::of(trips.charged),
        cost: Number::money(trips.cost, currency),
        words: trips.words.clone(),
    }
}

fn load(estimate: &Estimate, load: &Load) -> LoadJson {
    let system = estimate.job.settings.units.value;
    let mut parts: Vec<LoadPartJson> = load
        .parts
        .iter()
        .map(|(line, quantity)| LoadPartJson {
            material: material_of_line(estimate, *line),
            quantity: Number::of(*quantity),
        })
        .collect();
    parts.sort();
    LoadJson {
        volume: Measure::of(system, Amount::Volume(load.volume)),
        weight: Measure::of(system, Amount::Weight(load.weight)),
        parts,
    }
}

fn material_of_line(estimate: &Estimate, line: usize) -> String {
    let line = estimate.bought.lines.get(line);
    line.map(|l| estimate.job.material_name(l.material).to_owned())
        .unwrap_or_default()
}

/// All cut lists, by material.
pub(super) fn cut_lists(estimate: &Estimate) -> Vec<CutListJson> {
    let lists = estimate.bought.cut_lists.iter();
    let mut lists: Vec<CutListJson> = lists.map(|l| cut_list(estimate, l)).collect();
    lists.sort_by(|a, b| by_name(&a.material, &b.material));
    lists
}

fn cut_list(estimate: &Estimate, list: &CutList) -> CutListJson {
    let currency = estimate.job.settings.currency.value;
    CutListJson {
        material: estimate.job.material_name(list.material).to_owned(),
        sticks: sticks(estimate, &list.sticks),
        extra_for_culls: list.culls,
        cost: Number::money(list.cost, currency),
        lower_bound: Number::money(list.lower_bound, currency),
        proven: list.proven,
        offcuts: offcuts(estimate, &list.sticks),
    }
}

pub(super) fn sticks(estimate: &Estimate, sticks: &[Stick]) -> Vec<StickJson> {
    let names = Names(&estimate.job);
    let system = estimate.job.settings.units.value;
    let mut ordered: Vec<&Stick> = sticks.iter().collect();
    ordered.sort_by(|a, b| {
        let longest = b.length.cmp(&a.length);
        longest
            .then_with(|| a.offcut.cmp(&b.offcut))
            .then_with(|| a.pieces.cmp(&b.pieces))
            .then_with(|| b.count.cmp(&a.count))
    });
    let told = ordered.into_iter().map(|stick| StickJson {
        length: Measure::short(system, stick.length),
        supplier: stick
            .offer
            .and_then(|id| names.offer(id))
            .map(|o| names.supplier(o.supplier).to_owned()),
        count: stick.count,
        pieces: stick
            .pieces
            .iter()
            .map(|(length, mark, count)| CutJson {
                length: Measure::short(system, *length),
                mark: mark.to_string(),
                count: *count,
            })
            .collect(),
        offcut: Measure::short(system, stick.offcut),
    });
    told.collect()
}

fn offcuts(estimate: &Estimate, sticks: &[Stick]) -> Vec<OffcutJson> {
    let system = estimate.job.settings.units.value;
    let least = estimate.job.settings.least_offcut.value;
    let mut counts: BTreeMap<Length, u32> = BTreeMap::new();
    for stick in sticks.iter().filter(|s| !s.offcut.is_zero()) {
        let count = counts.entry(stick.offcut).or_default();
        *count = count.saturating_add(stick.count);
    }
    let longest_first = counts.into_iter().rev();
    longest_first
        .map(|(length, count)| OffcutJson {
            length: Measure::short(system, length),
            count,
            kept: length >= least,
        })
        .collect()
}
