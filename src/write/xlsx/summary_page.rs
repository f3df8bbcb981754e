//! The `Summary` sheet: the price, what it is made of, and every sentence that belongs beside it.
//!
//! Longer than most because the first sheet is one page, written from its top to its end.

use super::super::charts::{Bars, Drawing, bars};
use super::super::formats::{Digits, Style};
use super::super::layout::ALTERNATES;
use super::bed_columns::{BedColumn, by_name, of_areas};
use super::checks_page::changed_cell;
use super::page::{Page, Shown};
use super::{Book, WriteError, beside, words};
use crate::price::term::CellRef;
use crate::price::{Estimate, Outcome, PriceLine, Validity, is_idle};
use crate::problem::Severity;
use crate::units::Money;

/// Widths of the columns, in characters.
const WIDTHS: [usize; 6] = [32, 16, 12, 15, 15, 15];
/// Characters that fit across all columns.
const ACROSS: usize = 100;
/// Characters that fit beside an amount.
const BESIDE: usize = 58;
/// Pixels across the page.
const WIDE_CHART: u32 = 720;
/// Pixels right of the second column.
const CHART_WIDTH: u32 = 420;
/// Beds in the chart.
const MOST_BEDS: usize = 40;
/// Lines of one list before it refers to its own sheet.
const MOST_LINES: usize = 8;
/// Rows that the chart of direct cost takes.
const COST_ROWS: u32 = 12;
/// Row of the price itself: above it stands what the page is about.
pub(super) const PRICE_COLUMN: u16 = 1;

const FRESH: &str = "figures are as estimated";
const MOVED: &str = "marked cells changed since the estimate";
const STALE: &str = "STALE: inputs changed, run the estimate again";

/// A page written from the top down.
struct Down<'p, 'a, 'b> {
    book: &'b Book<'b>,
    page: &'p mut Page<'a>,
    row: u32,
    /// Where sections start: a printed page may begin there.
    sections: Vec<u32>,
}

/// What the sheet turned out to be.
pub(super) struct Written {
    /// Row of the price.
    pub(super) price: u32,
    /// Rows at which sections start.
    pub(super) sections: Vec<u32>,
    /// Last row and column, charts with them.
    pub(super) end: (u32, u16),
}

/// Writes the sheet.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<Written, WriteError> {
    for (column, width) in (0_u16..).zip(WIDTHS) {
        page.widen(column, width)?;
    }
    let mut down = Down {
        book,
        page,
        row: 0,
        sections: vec![0],
    };
    down.about()?;
    down.banner()?;
    let price_row = down.price()?;
    down.made_of()?;
    down.alternates()?;
    down.sentences()?;
    down.places()?;
    down.beds()?;
    Ok(Written {
        price: price_row,
        sections: down.sections,
        end: (down.row, u16::try_from(WIDTHS.len() - 1).unwrap_or(0)),
    })
}

/// The lines of the price without those that are nothing whatever is typed, and without sums that
/// repeat the sum above them.
fn shown_lines(estimate: &Estimate) -> Vec<&PriceLine> {
    let mut shown: Vec<&PriceLine> = Vec::new();
    for line in &estimate.price.lines {
        if !line.is_total && is_idle(&estimate.ledger, line.at) {
            continue;
        }
        let repeats = line.is_total && shown.last().is_some_and(|above| above.is_total);
        if repeats && line.key != "total" {
            continue;
        }
        if repeats {
            shown.pop();
        }
        shown.push(line);
    }
    shown
}

/// `ROUND(cell-5000,2)`: by how much a cell differs from what was estimated.
pub(super) fn moved(cell: &str, estimated: Money, minor: u8) -> String {
    format!("ROUND({cell}-{},{minor})", estimated.amount().normalize())
}

impl Down<'_, '_, '_> {
    fn money(&self) -> Digits {
        self.page.formats.money()
    }

    /// A section starts after a free row.
    fn section(&mut self, heading: &str) -> Result<(), WriteError> {
        self.row += 1;
        self.sections.push(self.row);
        self.page.words(self.row, 0, heading, Style::Heading)?;
        self.row += 1;
        Ok(())
    }

    fn sentence(&mut self, text: &str, style: Style) -> Result<(), WriteError> {
        for line in words::lines(text, ACROSS) {
            self.page.words(self.row, 0, &line, style)?;
            self.row += 1;
        }
        Ok(())
    }

    /// An amount that follows a cell of the ledger, or stands fixed when no cell holds it.
    fn amount(
        &mut self,
        column: u16,
        reference: Option<&str>,
        amount: Money,
        style: Style,
    ) -> Result<(), WriteError> {
        let digits = self.money();
        let at = (self.row, column);
        match reference {
            Some(reference) => {
                let look = self.page.formats.get(style, digits);
                let shown = Shown::Number(amount.amount());
                self.page
                    .live(at.0, at.1, reference, shown, Some(look.as_ref()))
            }
            None => self.page.figure(at, amount.amount(), style, digits),
        }
    }

    fn about(&mut self) -> Result<(), WriteError> {
        let estimate = self.book.estimate;
        let settings = &estimate.job.settings;
        let title = format!("Estimate: {}", settings.job_name);
        self.page.words(self.row, 0, &title, Style::Title)?;
        self.row += 1;
        let number = match (&settings.estimate_number, &settings.revision) {
            (Some(number), Some(revision)) => Some(format!("{number}, revision {revision}")),
            (Some(number), None) => Some(number.to_string()),
            (None, revision) => revision.as_ref().map(ToString::to_string),
        };
        let facts = [
            ("Client", settings.client.as_ref().map(ToString::to_string)),
            ("Number", number),
            (
                "Prepared by",
                settings.prepared_by.as_ref().map(ToString::to_string),
            ),
            ("Date", Some(estimate.date.to_string())),
            ("Price holds", Some(Validity::of(estimate).to_string())),
        ];
        for (name, fact) in facts {
            if let Some(fact) = fact {
                self.page.words(self.row, 0, name, Style::Beside)?;
                self.page.words(self.row, 1, &fact, Style::Words)?;
                self.row += 1;
            }
        }
        Ok(())
    }

    fn banner(&mut self) -> Result<(), WriteError> {
        let Some(text) = self.book.estimate.not_complete() else {
            return Ok(());
        };
        self.row += 1;
        self.page.words(self.row, 0, &text, Style::Alert)?;
        for column in 1..6 {
            self.page.words(self.row, column, "", Style::AlertRest)?;
        }
        self.row += 1;
        let list = self.book.estimate.lacking();
        self.list(&list, "Orders")
    }

    fn price(&mut self) -> Result<u32, WriteError> {
        self.row += 1;
        let price_row = self.row;
        let price = &self.book.estimate.price;
        let code = self.book.estimate.job.settings.currency.value;
        // A total that leaves lines out does not call itself the price.
        let name = if self.book.estimate.is_complete() {
            "Price with tax"
        } else {
            "So far, not the price"
        };
        let label = format!("{name}, {}", code.as_str());
        self.page.words(self.row, 0, &label, Style::Price)?;
        let cell = self.book.total_line().and_then(|l| self.book.cell(l.at));
        self.amount(PRICE_COLUMN, cell.as_deref(), price.total, Style::Price)?;
        self.status()?;
        self.row += 1;
        self.since(cell.as_deref())?;
        self.top_up()?;
        self.page
            .words(self.row, 0, "Cells marked so", Style::Marked)?;
        let help = "are yours to change, on Prices, Job, Labour and others: the price follows.";
        self.page.words(self.row, 1, help, Style::Beside)?;
        self.row += 1;
        Ok(price_row)
    }

    /// Whether the price is as estimated, moved by marked cells, or not to be trusted.
    fn status(&mut self) -> Result<(), WriteError> {
        let (lines, minor) = (&self.book.estimate.price.lines, self.page.formats.minor);
        // The price alone may stay where its rounding takes in what moved.
        let watched = lines.iter().filter(|line| line.is_total);
        let same: Vec<String> = watched
            .flat_map(|line| {
                let with = line.at_with_top_up.zip(line.with_top_up);
                [Some((line.at, line.amount)), with]
            })
            .flatten()
            .filter_map(|(at, amount)| Some(moved(&self.book.cell(at)?, amount, minor)))
            .map(|difference| format!("{difference}=0"))
            .collect();
        let fresh = match same.as_slice() {
            [] => format!("\"{FRESH}\""),
            same => format!("IF(AND({}),\"{FRESH}\",\"{MOVED}\")", same.join(",")),
        };
        let changed = changed_cell(self.book.figures.layout);
        let formula = format!("IF({changed}=0,{fresh},\"{STALE}\")");
        let look = self.page.formats.words(Style::Bold);
        let word = Shown::Word(FRESH);
        self.page.live(self.row, 2, &formula, word, Some(&look))
    }

    /// By how much marked cells moved the price.
    fn since(&mut self, price: Option<&str>) -> Result<(), WriteError> {
        let (Some(price), total) = (price, self.book.estimate.price.total) else {
            return Ok(());
        };
        let words = "Moved since the estimate";
        self.page.words(self.row, 0, words, Style::Words)?;
        let difference = moved(price, total, self.page.formats.minor);
        self.amount(PRICE_COLUMN, Some(&difference), Money::ZERO, Style::Plain)?;
        let currency = self.book.estimate.job.settings.currency.value;
        let words = format!("by marked cells; as estimated: {}", currency.show(total));
        self.page.words(self.row, 2, &words, Style::Beside)?;
        self.row += 1;
        Ok(())
    }

    /// What the top-up would add: the price with it less the price.
    fn top_up(&mut self) -> Result<(), WriteError> {
        let Some(top_up) = self.book.estimate.price.top_up else {
            return Ok(());
        };
        let label = "Top-up after the first season";
        self.page.words(self.row, 0, label, Style::Words)?;
        let cells = self.book.total_line().and_then(|line| {
            let with = self.book.cell(line.at_with_top_up?)?;
            Some((with, self.book.cell(line.at)?))
        });
        let minor = self.page.formats.minor;
        let formula = cells.map(|(with, without)| format!("ROUND({with}-{without},{minor})"));
        self.amount(PRICE_COLUMN, formula.as_deref(), top_up, Style::Plain)?;
        let words = if formula.is_some() {
            "offered beside the price, not in it"
        } else {
            "offered beside the price, not in it; redone by the next run"
        };
        self.page.words(self.row, 2, words, Style::Beside)?;
        self.row += 1;
        Ok(())
    }

    fn made_of(&mut self) -> Result<(), WriteError> {
        self.section("What the price is made of")?;
        self.page.words(self.row, 0, "Line", Style::Head)?;
        self.page.words(self.row, 1, "Amount", Style::HeadNumber)?;
        let head = "From";
        self.page.words(self.row, 2, head, Style::Head)?;
        for column in 3..6 {
            self.page.words(self.row, column, "", Style::Head)?;
        }
        self.row += 1;
        let first = self.row;
        let lines = shown_lines(self.book.estimate);
        let minimum = lines.iter().find(|line| line.key == "minimum");
        let unmet = minimum.filter(|line| line.amount.is_zero()).copied();
        let mut last_cost = None;
        for line in lines {
            if line.key == "direct_cost" {
                last_cost = self.row.checked_sub(1).filter(|last| *last >= first);
            }
            match unmet {
                Some(minimum) if line.key == minimum.key => {}
                Some(minimum) if line.key == "rounding" => self.rounding(line, minimum)?,
                _ => self.price_line(line)?,
            }
        }
        match last_cost {
            Some(last) => self.direct_cost(first, last),
            None => Ok(()),
        }
    }

    /// Rounding, with a minimum charge that adds nothing as yet.
    fn rounding(&mut self, line: &PriceLine, minimum: &PriceLine) -> Result<(), WriteError> {
        let label = "Minimum charge and rounding";
        self.page.words(self.row, 0, label, Style::Words)?;
        let cells = self.book.cell(line.at).zip(self.book.cell(minimum.at));
        let minor = self.page.formats.minor;
        let formula = cells.map(|(a, b)| format!("ROUND({a}+{b},{minor})"));
        self.amount(1, formula.as_deref(), line.amount, Style::Plain)?;
        self.page.words(self.row, 2, &line.words, Style::Beside)?;
        self.row += 1;
        Ok(())
    }

    /// Bars of the lines that direct cost is the sum of.
    fn direct_cost(&mut self, first: u32, last: u32) -> Result<(), WriteError> {
        self.row += 1;
        let drawing = Drawing {
            title: "Direct cost by line",
            words: "Bars of the lines that make up direct cost: materials, labour and others",
            hatched: true,
            width: WIDE_CHART,
            height: COST_ROWS,
        };
        self.chart((self.row, 0), (first, last), drawing)?;
        self.row += COST_ROWS;
        Ok(())
    }

    fn price_line(&mut self, line: &PriceLine) -> Result<(), WriteError> {
        let (named, style) = if line.is_total {
            (Style::Strong, Style::Strong)
        } else {
            (Style::Words, Style::Plain)
        };
        self.page.words(self.row, 0, &line.label, named)?;
        let cell = self.book.cell(line.at);
        self.amount(1, cell.as_deref(), line.amount, style)?;
        let texts = words::lines(&line.words, BESIDE);
        let after = self.row + u32::try_from(texts.len()).unwrap_or(1).max(1);
        for text in texts {
            self.page.words(self.row, 2, &text, Style::Beside)?;
            self.row += 1;
        }
        self.row = after;
        Ok(())
    }

    /// What each alternate does to the price, as of the run.
    fn alternates(&mut self) -> Result<(), WriteError> {
        let alternates = &self.book.estimate.alternates;
        if alternates.is_empty() {
            return Ok(());
        }
        self.section("Alternates: add or deduct (-)")?;
        for alternate in alternates {
            self.page
                .words(self.row, 0, &alternate.name, Style::Words)?;
            match &alternate.outcome {
                Outcome::Priced { adds, .. } => self.amount(1, None, *adds, Style::Plain)?,
                Outcome::NotComplete(words) => self.page.words(self.row, 1, words, Style::Bold)?,
            }
            self.row += 1;
        }
        let words =
            format!("Each by itself, as estimated; the sheet {ALTERNATES} tells what they move.");
        self.sentence(&words, Style::Beside)
    }

    fn chart(
        &mut self,
        at: (u32, u16),
        rows: (u32, u32),
        drawing: Drawing<'_>,
    ) -> Result<(), WriteError> {
        let sheet = self.page.sheet.name();
        let range = Bars {
            sheet: &sheet,
            rows,
            names: 0,
            figures: 1,
        };
        let chart = bars(range, drawing);
        self.page.sheet.insert_chart(at.0, at.1, &chart)?;
        Ok(())
    }

    fn places(&mut self) -> Result<(), WriteError> {
        let places = &self.book.estimate.price.places;
        if places.len() < 2 {
            return Ok(());
        }
        self.section("By site and phase")?;
        let heads = ["Where", "Price with tax", "Beds", "Cost"];
        for (column, head) in (0_u16..).zip(heads) {
            let style = if column == 0 {
                Style::Head
            } else {
                Style::HeadNumber
            };
            self.page.words(self.row, column, head, style)?;
        }
        self.row += 1;
        for place in places {
            let name = words::place(self.book.estimate, place.site, place.phase);
            self.page.words(self.row, 0, &name, Style::Words)?;
            self.amount(1, None, place.price, Style::Plain)?;
            let at = (self.row, 2);
            self.page
                .figure(at, place.beds, Style::Plain, Digits::Fixed(0))?;
            self.amount(3, None, place.cost, Style::Plain)?;
            self.row += 1;
        }
        let words = "As estimated; changed prices reach the price above, not these lines.";
        self.sentence(words, Style::Beside)
    }

    fn sentences(&mut self) -> Result<(), WriteError> {
        let estimate = self.book.estimate;
        let price = &estimate.price;
        self.section("To know beside the price")?;
        if !estimate.not_priced.is_empty() {
            let words = format!("Not priced: {}.", estimate.not_priced.join(", "));
            self.sentence(&words, Style::Bold)?;
        }
        if let Some(sinks) = beside::sinks(estimate) {
            self.sentence(&sinks, Style::Words)?;
        }
        let loads = beside::loads(estimate);
        self.list(&loads, "Orders")?;
        self.sentence(&price.hours_words, Style::Words)?;
        if let Some((day, age)) = price.oldest_price {
            let days = if age == 1 { "day" } else { "days" };
            let text = format!("The oldest price used is of {day}, {age} {days} old.");
            self.sentence(&text, Style::Words)?;
        }
        let text = "Least for the prices and specs typed; quality not compared.";
        self.sentence(text, Style::Words)?;
        let cautions = estimate.problems.iter();
        let cautions = cautions.filter(|p| p.severity == Severity::Caution).count();
        if cautions > 0 {
            let text = format!(
                "Cautions: {cautions}. They stand on the sheet Checks; local code and licensed \
                 practice decide."
            );
            self.sentence(&text, Style::Bold)?;
        }
        Ok(())
    }

    /// Lines of a list, up to a number that keeps the page readable; the rest is on another sheet.
    fn list(&mut self, list: &[String], rest_on: &str) -> Result<(), WriteError> {
        for text in list.iter().take(MOST_LINES) {
            self.sentence(text, Style::Words)?;
        }
        let more = list.len().saturating_sub(MOST_LINES);
        if more > 0 {
            let text = format!("and {more} more: see the sheet {rest_on}");
            self.sentence(&text, Style::Beside)?;
        }
        Ok(())
    }

    /// Areas below the beds, so that the list adds up to the price.
    fn areas(&mut self) -> Result<(), WriteError> {
        let estimate = self.book.estimate;
        let column = of_areas(estimate, "Price");
        let areas = estimate.job.areas.iter().zip(&estimate.price.areas);
        let mut areas: Vec<_> = areas.collect();
        areas.sort_by(|(a, _), (b, _)| a.name.cmp(&b.name));
        for (area, money) in areas.into_iter().take(MOST_BEDS) {
            let row = money.row;
            self.page.words(self.row, 0, &area.name, Style::Words)?;
            let cell = column.and_then(|col| self.book.cell(CellRef { col, row }));
            self.amount(1, cell.as_deref(), money.price, Style::Plain)?;
            self.row += 1;
        }
        Ok(())
    }

    fn beds(&mut self) -> Result<(), WriteError> {
        let estimate = self.book.estimate;
        let order = by_name(estimate);
        if order.is_empty() {
            return Ok(());
        }
        self.section("Price by bed")?;
        let column = BedColumn::find(estimate, "price", |b| b.price);
        let first = self.row;
        for bed in order.iter().take(MOST_BEDS).copied() {
            let (Some(money), Some(row)) =
                (estimate.price.beds.get(bed), estimate.job.beds.get(bed))
            else {
                continue;
            };
            self.page.words(self.row, 0, &row.name, Style::Words)?;
            let cell = column.as_ref().and_then(|c| c.cell(bed));
            let cell = cell.and_then(|c| self.book.cell(c));
            self.amount(1, cell.as_deref(), money.price, Style::Plain)?;
            self.row += 1;
        }
        self.areas()?;
        let last = self.row - 1;
        let more = order.len().saturating_sub(MOST_BEDS);
        if more > 0 {
            let text = format!("and {more} more beds: see the sheet Shares");
            self.sentence(&text, Style::Beside)?;
        }
        let drawing = Drawing {
            title: "Price with tax by bed",
            words: "Bars of the price of each bed, in the order of their names",
            hatched: false,
            width: CHART_WIDTH,
            height: (last - first + 2).max(8),
        };
        self.chart((first, 2), (first, last), drawing)?;
        self.row = self.row.max(first + drawing.height);
        Ok(())
    }
}
