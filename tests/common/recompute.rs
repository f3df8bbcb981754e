//! Recomputes a workbook with an independent formula engine and compares every formula's result
//! with the stored one.

#![allow(
    dead_code,
    unreachable_pub,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::float_arithmetic,
    reason = "results in files are binary floats, and no one test uses all of this"
)]

use std::fmt::Write as _;
use std::path::Path;

use calamine::{Data, Reader, Xlsx};
use ironcalc::base::Model;
use ironcalc::base::cell::CellValue;
use ironcalc::import::load_from_xlsx_bytes;

/// A formula whose recomputed result differs from the stored one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mismatch {
    /// `Price!C12`.
    pub cell: String,
    /// The formula.
    pub formula: String,
    /// What the file says.
    pub stored: String,
    /// What the formula engine says.
    pub computed: String,
}

/// All formulas of a file that do not give their stored result.
pub fn recompute(path: &Path) -> Vec<Mismatch> {
    recompute_bytes(&std::fs::read(path).unwrap())
}

/// The same for a workbook in memory.
pub fn recompute_bytes(bytes: &[u8]) -> Vec<Mismatch> {
    let model = evaluated(bytes);
    let mut mismatches = Vec::new();
    for (sheet, cells) in formulas(bytes) {
        for (row, column, formula, stored) in cells {
            let computed = value(&model, &sheet, row, column);
            if !same(&stored, &computed) {
                mismatches.push(Mismatch {
                    cell: format!("{sheet}!{}", a1(row, column)),
                    formula,
                    stored: shown(&stored),
                    computed: computed_text(&computed),
                });
            }
        }
    }
    mismatches
}

/// The workbook in the formula engine, all formulas evaluated anew.
pub fn evaluated(bytes: &[u8]) -> Model<'static> {
    let workbook = load_from_xlsx_bytes(bytes, "estimate", "en", "UTC").unwrap();
    let mut model = Model::from_workbook(workbook, "en").unwrap();
    model.evaluate();
    model
}

/// The recomputed value of a cell, row and column counted from 0.
pub fn value(model: &Model<'_>, sheet: &str, row: u32, column: u32) -> CellValue {
    let names = model.workbook.get_worksheet_names();
    let index = names.iter().position(|name| name == sheet).unwrap();
    let index = u32::try_from(index).unwrap();
    let (row, column) = (i32::try_from(row).unwrap(), i32::try_from(column).unwrap());
    model
        .get_cell_value_by_index(index, row + 1, column + 1)
        .unwrap()
}

/// Row and column from 0, formula, stored value.
pub type FormulaCell = (u32, u32, String, Data);

/// Every formula of the workbook, by sheet.
pub fn formulas(bytes: &[u8]) -> Vec<(String, Vec<FormulaCell>)> {
    let mut book = Xlsx::new(std::io::Cursor::new(bytes)).unwrap();
    let names = book.sheet_names();
    let mut all = Vec::new();
    for name in names {
        let values = book.worksheet_range(&name).unwrap();
        let found = book.worksheet_formula(&name).unwrap();
        let (top, left) = found.start().unwrap_or_default();
        let cells = found.used_cells().filter(|(_, _, text)| !text.is_empty());
        let cells = cells.map(|(row, column, text)| {
            let row = top + u32::try_from(row).unwrap();
            let column = left + u32::try_from(column).unwrap();
            let stored = values.get_value((row, column)).cloned();
            (row, column, text.clone(), stored.unwrap_or(Data::Empty))
        });
        all.push((name, cells.collect()));
    }
    all
}

/// Every cell of a workbook as a line `sheet!cell | value | formula`, sheets and cells in order.
pub fn dump(path: &Path) -> String {
    dump_bytes(&std::fs::read(path).unwrap())
}

/// The same for a workbook in memory.
pub fn dump_bytes(bytes: &[u8]) -> String {
    let mut out = String::new();
    let mut book = Xlsx::new(std::io::Cursor::new(bytes)).unwrap();
    for (name, cells) in formulas(bytes) {
        let values = book.worksheet_range(&name).unwrap();
        let (top, left) = values.start().unwrap_or_default();
        for (row, column, held) in values.used_cells() {
            let row = top + u32::try_from(row).unwrap();
            let column = left + u32::try_from(column).unwrap();
            let formula = cells.iter().find(|c| (c.0, c.1) == (row, column));
            let formula = formula.map_or("", |c| c.2.as_str());
            let held = shown(held);
            let _ = writeln!(out, "{name}!{} | {held} | {formula}", a1(row, column));
        }
    }
    out
}

fn same(stored: &Data, computed: &CellValue) -> bool {
    match (stored, computed) {
        (Data::Float(a), CellValue::Number(b)) => near(*a, *b),
        (Data::Int(a), CellValue::Number(b)) => near(*a as f64, *b),
        (Data::String(a), CellValue::String(b)) => a == b,
        (Data::Bool(a), CellValue::Boolean(b)) => a == b,
        (Data::Empty, CellValue::None) => true,
        _ => false,
    }
}

/// Equal at the 15 digits that spreadsheet cells keep: one unit of the fifteenth may differ, and what
/// is left of a difference of equal numbers counts as nothing.
pub fn near(a: f64, b: f64) -> bool {
    let greater = a.abs().max(b.abs());
    (a - b).abs() <= (greater * 1e-14).max(1e-12)
}

fn shown(data: &Data) -> String {
    match data {
        Data::Float(number) => format!("{number}"),
        other => other.to_string().replace('\n', "\\n"),
    }
}

fn computed_text(value: &CellValue) -> String {
    match value {
        CellValue::None => String::new(),
        CellValue::String(text) => text.clone(),
        CellValue::Number(number) => format!("{number}"),
        CellValue::Boolean(value) => value.to_string(),
    }
}

fn a1(row: u32, column: u32) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        letters.push(char::from(b'A' + u8::try_from((rest - 1) % 26).unwrap()));
        rest = (rest - 1) / 26;
    }
    let letters: String = letters.iter().rev().collect();
    format!("{letters}{}", row + 1)
}
