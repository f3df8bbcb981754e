//! What is cut from sheets: the rectangles of each bed, and how the sheets of the job yield them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::cuts::{StickJson, sticks};
use super::number::{Measure, Number};
use crate::buying::{SheetCut, SheetList, StripList};
use crate::price::Estimate;
use crate::takeoff::SheetPiece;
use crate::write::names::{Names, by_name};

/// A rectangle to cut from a sheet for one bed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetPieceJson {
    /// The material.
    pub material: String,
    /// Along the ribs or the grain.
    pub length: Measure,
    /// Across them.
    pub width: Measure,
    /// How many.
    pub count: u32,
    /// Where it goes.
    pub mark: String,
}

/// How the sheets of one material are cut: ripped into strips, and those cut to length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetListJson {
    /// The material.
    pub material: String,
    /// The sheets, with the strips ripped from them.
    pub sheets: Vec<SheetJson>,
    /// The strips, widest first, with the pieces cut from them.
    pub strips: Vec<StripJson>,
    /// Cost of the sheets.
    pub cost: Number,
    /// A cost that no cutting in these two stages can go below.
    pub lower_bound: Number,
    /// Whether no cutting in these two stages costs less.
    pub proven: bool,
}

/// Sheets that are ripped alike.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetJson {
    /// Along the ribs or the grain.
    pub length: Measure,
    /// Across them.
    pub width: Measure,
    /// Who sells it.
    pub supplier: Option<String>,
    /// How many.
    pub count: u32,
    /// Strips ripped from one, each as long as the sheet.
    pub strips: Vec<RipJson>,
    /// Width that remains of one.
    pub left: Measure,
}

/// Equal strips of one sheet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RipJson {
    /// How wide.
    pub width: Measure,
    /// How many.
    pub count: u32,
}

/// Strips of one width and what is cut from them.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StripJson {
    /// How wide.
    pub width: Measure,
    /// The strips.
    pub strips: Vec<StickJson>,
}

/// The rectangles of one bed, by material, widest and longest first.
pub(super) fn pieces(estimate: &Estimate, pieces: &[SheetPiece]) -> Vec<SheetPieceJson> {
    let job = &estimate.job;
    let system = job.settings.units.value;
    let mut ordered: Vec<&SheetPiece> = pieces.iter().collect();
    ordered.sort_by(|a, b| {
        by_name(job.material_name(a.material), job.material_name(b.material))
            .then_with(|| (b.width, b.length).cmp(&(a.width, a.length)))
            .then_with(|| (&a.mark, a.count).cmp(&(&b.mark, b.count)))
    });
    let told = ordered.into_iter().map(|piece| SheetPieceJson {
        material: job.material_name(piece.material).to_owned(),
        length: Measure::short(system, piece.length),
        width: Measure::short(system, piece.width),
        count: piece.count,
        mark: piece.mark.to_string(),
    });
    told.collect()
}

/// How all sheets are cut, by material.
pub(super) fn lists(estimate: &Estimate) -> Vec<SheetListJson> {
    let lists = estimate.bought.sheet_lists.iter();
    let mut lists: Vec<SheetListJson> = lists.map(|l| list(estimate, l)).collect();
    lists.sort_by(|a, b| by_name(&a.material, &b.material));
    lists
}

fn list(estimate: &Estimate, list: &SheetList) -> SheetListJson {
    let currency = estimate.job.settings.currency.value;
    SheetListJson {
        material: estimate.job.material_name(list.material).to_owned(),
        sheets: list.sheets.iter().map(|s| sheet(estimate, s)).collect(),
        strips: list.strips.iter().map(|s| strip(estimate, s)).collect(),
        cost: Number::money(list.cost, currency),
        lower_bound: Number::money(list.lower_bound, currency),
        proven: list.is_proven,
    }
}

fn sheet(estimate: &Estimate, sheet: &SheetCut) -> SheetJson {
    let names = Names(&estimate.job);
    let system = estimate.job.settings.units.value;
    let rip = |(width, count): &(_, u32)| RipJson {
        width: Measure::short(system, *width),
        count: *count,
    };
    SheetJson {
        length: Measure::short(system, sheet.length),
        width: Measure::short(system, sheet.width),
        supplier: sheet
            .offer
            .and_then(|id| names.offer(id))
            .map(|o| names.supplier(o.supplier).to_owned()),
        count: sheet.count,
        strips: sheet.strips.iter().map(rip).collect(),
        left: Measure::short(system, sheet.left),
    }
}

fn strip(estimate: &Estimate, list: &StripList) -> StripJson {
    let system = estimate.job.settings.units.value;
    StripJson {
        width: Measure::short(system, list.width),
        strips: sticks(estimate, &list.strips),
    }
}
