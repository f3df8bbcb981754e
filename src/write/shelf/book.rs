//! Tables of the library as a workbook, a sheet each.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, Worksheet};

use super::grid::{Grid, GridCell};
use super::screen::capital;
use crate::write::formats::{Digits, Formats, Style};
use crate::write::xlsx::WriteError;
use crate::write::xlsx::page::Page;

/// The row of the titles, from 0: the table's name and what it is for stand above it.
const HEAD: u32 = 3;
/// Characters from which words in a cell wrap.
const WRAPS: u16 = 24;

/// The workbook as bytes; `date` is the day that stands in its properties.
///
/// # Errors
/// [`WriteError`] when a sheet cannot be written.
pub fn workbook(grids: &[Grid], date: Date) -> Result<Vec<u8>, WriteError> {
    let formats = Formats::new(2);
    let mut workbook = Workbook::new();
    workbook.set_properties(&properties(date)?);
    for grid in grids {
        let sheet = workbook.add_worksheet();
        sheet.set_name(capital(&grid.title))?;
        dress(sheet)?;
        fill(&mut Page::new(sheet, &formats), grid)?;
    }
    Ok(workbook.save_to_buffer()?)
}

fn properties(date: Date) -> Result<DocProperties, WriteError> {
    let year = u16::try_from(date.year()).unwrap_or(1900);
    let month = u8::try_from(date.month()).unwrap_or(1);
    let day = u8::try_from(date.day()).unwrap_or(1);
    let created = ExcelDateTime::from_ymd(year, month, day)
        .or_else(|_| ExcelDateTime::from_ymd(1900, 1, 1))?;
    Ok(DocProperties::new()
        .set_title("Trade library")
        .set_creation_datetime(&created))
}

fn dress(sheet: &mut Worksheet) -> Result<(), WriteError> {
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
    sheet.set_margins(0.5, 0.5, 0.75, 0.7, 0.3, 0.3);
    sheet.set_footer("&LTrade library&C&A&RPage &P of &N");
    sheet.set_freeze_panes(HEAD + 1, 1)?;
    sheet.set_repeat_rows(HEAD, HEAD)?;
    Ok(())
}

fn fill(page: &mut Page<'_>, grid: &Grid) -> Result<(), WriteError> {
    page.words(0, 0, &capital(&grid.title), Style::Title)?;
    page.words(1, 0, &capital(&grid.about), Style::Quiet)?;
    for (column, (title, width)) in (0_u16..).zip(&grid.heads) {
        page.widen(column, usize::from(*width))?;
        let index = usize::from(column);
        let is_number = grid
            .rows
            .iter()
            .filter_map(|row| row.get(index))
            .any(|cell| !matches!(cell, GridCell::Text(_)));
        let style = if is_number {
            Style::HeadNumber
        } else {
            Style::Head
        };
        page.words(HEAD, column, title, style)?;
    }
    for (row, cells) in (HEAD + 1..).zip(&grid.rows) {
        for ((column, cell), (_, width)) in (0_u16..).zip(cells).zip(&grid.heads) {
            write(page, (row, column), cell, *width >= WRAPS)?;
        }
    }
    Ok(())
}

fn write(
    page: &mut Page<'_>,
    (row, column): (u32, u16),
    cell: &GridCell,
    wraps: bool,
) -> Result<(), WriteError> {
    match cell {
        GridCell::Text(text) if text.is_empty() => Ok(()),
        GridCell::Text(text) => {
            let style = if wraps { Style::Wrapped } else { Style::Words };
            page.words(row, column, text, style)
        }
        GridCell::Number(number) => page.figure((row, column), *number, Style::Plain, Digits::Any),
        GridCell::Percent(share) => {
            let fraction = share.checked_div(Decimal::ONE_HUNDRED).unwrap_or_default();
            let digits = u8::try_from(share.normalize().scale()).unwrap_or(0);
            page.figure(
                (row, column),
                fraction,
                Style::Plain,
                Digits::Percent(digits),
            )
        }
    }
}
