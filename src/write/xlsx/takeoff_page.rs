//! The `Take-off` sheet: what one bed of each kind needs, layer by layer, before packs.

use super::super::formats::{Digits, Style};
use super::super::layout::{MOST_ROWS, TAKE_OFF};
use super::page::Page;
use super::{Book, WriteError, words};
use crate::takeoff::{KindId, LayerTakeOff, Need, TakeOff};
use crate::units::{Amount, Decimal, Dimension};

/// Headers of the needs; the sign says whether numbers stand below.
const NEEDS: [(&str, bool); 9] = [
    ("Kind of bed", false),
    ("Beds", true),
    ("Size", false),
    ("What for", false),
    ("Material", false),
    ("In one bed", true),
    ("To order for one bed", true),
    ("Unit", false),
    ("To order for all", true),
];
/// Headers of the layers; volumes carry their unit.
const LAYERS: [(&str, bool); 9] = [
    ("Kind of bed", false),
    ("Beds", true),
    ("Layer from the bottom", false),
    ("Material", false),
    ("Depth", false),
    ("In place", true),
    ("Runs into voids below", true),
    ("To order", true),
    ("First season takes", true),
];

/// A kind of bed with its take-off.
struct Kind<'a> {
    names: String,
    count: Decimal,
    takeoff: &'a TakeOff,
}

/// Writes both tables below the sheet's blocks, rows in order: the sheet streams.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    let widths = [30, 7, 46, 32, 28, 14, 14, 12, 14];
    for (column, width) in (0_u16..).zip(widths) {
        page.widen(column, width)?;
    }
    let free = book.figures.layout.own(TAKE_OFF).map_or(3, |p| p.free);
    let kinds = kinds(book);
    let lines: usize = kinds.iter().map(|k| k.takeoff.needs.len()).sum();
    let row = head(page, free, "What the beds need", NEEDS, "")?;
    let room = room_for(lines, &kinds, row);
    let needs = kinds
        .iter()
        .flat_map(|k| k.takeoff.needs.iter().map(move |need| (k, need)));
    let mut row = row;
    for (kind, need) in needs.take(room) {
        write_need(book, page, row, kind, need)?;
        row += 1;
    }
    row = said_when_cut(page, row, lines.saturating_sub(room))?;
    let system = book.estimate.job.settings.units.value;
    let unit = system.unit(Dimension::Volume);
    let row = head(page, row + 2, "Layers of fill in one bed", LAYERS, unit)?;
    let layers = kinds.iter().flat_map(|k| {
        let layers = k.takeoff.layers.iter().enumerate();
        layers.map(move |(index, layer)| (k, index, layer))
    });
    let total: usize = kinds.iter().map(|k| k.takeoff.layers.len()).sum();
    let room = rows_left(row);
    let mut row = row;
    for (kind, index, layer) in layers.take(room) {
        write_layer(book, page, row, (kind, index), layer)?;
        row += 1;
    }
    said_when_cut(page, row, total.saturating_sub(room))?;
    Ok(())
}

fn kinds<'a>(book: &'a Book<'_>) -> Vec<Kind<'a>> {
    let estimate = book.estimate;
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    pairs
        .enumerate()
        .map(|(index, (kind, takeoff))| Kind {
            names: words::beds_of(estimate, KindId::of(index)),
            count: kind.count,
            takeoff,
        })
        .collect()
}

/// Rows for the needs: all, or what leaves room for as many layers.
fn room_for(lines: usize, kinds: &[Kind<'_>], first: u32) -> usize {
    let layers: usize = kinds.iter().map(|k| k.takeoff.layers.len()).sum();
    let left = rows_left(first);
    if lines.saturating_add(layers).saturating_add(8) <= left {
        lines
    } else {
        lines.min(left / 2)
    }
}

fn rows_left(first: u32) -> usize {
    usize::try_from(MOST_ROWS.saturating_sub(first).saturating_sub(1)).unwrap_or(0)
}

fn said_when_cut(page: &mut Page<'_>, row: u32, left: usize) -> Result<u32, WriteError> {
    if left == 0 {
        return Ok(row);
    }
    let words = format!("The sheet is full: {left} more rows are in the CSV file only.");
    page.words(row, 0, &words, Style::Alert)?;
    Ok(row + 1)
}

fn head(
    page: &mut Page<'_>,
    row: u32,
    heading: &str,
    titles: [(&str, bool); 9],
    unit: &str,
) -> Result<u32, WriteError> {
    page.words(row, 0, heading, Style::Heading)?;
    for (column, (title, numbers)) in (0_u16..).zip(titles) {
        let style = if numbers {
            Style::HeadNumber
        } else {
            Style::Head
        };
        let title = match unit {
            unit if numbers && column > 1 && !unit.is_empty() => format!("{title}, {unit}"),
            _ => title.to_owned(),
        };
        page.words(row + 1, column, &title, style)?;
    }
    Ok(row + 2)
}

fn write_need(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    kind: &Kind<'_>,
    need: &Need,
) -> Result<(), WriteError> {
    let system = book.estimate.job.settings.units.value;
    let material = book.estimate.job.material_name(need.material);
    let what_for = words::part(need.part, &kind.takeoff.layers);
    page.text(row, 0, &kind.names, None)?;
    page.figure((row, 1), kind.count, Style::Plain, Digits::Any)?;
    page.text(row, 2, &kind.takeoff.size, None)?;
    page.text(row, 3, &what_for, None)?;
    page.text(row, 4, material, None)?;
    quantity(page, (row, 5), system.number(need.net))?;
    quantity(page, (row, 6), system.number(need.order))?;
    let unit = match need.order {
        Amount::Count(_) => "each",
        other => system.unit(other.dimension()),
    };
    page.text(row, 7, unit, None)?;
    let all = need.order.times(kind.count);
    quantity(page, (row, 8), system.number(all))
}

fn write_layer(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    (kind, index): (&Kind<'_>, usize),
    layer: &LayerTakeOff,
) -> Result<(), WriteError> {
    let system = book.estimate.job.settings.units.value;
    page.text(row, 0, &kind.names, None)?;
    page.figure((row, 1), kind.count, Style::Plain, Digits::Any)?;
    page.text(row, 2, &format!("layer {}", index + 1), None)?;
    page.text(row, 3, &layer.name, None)?;
    let depth = match layer.sheets {
        0 => system.depth(layer.depth),
        1 => "1 sheet".to_owned(),
        n => format!("{n} sheets"),
    };
    page.text(row, 4, &depth, None)?;
    let volumes = [layer.volume, layer.infill, layer.order, layer.season_loss];
    for (column, volume) in (5_u16..).zip(volumes) {
        let number = system.number(Amount::Volume(volume));
        quantity(page, (row, column), number)?;
    }
    Ok(())
}

/// A quantity before packs, to three decimals: the sheet shows them, formulas do not read them.
fn quantity(page: &mut Page<'_>, at: (u32, u16), number: Decimal) -> Result<(), WriteError> {
    let tidy = crate::units::round::tidy15(number);
    page.figure(at, tidy, Style::Plain, Digits::Fixed(3))
}
