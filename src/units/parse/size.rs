//! Sizes in one cell: `4x8x18 in`.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::figure::take_number;
use super::measure::measured;
use super::sides::in_order;
use super::slips::without_apostrophes;
use super::unit::{Measures, Unit, unit};
use super::words::plain_marks;
use super::{Context, Wrong};
use crate::units::{Length, System};

/// A size, and how it was read when that took a decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SizeRead {
    /// Two or three lengths, in the order typed.
    pub lengths: Vec<Length>,
    /// How a mixed size was read, for a notice: `4 ft x 8 ft x 18 in`.
    pub read_as: Option<String>,
}

/// Two or three lengths: `4x8x18 in`, `4' x 8' x 18"`, `1.2 x 2.4 x 0.45 m`.
pub fn size(text: &str, cx: &Context) -> Result<Vec<Length>, Wrong> {
    size_read(text, cx).map(|read| read.lengths)
}

/// As [`size`], with how it was read.
///
/// A part without a unit takes the next one to its right. `4x8x18 in` cannot mean a bed four inches
/// wide, so there the trade's habit is followed: plan in feet, height in inches, and the reading is
/// told. Where both readings make a bed (`8x24x18 in`), the size is refused.
pub fn size_read(text: &str, cx: &Context) -> Result<SizeRead, Wrong> {
    let plain = plain_marks(text).to_lowercase();
    let plain = match cx.system {
        System::Metric => without_apostrophes(&plain),
        System::UsCustomary => Cow::Borrowed(plain.as_str()),
    };
    let parts = in_order(split(&plain).collect())?;
    let parts: Vec<Part<'_>> = parts.into_iter().map(|p| Part::of(p, *cx)).collect();
    if !(2..=3).contains(&parts.len()) {
        return Err(size_wrong(cx.system));
    }
    if let Some(mixed) = mixed_units(&parts)? {
        return Ok(mixed);
    }
    let lengths = resolved(&parts, *cx)?;
    Ok(SizeRead {
        lengths,
        read_as: None,
    })
}

/// Two or three lengths of something that is no bed, and so may be as small as a board: `38 x 235 mm`.
pub fn sides(text: &str, cx: &Context) -> Result<Vec<Length>, Wrong> {
    lengths_of(text, *cx).unwrap_or_else(|| Err(size_wrong(cx.system)))
}

/// The lengths of a product, by the plain rule that a part without a unit takes the next one;
/// `None` when the text is not two or three parts that each begin with a number.
pub(super) fn lengths_of(text: &str, cx: Context) -> Option<Result<Vec<Length>, Wrong>> {
    let plain = plain_marks(text).to_lowercase();
    let parts: Vec<Part<'_>> = split(&plain).map(|part| Part::of(part, cx)).collect();
    let numbers = parts.iter().all(Part::starts_with_number);
    ((2..=3).contains(&parts.len()) && numbers).then(|| resolved(&parts, cx))
}

fn split(plain: &str) -> impl Iterator<Item = &str> {
    let by = if plain.contains("by") { "by" } else { "" };
    let marks = ['x', '*'];
    let words = plain.split(by).filter(move |_| !by.is_empty());
    let marked = plain.split(marks).filter(move |_| by.is_empty());
    words.chain(marked).map(str::trim)
}

/// One part of a size: its text, the number that it starts with, and whether a unit follows it.
struct Part<'a> {
    text: &'a str,
    number: Option<Decimal>,
    bare: bool,
    unit: Option<Unit>,
}

impl<'a> Part<'a> {
    fn of(text: &'a str, cx: Context) -> Self {
        let number = take_number(text, cx.decimal_comma).ok().flatten();
        Self {
            text,
            number: number.map(|n| n.0),
            bare: number.is_some_and(|(_, rest)| rest.is_empty()),
            unit: number.and_then(|(_, rest)| unit(rest)),
        }
    }

    fn starts_with_number(&self) -> bool {
        self.text
            .starts_with(|c: char| c.is_ascii_digit() || c == '.')
    }

    fn bare(&self) -> Option<Decimal> {
        self.number.filter(|_| self.bare)
    }
}

fn resolved(parts: &[Part<'_>], cx: Context) -> Result<Vec<Length>, Wrong> {
    let mut following = None;
    let mut lengths = Vec::with_capacity(parts.len());
    for part in parts.iter().rev() {
        let cx = Context {
            bare: following.or(cx.bare),
            ..cx
        };
        lengths.push(Length::metres(measured(part.text, cx, Measures::Length)?));
        following = part.unit.or(following);
    }
    lengths.reverse();
    Ok(lengths)
}

/// Narrower than this is no bed: 6 in, or 15 cm.
const NARROWEST: Decimal = Decimal::from_parts(1524, 0, 0, false, 4);
/// Wider than this is no bed either: 16 ft, near 5 m.
const WIDEST: Decimal = Decimal::from_parts(48_768, 0, 0, false, 4);

/// `4x8x18 in` with the plan in the larger unit; `None` when the plain rule serves.
fn mixed_units(parts: &[Part<'_>]) -> Result<Option<SizeRead>, Wrong> {
    let [a, b, c] = parts else {
        return two_with_small_unit(parts);
    };
    let (Some(first), Some(second), Some(small), Some(last)) =
        (a.bare(), b.bare(), c.unit, c.number)
    else {
        return Ok(None);
    };
    let Some(large) = larger(small) else {
        return Ok(None);
    };
    let narrow = first.min(second);
    let in_small = narrow.saturating_mul(small.in_base());
    let in_large = narrow.saturating_mul(large.in_base());
    if in_small < NARROWEST {
        let lengths = [(first, large), (second, large), (last, small)]
            .map(|(n, unit)| Length::metres(n.saturating_mul(unit.in_base())));
        return Ok(Some(SizeRead {
            lengths: lengths.to_vec(),
            read_as: Some(spelled(first, second, large, last, small)),
        }));
    }
    if in_large > WIDEST {
        return Ok(None);
    }
    let other = spelled(first, second, large, last, small);
    let same = spelled(first, second, small, last, small);
    Err(Wrong::new(
        format!("is unclear: it may be {other} or {same}"),
        format!("write {other} or {same}"),
    ))
}

fn two_with_small_unit(parts: &[Part<'_>]) -> Result<Option<SizeRead>, Wrong> {
    let [a, b] = parts else { return Ok(None) };
    let (Some(first), Some(small), Some(second)) = (a.bare(), b.unit, b.number) else {
        return Ok(None);
    };
    let narrow = first.min(second).saturating_mul(small.in_base());
    match larger(small) {
        Some(large) if narrow < NARROWEST => {
            let (first, second) = (first.normalize(), second.normalize());
            let (large, small) = (large.symbol(), small.symbol());
            Err(Wrong::new(
                format!("is unclear: {first} {small} x {second} {small} is too small for a bed"),
                format!("write {first} {large} x {second} {large}"),
            ))
        }
        _ => Ok(None),
    }
}

const fn larger(unit: Unit) -> Option<Unit> {
    match unit {
        Unit::Inch => Some(Unit::Foot),
        Unit::Centimetre | Unit::Millimetre => Some(Unit::Metre),
        _ => None,
    }
}

fn spelled(first: Decimal, second: Decimal, plan: Unit, last: Decimal, height: Unit) -> String {
    let (first, second, last) = (first.normalize(), second.normalize(), last.normalize());
    let (plan, height) = (plan.symbol(), height.symbol());
    format!("{first} {plan} x {second} {plan} x {last} {height}")
}

fn size_wrong(system: System) -> Wrong {
    let hint = match system {
        System::UsCustomary => "write 4' x 8' x 18\" or 4 ft x 8 ft",
        System::Metric => "write 1.2 x 2.4 x 0.45 m or 1200 x 2400 mm",
    };
    Wrong::new("needs two or three lengths with an x between them", hint)
}
