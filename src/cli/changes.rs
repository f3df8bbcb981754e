//! `loamwright changes A B`: what differs between two jobs or estimates, and a change order for the client.

use std::path::Path;

use super::Exit;
use super::args::{ChangesArgs, JobArgs};
use super::priced::{Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::price::Estimate;
use crate::price::change_order::ChangeOrder;
use crate::price::changes::changes as between;
use crate::problem::{Problem, Severity};
use crate::write::change_order::change_order;
use crate::write::changes_text::all_changes_text;
use crate::write::json::changes_json;
use crate::write::single;
use crate::write::stage::Replacing;

pub(super) fn changes(session: &mut Session, args: &ChangesArgs) -> Exit {
    let before = match side(session, args, &args.before) {
        Ok(estimate) => estimate,
        Err(exit) => return exit,
    };
    let after = match side(session, args, &args.after) {
        Ok(estimate) => estimate,
        Err(exit) => return exit,
    };
    let [was, now] = [&before, &after].map(|e| e.job.settings.currency.value);
    if was != now {
        let said = format!(
            "the first is in {} and the second in {}: nothing can be compared",
            was.as_str(),
            now.as_str()
        );
        return session.failed(&[Problem::file(said)]);
    }
    let moved = between(&before, &after);
    if args.talk.json {
        match changes_json((&before, &after), &moved) {
            Ok(text) => session.streams.result(&text),
            Err(e) => {
                let bug = Problem::bug(format!("the JSON cannot be made: {e}"));
                return session.failed(&[bug]);
            }
        }
    } else {
        let screen = session.streams.screen();
        let text = all_changes_text(&moved, now, screen);
        session.streams.readable_result(&text);
    }
    let Some(path) = &args.order else {
        return Exit::Done;
    };
    let revision = after.job.settings.revision.as_ref();
    let revision = args.revision.clone().or(revision.map(ToString::to_string));
    let named = (args.number.clone(), revision.unwrap_or_default());
    let order = ChangeOrder::of(named, (&before, &after), &moved);
    if let Some(words) = before.not_complete().or_else(|| after.not_complete()) {
        return session.failed(&[Problem::file(format!(
            "no change order is written: {words}"
        ))]);
    }
    let replacing = if args.force {
        Replacing::Everything
    } else {
        Replacing::Ours
    };
    match single::put(path, change_order(&order).as_bytes(), replacing) {
        Ok(()) => {
            session.streams.talk(&format!("Written {}", path.display()));
            Exit::Done
        }
        Err(problem) => session.failed(&[*problem]),
    }
}

/// One of the two, priced as it stands; an estimate keeps what it chose.
fn side(session: &mut Session, args: &ChangesArgs, path: &Path) -> Result<Estimate, Exit> {
    let job = JobArgs {
        job: Some(path.to_owned()),
        beds: None,
        prices: None,
        date: args.date,
        hold: false,
        strict: false,
    };
    let source = match source(&job, session.stdin) {
        Ok(source) => source,
        Err(words) => return Err(session.wrong_command_line(&words)),
    };
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        (&job, Take::AsItStands),
        &source,
        &session.around,
        &progress,
        |_| Vec::new(),
    );
    drop(progress);
    if let Some(estimate) = priced.estimate {
        return Ok(estimate);
    }
    let mut errors = priced.problems;
    errors.retain(|p| p.severity == Severity::Error);
    session.streams.problems(&errors, &priced.sources);
    Err(session.ended(&errors))
}
