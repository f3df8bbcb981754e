//! The trade library for people: on the terminal, as CSV, as a workbook, as JSON.
//!
//! Every figure comes with its range, its unit, where it is from, how sure it is, and the cell of a
//! job that takes its place. Materials and tasks are exported under the titles of the job's own
//! sheets, so that an edited export can be used as a job's `Materials` and `Labour`.

mod book;
mod card;
mod grid;
mod json;
mod rows;
mod screen;
mod tables;
mod used;

pub use book::workbook;
pub use grid::Grid;
pub use json::{shelf_json, used_json};
pub use rows::{ShelfFigure, ShelfRow, ShelfTable};
pub use screen::{overview, table};
pub use tables::shelf;
pub use used::{UsedFigure, used_figures, used_grid, used_screen};
