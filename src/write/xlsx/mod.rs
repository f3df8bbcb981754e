//! The estimate workbook: ledger and results to sheets, in one pass.

pub(super) mod block;
pub(super) mod echo;
pub(super) mod page;
mod reach;

use rust_xlsxwriter::XlsxError;

/// Why the workbook could not be written.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// The writer refused a cell or the file could not be written.
    #[error("the estimate workbook could not be written: {0}")]
    Workbook(#[from] XlsxError),
    /// A fixed word of a formula would be stored as a number: a mistake in this program.
    #[error("the word \"{0}\" would be stored as a number")]
    WordLikeNumber(&'static str),
    /// A figure is outside the range of numbers: a mistake in this program.
    #[error("the figure {0} is outside the range of numbers")]
    NotANumber(String),
}
