//! What the process's exit code says.

use std::process::ExitCode;

use crate::problem::{Fault, Problem, Severity};

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// Everything that was asked for is done.
    Done,
    /// The input has problems, or a file could not be read or written; nothing was written.
    Problems,
    /// The command line, or the environment that it rests on, is wrong.
    CommandLine,
    /// A bug of ours.
    Bug,
}

impl Exit {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Done, Self::Problems, Self::CommandLine, Self::Bug];

    /// The code.
    pub const fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::Problems => 1,
            Self::CommandLine => 2,
            Self::Bug => 70,
        }
    }

    /// What the code means, for the help.
    pub const fn meaning(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::Problems => "the input has problems; nothing was written",
            Self::CommandLine => "wrong command line",
            Self::Bug => "a bug of ours",
        }
    }

    /// How a run ends that met these problems.
    pub fn after(problems: &[Problem]) -> Self {
        let mut errors = problems.iter().filter(|p| p.severity == Severity::Error);
        let bug = errors.clone().any(|p| p.fault == Fault::Bug);
        match (bug, errors.next()) {
            (true, _) => Self::Bug,
            (false, Some(_)) => Self::Problems,
            (false, None) => Self::Done,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(exit.code())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_are_those_that_scripts_rest_on() {
        let codes = Exit::ALL.map(Exit::code);
        assert_eq!(codes, [0, 1, 2, 70]);
    }

    #[test]
    fn cautions_end_well_errors_do_not_and_a_bug_is_ours() {
        let caution = Problem::caution("a wall of 4 ft");
        let error = Problem::error("no height");
        let bug = Problem::bug("a figure is lost");
        assert_eq!(Exit::after(&[]), Exit::Done);
        assert_eq!(Exit::after(std::slice::from_ref(&caution)), Exit::Done);
        assert_eq!(
            Exit::after(&[caution.clone(), error.clone()]),
            Exit::Problems
        );
        assert_eq!(Exit::after(&[error, bug, caution]), Exit::Bug);
    }
}
