//! From files to a job: workbooks and text tables in, typed values with their places out.

mod assemble;
mod cell;
mod compound;
mod decode;
mod doubt;
mod extent;
pub mod fields;
mod files;
pub mod foreign;
mod gather;
mod gathering;
mod grouped;
mod header;
mod hidden;
mod hints;
mod job;
mod kind;
pub mod library;
mod lists;
pub mod names;
mod number_format;
pub mod open;
mod ours;
mod passed_over;
mod raw;
mod records;
pub mod row;
mod short_cells;
mod table;
mod titles;
mod workbook;

pub use job::{Loaded, read_good_part, read_job};
pub use open::{Opened, Source, open};
pub use row::{Row, rows};

#[cfg(test)]
mod tests;
