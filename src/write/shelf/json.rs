//! The library and what a job uses of it, as JSON. Decimals are text, as in the estimate.

use rust_decimal::Decimal;
use serde::Serialize;

use super::rows::{ShelfFigure, ShelfRow, ShelfTable};
use super::used::UsedFigure;

#[derive(Serialize)]
struct TableJson<'a> {
    table: &'a str,
    about: &'a str,
    rows: Vec<RowJson<'a>>,
}

#[derive(Serialize)]
struct RowJson<'a> {
    key: &'a str,
    name: &'a str,
    kind: &'a str,
    also: Vec<&'a str>,
    words: &'a str,
    figures: Vec<FigureJson<'a>>,
}

#[derive(Serialize)]
struct FigureJson<'a> {
    column: &'a str,
    what: &'a str,
    value: Option<String>,
    least: Option<String>,
    most: Option<String>,
    unit: &'a str,
    basis: &'a str,
    confidence: &'a str,
    seen_in_source: bool,
    overridden_in: &'a str,
}

#[derive(Serialize)]
struct UsedJson<'a> {
    what: &'a str,
    taken_as: &'a str,
    overridden_by: Option<&'a str>,
    in_library: &'a str,
    library_row: &'a str,
    overridden_in: &'a str,
    basis: &'a str,
    confidence: &'a str,
    used_for: &'a str,
}

/// Tables of the library as a JSON list.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn shelf_json(tables: &[ShelfTable]) -> Result<String, serde_json::Error> {
    let list: Vec<TableJson> = tables.iter().map(table).collect();
    pretty(&list)
}

/// What a job uses as a JSON list.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn used_json(figures: &[UsedFigure]) -> Result<String, serde_json::Error> {
    let list: Vec<UsedJson> = figures.iter().map(used).collect();
    pretty(&list)
}

fn pretty(list: &impl Serialize) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(list)?;
    text.push('\n');
    Ok(text)
}

fn table(table: &ShelfTable) -> TableJson<'_> {
    TableJson {
        table: table.name,
        about: table.about,
        rows: table.rows.iter().map(row).collect(),
    }
}

fn row(row: &ShelfRow) -> RowJson<'_> {
    RowJson {
        key: &row.key,
        name: &row.name,
        kind: &row.kind,
        also: row.also.iter().map(|name| &**name).collect(),
        words: &row.words,
        figures: row.figures.iter().map(figure).collect(),
    }
}

fn figure(figure: &ShelfFigure) -> FigureJson<'_> {
    let plain = |number: Decimal| number.normalize().to_string();
    FigureJson {
        column: figure.column,
        what: figure.label,
        value: figure.value.map(plain),
        least: figure.range.map(|(least, _)| plain(least)),
        most: figure.range.map(|(_, most)| plain(most)),
        unit: &figure.unit,
        basis: &figure.basis,
        confidence: &figure.confidence,
        seen_in_source: figure.is_seen,
        overridden_in: &figure.yours,
    }
}

fn used(figure: &UsedFigure) -> UsedJson<'_> {
    UsedJson {
        what: &figure.what,
        taken_as: &figure.taken_as,
        overridden_by: figure.overridden_by.as_deref(),
        in_library: &figure.in_library,
        library_row: &figure.row,
        overridden_in: &figure.yours,
        basis: &figure.basis,
        confidence: &figure.confidence,
        used_for: &figure.used_for,
    }
}
