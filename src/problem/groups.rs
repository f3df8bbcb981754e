//! Problems as a person reads them: the same sentence about many cells once, with its cells, and each
//! cell once, with the most important thing to say of it.

use std::collections::BTreeMap;

use super::{Fault, Problem, Severity, Spot};
use crate::model::source::{SourceTable, Sources};

/// One thing to tell, and the cells that it is about.
#[derive(Clone, Debug)]
pub struct Group<'a> {
    /// The problem of each cell, in file order; the sentence is the same in all. Never empty.
    pub about: Vec<&'a Problem>,
    /// What else there is to say of the same cells, the most important first.
    pub also: Vec<&'a Problem>,
}

impl<'a> Group<'a> {
    /// The first of its problems.
    pub fn first(&self) -> Option<&'a Problem> {
        self.about.first().copied()
    }

    /// How much it weighs.
    pub fn severity(&self) -> Severity {
        self.first().map_or(Severity::Notice, |p| p.severity)
    }

    /// The problems in it.
    pub fn all(&self) -> impl Iterator<Item = &'a Problem> {
        let also = self.also.iter().copied();
        self.about.iter().copied().chain(also)
    }

    /// What to write instead, and whether every cell is given the same advice.
    pub fn hint(&self) -> Option<(&'a str, bool)> {
        let hint = self.first()?.hint.as_deref()?;
        let alike = |p: &&Problem| p.hint.as_deref() == Some(hint);
        Some((hint, self.about.iter().all(alike)))
    }
}

/// A cell, by table, row and column of the file.
type CellAt = (u16, u32, u32);

/// The problems in groups, the most important first: errors, cautions, notices, and among each of
/// them what is wrong with a file, then in the order met.
pub fn grouped<'a>(problems: &'a [Problem], sources: &Sources) -> Vec<Group<'a>> {
    let mut groups: Vec<Group> = Vec::new();
    let mut alike: BTreeMap<Vec<(Severity, &str)>, usize> = BTreeMap::new();
    for cell in by_cell(problems, sources) {
        let Some((first, also)) = cell.split_first() else {
            continue;
        };
        let key = cell.iter().map(|p| (p.severity, p.sentence.as_str()));
        let is_placed = first.spot.is_some() || first.place.is_some();
        let place = is_placed.then(|| *alike.entry(key.collect()).or_insert(groups.len()));
        match place.and_then(|place| groups.get_mut(place)) {
            Some(group) => {
                group.about.push(first);
                group.also.extend(also);
            }
            None => groups.push(Group {
                about: vec![first],
                also: also.to_vec(),
            }),
        }
    }
    for group in &mut groups {
        group.about.sort_by_key(|p| p.spot.map(|s| s.row));
    }
    groups.sort_by_key(|g| {
        let is_of_input = g.first().is_some_and(|p| p.fault == Fault::Input);
        (g.severity(), is_of_input)
    });
    groups
}

/// What there is to say of each cell, the most important first. What is about no cell stands alone.
fn by_cell<'a>(problems: &'a [Problem], sources: &Sources) -> Vec<Vec<&'a Problem>> {
    let mut cells: Vec<Vec<&Problem>> = Vec::new();
    let mut place_of: BTreeMap<CellAt, usize> = BTreeMap::new();
    for problem in problems {
        let at = problem.spot.and_then(|spot| cell_at(spot, sources));
        let at = at.filter(|_| problem.place.is_none());
        let place = at.map(|at| *place_of.entry(at).or_insert(cells.len()));
        match place.and_then(|place| cells.get_mut(place)) {
            Some(cell) => cell.push(problem),
            None => cells.push(vec![problem]),
        }
    }
    for cell in &mut cells {
        cell.sort_by_key(|p| p.severity);
    }
    cells
}

fn cell_at(spot: Spot, sources: &Sources) -> Option<CellAt> {
    let table = sources.tables.get(usize::from(spot.row.table))?;
    Some((spot.row.table, spot.row.row, table.column_of(spot.field)?))
}

/// The place of a problem in words: in full, or as short as it can be after one in the same table.
pub(crate) fn place_after(
    before: Option<&Problem>,
    problem: &Problem,
    sources: &Sources,
) -> Option<String> {
    let table_of = |p: &Problem| p.spot.filter(|_| p.place.is_none()).map(|s| s.row.table);
    let same = before
        .and_then(table_of)
        .is_some_and(|table| Some(table) == table_of(problem));
    if let Some(spot) = problem.spot.filter(|_| same) {
        let table = sources.tables.get(usize::from(spot.row.table))?;
        return Some(short(table, spot));
    }
    let in_words = problem.place.clone();
    in_words.or_else(|| sources.place(problem.spot?))
}

fn short(table: &SourceTable, spot: Spot) -> String {
    let place = table.place(spot.row.row, table.column_of(spot.field));
    let begins = table.place_begins();
    place
        .strip_prefix(&begins)
        .map_or_else(|| place.clone(), str::to_owned)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::source::{Form, RowAt, SourceColumn};
    use std::sync::Arc;

    /// A table `Beds` with the columns B `Length` and D `Height`.
    pub(super) fn sources(form: Form) -> Sources {
        let file = match form {
            Form::Workbook => "job.xlsx",
            Form::Text => "Beds.csv",
        };
        let column = |index, title| SourceColumn {
            index,
            title: Arc::from(title),
            field: Some(title),
        };
        Sources {
            tables: vec![SourceTable {
                sheet: None,
                file: Arc::from(file),
                label: Arc::from("Beds"),
                form,
                columns: vec![column(1, "Length"), column(3, "Height")],
                rows: Vec::new(),
            }],
        }
    }

    fn at(problem: Problem, row: u32, field: &'static str) -> Problem {
        problem.at(RowAt { table: 0, row }, field)
    }

    /// Each group as its sentence and its places.
    fn told(problems: &[Problem], form: Form) -> Vec<String> {
        let sources = sources(form);
        let line = |group: &Group| {
            let mut before = None;
            let mut line = group.first().unwrap().sentence.clone();
            for problem in &group.about {
                line.push(' ');
                line += &place_after(before, problem, &sources).unwrap_or_default();
                before = Some(problem);
            }
            for also in &group.also {
                line = format!("{line} + {}", also.sentence);
            }
            line
        };
        grouped(problems, &sources).iter().map(line).collect()
    }

    #[test]
    fn one_sentence_about_many_cells_is_told_once() {
        let unit = |row| at(Problem::error("Length needs a unit"), row, "Length");
        let problems = [
            unit(8),
            at(Problem::error("Height is missing"), 5, "Height"),
            unit(6),
        ];
        assert_eq!(
            told(&problems, Form::Workbook),
            [
                "Length needs a unit job.xlsx!Beds!B7 B9",
                "Height is missing job.xlsx!Beds!D6"
            ]
        );
        assert_eq!(
            told(&problems, Form::Text),
            [
                "Length needs a unit Beds.csv:7:2 9:2",
                "Height is missing Beds.csv:6:4"
            ]
        );
    }

    #[test]
    fn a_cell_is_told_once_with_its_most_important_problem() {
        let problems = [
            at(Problem::notice("a bed this long is rare"), 6, "Length"),
            at(Problem::error("Length needs a unit"), 6, "Length"),
            at(Problem::error("Length needs a unit"), 7, "Length"),
            // No column of this title is there, so these are about the row, each for itself.
            at(Problem::error("Width is missing"), 6, "Width"),
            at(Problem::caution("a low gate"), 6, "Gate"),
        ];
        assert_eq!(
            told(&problems, Form::Workbook),
            [
                "Length needs a unit job.xlsx!Beds!B7 + a bed this long is rare",
                "Length needs a unit job.xlsx!Beds!B8",
                "Width is missing job.xlsx!Beds!7",
                "a low gate job.xlsx!Beds!7",
            ]
        );
    }

    #[test]
    fn errors_come_first_and_files_before_cells() {
        let problems = [
            Problem::notice("n"),
            at(Problem::error("in a cell"), 1, "Length"),
            Problem::caution("c"),
            Problem::file("no such file"),
            Problem::error("no beds"),
            Problem::error("no beds"),
        ];
        let expected = [
            "no such file ",
            "in a cell job.xlsx!Beds!B2",
            "no beds ",
            "no beds ",
            "c ",
            "n ",
        ];
        assert_eq!(told(&problems, Form::Workbook), expected);
    }

    #[test]
    fn nothing_is_lost_by_grouping() {
        let mut problems = Vec::new();
        for row in 0..20 {
            let about = ["one", "two", "three"][usize::try_from(row).unwrap() % 3];
            problems.push(at(Problem::error(about), row / 2, "Length"));
        }
        let sources = sources(Form::Workbook);
        let groups = grouped(&problems, &sources);
        assert_eq!(groups.iter().flat_map(Group::all).count(), 20);
    }
}
