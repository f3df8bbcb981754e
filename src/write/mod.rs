//! Results to files: the estimate workbook, the JSON, the summary; and starters, which are input. Files appear whole or not at all.

mod basis;
pub mod budget_text;
pub mod calendar;
pub mod change_order;
pub mod changes_text;
mod charts;
pub mod client_page;
pub mod columns;
pub mod csv_safe;
pub mod days;
#[cfg(feature = "pdf")]
pub mod document;
pub mod drawings;
pub mod explain;
pub mod file_name;
#[cfg(test)]
pub(crate) mod fixture;
mod formats;
pub mod formula;
pub mod fresh;
pub mod json;
pub mod layout;
pub mod letterhead;
pub mod manifest;
pub mod marked;
pub mod names;
pub mod orders;
pub mod paint;
pub mod ranges;
pub mod requests;
pub mod review;
pub mod screen;
mod sheet_style;
pub mod shelf;
pub mod single;
pub mod stage;
pub mod starter;
pub mod stretch;
pub mod summary;
pub mod suppliers;
pub mod xlsx;
