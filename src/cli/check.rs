//! `loamwright check`: tells every problem and caution, writes nothing but the marked copy that is asked
//! for. What it tells is its result.

use super::Exit;
use super::args::CheckArgs;
use super::mark::mark;
use super::priced::{Priced, Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::problem::{Problem, Severity};
use crate::write::json::problems_json;

pub(super) fn check(session: &mut Session, args: &CheckArgs) -> Exit {
    let source = match source(&args.job, session.stdin) {
        Ok(source) => source,
        Err(words) => return session.wrong_command_line(&words),
    };
    let progress = Progress::start(session.streams.shows_progress());
    let priced = priced(
        session.pipeline,
        (&args.job, Take::Whole),
        &source,
        &session.around,
        &progress,
        |_| Vec::new(),
    );
    drop(progress);
    if args.talk.json {
        match problems_json(&priced.problems, &priced.sources) {
            Ok(text) => session.streams.result(&text),
            Err(e) => {
                let bug = Problem::bug(format!("the JSON cannot be made: {e}"));
                return session.failed(&[bug]);
            }
        }
    } else {
        let streams = &mut session.streams;
        streams.problems_as_result(&priced.problems, &priced.sources);
        streams.readable_result(&counts(&priced));
    }
    if args.mark.is_some() {
        match mark(&source, args, &priced) {
            Ok(words) if args.talk.json => session.streams.talk(&words),
            Ok(words) => session.streams.readable_result(&format!("{words}\n")),
            Err(problems) => return session.failed(&problems),
        }
    }
    session.ended(&priced.problems)
}

/// `2 errors, 1 caution, no notices`.
fn counts(priced: &Priced) -> String {
    let part = |severity, one: &str| match priced.count(severity) {
        0 => format!("no {one}s"),
        1 => format!("1 {one}"),
        n => format!("{n} {one}s"),
    };
    format!(
        "{}, {}, {}\n",
        part(Severity::Error, "error"),
        part(Severity::Caution, "caution"),
        part(Severity::Notice, "notice")
    )
}
