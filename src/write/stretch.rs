//! How far a sum of money goes, for the terminal and as JSON.

use std::fmt::Write as _;

use serde::Serialize;

use super::columns::{clean, fit, pad, pad_left, width, wrap};
use super::json::number::Number;
use super::screen::Screen;
use crate::price::stretch::{Step, Stretch, Way};
use crate::units::{Currency, Money};

/// Columns of an amount.
const AMOUNTS: usize = 13;
/// Columns of a bed's name at most.
const NAMES: usize = 34;
/// Changes that are told.
const MOST_WAYS: usize = 6;
/// Said below the table.
const HOW: &str = "Every step is the whole job priced with one bed more, with its packs, loads and crew days. The \
     first bed bears what belongs to no bed: areas, extras of the job, travel. Changes were tried one at a time; two \
     together, or one that is not in the list, may do more.";

/// The answer as text, each line ended.
pub fn stretch_text(job: &str, currency: Currency, of: &Stretch, screen: Screen) -> String {
    let mut lines = vec![fit(job, screen.width)];
    lines.extend(wrap(&answer(of, currency), screen.width, "  "));
    lines.push(String::new());
    lines.extend(table(of, currency, screen));
    if !of.ways.is_empty() || of.next().is_some() {
        lines.push(String::new());
        lines.extend(ways(of, currency, screen));
    }
    lines.push(String::new());
    lines.extend(wrap(&order(of), screen.width, ""));
    lines.extend(wrap(HOW, screen.width, ""));
    lines.into_iter().map(|line| line + "\n").collect()
}

/// `USD 5,000.00 builds 3 of 7 beds for 4,700.00; 300.00 is left.`
fn answer(of: &Stretch, currency: Currency) -> String {
    let all = of.steps.len();
    let budget = currency.show_with_code(of.budget);
    let beds = if all == 1 { "bed" } else { "beds" };
    let left = currency.show(of.left);
    let reached = of
        .built
        .checked_sub(1)
        .and_then(|place| of.steps.get(place));
    let mut words = match reached.and_then(|step| step.total) {
        Some(total) => format!(
            "{budget} builds {} of {all} {beds} for {}; {left} is left.",
            of.built,
            currency.show(total)
        ),
        None => format!("{budget} builds none of {all} {beds}."),
    };
    if let (Some(next), Some(lacking)) = (of.next(), of.lacking()) {
        let adds = next.adds.map_or_else(String::new, |adds| {
            format!(" would add {}, and", currency.show(adds))
        });
        let _ = write!(
            words,
            " {}{adds} {} is lacking for it.",
            named(next),
            currency.show(lacking)
        );
    }
    words
}

/// `U1 Long plots, 2 of 4`.
fn named(step: &Step) -> String {
    match step.of_row {
        (_, 1) => clean(&step.bed),
        (n, all) => format!("{}, {n} of {all}", clean(&step.bed)),
    }
}

fn table(of: &Stretch, currency: Currency, screen: Screen) -> Vec<String> {
    let names: Vec<String> = of.steps.iter().map(named).collect();
    let wide = names.iter().map(|name| width(name)).max().unwrap_or(0);
    let wide = wide.clamp(3, NAMES);
    let head = format!(
        "{}{}{}  ",
        pad("      Bed", wide + 6),
        pad_left("adds", AMOUNTS),
        pad_left("price so far", AMOUNTS + 1)
    );
    let mut lines = vec![screen.paint.heading(head.trim_end())];
    let money =
        |money: Option<Money>| money.map_or_else(|| "no price".to_owned(), |m| currency.show(m));
    for ((step, name), n) in of.steps.iter().zip(&names).zip(1_usize..) {
        let line = format!(
            "{} {} {}{}  {}",
            pad_left(&n.to_string(), 4),
            pad(name, wide),
            pad_left(&money(step.adds), AMOUNTS),
            pad_left(&money(step.total), AMOUNTS + 1),
            step.because.join("; ")
        );
        lines.extend(wrap(line.trim_end(), screen.width, "        "));
        if n == of.built && n < of.steps.len() {
            lines.push(format!("     {}", "- ".repeat(12).trim_end()));
        }
    }
    lines
}

fn ways(of: &Stretch, currency: Currency, screen: Screen) -> Vec<String> {
    let Some(next) = of.next() else {
        return Vec::new();
    };
    let title = format!("What would get {} in", named(next));
    let mut lines = vec![screen.paint.heading(&fit(&title, screen.width))];
    if of.ways.is_empty() {
        let words = match of.tried {
            0 => "  nothing else could be tried".to_owned(),
            1 => "  the one change that was tried does not".to_owned(),
            n => format!("  none of {n} changes that were tried"),
        };
        lines.push(words);
    }
    if let Some(nearest) = &of.nearest {
        let words = way_words(nearest, currency);
        lines.extend(wrap(&format!("  nearest:{words}"), screen.width, "    "));
    }
    for way in of.ways.iter().take(MOST_WAYS) {
        lines.extend(wrap(&way_words(way, currency), screen.width, "    "));
    }
    if of.ways.len() > MOST_WAYS {
        lines.push(format!("  and {} more", of.ways.len() - MOST_WAYS));
    }
    lines
}

fn way_words(way: &Way, currency: Currency) -> String {
    let total = currency.show(way.total);
    match way.saves {
        Some(saves) => format!(
            "  {}: saves {}, price {total}",
            way.words,
            currency.show(saves)
        ),
        None => format!("  {}: price {total}", way.words),
    }
}

fn order(of: &Stretch) -> String {
    match (of.with_priority, of.without_priority) {
        (0, _) => "No bed has a Priority, so they stand by name.".to_owned(),
        (_, 0) => "By Priority, equals by name.".to_owned(),
        (_, 1) => "By Priority, equals by name; 1 bed without one comes last.".to_owned(),
        (_, n) => format!("By Priority, equals by name; {n} rows without one come last."),
    }
}

/// The answer as JSON.
#[derive(Debug, Serialize)]
struct StretchJson<'a> {
    schema: &'static str,
    job: &'a str,
    currency: &'a str,
    budget: Number,
    built: usize,
    left: Number,
    lacking_for_next: Option<Number>,
    steps: Vec<StepJson<'a>>,
    ways: Vec<WayJson>,
    nearest: Option<WayJson>,
    ways_tried: usize,
}

#[derive(Debug, Serialize)]
struct StepJson<'a> {
    bed: &'a str,
    number: u32,
    of_row: u32,
    priority: Option<u32>,
    adds: Option<Number>,
    total: Option<Number>,
    because: &'a [String],
    fits: bool,
}

#[derive(Debug, Serialize)]
struct WayJson {
    change: String,
    total: Number,
    saves: Option<Number>,
    out_of_turn: bool,
}

/// The answer as JSON, money as decimals in text.
///
/// # Errors
/// A mistake of ours.
pub fn stretch_json(
    job: &str,
    currency: Currency,
    of: &Stretch,
) -> Result<String, serde_json::Error> {
    let number = |money: Money| Number::money(money, currency);
    let steps = of.steps.iter().map(|step| StepJson {
        bed: &step.bed,
        number: step.of_row.0,
        of_row: step.of_row.1,
        priority: step.priority,
        adds: step.adds.map(number),
        total: step.total.map(number),
        because: &step.because,
        fits: step.fits,
    });
    let way = |way| {
        let way: &Way = way;
        WayJson {
            change: way.words.clone(),
            total: number(way.total),
            saves: way.saves.map(number),
            out_of_turn: way.out_of_turn,
        }
    };
    let tree = StretchJson {
        schema: "loamwright stretch 1",
        job,
        currency: currency.as_str(),
        budget: number(of.budget),
        built: of.built,
        left: number(of.left),
        lacking_for_next: of.lacking().map(number),
        steps: steps.collect(),
        ways: of.ways.iter().map(way).collect(),
        nearest: of.nearest.as_ref().map(way),
        ways_tried: of.tried,
    };
    serde_json::to_string_pretty(&tree).map(|text| text + "\n")
}
