//! Outlines typed corner by corner: reading them, and whether they cross themselves.

use rust_decimal::Decimal;

use crate::units::Length;
use crate::units::parse::{self, Context, Wrong};

/// A corner: along the length and along the width.
type Corner = (Length, Length);

/// Most corners of one bed; more is a drawing and no bed.
const MOST: usize = 200;

/// `0,0; 8,0; 8,4; 0,4 ft`: pairs between semicolons, in the unit of the column, of the last
/// number, or each with its own. Where a comma is the decimal mark a space parts the two numbers.
pub(super) fn polygon(text: &str, context: Context) -> Result<Vec<Corner>, Wrong> {
    let (text, context) = with_last_unit(text, context);
    let pairs = text.split(';').map(str::trim).filter(|p| !p.is_empty());
    let mut corners = Vec::new();
    for pair in pairs {
        let (along, across) = two_numbers(pair, context).ok_or_else(|| Wrong {
            sentence: format!("has a corner that is not two numbers: \"{pair}\""),
            hint: HINT.to_owned(),
        })?;
        corners.push((
            parse::length(along, &context)?,
            parse::length(across, &context)?,
        ));
    }
    if corners.len() > 3 && corners.first() == corners.last() {
        corners.pop();
    }
    if !(3..=MOST).contains(&corners.len()) {
        return Err(Wrong {
            sentence: format!("must have 3 to {MOST} corners"),
            hint: HINT.to_owned(),
        });
    }
    Ok(corners)
}

const HINT: &str = "write 0,0; 8,0; 8,4; 0,4 with a unit in the header or after the last number";

fn two_numbers(pair: &str, context: Context) -> Option<(&str, &str)> {
    let (along, across) = if context.decimal_comma.is_decimal() {
        pair.split_once(char::is_whitespace)?
    } else {
        pair.split_once(',')?
    };
    let (along, across) = (along.trim(), across.trim());
    (!along.is_empty() && !across.is_empty()).then_some((along, across))
}

/// A unit behind the last number serves all numbers, when none of the others has one.
fn with_last_unit(text: &str, context: Context) -> (&str, Context) {
    let text = text.trim();
    let body = text.trim_end_matches(|c: char| !c.is_ascii_digit());
    let tail = text.get(body.len()..).unwrap_or_default().trim();
    let others = body.chars().any(char::is_alphabetic) || body.contains(['\'', '"']);
    match parse::unit(tail) {
        Some(unit) if !others => (
            body,
            Context {
                bare: Some(unit),
                ..context
            },
        ),
        _ => (text, context),
    }
}

/// Whether the outline encloses an area and no two of its sides meet but at their common corner.
pub(super) fn simple_outline(corners: &[Corner]) -> bool {
    let sides: Vec<(Corner, Corner)> = corners
        .iter()
        .copied()
        .zip(corners.iter().copied().cycle().skip(1))
        .collect();
    if sides.iter().any(|(a, b)| a == b) || doubled_area(&sides).is_zero() {
        return false;
    }
    let last = sides.len().saturating_sub(1);
    for (i, one) in sides.iter().enumerate() {
        for (j, other) in sides.iter().enumerate().skip(i.saturating_add(1)) {
            let neighbours = j == i.saturating_add(1) || (i == 0 && j == last);
            if neighbours && folds_back(one, other) || !neighbours && meet(one, other) {
                return false;
            }
        }
    }
    true
}

fn doubled_area(sides: &[(Corner, Corner)]) -> Decimal {
    sides.iter().fold(Decimal::ZERO, |sum, (a, b)| {
        let cross = product(a.0, b.1).saturating_sub(product(b.0, a.1));
        sum.saturating_add(cross)
    })
}

fn product(a: Length, b: Length) -> Decimal {
    (a * b).in_square_metres()
}

/// On which side of the line from `a` to `b` the corner `c` lies: the sign of the cross product.
fn turn(a: Corner, b: Corner, c: Corner) -> Decimal {
    product(b.0 - a.0, c.1 - a.1).saturating_sub(product(b.1 - a.1, c.0 - a.0))
}

fn within(a: Corner, b: Corner, c: Corner) -> bool {
    c.0 >= a.0.min(b.0) && c.0 <= a.0.max(b.0) && c.1 >= a.1.min(b.1) && c.1 <= a.1.max(b.1)
}

fn meet(one: &(Corner, Corner), other: &(Corner, Corner)) -> bool {
    let (a, b) = *one;
    let (c, d) = *other;
    let (from_c, from_d) = (turn(a, b, c), turn(a, b, d));
    let (from_a, from_b) = (turn(c, d, a), turn(c, d, b));
    let apart = |x: Decimal, y: Decimal| {
        !x.is_zero() && !y.is_zero() && x.is_sign_negative() != y.is_sign_negative()
    };
    apart(from_c, from_d) && apart(from_a, from_b)
        || from_c.is_zero() && within(a, b, c)
        || from_d.is_zero() && within(a, b, d)
        || from_a.is_zero() && within(c, d, a)
        || from_b.is_zero() && within(c, d, b)
}

/// Whether a side runs back over the one before it.
fn folds_back(one: &(Corner, Corner), other: &(Corner, Corner)) -> bool {
    let (a, b) = *one;
    let (c, d) = *other;
    // The first side and the last one share the corner `a`; all other neighbours share `b`.
    let (shared, before, after) = if b == c { (b, a, d) } else { (a, b, c) };
    if !turn(before, shared, after).is_zero() {
        return false;
    }
    let dot = product(before.0 - shared.0, after.0 - shared.0)
        .saturating_add(product(before.1 - shared.1, after.1 - shared.1));
    dot > Decimal::ZERO
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_outline(corners: &[(i64, i64)], simple: bool) {
        let corners: Vec<Corner> = corners
            .iter()
            .map(|(x, y)| (Length::feet((*x).into()), Length::feet((*y).into())))
            .collect();
        assert_eq!(simple_outline(&corners), simple);
    }

    #[test]
    fn an_outline_may_turn_inwards_but_not_cross_itself() {
        check_outline(&[(0, 0), (8, 0), (8, 4), (0, 4)], true);
        // an arrow head: the third corner lies inside the triangle of the others
        check_outline(&[(0, 0), (8, 0), (4, 2), (4, 8)], true);
        // a bow tie: its two diagonals cross in the middle
        check_outline(&[(0, 0), (8, 4), (8, 0), (0, 4)], false);
        // there and back again encloses nothing
        check_outline(&[(0, 0), (8, 0), (4, 0)], false);
        // a spike: the last side runs back over the first
        check_outline(&[(0, 0), (8, 0), (8, 4), (4, 4), (4, 0)], false);
        check_outline(&[(0, 0), (8, 0), (8, 0), (0, 4)], false);
    }
}
