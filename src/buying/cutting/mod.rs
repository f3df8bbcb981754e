//! Cutting stock in whole numbers: which pieces come out of which sticks for the least money, then
//! from the fewest sticks, then with the longest single offcut.
//!
//! The way of a task: [`core`](self) form (merged, sorted, divided by what all lengths share), simple
//! fillings, a linear program over patterns whose dual prices give a bound that is certified in whole
//! numbers, then dives, splits and searches that close the gap between bound and best cutting.
//! Floating point guides where to look; it never decides what fits, what a cutting costs or what the
//! bound is. Effort is counted in steps, not seconds, so that the same task gives the same answer
//! on every machine.
#![allow(
    clippy::indexing_slicing,
    reason = "inner loops over tables whose sizes are fixed when they are made"
)]

mod best;
mod bound;
mod branch;
mod core;
mod dive;
mod exact;
mod greedy;
mod knapsack;
mod master;
mod number;
mod polish;
mod simplex;
mod solve;
mod sums;
#[cfg(test)]
mod tests;
mod work;

pub use solve::{lower_bound, solve};
pub use work::Effort;

/// What is to be cut, from what. Lengths share one unit (the program uses nanometres), prices another.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Task {
    /// Width of a cut: lost between two pieces and before an offcut, not after a piece that ends flush.
    pub kerf: i64,
    /// Sticks that there are, in any order.
    pub stocks: Vec<Stock>,
    /// Pieces that are wanted, in any order; alike lengths may stand in several rows.
    pub sizes: Vec<Size>,
}

/// Sticks of one kind.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stock {
    /// Length for pieces: the true length less the trim of the ends.
    pub usable: i64,
    /// Lengths that a stick yields when it is used whole, untrimmed.
    pub whole: Vec<i64>,
    /// Price of one, zero or more.
    pub price: i64,
    /// How many there are; `None` without a limit.
    pub most: Option<u64>,
}

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Length.
    pub length: i64,
    /// How many.
    pub count: u64,
}

/// Sticks that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which stock, by its place in the task.
    pub stock: usize,
    /// Which sizes, by their places in the task, and how many of each come out of one stick.
    pub takes: Vec<(usize, u64)>,
    /// How many sticks.
    pub times: u64,
}

/// A cutting of all pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The sticks.
    pub cuts: Vec<Cut>,
    /// Their price.
    pub cost: i128,
    /// A price below which no cutting can go.
    pub lower_bound: i128,
}

impl Answer {
    /// Whether no cutting costs less.
    pub fn is_proven(&self) -> bool {
        self.cost <= self.lower_bound
    }

    /// How many sticks are cut.
    pub fn sticks(&self) -> u64 {
        let times = self.cuts.iter().map(|cut| cut.times);
        times.fold(0, u64::saturating_add)
    }
}
