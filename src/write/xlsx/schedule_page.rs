//! The sheet `Schedule`: what happens when, with bars over the days.

use rust_xlsxwriter::Chart;

use super::super::charts::days_chart;
use super::super::days::{DayRow, RowKind, day_rows};
use super::super::formats::{Digits, Style};
use super::super::layout::SCHEDULE;
use super::page::Page;
use super::{Book, WriteError};
use crate::schedule::Schedule;
use crate::units::Decimal;

/// Widths of the columns, in characters.
const WIDTHS: [usize; 7] = [40, 18, 12, 12, 11, 8, 60];
const HEADS: [(&str, Style); 7] = [
    ("What", Style::Head),
    ("Where", Style::Head),
    ("From", Style::Head),
    ("To", Style::Head),
    ("First day no.", Style::HeadNumber),
    ("Days", Style::HeadNumber),
    ("More", Style::Head),
];
/// Rows of the chart; longer schedules are read from the table.
const MOST_BARS: usize = 60;
/// Rows that are written; estimate.json has all.
const MOST_ROWS: usize = 5_000;

/// Writes the sheet; its header row.
pub(super) fn write(
    book: &Book<'_>,
    page: &mut Page<'_>,
    schedule: &Schedule,
) -> Result<u32, WriteError> {
    for (column, width) in (0_u16..).zip(WIDTHS) {
        page.widen(column, width)?;
    }
    let head = book.figures.layout.own(SCHEDULE).map_or(3, |p| p.free);
    for (column, (title, style)) in (0_u16..).zip(HEADS) {
        page.words(head, column, title, style)?;
    }
    let rows = day_rows(schedule);
    let mut row = head + 1;
    for day in rows.iter().take(MOST_ROWS) {
        one(page, row, schedule, day)?;
        row += 1;
    }
    let last = row.saturating_sub(1);
    row += 1;
    let how = if schedule.has_dates {
        "Last days to order are working days, as many days ahead as the prices say."
    } else {
        "No site has a First day: days are counted from day 1, a Monday. With dates there is a calendar file too."
    };
    page.words(row, 0, how, Style::Beside)?;
    for note in &schedule.notes {
        row += 1;
        page.words(row, 0, note, Style::Bold)?;
    }
    if rows.len() <= MOST_BARS && last > head {
        let chart: Chart = days_chart(SCHEDULE, (head + 1, last), (0, 4, 5));
        page.sheet.insert_chart(row + 2, 0, &chart)?;
    }
    Ok(head)
}

fn one(page: &mut Page<'_>, row: u32, schedule: &Schedule, day: &DayRow) -> Result<(), WriteError> {
    let style = match day.kind {
        RowKind::Visit => Style::Bold,
        _ => Style::Words,
    };
    page.words(row, 0, &day.what, style)?;
    page.words(
        row,
        1,
        day.site.as_deref().unwrap_or_default(),
        Style::Words,
    )?;
    page.words(row, 2, &schedule.day_words(day.from), Style::Words)?;
    page.words(row, 3, &schedule.day_words(day.to), Style::Words)?;
    let first = schedule.number(day.from);
    let length = schedule.number(day.to) - first + 1;
    let whole = Digits::Fixed(0);
    page.figure((row, 4), Decimal::from(first), Style::Plain, whole)?;
    page.figure((row, 5), Decimal::from(length), Style::Plain, whole)?;
    page.words(row, 6, &day.more, Style::Beside)
}
