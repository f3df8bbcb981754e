//! `loamwright explain`: how a figure came about. Writes nothing.

use super::Exit;
use super::args::ExplainArgs;
use super::run::Session;
use super::told::told;
use crate::price::explain::{explain as find, names};
use crate::problem::Problem;
use crate::read::names::did_you_mean;
use crate::write::explain::{explain_json, explain_text};

/// Names that are listed where nothing was found.
const MOST_NAMES: usize = 12;

pub(super) fn explain(session: &mut Session, args: &ExplainArgs) -> Exit {
    let what = args.what.join(" ");
    let estimate = match told(session, &args.job()) {
        Ok(estimate) => estimate,
        Err(exit) => return exit,
    };
    let found = find(&estimate, &what);
    if found.is_empty() {
        let names = names(&estimate);
        let near = did_you_mean(&what, names.iter().map(String::as_str));
        let hint = near.map_or_else(
            || {
                let some: Vec<&str> = names.iter().map(|n| &**n).take(MOST_NAMES).collect();
                format!(
                    "ask about a line of the price, a bed, goods or a task: {} ...",
                    some.join(", ")
                )
            },
            |near| format!("did you mean {near}?"),
        );
        return session.wrong_command_line(&format!("nothing is called \"{what}\"; {hint}"));
    }
    if !args.talk.json {
        let text = explain_text(&found, session.streams.screen());
        session.streams.readable_result(&text);
        return Exit::Done;
    }
    match explain_json(&found) {
        Ok(text) => {
            session.streams.result(&text);
            Exit::Done
        }
        Err(e) => session.failed(&[Problem::bug(format!("the JSON cannot be made: {e}"))]),
    }
}
