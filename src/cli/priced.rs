//! From the arguments of a command to a priced job and everything there is to tell about it.

use std::collections::BTreeSet;

use super::args::JobArgs;
use super::clock::{DateFrom, Surroundings};
use super::progress::Progress;
use super::run::Pipeline;
use crate::model::job::Job;
use crate::model::source::{RowAt, Sources};
use crate::price::Estimate;
use crate::problem::{Problem, Severity, Staged};
use crate::read::Source;
use jiff::civil::Date;

/// How much of a job is priced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Take {
    /// All of it, or nothing.
    Whole,
    /// All of it, or nothing; an estimate that is read keeps what it chose.
    AsItStands,
    /// What is good; what has errors is left out.
    GoodPart,
}

/// What came of a job.
pub(super) struct Priced {
    /// The estimate, unless there are errors.
    pub(super) estimate: Option<Estimate>,
    /// The tables, for places.
    pub(super) sources: Sources,
    /// Everything to tell, errors first, each thing once.
    pub(super) problems: Vec<Problem>,
    /// The date of the estimate and who set it.
    pub(super) date: Option<(Date, DateFrom)>,
}

impl Priced {
    /// How many problems weigh so much.
    pub(super) fn count(&self, severity: Severity) -> usize {
        let all = self.problems.iter();
        all.filter(|p| p.severity == severity).count()
    }
}

/// Reads and prices a job. `before_pricing` may object once the job's name is known and before
/// anything is computed.
pub(super) fn priced(
    pipeline: &Pipeline,
    (args, take): (&JobArgs, Take),
    source: &Source,
    around: &Surroundings,
    progress: &Progress,
    before_pricing: impl FnOnce(&Job) -> Vec<Problem>,
) -> Priced {
    progress.now("reading");
    let read = match take {
        Take::Whole | Take::AsItStands => (pipeline.read)(source),
        Take::GoodPart => (pipeline.read_good_part)(source),
    };
    let mut problems = Vec::new();
    let Some(loaded) = read.keep(&mut problems) else {
        return finished(
            None,
            Sources::default(),
            problems,
            None,
            (args.strict, take),
        );
    };
    let can_price = is_error_free(&problems, &loaded.job);
    let sources = loaded.sources.clone();
    let in_job = loaded.job.settings.date.as_ref().map(|d| d.value);
    let date = around.date(args.date, in_job);
    let mut objections = before_pricing(&loaded.job);
    if args.hold && loaded.choices.is_none() {
        objections.push(
            Problem::file("--hold keeps what an estimate chose, and this job is no estimate")
                .hint("give an estimate.xlsx that this program wrote, or leave --hold out"),
        );
    }
    let is_free = objections.is_empty();
    problems.extend(objections);
    let estimate = if can_price && is_free {
        progress.now("taking off and pricing");
        let holds = args.hold || (take == Take::AsItStands && loaded.choices.is_some());
        let price = match (take, holds) {
            (Take::GoodPart, _) => pipeline.price_good_part,
            (_, true) => pipeline.price_holding,
            (_, false) => pipeline.price,
        };
        let priced: Staged<Option<Estimate>> = price(loaded, date.0);
        priced.keep(&mut problems)
    } else {
        None
    };
    finished(estimate, sources, problems, Some(date), (args.strict, take))
}

/// Whether every error is in a row that is left out.
fn is_error_free(problems: &[Problem], job: &Job) -> bool {
    let left_out: BTreeSet<RowAt> = job.left_out.iter().map(|left| left.at).collect();
    let mut errors = problems.iter().filter(|p| p.severity == Severity::Error);
    errors.all(|p| p.spot.is_some_and(|spot| left_out.contains(&spot.row)))
}

fn finished(
    estimate: Option<Estimate>,
    sources: Sources,
    mut problems: Vec<Problem>,
    date: Option<(Date, DateFrom)>,
    (strict, take): (bool, Take),
) -> Priced {
    if let Some(estimate) = &estimate {
        problems.extend(estimate.problems.iter().cloned());
    }
    let mut problems = each_once(problems);
    let is_explained = problems.iter().any(|p| p.severity == Severity::Error);
    if estimate.is_none() && !is_explained {
        problems.push(Problem::bug(
            "the job came to no estimate, and no step said why",
        ));
    }
    // The outputs tell what every stage said, reading included.
    let estimate = estimate.map(|estimate| Estimate {
        problems: without_errors(&problems),
        ..estimate
    });
    let is_in_the_way = |p: &Problem| match (take, p.severity) {
        (Take::Whole | Take::AsItStands, Severity::Error) => true,
        // What errors are about is left out of the estimate; nothing is left out for a caution.
        (_, Severity::Caution) => strict,
        _ => false,
    };
    let has_errors = problems.iter().any(is_in_the_way);
    if strict {
        promote_cautions(&mut problems);
    }
    problems.sort_by_key(|p| p.severity);
    Priced {
        estimate: estimate.filter(|_| !has_errors),
        sources,
        problems,
        date,
    }
}

fn without_errors(problems: &[Problem]) -> Vec<Problem> {
    let mut kept: Vec<Problem> = problems.to_vec();
    kept.retain(|p| p.severity != Severity::Error);
    kept.sort_by_key(|p| p.severity);
    kept
}

/// What `--strict` does: notices stay, since they only tell what was done on the user's behalf.
fn promote_cautions(problems: &mut [Problem]) {
    for problem in problems {
        if problem.severity == Severity::Caution {
            problem.severity = Severity::Error;
        }
    }
}

/// What two stages both tell is told once.
fn each_once(problems: Vec<Problem>) -> Vec<Problem> {
    type Key = (
        Severity,
        String,
        Option<(RowAt, &'static str)>,
        Option<String>,
    );
    let mut told: BTreeSet<Key> = BTreeSet::new();
    let mut kept = Vec::with_capacity(problems.len());
    for problem in problems {
        let spot = problem.spot.map(|s| (s.row, s.field));
        let key = (
            problem.severity,
            problem.sentence.clone(),
            spot,
            problem.place.clone(),
        );
        if told.insert(key) {
            kept.push(problem);
        }
    }
    kept
}
