//! A marked copy made anew from the tables as read, for jobs that are no package of XML parts.

use rust_decimal::prelude::ToPrimitive;
use rust_xlsxwriter::{
    Color, ExcelDateTime, Format, FormatAlign, Note, Url, Workbook, Worksheet, XlsxError,
};

use super::entries::Entry;
use super::listing::{COLUMNS, MOST_LISTED, free_name, link, not_listed, words};
use super::sheet::Marks;
use super::styles::FILLS;
use crate::model::sheet::MARKED_NAME;
use crate::model::source::{Cell, SourceTable, Sources};
use crate::problem::Severity;
use std::collections::BTreeMap;

/// Letters that a sheet name may have, and such that it may not hold.
const LONGEST_NAME: usize = 31;
const NOT_IN_NAMES: &[char] = &['[', ']', ':', '*', '?', '/', '\\', '\''];
/// Columns of a file that a sheet can hold.
const MOST_COLUMNS: u32 = 16_384;

/// A workbook with the tables at the places of their cells, marked.
pub(super) fn workbook(
    sources: &Sources,
    entries: &[Entry],
    marks: &BTreeMap<usize, Marks>,
) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    // A fixed day, so that the same job gives the same bytes.
    let day = ExcelDateTime::from_ymd(2020, 1, 1)?;
    book.set_properties(&rust_xlsxwriter::DocProperties::new().set_creation_datetime(&day));
    let names = names(sources);
    let none = Marks::new();
    for ((index, table), name) in sources.tables.iter().enumerate().zip(&names) {
        let marks = marks.get(&index).unwrap_or(&none);
        let sheet = book.add_worksheet().set_name(name)?;
        titles(sheet, table)?;
        cells(sheet, table, entries, (index, marks))?;
        for (at, mark) in marks {
            if let Some(words) = mark.note.as_ref().filter(|_| at.1 < MOST_COLUMNS) {
                let shown = Note::new(words)
                    .add_author_prefix(false)
                    .set_author("loamwright");
                let column = u16::try_from(at.1).unwrap_or(u16::MAX);
                sheet.insert_note(at.0, column, &shown.set_width(300).set_height(120))?;
            }
        }
    }
    let name = free_name(names.iter().map(String::as_str));
    listing(book.add_worksheet().set_name(&name)?, entries, &names)?;
    book.define_name(MARKED_NAME, &format!("='{name}'!$A$1"))?;
    book.save_to_buffer()
}

/// Unlike names that a workbook allows, as near to those of the tables as can be.
fn names(sources: &Sources) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for table in &sources.tables {
        let plain = table.label.replace(NOT_IN_NAMES, " ");
        let plain: String = plain.trim().chars().take(LONGEST_NAME - 4).collect();
        let plain = if plain.is_empty() {
            "Beds".to_owned()
        } else {
            plain
        };
        let numbered = (2_u32..).map(|n| format!("{plain} {n}"));
        let mut tried = std::iter::once(plain.clone()).chain(numbered);
        let is_free = |name: &String| {
            !names
                .iter()
                .any(|n| n.to_lowercase() == name.to_lowercase())
        };
        let free = tried.find(is_free);
        names.push(free.unwrap_or(plain));
    }
    names
}

/// The titles stand in the row above the first one of the table.
fn titles(sheet: &mut Worksheet, table: &SourceTable) -> Result<(), XlsxError> {
    let first = table.rows.first().map_or(1, |row| row.row);
    let bold = Format::new().set_bold();
    let Some(row) = first.checked_sub(1) else {
        return Ok(());
    };
    for column in table.columns.iter().filter(|c| c.index < MOST_COLUMNS) {
        let at = u16::try_from(column.index).unwrap_or(u16::MAX);
        sheet.write_string_with_format(row, at, column.title.as_ref(), &bold)?;
        let width = u32::try_from(column.title.chars().count()).unwrap_or(20);
        sheet.set_column_width(at, width.clamp(10, 30))?;
    }
    Ok(())
}

fn cells(
    sheet: &mut Worksheet,
    table: &SourceTable,
    entries: &[Entry],
    (index, marks): (usize, &Marks),
) -> Result<(), XlsxError> {
    // What could not be read as a value stands in no table, but is quoted.
    let quoted = entries
        .iter()
        .filter_map(|e| Some((e.at.filter(|at| at.table == index)?, &e.holds)));
    let quoted: BTreeMap<(u32, u32), &String> = quoted
        .map(|(at, holds)| ((at.row, at.column), holds))
        .collect();
    let mut marked = marks.clone();
    for row in &table.rows {
        for (column, cell) in table
            .columns
            .iter()
            .zip(&row.cells)
            .filter(|(c, _)| c.index < MOST_COLUMNS)
        {
            let at = (row.row, column.index);
            let look = marked
                .remove(&at)
                .map_or_else(Format::new, |mark| filled(mark.severity));
            let spoilt = quoted.get(&at).filter(|_| cell.is_empty());
            match spoilt {
                Some(text) => put_text(sheet, at, text, &look)?,
                None => put(sheet, at, cell, look)?,
            }
        }
    }
    for (at, mark) in marked.into_iter().filter(|(at, _)| at.1 < MOST_COLUMNS) {
        let look = filled(mark.severity);
        let title = table
            .columns
            .iter()
            .find(|c| c.index == at.1)
            .map_or("", |c| &c.title);
        let is_title = table
            .rows
            .first()
            .is_some_and(|row| row.row.checked_sub(1) == Some(at.0));
        put_text(sheet, at, if is_title { title } else { "" }, &look)?;
    }
    Ok(())
}

fn filled(severity: Severity) -> Format {
    let rgb = FILLS
        .iter()
        .find(|(s, _)| *s == severity)
        .map_or("FFFFFF", |(_, rgb)| rgb);
    Format::new().set_background_color(Color::RGB(
        u32::from_str_radix(rgb, 16).unwrap_or(0xff_ff_ff),
    ))
}

fn put(sheet: &mut Worksheet, at: (u32, u32), cell: &Cell, look: Format) -> Result<(), XlsxError> {
    let (row, column) = (at.0, u16::try_from(at.1).unwrap_or(u16::MAX));
    match cell {
        Cell::Number { value, percent } => {
            let look = if *percent {
                look.set_num_format("0.##%")
            } else {
                look
            };
            sheet.write_number_with_format(row, column, value.to_f64().unwrap_or(0.0), &look)?;
        }
        Cell::Date(date) => {
            let day = ExcelDateTime::parse_from_str(&date.to_string());
            match day {
                Ok(day) => {
                    let look = look.set_num_format("yyyy-mm-dd");
                    sheet.write_datetime_with_format(row, column, &day, &look)?;
                }
                Err(_) => put_text(sheet, at, &cell.text(), &look)?,
            }
        }
        Cell::Bool(yes) => {
            sheet.write_boolean_with_format(row, column, *yes, &look)?;
        }
        Cell::Empty | Cell::Text(_) => put_text(sheet, at, &cell.text(), &look)?,
    }
    Ok(())
}

fn put_text(
    sheet: &mut Worksheet,
    at: (u32, u32),
    text: &str,
    look: &Format,
) -> Result<(), XlsxError> {
    let (row, column) = (at.0, u16::try_from(at.1).unwrap_or(u16::MAX));
    if text.is_empty() {
        sheet.write_blank(row, column, look)?;
    } else {
        sheet.write_string_with_format(row, column, text, look)?;
    }
    Ok(())
}

fn listing(sheet: &mut Worksheet, entries: &[Entry], names: &[String]) -> Result<(), XlsxError> {
    let (bold, plain) = (
        Format::new().set_bold(),
        Format::new().set_text_wrap().set_align(FormatAlign::Top),
    );
    for (column, (title, width)) in (0..).zip(COLUMNS) {
        sheet.write_string_with_format(0, column, title, &bold)?;
        sheet.set_column_width(column, width)?;
    }
    let mut row = 1;
    for entry in entries.iter().take(MOST_LISTED) {
        for (column, word) in (0..).zip(words(entry)) {
            let look = if column == 0 {
                filled(entry.severity)
            } else {
                plain.clone()
            };
            put_text(sheet, (row, column), &word, &look)?;
        }
        let name = entry.at.and_then(|at| Some((at, names.get(at.table)?)));
        if let Some((at, name)) = name {
            let url = Url::new(format!("internal:{}", link(name, at.row, at.column)));
            sheet.write_url_with_text(row, 1, url, entry.place.as_str())?;
        }
        row += 1;
    }
    if let Some(more) = not_listed(entries) {
        sheet.write_string(row, 1, more)?;
    }
    sheet.set_freeze_panes(1, 0)?;
    Ok(())
}
