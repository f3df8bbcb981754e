//! The `Cut list` sheet: which pieces come out of which sticks, like sticks together.

use super::super::formats::{Digits, Style};
use super::super::layout::CUT_LIST;
use super::page::Page;
use super::{Book, WriteError, sheets_page};
use crate::buying::{CutList, Stick};
use crate::units::Decimal;

/// Writes one table for each material.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    for (column, width) in (0_u16..).zip([8, 14, 60, 14, 36]) {
        page.widen(column, width)?;
    }
    let mut row = book.figures.layout.own(CUT_LIST).map_or(3, |p| p.free);
    for list in &book.estimate.bought.cut_lists {
        row = material(book, page, row, list)?;
        row += 2;
    }
    for list in &book.estimate.bought.sheet_lists {
        row = sheets_page::material(book, page, row, list)?;
        row += 2;
    }
    Ok(())
}

fn material(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    list: &CutList,
) -> Result<u32, WriteError> {
    let job = &book.estimate.job;
    let currency = job.settings.currency.value;
    page.words(row, 0, job.material_name(list.material), Style::Heading)?;
    let heads = [
        "Sticks",
        "Length",
        "Cut each into",
        "Left over",
        "Bought as",
    ];
    for (column, head) in (0_u16..).zip(heads) {
        let style = if column == 0 {
            Style::HeadNumber
        } else {
            Style::Head
        };
        page.words(row + 1, column, head, style)?;
    }
    let mut row = row + 2;
    for stick in &list.sticks {
        write_stick(book, page, row, stick)?;
        row += 1;
    }
    let culls = match list.culls {
        0 => String::new(),
        1 => "; one whole extra stick for culls is bought besides".to_owned(),
        n => format!("; {n} whole extra sticks for culls are bought besides"),
    };
    let words = format!(
        "Sticks cost {}; no way of cutting can cost less than {}{culls}.",
        currency.show(list.cost),
        currency.show(list.lower_bound),
    );
    page.words(row, 0, &words, Style::Beside)?;
    Ok(row + 1)
}

fn write_stick(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    stick: &Stick,
) -> Result<(), WriteError> {
    let job = &book.estimate.job;
    let system = job.settings.units.value;
    let pieces: Vec<String> = stick
        .pieces
        .iter()
        .map(|(length, mark, count)| format!("{count} x {} ({mark})", system.length(*length)))
        .collect();
    let offer = stick.offer.and_then(|id| job.offers.get(id.index()));
    let bought = offer.map_or_else(String::new, |offer| {
        let supplier = job.suppliers.get(offer.supplier.index());
        let supplier = supplier.map_or("", |s| &s.name);
        format!("{}, {supplier}", offer.pack)
    });
    let count = Decimal::from(stick.count);
    page.figure((row, 0), count, Style::Plain, Digits::Fixed(0))?;
    page.words(row, 1, &system.length(stick.length), Style::Words)?;
    page.words(row, 2, &pieces.join(" + "), Style::Wrapped)?;
    page.words(row, 3, &system.length(stick.offcut), Style::Words)?;
    page.words(row, 4, &bought, Style::Wrapped)
}
