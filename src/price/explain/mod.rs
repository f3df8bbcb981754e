//! How a figure came about, step by step, back to the cells and defaults that it rests on.
//!
//! Quantities of a bed are taken off once more with somebody watching; orders carry their reasons; money is read
//! from the ledger, whose terms are the arithmetic itself. So nothing is told here that was not reckoned so.

mod cells;
mod find;
mod terms;

use crate::model::bed::Bed;
use crate::price::Estimate;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::take_off_with;
use crate::takeoff::trace::Steps;

pub use find::{Found, explain, names};

/// One figure of a derivation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// How far it stands in: a figure that another rests on stands one further in.
    pub depth: usize,
    /// What it is.
    pub what: String,
    /// The arithmetic; empty for a figure that was typed or taken.
    pub arithmetic: String,
    /// What came out; empty for a heading.
    pub value: String,
    /// The cell that it stands in, the default that it is, or why it was chosen; empty for what follows from others.
    pub from: String,
}

impl Step {
    fn heading(what: impl Into<String>) -> Self {
        Self {
            depth: 0,
            what: what.into(),
            arithmetic: String::new(),
            value: String::new(),
            from: String::new(),
        }
    }
}

/// The take-off of one bed, step by step.
pub fn bed_steps(estimate: &Estimate, sticks: &Sticks, bed: &Bed) -> Vec<Step> {
    let mut watched = Steps::default();
    take_off_with(&estimate.job, sticks, bed, &mut watched);
    let steps = watched.0.into_iter().map(|step| Step {
        depth: 1,
        what: step.what.to_owned(),
        arithmetic: step.arithmetic,
        value: step.value,
        from: String::new(),
    });
    steps.collect()
}
