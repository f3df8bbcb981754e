//! Sheets on the `Cut list`: which strips are ripped from which sheets, and what is cut from the strips.

use super::super::formats::{Digits, Style};
use super::page::Page;
use super::{Book, WriteError};
use crate::buying::{SheetCut, SheetList, StripList};
use crate::model::offer::OfferId;
use crate::units::Decimal;

/// Writes the tables of one material; returns the first free row.
pub(super) fn material(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    list: &SheetList,
) -> Result<u32, WriteError> {
    let job = &book.estimate.job;
    page.words(row, 0, job.material_name(list.material), Style::Heading)?;
    let heads = ["Sheets", "Size", "Rip each into", "Left over", "Bought as"];
    let mut row = head(page, row + 1, &heads)?;
    for sheet in &list.sheets {
        write_sheet(book, page, row, sheet)?;
        row += 1;
    }
    for strips in &list.strips {
        row = write_strips(book, page, row + 1, strips)?;
    }
    page.words(row, 0, &closing(book, list), Style::Beside)?;
    Ok(row + 1)
}

fn closing(book: &Book<'_>, list: &SheetList) -> String {
    let currency = book.estimate.job.settings.currency.value;
    let cost = currency.show(list.cost);
    if list.is_proven {
        return format!(
            "Sheets cost {cost}, proven least for sheets ripped first and then cut to length."
        );
    }
    format!(
        "Sheets cost {cost}, the best found; no way of cutting can cost less than {}.",
        currency.show(list.lower_bound)
    )
}

fn head(page: &mut Page<'_>, row: u32, heads: &[&str]) -> Result<u32, WriteError> {
    for (column, head) in (0_u16..).zip(heads) {
        let style = if column == 0 {
            Style::HeadNumber
        } else {
            Style::Head
        };
        page.words(row, column, head, style)?;
    }
    Ok(row + 1)
}

fn write_sheet(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    sheet: &SheetCut,
) -> Result<(), WriteError> {
    let system = book.estimate.job.settings.units.value;
    let strips: Vec<String> = sheet
        .strips
        .iter()
        .map(|(width, count)| format!("{count} x {}", system.length(*width)))
        .collect();
    let size = format!(
        "{} x {}",
        system.length(sheet.length),
        system.length(sheet.width)
    );
    let count = Decimal::from(sheet.count);
    page.figure((row, 0), count, Style::Plain, Digits::Fixed(0))?;
    page.words(row, 1, &size, Style::Words)?;
    page.words(row, 2, &strips.join(" + "), Style::Wrapped)?;
    page.words(row, 3, &system.length(sheet.left), Style::Words)?;
    page.words(row, 4, &bought_as(book, sheet.offer), Style::Wrapped)
}

fn write_strips(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    list: &StripList,
) -> Result<u32, WriteError> {
    let system = book.estimate.job.settings.units.value;
    let title = format!("Strips {} wide", system.length(list.width));
    page.words(row, 0, &title, Style::Beside)?;
    let heads = ["Strips", "Length", "Cut each into", "Left over"];
    let mut row = head(page, row + 1, &heads)?;
    for strip in &list.strips {
        let pieces: Vec<String> = strip
            .pieces
            .iter()
            .map(|(length, mark, count)| format!("{count} x {} ({mark})", system.length(*length)))
            .collect();
        let count = Decimal::from(strip.count);
        page.figure((row, 0), count, Style::Plain, Digits::Fixed(0))?;
        page.words(row, 1, &system.length(strip.length), Style::Words)?;
        page.words(row, 2, &pieces.join(" + "), Style::Wrapped)?;
        page.words(row, 3, &system.length(strip.offcut), Style::Words)?;
        row += 1;
    }
    Ok(row)
}

fn bought_as(book: &Book<'_>, offer: Option<OfferId>) -> String {
    let job = &book.estimate.job;
    let offer = offer.and_then(|id| job.offers.get(id.index()));
    offer.map_or_else(String::new, |offer| {
        let supplier = job.suppliers.get(offer.supplier.index());
        let supplier = supplier.map_or("", |s| &s.name);
        format!("{}, {supplier}", offer.pack)
    })
}
