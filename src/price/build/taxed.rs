//! The categories that carry sales tax when the mode of the job is by category.

use jiff::civil::Date;

use crate::model::job::Job;
use crate::model::known::{From, Known};
use crate::model::library::folded;
use crate::model::settings::TaxMode;
use crate::problem::Problem;
use crate::units::{Decimal, show};

/// Lines of the price that a category stands for: key of the line, name of its category.
pub(super) const CATEGORIES: [(&str, &str); 8] = [
    ("materials", "Materials"),
    ("delivery", "Delivery"),
    ("labour", "Labour"),
    ("labour_charged", "Labour"),
    ("equipment", "Equipment"),
    ("other", "Other"),
    ("allowances", "Allowances"),
    ("pass_through", "Pass-through"),
];

/// Whether the job names a category.
pub(super) fn is_taxed(job: &Job, category: &str) -> bool {
    let wanted = folded(category);
    let mut named = job.settings.taxed_categories.iter();
    named.any(|name| folded(name) == wanted)
}

/// What is wrong with the categories: tax by category without one would silently be no tax.
pub(super) fn messages(job: &Job) -> Vec<Problem> {
    let mode = &job.settings.tax_mode;
    if mode.value != TaxMode::OnCategories {
        return Vec::new();
    }
    let named = &job.settings.taxed_categories;
    if named.is_empty() {
        let words = "Tax mode is on categories, and Taxed categories names none";
        return vec![told(mode, words.to_owned())];
    }
    let is_known = |name: &str| {
        CATEGORIES
            .iter()
            .any(|(_, known)| folded(known) == folded(name))
    };
    let unknown = named.iter().filter(|name| !is_known(name));
    unknown
        .map(|name| {
            told(
                mode,
                format!("Taxed categories names {name}, which is none of them"),
            )
        })
        .collect()
}

fn told(mode: &Known<TaxMode>, words: String) -> Problem {
    let mut names: Vec<&str> = CATEGORIES.iter().map(|(_, name)| *name).collect();
    names.dedup();
    let problem = Problem::error(words).hint(format!(
        "add a row Taxed categories to Job with some of {}",
        names.join("; ")
    ));
    match mode.from {
        From::Job(row, field) => problem.at(row, field),
        _ => problem,
    }
}

/// A notice when another rate comes into force while the price holds.
pub(super) fn to_come(job: &Job, day: Date, holds: Date) -> Option<Problem> {
    let new = job.settings.quote.new_tax.as_ref()?;
    let from = new.from.value;
    if from <= day || from > holds || job.settings.tax_mode.value == TaxMode::None {
        return None;
    }
    let share = |rate: Decimal| {
        format!(
            "{}%",
            show::plain(rate.saturating_mul(Decimal::ONE_HUNDRED), 4)
        )
    };
    let words = format!(
        "tax is {} from {from}, and this price, which holds until {holds}, is worked out with {}",
        share(new.rate.value),
        share(job.settings.tax.value)
    );
    let notice =
        Problem::notice(words).hint("shorten Valid days, or price what is built later anew");
    Some(match new.from.from {
        From::Job(row, field) => notice.at(row, field),
        _ => notice,
    })
}
