//! Tables of the library as rows of cells, for CSV files and workbooks.

use rust_decimal::Decimal;

use super::rows::{ShelfFigure, ShelfRow, ShelfTable};
use crate::model::library::TYPICAL;
use crate::units::show::plain;
use crate::write::csv_safe::CsvTable;

/// A cell.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum GridCell {
    /// Words; empty for an empty cell.
    Text(String),
    /// A number in the unit of its column.
    Number(Decimal),
    /// A percentage: 15 for 15%.
    Percent(Decimal),
}

/// A table of cells under titles.
#[derive(Clone, Debug)]
pub struct Grid {
    /// What the table is called.
    pub title: String,
    /// What is said above it in a workbook.
    pub about: String,
    /// Titles of the columns, each with its width in characters.
    pub heads: Vec<(&'static str, u16)>,
    /// Rows with a cell for each title.
    pub rows: Vec<Vec<GridCell>>,
}

/// Titles of the `Materials` sheet of a job, with the units of the library.
const MATERIALS: [(&str, u16); 12] = [
    ("Material", 26),
    ("Category", 12),
    ("Delivered density (lb/yd3)", 12),
    ("Wet density (lb/yd3)", 12),
    ("Wet-down %", 9),
    ("First season %", 9),
    ("Void %", 9),
    ("Infill %", 9),
    ("Waste %", 9),
    ("Roll width (in)", 10),
    ("Lap (in)", 9),
    ("Note", 100),
];
/// The library's columns in the order of those titles.
const COLUMNS: [&str; 9] = [
    "delivered_lb_yd3",
    "wet_lb_yd3",
    "wet_down_pct",
    "first_season_pct",
    "void_pct",
    "infill_pct",
    "waste_pct",
    "roll_width_in",
    "lap_in",
];
/// Titles of the `Labour` sheet of a job.
const LABOUR: [(&str, u16); 4] = [
    ("Task", 40),
    ("Person-hours", 14),
    ("Per", 26),
    ("Note", 80),
];
/// Titles of a table that no sheet of a job holds.
const FIGURES: [(&str, u16); 12] = [
    ("Key", 24),
    ("Name", 38),
    ("Kind", 13),
    ("Figure", 20),
    ("Value", 8),
    ("Least", 8),
    ("Most", 8),
    ("Unit", 9),
    ("Your own goes into", 30),
    ("Where from", 40),
    ("How sure", 13),
    ("Words", 60),
];

impl Grid {
    /// A table of the library under the titles of the job's own sheet where it has one.
    pub fn of(table: &ShelfTable) -> Self {
        let (heads, rows): (&[(&str, u16)], Vec<Vec<GridCell>>) = match table.name {
            "materials" => (&MATERIALS, table.rows.iter().map(material).collect()),
            "tasks" => (&LABOUR, table.rows.iter().map(task).collect()),
            _ => (&FIGURES, table.rows.iter().flat_map(figures).collect()),
        };
        let pasted = table.pastes_into.map(|sheet| {
            format!(". Change what you know better and paste rows into the sheet {sheet} of a job")
        });
        let grid = Self {
            title: table.name.to_owned(),
            about: format!("{}{}", table.about, pasted.unwrap_or_default()),
            heads: heads.to_vec(),
            rows,
        };
        match table.pastes_into {
            Some(_) => grid,
            None => grid.without_empty_columns(),
        }
    }

    /// Most tables that are only for reading leave a column or two open.
    fn without_empty_columns(self) -> Self {
        let empty = text("");
        let is_filled = |column: usize| {
            let mut cells = self.rows.iter().filter_map(|row| row.get(column));
            cells.any(|cell| *cell != empty)
        };
        let filled: Vec<bool> = (0..self.heads.len()).map(is_filled).collect();
        Self {
            heads: kept(self.heads, &filled),
            rows: self
                .rows
                .into_iter()
                .map(|row| kept(row, &filled))
                .collect(),
            ..self
        }
    }

    /// The table as a CSV file.
    pub fn csv(&self) -> Vec<u8> {
        let titles: Vec<&str> = self.heads.iter().map(|(title, _)| *title).collect();
        let mut csv = CsvTable::new(&titles);
        for row in &self.rows {
            for cell in row {
                match cell {
                    GridCell::Text(text) => csv.text(text),
                    GridCell::Number(number) => csv.number(*number),
                    // With its sign, since a bare 1 could be all of it.
                    GridCell::Percent(share) => csv.text(&format!("{}%", plain(*share, 6))),
                }
            }
            csv.end_row();
        }
        csv.into_bytes()
    }
}

fn kept<T>(cells: Vec<T>, filled: &[bool]) -> Vec<T> {
    let pairs = cells.into_iter().zip(filled);
    pairs
        .filter(|(_, filled)| **filled)
        .map(|(cell, _)| cell)
        .collect()
}

pub(super) fn text(words: impl Into<String>) -> GridCell {
    GridCell::Text(words.into())
}

fn number(number: Option<Decimal>) -> GridCell {
    number.map_or_else(|| text(""), GridCell::Number)
}

fn material(row: &ShelfRow) -> Vec<GridCell> {
    let value = |column: &&str| {
        let figure = row.figures.iter().find(|f| f.column == *column);
        match figure.and_then(|f| Some((f.value?, &*f.unit))) {
            Some((value, "%")) => GridCell::Percent(value),
            Some((value, _)) => GridCell::Number(value),
            None => text(""),
        }
    };
    let named = [text(&*row.name), text(&*row.kind)];
    named
        .into_iter()
        .chain(COLUMNS.iter().map(value))
        .chain([text(note(row))])
        .collect()
}

fn task(row: &ShelfRow) -> Vec<GridCell> {
    let hours = row.figures.first().and_then(|f| f.value);
    vec![
        text(&*row.name),
        number(hours),
        text(&*row.kind),
        text(note(row)),
    ]
}

/// Ranges and sources of a row in one cell: `Wet-down loss 10% (5 to 15); typical, change it to your own`.
fn note(row: &ShelfRow) -> String {
    let seen = row.figures.iter().filter(|f| f.is_seen);
    let seen: Vec<String> = seen
        .map(|f| format!("{}: {}, {}", f.label, f.confidence, f.basis))
        .collect();
    let ranges = row.figures.iter().filter(|f| f.range.is_some());
    let ranges: Vec<String> = ranges
        .map(|f| format!("{} {}", f.label, f.range_words()))
        .collect();
    let rest = match (seen.is_empty(), row.figures.iter().all(|f| f.is_seen)) {
        (_, true) => String::new(),
        (true, _) => TYPICAL.to_owned(),
        (false, _) => format!("the rest {TYPICAL}"),
    };
    let parts = [ranges.join(", "), seen.join("; "), rest];
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    parts.join("; ")
}

fn figures(row: &ShelfRow) -> Vec<Vec<GridCell>> {
    let words = match &*row.words {
        "" => row.also.join("; "),
        words => words.to_owned(),
    };
    let line = |f: &ShelfFigure| {
        vec![
            text(&*row.key),
            text(&*row.name),
            text(&*row.kind),
            text(f.label),
            number(f.value),
            number(f.range.map(|r| r.0)),
            number(f.range.map(|r| r.1)),
            text(&*f.unit),
            text(&*f.yours),
            text(&*f.basis),
            text(&*f.confidence),
            text(&*words),
        ]
    };
    row.figures.iter().map(line).collect()
}
