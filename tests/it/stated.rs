//! What a test states of a cell, in plain words, beside what the program understood.

use jiff::civil::Date;
use loamwright::units::show::feet_inches;
use loamwright::units::{Decimal, Length};

/// A cell as understood.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Reading {
    /// Nothing was typed, or what was typed counts as nothing.
    Nothing,
    /// So many base units (m, m2, m3, kg, kg/m3, h) of what the unit measures.
    Measured(Decimal, &'static str),
    /// A fraction.
    Share(Decimal),
    /// A number or a sum of money.
    Plain(Decimal),
    /// A day.
    Day(Date),
    /// Yes or no.
    Truth(bool),
    /// Words.
    Words(String),
}

/// What the expected words of these tests measure in base units: plain symbols only, so that nothing
/// under test has a say in what is right.
const UNITS: [(&str, &str, &str); 20] = [
    ("in", "m", "0.0254"),
    ("ft", "m", "0.3048"),
    ("yd", "m", "0.9144"),
    ("mm", "m", "0.001"),
    ("cm", "m", "0.01"),
    ("m", "m", "1"),
    ("ft2", "m2", "0.09290304"),
    ("m2", "m2", "1"),
    ("ft3", "m3", "0.028316846592"),
    ("yd3", "m3", "0.764554857984"),
    ("gal", "m3", "0.003785411784"),
    ("L", "m3", "0.001"),
    ("m3", "m3", "1"),
    ("lb", "kg", "0.45359237"),
    ("kg", "kg", "1"),
    ("t", "kg", "1000"),
    ("lb/yd3", "kg/m3", "0.593276421257783"),
    ("kg/m3", "kg/m3", "1"),
    ("h", "h", "1"),
    ("min", "h", "0.0166666666666667"),
];

impl Reading {
    /// Whether it is what the words say: `7 ft 10.5 in`, `15%`, `12.50`, `yes`, `2026-05-04`, `"words"`, `nothing`.
    pub(crate) fn is(&self, expected: &str) -> Result<bool, String> {
        let strange = || format!("\"{expected}\" is not understood");
        if expected == "nothing" {
            return Ok(*self == Self::Nothing);
        }
        if let Some(text) = expected.strip_prefix('"').and_then(|e| e.strip_suffix('"')) {
            return Ok(*self == Self::Words(text.to_owned()));
        }
        if matches!(expected, "yes" | "no") {
            return Ok(*self == Self::Truth(expected == "yes"));
        }
        if let Some(number) = expected.strip_suffix('%') {
            let number: Decimal = number.parse().map_err(|_| strange())?;
            return Ok(*self == Self::Share(number / Decimal::ONE_HUNDRED));
        }
        if let Ok(day) = expected.parse::<Date>() {
            return Ok(*self == Self::Day(day));
        }
        if let Ok(number) = expected.parse::<Decimal>() {
            return Ok(*self == Self::Plain(number));
        }
        let (base, unit) = quantity(expected).ok_or_else(strange)?;
        let near = |a: Decimal, b: Decimal| a.round_sf(13) == b.round_sf(13);
        Ok(matches!(self, Self::Measured(n, u) if near(*n, base) && *u == unit))
    }

    /// In words, for whoever reads why a test failed.
    pub(crate) fn shown(&self) -> String {
        match self {
            Self::Nothing => "nothing".to_owned(),
            Self::Measured(n, "m") => {
                format!("{} m ({})", n.normalize(), feet_inches(Length::metres(*n)))
            }
            Self::Measured(n, unit) => format!("{} {unit}", n.normalize()),
            Self::Share(n) => format!("{}%", (n * Decimal::ONE_HUNDRED).normalize()),
            Self::Plain(n) => n.normalize().to_string(),
            Self::Day(day) => day.to_string(),
            Self::Truth(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            Self::Words(text) => format!("\"{text}\""),
        }
    }
}

/// `7 ft 10.5 in` in base units, with what they measure.
fn quantity(text: &str) -> Option<(Decimal, &'static str)> {
    let words: Vec<&str> = text.split(' ').collect();
    let mut total: Option<(Decimal, &'static str)> = None;
    for pair in words.chunks(2) {
        let [number, unit] = pair else { return None };
        let number: Decimal = number.parse().ok()?;
        let (_, base, factor) = UNITS.iter().find(|(symbol, ..)| symbol == unit)?;
        let part = number * factor.parse::<Decimal>().ok()?;
        let before = total.map_or(Decimal::ZERO, |(sum, _)| sum);
        total = Some((before + part, base));
    }
    total
}
