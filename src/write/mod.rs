//! Results to files: the estimate workbook, the JSON, the summary. Files appear whole or not at all.

pub mod csv_safe;
pub mod file_name;
pub mod json;
pub mod manifest;
pub mod names;
pub mod paint;
pub mod requests;
pub mod stage;
pub mod summary;

#[cfg(test)]
pub(crate) mod fixture;
