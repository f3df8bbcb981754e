//! Results to files: the estimate workbook, the JSON, the summary. Files appear whole or not at all.

mod basis;
mod charts;
mod formats;
pub mod formula;
pub mod layout;
mod sheet_style;
pub mod xlsx;
