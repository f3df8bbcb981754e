//! Measured quantities: a number and a unit.
use super::{Context, Wrong};
use crate::units::{Amount, Area, Density, Length, Volume, Weight};

/// A length: `7' 10 1/2"`, `7ft 10.5in`, `94 1/2 in`, `2.4 m`, `2400mm`, `7-6`.
pub fn length(text: &str, cx: &Context) -> Result<Length, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// An area: `32 ft2`, `3 m2`, `4 ft x 8 ft`.
pub fn area(text: &str, cx: &Context) -> Result<Area, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// A volume: `1.5 ft3`, `1 yd3`, `half yard`, `40 L`.
pub fn volume(text: &str, cx: &Context) -> Result<Volume, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// A weight: `40 lb`, `25 kg`, `1 ton`.
pub fn weight(text: &str, cx: &Context) -> Result<Weight, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// A density: `2,200 lb/yd3`, `1300 kg/m3`.
pub fn density(text: &str, cx: &Context) -> Result<Density, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// An amount of any dimension: `1.5 ft3`, `1 yard` (a volume), `12 ft`, `4 ft x 50 ft`, `50`, `40 lb`.
pub fn amount(text: &str, cx: &Context) -> Result<Amount, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}
