//! The only crossings between whole numbers and the floating point that guides the search.
#![allow(
    clippy::as_conversions,
    clippy::float_arithmetic,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "guiding values only: what is claimed is computed in whole numbers elsewhere"
)]

/// The nearest floating-point value.
pub(super) fn float(number: i64) -> f64 {
    number as f64
}

/// The nearest whole number; out of range it is the nearest that there is.
pub(super) fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// The whole number at or below, with a hair of tolerance for what almost reached the next one.
pub(super) fn floor(value: f64) -> i64 {
    (value + 1e-7).floor() as i64
}

/// A place as a whole number.
pub(super) fn count(number: usize) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

/// A whole number as a place; nothing negative comes here.
pub(super) fn place(number: i64) -> usize {
    usize::try_from(number).unwrap_or(0)
}
