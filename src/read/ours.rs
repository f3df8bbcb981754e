//! Workbooks of this program among the others. Estimates are jobs themselves, since the input stands in
//! them; what the program computed for them is passed over, whatever another program left of it. Of
//! starters, the sheets that explain and that feed the drop-downs are passed over.

use std::collections::BTreeSet;

use super::raw::{RawCell, RawRow, RawSheet};
use crate::model::choices::{COLUMNS, Choice};
use crate::model::sheet::{PROBLEMS, Sheet};

/// The defined name that marks an estimate.
pub(super) const MARK: &str = "loamwright_estimate";
/// The sheet that keeps what the estimate chose.
pub(super) const CHOICES: &str = "Choices";
/// The defined name that marks a starter.
pub(super) const STARTER_MARK: &str = "loamwright_starter";
/// Sheets of a starter that hold no input.
const STARTER_SHEETS: [&str; 2] = ["Start here", "Lists"];
/// Sheets that the program computes.
const SHEETS: [&str; 13] = [
    "Summary",
    "Take-off",
    "Orders",
    "Cut list",
    "Hours",
    "Price",
    "Budget",
    "Add or deduct",
    "Schedule",
    "Shares",
    "Assumptions",
    "Checks",
    "Basis",
];
/// The column that says whether a row is the user's own.
const FROM: &str = "From";
/// What it says then.
const YOURS: &str = "yours";
/// Rows that may stand above the header.
const LOOKED_AT: usize = 30;

/// Whether a sheet of an estimate is computed: `Orders`, or `Orders 2` where one was full.
pub(super) fn is_computed(sheet: &str) -> bool {
    let stem = without_number(sheet);
    SHEETS.iter().any(|title| title.eq_ignore_ascii_case(stem))
}

/// Whether a sheet of a marked copy is the list of its problems, which is no part of the job.
pub(super) fn lists_problems(sheet: &str) -> bool {
    without_number(sheet) == PROBLEMS
}

fn without_number(sheet: &str) -> &str {
    sheet
        .rsplit_once(' ')
        .filter(|(_, tail)| !tail.is_empty() && tail.bytes().all(|b| b.is_ascii_digit()))
        .map_or(sheet, |(stem, _)| stem)
}

/// The choices that an estimate keeps; nothing for a sheet that keeps none.
pub(super) fn choices(raw: &RawSheet) -> Vec<Choice> {
    let choice = |row: &RawRow| {
        let mut column = 0;
        let texts = [(); COLUMNS.len()].map(|()| {
            let cell = row.at(column);
            column += 1;
            cell.and_then(RawCell::as_text).unwrap_or_default()
        });
        Choice::of_row(texts)
    };
    raw.rows.iter().filter_map(choice).collect()
}

/// Titles of the columns that the program adds to an input sheet, from the left. One that ends in
/// a bracket or a space stands for all that begin so.
fn added(sheet: Sheet) -> &'static [&'static str] {
    match sheet {
        Sheet::Job | Sheet::Labour => &[FROM],
        Sheet::Beds => &[
            "Size in words",
            "Inside area (",
            "Fill to order (",
            "Top-up later (",
            "Soaked fill (",
            "Beds",
            "Materials",
            "Delivery",
            "Labour",
            "Equipment",
            "Other",
            "Cost",
            "Price",
            "Price a bed",
            "Place",
            "Running ",
        ],
        Sheet::Areas => &[
            "Size in words",
            "Covered (",
            "Materials",
            "Delivery",
            "Labour",
            "Equipment",
            "Other",
            "Cost",
            "Price",
            "Place",
            "Running ",
        ],
        Sheet::Prices => &["Chosen up to", "Not chosen at", "Choice"],
        Sheet::Workers => &["Priced by cost", "Cost an hour"],
        Sheet::Extras => &[
            "Times",
            "Times counted",
            "Times by hours",
            "Stands as",
            "Taxed",
            "Cost",
            "Tax paid",
        ],
        _ => &[],
    }
}

/// Whether a sheet of a starter explains or feeds drop-downs, and is no input.
pub(super) fn is_guide(sheet: &str) -> bool {
    STARTER_SHEETS
        .iter()
        .any(|title| title.eq_ignore_ascii_case(sheet))
}

fn is_added(title: &str, added: &[&str]) -> bool {
    added.iter().any(|known| match known.chars().last() {
        Some('(' | ' ') => title.starts_with(known),
        _ => title == *known,
    })
}

/// Takes the computed columns out of an input sheet of an estimate, and marks its rows that the
/// program filled in.
pub(super) fn strip(raw: &mut RawSheet, sheet: Sheet) {
    let titles = added(sheet);
    let Some((header, columns)) = header(raw, titles) else {
        return;
    };
    let from = from_column(raw, header);
    let below = raw.rows.iter().skip(header.saturating_add(1));
    let is_ours = |row: &&RawRow| {
        let said = from.and_then(|column| row.at(column)?.as_text());
        said.is_some_and(|said| said != YOURS)
    };
    let ours: BTreeSet<u32> = below.filter(is_ours).map(|row| row.row).collect();
    for row in raw.rows.iter_mut().skip(header) {
        row.cells.retain(|(column, _)| !columns.contains(column));
    }
    raw.rows.retain(|row| !row.cells.is_empty());
    raw.filled_in = ours;
}

/// The row, by its place among the rows, with most of the added titles, and the columns under them.
fn header(raw: &RawSheet, titles: &[&str]) -> Option<(usize, BTreeSet<u32>)> {
    let rows = raw.rows.iter().take(LOOKED_AT).enumerate();
    let found = rows.map(|(place, row)| (place, columns(row, titles)));
    // The first of equals: a row of the user may hold a word that is also a title.
    let best = found.reduce(|best, next| {
        if next.1.len() > best.1.len() {
            next
        } else {
            best
        }
    });
    best.filter(|(_, columns)| !columns.is_empty())
}

/// Added columns stand right of the input. A title of the user may be the same as an added one, as
/// `Place` for the site: so only the last column of a title counts, from the first that no input
/// can be called.
fn columns(row: &RawRow, titles: &[&str]) -> BTreeSet<u32> {
    let cells = row.cells.iter();
    let named: Vec<(u32, &str)> = cells
        .filter_map(|(column, cell)| Some((*column, cell.as_text()?)))
        .collect();
    let begin = titles.first().and_then(|first| {
        let mut from_right = named.iter().rev();
        from_right.find(|(_, title)| title == first)
    });
    let begin = begin.map_or(0, |(column, _)| *column);
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut columns = BTreeSet::new();
    for (column, title) in named.iter().rev() {
        if *column >= begin && is_added(title, titles) && seen.insert(title) {
            columns.insert(*column);
        }
    }
    columns
}

fn from_column(raw: &RawSheet, header: usize) -> Option<u32> {
    let row = raw.rows.get(header)?;
    let mut cells = row.cells.iter().rev();
    cells
        .find(|(_, cell)| cell.as_text() == Some(FROM))
        .map(|(column, _)| *column)
}
