//! Percentages, money, hours, counts, yes and no.

use rust_decimal::Decimal;

use super::figure::number;
use super::measure::measured;
use super::unit::Measures;
use super::words::plain_marks;
use super::{Commas, Context, Wrong};
use crate::units::Hours;

/// A percentage as a fraction: `15%`, `15` and `0.15` are 0.15; a bare `1` asks.
pub fn percent(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let plain = plain_marks(text);
    let marked = ["%", "percent", "pct"]
        .iter()
        .find_map(|mark| plain.strip_suffix(mark));
    let value =
        number(marked.unwrap_or(&plain), decimal_comma).map_err(|wrong| percent_wrong(&wrong))?;
    if marked.is_some() {
        return Ok(hundredth(value));
    }
    percent_of_number(value)
}

/// A percentage from a bare number: below a half a fraction, above one a percentage. From a half to one
/// it asks: people write 0.5 for half a percent and for a half.
pub(crate) fn percent_of_number(value: Decimal) -> Result<Decimal, Wrong> {
    const HALF: Decimal = Decimal::from_parts(5, 0, 0, false, 1);
    if (HALF..=Decimal::ONE).contains(&value) {
        let (shown, times) = (
            value.normalize(),
            value.saturating_mul(Decimal::ONE_HUNDRED),
        );
        let times = times.normalize();
        return Err(Wrong::new(
            format!("is unclear: {shown} may be {shown}% or {times}%"),
            format!("write {shown}% or {times}%"),
        ));
    }
    let share = value.abs() < Decimal::ONE;
    Ok(if share { value } else { hundredth(value) })
}

fn percent_wrong(wrong: &Wrong) -> Wrong {
    if wrong.sentence.starts_with("needs") {
        return Wrong::new("needs a percentage", "write 15%");
    }
    wrong.clone()
}

fn hundredth(value: Decimal) -> Decimal {
    value.saturating_mul(Decimal::new(1, 2)).normalize()
}

/// Hours: `1.5 h`, `90 min`, `1 h 30 min`, `1:30`; a bare number by the column's header.
pub fn hours(text: &str, cx: &Context) -> Result<Hours, Wrong> {
    if let Some((whole, minutes)) = text.trim().split_once(':')
        && let (Ok(whole), Ok(minutes)) = (whole.parse::<u32>(), minutes.parse::<u32>())
        && minutes < 60
    {
        let part = Decimal::from(minutes).checked_div(Decimal::from(60));
        return Ok(Hours::of(
            Decimal::from(whole).saturating_add(part.unwrap_or_default()),
        ));
    }
    measured(text, *cx, Measures::Time).map(Hours::of)
}

/// A whole number that is not negative.
pub fn whole(text: &str, decimal_comma: impl Into<Commas>) -> Result<u32, Wrong> {
    whole_of_number(number(text, decimal_comma)?)
}

/// A whole number from a number cell.
pub(crate) fn whole_of_number(value: Decimal) -> Result<u32, Wrong> {
    let whole = value.fract().is_zero();
    let converted = u32::try_from(value).ok().filter(|_| whole);
    converted.ok_or_else(|| Wrong::new("needs a whole number", "write a number such as 3"))
}

/// Yes or no in the usual spellings.
pub fn yes_no(text: &str) -> Option<bool> {
    match plain_marks(text).to_lowercase().as_str() {
        "yes" | "y" | "true" | "t" | "x" | "1" | "✓" | "✔" | "☑" | "si" | "sí" => Some(true),
        "no" | "n" | "false" | "f" | "0" | "✗" | "✘" | "☐" | "none" | "-" | "--" => {
            Some(false)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::System;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn percentages_are_fractions_and_a_bare_one_asks() {
        assert_eq!(percent("15%", false), Ok(d("0.15")));
        assert_eq!(percent("15 %", false), Ok(d("0.15")));
        assert_eq!(percent("15", false), Ok(d("0.15")));
        assert_eq!(percent("0.15", false), Ok(d("0.15")));
        assert_eq!(percent("7,25%", true), Ok(d("0.0725")));
        assert_eq!(percent("1%", false), Ok(d("0.01")));
        assert_eq!(percent("0", false), Ok(d("0")));
        assert_eq!(percent("1", false).unwrap_err().hint, "write 1% or 100%");
        assert_eq!(percent("0.5", false).unwrap_err().hint, "write 0.5% or 50%");
        assert_eq!(percent("0.45", false), Ok(d("0.45")));
        assert_eq!(
            percent("some", false).unwrap_err().sentence,
            "needs a percentage"
        );
    }

    #[test]
    fn hours_come_in_hours_minutes_or_both() {
        let cx = Context {
            bare: None,
            system: System::Metric,
            decimal_comma: Commas::Ask,
        };
        assert_eq!(hours("1.5 h", &cx), Ok(Hours::of(d("1.5"))));
        assert_eq!(hours("1:30", &cx), Ok(Hours::of(d("1.5"))));
        // 90 x 1/60 h keeps 28 digits, so it is compared at the 15 that a sheet keeps.
        assert_eq!(
            hours("90 min", &cx).map(Hours::tidy),
            Ok(Hours::of(d("1.5")))
        );
        assert_eq!(
            hours("1 h 30 min", &cx).map(Hours::tidy),
            Ok(Hours::of(d("1.5")))
        );
        assert_eq!(hours("2", &cx).unwrap_err().sentence, "needs a unit");
    }

    #[test]
    fn counts_are_whole() {
        assert_eq!(whole("3", false), Ok(3));
        assert_eq!(whole("3.0", false), Ok(3));
        assert_eq!(
            whole("2.5", false).unwrap_err().sentence,
            "needs a whole number"
        );
        assert_eq!(
            whole("-1", false).unwrap_err().sentence,
            "needs a whole number"
        );
        assert_eq!(yes_no(" Yes "), Some(true));
        assert_eq!(yes_no("x"), Some(true));
        assert_eq!(yes_no("No"), Some(false));
        assert_eq!(yes_no("perhaps"), None);
    }
}
