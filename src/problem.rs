//! What can be wrong or dangerous, and how it is said.
//!
//! A problem quotes the cell, says what is accepted and hints at the fix. Stages return what they
//! could do together with every problem they met, so that one run reports them all.

pub mod groups;

use crate::model::source::{RowAt, Sources};

/// How much a message weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The input is wrong: no priced workbook until it is mended.
    Error,
    /// Something that can hurt somebody or the budget; never hidden.
    Caution,
    /// Something done on the user's behalf that they would want to know.
    Notice,
}

/// Whose fault a message is: code branches on this, people read the sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fault {
    /// What the job file says.
    Input,
    /// A file could not be read or written.
    File,
    /// A mistake in this program.
    Bug,
}

/// The cell that a message is about: a row, and a column by its canonical title.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Spot {
    /// The row, as read.
    pub row: RowAt,
    /// Canonical column title, as `Length`; empty for the whole row.
    pub field: &'static str,
}

/// One thing to tell the user.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// How much it weighs.
    pub severity: Severity,
    /// Whose fault it is.
    pub fault: Fault,
    /// One sentence without a full stop.
    pub sentence: String,
    /// Where, when a cell of the job is the reason.
    pub spot: Option<Spot>,
    /// Where, when it is a file or a cell that no recognised table holds: `job.xlsx!Beds!D7`.
    pub place: Option<String>,
    /// What the cell holds, when it is not to be looked up at `spot`.
    pub holds: Option<String>,
    /// What to write instead.
    pub hint: Option<String>,
    /// Which caution of the library it is; `None` for every other message.
    pub caution: Option<Concern>,
}

/// What begins a sentence about the job with an alternate.
pub fn of_alternate(name: &str) -> String {
    format!("with alternate \"{name}\": ")
}

/// What a caution is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Concern {
    /// The key of its row in the library.
    pub key: &'static str,
    /// Names of the beds, goods or sites that it concerns; empty for the job as a whole.
    pub about: Vec<String>,
}

impl Problem {
    /// An error in the input.
    pub fn error(sentence: impl Into<String>) -> Self {
        Self::new(Severity::Error, sentence)
    }

    /// A caution.
    pub fn caution(sentence: impl Into<String>) -> Self {
        Self::new(Severity::Caution, sentence)
    }

    /// A notice.
    pub fn notice(sentence: impl Into<String>) -> Self {
        Self::new(Severity::Notice, sentence)
    }

    /// An error that is ours, not the user's.
    pub fn bug(sentence: impl Into<String>) -> Self {
        Self {
            fault: Fault::Bug,
            ..Self::error(sentence)
        }
    }

    /// An error about a file, with the operation in the sentence.
    pub fn file(sentence: impl Into<String>) -> Self {
        Self {
            fault: Fault::File,
            ..Self::error(sentence)
        }
    }

    fn new(severity: Severity, sentence: impl Into<String>) -> Self {
        let sentence = sentence.into();
        Self {
            severity,
            fault: Fault::Input,
            sentence,
            spot: None,
            place: None,
            holds: None,
            hint: None,
            caution: None,
        }
    }

    /// Points at a cell of the job.
    #[must_use]
    pub fn at(mut self, row: RowAt, field: &'static str) -> Self {
        self.spot = Some(Spot { row, field });
        self
    }

    /// Points at a place in words.
    #[must_use]
    pub fn place(mut self, place: impl Into<String>) -> Self {
        self.place = Some(place.into());
        self
    }

    /// Quotes what the cell holds.
    #[must_use]
    pub fn holds(mut self, text: impl Into<String>) -> Self {
        self.holds = Some(text.into());
        self
    }

    /// Says what to write instead.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// Says which caution of the library it is.
    #[must_use]
    pub fn of_concern(mut self, concern: Concern) -> Self {
        self.caution = Some(concern);
        self
    }

    /// The same message about the job with an alternate, which its caller points at the alternate's cell.
    #[must_use]
    pub fn of_alternate(&self, name: &str) -> Self {
        Self {
            sentence: format!("{}{}", of_alternate(name), self.sentence),
            spot: None,
            place: None,
            holds: None,
            ..self.clone()
        }
    }

    /// The message in full, in the form every command prints:
    ///
    /// ```text
    /// error: Length needs a unit or a number
    ///   at job.xlsx!Beds!D7, which holds "8 foot-ish"
    ///   hint: write 8 ft, 8' or 96 in
    /// ```
    pub fn in_full(&self, sources: &Sources) -> String {
        let word = self.severity.word();
        let mut text = format!("{word}: {}", printable(&self.sentence));
        let place = self
            .place
            .clone()
            .or_else(|| self.spot.and_then(|spot| sources.place(spot)));
        if let Some(place) = place {
            text.push_str("\n  at ");
            text.push_str(&printable(&place));
            if let Some(holds) = self.held(sources) {
                text.push_str(", which holds \"");
                text.push_str(&holds);
                text.push('"');
            }
        }
        if let Some(hint) = &self.hint {
            text.push_str("\n  hint: ");
            text.push_str(&printable(hint));
        }
        text
    }

    /// What the cell holds, ready to be printed; `None` when that is nothing.
    pub fn held(&self, sources: &Sources) -> Option<String> {
        let holds = self.holds.clone();
        let holds = holds.or_else(|| self.spot.and_then(|spot| sources.held(spot)));
        let holds = holds.filter(|text| !text.is_empty())?;
        Some(printable(&shortened(&holds)))
    }
}

impl Severity {
    /// Its word, as messages begin with it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Caution => "caution",
            Self::Notice => "notice",
        }
    }
}

/// Text from a file without the control characters that could steer a terminal, and without the
/// marks that turn the direction of writing, behind which a text can read as another.
pub fn printable(text: &str) -> String {
    text.chars()
        .map(|c| {
            let turns = matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
            if turns || (c.is_control() && c != '\n') {
                '\u{fffd}'
            } else {
                c
            }
        })
        .collect()
}

fn shortened(text: &str) -> String {
    const MOST: usize = 80;
    if text.chars().count() <= MOST {
        return text.replace('\n', " ");
    }
    let start: String = text.chars().take(MOST).collect();
    format!("{}…", start.replace('\n', " "))
}

/// What a stage could do, and what it has to say.
#[derive(Clone, Debug)]
pub struct Staged<T> {
    /// The result, as complete as the input allowed.
    pub output: T,
    /// Everything to tell, in the order met.
    pub problems: Vec<Problem>,
}

impl<T> Staged<T> {
    /// A result with nothing to tell.
    pub fn clean(output: T) -> Self {
        Self {
            output,
            problems: Vec::new(),
        }
    }

    /// Whether any problem is an error.
    pub fn has_errors(&self) -> bool {
        self.problems.iter().any(|p| p.severity == Severity::Error)
    }

    /// Takes the output and passes the problems on.
    pub fn keep(self, problems: &mut Vec<Problem>) -> T {
        problems.extend(self.problems);
        self.output
    }
}

#[cfg(test)]
mod tests {
    use super::printable;

    #[test]
    fn what_steers_a_terminal_or_turns_a_line_is_replaced() {
        assert_eq!(
            printable("7 ft\u{202e}x\u{1b}[2J"),
            "7 ft\u{fffd}x\u{fffd}[2J"
        );
        assert_eq!(printable("\u{2066}a\u{2069}\nb"), "\u{fffd}a\u{fffd}\nb");
        // Letters of every script stay.
        assert_eq!(printable("Süd, גן, 庭"), "Süd, גן, 庭");
    }
}
