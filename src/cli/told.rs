//! The estimate that a command without outputs works on; what is wrong with the job is told.

use super::Exit;
use super::args::JobArgs;
use super::priced::{Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::price::Estimate;
use crate::problem::Severity;
use crate::read::Source;

/// The estimate; cautions are counted and not told, as `check` tells them.
///
/// # Errors
/// The end of the run, after everything in the way was told.
pub(super) fn told(session: &mut Session, job: &JobArgs) -> Result<Estimate, Exit> {
    match source(job, session.stdin) {
        Ok(source) => told_of(session, job, &source),
        Err(words) => Err(session.wrong_command_line(&words)),
    }
}

/// The same of a source that is read already.
///
/// # Errors
/// As [`told`].
pub(super) fn told_of(
    session: &mut Session,
    job: &JobArgs,
    source: &Source,
) -> Result<Estimate, Exit> {
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        (job, Take::Whole),
        source,
        &session.around,
        &progress,
        |_| Vec::new(),
    );
    drop(progress);
    let cautions = priced.count(Severity::Caution);
    let Some(estimate) = priced.estimate else {
        session.streams.problems(&priced.problems, &priced.sources);
        return Err(session.ended(&priced.problems));
    };
    if cautions > 0 {
        let noun = if cautions == 1 { "caution" } else { "cautions" };
        let words = format!("{cautions} {noun}: loamwright check tells them");
        session.streams.talk(&words);
    }
    Ok(estimate)
}
