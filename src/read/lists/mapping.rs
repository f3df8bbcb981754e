//! `Price lists`: which file is whose list, and which of its columns hold what.

use std::sync::Arc;

use crate::model::library::folded;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt};
use crate::problem::Problem;
use crate::read::fields;
use crate::read::open::Opened;
use crate::read::row::{Row, rows};

/// Fields of the row itself; all others say where the list has that field of `Prices`.
const OWN: [&str; 5] = [
    "File",
    "Sheet",
    "Supplier",
    "Header row",
    "Rows passed over",
];

/// One row of `Price lists`.
#[derive(Clone, Debug)]
pub(super) struct Mapping {
    /// Where it stands.
    pub(super) at: RowAt,
    /// The file as typed.
    pub(super) file: Arc<str>,
    /// The sheet of a workbook.
    pub(super) sheet: Option<Arc<str>>,
    /// Whose list it is.
    pub(super) supplier: Arc<str>,
    /// The row of titles in the file, from 0.
    pub(super) header_row: Option<u32>,
    /// Rows of the file that are not read, from 0, ends included.
    pub(super) passed_over: Vec<(u32, u32)>,
    /// Fields of `Prices` with the cell that says where the list has them.
    pub(super) columns: Vec<(&'static str, Cell)>,
}

/// Reads every row of `Price lists`; a wrong one is told and left out.
pub(super) fn mappings(opened: &Opened, problems: &mut Vec<Problem>) -> Vec<Mapping> {
    let mut mappings: Vec<Mapping> = Vec::new();
    for row in rows(opened, Sheet::PriceLists) {
        let Some(mapping) = mapping(&row, problems) else {
            continue;
        };
        if mappings.iter().any(|other| is_same(other, &mapping)) {
            let said = Problem::error("this list is named twice").at(row.at, "File");
            problems.push(said.hint("keep one row for each list, or its prices would count twice"));
            continue;
        }
        mappings.push(mapping);
    }
    mappings
}

fn is_same(a: &Mapping, b: &Mapping) -> bool {
    let sheet = |m: &Mapping| m.sheet.as_deref().map(folded);
    a.file == b.file && sheet(a) == sheet(b) && folded(&a.supplier) == folded(&b.supplier)
}

fn mapping(row: &Row<'_>, problems: &mut Vec<Problem>) -> Option<Mapping> {
    let mut wanted = |field: &'static str, hint: &str| {
        let text = row.text(field);
        if text.is_none() && !row.spoilt(field) {
            let said = Problem::error(format!("{field} is missing")).at(row.at, field);
            problems.push(said.hint(hint));
        }
        text
    };
    let file = wanted(
        "File",
        "write the name of the supplier's file, as yard-list.csv",
    );
    let supplier = wanted("Supplier", "write whose list it is");
    let (file, supplier) = file.zip(supplier)?;
    let header_row = row.whole("Header row", problems);
    let columns = fields::of(Sheet::PriceLists).iter().copied();
    let columns = columns.filter(|field| !OWN.contains(field) && row.has(field));
    Some(Mapping {
        at: row.at,
        file,
        sheet: row.text("Sheet"),
        supplier,
        header_row: header_row.map(|row| row.saturating_sub(1)),
        passed_over: passed_over(row, problems),
        columns: columns
            .map(|field| (field, row.raw(field).clone()))
            .collect(),
    })
}

/// `2-5, 9` as rows from 0.
fn passed_over(row: &Row<'_>, problems: &mut Vec<Problem>) -> Vec<(u32, u32)> {
    const FIELD: &str = "Rows passed over";
    let Some(text) = row.text(FIELD) else {
        return Vec::new();
    };
    let number = |text: &str| text.trim().parse::<u32>().ok()?.checked_sub(1);
    let parts = text
        .split([',', ';'])
        .filter(|part| !part.trim().is_empty());
    let ranges = parts.map(|part| match part.split_once(['-', '–']) {
        Some((from, to)) => number(from).zip(number(to)),
        None => number(part).map(|row| (row, row)),
    });
    let ranges: Option<Vec<(u32, u32)>> = ranges.collect();
    ranges.unwrap_or_else(|| {
        let said = Problem::error(format!("{FIELD} needs row numbers")).at(row.at, FIELD);
        problems.push(said.hint("write 2-5, 9"));
        Vec::new()
    })
}

impl Mapping {
    /// Whether a row of the file, from 0, is passed over.
    pub(super) fn passes_over(&self, row: u32) -> bool {
        let mut ranges = self.passed_over.iter();
        ranges.any(|(from, to)| (*from..=*to).contains(&row))
    }

    /// An error about a cell of this row.
    pub(super) fn wrong(&self, field: &'static str, sentence: impl Into<String>) -> Problem {
        Problem::error(sentence).at(self.at, field)
    }
}
