//! One row of the library in full, on the terminal.

use super::rows::{ShelfFigure, ShelfRow};
use super::screen::capital;
use crate::model::library::TYPICAL;
use crate::write::columns::{pad, wrap};
use crate::write::paint::Paint;

/// Everything that there is to say about a row, each line ended.
pub(super) fn card(row: &ShelfRow, paint: Paint, width: usize) -> String {
    let mut lines = vec![paint.heading(&capital(&row.name))];
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
    let label = row.figures.iter().map(|f| f.label.len()).max();
    let value = row.figures.iter().map(|f| value(f).chars().count()).max();
    let widths = (label.unwrap_or(0), value.unwrap_or(0));
    for figure in &row.figures {
        lines.extend(figure_lines(figure, widths, width));
    }
    lines.extend(backing(row, width));
    let mut text = lines.join("\n");
    text.push('\n');
    text
}

/// `15% (10 to 20)`
fn value(figure: &ShelfFigure) -> String {
    match (figure.with_unit(), figure.range_words()) {
        (value, _) if value.is_empty() => "no number".to_owned(),
        (value, range) if range.is_empty() => value,
        (value, range) => format!("{value} ({range})"),
    }
}

/// `  Wet-down loss 15% (10 to 20) Materials: Wet-down %`, over several lines where it has to.
fn figure_lines(figure: &ShelfFigure, widths: (usize, usize), width: usize) -> Vec<String> {
    let (label, amount) = widths;
    let start = format!(
        "  {} {} ",
        pad(figure.label, label),
        pad(&value(figure), amount)
    );
    let indent = " ".repeat(label + amount + 4);
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
