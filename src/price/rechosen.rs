//! Estimates read back: with the choices that they made, or chosen anew, with what that changed.

use jiff::civil::Date;

use super::Estimate;
use super::build::estimate;
use super::changes::{Met, Moved, met_otherwise};
use crate::buying::recall;
use crate::model::choices::Choice;
use crate::model::job::Job;
use crate::model::library::Library;
use crate::model::source::Sources;
use crate::problem::{Problem, Severity, Staged};
use crate::units::Money;

/// What choosing anew changed in an estimate that was read back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rechosen {
    /// The price if the choices of the earlier estimate were kept.
    pub kept: Money,
    /// The price now.
    pub now: Money,
    /// Needs that are met in another way.
    pub choices: Vec<Moved<Met>>,
}

/// Prices a job with the choices of the estimate that it was read from.
pub fn estimate_holding(
    job: Job,
    sources: Sources,
    library: &Library,
    date: Date,
    choices: &[Choice],
) -> Staged<Option<Estimate>> {
    let (held, lost) = recall(&job, choices);
    let mut staged = estimate(job, sources, library, date, Some(&held));
    let notices = lost.into_iter().map(|what| {
        Problem::notice(format!(
            "{what} was chosen before and is not in the job any more, so it was chosen anew"
        ))
    });
    let notices: Vec<Problem> = notices.collect();
    if let Some(estimate) = &mut staged.output {
        estimate.problems.extend(notices.iter().cloned());
    }
    staged.problems.extend(notices);
    staged
}

/// Prices a job that was read from an estimate with its choices made anew, and tells what that changed.
pub fn estimate_anew(
    job: Job,
    sources: Sources,
    library: &Library,
    date: Date,
    choices: &[Choice],
) -> Staged<Option<Estimate>> {
    let kept = estimate_holding(job.clone(), sources.clone(), library, date, choices);
    let mut staged = estimate(job, sources, library, date, None);
    let is_sound = kept.problems.iter().all(|p| p.severity != Severity::Error);
    if let (Some(kept), Some(now), true) = (kept.output, &mut staged.output, is_sound) {
        let choices = met_otherwise(&kept, now);
        now.rechosen = (!choices.is_empty()).then_some(Rechosen {
            kept: kept.price.total,
            now: now.price.total,
            choices,
        });
    }
    staged
}
