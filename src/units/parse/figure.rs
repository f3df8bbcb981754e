//! Numbers as people write them: grouped, with fractions, with a point or a comma.
//!
//! Longer than most because every way to write a number has to be told from every other in one place.

use rust_decimal::Decimal;

use super::Wrong;
use super::slips::{lost_space, power_of_ten, without_apostrophes};
use super::words::plain_marks;

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
    /// It is the decimal mark of most numbers, and others have a decimal point: `12,5` and `18.5` are
    /// clear, `1.234` asks.
    Mostly,
}

impl Commas {
    /// Whether a comma is the decimal mark.
    pub fn is_decimal(self) -> bool {
        matches!(self, Self::Decimal | Self::Mostly)
    }
}

impl From<bool> for Commas {
    fn from(decimal: bool) -> Self {
        if decimal { Self::Decimal } else { Self::Ask }
    }
}

/// Longer runs of digits are no quantity of this trade.
const MOST_DIGITS: usize = 30;

/// A number: `1,234.5`, `1 234,5`, `10 1/2`, `½`.
pub fn number(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let text = plain_marks(text);
    let text = without_apostrophes(&text);
    let (negative, rest) = sign(&text);
    match take_number(rest, decimal_comma.into())? {
        Some((value, "")) => Ok(signed(value, negative)),
        Some((value, rest)) => Err(Wrong::new(
            format!("needs a plain number, without \"{}\"", rest.trim()),
            format!("write {}", value.normalize()),
        )),
        None => Err(Wrong::new("needs a number", "write a number such as 12.5")),
    }
}

/// Splits a leading minus or plus off.
pub(crate) fn sign(text: &str) -> (bool, &str) {
    match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').map_or(text, str::trim_start)),
    }
}

/// Puts the minus back.
pub(crate) fn signed(value: Decimal, negative: bool) -> Decimal {
    if negative { -value } else { value }
}

/// The number at the start of `text`, with its fraction, and the rest; `None` when there is none.
///
/// `10 1/2`, `10-1/2` and `1/2` are one number each.
pub(crate) fn take_number(text: &str, commas: Commas) -> Result<Option<(Decimal, &str)>, Wrong> {
    let (raw, rest) = text.split_at(figure_length(text));
    if raw.is_empty() {
        return Ok(None);
    }
    let whole = raw.bytes().all(|b| b.is_ascii_digit());
    let value = value_of(raw, commas)?;
    if let Some(wrong) = power_of_ten(value, rest) {
        return Err(wrong);
    }
    if !whole {
        return Ok(Some((value, rest)));
    }
    if let Some((below, rest)) = rest.strip_prefix('/').and_then(take_digits) {
        let value = fraction(value, below)?;
        return match lost_space(raw, below, value) {
            Some(wrong) => Err(wrong),
            None => Ok(Some((value, rest))),
        };
    }
    let part = rest.trim_start().trim_start_matches('-').trim_start();
    if part.len() < rest.len()
        && let Some((above, after)) = take_digits(part)
        && let Some((below, after)) = after.strip_prefix('/').and_then(take_digits)
    {
        let part = fraction(value_of(above, commas)?, below)?;
        return Ok(Some((value.saturating_add(part), after)));
    }
    Ok(Some((value, rest)))
}

pub(super) fn take_digits(text: &str) -> Option<(&str, &str)> {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    (end > 0 && end <= 6).then(|| text.split_at(end))
}

fn fraction(above: Decimal, below: &str) -> Result<Decimal, Wrong> {
    let below: Decimal = below.parse().unwrap_or_default();
    above.checked_div(below).ok_or_else(|| {
        Wrong::new(
            "holds a fraction that divides by zero",
            "write it as a decimal number",
        )
    })
}

/// How many bytes at the start of `text` are digits, marks between digits, and spaces that part
/// thousands.
fn figure_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let at = |i: usize| bytes.get(i).copied().unwrap_or(0);
    let digits_from = |i: usize| {
        bytes
            .iter()
            .skip(i)
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let mut end = 0;
    let mut run = 0;
    let mut spaced = true;
    loop {
        match at(end) {
            b if b.is_ascii_digit() => run += 1,
            b'.' | b',' if at(end + 1).is_ascii_digit() => {
                (run, spaced) = (0, false);
            }
            // `1 234` is one number; `10 1/2` and `4 1000` are not.
            b' ' if spaced
                && (1..=3).contains(&run)
                && digits_from(end + 1) == 3
                && at(end + 4) != b'/' =>
            {
                run = 0;
            }
            _ => return end,
        }
        end += 1;
    }
}

/// The value of digits and marks, with their meaning checked against what the file decides.
fn value_of(raw: &str, commas: Commas) -> Result<Decimal, Wrong> {
    if raw.len() > MOST_DIGITS {
        return Err(Wrong::new(
            "holds a number of too many digits",
            "write at most 15 digits",
        ));
    }
    if raw.bytes().all(|b| b.is_ascii_digit()) {
        return parsed(raw);
    }
    let spaceless = raw.replace(' ', "");
    let reading = Marks::of(&spaceless);
    match (reading, commas) {
        (Marks::Plain, _)
        | (Marks::Point, Commas::Decimal | Commas::Mostly)
        | (Marks::Point | Marks::PointOrGroup, Commas::Ask | Commas::Thousands) => {
            parsed(&spaceless.replace(',', ""))
        }
        (Marks::CommaGroups, Commas::Ask | Commas::Thousands)
        | (Marks::CommaOrGroup, Commas::Thousands) => parsed(&spaceless.replace(',', "")),
        (Marks::PointGroups | Marks::Comma, Commas::Ask | Commas::Decimal | Commas::Mostly)
        | (Marks::CommaOrGroup, Commas::Decimal | Commas::Mostly)
        | (Marks::PointOrGroup, Commas::Decimal) => {
            parsed(&spaceless.replace('.', "").replace(',', "."))
        }
        (Marks::PointOrGroup, Commas::Mostly) => Err(asks_of_point(raw)),
        (Marks::CommaOrGroup, Commas::Ask) => Err(asks(raw)),
        (Marks::Comma | Marks::PointGroups, Commas::Thousands) => Err(mixed(raw, "point", "comma")),
        (Marks::CommaGroups, Commas::Decimal | Commas::Mostly) => Err(mixed(raw, "comma", "point")),
        (Marks::Muddled, _) => Err(Wrong::new(
            format!("holds \"{raw}\", whose marks part neither thousands nor decimals"),
            "write the number with one decimal point and nothing else, as 1234.5",
        )),
    }
}

fn parsed(digits: &str) -> Result<Decimal, Wrong> {
    digits
        .parse()
        .map_err(|_| Wrong::new("needs a number", "write a number such as 12.5"))
}

fn asks(raw: &str) -> Wrong {
    let (grouped, decimal) = (raw.replace(',', ""), raw.replace(',', "."));
    Wrong::new(
        format!("is unclear: \"{raw}\" may be {grouped} or {decimal}"),
        format!("write {grouped} or {decimal}"),
    )
}

/// Of a point among decimal commas, where other numbers have a decimal point.
fn asks_of_point(raw: &str) -> Wrong {
    let (grouped, decimal) = (raw.replace('.', ""), raw.replace('.', ","));
    Wrong::new(
        format!("is unclear: \"{raw}\" may be {grouped} or {decimal}"),
        format!("write {grouped} or {decimal}"),
    )
}

fn mixed(raw: &str, rule: &str, other: &str) -> Wrong {
    Wrong::new(
        format!(
            "holds \"{raw}\" with a decimal {other}, while the other numbers of this table have a decimal {rule}"
        ),
        "write all numbers of a table the same way",
    )
}

/// What the points and commas of a number can mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Marks {
    /// No mark.
    Plain,
    /// A decimal point for sure, perhaps with commas for thousands: `12.5`, `0.125`, `1,234.5`.
    Point,
    /// A point that looks like one of thousands: `1.234`.
    PointOrGroup,
    /// Points that part thousands for sure, without a decimal mark: `1.234.567`.
    PointGroups,
    /// A decimal comma for sure: `12,5`, `0,125`, `1.234,5`.
    Comma,
    /// `1,234`
    CommaOrGroup,
    /// Commas that part thousands for sure, perhaps with a decimal point.
    CommaGroups,
    /// Neither.
    Muddled,
}

impl Marks {
    fn of(digits: &str) -> Self {
        let points = digits.matches('.').count();
        let commas = digits.matches(',').count();
        match (points, commas) {
            (0, 0) => Self::Plain,
            (1, 0) if looks_grouped(digits, '.') => Self::PointOrGroup,
            (1, 0) => Self::Point,
            (0, 1) if looks_grouped(digits, ',') => Self::CommaOrGroup,
            (0, 1) => Self::Comma,
            (_, 0) if groups(digits, '.') => Self::PointGroups,
            (0, _) if groups(digits, ',') => Self::CommaGroups,
            (1, _) => match digits.split_once('.') {
                Some((whole, part)) if !part.contains(',') && groups(whole, ',') => {
                    Self::CommaGroups
                }
                _ if commas == 1 => Self::comma_after_points(digits),
                _ => Self::Muddled,
            },
            (_, 1) => Self::comma_after_points(digits),
            _ => Self::Muddled,
        }
    }

    fn comma_after_points(digits: &str) -> Self {
        match digits.split_once(',') {
            Some((whole, part)) if !part.contains('.') && groups(whole, '.') => Self::Comma,
            _ => Self::Muddled,
        }
    }

    const fn evidence(self) -> Commas {
        match self {
            Self::Point | Self::CommaGroups => Commas::Thousands,
            Self::Comma | Self::PointGroups => Commas::Decimal,
            _ => Commas::Ask,
        }
    }
}

/// `1,234`: up to three digits that do not start with zero, then three.
fn looks_grouped(digits: &str, mark: char) -> bool {
    groups(digits, mark) && !digits.starts_with('0')
}

/// Whether `digits` is groups of three, the first of one to three.
fn groups(digits: &str, mark: char) -> bool {
    let mut parts = digits.split(mark);
    let first = parts.next().unwrap_or_default().len();
    (1..=3).contains(&first) && parts.all(|part| part.len() == 3)
}

/// What a text that is one number, perhaps with a unit or a currency, shows about the meaning of
/// commas; [`Commas::Ask`] when nothing.
pub fn comma_evidence(text: &str) -> Commas {
    if !text.contains(['.', ',']) || text.len() > 40 {
        return Commas::Ask;
    }
    let plain = plain_marks(text);
    let start = plain
        .find(|c: char| c.is_ascii_digit())
        .unwrap_or(plain.len());
    let (before, number) = plain.split_at(start);
    let (raw, after) = number.split_at(figure_length(number));
    // Only a lone number counts: names, notes and lists of points prove nothing.
    let lone = before.chars().count() <= 4 && is_unit_like(after);
    if lone && !before.ends_with(['.', ',']) {
        Marks::of(&raw.replace(' ', "")).evidence()
    } else {
        Commas::Ask
    }
}

fn is_unit_like(after: &str) -> bool {
    let after = after.trim();
    let mut digits = after.bytes().filter(u8::is_ascii_digit);
    let exponent = digits.next().is_none_or(|d| d == b'2' || d == b'3');
    after.len() <= 12 && exponent && digits.next().is_none() && !after.contains([',', ';'])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, commas: Commas, expected: &str) {
        let value = number(text, commas).unwrap_or_else(|w| panic!("{text}: {w:?}"));
        assert_eq!(value.normalize().to_string(), expected, "{text}");
    }

    #[test]
    fn numbers_are_read_as_they_are_written() {
        check("12.50", Commas::Ask, "12.5");
        check(" 8 ", Commas::Ask, "8");
        check(".5", Commas::Ask, "0.5");
        check("1,234.5", Commas::Ask, "1234.5");
        check("1 234,5", Commas::Ask, "1234.5");
        check("1\u{202f}234\u{a0}567", Commas::Ask, "1234567");
        check("1.234,5", Commas::Ask, "1234.5");
        check("1,234,567", Commas::Ask, "1234567");
        check("0,125", Commas::Ask, "0.125");
        check("10 1/2", Commas::Ask, "10.5");
        check("10-1/2", Commas::Ask, "10.5");
        check("½", Commas::Ask, "0.5");
        check("7¾", Commas::Ask, "7.75");
        check("−3", Commas::Ask, "-3");
        check("1,234", Commas::Thousands, "1234");
        check("1,234", Commas::Decimal, "1.234");
        check("1.234", Commas::Decimal, "1234");
        check("1.234", Commas::Ask, "1.234");
        check("1'234.50", Commas::Ask, "1234.5");
        check("1’234’567", Commas::Ask, "1234567");
        check("5/4", Commas::Ask, "1.25");
        check("15/16", Commas::Ask, "0.9375");
        check("16/4", Commas::Ask, "4");
    }

    #[track_caller]
    fn refused(text: &str, commas: Commas, sentence: &str) {
        assert_eq!(number(text, commas).unwrap_err().sentence, sentence);
    }

    #[test]
    fn an_unclear_comma_asks() {
        refused(
            "1,234",
            Commas::Ask,
            "is unclear: \"1,234\" may be 1234 or 1.234",
        );
        let hint = number("1,234", false).unwrap_err().hint;
        assert_eq!(hint, "write 1234 or 1.234");
    }

    #[test]
    fn what_may_be_a_slip_of_a_space_or_of_a_format_asks() {
        refused("81/2", Commas::Ask, "is unclear: 81/2 may be 8 1/2 or 40.5");
        // 1115/16 is 11 15/16, not 111 5/16: the longest fraction that is less than one.
        let hint = number("1115/16", Commas::Ask).unwrap_err().hint;
        assert_eq!(hint, "write 11 15/16 or 69.6875");
        let sentence =
            "is written as a power of ten, in which a spreadsheet may have dropped digits";
        refused("1E3", Commas::Ask, sentence);
        let hint = number("1.2e-01", Commas::Ask).unwrap_err().hint;
        assert_eq!(hint, "write 0.12, or what it was before");
    }

    #[test]
    fn a_number_that_breaks_with_its_table_is_refused() {
        refused(
            "12,5",
            Commas::Thousands,
            "holds \"12,5\" with a decimal comma, while the other numbers of this table have a decimal point",
        );
        assert!(number("1,234,567.5", Commas::Decimal).is_err());
        assert!(number("1,23,4", Commas::Ask).is_err());
        assert!(number("1/0", Commas::Ask).is_err());
        assert!(number("", Commas::Ask).is_err());
        assert!(number("12 ft", Commas::Ask).is_err());
        assert!(number(&"9".repeat(60), Commas::Ask).is_err());
    }

    #[test]
    fn a_point_that_parts_no_thousands_is_clear_among_decimal_commas() {
        check("18.5", Commas::Decimal, "18.5");
        check("0.125", Commas::Mostly, "0.125");
        check("12,5", Commas::Mostly, "12.5");
        check("1,234", Commas::Mostly, "1.234");
        // Where both marks are used, a point before three digits may be either.
        check("1.234", Commas::Decimal, "1234");
        let words = "is unclear: \"1.234\" may be 1234 or 1,234";
        refused("1.234", Commas::Mostly, words);
    }

    #[test]
    fn lone_numbers_show_what_commas_mean() {
        assert_eq!(comma_evidence("3,49"), Commas::Decimal);
        assert_eq!(comma_evidence("EUR 12,50"), Commas::Decimal);
        assert_eq!(comma_evidence("1,5 m3"), Commas::Decimal);
        assert_eq!(comma_evidence("$1,299.00"), Commas::Thousands);
        assert_eq!(comma_evidence("1,234"), Commas::Ask);
        assert_eq!(comma_evidence("1.234"), Commas::Ask);
        assert_eq!(comma_evidence("24.11.2026"), Commas::Ask);
        assert_eq!(comma_evidence("0,0; 8,0; 8,4"), Commas::Ask);
        assert_eq!(comma_evidence("Elm St., no. 3"), Commas::Ask);
    }
}
