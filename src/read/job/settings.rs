//! The `Job` sheet: settings in rows, each with where it came from.
//!
//! Longer than most because every setting has its own word for what is taken when it is not set.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::calendar::calendar;
use super::draft::figure;
use super::ground::{self, ground_work};
use super::quote::quote;
use super::reading::Reading;
use super::resolve::unknown_hint;
use super::setting_words::{
    BUYING, Choice, DECIMAL_MARKS, FULL_AFTER, METRIC_PAPER, PROFIT_AS, SYSTEMS, TAX_MODE, TOP_UP,
    TRIMMED_ENDS, US_PAPER,
};
use crate::model::known::Known;
use crate::model::library::Library;
use crate::model::setting_titles::{TITLES, title_of};
use crate::model::settings::{Ground, Paper, ProfitAs, Settings};
use crate::model::sheet::Sheet;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::{Row, rows};
use crate::units::{Currency, Hours, Length, System};

/// The settings of the job; `fallback_name` is the name of the file.
pub(super) fn settings(
    opened: &Opened,
    library: &Library,
    fallback_name: &str,
    problems: &mut Vec<Problem>,
) -> Settings {
    let mut cells = Cells::gather(opened, problems);
    // What it says was heard when the tables were opened; here only a wrong word is told.
    cells.take("Decimal mark", |r| r.choice("Value", DECIMAL_MARKS));
    let units = units(&mut cells, opened.system);
    let us = units.value == System::UsCustomary;
    let kerf = kerf(&mut cells, library);
    let settings = Settings {
        job_name: cells
            .text("Job name")
            .unwrap_or_else(|| Arc::from(fallback_name)),
        client: cells.text("Client"),
        estimate_number: cells.text("Estimate number"),
        revision: cells.text("Revision"),
        prepared_by: cells.text("Prepared by"),
        date: cells.take("Date", |r| r.date("Value")),
        valid_days: cells.days("Valid days"),
        currency: currency(&mut cells, us, opened.currency),
        paper: paper(&mut cells, us),
        full_after: cells.word(&FULL_AFTER),
        crown: crown(&mut cells, us),
        freeboard: cells.length_or_none("Freeboard"),
        top_up: cells.word(&TOP_UP),
        timber_kerf: timber_kerf(&kerf, library),
        kerf,
        end_trim: cells.length_or_none("End trim"),
        trimmed_ends: cells.word(&TRIMMED_ENDS),
        least_offcut: least_offcut(&mut cells, library, units.value),
        cut_tolerance: cut_tolerance(&mut cells, units.value),
        culls: cells.percent("Culls %"),
        ground: ground(&mut cells, library, units.value),
        crew_size: crew(&mut cells),
        hours_per_day: hours_per_day(&mut cells),
        setup_hours: setup(&mut cells, library),
        season_factor: season(&mut cells),
        overhead: cells.percent("Overhead %"),
        contingency: cells.percent("Contingency %"),
        profit: cells.percent("Profit %"),
        profit_as: cells.word(&PROFIT_AS),
        tax_mode: cells.word(&TAX_MODE),
        tax: cells.percent("Tax %"),
        taxed_categories: cells.list("Taxed categories"),
        exemption: cells.text("Exemption"),
        round_to: cells.sum("Round price to"),
        minimum_charge: cells.sum("Minimum charge"),
        client_sees_contingency: cells.client_sees_contingency(),
        quote: quote(&mut cells),
        budgeting: super::funding::budgeting(&mut cells),
        buying: cells.word(&BUYING),
        stale_days: cells.days("Stale days"),
        calendar: calendar(&mut cells, library),
        units,
    };
    cells.check(&settings);
    problems.append(&mut cells.problems);
    settings
}

/// The rows of the `Job` sheet by the title of their setting.
pub(super) struct Cells<'o> {
    rows: BTreeMap<&'static str, Row<'o>>,
    problems: Vec<Problem>,
}

impl<'o> Cells<'o> {
    fn gather(opened: &'o Opened, problems: &mut Vec<Problem>) -> Self {
        let mut rows_by_title = BTreeMap::new();
        for row in rows(opened, Sheet::Job) {
            let Some(typed) = row.text("Setting") else {
                let missing = Problem::error("Setting is missing for this value");
                problems.push(
                    missing
                        .at(row.at, "Value")
                        .hint("write what the value is for"),
                );
                continue;
            };
            let Some(title) = title_of(&typed) else {
                problems.push(unknown_setting(&typed, &row));
                continue;
            };
            if !row.has("Value") {
                continue;
            }
            if rows_by_title.contains_key(title) {
                let twice = Problem::error(format!("{title} is set twice"));
                problems.push(twice.at(row.at, "Setting").hint("keep one of the two rows"));
                continue;
            }
            rows_by_title.insert(title, row);
        }
        Self {
            rows: rows_by_title,
            problems: Vec::new(),
        }
    }

    /// Reads the value of a setting; problems speak of the setting, not of the column `Value`.
    pub(super) fn take<T>(
        &mut self,
        title: &'static str,
        read: impl FnOnce(&mut Reading<'_, 'o>) -> Option<T>,
    ) -> Option<Known<T>> {
        let row = self.rows.get(title)?;
        let mut reading = Reading::of(row);
        let value = read(&mut reading);
        for mut problem in reading.problems {
            if let Some(rest) = problem.sentence.strip_prefix("Value") {
                problem.sentence = format!("{title}{rest}");
            }
            if let Some(hint) = problem.hint.take() {
                problem.hint = Some(hint.replace(" in Value", &format!(" for {title}")));
            }
            self.problems.push(problem);
        }
        value.map(|v| Known::job(v, row.at, "Value"))
    }

    /// As [`Cells::take`], or `otherwise`, which also stays what it is when the program itself wrote
    /// it into the estimate that is read back.
    pub(super) fn take_or<T: PartialEq>(
        &mut self,
        title: &'static str,
        otherwise: Known<T>,
        read: impl FnOnce(&mut Reading<'_, 'o>) -> Option<T>,
    ) -> Known<T> {
        let is_filled_in = self.rows.get(title).is_some_and(Row::is_filled_in);
        match self.take(title, read) {
            Some(read) if !(is_filled_in && read.value == otherwise.value) => read,
            _ => otherwise,
        }
    }

    /// An estimate that is read back holds what was taken in its place, of which there are two.
    fn spoil_kept(&mut self, usual: Known<Decimal>) -> Known<Decimal> {
        let title = "Spoil kept %";
        let is_filled_in = self.rows.get(title).is_some_and(Row::is_filled_in);
        let kept = self.take_or(title, usual, |r| r.percent("Value"));
        if is_filled_in && kept.value.is_zero() {
            return super::ground::none_kept();
        }
        kept
    }

    pub(super) fn text(&self, title: &'static str) -> Option<Arc<str>> {
        self.rows.get(title)?.text("Value")
    }

    /// Whether a setting holds anything.
    pub(super) fn has(&self, title: &'static str) -> bool {
        self.rows.contains_key(title)
    }

    /// The row of a setting.
    pub(super) fn at(&self, title: &'static str) -> Option<RowAt> {
        self.rows.get(title).map(|row| row.at)
    }

    /// Adds what is to be told.
    pub(super) fn tell(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    fn list(&self, title: &'static str) -> Vec<Arc<str>> {
        let text = self.text(title).unwrap_or_default();
        let parts = text.split([';', ',']).map(str::trim);
        parts.filter(|p| !p.is_empty()).map(Arc::from).collect()
    }

    fn word<T: Copy + PartialEq>(&mut self, choice: &Choice<T>) -> Known<T> {
        self.take_or(
            choice.title,
            Known::assumed(choice.otherwise, choice.said),
            |r| r.choice("Value", choice.words),
        )
    }

    fn percent(&mut self, title: &'static str) -> Known<Decimal> {
        self.take_or(
            title,
            Known::assumed(Decimal::ZERO, "not set, taken as 0%"),
            |r| r.percent("Value"),
        )
    }

    fn sum(&mut self, title: &'static str) -> Known<Decimal> {
        self.take_or(
            title,
            Known::assumed(Decimal::ZERO, "not set, taken as 0"),
            |r| r.money("Value"),
        )
    }

    fn client_sees_contingency(&mut self) -> Known<bool> {
        let folded = "not set, taken as no: folded into the other lines";
        let title = "Client sees contingency";
        self.take_or(title, Known::assumed(false, folded), |r| r.yes_no("Value"))
    }

    fn days(&mut self, title: &'static str) -> Known<u32> {
        self.take_or(
            title,
            Known::assumed(30, "not set, taken as 30 days"),
            |r| r.whole("Value"),
        )
    }

    fn length_or_none(&mut self, title: &'static str) -> Known<Length> {
        self.take_or(
            title,
            Known::assumed(Length::ZERO, "not set, taken as 0"),
            |r| r.length("Value"),
        )
    }

    /// Settings that make no sense together or by themselves.
    fn check(&mut self, settings: &Settings) {
        let margin = settings.profit_as.value == ProfitAs::Margin;
        if margin && settings.profit.value >= Decimal::ONE {
            let hint = "a margin is a share of the price: write 30%, or set Profit as to markup";
            self.complain("Profit %", "Profit % must be under 100% as a margin", hint);
        }
        if settings.crew_size.value == 0 {
            self.complain(
                "Crew size",
                "Crew size must be 1 or more",
                "write how many people come",
            );
        }
        let day = settings.hours_per_day.value.in_hours();
        if day <= Decimal::ZERO || day > Decimal::from(24) {
            let sentence = "Hours per day must be more than 0 and at most 24";
            self.complain("Hours per day", sentence, "write 8");
        } else if settings.setup_hours.value.in_hours() >= day {
            let sentence = "Set-up hours leave no time for work in Hours per day";
            self.complain(
                "Set-up hours",
                sentence,
                "write the elapsed hours of set-up a day, as 0.75",
            );
        }
        if settings.ground.spoil_kept.value > Decimal::ONE {
            let sentence = "Spoil kept % must be at most 100%";
            let hint = "write the share of the spoil that stays on the site, as 40%";
            self.complain("Spoil kept %", sentence, hint);
        }
        if settings.season_factor.value <= Decimal::ZERO {
            let hint = "1 is an ordinary season, 1.2 takes a fifth more hours";
            self.complain("Season factor", "Season factor must be more than 0", hint);
        }
    }

    pub(super) fn complain(&mut self, title: &'static str, sentence: &str, hint: &str) {
        let problem = Problem::error(sentence).hint(hint);
        self.problems.push(match self.rows.get(title) {
            Some(row) => problem.at(row.at, "Value"),
            None => problem,
        });
    }
}

fn unknown_setting(typed: &str, row: &Row<'_>) -> Problem {
    let known = TITLES.iter().map(|(title, _)| *title);
    let hint = unknown_hint(typed, known, "leave it out: nothing reads it");
    Problem::notice(format!("\"{typed}\" is not a setting and is not used"))
        .at(row.at, "Setting")
        .hint(hint)
}

fn units(cells: &mut Cells<'_>, inferred: System) -> Known<System> {
    let words = match inferred {
        System::UsCustomary => "not set, taken as US from the units typed",
        System::Metric => "not set, taken as metric from the units typed",
    };
    let otherwise = Known::assumed(inferred, words);
    cells.take_or("Units", otherwise, |r| r.choice("Value", SYSTEMS))
}

fn currency(cells: &mut Cells<'_>, us: bool, shown: Option<Currency>) -> Known<Currency> {
    let otherwise = if let Some(shown) = shown.filter(|c| !us || *c != Currency::USD) {
        Known::assumed(shown, "not set, taken from the signs of the prices")
    } else if us {
        Known::assumed(Currency::USD, "not set, taken as USD")
    } else {
        let words = "not set, amounts are printed without a currency (XXX)";
        Known::assumed(Currency::NONE, words)
    };
    cells.take_or("Currency", otherwise, |r| {
        let text = r.text("Value")?;
        let found = Currency::from_code(&text);
        if found.is_none() {
            let hint = "write three letters of ISO 4217, as USD, CAD, EUR or GBP";
            r.complain("Value", "Value must be a currency code", hint);
        }
        found
    })
}

fn paper(cells: &mut Cells<'_>, us: bool) -> Known<Paper> {
    if us {
        cells.word(&US_PAPER)
    } else {
        cells.word(&METRIC_PAPER)
    }
}

fn crown(cells: &mut Cells<'_>, us: bool) -> Known<Length> {
    let otherwise = if us {
        Known::assumed(Length::inches(Decimal::TWO), "not set, taken as 2 in")
    } else {
        let fifty = Length::millimetres(Decimal::from(50));
        Known::assumed(fifty, "not set, taken as 50 mm")
    };
    cells.take_or("Crown", otherwise, |r| r.length("Value"))
}

/// The job's own kerf holds for timbers too; without one a chainsaw is taken to cut them.
fn timber_kerf(kerf: &Known<Length>, library: &Library) -> Known<Length> {
    if kerf.is_given() {
        kerf.clone()
    } else {
        figure(library, "chainsaw_kerf_in", Length::inches)
    }
}

fn kerf(cells: &mut Cells<'_>, library: &Library) -> Known<Length> {
    cells.take_or("Kerf", figure(library, "kerf_in", Length::inches), |r| {
        r.length("Value")
    })
}

fn least_offcut(cells: &mut Cells<'_>, library: &Library, system: System) -> Known<Length> {
    let usual = match system {
        System::UsCustomary => figure(library, "least_offcut_in", Length::inches),
        System::Metric => Known::assumed(
            Length::millimetres(Decimal::from(300)),
            "not set, taken as 300 mm",
        ),
    };
    cells.take_or("Least offcut", usual, |r| r.length("Value"))
}

fn cut_tolerance(cells: &mut Cells<'_>, system: System) -> Known<Length> {
    let usual = match system {
        System::UsCustomary => Known::assumed(
            Length::inches(Decimal::new(125, 3)),
            "not set, taken as 1/8 in",
        ),
        System::Metric => Known::assumed(
            Length::millimetres(Decimal::from(3)),
            "not set, taken as 3 mm",
        ),
    };
    cells.take_or("Cut tolerance", usual, |r| r.length("Value"))
}

fn ground(cells: &mut Cells<'_>, library: &Library, system: System) -> Ground {
    let usual = ground::figures(library, system);
    Ground {
        work: cells.take_or("Ground work", usual.work, |r| ground_work(r, "Value")),
        margin: cells.take_or("Ground margin", usual.margin, |r| r.length("Value")),
        swell: cells.take_or("Swell %", usual.swell, |r| r.percent("Value")),
        spoil_kept: cells.spoil_kept(usual.spoil_kept),
        sheets: usual.sheets,
    }
}

fn setup(cells: &mut Cells<'_>, library: &Library) -> Known<Hours> {
    cells.take_or("Set-up hours", figure(library, "setup_h", Hours::of), |r| {
        r.hours("Value")
    })
}

fn crew(cells: &mut Cells<'_>) -> Known<u32> {
    cells.take_or(
        "Crew size",
        Known::assumed(2, "not set, taken as 2 people"),
        |r| r.whole("Value"),
    )
}

fn hours_per_day(cells: &mut Cells<'_>) -> Known<Hours> {
    cells.take_or(
        "Hours per day",
        Known::assumed(Hours::of(Decimal::from(8)), "not set, taken as 8 h"),
        |r| r.hours("Value"),
    )
}

fn season(cells: &mut Cells<'_>) -> Known<Decimal> {
    cells.take_or(
        "Season factor",
        Known::assumed(Decimal::ONE, "not set, taken as 1"),
        |r| r.number("Value"),
    )
}
