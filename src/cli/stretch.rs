//! `loamwright stretch`: how many beds a sum of money builds. Writes nothing.

use super::Exit;
use super::args::StretchArgs;
use super::progress::Progress;
use super::run::Session;
use super::source::source;
use super::told::told_of;
use crate::problem::{Problem, Severity};
use crate::read::Loaded;
use crate::units::{Money, parse};
use crate::write::stretch::{stretch_json, stretch_text};

pub(super) fn stretch(session: &mut Session, args: &StretchArgs) -> Exit {
    let source = match source(&args.job, session.stdin) {
        Ok(source) => source,
        Err(words) => return session.wrong_command_line(&words),
    };
    if args.job.hold {
        let words = "--hold keeps the choices of one job, and stretch prices many: leave it out";
        return session.wrong_command_line(words);
    }
    // The whole job first: what is wrong with it, and what --strict counts, is told as everywhere.
    if let Err(exit) = told_of(session, &args.job, &source) {
        return exit;
    }
    let progress = Progress::start(session.streams.shows_progress());
    progress.now("reading");
    let mut problems = Vec::new();
    let loaded = (session.pipeline.read)(&source).keep(&mut problems);
    let is_wrong = problems.iter().any(|p| p.severity == Severity::Error);
    let Some(loaded) = loaded else {
        drop(progress);
        return session.failed(&problems);
    };
    if is_wrong {
        drop(progress);
        session.streams.problems(&problems, &loaded.sources);
        return session.ended(&problems);
    }
    let budget = match budget(&args.budget, &loaded) {
        Ok(budget) => budget,
        Err(words) => {
            drop(progress);
            return session.wrong_command_line(&words);
        }
    };
    let settings = &loaded.job.settings;
    let (name, currency) = (settings.job_name.clone(), settings.currency.value);
    let in_job = settings.date.as_ref().map(|d| d.value);
    let date = session.around.date(args.job.date, in_job).0;
    let sources = loaded.sources.clone();
    progress.now("pricing bed by bed");
    let stretched = (session.pipeline.stretch)(loaded, date, budget);
    drop(progress);
    let stretched = match stretched {
        Ok(stretched) => stretched,
        Err(problems) => {
            session.streams.problems(&problems, &sources);
            return session.ended(&problems);
        }
    };
    if !args.talk.json {
        let text = stretch_text(&name, currency, &stretched, session.streams.screen());
        session.streams.readable_result(&text);
        return Exit::Done;
    }
    match stretch_json(&name, currency, &stretched) {
        Ok(text) => {
            session.streams.result(&text);
            Exit::Done
        }
        Err(e) => session.failed(&[Problem::bug(format!("the JSON cannot be made: {e}"))]),
    }
}

/// The sum, which may have the sign or the code of the job's currency and no other.
fn budget(text: &str, loaded: &Loaded) -> Result<Money, String> {
    let asks = "write the sum as 12500 or 12,500.00";
    let number = parse::money(text, parse::Commas::Thousands)
        .map_err(|wrong| format!("--budget: {}; {asks}", wrong.sentence))?;
    let currency = loaded.job.settings.currency.value;
    let named = parse::currencies(text);
    if !named.is_empty() && !named.contains(&currency.as_str()) {
        return Err(format!(
            "--budget: the job is in {}, and \"{text}\" is not",
            currency.as_str()
        ));
    }
    if number.is_sign_negative() {
        return Err(format!("--budget: the sum is below zero; {asks}"));
    }
    Ok(currency.round_line(number))
}
