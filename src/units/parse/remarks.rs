//! What people say beside a figure, or in place of one: guesses, ranges, notes to themselves, dates that a
//! spreadsheet made. Looked for only where a text could not be read, so that the answer fits what was meant.

use rust_decimal::Decimal;

use super::dates;
use super::words::plain_marks;
use super::{Context, Wrong};
use crate::units::System;

/// Words before or behind a figure that is only about right.
const ABOUT: [&str; 15] = [
    "approximately",
    "approx.",
    "approx",
    "about",
    "around",
    "roughly",
    "circa",
    "ca.",
    "ca",
    "from",
    "up to",
    "at least",
    "at most",
    "~",
    "≈",
];
const OR_SO: [&str; 7] = ["+/-", "±", "approx.", "approx", "or so", "+", "?"];
/// Words for what is still open.
const OPEN: [&str; 22] = [
    "tbd",
    "t.b.d.",
    "tba",
    "tbc",
    "to be decided",
    "to be determined",
    "to be confirmed",
    "to be announced",
    "to come",
    "pending",
    "unknown",
    "not known",
    "?",
    "??",
    "???",
    "call",
    "call for price",
    "ask",
    "quote",
    "on request",
    "price on request",
    "por definir",
];

/// Whether a cell says that its figure is still open: `TBD`, `?`, `call`.
pub fn is_open(text: &str) -> bool {
    let plain = plain_marks(text).to_lowercase();
    OPEN.contains(&plain.as_str())
}

/// Whether a cell says that there is nothing to say: a dash or `n/a`.
pub fn is_nothing(text: &str) -> bool {
    // The longest is "n. a.".
    text.len() <= 6
        && matches!(
            plain_marks(text).to_ascii_lowercase().as_str(),
            "-" | "--" | "---" | "n/a" | "n.a." | "n. a."
        )
}

/// Why a text that is no figure is none, when that can be told better than "needs a number"; `length` says
/// whether the figure is a length.
pub fn remark(text: &str, length: bool, cx: &Context) -> Option<Wrong> {
    let plain = plain_marks(text);
    let lower = plain.to_lowercase();
    let plain = plain.as_ref();
    dated(&lower, length, cx.system)
        .or_else(|| in_brackets(plain))
        .or_else(|| alternative(plain, &lower))
        .or_else(|| range(plain))
        .or_else(|| about(plain, &lower))
}

/// Only about right: `approx. 8 ft`, `~8 ft`, `8 ft +/-`.
fn about(plain: &str, lower: &str) -> Option<Wrong> {
    let front = ABOUT.iter().find(|word| lower.starts_with(**word));
    let behind = OR_SO.iter().find(|word| lower.ends_with(**word));
    // All of these words are as long in lower case, so their length holds for the text as typed too.
    let figure = match (front, behind) {
        (Some(word), _) => plain.get(word.len()..)?,
        (None, Some(word)) => plain.get(..plain.len().checked_sub(word.len())?)?,
        (None, None) => return None,
    };
    let figure = figure.trim_matches([' ', '-']);
    has_digit(figure).then(|| {
        Wrong::new(
            "is not exact, and a price is made of it",
            format!("write {}", figure.trim_start_matches('$')),
        )
    })
}

/// `8 ft (inside)`
fn in_brackets(plain: &str) -> Option<Wrong> {
    let (figure, said) = plain.strip_suffix(')')?.split_once('(')?;
    let (figure, said) = (figure.trim(), said.trim());
    if !has_digit(figure) || said.is_empty() {
        return None;
    }
    let place = match said.to_lowercase().as_str() {
        "inside" | "outside" => format!("{} in Measured", said.to_lowercase()),
        _ => "the rest in Note".to_owned(),
    };
    Some(Wrong::new(
        format!("says \"{said}\" beside its figure"),
        format!("write {figure} here, and {place}"),
    ))
}

/// `8 ft or 10 ft`
fn alternative(plain: &str, lower: &str) -> Option<Wrong> {
    let (one, other) = lower.split_once(" or ")?;
    (has_digit(one) && has_digit(other)).then(|| {
        Wrong::new(
            "needs one figure, and says two of them",
            format!("write {plain}").replace(" OR ", " or "),
        )
    })
}

/// `40-45` and `8 to 10 ft`, where a dash is not one between feet and inches.
fn range(plain: &str) -> Option<Wrong> {
    let (from, to) = plain.split_once(" to ").or_else(|| plain.split_once('-'))?;
    let ends = from.trim_end().ends_with(|c: char| c.is_ascii_digit());
    let begins = to
        .trim_start()
        .starts_with(|c: char| c.is_ascii_digit() || c == '$');
    (ends && begins).then(|| {
        Wrong::new(
            "needs one figure, not a range",
            "write the figure to reckon with",
        )
    })
}

fn has_digit(text: &str) -> bool {
    text.contains(|c: char| c.is_ascii_digit())
}

fn dated(lower: &str, length: bool, system: System) -> Option<Wrong> {
    match dates::made_by_a_spreadsheet(lower)? {
        (month, Some(day)) => Some(turned_into_date(month, day, length, system)),
        (_, None) => Some(Wrong::new(
            "needs a figure, but your spreadsheet made a month of it",
            "format the cell as text, and write the figure with its unit",
        )),
    }
}

/// What to say of a cell whose `7-6`, `3/4` or `1/2` a spreadsheet turned into a date.
pub(crate) fn turned_into_date(month: i8, day: i8, length: bool, system: System) -> Wrong {
    let needed = if length { "a length" } else { "a number" };
    let is_fraction = matches!(day, 2 | 4 | 8 | 16) && month < day;
    let part = Decimal::from(month).checked_div(Decimal::from(day));
    let part = part.unwrap_or_default().normalize();
    let inches = format!("{month}' {day}\"");
    let feet = length && system == System::UsCustomary;
    let (typed, hint) = match (is_fraction, feet) {
        (true, true) => (
            format!("{month}/{day}"),
            format!("write {part} in or {inches}"),
        ),
        (true, false) => (format!("{month}/{day}"), format!("write {part}")),
        (false, true) if day < 12 => (format!("{month}-{day}"), format!("write {inches}")),
        (false, _) => (
            format!("{month}-{day}"),
            "format the cell as text, and write the figure with its unit".to_owned(),
        ),
    };
    Wrong::new(
        format!("needs {needed}, but your spreadsheet turned {typed} into a date"),
        hint,
    )
}

#[cfg(test)]
mod tests {
    use super::super::Commas;
    use super::*;

    #[track_caller]
    fn check(text: &str, sentence: &str, hint: &str) {
        let cx = Context {
            bare: None,
            system: System::UsCustomary,
            decimal_comma: Commas::Ask,
        };
        let wrong = remark(text, true, &cx).unwrap_or_else(|| panic!("{text}"));
        assert_eq!((&*wrong.sentence, &*wrong.hint), (sentence, hint), "{text}");
    }

    #[test]
    fn what_stands_beside_a_figure_is_named() {
        let about = "is not exact, and a price is made of it";
        check("Approx. 8 ft", about, "write 8 ft");
        check("≈8 ft", about, "write 8 ft");
        check("8 ft ±", about, "write 8 ft");
        check("from $40", about, "write 40");
        check(
            "8 ft (Inside)",
            "says \"Inside\" beside its figure",
            "write 8 ft here, and inside in Measured",
        );
        let range = "needs one figure, not a range";
        check("40-45", range, "write the figure to reckon with");
        check("8 to 10 ft", range, "write the figure to reckon with");
    }

    #[test]
    fn dates_made_of_figures_are_taken_back() {
        let turned =
            |typed| format!("needs a length, but your spreadsheet turned {typed} into a date");
        check("6-Jul", &turned("7-6"), "write 7' 6\"");
        check("4-Mar", &turned("3/4"), "write 0.75 in or 3' 4\"");
        let wrong = turned_into_date(1, 2, false, System::UsCustomary);
        assert_eq!(wrong.hint, "write 0.5");
        let wrong = turned_into_date(7, 28, true, System::UsCustomary);
        assert_eq!(
            wrong.hint,
            "format the cell as text, and write the figure with its unit"
        );
    }

    #[test]
    fn nothing_and_not_yet_are_two_things() {
        assert!(is_nothing("–") && is_nothing("N/A") && is_nothing("n. a."));
        assert!(!is_nothing("0") && !is_nothing("none") && !is_nothing("A"));
        assert!(is_open("TBD") && is_open("?") && is_open("Call for price"));
        assert!(!is_open("-") && !is_open("8 ft"));
    }
}
