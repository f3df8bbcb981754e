//! Standard output for results, standard error for talk.

use std::io::{self, Write};

use super::args::{ColorWhen, TalkArgs};
use super::telling::{Room, told};
use crate::model::source::Sources;
use crate::problem::{Problem, Severity};
use crate::write::columns::wrap;
use crate::write::paint::Paint;
use crate::write::screen::Screen;

/// One of the two streams of a process.
pub struct Stream<'a> {
    to: &'a mut dyn Write,
    is_terminal: bool,
    /// Columns and lines, where they are known.
    size: Option<(u16, u16)>,
    /// Set once the stream fails; nothing more is written to it then.
    failure: Option<io::Error>,
}

impl<'a> Stream<'a> {
    /// A stream, and whether it is a terminal.
    pub fn new(to: &'a mut dyn Write, is_terminal: bool) -> Self {
        Self {
            to,
            is_terminal,
            size: None,
            failure: None,
        }
    }

    /// The same, of this many columns and lines.
    #[must_use]
    pub fn sized(self, size: Option<(u16, u16)>) -> Self {
        Self { size, ..self }
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
    color: ColorWhen,
    /// What the surroundings say about colour; `--color` wins over them.
    around: ColorWhen,
}

impl<'a> Streams<'a> {
    /// Streams that talk as by default.
    pub fn new(out: Stream<'a>, err: Stream<'a>, around: ColorWhen) -> Self {
        Self {
            out,
            err,
            quiet: false,
            all: false,
            color: ColorWhen::Auto,
            around,
        }
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

    /// The screen for results.
    pub fn screen(&self) -> Screen {
        Screen::of(self.paint(), self.out.size)
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

    /// Talk that wraps between words on a terminal; what goes on is indented.
    pub fn talk_wrapped(&mut self, text: &str) {
        let columns = if self.err.is_terminal {
            Screen::of(Paint::Plain, self.err.size).width
        } else {
            usize::MAX
        };
        self.talk(&wrap(text, columns, "  ").join("\n"));
    }

    /// Something that went wrong; never hidden.
    pub fn complain(&mut self, text: &str) {
        self.err.write(&format!("{text}\n"));
    }

    /// Problems as talk.
    pub fn problems(&mut self, problems: &[Problem], sources: &Sources) {
        let text = self.told(problems, sources, &self.err);
        self.err.write(&text);
    }

    /// Problems as the result of a command.
    pub fn problems_as_result(&mut self, problems: &[Problem], sources: &Sources) {
        let text = self.told(problems, sources, &self.out);
        self.out.write(&text);
    }

    /// Why standard output failed, if it did. A reader that stopped reading is no failure.
    pub fn failure(&self) -> Option<&io::Error> {
        let failure = self.out.failure.as_ref();
        failure.filter(|error| error.kind() != io::ErrorKind::BrokenPipe)
    }

    fn told(&self, problems: &[Problem], sources: &Sources, on: &Stream<'_>) -> String {
        let mut shown = problems.to_vec();
        shown.retain(|p| !self.quiet || p.severity == Severity::Error);
        let screen = Screen::of(self.paint_on(on.is_terminal), on.size);
        let room = match (on.is_terminal, self.all) {
            (false, _) => Room::Endless,
            (true, true) => Room::All,
            (true, false) => Room::OneScreen,
        };
        told(&shown, sources, room, screen)
    }

    fn paint_on(&self, is_terminal: bool) -> Paint {
        let is_coloured = match (self.color, self.around) {
            (ColorWhen::Always, _) | (ColorWhen::Auto, ColorWhen::Always) => true,
            (ColorWhen::Never, _) | (ColorWhen::Auto, ColorWhen::Never) => false,
            (ColorWhen::Auto, ColorWhen::Auto) => is_terminal,
        };
        if is_coloured {
            Paint::Coloured
        } else {
            Paint::Plain
        }
    }
}
