//! Roots and angles in decimals, good to 25 digits and more. Angles are in radians.
//!
//! The series run until their terms vanish, so nothing depends on a fixed number of terms.

use rust_decimal::{Decimal, MathematicalOps};

use crate::units::{Area, Length};

/// Half a turn.
pub(crate) const PI: Decimal = Decimal::PI;
/// More terms than any series here needs before its terms vanish.
const TERMS: u32 = 60;

fn over(number: Decimal, by: Decimal) -> Decimal {
    number.checked_div(by).unwrap_or_default()
}

/// The side of a square of this area; nothing for a negative area.
pub(crate) fn side_of_square(area: Area) -> Length {
    Length::metres(area.in_square_metres().sqrt().unwrap_or_default())
}

/// Degrees as radians.
pub(crate) fn degrees(number: Decimal) -> Decimal {
    over(number.saturating_mul(PI), Decimal::from(180))
}

/// x^n/n! summed with alternating signs, every second term, starting from `first`, which is term `start`.
fn alternating(first: Decimal, start: u32, x: Decimal) -> Decimal {
    let square = x.saturating_mul(x);
    let (mut term, mut sum) = (first, first);
    for k in 0..TERMS {
        let n = Decimal::from(start + 2 * k);
        let divisor = n
            .saturating_add(Decimal::ONE)
            .saturating_mul(n.saturating_add(Decimal::TWO));
        term = over(
            Decimal::ZERO.saturating_sub(term.saturating_mul(square)),
            divisor,
        );
        if term.is_zero() {
            break;
        }
        sum = sum.saturating_add(term);
    }
    sum
}

/// Sine of an angle within a turn.
pub(crate) fn sine(x: Decimal) -> Decimal {
    alternating(x, 1, x)
}

/// Cosine of an angle within a turn.
pub(crate) fn cosine(x: Decimal) -> Decimal {
    alternating(Decimal::ONE, 0, x)
}

/// Tangent of an angle below a quarter turn.
pub(crate) fn tangent(x: Decimal) -> Decimal {
    over(sine(x), cosine(x))
}

/// The angle whose tangent is `x`.
fn arctangent(x: Decimal) -> Decimal {
    // Halving the angle three times brings it below pi/16, where 20 terms are plenty.
    let mut small = x;
    for _ in 0..3 {
        let hypotenuse = Decimal::ONE.saturating_add(small.saturating_mul(small));
        let root = hypotenuse.sqrt().unwrap_or(Decimal::ONE);
        small = over(small, Decimal::ONE.saturating_add(root));
    }
    let square = small.saturating_mul(small);
    let (mut power, mut sum) = (small, small);
    for k in 1..TERMS {
        power = Decimal::ZERO.saturating_sub(power.saturating_mul(square));
        let term = over(power, Decimal::from(2 * k + 1));
        if term.is_zero() {
            break;
        }
        sum = sum.saturating_add(term);
    }
    sum.saturating_mul(Decimal::from(8))
}

/// The angle whose sine is `x`; a quarter turn at and beyond 1.
pub(crate) fn arcsine(x: Decimal) -> Decimal {
    let quarter = over(PI, Decimal::TWO);
    if x >= Decimal::ONE {
        return quarter;
    }
    if x <= Decimal::NEGATIVE_ONE {
        return Decimal::ZERO.saturating_sub(quarter);
    }
    let cosine = Decimal::ONE
        .saturating_sub(x.saturating_mul(x))
        .sqrt()
        .unwrap_or_default();
    arctangent(over(x, cosine))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(found: Decimal, expected: &str) {
        let expected: Decimal = expected.parse().unwrap();
        assert!(
            (found - expected).abs() < Decimal::new(1, 24),
            "{found} is not {expected}"
        );
    }

    #[test]
    fn known_angles_come_out_to_twenty_four_digits() {
        let pi_over = |n: u32| PI / Decimal::from(n);
        check(sine(pi_over(6)), "0.5");
        check(cosine(pi_over(3)), "0.5");
        check(tangent(pi_over(4)), "1");
        // tan 22.5 deg = sqrt 2 - 1; tan 30 deg = 1 / sqrt 3
        check(tangent(pi_over(8)), "0.4142135623730950488016887242");
        check(tangent(pi_over(6)), "0.5773502691896257645091487805");
        check(
            arcsine(Decimal::new(5, 1)),
            "0.5235987755982988730771072305",
        );
        check(arcsine(Decimal::ONE), "1.5707963267948966192313216916");
        check(
            arcsine(Decimal::NEGATIVE_ONE),
            "-1.5707963267948966192313216916",
        );
        check(arcsine(sine(Decimal::new(14, 1))), "1.4");
    }

    #[test]
    fn roots_are_exact_where_they_can_be() {
        let square = Area::square_metres(Decimal::new(123_454_321, 4));
        assert_eq!(side_of_square(square).in_metres(), Decimal::new(11_111, 2));
        assert_eq!(
            side_of_square(Area::ZERO - square).in_metres(),
            Decimal::ZERO
        );
    }
}
