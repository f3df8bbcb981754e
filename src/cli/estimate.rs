//! `loamwright estimate`: prices a job and writes the outputs.

use std::path::PathBuf;

use super::Exit;
use super::args::EstimateArgs;
use super::outputs::{NAMES, write};
use super::priced::{Priced, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::{clash, default_folder, source};
use crate::price::Estimate;
use crate::problem::{Problem, Severity};
use crate::read::Source;
use crate::write::json::json;
use crate::write::stage::{Replacing, Written, survey};
use crate::write::summary::summary;

pub(super) fn estimate(session: &mut Session, args: &EstimateArgs) -> Exit {
    let source = match source(&args.job, session.stdin) {
        Ok(source) => source,
        Err(words) => return session.wrong_command_line(&words),
    };
    let replacing = if args.force {
        Replacing::Everything
    } else {
        Replacing::Ours
    };
    let mut folder = PathBuf::new();
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        &args.job,
        &source,
        &session.around,
        &progress,
        |job| {
            let default = || default_folder(&source, &job.settings.job_name);
            folder = args.out.clone().unwrap_or_else(default);
            obstacles(&source, &folder, replacing)
        },
    );
    let Some(estimate) = &priced.estimate else {
        drop(progress);
        return refused(session, &priced, args.job.strict);
    };
    progress.now("writing");
    let outcome = json(estimate)
        .map_err(|e| vec![Problem::bug(format!("the JSON cannot be made: {e}"))])
        .and_then(|text| {
            let written = write(session.pipeline, estimate, &text, &folder, replacing)?;
            Ok((text, written))
        });
    drop(progress);
    tell(session, &priced);
    match outcome {
        Ok((text, written)) => show(session, args, estimate, &text, &written),
        Err(problems) => session.failed(&problems),
    }
}

fn obstacles(source: &Source, folder: &std::path::Path, replacing: Replacing) -> Vec<Problem> {
    match clash(source, folder, &NAMES) {
        Some(problem) => vec![problem],
        None => survey(folder, &NAMES, replacing),
    }
}

/// Tells everything; nothing was written.
fn refused(session: &mut Session, priced: &Priced, strict: bool) -> Exit {
    session.streams.problems(&priced.problems, &priced.sources);
    let errors = match priced.count(Severity::Error) {
        1 => "1 error".to_owned(),
        n => format!("{n} errors"),
    };
    let counted = if strict {
        " (--strict counts cautions as errors)"
    } else {
        ""
    };
    session
        .streams
        .talk(&format!("{errors}{counted}; nothing was written"));
    session.ended(&priced.problems)
}

fn tell(session: &mut Session, priced: &Priced) {
    session.streams.problems(&priced.problems, &priced.sources);
    if let Some((date, from)) = priced.date {
        let words = from.words();
        session
            .streams
            .talk(&format!("date of the estimate: {date} ({words})"));
    }
}

fn show(
    session: &mut Session,
    args: &EstimateArgs,
    estimate: &Estimate,
    json: &str,
    written: &Written,
) -> Exit {
    let no_tables = crate::model::source::Sources::default();
    session.streams.problems(&written.notices, &no_tables);
    if args.talk.json {
        session.streams.result(json);
    } else {
        let text = summary(estimate, session.streams.screen(), Some(written));
        session.streams.readable_result(&text);
    }
    Exit::Done
}
