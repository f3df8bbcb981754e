//! The `Checks` sheet: live checks first, then every message in words.

use super::super::basis::Basis;
use super::super::formats::{Digits, Style};
use super::super::formula::{push_fixed, push_sheet};
use super::super::layout::{CHECKS, Layout};
use super::Book;
use super::WriteError;
use super::bed_columns::{BedColumn, of_areas};
use super::page::{Page, Shown};
use crate::price::term::ColRef;
use crate::price::{BedMoney, Group, PriceLine};
use crate::problem::{Problem, Severity};
use crate::units::{Decimal, Money};

/// What beds carry, and the lines of the price that it comes from. Tax paid is one line for goods
/// and extras, so that these two are checked together.
const SHARED: [(&str, &[Group], &[&str]); 4] = [
    (
        "materials, tax and extras",
        &[Group::Materials, Group::Other],
        &[
            "materials",
            "tax_paid",
            "other",
            "allowances",
            "pass_through",
        ],
    ),
    ("delivery", &[Group::Delivery], &["delivery"]),
    ("labour", &[Group::Labour], &["labour", "labour_charged"]),
    ("equipment", &[Group::Equipment], &["equipment"]),
];
const RESULT: u16 = 1;
const WORDS: u16 = 2;

/// The cell that counts changed input, with its sheet, for formulas elsewhere.
pub(super) fn changed_cell(layout: &Layout) -> String {
    let mut out = String::new();
    push_sheet(CHECKS, &mut out);
    push_fixed(first_check(layout), RESULT, &mut out);
    out
}

fn first_check(layout: &Layout) -> u32 {
    layout.own(CHECKS).map_or(3, |plan| plan.free) + 2
}

/// Writes the sheet.
pub(super) fn write(book: &Book<'_>, basis: &Basis, page: &mut Page<'_>) -> Result<(), WriteError> {
    for (column, width) in [(0, 44), (RESULT, 10), (WORDS, 100), (3, 36), (4, 24)] {
        page.widen(column, width)?;
    }
    let first = first_check(book.figures.layout);
    page.words(first - 2, 0, "Live checks", Style::Heading)?;
    page.words(first - 1, 0, "Check", Style::Head)?;
    page.words(first - 1, RESULT, "Result", Style::HeadNumber)?;
    page.words(first - 1, WORDS, "What it means", Style::Head)?;
    let row = changes(book, basis, page, first)?;
    let row = sums(book, page, row)?;
    let row = remarks(book, basis, page, row)?;
    messages(book, page, row + 1)
}

/// Changed input: the count of all sheets, then one line for each sheet.
fn changes(
    book: &Book<'_>,
    basis: &Basis,
    page: &mut Page<'_>,
    first: u32,
) -> Result<u32, WriteError> {
    let parts = u32::try_from(basis.parts.len()).unwrap_or(0);
    let mut total = String::from("0");
    if parts > 0 {
        total = String::from("SUM(");
        push_fixed(first + 1, RESULT, &mut total);
        total.push(':');
        push_fixed(first + parts, RESULT, &mut total);
        total.push(')');
    }
    let unit = if basis.by_sums { "columns" } else { "cells" };
    let title = format!("Changed input {unit} that no formula follows");
    page.words(first, 0, &title, Style::Wrapped)?;
    let count = page.formats.get(Style::Strong, Digits::Fixed(0));
    let zero = Shown::Number(Decimal::ZERO);
    page.live(first, RESULT, &total, zero, Some(&count))?;
    let words = "0: all figures are as estimated. Else run the estimate again.";
    page.words(first, WORDS, words, Style::Wrapped)?;
    let mut row = first + 1;
    let count = page.formats.get(Style::Plain, Digits::Fixed(0));
    for part in &basis.parts {
        page.words(row, 0, &format!("  on {}", part.sheet), Style::Words)?;
        let formula = basis.formula(part, &book.figures, &book.estimate.sources);
        page.live(row, RESULT, &formula, zero, Some(&count))?;
        row += 1;
    }
    Ok(row)
}

/// Whether shares add up to what was shared.
fn sums(book: &Book<'_>, page: &mut Page<'_>, mut row: u32) -> Result<u32, WriteError> {
    let price = &book.estimate.price;
    let beds: Money = price.beds.iter().map(|b| b.price).sum();
    let areas: Money = price.areas.iter().map(|a| a.price).sum();
    let total = book.total_line().and_then(|line| book.cell(line.at));
    let column = BedColumn::find(book.estimate, "price", |b| b.price);
    if let (Some(total), Some(column)) = (total, column) {
        let (title, columns) = match of_areas(book.estimate, "Price") {
            None => ("Prices of the beds add up to the price", vec![column.col]),
            Some(areas) => (
                "Prices of beds and areas add up to the price",
                vec![column.col, areas],
            ),
        };
        row = sum_check(
            book,
            page,
            row,
            (title, &[total]),
            (&columns, beds + areas == price.total),
        )?;
    }
    for (name, groups, keys) in SHARED {
        let lines = keys.iter().filter_map(|key| price.line(key));
        let lines: Vec<&PriceLine> = lines.collect();
        let cells: Vec<String> = lines.iter().filter_map(|l| book.cell(l.at)).collect();
        let mut columns: Vec<ColRef> = groups.iter().filter_map(|g| share(book, *g)).collect();
        if cells.len() != lines.len() || cells.is_empty() || columns.len() != groups.len() {
            continue;
        }
        let areas = groups
            .iter()
            .filter_map(|g| of_areas(book.estimate, g.title()));
        columns.extend(areas);
        let shared: Money = groups.iter().map(|g| shared(book, *g)).sum();
        let holds = shared == lines.iter().map(|l| l.amount).sum();
        let title = format!("Shares of {name} add up");
        row = sum_check(book, page, row, (&title, &cells), (&columns, holds))?;
    }
    Ok(row)
}

/// The column with what beds carry of a group.
fn share(book: &Book<'_>, group: Group) -> Option<ColRef> {
    let index = Group::ALL.iter().position(|g| *g == group)?;
    let of = |b: &BedMoney| b.groups.get(index).copied().unwrap_or_default();
    let column = BedColumn::find(book.estimate, &group.title().to_lowercase(), of)?;
    Some(column.col)
}

/// What all beds and areas together carry of a group.
fn shared(book: &Book<'_>, group: Group) -> Money {
    let index = Group::ALL.iter().position(|g| *g == group);
    let price = &book.estimate.price;
    let beds = price.beds.iter().map(|b| b.groups);
    let all = beds.chain(price.areas.iter().map(|a| a.groups));
    all.filter_map(|groups| groups.get(index?).copied()).sum()
}

fn sum_check(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    (title, totals): (&str, &[String]),
    (columns, holds): (&[ColRef], bool),
) -> Result<u32, WriteError> {
    let ranges = columns.iter().map(|c| book.figures.printer().column(*c));
    let Some(ranges) = ranges.collect::<Option<Vec<String>>>() else {
        return Ok(row);
    };
    let (ranges, minor) = (ranges.join(","), page.formats.minor);
    let total = totals.join("-");
    let formula = format!("IF(ROUND(SUM({ranges})-{total},{minor})=0,\"yes\",\"no\")");
    page.words(row, 0, title, Style::Words)?;
    let word = if holds { "yes" } else { "no" };
    let look = page.formats.words(Style::Right);
    page.live(row, RESULT, &formula, Shown::Word(word), Some(&look))?;
    let words = "If it says no, a cell of the shares was overwritten.";
    page.words(row, WORDS, words, Style::Wrapped)?;
    Ok(row + 1)
}

/// What the checks cannot see, and what could not be written as a formula.
fn remarks(
    book: &Book<'_>,
    basis: &Basis,
    page: &mut Page<'_>,
    mut row: u32,
) -> Result<u32, WriteError> {
    let mut remarks = vec![
        "Cut lists, loads and the choice of suppliers are redone by the program only.".to_owned(),
    ];
    if basis.by_sums {
        remarks.push(
            "The job is too large to compare every input cell: sums of number columns are \
             compared, and changed words are not noticed."
                .to_owned(),
        );
    }
    let plain = book.figures.plain.get();
    if plain > 0 {
        remarks.push(format!(
            "{plain} figures stand as plain numbers because their formula would be longer than \
             spreadsheet programs take or would read beyond the last row of a sheet."
        ));
    }
    let unknown = book.estimate.sources.tables.iter();
    for table in unknown.filter(|t| t.sheet.is_none()) {
        remarks.push(format!(
            "The sheet \"{}\" of the job was not recognised and is not repeated here.",
            table.label
        ));
    }
    for remark in remarks {
        page.words(row, 0, &remark, Style::Beside)?;
        row += 1;
    }
    Ok(row)
}

fn messages(book: &Book<'_>, page: &mut Page<'_>, first: u32) -> Result<(), WriteError> {
    page.words(first, 0, "Cautions and notices", Style::Heading)?;
    let problems = &book.estimate.problems;
    if problems.is_empty() {
        return page.words(first + 1, 0, "None.", Style::Words);
    }
    let heads = [
        "Where",
        "Kind",
        "Message",
        "What to do",
        "What the cell holds",
    ];
    for (column, head) in (0_u16..).zip(heads) {
        page.words(first + 1, column, head, Style::Head)?;
    }
    for (row, problem) in (first + 2..).zip(problems) {
        message(book, page, row, problem)?;
    }
    Ok(())
}

fn message(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    problem: &Problem,
) -> Result<(), WriteError> {
    let kind = match problem.severity {
        Severity::Error => "error",
        Severity::Caution => "caution",
        Severity::Notice => "notice",
    };
    let sources = &book.estimate.sources;
    let spot = problem.spot;
    let place = problem
        .place
        .clone()
        .or_else(|| spot.and_then(|s| sources.place(s)));
    let holds = problem
        .holds
        .clone()
        .or_else(|| spot.and_then(|s| sources.held(s)));
    let texts = [
        place,
        Some(kind.to_owned()),
        Some(problem.sentence.clone()),
        problem.hint.clone(),
        holds,
    ];
    for (column, text) in (0_u16..).zip(texts) {
        page.words(row, column, &text.unwrap_or_default(), Style::Wrapped)?;
    }
    Ok(())
}
