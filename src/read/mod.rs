//! From files to a job: workbooks and text tables in, typed values with their places out.

pub mod fields;
mod job;
pub mod library;
pub mod names;
pub mod open;
pub mod row;

pub use job::{Loaded, read_job};
pub use open::{Opened, Source, open};
pub use row::{Row, rows};
