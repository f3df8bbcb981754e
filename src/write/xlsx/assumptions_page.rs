//! The `Assumptions` sheet: every figure that the job did not give, and what stands behind it.

use super::super::formats::Style;
use super::super::layout::ASSUMPTIONS;
use super::page::Page;
use super::{Book, WriteError};

/// Writes the table; returns the row of its header.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<u32, WriteError> {
    let row = book.figures.layout.own(ASSUMPTIONS).map_or(3, |p| p.free);
    let heads = [
        ("What", 44),
        ("Taken as", 20),
        ("Where from", 50),
        ("How sure", 16),
        ("Used for", 36),
    ];
    for (column, (head, width)) in (0_u16..).zip(heads) {
        page.widen(column, width)?;
        page.words(row, column, head, Style::Head)?;
    }
    for (row, assumption) in (row + 1..).zip(&book.estimate.assumptions) {
        let texts = [
            &assumption.what,
            &assumption.value,
            &assumption.basis,
            &assumption.confidence,
            &assumption.used_for,
        ];
        for (column, text) in (0_u16..).zip(texts) {
            page.words(row, column, text, Style::Wrapped)?;
        }
    }
    if book.estimate.assumptions.is_empty() {
        page.words(
            row + 1,
            0,
            "None: the job gives every figure.",
            Style::Plain,
        )?;
    }
    Ok(row)
}
