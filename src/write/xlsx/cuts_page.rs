//! The `Cut list` sheet: which pieces come out of which sticks, like sticks together.

use std::collections::BTreeMap;

use super::super::formats::{Digits, Style};
use super::super::layout::CUT_LIST;
use super::bar::Key;
use super::page::Page;
use super::{Book, WriteError, sheets_page};
use crate::buying::{CutList, Stick};
use crate::units::{Decimal, Length};

/// Characters beside each other in what is said below a table.
const ACROSS: usize = 150;
const HEADS: [&str; 6] = [
    "Sticks",
    "Length",
    "Stick as cut",
    "Pieces of one",
    "Left over",
    "Bought as",
];

/// Writes one table for each material.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    for (column, width) in (0_u16..).zip([8, 14, 52, 48, 14, 30]) {
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
    let key = Key::of(list);
    page.words(row, 0, job.material_name(list.material), Style::Heading)?;
    for (column, head) in (0_u16..).zip(HEADS) {
        let style = if column == 0 {
            Style::HeadNumber
        } else {
            Style::Head
        };
        page.words(row + 1, column, head, style)?;
    }
    let mut row = row + 2;
    for stick in &list.sticks {
        write_stick(book, page, row, (stick, &key))?;
        row += 1;
    }
    let below = [verdict(book, list), kept(book, list)];
    let below = below.into_iter().filter(|words| !words.is_empty());
    for words in below.chain(legend(book, &key)) {
        page.words(row, 0, &words, Style::Beside)?;
        row += 1;
    }
    Ok(row)
}

/// What the sticks cost, and how far that is from the least.
fn verdict(book: &Book<'_>, list: &CutList) -> String {
    let currency = book.estimate.job.settings.currency.value;
    let culls = match list.culls {
        0 => String::new(),
        1 => " One whole extra stick for culls is bought besides.".to_owned(),
        n => format!(" {n} whole extra sticks for culls are bought besides."),
    };
    let cost = currency.show(list.cost);
    if list.proven {
        return format!("Sticks cost {cost}: proven least, no way of cutting costs less.{culls}");
    }
    let gap = currency.show(list.cost - list.lower_bound);
    let bound = currency.show(list.lower_bound);
    format!(
        "Sticks cost {cost}; no way of cutting can cost less than {bound}, so at most {gap} could be saved.{culls}"
    )
}

/// Offcuts that are long enough to be used again, longest first.
fn kept(book: &Book<'_>, list: &CutList) -> String {
    let system = book.estimate.job.settings.units.value;
    let mut sums: BTreeMap<Length, u64> = BTreeMap::new();
    let least = book.estimate.job.settings.least_offcut.value;
    for stick in list
        .sticks
        .iter()
        .filter(|s| s.offcut >= least && !s.offcut.is_zero())
    {
        *sums.entry(stick.offcut).or_default() += u64::from(stick.count);
    }
    let words: Vec<String> = sums
        .iter()
        .rev()
        .map(|(length, count)| format!("{count} x {}", system.length(*length)))
        .collect();
    if words.is_empty() {
        return String::new();
    }
    let least = system.length(least);
    format!(
        "Offcuts to keep ({least} and longer): {}.",
        words.join(", ")
    )
}

/// What the letters stand for, in lines no wider than the table above.
fn legend(book: &Book<'_>, key: &Key) -> Vec<String> {
    let system = book.estimate.job.settings.units.value;
    let mut words: Vec<String> = key
        .lines()
        .map(|(name, length, mark, count)| {
            format!("{name} = {} {mark} ({count})", system.length(length))
        })
        .collect();
    if let Some(last) = words.last_mut() {
        last.push_str(". Dots are left over.");
    }
    in_lines("Key: ", words)
}

/// Words side by side, `; ` between them, that go on below where a line would be wider than [`ACROSS`].
fn in_lines(lead: &str, words: Vec<String>) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        match lines.last_mut() {
            None => lines.push(format!("{lead}{word}")),
            Some(line) if line.chars().count() + word.chars().count() <= ACROSS => {
                line.push_str("; ");
                line.push_str(&word);
            }
            Some(line) => {
                line.push(';');
                lines.push(word);
            }
        }
    }
    lines
}

fn write_stick(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    (stick, key): (&Stick, &Key),
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
    page.words(row, 2, &key.bar(stick), Style::Words)?;
    page.words(row, 3, &pieces.join(" + "), Style::Wrapped)?;
    page.words(row, 4, &system.length(stick.offcut), Style::Words)?;
    page.words(row, 5, &bought, Style::Wrapped)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_key_goes_on_below() {
        let word = |letter: &str| format!("{letter} = {}", "7".repeat(60));
        // 5 + 64, and 2 + 64 more: 135; a third of 64 would be 201
        let lines = in_lines("Key: ", vec![word("A"), word("B"), word("C")]);
        let first = format!("Key: {}; {};", word("A"), word("B"));
        assert_eq!(lines, [first, word("C")]);
        assert_eq!(
            in_lines("Key: ", vec!["A = 8'".to_owned()]),
            ["Key: A = 8'"]
        );
    }
}
