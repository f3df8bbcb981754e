//! Sharing money so that the parts add up to the cent.
//!
//! The running total is rounded and each part gets the difference. A spreadsheet can do the same in
//! one linear column, no part is off by a cent or more, and no order of rows can change it as long as
//! the order of sharing is fixed (bed names).

use rust_decimal::Decimal;

use super::money::{Currency, Money};

/// Parts of `total` in proportion to `measures`, in their order.
///
/// When all measures are zero the first part takes everything.
///
/// # Examples
/// 100.00 over three equal beds is 33.33, 33.34, 33.33.
pub fn by_running_total(total: Money, measures: &[Decimal], currency: Currency) -> Vec<Money> {
    let whole: Decimal = measures
        .iter()
        .fold(Decimal::ZERO, |sum, m| sum.saturating_add(*m));
    let mut running = Decimal::ZERO;
    let mut given = Money::ZERO;
    let mut parts = Vec::with_capacity(measures.len());
    for measure in measures {
        running = running.saturating_add(*measure);
        let until = match running.checked_div(whole) {
            Some(_) => currency.round_line(
                total
                    .amount()
                    .saturating_mul(running)
                    .checked_div(whole)
                    .unwrap_or_default(),
            ),
            None => total,
        };
        parts.push(until - given);
        given = until;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shares(total: i64, measures: &[i64]) -> Vec<String> {
        let measures: Vec<Decimal> = measures.iter().copied().map(Decimal::from).collect();
        by_running_total(Money::of(Decimal::new(total, 2)), &measures, Currency::USD)
            .into_iter()
            .map(|part| Currency::USD.show(part))
            .collect()
    }

    #[test]
    fn a_hundred_over_three_beds() {
        // running 33.333 -> 33.33, 66.667 -> 66.67, 100 -> 100.00
        assert_eq!(shares(10_000, &[1, 1, 1]), ["33.33", "33.34", "33.33"]);
        // a 95.00 trip over three beds: 31.667 -> 31.67, 63.333 -> 63.33, 95.00
        assert_eq!(shares(9500, &[1, 1, 1]), ["31.67", "31.66", "31.67"]);
        assert_eq!(shares(9500, &[0, 0]), ["95.00", "0.00"]);
        assert_eq!(shares(9500, &[]), Vec::<String>::new());
    }
}
