//! The estimate that a command without outputs works on; what is wrong with the job is told.

use super::Exit;
use super::args::JobArgs;
use super::priced::{Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::price::Estimate;
use crate::problem::Severity;

/// The estimate; cautions are counted and not told, as `check` tells them.
///
/// # Errors
/// The end of the run, after everything in the way was told.
pub(super) fn told(session: &mut Session, job: &JobArgs) -> Result<Estimate, Exit> {
    let source = match source(job, session.stdin) {
        Ok(source) => source,
        Err(words) => return Err(session.wrong_command_line(&words)),
    };
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        (job, Take::Whole),
        &source,
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
