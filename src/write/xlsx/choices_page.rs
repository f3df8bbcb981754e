//! The hidden sheet of what was chosen, by names, so that a job read back can keep it.

use super::super::formats::Style;
use super::super::layout::CHOICES;
use super::page::Page;
use super::{Book, WriteError};
use crate::buying::choices;
use crate::model::choices::COLUMNS;

/// Writes the table.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    let row = book.figures.layout.own(CHOICES).map_or(3, |p| p.free);
    for (column, head) in (0_u16..).zip(COLUMNS) {
        page.widen(column, 16)?;
        page.words(row, column, head, Style::Head)?;
    }
    let choices = choices(&book.estimate.job, &book.estimate.bought);
    for (row, choice) in (row + 1..).zip(&choices) {
        for (column, text) in (0_u16..).zip(choice.row()) {
            // Text even where it looks like a number: it is found again as it stands.
            if !text.is_empty() {
                page.text(row, column, &text, None)?;
            }
        }
    }
    Ok(())
}
