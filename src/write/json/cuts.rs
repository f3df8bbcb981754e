//! Cut lists in JSON: sticks, offcuts, and where the pieces go.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::{Measure, Number};
use crate::buying::{CutList, CutPiece, Stick};
use crate::price::Estimate;
use crate::units::Length;
use crate::write::names::{Names, by_name};

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
    /// Where the pieces of beds go, by bed name, longest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pieces: Vec<PlacedJson>,
}

/// Pieces of one length for one side of a row of beds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlacedJson {
    /// How long.
    pub length: Measure,
    /// Where it goes: `long side`, `post`.
    pub mark: String,
    /// The row of beds.
    pub bed: String,
    /// How many beds of the row.
    pub beds: u32,
    /// The side, counted round the bed from 1.
    pub side: Option<u16>,
    /// The courses, from the lowest ground up; empty for what has none.
    pub courses: Vec<u16>,
    /// How many for one bed.
    pub count: u32,
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
        pieces: list.pieces.iter().map(|p| placed(estimate, p)).collect(),
    }
}

fn placed(estimate: &Estimate, piece: &CutPiece) -> PlacedJson {
    let bed = estimate.job.beds.get(piece.bed.index());
    PlacedJson {
        length: Measure::short(estimate.job.settings.units.value, piece.length),
        mark: piece.mark.to_string(),
        bed: bed.map_or_else(String::new, |b| b.name.to_string()),
        beds: piece.beds,
        side: piece.side,
        courses: piece.courses.clone(),
        count: piece.count,
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
