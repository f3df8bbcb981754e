//! Results to files: the estimate workbook, the JSON, the summary. Files appear whole or not at all.

mod basis;
mod charts;
mod columns;
pub mod csv_safe;
pub mod file_name;
#[cfg(test)]
pub(crate) mod fixture;
mod formats;
pub mod formula;
pub mod json;
pub mod layout;
pub mod manifest;
pub mod names;
pub mod paint;
pub mod requests;
pub mod review;
mod sheet_style;
pub mod stage;
pub mod summary;
pub mod xlsx;
