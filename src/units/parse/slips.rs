//! Numbers that a format or a lost space changed, and the apostrophe that parts thousands.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::Wrong;
use super::figure::take_digits;

/// `1.2E+03`: narrow cells are exported so, with digits dropped, and nobody writes a length so by hand.
pub(super) fn power_of_ten(value: Decimal, rest: &str) -> Option<Wrong> {
    let power = rest.strip_prefix(['e', 'E'])?;
    let digits = power.strip_prefix('+').unwrap_or(power);
    let signed = digits.strip_prefix('-').unwrap_or(digits);
    let (power, unit) = take_digits(signed)?;
    let sign = if signed.len() < digits.len() { "-" } else { "" };
    let full = Decimal::from_scientific(&format!("{value}E{sign}{power}"));
    let hint = full.map_or_else(
        |_| "write the number in full".to_owned(),
        |full| format!("write {}{unit}, or what it was before", full.normalize()),
    );
    let sentence = "is written as a power of ten, in which a spreadsheet may have dropped digits";
    Some(Wrong::new(sentence, hint))
}

/// `81/2` is 8 1/2 with its space lost more often than 81 halves; `5/4` is nothing else.
pub(super) fn lost_space(above: &str, below: &str, value: Decimal) -> Option<Wrong> {
    let parts: Decimal = below.parse().ok()?;
    if value < Decimal::ONE {
        return None;
    }
    let mut splits = (1..above.len()).filter_map(|i| above.split_at_checked(i));
    let (whole, above_part) = splits.find(|(_, part)| {
        let proper = part.parse::<Decimal>().is_ok_and(|p| p < parts);
        proper && !part.starts_with('0')
    })?;
    let (mixed, all) = (format!("{whole} {above_part}/{below}"), value.normalize());
    Some(Wrong::new(
        format!("is unclear: {above}/{below} may be {mixed} or {all}"),
        format!("write {mixed} or {all}"),
    ))
}

/// `1'234.50`, as Switzerland parts thousands, without its apostrophes.
pub(super) fn without_apostrophes(text: &str) -> Cow<'_, str> {
    let mut kept = Cow::Borrowed(text);
    while let Some(at) = kept.find('\'').filter(|at| parts_thousands(&kept, *at)) {
        kept.to_mut().remove(at);
    }
    kept
}

/// Whether the apostrophe at `at` has one to three digits or a group before it and three behind it.
fn parts_thousands(text: &str, at: usize) -> bool {
    let (before, after) = text.split_at(at);
    let digits = |c: &char| c.is_ascii_digit();
    let before = before.chars().rev().take_while(digits).count();
    let behind = after.get(1..).unwrap_or_default();
    let three = behind.chars().take_while(digits).count() == 3;
    let next = behind.chars().nth(3).unwrap_or(' ');
    before > 0 && three && !matches!(next, '"' | '/')
}
