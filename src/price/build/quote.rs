//! What the quote has on the `Job` sheet of the estimate, for what the user set of it.

use super::super::ledger::Format;
use super::settings::{Line, fixed, live, words};
use crate::model::funding::Budgeting;
use crate::model::known::Known;
use crate::model::quote::{Part, Quote, Rounding};
use crate::units::Decimal;

/// Settings that formulas follow.
pub(super) fn live_lines(quote: &Quote) -> Vec<Line> {
    let markups = quote.markups.iter();
    let markups = markups.map(|(category, own)| live(category.setting(), own, Format::Percent));
    let an_hour = quote.overhead_per_hour.iter();
    let an_hour = an_hour.map(|rate| live("Overhead per hour", rate, Format::UnitPrice));
    let discount = quote.discount.iter().map(|discount| {
        let format = part_format(&discount.value);
        live("Discount", &discount.clone().map(part_number), format)
    });
    let new_tax = quote.new_tax.iter();
    let new_tax = new_tax.map(|new| live("New tax %", &new.rate, Format::Percent));
    markups
        .chain(an_hour)
        .chain(discount)
        .chain(new_tax)
        .collect()
}

/// Settings that take effect when the program runs.
pub(super) fn fixed_lines(quote: &Quote) -> Vec<Line> {
    let mut lines = Vec::new();
    lines.extend(words("Discount for", quote.discount_for.as_ref()));
    let rounding = |known: &Known<Rounding>| fixed("Rounding", known, |r| r.word().to_owned());
    lines.extend(quote.rounding.as_ref().map(rounding));
    let new_tax = quote.new_tax.as_ref();
    lines.extend(new_tax.map(|new| fixed("New tax from", &new.from, ToString::to_string)));
    lines
}

/// What the `Job` sheet says of a budget.
pub(super) fn budget_lines(budgeting: &Budgeting) -> Vec<Line> {
    let form = budgeting.form.iter();
    let form = form.map(|f| fixed("Budget form", f, |f| f.word().to_owned()));
    let percent = |f: &Decimal| format!("{}%", f.saturating_mul(Decimal::ONE_HUNDRED).normalize());
    let recovered = budgeting.tax_recovered.iter();
    let recovered = recovered.map(|share| fixed("Tax recovered %", share, percent));
    form.chain(recovered).collect()
}

/// The number that stands for a part in its cell.
pub(super) fn part_number(part: Part) -> Decimal {
    match part {
        Part::Share(number) | Part::Sum(number) => number,
        Part::Rest => Decimal::ZERO,
    }
}

/// How that number is shown, by which it is read again as what it is.
pub(super) fn part_format(part: &Part) -> Format {
    match part {
        Part::Share(_) => Format::Percent,
        Part::Sum(_) | Part::Rest => Format::Money,
    }
}
