//! Suppliers' own price lists: their files, their columns, their names, turned into rows of `Prices`.
//!
//! A list is opened and its columns found ([`open`]) before the job's materials are known; once they
//! are, each row is judged by its name, and those that the job needs become a table of `Prices` whose
//! cells keep their places in the supplier's file ([`List::take`]). From there on the ordinary reader of
//! prices reads them.

mod columns;
mod confirmed;
mod file;
mod goods;
mod judge;
mod lexemes;
mod likeness;
mod mapping;
mod table;
mod take;
mod vocabulary;
mod words;

#[cfg(test)]
mod tests;

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use super::assemble::Votes;
use super::gather::decide;
use super::open::Opened;
use super::raw::RawSheet;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::units::parse::{Commas, comma_evidence};
use columns::Columns;
use mapping::Mapping;

pub(super) use confirmed::Confirmed;
pub(super) use likeness::Wanted;
pub(super) use take::Surroundings;

/// An opened list whose columns are known.
pub(super) struct List {
    mapping: Mapping,
    raw: RawSheet,
    columns: Columns,
    commas: Commas,
}

impl List {
    /// Forgets rows, by the name of their file.
    pub(super) fn leave_out(&mut self, rows: &BTreeSet<(Arc<str>, u32)>) {
        let file = &self.raw.file;
        let is_left_out = |row: u32| rows.contains(&(Arc::clone(file), row));
        self.raw.rows.retain(|row| !is_left_out(row.row));
    }
}

/// Opens every list that the job names; `base` is the folder of the job.
pub(super) fn open(opened: &Opened, base: &Path, problems: &mut Vec<Problem>) -> Vec<List> {
    let mut lists = Vec::new();
    for mapping in mapping::mappings(opened, problems) {
        let told: Vec<String> = mapping
            .columns
            .iter()
            .map(|(_, cell)| cell.text())
            .collect();
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        let Some(list) = file::open(&mapping, base, &told, problems) else {
            continue;
        };
        if let Some(columns) = columns::columns(&mapping, &list.raw, problems) {
            let commas = commas(&list, &columns, opened.decimal_comma);
            lists.push(List {
                raw: list.raw,
                mapping,
                columns,
                commas,
            });
        }
    }
    lists
}

/// What commas mean in a list: as most of its own numbers show, else as in the job.
fn commas(list: &file::RawList, columns: &Columns, otherwise: Commas) -> Commas {
    let read = columns.header.columns.iter().filter(|c| c.field.is_some());
    let read: Vec<u32> = read.map(|c| c.index).collect();
    let mut votes = Votes::default();
    for row in list.raw.rows.iter().skip(columns.header.used) {
        for text in read.iter().filter_map(|index| row.at(*index)?.as_text()) {
            match comma_evidence(text) {
                Commas::Thousands => votes.points = votes.points.saturating_add(1),
                Commas::Decimal | Commas::Mostly => votes.commas = votes.commas.saturating_add(1),
                Commas::Ask => {}
            }
        }
    }
    match decide((votes, list.semicolons)) {
        Commas::Ask => otherwise,
        decided => decided,
    }
}

impl List {
    /// Where the mapping stands.
    pub(super) fn at(&self) -> RowAt {
        self.mapping.at
    }

    /// Whose list it is.
    pub(super) fn supplier(&self) -> &str {
        &self.mapping.supplier
    }

    /// The names of its goods, as they stand.
    pub(super) fn names(&self) -> impl Iterator<Item = String> {
        self.goods().filter_map(|row| self.text(row, "Material"))
    }
}
