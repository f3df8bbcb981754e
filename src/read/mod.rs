//! From files to a job: workbooks and text tables in, typed values with their places out.

pub mod fields;
pub mod names;
pub mod open;
pub mod row;

pub use open::{Opened, Source, open};
pub use row::{Row, rows};
