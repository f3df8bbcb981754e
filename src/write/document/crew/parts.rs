//! What beds and areas need beside fill and cut pieces, and the areas.

use serde::Serialize;

use crate::price::Estimate;
use crate::takeoff::{Moment, Need, Part, TakeOff};
use crate::write::names::part_word;

#[derive(Debug, Serialize)]
pub(super) struct PartRow {
    amount: String,
    name: String,
    purpose: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct AreaPage {
    title: String,
    size: String,
    parts: Vec<PartRow>,
    steps: Vec<String>,
}

/// Paths and surrounds.
pub(super) fn areas(estimate: &Estimate) -> Vec<AreaPage> {
    let first = estimate.kinds.kinds.len();
    let takeoffs = estimate.takeoffs.iter().skip(first);
    let areas = estimate.kinds.areas.iter().zip(takeoffs);
    let pages = areas.filter_map(|(kind, takeoff)| {
        let area = estimate.job.areas.get(kind.area.index())?;
        Some(AreaPage {
            title: area.name.to_string(),
            size: takeoff.size.clone(),
            parts: parts(estimate, takeoff),
            steps: takeoff.crew_notes.clone(),
        })
    });
    pages.collect()
}

/// What one bed or area needs beside fill and cut pieces.
pub(super) fn parts(estimate: &Estimate, takeoff: &TakeOff) -> Vec<PartRow> {
    let job = &estimate.job;
    let units = job.settings.units.value;
    let is_cut = |need: &Need| {
        let pieces = takeoff.pieces.iter().map(|piece| piece.material);
        let sheets = takeoff.sheet_pieces.iter().map(|piece| piece.material);
        pieces
            .chain(sheets)
            .any(|material| material == need.material)
    };
    let needs = takeoff.needs.iter().filter(|need| {
        let elsewhere = matches!(need.part, Part::Layer(_) | Part::TopUp | Part::Spoil);
        !elsewhere && need.moment == Moment::Build && !is_cut(need)
    });
    needs
        .map(|need| PartRow {
            amount: units.amount(need.net),
            name: job.material_name(need.material).to_owned(),
            purpose: part_word(need.part),
        })
        .collect()
}
