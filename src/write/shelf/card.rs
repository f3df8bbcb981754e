//! One row of the library in full, on the terminal.

use super::rows::{ShelfFigure, ShelfRow};
use crate::model::library::TYPICAL;
use crate::write::columns::{pad, wrap};
use crate::write::paint::Paint;

/// Characters of a figure's label and of its value with range.
const LABEL: usize = 26;
const VALUE: usize = 26;

/// Everything that there is to say about a row, each line ended.
pub(super) fn card(row: &ShelfRow, paint: Paint, width: usize) -> String {
    let mut lines = vec![paint.heading(&row.name)];
    let mut told = |words: String| lines.extend(wrap(&format!("  {words}"), width, "    "));
    if !row.also.is_empty() {
        told(format!("also: {}", row.also.join("; ")));
    }
    if !row.kind.is_empty() {
        told(format!("kind: {}", row.kind));
    }
    if !row.words.is_empty() {
        told(format!("says: {}", row.words));
    }
    for figure in &row.figures {
        lines.extend(figure_lines(figure, width));
    }
    lines.extend(backing(row, width));
    let mut text = lines.join("\n");
    text.push('\n');
    text
}

/// `  Wet-down loss   15% (10 to 20)   Materials: Wet-down %`
fn figure_lines(figure: &ShelfFigure, width: usize) -> Vec<String> {
    let value = match (figure.with_unit(), figure.range_words()) {
        (value, range) if range.is_empty() => value,
        (value, range) => format!("{value} ({range})"),
    };
    let value = if value.is_empty() {
        "no number".to_owned()
    } else {
        value
    };
    let value = pad(&value, VALUE.max(value.chars().count()));
    let start = format!("  {} {value} ", pad(figure.label, LABEL));
    let indent = " ".repeat(LABEL + VALUE + 4);
    let room = width.saturating_sub(indent.len());
    let mut yours = wrap(&figure.yours, room, "").into_iter();
    let first = format!("{start}{}", yours.next().unwrap_or_default());
    let rest = yours.map(|line| format!("{indent}{line}"));
    std::iter::once(first.trim_end().to_owned())
        .chain(rest)
        .collect()
}

/// Where the figures are from: those that were seen in a source, then the others.
fn backing(row: &ShelfRow, width: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for figure in row.figures.iter().filter(|f| f.is_seen) {
        let words = format!(
            "  {}: {} ({}, seen there)",
            figure.label, figure.basis, figure.confidence
        );
        lines.extend(wrap(&words, width, "    "));
    }
    if let Some(other) = row.figures.iter().find(|f| !f.is_seen) {
        let all = row.figures.iter().all(|f| !f.is_seen);
        let whole = if all { "" } else { "the rest is " };
        let sure = &other.confidence;
        let words = format!("  {whole}{TYPICAL} ({sure}, not looked up)");
        lines.extend(wrap(&words, width, "    "));
    }
    lines
}
