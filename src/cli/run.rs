//! From a command line to an exit code.

use std::ffi::OsString;
use std::io::Read;
use std::path::Path;

use clap::{CommandFactory, Parser};
use jiff::civil::Date;
use rust_xlsxwriter::XlsxError;

use super::Exit;
use super::args::{Args, ColorWhen, Command, TalkArgs};
use super::bug::BUG;
use super::clock::Surroundings;
use super::completions::completions;
use super::defaults::defaults;
use super::help::FIRST_STEPS;
use super::manual::manual;
use super::streams::Streams;
use super::{changes, check, estimate, explain, ranges, start, stretch, suppliers};
use crate::model::source::Sources;
use crate::price::build::{estimate, estimate_good_part};
use crate::price::stretch::{Stretch, stretch as stretch_job};
use crate::price::{Estimate, estimate_anew, estimate_holding, with_alternates};
use crate::problem::{Problem, Staged};
use crate::read::names::did_you_mean;
use crate::read::{Loaded, Source, library, read_good_part, read_job};
use crate::units::Money;
use crate::write::json::schema;
use crate::write::xlsx::{WriteError, workbook};

/// The stages that commands put together. Tests put others in their place.
#[derive(Clone, Copy)]
pub struct Pipeline {
    /// From a place to a job.
    pub read: fn(&Source) -> Staged<Option<Loaded>>,
    /// From a job to its price on a date.
    pub price: fn(Loaded, Date) -> Staged<Option<Estimate>>,
    /// The same, with the choices of the estimate that the job was read from.
    pub price_holding: fn(Loaded, Date) -> Staged<Option<Estimate>>,
    /// As `read`, without what has errors.
    pub read_good_part: fn(&Source) -> Staged<Option<Loaded>>,
    /// As `price`, without what has errors.
    pub price_good_part: fn(Loaded, Date) -> Staged<Option<Estimate>>,
    /// From a job and a sum of money to how far it goes.
    pub stretch: fn(Loaded, Date, Money) -> Result<Stretch, Vec<Problem>>,
    /// From an estimate to the bytes of its workbook.
    pub workbook: fn(&Estimate) -> Result<Vec<u8>, Box<Problem>>,
}

/// What a process brings.
pub struct Process<'a> {
    /// Words of the command line, the program's name first.
    pub args: Vec<OsString>,
    /// Clock and environment; in words what is wrong with them.
    pub around: Result<Surroundings, String>,
    /// Standard input.
    pub stdin: &'a mut dyn Read,
    /// Standard output and standard error.
    pub streams: Streams<'a>,
}

/// A run of one command.
pub(super) struct Session<'a> {
    pub(super) pipeline: &'a Pipeline,
    pub(super) around: Surroundings,
    pub(super) stdin: &'a mut dyn Read,
    pub(super) streams: Streams<'a>,
}

/// Runs one command.
pub fn run<'a>(pipeline: &'a Pipeline, mut process: Process<'a>) -> Exit {
    if process.args.len() <= 1 {
        process.streams.complain(FIRST_STEPS.trim_end());
        return Exit::CommandLine;
    }
    let args = match Args::try_parse_from(&process.args) {
        Ok(args) => args,
        Err(error) => {
            // What follows a mistyped command is wrong only because of it.
            let first = process.args.get(1).map(Path::new);
            return match first.and_then(mistyped_command) {
                Some(words) if error.use_stderr() => {
                    process.streams.complain(&format!("error: {words}"));
                    Exit::CommandLine
                }
                _ => told_by_parser(&mut process.streams, &error),
            };
        }
    };
    let around = match process.around {
        Ok(around) => around,
        Err(words) => {
            process.streams.complain(&format!("error: {words}"));
            return Exit::CommandLine;
        }
    };
    let mut session = Session {
        pipeline,
        around,
        stdin: process.stdin,
        streams: process.streams,
    };
    let exit = session.command(&args);
    session.after(exit)
}

/// Help and version are results; anything else is a wrong command line.
fn told_by_parser(streams: &mut Streams, error: &clap::Error) -> Exit {
    let text = error.render().to_string();
    if error.use_stderr() {
        streams.complain(text.trim_end());
        Exit::CommandLine
    } else {
        streams.result(&text);
        Exit::Done
    }
}

impl Session<'_> {
    fn command(&mut self, args: &Args) -> Exit {
        match &args.command {
            None => match args.plain.job.job.as_deref().and_then(mistyped_command) {
                Some(words) => self.wrong_command_line(&words),
                None => self.talking(args.plain.talk, |s| estimate::estimate(s, &args.plain)),
            },
            Some(Command::Estimate(args)) => {
                self.talking(args.talk, |s| estimate::estimate(s, args))
            }
            Some(Command::Check(args)) => self.talking(args.talk, |s| check::check(s, args)),
            Some(Command::Explain(args)) => self.talking(args.talk, |s| explain::explain(s, args)),
            Some(Command::Ranges(args)) => self.talking(args.talk, |s| ranges::ranges(s, args)),
            Some(Command::Suppliers(args)) => {
                self.talking(args.talk, |s| suppliers::suppliers(s, args))
            }
            Some(Command::Stretch(args)) => self.talking(args.talk, |s| stretch::stretch(s, args)),
            Some(Command::Start(args)) => {
                let talk = TalkArgs {
                    json: false,
                    quiet: args.quiet,
                    all: false,
                    color: ColorWhen::Auto,
                };
                self.talking(talk, |s| start::start(s, args))
            }
            Some(Command::Changes(args)) => self.talking(args.talk, |s| changes::changes(s, args)),
            Some(Command::Schema) => self.schema(),
            Some(Command::Defaults(args)) => defaults(self, args),
            Some(Command::Completions { shell }) => completions(self, *shell),
            Some(Command::Manual(args)) => manual(self, args),
        }
    }

    fn talking(&mut self, talk: TalkArgs, command: impl FnOnce(&mut Self) -> Exit) -> Exit {
        self.streams.set(talk);
        command(self)
    }

    fn schema(&mut self) -> Exit {
        match schema() {
            Ok(text) => {
                self.streams.result(&text);
                Exit::Done
            }
            Err(e) => self.failed(&[Problem::bug(format!("the schema cannot be made: {e}"))]),
        }
    }

    /// Tells what is wrong with the command line.
    pub(super) fn wrong_command_line(&mut self, words: &str) -> Exit {
        self.streams.complain(&format!("error: {words}"));
        Exit::CommandLine
    }

    /// Tells problems that no table holds.
    pub(super) fn failed(&mut self, problems: &[Problem]) -> Exit {
        self.streams.problems(problems, &Sources::default());
        self.ended(problems)
    }

    /// The end of a run that told these problems.
    pub(super) fn ended(&mut self, problems: &[Problem]) -> Exit {
        let exit = Exit::after(problems);
        if exit == Exit::Bug {
            self.streams
                .complain(&format!("This is {BUG}, not a mistake in your file."));
        }
        exit
    }

    /// A result that could not be printed is a failure of its own.
    fn after(&mut self, exit: Exit) -> Exit {
        let Some(failure) = self.streams.failure() else {
            return exit;
        };
        let words = format!("error: cannot write to standard output: {failure}");
        self.streams.complain(&words);
        match exit {
            Exit::Done => Exit::Problems,
            other => other,
        }
    }
}

/// Words about a first word that is neither a file nor a command: it was meant as a command.
fn mistyped_command(first: &Path) -> Option<String> {
    let word = first
        .to_str()
        .filter(|w| !w.starts_with('-') && !w.contains(['.', '/', '\\']))?;
    let program = Args::command();
    let mut commands = program.get_subcommands().map(clap::Command::get_name);
    if first.exists() || word == "help" || commands.any(|name| name == word) {
        return None;
    }
    let commands = program.get_subcommands().map(clap::Command::get_name);
    let near = did_you_mean(word, commands).map(|near| format!(": did you mean {near}?"));
    let near = near.unwrap_or_else(|| "; see loamwright --help".to_owned());
    Some(format!("\"{word}\" is neither a command nor a file{near}"))
}

/// The stages of this program.
pub const PIPELINE: Pipeline = Pipeline {
    read: |source| read_job(source, &library::builtin()),
    price: |loaded, date| {
        let library = library::builtin();
        let alternates = loaded.alternates;
        let base = match &loaded.choices {
            Some(made) => estimate_anew(loaded.job, loaded.sources, &library, date, made),
            None => estimate(loaded.job, loaded.sources, &library, date, None),
        };
        with_alternates(base, alternates, |job, sources| {
            estimate(job, sources, &library, date, None)
        })
    },
    price_holding: |loaded, date| {
        let made = loaded.choices.unwrap_or_default();
        let library = library::builtin();
        let base = estimate_holding(loaded.job, loaded.sources, &library, date, &made);
        with_alternates(base, loaded.alternates, |job, sources| {
            estimate_holding(job, sources, &library, date, &made)
        })
    },
    read_good_part: |source| read_good_part(source, &library::builtin()),
    price_good_part: |loaded, date| {
        estimate_good_part(loaded.job, &loaded.sources, &library::builtin(), date)
    },
    stretch: |loaded, date, budget| {
        let library = library::builtin();
        let job = (&loaded.job, &loaded.sources);
        stretch_job(job, &loaded.alternates, budget, &|job, sources| {
            estimate(job, sources, &library, date, None)
        })
    },
    workbook: |estimate| workbook(estimate).map_err(|e| Box::new(refused(&e))),
};

/// A disk can be full; anything else that the writer refuses came from this program, not from the job.
fn refused(error: &WriteError) -> Problem {
    match error {
        WriteError::Workbook(XlsxError::IoError(_)) => Problem::file(error.to_string()),
        _ => Problem::bug(error.to_string()),
    }
}
