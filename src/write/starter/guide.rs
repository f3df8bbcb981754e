//! The first sheet: what to fill in which order, from `templates/start/guide.csv`. No input stands on it.

use rust_xlsxwriter::{Url, Workbook};

use super::super::columns::wrap;
use super::super::formats::{Formats, Style};
use super::super::sheet_style::{Shape, Stationery};
use super::super::xlsx::WriteError;
use super::super::xlsx::page::Page;
use super::Starter;
use super::content::Table;
use super::notes::records;

/// Its name.
pub(super) const SHEET: &str = "Start here";
const TEXTS: &str = include_str!("../../../templates/start/guide.csv");
/// Characters across the sheet.
const ACROSS: usize = 84;
/// Columns of a step: its number, the sheet, what to do there.
const WIDTHS: [usize; 3] = [7, 12, 60];

/// A line of the texts.
struct Line {
    part: String,
    sheet: String,
    words: String,
}

/// The lines for a starter.
fn lines(starter: &Starter<'_>) -> Vec<Line> {
    let rows = records(TEXTS).into_iter().skip(1);
    rows.filter_map(|row| {
        let [part, purposes, sheet, words] = <[String; 4]>::try_from(row).ok()?;
        let mut meant = purposes.split(' ');
        let is_meant = purposes.is_empty() || meant.any(|p| p == starter.purpose.word());
        is_meant.then_some(Line { part, sheet, words })
    })
    .collect()
}

/// Writes the sheet.
pub(super) fn write(
    workbook: &mut Workbook,
    formats: &Formats,
    stationery: &Stationery,
    starter: &Starter<'_>,
    tables: &[Table],
) -> Result<(), WriteError> {
    let sheet = workbook.add_worksheet();
    sheet.set_name(SHEET)?;
    sheet.set_screen_gridlines(false);
    let mut page = Page::new(sheet, formats);
    for (column, width) in (0_u16..).zip(WIDTHS) {
        page.widen(column, width)?;
    }
    let lines = lines(starter);
    let is_there = |title: &str| tables.iter().any(|t| t.sheet.title() == title);
    let mut writing = Writing {
        page,
        row: 0,
        step: 0,
        before: "",
    };
    for line in &lines {
        if line.part == "step" && !is_there(&line.sheet) {
            continue;
        }
        writing.line(line)?;
        if line.part == "after" {
            for command in starter.commands {
                writing.words(1, command, Style::Bold)?;
            }
        }
    }
    let shape = Shape {
        width: ACROSS,
        ..Shape::default()
    };
    stationery.dress(writing.page.sheet, &shape)?;
    Ok(())
}

/// The sheet while it is filled from the top.
struct Writing<'p, 'l> {
    page: Page<'p>,
    row: u32,
    step: u32,
    /// The part of the line above.
    before: &'l str,
}

impl<'l> Writing<'_, 'l> {
    fn line(&mut self, line: &'l Line) -> Result<(), WriteError> {
        let is_list = line.part == "step" && self.before == "step";
        if self.row > 0 && !is_list {
            self.row += 1;
        }
        self.before = &line.part;
        match line.part.as_str() {
            "title" => self.words(0, &line.words, Style::Title),
            "step" => self.step(line),
            _ => self.sentences(&line.words),
        }
    }

    fn sentences(&mut self, text: &str) -> Result<(), WriteError> {
        for line in wrap(text, ACROSS, "") {
            self.words(0, &line, Style::Plain)?;
        }
        Ok(())
    }

    fn step(&mut self, line: &Line) -> Result<(), WriteError> {
        self.step += 1;
        let row = self.row;
        let target = Url::new(format!("internal:'{}'!A1", line.sheet)).set_text(&line.sheet);
        self.page
            .words(row, 0, &format!("{}.", self.step), Style::Right)?;
        let look = self.page.formats.words(Style::Link);
        self.page
            .sheet
            .write_url_with_format(row, 1, target, &look)?;
        self.words(2, &line.words, Style::Wrapped)
    }

    fn words(&mut self, column: u16, text: &str, style: Style) -> Result<(), WriteError> {
        self.page.words(self.row, column, text, style)?;
        self.row += 1;
        Ok(())
    }
}
