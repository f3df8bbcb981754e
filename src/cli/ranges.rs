//! `loamwright ranges`: how far cost and price may lie. Writes nothing.

use std::num::NonZero;
use std::thread::available_parallelism;

use super::Exit;
use super::args::RangesArgs;
use super::priced::{Take, priced};
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use crate::price::ranges::{Drawing, ranges as draw};
use crate::problem::{Problem, Severity};
use crate::write::ranges::{ranges_json, ranges_text};

pub(super) fn ranges(session: &mut Session, args: &RangesArgs) -> Exit {
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
    let Some(estimate) = &priced.estimate else {
        drop(progress);
        session.streams.problems(&priced.problems, &priced.sources);
        return session.ended(&priced.problems);
    };
    progress.now("drawing");
    let drawing = Drawing {
        runs: args.runs,
        seed: args.seed,
        threads: available_parallelism().map_or(1, NonZero::get),
    };
    let drawn = draw(estimate, drawing);
    drop(progress);
    let drawn = match drawn {
        Ok(drawn) => drawn,
        Err(words) => return session.failed(&[Problem::bug(words)]),
    };
    let cautions = priced.count(Severity::Caution);
    if cautions > 0 {
        let noun = if cautions == 1 { "caution" } else { "cautions" };
        let words = format!("{cautions} {noun}: loamwright check tells them");
        session.streams.talk(&words);
    }
    if args.talk.json {
        match ranges_json(estimate, drawn.as_ref(), drawing) {
            Ok(text) => session.streams.result(&text),
            Err(e) => {
                let bug = Problem::bug(format!("the JSON cannot be made: {e}"));
                return session.failed(&[bug]);
            }
        }
    } else {
        let text = ranges_text(estimate, drawn.as_ref(), session.streams.screen());
        session.streams.readable_result(&text);
    }
    Exit::Done
}
