//! Parts of a job for tests, each with as little in it as it can have.
//!
//! A test that needs more fills in the rest: `Bed { courses: Some(2), ..bed("A") }`. What a part does
//! not say stands with the words that reading gives a silent cell.

mod beds;
mod goods;
mod jobs;
mod people;

pub(crate) use beds::{
    bed, blocks, boards, boards_of, fill, frame, layer, mound, panels, rectangle, stone, timbers,
    unit,
};
pub(crate) use goods::{loose, material, offer, supplier, vehicle};
pub(crate) use jobs::{job, settings, site};
pub(crate) use people::{equipment, extra, task, worker};

use rust_decimal::Decimal;

use super::known::Known;
use super::source::RowAt;

/// A row of the first table.
pub(crate) fn row(row: u32) -> RowAt {
    RowAt { table: 0, row }
}

/// A share that the job does not give.
pub(crate) fn no_share() -> Known<Decimal> {
    Known::assumed(Decimal::ZERO, "not set, taken as 0%")
}
