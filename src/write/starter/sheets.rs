//! A sheet of a starter: titles with notes, the example, room for more, and drop-downs that warn and
//! never forbid.

use rust_xlsxwriter::{DataValidation, DataValidationErrorStyle, Formula, Workbook};

use super::super::formats::{Digits, Formats, Style};
use super::super::sheet_style::{Shape, Stationery};
use super::super::xlsx::page::Page;
use super::super::xlsx::{WriteError, echo};
use super::content::{Column, Table, typed};
use super::lists::{TYPED_ROWS, defined};
use super::notes::{self, Choices, ColumnNote, Holds};
use crate::model::sheet::Sheet;
use crate::model::source::Cell;

/// Marked rows at the least.
const ROOM: usize = 20;
/// Marked rows below the example at the least.
const MORE: usize = 8;

/// Writes one sheet.
pub(super) fn write(
    workbook: &mut Workbook,
    formats: &Formats,
    stationery: &Stationery,
    table: &Table,
) -> Result<(), WriteError> {
    let sheet = workbook.add_worksheet();
    sheet.set_name(table.sheet.title())?;
    let mut page = Page::new(sheet, formats);
    for (column, index) in table.columns.iter().zip(0_u16..) {
        head(&mut page, table, column, index)?;
    }
    let rows = match table.sheet {
        Sheet::Job => table.rows.len(),
        _ => table.rows.len().saturating_add(MORE).max(ROOM),
    };
    for (index, row) in (0..rows).zip(1_u32..) {
        let example = table.rows.get(index);
        for (place, column) in table.columns.iter().enumerate() {
            let text = example.and_then(|row| row.get(place));
            let text = text.map_or("", String::as_str);
            let position = u16::try_from(place).unwrap_or(u16::MAX);
            body(&mut page, table, column, (row, position), text)?;
        }
    }
    offer(&mut page, table)?;
    let shape = Shape {
        width: page.width(u16::MAX),
        area: None,
        is_hidden: false,
        head: Some(0),
        held: 1,
        ..Shape::default()
    };
    stationery.dress(page.sheet, &shape)?;
    Ok(())
}

/// A title, with its note.
fn head(page: &mut Page<'_>, table: &Table, column: &Column, index: u16) -> Result<(), WriteError> {
    let place = usize::from(index);
    let texts = table.rows.iter().filter_map(|row| row.get(place));
    let longest = texts.map(|t| t.chars().count()).max().unwrap_or(0);
    // A title may break between its words; what stands below it may not.
    let words = column.title.split(' ').map(|w| w.chars().count());
    let least = words.max().unwrap_or(0).max(9);
    page.widen(index, longest.max(least))?;
    let is_number = column.note.is_some_and(|n| is_number(n.holds));
    let style = if is_number {
        Style::HeadNumber
    } else {
        Style::Head
    };
    page.words(0, index, &column.title, style)?;
    match column.note {
        Some(note) => page.note(0, index, &note.words),
        None => Ok(()),
    }
}

fn is_number(holds: Holds) -> bool {
    !matches!(holds, Holds::Words | Holds::Any)
}

/// A cell of the example, or an empty one to type in.
fn body(
    page: &mut Page<'_>,
    table: &Table,
    column: &Column,
    at: (u32, u16),
    text: &str,
) -> Result<(), WriteError> {
    let holds = column.note.map_or(Holds::Words, |n| n.holds);
    // Settings are named by the program and answered by the user.
    if table.sheet == Sheet::Job && column.title != "Value" {
        let style = match at.1 {
            0 => Style::Bold,
            _ => Style::Wrapped,
        };
        return page.words(at.0, at.1, text, style);
    }
    let cell = match (table.sheet, setting(table, at.0)) {
        (Sheet::Job, Some("Job name")) => Cell::Text(text.into()),
        _ => typed(text, holds),
    };
    let style = if matches!(cell, Cell::Text(_)) || !is_number(holds) {
        Style::MarkedWords
    } else {
        Style::Marked
    };
    let look = page.formats.get(style, digits(holds, &cell));
    match &cell {
        Cell::Text(text) => page.text(at.0, at.1, text, Some(&look)),
        Cell::Number { value, .. } => page.number(at.0, at.1, *value, Some(&look)),
        Cell::Date(date) => match echo::day(*date) {
            Some(day) => {
                let sheet = &mut *page.sheet;
                sheet.write_datetime_with_format(at.0, at.1, &day, &look)?;
                Ok(())
            }
            None => page.text(at.0, at.1, &date.to_string(), Some(&look)),
        },
        Cell::Empty | Cell::Bool(_) => {
            page.sheet.write_blank(at.0, at.1, &look)?;
            Ok(())
        }
    }
}

/// How the cell shows what is typed into it later, too.
fn digits(holds: Holds, cell: &Cell) -> Digits {
    match (holds, cell) {
        (Holds::Money, _) => Digits::Between(2, 4),
        (Holds::Percent, _) | (_, Cell::Number { percent: true, .. }) => Digits::Percent(2),
        (Holds::Date, _) => Digits::Date,
        _ => Digits::Any,
    }
}

/// The setting that stands in a row of the sheet Job.
fn setting(table: &Table, row: u32) -> Option<&str> {
    let index = usize::try_from(row.checked_sub(1)?).ok()?;
    let first = table.rows.get(index)?.first()?;
    Some(first)
}

/// The drop-downs.
fn offer(page: &mut Page<'_>, table: &Table) -> Result<(), WriteError> {
    if table.sheet == Sheet::Job {
        let value = table.column("Value").unwrap_or(1);
        for row in (1_u32..).take(table.rows.len()) {
            let note = setting(table, row).and_then(|s| notes::of(Sheet::Job, s));
            drop_down(page, note, value, (row, row))?;
        }
        return Ok(());
    }
    for (place, column) in table.columns.iter().enumerate() {
        drop_down(page, column.note, place, (1, TYPED_ROWS))?;
    }
    Ok(())
}

/// A drop-down in some rows of a column.
fn drop_down(
    page: &mut Page<'_>,
    note: Option<&ColumnNote>,
    place: usize,
    rows: (u32, u32),
) -> Result<(), WriteError> {
    let rule = DataValidation::new();
    let rule = match note.map(|n| &n.choices) {
        Some(Choices::Words(words)) => rule.allow_list_strings(words)?,
        Some(Choices::List(list)) => rule.allow_list_formula(Formula::new(defined(list))),
        Some(Choices::None) | None => return Ok(()),
    };
    let rule = rule
        // Where empty cells are ignored, some programs never warn.
        .ignore_blank(false)
        .set_error_style(DataValidationErrorStyle::Warning)
        .set_error_title("Not on the list")?
        .set_error_message(
            "This is not on the list. Keep it if you mean it, and add a new name to its own sheet.",
        )?;
    let column = u16::try_from(place).unwrap_or(u16::MAX);
    page.sheet
        .add_data_validation(rows.0, column, rows.1, column, &rule)?;
    Ok(())
}
