//! Which pieces come out of which sticks and sheets.

use serde::Serialize;

use crate::buying::{CutList, SheetList, Stick};
use crate::price::Estimate;
use crate::units::System;

#[derive(Debug, Serialize)]
pub(in crate::write::document) struct List {
    material: String,
    sticks: Vec<Row>,
    note: Option<String>,
}

#[derive(Debug, Serialize)]
struct Row {
    count: String,
    length: String,
    pieces: String,
    left: String,
}

/// Cut lists of lumber, then of sheets, by material.
pub(in crate::write::document) fn lists(estimate: &Estimate) -> Vec<List> {
    let sticks = estimate.bought.cut_lists.iter();
    let sheets = estimate.bought.sheet_lists.iter();
    sticks
        .map(|list| of_sticks(estimate, list))
        .chain(sheets.map(|list| of_sheets(estimate, list)))
        .collect()
}

fn of_sticks(estimate: &Estimate, list: &CutList) -> List {
    let units = estimate.job.settings.units.value;
    let culls = match list.culls {
        0 => None,
        1 => Some("and 1 whole stick more, for culls".to_owned()),
        n => Some(format!("and {n} whole sticks more, for culls")),
    };
    List {
        material: estimate.job.material_name(list.material).to_owned(),
        sticks: list.sticks.iter().map(|stick| row(stick, units)).collect(),
        note: culls,
    }
}

fn row(stick: &Stick, units: System) -> Row {
    let pieces = stick.pieces.iter();
    let pieces = pieces.map(|(length, mark, n)| format!("{n} x {} {mark}", units.length(*length)));
    let pieces: Vec<String> = pieces.collect();
    Row {
        count: stick.count.to_string(),
        length: units.length(stick.length),
        pieces: pieces.join(", "),
        left: units.length(stick.offcut),
    }
}

/// Sheets are ripped into strips first, and strips are cut to length.
fn of_sheets(estimate: &Estimate, list: &SheetList) -> List {
    let units = estimate.job.settings.units.value;
    let sheets = list.sheets.iter().map(|sheet| {
        let strips = sheet.strips.iter();
        let strips = strips.map(|(width, n)| format!("{n} strips {} wide", units.length(*width)));
        let strips: Vec<String> = strips.collect();
        Row {
            count: sheet.count.to_string(),
            length: format!(
                "{} x {}",
                units.length(sheet.length),
                units.length(sheet.width)
            ),
            pieces: strips.join(", "),
            left: units.length(sheet.left),
        }
    });
    let strips = list.strips.iter().flat_map(|strips| {
        let width = units.length(strips.width);
        strips.strips.iter().map(move |strip| {
            let row = row(strip, units);
            Row {
                length: format!("strip {} x {width}", row.length),
                ..row
            }
        })
    });
    List {
        material: estimate.job.material_name(list.material).to_owned(),
        sticks: sheets.chain(strips).collect(),
        note: Some("sheets are ripped into strips first, then strips are cut to length".to_owned()),
    }
}
