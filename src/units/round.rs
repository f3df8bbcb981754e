//! The only rounding in the program.
//!
//! The workbook that we write recalculates in spreadsheet programs, which round decimal text of 15
//! significant digits half away from zero. The same two steps here keep engine and sheet equal:
//! a plain decimal `5/6 x 45.03` is 37.5249999..., and would print 37.52 where every sheet says 37.53.

use rust_decimal::{Decimal, RoundingStrategy};

/// Digits that a spreadsheet cell keeps.
const SIGNIFICANT: u32 = 15;
/// Decimals below which a part of a pack is dust from unit conversion, not a need.
const DUST: u32 = 9;

/// Half away from zero at 15 significant digits: the number as a spreadsheet cell would hold it.
///
/// # Examples
/// 37.52499999999999999999 becomes 37.525.
pub fn tidy15(number: Decimal) -> Decimal {
    number
        .round_sf_with_strategy(SIGNIFICANT, RoundingStrategy::MidpointAwayFromZero)
        .unwrap_or(number)
        .normalize()
}

/// Half away from zero to `places` decimals, after [`tidy15`].
pub fn half_away(number: Decimal, places: u32) -> Decimal {
    tidy15(number).round_dp_with_strategy(places, RoundingStrategy::MidpointAwayFromZero)
}

/// The least whole number not below `number`, where up to nine decimals count and dust does not.
///
/// # Examples
/// 2.0000000000000000000000000008 packs are 2; 2.001 packs are 3.
pub fn whole_up(number: Decimal) -> Decimal {
    number
        .round_dp_with_strategy(DUST, RoundingStrategy::MidpointAwayFromZero)
        .ceil()
        .normalize()
}

/// The least multiple of `step` not below `number`; `number` itself when `step` is not positive.
pub fn step_up(number: Decimal, step: Decimal) -> Decimal {
    if step <= Decimal::ZERO {
        return number;
    }
    match number.checked_div(step) {
        Some(steps) => whole_up(steps).saturating_mul(step).normalize(),
        None => number,
    }
}

/// The greatest multiple of `step` not above `number`; `number` itself when `step` is not positive.
pub fn step_down(number: Decimal, step: Decimal) -> Decimal {
    if step <= Decimal::ZERO {
        return number;
    }
    match number.checked_div(step) {
        Some(steps) => {
            let steps = steps.round_dp_with_strategy(DUST, RoundingStrategy::MidpointAwayFromZero);
            steps.floor().saturating_mul(step).normalize()
        }
        None => number,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn money_rounds_as_a_spreadsheet_does_not_as_raw_decimals_would() {
        // 5/6 x 45.03 = 37.525 exactly; the 28-digit decimal is just below it, and naively gives 37.52.
        let exact = d("5") / d("6") * d("45.03");
        assert_eq!(
            exact.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero),
            d("37.52")
        );
        assert_eq!(half_away(exact, 2), d("37.53"));
        // 1/3 x 3.015 = 1.005
        assert_eq!(half_away(d("1") / d("3") * d("3.015"), 2), d("1.01"));
        // 851.5 x 321.69 = 273919.035, where binary floats give .03
        assert_eq!(half_away(d("851.5") * d("321.69"), 2), d("273919.04"));
        assert_eq!(half_away(d("-0.125"), 2), d("-0.13"));
    }

    #[test]
    fn dust_buys_no_extra_pack() {
        assert_eq!(whole_up(d("1.0000000000000000000000000008")), d("1"));
        assert_eq!(
            d("1.0000000000000000000000000008").ceil(),
            d("2"),
            "the naive answer"
        );
        assert_eq!(whole_up(d("2") / d("3") * d("3")), d("2"));
        assert_eq!(whole_up(d("2.001")), d("3"));
        assert_eq!(step_up(d("1.4009"), d("0.5")), d("1.5"));
        assert_eq!(step_up(d("12.1"), d("0.5")), d("12.5"));
        assert_eq!(step_down(d("5.909"), d("0.5")), d("5.5"));
        assert_eq!(step_down(d("6.6"), d("1.1")), d("6.6"));
    }
}
