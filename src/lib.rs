//! From a list of raised garden beds and prices to an estimate that holds.
//!
//! The modules are the pipeline, in this order: [`units`], [`model`], [`read`], [`takeoff`],
//! [`buying`], [`labour`], [`price`], [`mod@write`]. Each knows the ones before it; `read` and `write`
//! never know each other. [`cli`] alone prints, reads the clock and the environment.

pub mod buying;
pub mod cli;
pub mod drawing;
pub mod labour;
pub mod model;
pub mod price;
pub mod problem;
pub mod read;
pub mod schedule;
pub mod takeoff;
pub mod units;
pub mod write;
