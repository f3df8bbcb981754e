//! Counts with what is counted: `3x`, `2 dozen`, `3 ea`, `2 courses`.

use rust_decimal::Decimal;

use super::figure::{number, take_number};
use super::unit::{Measures, unit};
use super::words::plain_marks;
use super::{Commas, Wrong};

/// What a count may be of in any column.
const THINGS: [&str; 10] = [
    "x", "bed", "beds", "box", "boxes", "planter", "planters", "of them", "pcs.", "times",
];

/// A number that counts, under a column title: `3`, `3x`, `x3`, `3 ea`, `2 dozen`, and `2 courses` in
/// `Courses`.
pub fn count(text: &str, commas: Commas, title: &str) -> Result<Decimal, Wrong> {
    let plain = plain_marks(text).to_lowercase();
    let behind_x = plain.strip_prefix('x').map(str::trim_start);
    let counted = behind_x
        .filter(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
        .unwrap_or(&plain);
    if matches!(counted, "dozen" | "a dozen" | "one dozen") {
        return Ok(Decimal::from(12));
    }
    let Some((value, rest)) = take_number(counted, commas)? else {
        return number(text, commas);
    };
    let word = rest.trim();
    if word.is_empty() {
        return Ok(value);
    }
    match unit(word).filter(|u| u.measures() == Measures::Count) {
        Some(unit) => Ok(value.saturating_mul(unit.in_base())),
        None if THINGS.contains(&word) || is_of(word, title) => Ok(value),
        None => number(text, commas),
    }
}

/// Whether a word is what the column counts: `days` in `Lead days`. Settings, which stand in `Value`,
/// count days and people.
fn is_of(word: &str, title: &str) -> bool {
    let one = word.trim_end_matches(['.', 's']);
    if title == "Value" {
        return matches!(one, "day" | "people" | "person");
    }
    let titled = title.to_lowercase();
    one.len() > 2
        && titled
            .split([' ', '-'])
            .any(|t| t.trim_end_matches('s') == one)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, title: &str, expected: i64) {
        let read = count(text, Commas::Ask, title);
        assert_eq!(read, Ok(Decimal::from(expected)), "{text}");
    }

    #[test]
    fn what_is_counted_may_stand_beside_the_number() {
        check("3", "Count", 3);
        check("3x", "Count", 3);
        check("x 3", "Count", 3);
        check("3 ea.", "Count", 3);
        check("2 dozen", "Count", 24);
        check("Dozen", "Count", 12);
        check("2 courses", "Courses", 2);
        check("5 days", "Lead days", 5);
        check("30 days", "Value", 30);
        assert!(count("2 ft", Commas::Ask, "Count").is_err());
        assert!(count("5 days", Commas::Ask, "Count").is_err());
        assert!(count("3 x 4", Commas::Ask, "Count").is_err());
    }
}
