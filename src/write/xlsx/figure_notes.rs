//! How the first figures came about, as notes on their cells; beyond them a `From` or `How chosen`
//! column has to do, since a note on every row would treble the memory of a large workbook.

use super::{FigureNote, MOST_NOTES};
use crate::price::Estimate;
use crate::price::explain::{Step, bed_steps};
use crate::price::term::{CellRef, ColRef};
use crate::takeoff::sticks::Sticks;

/// Beds whose sizes get their derivation as a note; orders get the rest.
const MOST_BEDS: usize = 400;
/// Characters of one note, so that it stays readable.
const LONGEST: usize = 1_800;

/// Notes on the sizes of the first beds and the quantities of the first orders.
pub(super) fn figure_notes(estimate: &Estimate) -> Vec<FigureNote> {
    let mut notes = bed_notes(estimate);
    notes.extend(order_notes(estimate));
    notes.truncate(MOST_NOTES);
    notes
}

/// The take-off of each bed, step by step. Alike beds share their text.
fn bed_notes(estimate: &Estimate) -> Vec<FigureNote> {
    let Some(at) = column(estimate, "Beds", "Size in words") else {
        return Vec::new();
    };
    let sticks = Sticks::of(&estimate.job);
    let mut texts: Vec<Option<String>> = vec![None; estimate.kinds.kinds.len()];
    let mut notes = Vec::new();
    let rows = rows_of_beds(estimate);
    for ((bed, kind), row) in estimate
        .job
        .beds
        .iter()
        .zip(&estimate.kinds.of_bed)
        .zip(rows)
    {
        if notes.len() >= MOST_BEDS {
            break;
        }
        let (Some(text), Some(row)) = (texts.get_mut(kind.index()), row) else {
            continue;
        };
        let words = text.get_or_insert_with(|| {
            let steps = bed_steps(estimate, &sticks, bed);
            let line = |s: &Step| format!("{} = {} = {}", s.what, s.arithmetic, s.value);
            shortened(&steps.iter().map(line).collect::<Vec<_>>())
        });
        let at = CellRef { col: at, row };
        notes.push(FigureNote {
            at,
            words: words.clone(),
        });
    }
    notes
}

/// The row of the `Beds` block in which each bed stands: tables follow one another.
fn rows_of_beds(estimate: &Estimate) -> Vec<Option<u32>> {
    let mut firsts = std::collections::BTreeMap::new();
    let mut first = 0_usize;
    for (index, table) in estimate.sources.of(crate::model::sheet::Sheet::Beds) {
        firsts.insert(index, (first, table));
        first += table.rows.len();
    }
    let row = |bed: &crate::model::bed::Bed| {
        let (first, table) = firsts.get(&bed.at.table)?;
        let found = table
            .rows
            .binary_search_by_key(&bed.at.row, |r| r.row)
            .ok()?;
        u32::try_from(first + found).ok()
    };
    estimate.job.beds.iter().map(row).collect()
}

fn order_notes(estimate: &Estimate) -> Vec<FigureNote> {
    let Some(at) = column(estimate, "Orders", "Quantity") else {
        return Vec::new();
    };
    let lines = (0_u32..)
        .zip(&estimate.bought.lines)
        .filter(|(_, l)| !l.why.is_empty());
    let units = estimate.job.settings.units.value;
    lines
        .map(|(row, line)| FigureNote {
            at: CellRef { col: at, row },
            words: format!("Needed: {}. {}", units.amount(line.need), line.why),
        })
        .collect()
}

/// A column by the sheet of its block and its title.
fn column(estimate: &Estimate, sheet: &str, title: &str) -> Option<ColRef> {
    let blocks = (0_u16..).zip(&estimate.ledger.blocks);
    let mut found = blocks
        .filter(|(_, b)| b.sheet == sheet)
        .flat_map(|(block, b)| {
            let columns = (0_u16..).zip(&b.columns);
            columns
                .filter(|(_, c)| &*c.title == title)
                .map(move |(column, _)| ColRef { block, column })
        });
    found.next()
}

fn shortened(lines: &[String]) -> String {
    let mut text = String::new();
    for line in lines {
        if text.len() + line.len() > LONGEST {
            text.push_str("and more steps");
            break;
        }
        text.push_str(line);
        text.push('\n');
    }
    text.trim_end().to_owned()
}
