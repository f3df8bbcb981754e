//! The sheet `Add or deduct`: what each alternate does to the price, and side by side what it moves.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use super::super::formats::Style;
use super::super::layout::ALTERNATES;
use super::page::{Page, Shown};
use super::{Book, WriteError, words};
use crate::price::changes::Moved;
use crate::price::{Alternate, Outcome};
use crate::units::Money;

/// Characters of the names at the left.
const NAMES: usize = 44;
/// Characters of each column at its right.
const FIGURES: usize = 20;
/// Characters that fit beside the figures of an alternate.
const BESIDE: usize = 90;

const SAME: &str = "as estimated: the alternates hold";
const MOVED: &str = "MOVED since: run the estimate again for the alternates";

/// Writes the sheet.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    let alternates = &book.estimate.alternates;
    page.widen(0, NAMES)?;
    for (column, _) in (1_u16..).zip(0..=alternates.len().max(2)) {
        page.widen(column, FIGURES)?;
    }
    let first = book.figures.layout.own(ALTERNATES).map_or(3, |p| p.free);
    base(book, page, first)?;
    let row = first + 2;
    page.words(row, 0, "Alternate", Style::Head)?;
    page.words(row, 1, "Add or deduct (-)", Style::HeadNumber)?;
    page.words(row, 2, "Price with it", Style::HeadNumber)?;
    page.words(row, 3, "What it is", Style::Head)?;
    let mut row = row + 1;
    for alternate in alternates {
        row = offered(page, row, alternate)?;
    }
    let sentence =
        "Two alternates together are not the sum of both: put them into the job, and run it.";
    page.words(row, 0, sentence, Style::Beside)?;
    side_by_side(alternates, page, row + 2)
}

/// The price without alternates, live, and whether it is still the one they were compared with.
fn base(book: &Book<'_>, page: &mut Page<'_>, row: u32) -> Result<(), WriteError> {
    let total = book.estimate.price.total;
    page.words(row, 0, "The price without any", Style::Strong)?;
    let digits = page.formats.money();
    let Some(cell) = book.total_line().and_then(|line| book.cell(line.at)) else {
        return page.figure((row, 1), total.amount(), Style::Strong, digits);
    };
    let look = page.formats.get(Style::Strong, digits);
    page.live(
        row,
        1,
        &cell,
        Shown::Number(total.amount()),
        Some(look.as_ref()),
    )?;
    let difference = super::summary_page::moved(&cell, total, page.formats.minor);
    let changed = super::checks_page::changed_cell(book.figures.layout);
    let formula = format!("IF(AND({changed}=0,{difference}=0),\"{SAME}\",\"{MOVED}\")");
    let look = page.formats.words(Style::Bold);
    page.live(row, 2, &formula, Shown::Word(SAME), Some(&look))
}

/// One alternate: its figures, and beside them what it changes and what is said of it.
fn offered(page: &mut Page<'_>, row: u32, alternate: &Alternate) -> Result<u32, WriteError> {
    page.words(row, 0, &alternate.name, Style::Words)?;
    let digits = page.formats.money();
    let mut said = alternate.edits.clone();
    said.extend(alternate.note.as_ref().map(ToString::to_string));
    match &alternate.outcome {
        Outcome::Priced { total, adds } => {
            page.figure((row, 1), adds.amount(), Style::Plain, digits)?;
            page.figure((row, 2), total.amount(), Style::Plain, digits)?;
            said.insert(0, direction(*adds).to_owned());
        }
        Outcome::NotComplete(words) => said.insert(0, words.clone()),
    }
    let lines = said.iter().flat_map(|text| words::lines(text, BESIDE));
    let mut next = row;
    for line in lines {
        page.words(next, 3, &line, Style::Beside)?;
        next += 1;
    }
    Ok(next.max(row + 1))
}

fn direction(adds: Money) -> &'static str {
    match adds.cmp(&Money::ZERO) {
        Ordering::Greater => "Adds to the price.",
        Ordering::Less => "Deducts from the price.",
        Ordering::Equal => "The same price.",
    }
}

/// Beds, goods and hours that any alternate moves: a row each, a column for each alternate.
fn side_by_side(
    alternates: &[Alternate],
    page: &mut Page<'_>,
    first: u32,
) -> Result<(), WriteError> {
    let moved: Vec<[Vec<Moved<String>>; 3]> = alternates.iter().map(Alternate::moved).collect();
    if moved.iter().flatten().all(Vec::is_empty) {
        return page.words(
            first,
            0,
            "They move no quantity and no hours.",
            Style::Words,
        );
    }
    page.words(first, 0, "What they move", Style::Heading)?;
    page.words(first + 1, 0, "What", Style::Head)?;
    page.words(first + 1, 1, "Without any", Style::Head)?;
    for (column, alternate) in (2_u16..).zip(alternates) {
        page.words(first + 1, column, &alternate.name, Style::Head)?;
    }
    let mut row = first + 2;
    for (part, title) in ["Beds", "Goods", "Person-hours"].into_iter().enumerate() {
        let lists: Vec<&[Moved<String>]> = moved
            .iter()
            .map(|one| one.get(part).map_or(&[][..], Vec::as_slice))
            .collect();
        row = of_part(page, row, title, &lists)?;
    }
    Ok(())
}

/// What moves of one part, by name, under its title; nothing when none of it moves.
fn of_part(
    page: &mut Page<'_>,
    first: u32,
    title: &str,
    lists: &[&[Moved<String>]],
) -> Result<u32, WriteError> {
    let all = lists.iter().copied().flatten();
    let before: BTreeMap<&str, Option<&str>> = all
        .map(|moved| (moved.name.as_str(), moved.before.as_deref()))
        .collect();
    if before.is_empty() {
        return Ok(first);
    }
    page.words(first, 0, title, Style::Bold)?;
    let mut row = first + 1;
    for (name, before) in before {
        page.words(row, 0, name, Style::Wrapped)?;
        page.words(row, 1, before.unwrap_or("none"), Style::Wrapped)?;
        for (column, list) in (2_u16..).zip(lists) {
            let after = list.iter().find(|moved| moved.name == name);
            let words = after.map_or("same", |m| m.after.as_deref().unwrap_or("none"));
            page.words(row, column, words, Style::Wrapped)?;
        }
        row += 1;
    }
    Ok(row)
}
