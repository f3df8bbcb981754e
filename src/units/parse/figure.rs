//! Numbers as people write them.
use rust_decimal::Decimal;

use super::Wrong;

/// What a comma means in the numbers of a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Commas {
    /// Nothing in the file decides: `1,234` asks.
    #[default]
    Ask,
    /// It parts thousands: `1,234.50`.
    Thousands,
    /// It is the decimal mark: `1.234,50`.
    Decimal,
}

impl From<bool> for Commas {
    fn from(decimal: bool) -> Self {
        if decimal { Self::Decimal } else { Self::Ask }
    }
}

/// A number: `1,234.5`, `1 234,5`, `10 1/2`, `½`.
pub fn number(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let commas = decimal_comma.into();
    Err(Wrong::new(
        format!("cannot be read yet: {text} {commas:?}"),
        "",
    ))
}

/// What a text that is one number shows about the meaning of commas; `Ask` when nothing.
pub fn comma_evidence(text: &str) -> Commas {
    let _ = text;
    Commas::Ask
}
