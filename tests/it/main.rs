//! Tests of the whole program: jobs in, estimates out.
//!
//! `worked`, `dialects` and `examples` run over folders, so that a new case is a new folder; `live` and `hostile`
//! open the workbook as other programs do; `starters`, `walk` and `readme` are how somebody begins; `laws` holds
//! for every job; `repository` keeps the house in order.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::disallowed_methods,
    reason = "a test that cannot set up its files, or finds nothing where something must stand, shall stop"
)]

mod alternates;
mod books;
mod budgets;
mod changes;
mod cli;
mod client;
mod dialects;
#[cfg(feature = "pdf")]
mod documents;
mod examples;
mod explained;
mod folders;
mod formats;
mod hostile;
mod irrigation;
mod laws;
mod live;
mod made_up;
mod marked;
mod partial;
mod pipeline;
mod ranges;
mod read_back;
mod readings;
mod readme;
#[path = "../common/recompute.rs"]
mod recompute;
mod repository;
mod schedule;
mod shared_walls;
mod sheets;
mod shelf;
mod starters;
mod stated;
mod stretch;
mod suppliers;
mod tables;
mod tasks;
mod walk;
mod worked;
