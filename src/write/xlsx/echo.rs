//! Input tables that no block stands for, as they were read: they read back as the same input.

use std::fmt::Write as _;

use jiff::civil::Date;
use rust_xlsxwriter::ExcelDateTime;

use super::super::formats::{Digits, Style};
use super::WriteError;
use super::page::Page;
use crate::model::source::{Cell, SourceTable};

/// Writes titles as typed in the first row, and the rows below without the blank ones between.
pub(crate) fn table(page: &mut Page<'_>, table: &SourceTable) -> Result<(), WriteError> {
    for (index, column) in table.columns.iter().enumerate() {
        let position = u16::try_from(index).unwrap_or(u16::MAX);
        page.widen(position, column.title.chars().count())?;
        page.words(0, position, &column.title, Style::Head)?;
    }
    for (index, source) in table.rows.iter().enumerate() {
        let row = u32::try_from(index).unwrap_or(u32::MAX).saturating_add(1);
        for (index, held) in source.cells.iter().enumerate() {
            let position = u16::try_from(index).unwrap_or(u16::MAX);
            page.widen(position, held.text().chars().count())?;
            cell(page, row, position, held)?;
        }
    }
    Ok(())
}

/// Writes a cell as it was read: numbers as numbers, dates as dates.
pub(crate) fn cell(
    page: &mut Page<'_>,
    row: u32,
    column: u16,
    cell: &Cell,
) -> Result<(), WriteError> {
    match cell {
        Cell::Empty => Ok(()),
        Cell::Text(text) => page.words(row, column, text, Style::Words),
        Cell::Number { value, percent } => {
            let places = value.normalize().scale().saturating_sub(2).min(4);
            let digits = match (percent, u8::try_from(places)) {
                (true, Ok(places)) => Digits::Percent(places),
                _ => Digits::Any,
            };
            page.figure((row, column), *value, Style::Plain, digits)
        }
        Cell::Bool(value) => {
            page.sheet.write_boolean(row, column, *value)?;
            Ok(())
        }
        Cell::Date(date) => {
            let Some(date_time) = day(*date) else {
                // Spreadsheets have no days before 1900; the text reads back as the same date.
                let mut text = String::new();
                let _ = write!(text, "{date}");
                return page.words(row, column, &text, Style::Plain);
            };
            let look = page.formats.get(Style::Plain, Digits::Date);
            page.sheet
                .write_datetime_with_format(row, column, &date_time, &look)?;
            Ok(())
        }
    }
}

/// A day as workbooks keep it; they have none before 1900.
pub(crate) fn day(date: Date) -> Option<ExcelDateTime> {
    let parts = (
        u16::try_from(date.year()),
        u8::try_from(date.month()),
        u8::try_from(date.day()),
    );
    match parts {
        (Ok(year), Ok(month), Ok(day)) => ExcelDateTime::from_ymd(year, month, day).ok(),
        _ => None,
    }
}
