//! Percentages, money, hours, counts, yes and no.
use rust_decimal::Decimal;

use super::{Commas, Context, Wrong};
use crate::units::Hours;

/// A percentage as a fraction: `15%`, `15` and `0.15` are 0.15; a bare `1` asks.
pub fn percent(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let commas = decimal_comma.into();
    Err(Wrong::new(
        format!("cannot be read yet: {text} {commas:?}"),
        "",
    ))
}

/// An amount of money without its currency: `$1,299.00`, `42.00`, `EUR 12,50`.
pub fn money(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let commas = decimal_comma.into();
    Err(Wrong::new(
        format!("cannot be read yet: {text} {commas:?}"),
        "",
    ))
}

/// Hours: `1.5`, `1.5 h`, `90 min`, `1 h 30 min`.
pub fn hours(text: &str, cx: &Context) -> Result<Hours, Wrong> {
    Err(Wrong::new(format!("cannot be read yet: {text} {cx:?}"), ""))
}

/// A whole number.
pub fn whole(text: &str, decimal_comma: impl Into<Commas>) -> Result<u32, Wrong> {
    let commas = decimal_comma.into();
    Err(Wrong::new(
        format!("cannot be read yet: {text} {commas:?}"),
        "",
    ))
}

/// Yes or no in the usual spellings.
pub fn yes_no(text: &str) -> Option<bool> {
    match text.trim().to_lowercase().as_str() {
        "yes" | "y" | "true" | "x" | "1" | "✓" | "✔" => Some(true),
        "no" | "n" | "false" | "0" | "-" | "–" => Some(false),
        _ => None,
    }
}
