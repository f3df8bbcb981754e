//! The command line: the only place that prints, reads the clock and the environment.
//!
//! Results go to standard output, talk to standard error. `--quiet` hides everything but errors and
//! never changes the exit code.

pub mod args;
pub mod bug;
mod changes;
mod check;
pub mod clock;
mod completions;
mod defaults;
mod estimate;
pub mod exit;
mod explain;
mod help;
mod manual;
mod mark;
mod outputs;
mod priced;
mod progress;
mod ranges;
pub mod run;
mod source;
mod start;
pub mod streams;
mod stretch;
mod suppliers;
pub mod telling;
mod told;
mod watch;

pub use exit::Exit;
pub use run::{Pipeline, Process, run};

#[cfg(test)]
mod tests;
#[cfg(test)]
mod whole_jobs;
