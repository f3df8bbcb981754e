//! Measured quantities: a number and a unit, or several of them.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::figure::{Commas, sign, signed, take_number};
use super::size::lengths_of;
use super::slips::without_apostrophes;
use super::unit::{Measures, Unit, unit};
use super::words::plain_marks;
use super::{Context, Wrong};
use crate::units::{Amount, Area, Density, Length, System, Volume, Weight};

/// A length: `7' 10 1/2"`, `7ft 10.5in`, `94 1/2 in`, `2.4 m`, `2400mm`, `7-6`.
pub fn length(text: &str, cx: &Context) -> Result<Length, Wrong> {
    measured(text, *cx, Measures::Length).map(Length::metres)
}

/// An area: `32 ft2`, `3 m2`, or a product `4 ft x 8 ft`.
pub fn area(text: &str, cx: &Context) -> Result<Area, Wrong> {
    match product(text, *cx) {
        Some(lengths) => match lengths?.as_slice() {
            [a, b] => Ok(*a * *b),
            _ => Err(kind_wrong(Measures::Area, cx.system)),
        },
        None => measured(text, *cx, Measures::Area).map(Area::square_metres),
    }
}

/// A volume: `1.5 ft3`, `1 yd3`, `1 yard`, `40 L`, or a product of three lengths.
pub fn volume(text: &str, cx: &Context) -> Result<Volume, Wrong> {
    match product(text, *cx) {
        Some(lengths) => match lengths?.as_slice() {
            [a, b, c] => Ok((*a * *b).filled_to(*c)),
            _ => Err(kind_wrong(Measures::Volume, cx.system)),
        },
        None => measured(text, *cx, Measures::Volume).map(Volume::cubic_metres),
    }
}

/// A weight: `40 lb`, `25 kg`, `1 ton`, `2 lb 8 oz`.
pub fn weight(text: &str, cx: &Context) -> Result<Weight, Wrong> {
    measured(text, *cx, Measures::Weight).map(Weight::kilograms)
}

/// A density: `2,200 lb/yd3`, `1300 kg/m3`, `1.1 ton per cubic yard`.
pub fn density(text: &str, cx: &Context) -> Result<Density, Wrong> {
    measured(text, *cx, Measures::Density).map(Density::kilograms_per_cubic_metre)
}

/// An amount of any dimension: `1.5 ft3`, `1 yard` (a volume), `12 ft`, `4 ft x 50 ft`, `50`, `40 lb`.
pub fn amount(text: &str, cx: &Context) -> Result<Amount, Wrong> {
    if let Some(lengths) = product(text, *cx) {
        return match lengths?.as_slice() {
            [a, b] => Ok(Amount::Area(*a * *b)),
            [a, b, c] => Ok(Amount::Volume((*a * *b).filled_to(*c))),
            _ => Err(amount_wrong(cx.system)),
        };
    }
    let plain = plain_marks(text);
    let plain = apart(&plain, *cx, None);
    let (negative, rest) = sign(&plain);
    let Some((value, rest)) = take_number(rest, cx.decimal_comma)? else {
        return Err(amount_wrong(cx.system));
    };
    let (word, after) = take_word(rest);
    if !after.is_empty() {
        // `7' 6"` and `2 lb 8 oz`: the first unit says which kind of compound it is.
        return match unit(word).map(Unit::measures) {
            Some(Measures::Weight) => weight(text, cx).map(Amount::Weight),
            Some(Measures::Length) => length(text, cx).map(Amount::Length),
            _ => Err(amount_wrong(cx.system)),
        };
    }
    let named = match word {
        "" => cx.bare,
        word => Some(unit(word).ok_or_else(|| amount_wrong(cx.system))?),
    };
    amount_of_number(signed(value, negative), named, cx.system)
}

/// An amount from a bare number and the unit it has, a count when it has none.
pub(crate) fn amount_of_number(
    value: Decimal,
    named: Option<Unit>,
    system: System,
) -> Result<Amount, Wrong> {
    let Some(unit) = named else {
        return Ok(Amount::Count(value));
    };
    // The trade sells loose goods by "the yard", and a yard of soil is a cubic one.
    let unit = if unit == Unit::Yard {
        Unit::CubicYard
    } else {
        unit
    };
    check_ton(unit, system)?;
    let base = value.saturating_mul(unit.in_base());
    match unit.measures() {
        Measures::Length => Ok(Amount::Length(Length::metres(base))),
        Measures::Area => Ok(Amount::Area(Area::square_metres(base))),
        Measures::Volume => Ok(Amount::Volume(Volume::cubic_metres(base))),
        Measures::Weight => Ok(Amount::Weight(Weight::kilograms(base))),
        Measures::Count => Ok(Amount::Count(base)),
        _ => Err(amount_wrong(system)),
    }
}

/// The unit behind the number that `text` starts with, when there is a known one.
pub(crate) fn unit_in(text: &str) -> Option<Unit> {
    let plain = plain_marks(text);
    let plain = without_apostrophes(&plain);
    let (_, rest) = take_number(&plain, Commas::Ask).ok()??;
    unit(take_word(rest).0)
}

/// A bare number of base units of `kind`, by the unit of the column's header.
pub(crate) fn of_number(value: Decimal, cx: Context, kind: Measures) -> Result<Decimal, Wrong> {
    in_base(value, cx.bare, kind, cx.system)
}

/// The base units that `text` measures, when it is of `kind`.
pub(crate) fn measured(text: &str, cx: Context, kind: Measures) -> Result<Decimal, Wrong> {
    let plain = plain_marks(text);
    let plain = apart(&plain, cx, Some(kind));
    let (negative, rest) = sign(&plain);
    let Some((first, rest)) = take_number(rest, cx.decimal_comma)? else {
        return Err(kind_wrong(kind, cx.system));
    };
    let (word, after) = take_word(rest);
    if after.is_empty() {
        return single(first, word, cx, kind).map(|value| signed(value, negative));
    }
    let value = compound((first, word), after, cx, kind)?;
    Ok(signed(value, negative))
}

/// The text without apostrophes that part thousands; in a job in feet they are feet.
fn apart(plain: &str, cx: Context, kind: Option<Measures>) -> Cow<'_, str> {
    let feet = matches!(kind, None | Some(Measures::Length)) && cx.system == System::UsCustomary;
    if feet {
        Cow::Borrowed(plain)
    } else {
        without_apostrophes(plain)
    }
}

fn single(value: Decimal, word: &str, cx: Context, kind: Measures) -> Result<Decimal, Wrong> {
    if word.is_empty() {
        return in_base(value, cx.bare, kind, cx.system);
    }
    if kind == Measures::Density
        && let Some((weight, volume)) = split_per(word)
        && let (Some(weight), Some(volume)) = (unit(weight), unit(volume))
    {
        return ratio(value, weight, volume, cx.system);
    }
    match unit(word) {
        Some(unit) => in_base(value, Some(unit), kind, cx.system),
        None => Err(unknown_unit(value, kind, cx.system)),
    }
}

fn split_per(word: &str) -> Option<(&str, &str)> {
    word.split_once('/').or_else(|| word.split_once(" per "))
}

fn ratio(value: Decimal, weight: Unit, volume: Unit, system: System) -> Result<Decimal, Wrong> {
    let weight = in_base(value, Some(weight), Measures::Weight, system)?;
    let volume = in_base(Decimal::ONE, Some(volume), Measures::Volume, system)?;
    Ok(weight.checked_div(volume).unwrap_or_default())
}

/// Two or more numbers, each in a smaller unit than the one before: `7' 10 1/2"`, `2 lb 8 oz`, `7-6`.
fn compound(
    first: (Decimal, &str),
    rest: &str,
    cx: Context,
    kind: Measures,
) -> Result<Decimal, Wrong> {
    let Some((second, after)) = take_number(rest, cx.decimal_comma)? else {
        return Err(unknown_unit(first.0, kind, cx.system));
    };
    let (second_word, after) = take_word(after);
    if !after.is_empty() {
        return Err(kind_wrong(kind, cx.system));
    }
    let (big, small) = if first.1 == "-" && kind == Measures::Length {
        dashed(first.0, second, second_word, cx)?
    } else {
        let big = unit(first.1).ok_or_else(|| unknown_unit(first.0, kind, cx.system))?;
        let small = match (second_word, big) {
            ("", Unit::Foot) => Some(Unit::Inch),
            ("", Unit::Hour) => Some(Unit::Minute),
            ("", Unit::Metre) => Some(centimetres(first.0, rest)?),
            (word, _) => unit(word),
        };
        let small = small.ok_or_else(|| unknown_unit(second, kind, cx.system))?;
        (big, small)
    };
    let lead = in_base(first.0, Some(big), kind, cx.system)?;
    let tail = in_base(second, Some(small), kind, cx.system)?;
    let whole = first.0.fract().is_zero();
    // `7' 14"` and `7.5' 3"` are slips more often than lengths.
    if !whole || tail >= big.in_base() || small.in_base() >= big.in_base() {
        return Err(Wrong::new(
            "does not add up: the second part must be less than one of the first, which must be whole",
            "write one number and one unit, as 94.5 in",
        ));
    }
    Ok(lead.saturating_add(tail))
}

/// `2 m 40` is said of 2.40 m; of `2 m 4` nobody knows whether a zero is lost.
fn centimetres(metres: Decimal, rest: &str) -> Result<Unit, Wrong> {
    let metres = metres.normalize();
    match rest.as_bytes() {
        [tens, ones] if tens.is_ascii_digit() && ones.is_ascii_digit() => Ok(Unit::Centimetre),
        [digit] if digit.is_ascii_digit() => Err(Wrong::new(
            format!("is unclear: it may be {metres}.0{rest} m or {metres}.{rest} m"),
            format!("write {metres}.0{rest} m or {metres}.{rest} m"),
        )),
        _ => Err(Wrong::new(
            "needs a unit behind its second number",
            "write one number and one unit, as 2.4 m",
        )),
    }
}

/// `7-6` is seven feet six inches where the trade measures in feet.
fn dashed(feet: Decimal, inches: Decimal, word: &str, cx: Context) -> Result<(Unit, Unit), Wrong> {
    let in_feet = match cx.bare {
        Some(unit) => unit == Unit::Foot,
        None => cx.system == System::UsCustomary,
    };
    let inch_word = word.is_empty() || unit(word) == Some(Unit::Inch);
    let plausible = feet.fract().is_zero() && inches < Decimal::from(12);
    if in_feet && inch_word && plausible {
        return Ok((Unit::Foot, Unit::Inch));
    }
    Err(Wrong::new(
        "needs one length, and a dash may be feet and inches or a range",
        "write 7' 6\", or one number with a unit",
    ))
}

fn in_base(
    value: Decimal,
    unit: Option<Unit>,
    kind: Measures,
    system: System,
) -> Result<Decimal, Wrong> {
    let Some(unit) = unit else {
        return Err(needs_unit(value, kind, system));
    };
    let unit = match (unit, kind) {
        (Unit::Yard, Measures::Volume) => Unit::CubicYard,
        (unit, _) => unit,
    };
    if unit.measures() != kind {
        return Err(Wrong::new(
            format!("needs {}, not {}", kind.words(), unit.measures().words()),
            format!("write {}", kind.examples(system)),
        ));
    }
    check_ton(unit, system)?;
    Ok(value.saturating_mul(unit.in_base()))
}

fn check_ton(unit: Unit, system: System) -> Result<(), Wrong> {
    if unit == Unit::Ton && system != System::UsCustomary {
        return Err(Wrong::new(
            "is unclear: a ton may be 2,000 lb or 1,000 kg",
            "write t for 1,000 kg, short ton for 2,000 lb, or a number of kg",
        ));
    }
    Ok(())
}

/// The sentence of a number without a unit; the row's reader adds how to head the column.
pub(crate) const NEEDS_UNIT: &str = "needs a unit";

fn needs_unit(value: Decimal, kind: Measures, system: System) -> Wrong {
    let word = kind.usual_unit(system);
    Wrong::new(
        NEEDS_UNIT,
        format!(
            "write {} {word}, or name the unit in the column's header",
            value.normalize()
        ),
    )
}

fn unknown_unit(value: Decimal, kind: Measures, system: System) -> Wrong {
    let sentence = "needs a unit or a number";
    if kind == Measures::Length && system == System::UsCustomary {
        let inches = value.saturating_mul(Decimal::from(12)).normalize();
        let feet = value.normalize();
        return Wrong::new(sentence, format!("write {feet} ft, {feet}' or {inches} in"));
    }
    Wrong::new(sentence, format!("write {}", kind.examples(system)))
}

fn kind_wrong(kind: Measures, system: System) -> Wrong {
    Wrong::new(
        format!("needs {}", kind.words()),
        format!("write {}", kind.examples(system)),
    )
}

fn amount_wrong(system: System) -> Wrong {
    let hint = match system {
        System::UsCustomary => "write 50, 12 ft, 32 ft2, 1.5 ft3, 1 yd3 or 40 lb",
        System::Metric => "write 50, 2.4 m, 3 m2, 40 L, 1 m3 or 25 kg",
    };
    Wrong::new("needs a number and a unit that is known", hint)
}

/// The lengths of `4 ft x 50 ft`; `None` when the text is no product.
fn product(text: &str, cx: Context) -> Option<Result<Vec<Length>, Wrong>> {
    let lower = text.to_lowercase();
    let marked = lower.contains(['x', '×', '*']) || lower.contains(" by ");
    if !marked {
        return None;
    }
    lengths_of(text, cx)
}

/// The unit word at the start of `text`, without the marks that join it to a next number, and what
/// stands from the next number on.
///
/// A 2 or 3 right behind a letter is an exponent (`ft2`), unless more follows (`7ft2in`).
pub(crate) fn take_word(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let mut end = bytes.len();
    for (i, byte) in bytes.iter().enumerate() {
        let starts_number = byte.is_ascii_digit()
            || (*byte == b'.' && bytes.get(i + 1).is_some_and(u8::is_ascii_digit));
        if starts_number && !is_exponent(bytes, i) {
            end = i;
            break;
        }
    }
    let (word, after) = text.split_at(end);
    (joined(word, after), after)
}

fn is_exponent(bytes: &[u8], i: usize) -> bool {
    let before = i.checked_sub(1).and_then(|b| bytes.get(b)).copied();
    let after = bytes.get(i + 1).copied().unwrap_or(b' ');
    matches!(bytes.get(i), Some(b'2' | b'3'))
        && before.is_some_and(|b| b.is_ascii_alphabetic() || b == b'^')
        && matches!(after, b' ' | b'/' | b',' | b')')
}

fn joined<'a>(word: &'a str, after: &str) -> &'a str {
    let word = word.trim();
    if after.is_empty() || word == "-" {
        return word;
    }
    let word = word.strip_suffix("and").unwrap_or(word);
    word.trim_end_matches([' ', '-', ',', '&'])
}
