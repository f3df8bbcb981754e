//! `loamwright suppliers`: suppliers side by side at landed cost. Writes nothing.

use super::Exit;
use super::args::SuppliersArgs;
use super::progress::Progress;
use super::run::Session;
use super::told::told;
use crate::price::suppliers::compare;
use crate::problem::Problem;
use crate::units::{Decimal, parse};
use crate::write::json::suppliers_json;
use crate::write::suppliers::{NOBODY, suppliers_text};

pub(super) fn suppliers(session: &mut Session, args: &SuppliersArgs) -> Exit {
    let within = match parse::percent(&args.within, parse::Commas::Thousands) {
        Ok(within) if within >= Decimal::ZERO && within <= Decimal::ONE => within,
        _ => {
            let words = "--within needs a percentage from 0% to 100%, as 3%";
            return session.wrong_command_line(words);
        }
    };
    let estimate = match told(session, &args.job) {
        Ok(estimate) => estimate,
        Err(exit) => return exit,
    };
    let progress = Progress::start(session.streams.shows_progress());
    progress.now("asking each supplier");
    let compared = compare(&estimate, within);
    drop(progress);
    let Some(compared) = compared else {
        session.streams.readable_result(NOBODY);
        return Exit::Done;
    };
    if !args.talk.json {
        let text = suppliers_text(&estimate, &compared, session.streams.screen());
        session.streams.readable_result(&text);
        return Exit::Done;
    }
    match suppliers_json(&estimate, &compared) {
        Ok(text) => {
            session.streams.result(&text);
            Exit::Done
        }
        Err(e) => session.failed(&[Problem::bug(format!("the JSON cannot be made: {e}"))]),
    }
}
