//! What one job takes from the library, and which of its cells stand in the library's place.

use super::grid::{Grid, text};
use super::rows::ShelfTable;
use super::screen::ended;
use crate::model::known::LibraryRef;
use crate::model::source::Sources;
use crate::price::assumptions::LibraryUse;
use crate::write::columns::{pad, wrap};
use crate::write::paint::Paint;

/// Between columns.
const GAP: usize = 2;
/// Titles of the table as a file.
const HEADS: [(&str, u16); 9] = [
    ("What", 44),
    ("Taken as", 26),
    ("Overridden by", 34),
    ("In the library", 26),
    ("Row of the library", 34),
    ("Your own goes into", 36),
    ("Where from", 60),
    ("How sure", 14),
    ("Used for", 40),
];

/// A figure of the library that a job uses or replaces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UsedFigure {
    /// What it is: `Wet-down loss of Compost`.
    pub what: String,
    /// The value that counts.
    pub taken_as: String,
    /// The cell that replaced the library's: `job.xlsx!Materials!C4`.
    pub overridden_by: Option<String>,
    /// What the library has.
    pub in_library: String,
    /// Table and key in the library: `materials compost`.
    pub row: String,
    /// Where a job gives its own.
    pub yours: String,
    /// Where the library's figure is from; empty when the job gave its own.
    pub basis: String,
    /// How sure that is.
    pub confidence: String,
    /// What it is used for.
    pub used_for: String,
}

/// What a job uses of the tables given, in the order of its assumptions.
pub fn used_figures(
    uses: &[LibraryUse],
    tables: &[ShelfTable],
    sources: &Sources,
) -> Vec<UsedFigure> {
    let figures = uses.iter().map(|one| figure(one, tables, sources));
    figures.flatten().collect()
}

fn figure(used: &LibraryUse, tables: &[ShelfTable], sources: &Sources) -> Option<UsedFigure> {
    let known = |at: &LibraryRef| {
        let table = tables.iter().find(|table| table.name == at.table)?;
        Some((at.clone(), table.figure(at)?.clone()))
    };
    let figures: Vec<_> = used.figures.iter().filter_map(known).collect();
    let (first, of_first) = figures.first()?;
    let values: Vec<String> = figures.iter().map(|(_, f)| f.with_unit()).collect();
    let given = used.given;
    let place = given.map(|(at, field)| sources.place_of(at, field).unwrap_or_default());
    Some(UsedFigure {
        what: used.taken.what.clone(),
        taken_as: used.taken.value.clone(),
        overridden_by: place,
        in_library: values.join(" or "),
        row: format!("{} {}", first.table, first.key),
        yours: of_first.yours.clone(),
        basis: used.taken.basis.clone(),
        confidence: used.taken.confidence.clone(),
        used_for: used.taken.used_for.clone(),
    })
}

/// The figures on the terminal: first what is taken, then what the job replaced.
pub fn used_screen(figures: &[UsedFigure], paint: Paint, width: usize) -> String {
    let (given, taken): (Vec<_>, Vec<_>) = figures.iter().partition(|f| f.overridden_by.is_some());
    let mut lines = Vec::new();
    lines.push(paint.heading(&format!("Taken from the trade library: {}", taken.len())));
    let rows = taken.iter().map(|f| [&*f.what, &*f.taken_as, &*f.yours]);
    lines.extend(columns(["", "taken as", "your own goes into"], rows, width));
    lines.push(String::new());
    lines.push(paint.heading(&format!("Overridden by the job: {}", given.len())));
    let own: Vec<String> = given
        .iter()
        .map(|f| match &*f.in_library {
            "" => f.taken_as.clone(),
            library => format!("{}, library {library}", f.taken_as),
        })
        .collect();
    let rows = given.iter().zip(&own).map(|(f, own)| {
        let place = f.overridden_by.as_deref().unwrap_or_default();
        [&*f.what, own, place]
    });
    lines.extend(columns(["", "taken as", "overridden by"], rows, width));
    lines.push(String::new());
    let words = "How far each can be trusted: --csv or --json, or the sheet Assumptions of the estimate. Crops and cautions are not listed: check tells those that apply.";
    lines.extend(wrap(words, width, ""));
    ended(&lines)
}

/// Three columns whose cells wrap.
fn columns<'a>(
    heads: [&'a str; 3],
    rows: impl Iterator<Item = [&'a str; 3]>,
    width: usize,
) -> Vec<String> {
    let room = width.saturating_sub(2 * GAP + 2);
    // By the widest that is common: a place such as `Materials: Delivered density`.
    let (value, place) = (room * 18 / 74, room * 28 / 74);
    let widths = [room.saturating_sub(value + place), value, place];
    let rows: Vec<[&str; 3]> = rows.collect();
    if rows.is_empty() {
        return vec!["  nothing".to_owned()];
    }
    let mut lines = Vec::new();
    for row in std::iter::once(heads).chain(rows) {
        let cells: Vec<Vec<String>> = row
            .iter()
            .zip(widths)
            .map(|(cell, width)| wrap(cell, width, "  "))
            .collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        for number in 0..height {
            let parts = cells.iter().zip(widths).map(|(cell, width)| {
                let part = cell.get(number).map_or("", |part| part);
                // A place is copied, so it stays whole.
                pad(part, width.max(part.chars().count()))
            });
            let line = parts.collect::<Vec<_>>().join(&" ".repeat(GAP));
            lines.push(format!("  {}", line.trim_end()));
        }
    }
    lines
}

/// The figures as a table for files.
pub fn used_grid(figures: &[UsedFigure]) -> Grid {
    let row = |f: &UsedFigure| {
        let place = f.overridden_by.as_deref().unwrap_or_default();
        let cells = [
            &*f.what,
            &*f.taken_as,
            place,
            &*f.in_library,
            &*f.row,
            &*f.yours,
            &*f.basis,
            &*f.confidence,
            &*f.used_for,
        ];
        cells.into_iter().map(text).collect()
    };
    Grid {
        title: "used".to_owned(),
        about: "what the job takes from the trade library, and what it overrides".to_owned(),
        heads: HEADS.to_vec(),
        rows: figures.iter().map(row).collect(),
    }
}
