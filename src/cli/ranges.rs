//! `loamwright ranges`: how far cost and price may lie. Writes nothing.

use std::num::NonZero;
use std::thread::available_parallelism;

use super::Exit;
use super::args::RangesArgs;
use super::progress::Progress;
use super::run::Session;
use super::told::told;
use crate::price::ranges::{Drawing, ranges as draw};
use crate::problem::Problem;
use crate::write::ranges::{ranges_json, ranges_text};

pub(super) fn ranges(session: &mut Session, args: &RangesArgs) -> Exit {
    let estimate = match told(session, &args.job) {
        Ok(estimate) => estimate,
        Err(exit) => return exit,
    };
    let progress = Progress::start(session.streams.shows_progress());
    progress.now("drawing");
    let drawing = Drawing {
        runs: args.runs,
        seed: args.seed,
        threads: available_parallelism().map_or(1, NonZero::get),
    };
    let drawn = draw(&estimate, drawing);
    drop(progress);
    let drawn = match drawn {
        Ok(drawn) => drawn,
        Err(words) => return session.failed(&[Problem::bug(words)]),
    };
    if args.talk.json {
        match ranges_json(&estimate, drawn.as_ref(), drawing) {
            Ok(text) => session.streams.result(&text),
            Err(e) => {
                let bug = Problem::bug(format!("the JSON cannot be made: {e}"));
                return session.failed(&[bug]);
            }
        }
    } else {
        let text = ranges_text(&estimate, drawn.as_ref(), session.streams.screen());
        session.streams.readable_result(&text);
    }
    Exit::Done
}
