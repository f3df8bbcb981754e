//! Figures from their text, so that an example can be read as it would be written by hand.

use super::{Decimal, Hours, Length, Volume};

/// A number.
#[track_caller]
pub(crate) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// So many inches.
#[track_caller]
pub(crate) fn inches(text: &str) -> Length {
    Length::inches(d(text))
}

/// So many feet.
#[track_caller]
pub(crate) fn feet(text: &str) -> Length {
    Length::feet(d(text))
}

/// So many cubic yards.
#[track_caller]
pub(crate) fn yards(text: &str) -> Volume {
    Volume::cubic_yards(d(text))
}

/// So many hours.
#[track_caller]
pub(crate) fn hours(text: &str) -> Hours {
    Hours::of(d(text))
}
