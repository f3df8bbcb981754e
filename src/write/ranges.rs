//! How far cost and price may lie, for the terminal and as JSON.

use rust_decimal::Decimal;
use serde::Serialize;

use super::columns::{clean, fit, pad, pad_left, width, wrap};
use super::json::number::Number;
use super::screen::Screen;
use crate::price::Estimate;
use crate::price::ranges::{Drawing, Quantiles, Ranges, Weighed};
use crate::units::round::half_away;
use crate::units::show::{grouped_plain, plain};
use crate::units::{Currency, Money};

/// Figures that are listed.
const MOST: usize = 10;
/// Columns of the names of lines.
const NAMES: usize = 12;
/// Columns of an amount.
const AMOUNTS: usize = 13;
/// Said where nothing has a range.
const NONE: &str = "No figure of this price has a range. Write Low and High beside a price, a fee, a pay \
     rate, person-hours or the rate of an extra, as far as you know them, and run this again.";
/// What the draws take for granted.
const HOW: &str = "Each figure is drawn on its own from a triangle of low, likely and high. Quantities, \
     settling, suppliers, packs, loads and cuts stay as estimated, so that the truth may lie further out.";

/// The ranges as a table of one screen, each line ended; a sentence when there are none.
pub fn ranges_text(estimate: &Estimate, drawn: Option<&Ranges>, screen: Screen) -> String {
    let mut lines = vec![fit(&estimate.job.settings.job_name, screen.width)];
    match drawn {
        None => lines.extend(wrap(NONE, screen.width, "")),
        Some(ranges) => {
            let currency = estimate.job.settings.currency.value;
            lines.push(title(ranges.drawing, currency));
            lines.push(String::new());
            lines.extend(table(ranges, currency));
            lines.push(String::new());
            lines.extend(wrap(&reserve(ranges), screen.width, "  "));
            lines.push(String::new());
            lines.extend(first(&ranges.figures, screen));
            lines.push(String::new());
            lines.extend(wrap(HOW, screen.width, ""));
        }
    }
    lines.into_iter().map(|line| line + "\n").collect()
}

fn title(drawing: Drawing, currency: Currency) -> String {
    let runs = grouped_plain(Decimal::from(drawing.runs), 0);
    let code = currency.as_str();
    format!("Ranges in {code} from {runs} draws, seed {}", drawing.seed)
}

fn table(ranges: &Ranges, currency: Currency) -> Vec<String> {
    let row = |name: &str, cells: [String; 5]| {
        let cells: String = cells.iter().map(|c| pad_left(c, AMOUNTS)).collect();
        format!("  {}{cells}", pad(name, NAMES))
    };
    let amounts = |q: &Quantiles| {
        [q.estimate, q.p10, q.p50, q.p80, q.p90].map(|money: Money| currency.show(money))
    };
    let titles = ["Estimate", "P10", "P50", "P80", "P90"].map(str::to_owned);
    vec![
        row("", titles),
        row("Direct cost", amounts(&ranges.cost)),
        row("Price", amounts(&ranges.price)),
    ]
}

fn percent(fraction: Decimal) -> String {
    let percent = fraction.saturating_mul(Decimal::ONE_HUNDRED);
    format!("{:.1}%", half_away(percent, 1))
}

/// `P80 of the direct cost lies 4.1% above the estimate; contingency is set to 6%.`
fn reserve(ranges: &Ranges) -> String {
    let set = percent(ranges.contingency);
    let Some(reserve) = ranges.cost.reserve() else {
        return format!("The direct cost is 0; contingency is set to {set}.");
    };
    let side = if reserve.is_sign_negative() {
        "below"
    } else {
        "above"
    };
    let enough = if ranges.contingency >= reserve {
        "that covers eight draws in ten"
    } else {
        "that does not cover eight draws in ten"
    };
    format!(
        "P80: eight draws in ten cost no more. P80 of the direct cost lies {} {side} the estimate; \
         contingency is set to {set} of it, and {enough}.",
        percent(reserve.abs())
    )
}

/// The figures that matter most.
fn first(figures: &[Weighed], screen: Screen) -> Vec<String> {
    let title = "What to pin down first (part of the variance of the price)";
    let mut lines = vec![screen.paint.heading(title)];
    let shown = figures.iter().take(MOST);
    let ends: Vec<String> = shown.clone().map(ends).collect();
    let most = ends.iter().map(|end| width(end)).max().unwrap_or(0);
    for (figure, ends) in shown.zip(&ends) {
        let room = screen.width.saturating_sub(most).saturating_sub(11);
        let name = pad(&clean(&figure.name), room);
        let share = pad_left(&percent(figure.share), 7);
        lines.push(format!("{share}  {name}  {ends}"));
    }
    if figures.len() > MOST {
        lines.push(format!("         and {} more", figures.len() - MOST));
    }
    lines
}

/// `0.6 / 1 / 1.6, typical`
fn ends(figure: &Weighed) -> String {
    let [low, likely, high] =
        [figure.low, figure.likely, figure.high].map(|number| plain(number, 4));
    let typical = if figure.typical { ", typical" } else { "" };
    format!("{low} / {likely} / {high}{typical}")
}

/// Ranges as `ranges --json` prints them.
#[derive(Debug, Serialize)]
struct RangesJson<'a> {
    schema: &'static str,
    job: &'a str,
    currency: &'a str,
    runs: u32,
    seed: u64,
    /// Absent when no figure has a range.
    #[serde(skip_serializing_if = "Option::is_none")]
    direct_cost: Option<QuantilesJson>,
    #[serde(skip_serializing_if = "Option::is_none")]
    price: Option<QuantilesJson>,
    /// Fractions of the direct cost.
    contingency: Number,
    #[serde(skip_serializing_if = "Option::is_none")]
    p80_above_estimate: Option<Number>,
    figures: Vec<FigureJson<'a>>,
}

#[derive(Debug, Serialize)]
struct QuantilesJson {
    estimate: Number,
    p10: Number,
    p50: Number,
    p80: Number,
    p90: Number,
}

#[derive(Debug, Serialize)]
struct FigureJson<'a> {
    name: &'a str,
    low: Number,
    likely: Number,
    high: Number,
    typical: bool,
    /// Part of the variance of the price before minimum and rounding.
    share: Number,
}

/// The ranges as JSON, decimals as strings; without ranges the list of figures is empty.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn ranges_json(
    estimate: &Estimate,
    drawn: Option<&Ranges>,
    drawing: Drawing,
) -> Result<String, serde_json::Error> {
    let settings = &estimate.job.settings;
    let currency = settings.currency.value;
    let quantiles = |q: &Quantiles| {
        let money = |money| Number::money(money, currency);
        QuantilesJson {
            estimate: money(q.estimate),
            p10: money(q.p10),
            p50: money(q.p50),
            p80: money(q.p80),
            p90: money(q.p90),
        }
    };
    let figure = |f| {
        let f: &Weighed = f;
        FigureJson {
            name: &f.name,
            low: Number::of(f.low),
            likely: Number::of(f.likely),
            high: Number::of(f.high),
            typical: f.typical,
            share: Number::of(f.share),
        }
    };
    let reserve = drawn.and_then(|r| r.cost.reserve());
    let mut text = serde_json::to_string_pretty(&RangesJson {
        schema: "loamwright ranges 1",
        job: &settings.job_name,
        currency: currency.as_str(),
        runs: drawing.runs,
        seed: drawing.seed,
        direct_cost: drawn.map(|r| quantiles(&r.cost)),
        price: drawn.map(|r| quantiles(&r.price)),
        contingency: Number::of(settings.contingency.value),
        p80_above_estimate: reserve.map(|r| Number::of(half_away(r, 4))),
        figures: drawn.map_or_else(Vec::new, |r| r.figures.iter().map(figure).collect()),
    })?;
    text.push('\n');
    Ok(text)
}
