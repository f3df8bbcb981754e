//! The estimate workbook: ledger and results to sheets, in one pass.
//!
//! Sheets are written in their order, rows from the top, so that long sheets can stream to disk.

mod alternates_page;
mod assumptions_page;
mod bar;
mod bed_columns;
mod beside;
pub(super) mod block;
mod checks_page;
mod choices_page;
mod cuts_page;
pub(super) mod echo;
mod figure_notes;
pub(super) mod page;
mod places_page;
mod reach;
mod schedule_page;
mod sheets_page;
mod summary_page;
mod takeoff_page;
#[cfg(test)]
mod tests;
mod words;

use std::cell::Cell;
use std::io::{Seek, Write};

use jiff::civil::Date;
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Workbook, Worksheet, XlsxError};

use self::block::Figures;
use self::page::Page;
use self::reach::Reach;
use super::basis::Basis;
use super::formats::{Formats, Style};
use super::layout::{
    ALTERNATES, ASSUMPTIONS, BASIS, CHECKS, CHOICES, CUT_LIST, GAP, Layout, Placed, Purpose,
    SCHEDULE, SHARES, SUMMARY, SheetPlan, TAKE_OFF,
};
use super::sheet_style::{Shape, Stationery};
use crate::price::term::CellRef;
use crate::price::{Estimate, PriceLine};

/// The defined name by which a workbook is known as an estimate of this program.
pub const MARK: &str = "loamwright_estimate";
/// Most notes on figures: each costs time and memory in every program that opens the file.
pub const MOST_NOTES: usize = 1_000;
/// Rows from which a sheet streams to disk while it is written.
const STREAMS_FROM: usize = 2_000;

/// Why the workbook could not be written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The writer refused a cell or the file could not be written.
    #[error("the estimate workbook could not be written: {0}")]
    Workbook(#[from] XlsxError),
    /// A fixed word of a formula would be stored as a number: a mistake in this program.
    #[error("the word \"{0}\" would be stored as a number")]
    WordLikeNumber(&'static str),
    /// A figure is outside the range of numbers: a mistake in this program.
    #[error("the figure {0} is outside the range of numbers")]
    NotANumber(String),
}

/// How one figure came about, for a note on its cell.
#[derive(Clone, Debug)]
pub struct FigureNote {
    /// The figure.
    pub at: CellRef,
    /// The steps, in words.
    pub words: String,
}

/// The estimate workbook as bytes.
///
/// # Errors
/// [`WriteError`] when a sheet cannot be written.
pub fn workbook(estimate: &Estimate) -> Result<Vec<u8>, WriteError> {
    let notes = figure_notes::figure_notes(estimate);
    Ok(build(estimate, &notes)?.save_to_buffer()?)
}

/// The estimate workbook to a file, with notes on the first [`MOST_NOTES`] of the given figures.
///
/// # Errors
/// [`WriteError`] when a sheet or the file cannot be written.
pub fn write_workbook<W: Write + Seek + Send>(
    estimate: &Estimate,
    notes: &[FigureNote],
    file: W,
) -> Result<(), WriteError> {
    Ok(build(estimate, notes)?.save_to_writer(file)?)
}

/// The estimate and how it is set out.
pub(super) struct Book<'a> {
    pub(super) estimate: &'a Estimate,
    pub(super) figures: Figures<'a>,
}

impl Book<'_> {
    /// The line of the price with tax.
    fn total_line(&self) -> Option<&PriceLine> {
        let price = &self.estimate.price;
        let is_total = |line: &&PriceLine| line.amount == price.total;
        price.line("total").filter(is_total).or_else(|| {
            let totals = price.lines.iter().rev().filter(|l| l.is_total);
            totals.into_iter().find(is_total)
        })
    }

    /// A reference to a cell of the ledger from another sheet.
    fn cell(&self, at: CellRef) -> Option<String> {
        self.figures.printer().cell(at)
    }
}

fn build(estimate: &Estimate, notes: &[FigureNote]) -> Result<Workbook, WriteError> {
    let ledger = &estimate.ledger;
    let layout = Layout::plan(ledger, &estimate.sources, &own_pages(estimate));
    let formats = Formats::new(ledger.currency.minor);
    let reach = Reach::of(ledger);
    let book = Book {
        estimate,
        figures: Figures {
            ledger,
            values: &estimate.values,
            layout: &layout,
            formats: &formats,
            reach: &reach,
            plain: Cell::new(0),
        },
    };
    let basis = Basis::plan(&book.figures, &estimate.sources);
    let stationery = stationery(estimate);
    let mut workbook = Workbook::new();
    let title = format!("Estimate: {}", estimate.job.settings.job_name);
    workbook.set_properties(&properties(title, estimate.date)?);
    let mut price_row = 0;
    for (index, plan) in layout.sheets.iter().enumerate() {
        let sheet = open(&mut workbook, &book, &basis, plan)?;
        let mut page = Page::new(sheet, &formats);
        let written = write_sheet(&book, &basis, plan, &mut page, &mut price_row)?;
        put_notes(&book, notes, index, &mut page)?;
        stationery.dress(page.sheet, &book.shape(plan, &page, written))?;
    }
    let price = format!("={SUMMARY}!$B${}", u64::from(price_row) + 1);
    workbook.define_name(MARK, &price)?;
    Ok(workbook)
}

impl Book<'_> {
    /// What of a sheet its stationery depends on.
    fn shape(&self, plan: &SheetPlan, page: &Page<'_>, written: Written) -> Shape {
        let area = written.end.or_else(|| self.printed_area(plan));
        let end = written.end.map_or(0, |(row, _)| row);
        let end = usize::try_from(end).unwrap_or(usize::MAX);
        let last = area.map_or(u16::MAX, |(_, column)| column);
        Shape {
            width: page.width(last),
            height: page.height().max(end),
            area,
            is_hidden: plan.name == BASIS || plan.name == CHOICES,
            is_aside: plan.name == SHARES || matches!(plan.purpose, Purpose::Input | Purpose::Echo),
            head: written.head,
            held: u16::from(written.head.is_some() && page.widths.len() > 8),
            sections: written.sections,
        }
    }

    /// Last row and column that are printed of a sheet of blocks: without the columns that only formulas
    /// need. Sheets that go on below their blocks are printed whole.
    fn printed_area(&self, plan: &SheetPlan) -> Option<(u32, u16)> {
        if matches!(plan.purpose, Purpose::Own(_)) {
            return None;
        }
        let layout = self.figures.layout;
        let placed = || plan.blocks.iter().filter_map(|b| layout.placed(*b));
        let readable = placed().map(|p| p.readable).max()?;
        let last_of = |p: &Placed| p.columns.iter().copied().max();
        let widest = placed().filter_map(last_of).max()?;
        if widest < readable {
            return None;
        }
        let below = plan.free.saturating_sub(GAP + 1);
        Some((below, readable.saturating_sub(1)))
    }
}

/// Pages that are filled from the results; without sticks there is no cut list.
fn own_pages(estimate: &Estimate) -> Vec<&'static str> {
    let mut pages = vec![SUMMARY, TAKE_OFF, ASSUMPTIONS, CHECKS, BASIS, CHOICES];
    let bought = &estimate.bought;
    if !bought.cut_lists.is_empty() || !bought.sheet_lists.is_empty() {
        pages.push(CUT_LIST);
    }
    if estimate.schedule().is_some() {
        pages.push(SCHEDULE);
    }
    if !estimate.alternates.is_empty() {
        pages.push(ALTERNATES);
    }
    pages
}

fn stationery(estimate: &Estimate) -> Stationery {
    let settings = &estimate.job.settings;
    let number = settings.estimate_number.as_deref().unwrap_or_default();
    Stationery {
        paper: settings.paper.value,
        job: settings.job_name.to_string(),
        estimate: format!("Estimate {number}, {}", estimate.date).replace(" ,", ","),
    }
}

/// Properties without a user's name or a path; the day is that of the content and not of the clock, so
/// that the same input gives the same bytes.
pub(super) fn properties(title: String, date: Date) -> Result<DocProperties, WriteError> {
    let created = match echo::day(date) {
        Some(day) => day,
        None => ExcelDateTime::from_ymd(1900, 1, 1)?,
    };
    Ok(DocProperties::new()
        .set_title(title)
        .set_creation_datetime(&created))
}

fn open<'w>(
    workbook: &'w mut Workbook,
    book: &Book<'_>,
    basis: &Basis,
    plan: &SheetPlan,
) -> Result<&'w mut Worksheet, WriteError> {
    let blocks = plan.blocks.iter();
    let rows: usize = blocks
        .filter_map(|b| book.figures.layout.placed(*b))
        .map(|p| p.rows)
        .sum();
    let takeoffs = match plan.purpose {
        Purpose::Own(TAKE_OFF) => {
            let takeoffs = book.estimate.takeoffs.iter();
            takeoffs.map(|t| t.needs.len() + t.layers.len()).sum()
        }
        Purpose::Own(BASIS) => basis.rows(),
        _ => 0,
    };
    let sheet = if rows + takeoffs >= STREAMS_FROM {
        workbook.add_worksheet_with_low_memory()?
    } else {
        workbook.add_worksheet()
    };
    sheet.set_name(&plan.name)?;
    Ok(sheet)
}

/// What is known of a sheet once it is written.
#[derive(Default)]
struct Written {
    /// The header row that stays in view.
    head: Option<u32>,
    /// Rows at which a page may begin, on a sheet of sections.
    sections: Vec<u32>,
    /// Where such a sheet ends.
    end: Option<(u32, u16)>,
}

/// Writes a sheet from the top.
fn write_sheet(
    book: &Book<'_>,
    basis: &Basis,
    plan: &SheetPlan,
    page: &mut Page<'_>,
    price_row: &mut u32,
) -> Result<Written, WriteError> {
    let layout = book.figures.layout;
    if matches!(plan.purpose, Purpose::Own(_) | Purpose::Figures) && plan.name != SUMMARY {
        page.words(0, 0, &plan.name, Style::Title)?;
        page.words(1, 0, about(&plan.name), Style::Quiet)?;
    }
    for block in &plan.blocks {
        book.figures.write(page, *block)?;
    }
    let (mut sections, mut end) = (Vec::new(), None);
    let mut head = match plan.blocks.as_slice() {
        [only] => layout.placed(*only).map(|p| p.header),
        _ => None,
    };
    match plan.purpose {
        Purpose::Own(SUMMARY) => {
            let summary = summary_page::write(book, page)?;
            *price_row = summary.price;
            (sections, end) = (summary.sections, Some(summary.end));
        }
        Purpose::Own(TAKE_OFF) => takeoff_page::write(book, page)?,
        Purpose::Own(CUT_LIST) => cuts_page::write(book, page)?,
        Purpose::Own(ALTERNATES) => alternates_page::write(book, page)?,
        Purpose::Own(SCHEDULE) => {
            if let Some(schedule) = book.estimate.schedule() {
                head = Some(schedule_page::write(book, page, &schedule)?);
            }
        }
        Purpose::Own(ASSUMPTIONS) => head = Some(assumptions_page::write(book, page)?),
        Purpose::Own(CHECKS) => checks_page::write(book, basis, page)?,
        Purpose::Own(CHOICES) => choices_page::write(book, page)?,
        Purpose::Own(_) => basis.write(page, &book.figures, &book.estimate.sources)?,
        Purpose::Echo => {
            let table = plan.tables.first();
            let table = table.and_then(|t| book.estimate.sources.tables.get(*t));
            if let Some(table) = table {
                echo::table(page, table)?;
            }
            head = Some(0);
        }
        Purpose::Input | Purpose::Figures => {}
    }
    if matches!(plan.purpose, Purpose::Own(_)) && !plan.blocks.is_empty() {
        head = None;
    }
    Ok(Written {
        head,
        sections,
        end,
    })
}

/// One line under the title of a sheet.
fn about(sheet: &str) -> &'static str {
    match sheet {
        TAKE_OFF => "Quantities before packs and rounding. Only the program can redo them.",
        CUT_LIST => "Pieces from sticks, each stick used once. Only the program can redo it.",
        ALTERNATES => {
            "Alternates as of the last run, each by itself. Only the program can redo them."
        }
        SCHEDULE => {
            "Orders, deliveries and visits as of the last run. Only the program can redo them."
        }
        ASSUMPTIONS => "Every figure that the job did not give. Write your own into the job.",
        CHECKS => "What the workbook checks by itself, and everything that the run had to say.",
        BASIS => "A copy of the input that the estimate rested on. Leave it as it is.",
        CHOICES => "What was chosen, kept for a later run. Leave it as it is.",
        "Orders" => "What is bought, in what is sold: quantities follow the marked cells.",
        "Hours" => "Person-hours, days and hire: hours and rates follow the marked cells.",
        "Price" => "From direct cost to the price with tax, one line after the other.",
        "Budget" => {
            "Who pays for what, under the classes of the form; amounts follow the marked cells."
        }
        "Shares" => "What each bed carries of cost and price. Shares add up to the cent.",
        _ => "These figures follow the marked cells of the input sheets.",
    }
}

/// Notes on the figures of one sheet.
fn put_notes(
    book: &Book<'_>,
    notes: &[FigureNote],
    sheet: usize,
    page: &mut Page<'_>,
) -> Result<(), WriteError> {
    let layout = book.figures.layout;
    for note in notes.iter().take(MOST_NOTES) {
        let placed = layout.placed(note.at.col.block);
        if placed.map(|p| p.sheet) != Some(sheet) {
            continue;
        }
        let row = usize::try_from(note.at.row).unwrap_or(usize::MAX);
        if let Some((row, column)) = layout.find(note.at.col, row) {
            page.note(row, column, &note.words)?;
        }
    }
    Ok(())
}
