//! Sizes in one cell: `4x8x18 in`.
use super::{Context, Wrong};
use crate::units::Length;

/// A size, and how it was read when that took a decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeRead {
    /// Two or three lengths, in the order typed.
    pub lengths: Vec<Length>,
    /// How a mixed size was read, for a notice: `4 ft x 8 ft x 18 in`.
    pub read_as: Option<String>,
}

/// Two or three lengths: `4x8x18 in`, `4' x 8' x 18"`, `1.2 x 2.4 x 0.45 m`.
pub fn size(text: &str, cx: &Context) -> Result<Vec<Length>, Wrong> {
    size_read(text, cx).map(|read| read.lengths)
}

/// As [`size`], with how it was read.
pub fn size_read(text: &str, cx: &Context) -> Result<SizeRead, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}
