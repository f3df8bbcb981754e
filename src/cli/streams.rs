//! Standard output for results, standard error for talk.

use std::io::{self, Write};

use super::args::{ColorWhen, TalkArgs};
use super::telling::{Room, Screen, told};
use crate::model::source::Sources;
use crate::problem::{Problem, Severity};
use crate::write::paint::Paint;

/// One of the two streams of a process.
pub struct Stream<'a> {
    to: &'a mut dyn Write,
    is_terminal: bool,
    /// Set once the stream fails; nothing more is written to it then.
    failure: Option<io::Error>,
}

impl<'a> Stream<'a> {
    /// A stream, and whether it is a terminal.
    pub fn new(to: &'a mut dyn Write, is_terminal: bool) -> Self {
        Self {
            to,
            is_terminal,
            failure: None,
        }
    }

    fn write(&mut self, text: &str) {
        if self.failure.is_some() {
            return;
        }
        let written = self.to.write_all(text.as_bytes());
        self.failure = written.and_then(|()| self.to.flush()).err();
    }
}

/// Both streams and how to talk on them.
pub struct Streams<'a> {
    out: Stream<'a>,
    err: Stream<'a>,
    quiet: bool,
    /// Whether problems are told even where they do not fit on the screen.
    all: bool,
    screen: Screen,
    color: ColorWhen,
    /// Whether the surroundings want no colour.
    plain: bool,
}

impl<'a> Streams<'a> {
    /// Streams that talk as by default.
    pub fn new(out: Stream<'a>, err: Stream<'a>, plain: bool) -> Self {
        Self {
            out,
            err,
            quiet: false,
            all: false,
            screen: Screen::USUAL,
            color: ColorWhen::Auto,
            plain,
        }
    }

    /// The same on a terminal of this size.
    #[must_use]
    pub fn on_screen(mut self, screen: Screen) -> Self {
        self.screen = screen;
        self
    }

    /// Talks as the command line asks.
    pub fn set(&mut self, talk: TalkArgs) {
        self.quiet = talk.quiet;
        self.all = talk.all;
        self.color = talk.color;
    }

    /// Whether a progress line may be shown.
    pub fn shows_progress(&self) -> bool {
        self.err.is_terminal && !self.quiet
    }

    /// Colours for results.
    pub fn paint(&self) -> Paint {
        self.paint_on(self.out.is_terminal)
    }

    /// Columns that results may take: those of the terminal, and otherwise as many as fit anywhere.
    pub fn width(&self) -> usize {
        const ANYWHERE: usize = 80;
        let terminal = self.out.is_terminal.then(terminal_size::terminal_size);
        match terminal.flatten() {
            Some((width, _)) => usize::from(width.0).clamp(60, 140),
            None => ANYWHERE,
        }
    }

    /// A result.
    pub fn result(&mut self, text: &str) {
        self.out.write(text);
    }

    /// A result that `--quiet` hides, since it is for people.
    pub fn readable_result(&mut self, text: &str) {
        if !self.quiet {
            self.out.write(text);
        }
    }

    /// Talk; `text` without the line's end.
    pub fn talk(&mut self, text: &str) {
        if !self.quiet {
            self.err.write(&format!("{text}\n"));
        }
    }

    /// Something that went wrong; never hidden.
    pub fn complain(&mut self, text: &str) {
        self.err.write(&format!("{text}\n"));
    }

    /// Problems as talk.
    pub fn problems(&mut self, problems: &[Problem], sources: &Sources) {
        let text = self.told(problems, sources, self.err.is_terminal);
        self.err.write(&text);
    }

    /// Problems as the result of a command.
    pub fn problems_as_result(&mut self, problems: &[Problem], sources: &Sources) {
        let text = self.told(problems, sources, self.out.is_terminal);
        self.out.write(&text);
    }

    /// Why standard output failed, if it did. A reader that stopped reading is no failure.
    pub fn failure(&self) -> Option<&io::Error> {
        let failure = self.out.failure.as_ref();
        failure.filter(|error| error.kind() != io::ErrorKind::BrokenPipe)
    }

    fn told(&self, problems: &[Problem], sources: &Sources, on_terminal: bool) -> String {
        let mut shown = problems.to_vec();
        shown.retain(|p| !self.quiet || p.severity == Severity::Error);
        let room = match (on_terminal, self.all) {
            (false, _) => Room::Endless,
            (true, true) => Room::All(self.screen),
            (true, false) => Room::OneScreen(self.screen),
        };
        told(&shown, sources, room, self.paint_on(on_terminal))
    }

    fn paint_on(&self, is_terminal: bool) -> Paint {
        let is_coloured = match self.color {
            ColorWhen::Always => true,
            ColorWhen::Never => false,
            ColorWhen::Auto => is_terminal && !self.plain,
        };
        if is_coloured {
            Paint::Coloured
        } else {
            Paint::Plain
        }
    }
}
