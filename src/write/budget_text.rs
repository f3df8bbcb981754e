//! The budget as plain text: the form's rows, and a paragraph for each class with its length, to be pasted
//! into the boxes of a form.

use std::fmt::Write as _;

use crate::price::Estimate;
use crate::price::budget::{Budget, BudgetSum};
use crate::units::show::grouped_plain;
use crate::units::{Decimal, Money};

/// Its file name.
pub const FILE: &str = "grant-budget.txt";

/// The file's text; `None` for a job without funders.
pub fn budget_text(estimate: &Estimate) -> Option<String> {
    let budget = estimate.price.budget.as_ref()?;
    let settings = &estimate.job.settings;
    let mut text = String::new();
    let title = format!(
        "Budget of {} in {}",
        settings.job_name,
        settings.currency.value.as_str()
    );
    let _ = writeln!(text, "{title}\n{}\n", "=".repeat(title.chars().count()));
    if let Some(words) = estimate.not_complete() {
        let _ = writeln!(text, "{words}\n");
    }
    table(&mut text, estimate, budget);
    for note in notes(estimate, budget) {
        let _ = writeln!(text, "\n{note}");
    }
    narrative(&mut text, estimate, budget);
    let _ = writeln!(
        text,
        "Overhead, profit and sales tax on a price are no lines of this budget. What counts as match, which \
         costs are allowed and which rates apply is the funder's to say: ask before you send it."
    );
    Some(text)
}

/// A sum as the form has it: in whole units where it asks for them.
pub(super) fn show(estimate: &Estimate, budget: &Budget, money: Money) -> String {
    if budget.whole_units {
        grouped_plain(money.amount(), 0)
    } else {
        estimate.job.settings.currency.value.show(money)
    }
}

/// The form: one row a class, one column a funder.
fn table(text: &mut String, estimate: &Estimate, budget: &Budget) {
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut head = vec![String::new(), "Class".to_owned()];
    head.extend(budget.funders.iter().map(|f| f.name.to_string()));
    head.extend(["Match in kind", "Not funded", "Total"].map(str::to_owned));
    rows.push(head);
    for sum in &budget.sums {
        let mut row = vec![sum.mark.to_owned(), sum.title.to_owned()];
        let money = sum
            .paid
            .iter()
            .chain([&sum.in_kind, &sum.unfunded, &sum.total]);
        row.extend(money.map(|m| show(estimate, budget, *m)));
        rows.push(row);
    }
    let columns = rows.first().map_or(0, Vec::len);
    let widths: Vec<usize> = (0..columns)
        .map(|c| {
            let cells = rows.iter().filter_map(|row| row.get(c));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    for row in rows {
        let cells = row
            .iter()
            .zip(&widths)
            .enumerate()
            .map(|(column, (cell, width))| {
                if column < 2 {
                    format!("{cell:<width$}")
                } else {
                    format!("{cell:>width$}")
                }
            });
        let line: Vec<String> = cells.collect();
        let _ = writeln!(text, "{}", line.join("  ").trim_end());
    }
    if let Some(words) = rounding(estimate, budget) {
        let _ = writeln!(text, "\n{words}");
    }
}

/// What rounding every line by itself does to the cost, when it does anything.
pub(super) fn rounding(estimate: &Estimate, budget: &Budget) -> Option<String> {
    if budget.rounding == Money::ZERO {
        return None;
    }
    let currency = estimate.job.settings.currency.value;
    let (verb, to, sum) = if budget.rounding < Money::ZERO {
        ("takes", "off", Money::ZERO - budget.rounding)
    } else {
        ("adds", "to", budget.rounding)
    };
    let sum = currency.show(sum);
    Some(format!(
        "Each line is rounded by itself, which {verb} {sum} {to} the cost; totals are sums of what is printed."
    ))
}

/// Match that is asked for, indirect cost, and what there is of match, a sentence each.
pub(super) fn notes(estimate: &Estimate, budget: &Budget) -> Vec<String> {
    let mut notes = Vec::new();
    for funder in &budget.funders {
        let percent = |share: Decimal| share.saturating_mul(Decimal::ONE_HUNDRED).normalize();
        if let Some((share, base, asked)) = funder.asks {
            notes.push(format!(
                "{} asks for a match of {}% of the {}: {}",
                funder.name,
                percent(share),
                base.word(),
                show(estimate, budget, asked)
            ));
        }
        if !funder.rate.is_zero() {
            notes.push(format!(
                "Indirect cost from {}: {}% of a base of {} = {} ({})",
                funder.name,
                percent(funder.rate),
                show(estimate, budget, funder.base),
                show(estimate, budget, funder.indirect),
                funder.rules
            ));
        }
    }
    if let Some(matching) = &budget.matching {
        let short = match matching.short_hours.filter(|h| !h.is_zero()) {
            Some(hours) => format!(", or {} hours of volunteers", hours.normalize()),
            None => String::new(),
        };
        notes.push(format!(
            "There is {} in cash and {} in kind; {} is lacking{short}.",
            show(estimate, budget, matching.cash),
            show(estimate, budget, matching.in_kind),
            show(estimate, budget, matching.short)
        ));
    }
    notes
}

/// A paragraph for each class, with the number of its characters.
fn narrative(text: &mut String, estimate: &Estimate, budget: &Budget) {
    let _ = writeln!(text, "\nNarrative\n---------");
    let classes = budget.sums.iter().filter(|s| !s.mark.is_empty());
    for sum in classes {
        let paragraph = paragraph(estimate, budget, sum);
        if paragraph.is_empty() {
            continue;
        }
        let _ = writeln!(
            text,
            "\n{}. {} ({} characters)\n{paragraph}",
            sum.mark,
            sum.title,
            paragraph.chars().count()
        );
    }
    text.push('\n');
}

/// The narrative of a class: its lines, and what they come to; empty for a class without lines.
pub(super) fn paragraph(estimate: &Estimate, budget: &Budget, sum: &BudgetSum) -> String {
    let lines = budget.lines.iter().filter(|l| l.mark == sum.mark);
    let mut sentences: Vec<String> = lines.map(|l| l.narrative.clone()).collect();
    if sentences.is_empty() {
        return String::new();
    }
    sentences.push(format!(
        "{} in all: {}.",
        sum.title,
        show(estimate, budget, sum.total)
    ));
    sentences.join("\n")
}
