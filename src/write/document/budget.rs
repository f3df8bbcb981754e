//! The values of the budget for funders.

use serde::Serialize;

use crate::model::funding::Form;
use crate::price::Estimate;
use crate::price::budget::{Budget, BudgetLine, BudgetSum};
use crate::units::Money;
use crate::write::budget_text::{notes, paragraph, rounding, show};

/// File name of the budget.
pub const FILE: &str = "grant-budget.pdf";
/// Its template.
pub(super) const TEMPLATE: &str = "grant-budget.typ";

#[derive(Debug, Serialize)]
pub(super) struct BudgetPage {
    job: String,
    beside: Vec<String>,
    not_complete: Option<String>,
    form: &'static str,
    currency: String,
    columns: Vec<String>,
    sums: Vec<Row>,
    rounding: Option<String>,
    notes: Vec<String>,
    lines: Vec<Row>,
    narrative: Vec<Part>,
}

#[derive(Debug, Serialize)]
struct Row {
    mark: &'static str,
    title: String,
    amounts: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Part {
    title: String,
    text: String,
}

/// Title of the document.
pub(super) fn title(estimate: &Estimate) -> String {
    format!("{}: budget", estimate.job.settings.job_name)
}

/// The values.
pub(super) fn page(estimate: &Estimate, budget: &Budget) -> BudgetPage {
    let settings = &estimate.job.settings;
    let by = settings.prepared_by.as_ref();
    let by = by.map(|by| format!("Prepared by {by}"));
    let beside = by
        .into_iter()
        .chain([format!("Estimate of {}", estimate.date)]);
    let mut columns: Vec<String> = budget.funders.iter().map(|f| f.name.to_string()).collect();
    columns.extend(["Match in kind", "Not funded", "Total"].map(str::to_owned));
    let money = |money: Money| show(estimate, budget, money);
    BudgetPage {
        job: settings.job_name.to_string(),
        beside: beside.collect(),
        not_complete: estimate.not_complete(),
        form: match budget.form {
            Form::ObjectClasses => "By federal object classes",
            Form::Construction => "By cost classes of a construction program",
        },
        currency: settings.currency.value.as_str().to_owned(),
        columns,
        sums: budget.sums.iter().map(|sum| sum_row(sum, money)).collect(),
        rounding: rounding(estimate, budget),
        notes: notes(estimate, budget),
        lines: budget
            .lines
            .iter()
            .map(|line| line_row(line, money))
            .collect(),
        narrative: narrative(estimate, budget),
    }
}

fn sum_row(sum: &BudgetSum, money: impl Fn(Money) -> String) -> Row {
    let amounts = sum
        .paid
        .iter()
        .chain([&sum.in_kind, &sum.unfunded, &sum.total]);
    Row {
        mark: sum.mark,
        title: sum.title.to_owned(),
        amounts: amounts.map(|amount| money(*amount)).collect(),
    }
}

fn line_row(line: &BudgetLine, money: impl Fn(Money) -> String) -> Row {
    let total = line.amount + line.in_kind;
    let amounts = line
        .paid
        .iter()
        .chain([&line.in_kind, &line.unfunded, &total]);
    Row {
        mark: line.mark,
        title: line.name.to_string(),
        amounts: amounts.map(|amount| money(*amount)).collect(),
    }
}

/// A part for each class, with how many characters it is, since boxes of forms count them.
fn narrative(estimate: &Estimate, budget: &Budget) -> Vec<Part> {
    let classes = budget.sums.iter().filter(|sum| !sum.mark.is_empty());
    let parts = classes.map(|sum| (sum, paragraph(estimate, budget, sum)));
    let parts = parts.filter(|(_, text)| !text.is_empty());
    parts
        .map(|(sum, text)| Part {
            title: format!(
                "{}. {} ({} characters)",
                sum.mark,
                sum.title,
                text.chars().count()
            ),
            text,
        })
        .collect()
}
