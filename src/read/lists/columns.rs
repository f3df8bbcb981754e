//! The columns of a supplier's list: as the mapping says, else by titles that are known anyway.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::mapping::Mapping;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceColumn};
use crate::problem::Problem;
use crate::read::header::Header;
use crate::read::names::{did_you_mean, key};
use crate::read::raw::{RawRow, RawSheet};
use crate::read::titles;
use crate::units::parse;

/// Rows that may be title block before the header.
const LOOKED_AT: usize = 30;
/// Fields that the list itself does not decide.
const NOT_THEIRS: [&str; 5] = [
    "Supplier",
    "Preferred",
    "Quantity needed",
    "Their name",
    "Listed at",
];

/// The columns of a list.
pub(super) struct Columns {
    /// Header with the fields of `Prices`; its `used` counts the rows above the goods.
    pub(super) header: Header,
    /// Fields that are the same for every row, as the mapping gives them.
    pub(super) fixed: Vec<(&'static str, Cell)>,
}

/// Finds the columns; `None` when what is needed is not there, which is told at the mapping.
pub(super) fn columns(
    mapping: &Mapping,
    raw: &RawSheet,
    problems: &mut Vec<Problem>,
) -> Option<Columns> {
    let at = header_place(mapping, raw, problems).ok()?;
    let row = at.and_then(|at| raw.rows.get(at));
    let mut finding = Finding {
        mapping,
        file: &raw.file,
        found: titled(row),
        told: BTreeMap::new(),
        fixed: Vec::new(),
        is_whole: true,
        problems,
    };
    for (field, cell) in &mapping.columns {
        finding.place(field, cell, raw);
    }
    finding.by_title();
    finding.check();
    let is_whole = finding.is_whole;
    let (found, fixed) = (finding.found, finding.fixed);
    is_whole.then(|| Columns {
        header: Header::of(found, at.map_or(0, |at| at.saturating_add(1))),
        fixed,
    })
}

/// What is wrong has been told.
struct Told;

type Found = (SourceColumn, Option<parse::Unit>);

/// The columns under the titles of a row, not yet with fields.
fn titled(row: Option<&RawRow>) -> Vec<Found> {
    let cells = row.into_iter().flat_map(|row| &row.cells);
    let titles = cells.filter_map(|(index, cell)| {
        let column = SourceColumn {
            index: *index,
            title: Arc::from(cell.as_text()?),
            field: None,
        };
        Some((column, None))
    });
    titles.collect()
}

/// The row of titles, by its place among the rows of the sheet; `None` when there is none and
/// none is needed, since every column is told by its letters.
fn header_place(
    mapping: &Mapping,
    raw: &RawSheet,
    problems: &mut Vec<Problem>,
) -> Result<Option<usize>, Told> {
    if let Some(row) = mapping.header_row {
        let place = raw.rows.iter().position(|r| r.row == row);
        if place.is_none() {
            let said = format!("{} has nothing in this row", raw.file);
            problems.push(mapping.wrong("Header row", said));
        }
        return place.map(Some).ok_or(Told);
    }
    let told: Vec<String> = mapping
        .columns
        .iter()
        .map(|(_, cell)| key(&cell.text()))
        .collect();
    let score = |row: &RawRow| {
        let texts = || row.cells.iter().filter_map(|(_, cell)| cell.as_text());
        let said = texts().filter(|text| told.contains(&key(text))).count();
        let known = texts().filter(|text| titles::column(text, Sheet::Prices).is_some());
        said.saturating_mul(2).saturating_add(known.count())
    };
    let mut best = (1, None);
    for (place, row) in raw.rows.iter().take(LOOKED_AT).enumerate() {
        let known = score(row);
        if known > best.0 {
            best = (known, Some(place));
        }
    }
    Ok(best.1)
}

struct Finding<'f> {
    mapping: &'f Mapping,
    file: &'f str,
    found: Vec<Found>,
    /// By field: the column that the mapping names.
    told: BTreeMap<&'static str, u32>,
    fixed: Vec<(&'static str, Cell)>,
    is_whole: bool,
    problems: &'f mut Vec<Problem>,
}

impl Finding<'_> {
    /// Takes one cell of the mapping: a title, the letters of a column, or a value for all rows.
    fn place(&mut self, field: &'static str, cell: &Cell, raw: &RawSheet) {
        let text = cell.text();
        let wanted = key(&text);
        let by_title = self.found.iter().find(|(c, _)| key(&c.title) == wanted);
        let by_letters = || {
            let index = column_index(&text)?;
            let is_there = |row: &RawRow| row.cells.iter().any(|(c, _)| *c == index);
            raw.rows.iter().any(is_there).then_some(index)
        };
        let index = by_title.map(|(c, _)| c.index).or_else(by_letters);
        if let Some(index) = index {
            let before = self.told.iter().find(|(_, told)| **told == index);
            if let Some((other, _)) = before {
                let said = format!("this column is read as {other} already");
                let hint = "leave the cell empty; packs and contents are found in names too";
                self.wrong(self.mapping.wrong(field, said).hint(hint));
                return;
            }
            self.told.insert(field, index);
            return;
        }
        let is_value = match field {
            "Taxable" => matches!(cell, Cell::Bool(_)) || parse::yes_no(&text).is_some(),
            "Price date" => {
                matches!(cell, Cell::Date(_)) || parse::date(&text, parse::DateOrder::Ask).is_ok()
            }
            _ => false,
        };
        if is_value {
            self.fixed.push((field, cell.clone()));
            return;
        }
        let titles = || self.found.iter().map(|(c, _)| &*c.title);
        let hint = match did_you_mean(&text, titles()) {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => format!(
                "write one of its titles, or the letters of a column; the titles are {}",
                titles().collect::<Vec<_>>().join(", ")
            ),
        };
        let said = format!("{} has no column of this title", self.file);
        self.wrong(self.mapping.wrong(field, said).hint(hint));
    }

    fn wrong(&mut self, problem: Problem) {
        self.is_whole = false;
        self.problems.push(problem);
    }

    /// Gives the columns their fields: as told, else as their titles are known.
    fn by_title(&mut self) {
        for index in self.told.values() {
            if !self.found.iter().any(|(c, _)| c.index == *index) {
                let letters = crate::model::source::column_letters(*index);
                let column = SourceColumn {
                    index: *index,
                    title: Arc::from(letters),
                    field: None,
                };
                self.found.push((column, None));
            }
        }
        self.found.sort_by_key(|(column, _)| column.index);
        for (column, unit) in &mut self.found {
            let known = titles::column(&column.title, Sheet::Prices);
            let told = self.told.iter().find(|(_, index)| **index == column.index);
            if let Some((field, _)) = told {
                column.field = Some(field);
                // `Size (ft3)` is a title of its own when the column is told, and its unit still counts.
                *unit = known
                    .and_then(|(_, unit)| unit)
                    .or_else(|| unit_of(&column.title));
                continue;
            }
            let Some((field, of_title)) = known else {
                continue;
            };
            let is_free = !self.told.contains_key(field)
                && !NOT_THEIRS.contains(&field)
                && !self.fixed.iter().any(|(fixed, _)| *fixed == field);
            if is_free {
                column.field = Some(field);
                *unit = of_title;
            }
        }
    }

    /// Each field once, and what is needed is there.
    fn check(&mut self) {
        let mut by_field: BTreeMap<&'static str, Vec<String>> = BTreeMap::new();
        for (column, _) in &self.found {
            if let Some(field) = column.field {
                by_field
                    .entry(field)
                    .or_default()
                    .push(column.title.to_string());
            }
        }
        for (field, titles) in &by_field {
            if titles.len() > 1 {
                let said = format!("{} columns of {} may be {field}", titles.len(), self.file);
                let hint = format!(
                    "write under {field} which one is read: {}",
                    titles.join(", ")
                );
                self.wrong(self.mapping.wrong("File", said).hint(hint));
            }
        }
        for field in ["Material", "Price"] {
            let is_told = self.mapping.columns.iter().any(|(f, _)| *f == field);
            if !by_field.contains_key(field) && !is_told {
                let titles: Vec<&str> = self.found.iter().map(|(c, _)| &*c.title).collect();
                let said = format!("no column of {} is known as {field}", self.file);
                let hint = if titles.is_empty() {
                    format!("write under {field} the letters of its column")
                } else {
                    format!("write under {field} which one it is: {}", titles.join(", "))
                };
                self.wrong(self.mapping.wrong("File", said).hint(hint));
            }
        }
    }
}

/// The unit in brackets at the end of a title.
fn unit_of(title: &str) -> Option<parse::Unit> {
    let inside = title.trim().strip_suffix([')', ']'])?;
    let (_, unit) = inside.rsplit_once(['(', '['])?;
    parse::unit(unit)
}

/// A column's place, from 0, by its letters: `A`, `Z`, `AA`.
fn column_index(letters: &str) -> Option<u32> {
    if letters.is_empty() || letters.len() > 3 || !letters.bytes().all(|b| b.is_ascii_alphabetic())
    {
        return None;
    }
    let mut index = 0_u32;
    for byte in letters.to_ascii_uppercase().bytes() {
        let digit = u32::from(byte)
            .checked_sub(u32::from(b'A'))?
            .checked_add(1)?;
        index = index.checked_mul(26)?.checked_add(digit)?;
    }
    index.checked_sub(1)
}

#[cfg(test)]
mod tests {
    use super::column_index;

    #[test]
    fn letters_name_columns_as_spreadsheets_do() {
        assert_eq!(column_index("A"), Some(0));
        assert_eq!(column_index("z"), Some(25));
        assert_eq!(column_index("AA"), Some(26));
        assert_eq!(column_index("Price"), None);
        assert_eq!(column_index("A1"), None);
    }
}
