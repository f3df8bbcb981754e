//! `loamwright estimate`: prices a job and writes the outputs.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use super::Exit;
use super::args::EstimateArgs;
use super::outputs::{NAMES, Wanted, write};
use super::priced::{Priced, Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::{clash, default_folder, file_name, source};
use super::watch::watch;
use crate::model::sheet::Sheet;
use crate::price::Estimate;
use crate::price::changes::changes;
use crate::problem::{Fault, Problem, Severity};
use crate::read::Source;
use crate::write::changes_text::changes_text;
use crate::write::json::json;
use crate::write::letterhead::{self, Letterhead};
use crate::write::stage::{Replacing, Written, of_another_job, survey};
use crate::write::summary::summary;

pub(super) fn estimate(session: &mut Session, args: &EstimateArgs) -> Exit {
    if args.watch {
        watch(session, args)
    } else {
        once(session, args, None).0
    }
}

/// Estimates a job; with the estimate `before` it, tells what moved since and not everything again.
pub(super) fn once(
    session: &mut Session,
    args: &EstimateArgs,
    before: Option<&Estimate>,
) -> (Exit, Option<Estimate>) {
    let source = match source(&args.job, session.stdin) {
        Ok(source) => source,
        Err(words) => return (session.wrong_command_line(&words), None),
    };
    let letterhead = match letterhead(args) {
        Ok(letterhead) => letterhead,
        Err(problems) => return (session.failed(&problems), None),
    };
    let replacing = replacing(args);
    let take = if args.partial {
        Take::GoodPart
    } else {
        Take::Whole
    };
    let mut folder = PathBuf::new();
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        (&args.job, take),
        &source,
        &session.around,
        &progress,
        |job| {
            let default = || default_folder(&source, &job.settings.job_name);
            folder = args.out.clone().unwrap_or_else(default);
            obstacles(&source, &folder, args)
        },
    );
    let Some(estimate) = &priced.estimate else {
        drop(progress);
        return (refused(session, &priced, &source, args), None);
    };
    progress.now("writing");
    let wanted = Wanted {
        only: &args.only,
        letterhead: &letterhead,
    };
    let outcome = json(estimate)
        .map_err(|e| vec![Problem::bug(format!("the JSON cannot be made: {e}"))])
        .and_then(|text| {
            let written = write(
                session.pipeline,
                estimate,
                &text,
                (file_name(&source), &folder),
                (wanted, replacing),
            )?;
            Ok((text, written))
        });
    drop(progress);
    tell(session, &priced, before);
    match outcome {
        Ok((text, written)) => {
            show(session, args, (before, estimate), &text, &written);
            // An estimate of a part is written, and the input has problems all the same.
            (session.ended(&priced.problems), priced.estimate)
        }
        Err(problems) => (session.failed(&problems), None),
    }
}

fn letterhead(args: &EstimateArgs) -> Result<Letterhead, Vec<Problem>> {
    let folder = args.letterhead.as_deref();
    folder.map_or_else(|| Ok(Letterhead::default()), letterhead::read)
}

fn replacing(args: &EstimateArgs) -> Replacing {
    if args.force {
        Replacing::Everything
    } else {
        Replacing::Ours
    }
}

fn obstacles(source: &Source, folder: &Path, args: &EstimateArgs) -> Vec<Problem> {
    let clash = || clash(source, folder, &NAMES);
    // A folder that was asked for is replaced; one that two jobs only share by name is not.
    let is_shared = args.out.is_none() && !args.force;
    let other = file_name(source).filter(|_| is_shared);
    let other = other.and_then(|job| of_another_job(folder, &job));
    match other.or_else(clash) {
        Some(problem) => vec![problem],
        None => survey(folder, &NAMES, replacing(args)),
    }
}

/// Tells everything; nothing was written.
fn refused(session: &mut Session, priced: &Priced, source: &Source, args: &EstimateArgs) -> Exit {
    session.streams.problems(&priced.problems, &priced.sources);
    let errors = match priced.count(Severity::Error) {
        1 => "1 error".to_owned(),
        n => format!("{n} errors"),
    };
    let counted = if args.job.strict {
        " (--strict counts cautions as errors)"
    } else {
        ""
    };
    session
        .streams
        .talk(&format!("{errors}{counted}; nothing was written"));
    if !args.partial
        && !args.job.strict
        && let Some(words) = good_part(session, priced, source, args)
    {
        session.streams.talk(&words);
    }
    session.ended(&priced.problems)
}

/// What `--partial` would come to, when it would help: `8 of 10 beds are good: --partial prices them`.
fn good_part(
    session: &Session,
    priced_whole: &Priced,
    source: &Source,
    args: &EstimateArgs,
) -> Option<String> {
    let errors = priced_whole.problems.iter();
    let mut errors = errors.filter(|p| p.severity == Severity::Error);
    if !errors.all(|p| p.fault == Fault::Input) {
        return None;
    }
    let part = priced(
        session.pipeline,
        (&args.job, Take::GoodPart),
        source,
        &session.around,
        &Progress::start(false),
        |_| Vec::new(),
    );
    let job = part.estimate?.job;
    let (good, left) = (job.beds.len(), job.left_out.iter());
    let left = left.filter(|row| row.sheet == Sheet::Beds).count();
    let beds = match (good, left) {
        (1, 0) => "the bed is good".to_owned(),
        (_, 0) => format!("all {good} beds are good"),
        (1, _) => format!("1 of {} beds is good", left.saturating_add(1)),
        _ => format!("{good} of {} beds are good", good.saturating_add(left)),
    };
    Some(format!(
        "{beds}: --partial prices what is good and leaves out the rest"
    ))
}

/// What was told with the estimate before is not told again.
fn tell(session: &mut Session, priced: &Priced, before: Option<&Estimate>) {
    if let Some(before) = before {
        let told: BTreeSet<&str> = before.problems.iter().map(|p| &*p.sentence).collect();
        let mut problems = priced.problems.clone();
        problems.retain(|p| p.severity == Severity::Error || !told.contains(&*p.sentence));
        session.streams.problems(&problems, &priced.sources);
        return;
    }
    session.streams.problems(&priced.problems, &priced.sources);
    if let Some((date, from)) = priced.date {
        let words = from.words();
        session
            .streams
            .talk_wrapped(&format!("date of the estimate: {date} ({words})"));
    }
}

fn show(
    session: &mut Session,
    args: &EstimateArgs,
    (before, estimate): (Option<&Estimate>, &Estimate),
    json: &str,
    written: &Written,
) {
    let no_tables = crate::model::source::Sources::default();
    session.streams.problems(&written.notices, &no_tables);
    if args.talk.json {
        session.streams.result(json);
        return;
    }
    let screen = session.streams.screen();
    let currency = estimate.job.settings.currency.value;
    let before = before.filter(|before| before.job.settings.currency.value == currency);
    let text = match before {
        Some(before) => changes_text(&changes(before, estimate), currency, screen),
        None => summary(estimate, screen, Some(written)),
    };
    session.streams.readable_result(&text);
}
