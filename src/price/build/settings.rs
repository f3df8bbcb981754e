//! The `Job` sheet in the estimate: every setting with its value and where it came from.
//!
//! Longer than most because every setting of the `Job` sheet has its line here.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::super::ledger::{Column, Format, Ledger, Role, Value};
use super::super::term::{ColRef, Term};
use super::echo::shown;
use crate::model::job::Job;
use crate::model::known::{From, Known};
use crate::model::quote::{Marked, Quote};
use crate::model::setting_titles::title_of;
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceTable, Sources};
use crate::problem::Spot;
use crate::units::parse::{Commas, comma_evidence};
use crate::units::{Length, System};

/// The settings that live formulas read.
pub(super) struct SettingCells {
    pub crew_size: Term,
    pub hours_per_day: Term,
    pub setup_hours: Term,
    pub overhead: Term,
    pub contingency: Term,
    pub profit: Term,
    pub tax: Term,
    pub round_to: Term,
    pub minimum_charge: Term,
    pub markups: Vec<(Marked, Term)>,
    pub overhead_per_hour: Option<Term>,
    pub discount: Option<Term>,
}

pub(super) struct Line {
    title: &'static str,
    value: Value,
    format: Format,
    from: String,
}

impl SettingCells {
    pub(super) fn new(ledger: &mut Ledger, job: &Job, sources: &Sources, date: Date) -> Self {
        let mut lines = live_lines(&job.settings);
        lines.extend(super::quote::live_lines(&job.settings.quote));
        lines.extend(fixed_lines(&job.settings, sources));
        lines.extend(super::quote::fixed_lines(&job.settings.quote));
        lines.extend(super::quote::budget_lines(&job.settings.budgeting));
        lines.extend(decimal_mark(sources));
        let others = other_lines(sources, &lines);
        let rows = lines.len() + others.len();
        let block = ledger.block(Sheet::Job.title(), "", rows);
        let titles = lines
            .iter()
            .map(|l| Value::text(l.title))
            .chain(others.iter().map(|(t, _)| Value::Text(t.clone())));
        ledger.label(block, "Setting", titles.collect());
        let values = lines
            .iter()
            .map(|l| l.value.clone())
            .chain(others.iter().map(|(_, v)| v.clone()))
            .collect();
        let mut column = Column::plain("Value", Format::Text, Role::Given, values);
        column.row_formats = lines
            .iter()
            .map(|l| l.format)
            .chain(others.iter().map(|_| Format::Text))
            .collect();
        let value = ledger.column(block, column);
        ledger.note(
            value,
            "Marked cells may be changed here; the others take effect when the program runs again.",
        );
        let from = lines
            .iter()
            .map(|l| Value::text(&l.from))
            .chain(others.iter().map(|_| Value::text("yours")));
        ledger.label(block, "From", from.collect());
        Self::at(&lines, value, &job.settings.quote, date)
    }

    fn at(lines: &[Line], value: ColRef, quote: &Quote, date: Date) -> Self {
        let cell = |title: &str| {
            let row = lines.iter().position(|l| l.title == title).unwrap_or(0);
            Term::cell(value, row)
        };
        Self {
            crew_size: cell("Crew size"),
            hours_per_day: cell("Hours per day"),
            setup_hours: cell("Set-up hours"),
            overhead: cell("Overhead %"),
            contingency: cell("Contingency %"),
            profit: cell("Profit %"),
            tax: cell(if quote.tax_on(date).is_some() {
                "New tax %"
            } else {
                "Tax %"
            }),
            round_to: cell("Round price to"),
            minimum_charge: cell("Minimum charge"),
            markups: quote
                .markups
                .iter()
                .map(|(category, _)| (*category, cell(category.setting())))
                .collect(),
            overhead_per_hour: quote
                .overhead_per_hour
                .as_ref()
                .map(|_| cell("Overhead per hour")),
            discount: quote.discount.as_ref().map(|_| cell("Discount")),
        }
    }
}

fn origin(from: &From) -> String {
    match from {
        From::Job(..) => "yours".to_owned(),
        From::Library(_) => "typical, change it to your own".to_owned(),
        From::Assumed(words) => (*words).to_owned(),
    }
}

pub(super) fn live(title: &'static str, known: &Known<Decimal>, format: Format) -> Line {
    Line {
        title,
        value: Value::number(known.value),
        format,
        from: origin(&known.from),
    }
}

fn live_lines(s: &Settings) -> Vec<Line> {
    let crew = s.crew_size.clone().map(Decimal::from);
    vec![
        live("Overhead %", &s.overhead, Format::Percent),
        live("Contingency %", &s.contingency, Format::Percent),
        live("Profit %", &s.profit, Format::Percent),
        live("Tax %", &s.tax, Format::Percent),
        live("Round price to", &s.round_to, Format::Money),
        live("Minimum charge", &s.minimum_charge, Format::Money),
        live("Crew size", &crew, Format::Number(0)),
        live(
            "Hours per day",
            &s.hours_per_day.clone().map(crate::units::Hours::in_hours),
            Format::Number(2),
        ),
        live(
            "Set-up hours",
            &s.setup_hours.clone().map(crate::units::Hours::in_hours),
            Format::Number(2),
        ),
    ]
}

pub(super) fn fixed<T>(
    title: &'static str,
    known: &Known<T>,
    words: impl FnOnce(&T) -> String,
) -> Line {
    Line {
        title,
        value: shown_text(&words(&known.value)),
        format: Format::Text,
        from: origin(&known.from),
    }
}

/// A length as it was typed, so that it reads back to the last digit; in the units of the job when
/// nobody typed it, or typed a bare number.
fn length(title: &'static str, known: &Known<Length>, units: System, sources: &Sources) -> Line {
    let words = |l: &Length| match units {
        System::UsCustomary => format!("{} in", crate::units::show::plain(l.in_inches(), 6)),
        System::Metric => format!("{} mm", crate::units::show::plain(l.in_millimetres(), 3)),
    };
    let typed = match known.from {
        From::Job(row, field) => sources.held(Spot { row, field }),
        _ => None,
    };
    let typed = typed.filter(|text| matches!(shown_text(text), Value::Text(_)));
    fixed(title, known, |l| typed.unwrap_or_else(|| words(l)))
}

fn shown_text(text: &str) -> Value {
    shown(&Cell::Text(text.into()))
}

pub(super) fn words(title: &'static str, text: Option<&Arc<str>>) -> Option<Line> {
    let value = Value::Text(text?.clone());
    Some(Line {
        title,
        value,
        format: Format::Text,
        from: "yours".to_owned(),
    })
}

fn categories(s: &Settings) -> Option<Arc<str>> {
    let all = s.taxed_categories.join(", ");
    (!all.is_empty()).then(|| all.into())
}

fn days_off(s: &Settings) -> Option<Arc<str>> {
    let days: Vec<String> = s
        .calendar
        .days_off
        .iter()
        .map(ToString::to_string)
        .collect();
    (!days.is_empty()).then(|| days.join("; ").into())
}

/// Settings that are words of the user's own.
fn named_lines(s: &Settings) -> Vec<Line> {
    let lines = [
        words("Job name", Some(&s.job_name)),
        words("Client", s.client.as_ref()),
        words("Estimate number", s.estimate_number.as_ref()),
        words("Revision", s.revision.as_ref()),
        words("Prepared by", s.prepared_by.as_ref()),
        words("Taxed categories", categories(s).as_ref()),
        words("Exemption", s.exemption.as_ref()),
        words("Days off", days_off(s).as_ref()),
    ]
    .into_iter()
    .flatten();
    lines.collect()
}

fn calendar_lines(s: &Settings) -> [Line; 3] {
    let calendar = &s.calendar;
    [
        fixed("Working days", &calendar.week, |w| w.words()),
        fixed("Days to settle", &calendar.settling, ToString::to_string),
        fixed("Days to top-up", &calendar.season, ToString::to_string),
    ]
}

fn fixed_lines(s: &Settings, sources: &Sources) -> Vec<Line> {
    let units = s.units.value;
    let length = |title, known| length(title, known, units, sources);
    let percent = |f: &Decimal| format!("{}%", f.saturating_mul(Decimal::ONE_HUNDRED).normalize());
    let mut lines = named_lines(s);
    if let Some(date) = &s.date {
        lines.push(fixed("Date", date, ToString::to_string));
    }
    lines.extend([
        fixed("Valid days", &s.valid_days, ToString::to_string),
        fixed("Units", &s.units, |u| {
            if *u == System::UsCustomary {
                "US".into()
            } else {
                "metric".into()
            }
        }),
        fixed("Currency", &s.currency, |c| c.as_str().to_owned()),
        fixed("Paper", &s.paper, |p| {
            if *p == Paper::Letter {
                "letter".into()
            } else {
                "A4".into()
            }
        }),
        fixed("Full after", &s.full_after, |f| {
            full_after_words(*f).to_owned()
        }),
        length("Crown", &s.crown),
        length("Freeboard", &s.freeboard),
        fixed("Top-up", &s.top_up, |t| top_up_words(*t).to_owned()),
        length("Kerf", &s.kerf),
        length("End trim", &s.end_trim),
        fixed("Trimmed ends", &s.trimmed_ends, |e| e.words().to_owned()),
        length("Least offcut", &s.least_offcut),
        length("Cut tolerance", &s.cut_tolerance),
        fixed("Culls %", &s.culls, percent),
        fixed("Season factor", &s.season_factor, |f| {
            f.normalize().to_string()
        }),
        fixed("Profit as", &s.profit_as, |p| {
            if *p == ProfitAs::Markup {
                "markup".into()
            } else {
                "margin".into()
            }
        }),
        fixed("Tax mode", &s.tax_mode, |m| tax_mode_words(*m).to_owned()),
        seen_contingency(&s.client_sees_contingency),
        fixed("Buying", &s.buying, |b| buying_words(*b).to_owned()),
        fixed("Stale days", &s.stale_days, ToString::to_string),
    ]);
    lines.extend([
        fixed("Ground work", &s.ground.work, |w| w.words(units)),
        length("Ground margin", &s.ground.margin),
        fixed("Swell %", &s.ground.swell, percent),
        fixed("Spoil kept %", &s.ground.spoil_kept, percent),
    ]);
    lines.extend(calendar_lines(s));
    lines
}

fn seen_contingency(seen: &Known<bool>) -> Line {
    let word = |seen: &bool| if *seen { "yes" } else { "no" }.to_owned();
    fixed("Client sees contingency", seen, word)
}

/// The word of a setting as the `Job` sheet accepts it.
pub(super) fn full_after_words(value: FullAfter) -> &'static str {
    match value {
        FullAfter::WetDown => "wet-down",
        FullAfter::FirstSeason => "first season",
    }
}

/// The word of a setting as the `Job` sheet accepts it.
pub(super) fn top_up_words(value: TopUp) -> &'static str {
    match value {
        TopUp::Offered => "offered",
        TopUp::Included => "included",
        TopUp::None => "none",
    }
}

/// The words of a tax mode.
pub(super) fn tax_mode_words(value: TaxMode) -> &'static str {
    match value {
        TaxMode::None => "none",
        TaxMode::OnPurchases => "paid on purchases",
        TaxMode::OnMaterials => "on materials",
        TaxMode::OnPrice => "on the whole price",
        TaxMode::OnCategories => "on categories",
    }
}

fn buying_words(value: Buying) -> &'static str {
    match value {
        Buying::LeastCost => "least cost",
        Buying::OneSupplier => "one supplier",
        Buying::AsMarked => "as marked",
    }
}

/// What the commas of typed numbers are, when some do not tell by themselves and the numbers that
/// told stand as plain numbers here.
fn decimal_mark(sources: &Sources) -> Option<Line> {
    let said = |table: &SourceTable| {
        let setting = table
            .columns
            .iter()
            .position(|c| c.field == Some("Setting"));
        let names = table.rows.iter().filter_map(|row| row.cells.get(setting?));
        names
            .map(Cell::text)
            .any(|name| title_of(&name) == Some("Decimal mark"))
    };
    let tables = &sources.tables;
    if tables.iter().any(said) {
        return None;
    }
    let cells = tables.iter().flat_map(read_texts);
    let (mut points, mut commas, mut unclear) = (false, false, false);
    for text in cells {
        match comma_evidence(text) {
            Commas::Thousands => points = true,
            Commas::Decimal | Commas::Mostly => commas = true,
            Commas::Ask => unclear |= text.contains(','),
        }
    }
    let word = match (points, commas) {
        (true, false) if unclear => "point",
        (false, true) if unclear => "comma",
        _ => return None,
    };
    Some(Line {
        title: "Decimal mark",
        value: Value::text(word),
        format: Format::Text,
        from: "from the numbers typed".to_owned(),
    })
}

/// Texts of the columns that are read.
fn read_texts(table: &SourceTable) -> impl Iterator<Item = &Arc<str>> {
    let read: Vec<bool> = table.columns.iter().map(|c| c.field.is_some()).collect();
    let cells = table.rows.iter().flat_map(move |row| {
        let known = row.cells.iter().zip(read.clone());
        known.filter_map(|(cell, read)| read.then_some(cell))
    });
    cells.filter_map(|cell| match cell {
        Cell::Text(text) => Some(text),
        _ => None,
    })
}

/// Settings of the job's sheet that no line above holds: typed ones that are not known, kept as they are.
fn other_lines(sources: &Sources, lines: &[Line]) -> Vec<(Arc<str>, Value)> {
    let mut others = Vec::new();
    for (_, table) in sources.of(Sheet::Job) {
        let setting = table
            .columns
            .iter()
            .position(|c| c.field == Some("Setting"));
        let value = table.columns.iter().position(|c| c.field == Some("Value"));
        let (Some(setting), Some(value)) = (setting, value) else {
            continue;
        };
        for row in &table.rows {
            let name = row.cells.get(setting).map(Cell::text).unwrap_or_default();
            let title = title_of(&name);
            let known = lines.iter().any(|l| title == Some(l.title));
            if !name.is_empty() && !known {
                others.push((
                    name.into(),
                    row.cells.get(value).map_or(Value::Empty, shown),
                ));
            }
        }
    }
    others
}
