//! The stages of the program in one call, as the command line puts them together.

use std::path::Path;

use jiff::civil::{Date, date};
use loamwright::buying::Held;
use loamwright::price::build::estimate;
use loamwright::price::{Estimate, with_alternates};
use loamwright::problem::{Problem, Severity};
use loamwright::read::{Source, library, read_job};
use loamwright::write::json::json;
use serde_json::Value;

/// The date of jobs that name none.
const TODAY: Date = date(2026, 5, 4);

/// Prices a job; everything that forbids a price is an error.
pub(crate) fn price(job: &Path, held: Option<&Held>) -> Result<Estimate, Vec<Problem>> {
    let library = library::builtin();
    let mut told = Vec::new();
    let loaded = read_job(&Source::Path(job.to_owned()), &library).keep(&mut told);
    let is_error = |p: &Problem| p.severity == Severity::Error;
    let Some(loaded) = loaded.filter(|_| !told.iter().any(is_error)) else {
        return Err(told);
    };
    let on = loaded.job.settings.date.as_ref().map_or(TODAY, |d| d.value);
    let priced = estimate(loaded.job, loaded.sources, &library, on, held);
    let priced = with_alternates(priced, loaded.alternates, |job, sources| {
        estimate(job, sources, &library, on, held)
    });
    match priced.output {
        Some(mut estimate) => {
            told.append(&mut estimate.problems);
            estimate.problems = told;
            Ok(estimate)
        }
        None => Err(priced.problems),
    }
}

/// The same, for a job that has a price.
#[track_caller]
pub(crate) fn priced(job: &Path) -> Estimate {
    price(job, None).unwrap_or_else(|problems| panic!("{}: {problems:#?}", job.display()))
}

/// The estimate as its JSON text.
pub(crate) fn text(estimate: &Estimate) -> String {
    json(estimate).unwrap()
}

/// The estimate as a tree.
pub(crate) fn tree(estimate: &Estimate) -> Value {
    serde_json::from_str(&text(estimate)).unwrap()
}
