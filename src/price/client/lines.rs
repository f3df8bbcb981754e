//! The lines of the price that a client reads, and how the price is divided among them.

use super::super::Estimate;
use super::beds::{Bearing, bearers};
use super::{Line, LineKind};
use crate::model::labour::{Extra, ExtraKind};
use crate::units::{Decimal, Money};

/// All lines, in the order in which they are read; they come to the price.
///
/// Allowances and what is passed on stand at their own sums, discount and tax as in the owner's price,
/// contingency where the job shows it. Everything else (overhead, profit, delivery, rounding) is divided
/// among beds and areas in proportion to the materials, delivery, labour and hire that they bear.
pub(super) fn lines(estimate: &Estimate) -> Vec<Line> {
    let price = &estimate.price;
    let of = |key: &str| price.line(key).map_or(Money::ZERO, |line| line.amount);
    let (discount, tax) = (of("discount"), of("tax"));
    let full = price.before_tax - discount;
    let mut apart = extras(estimate);
    apart.extend(contingency(estimate));
    let mut rest = full - sum(&apart);
    if rest < Money::ZERO {
        // A price so far below cost that single sums would not fit into it is one sum.
        apart.clear();
        rest = full;
    }
    let mut lines = divided(estimate, rest);
    lines.append(&mut apart);
    let discounted = price.line("discount").map(|line| line.words.clone());
    let last = [
        (LineKind::Discount, discounted.unwrap_or_default(), discount),
        (LineKind::Tax, "Sales tax".to_owned(), tax),
    ];
    let last = last.into_iter().filter(|(_, _, amount)| !amount.is_zero());
    lines.extend(last.map(|(kind, name, amount)| Line { kind, name, amount }));
    lines
}

fn sum(lines: &[Line]) -> Money {
    lines.iter().map(|line| line.amount).sum()
}

/// Extras that the client sees with their own sums.
fn extras(estimate: &Estimate) -> Vec<Line> {
    let extras = estimate.job.extras.iter().zip(&estimate.price.extras);
    let seen = extras.filter(|(extra, cost)| extra.client_sees && !cost.is_zero());
    let lines = seen.filter_map(|(extra, cost)| {
        Some(Line {
            kind: kind(extra)?,
            name: extra.item.to_string(),
            amount: *cost,
        })
    });
    let mut lines: Vec<Line> = lines.collect();
    lines.sort_by(|a, b| super::beds::order(&a.name, &b.name).then(a.amount.cmp(&b.amount)));
    lines
}

/// A cost is part of the beds, whoever sees it named.
fn kind(extra: &Extra) -> Option<LineKind> {
    match extra.kind {
        ExtraKind::Allowance => Some(LineKind::Allowance),
        ExtraKind::PassThrough => Some(LineKind::PassedOn),
        ExtraKind::Cost | ExtraKind::Exclusion => None,
    }
}

fn contingency(estimate: &Estimate) -> Option<Line> {
    let line = estimate.price.line("contingency")?;
    let seen = &estimate.job.settings.client_sees_contingency;
    let is_shown = seen.value && !line.amount.is_zero();
    is_shown.then(|| Line {
        kind: LineKind::Contingency,
        name: "Contingency".to_owned(),
        amount: line.amount,
    })
}

fn divided(estimate: &Estimate, rest: Money) -> Vec<Line> {
    let bearers = bearers(estimate);
    if bearers.is_empty() {
        return vec![Line {
            kind: LineKind::Work,
            name: "Work and goods".to_owned(),
            amount: rest,
        }];
    }
    let weights: Vec<Decimal> = bearers.iter().map(Bearing::weight).collect();
    let smallest = estimate.job.settings.currency.value.smallest();
    let amounts = divide(rest, &weights, smallest);
    let lines = bearers.into_iter().zip(amounts);
    lines
        .map(|(bearer, amount)| Line {
            kind: bearer.kind,
            name: bearer.name,
            amount,
        })
        .collect()
}

/// A sum in proportion to weights: each part is rounded down to the smallest coin, and the coins that are
/// left go to the largest part, the first of equals. Without any weight all parts weigh the same.
fn divide(sum: Money, weights: &[Decimal], smallest: Decimal) -> Vec<Money> {
    let whole: Decimal = weights
        .iter()
        .copied()
        .fold(Decimal::ZERO, Decimal::saturating_add);
    let is_even = whole.is_zero();
    let whole = if is_even {
        Decimal::from(weights.len())
    } else {
        whole
    };
    let part = |weight: &Decimal| {
        let weight = if is_even { Decimal::ONE } else { *weight };
        let exact = sum.amount().saturating_mul(weight).checked_div(whole);
        // Dust of the division must not cost a part its last coin.
        let coins = exact
            .unwrap_or_default()
            .checked_div(smallest)
            .map(|c| c.round_dp(9));
        Money::of(coins.unwrap_or_default().floor().saturating_mul(smallest))
    };
    let mut parts: Vec<Money> = weights.iter().map(part).collect();
    let left = sum - parts.iter().copied().sum();
    let largest = (0..parts.len())
        .rev()
        .max_by_key(|place| parts.get(*place).copied());
    if let Some(part) = largest.and_then(|place| parts.get_mut(place)) {
        *part += left;
    }
    parts
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(sum: i64, weights: &[i64]) -> Vec<Decimal> {
        let weights: Vec<Decimal> = weights.iter().copied().map(Decimal::from).collect();
        let parts = divide(
            Money::of(Decimal::new(sum, 2)),
            &weights,
            Decimal::new(1, 2),
        );
        parts.into_iter().map(Money::amount).collect()
    }

    fn cents(cents: &[i64]) -> Vec<Decimal> {
        cents.iter().map(|c| Decimal::new(*c, 2)).collect()
    }

    #[test]
    fn cents_that_are_left_go_to_the_largest_part() {
        // 100.00 by 1 : 1 : 1 is 33.33 each, and the cent goes to the first.
        assert_eq!(parts(10_000, &[1, 1, 1]), cents(&[3334, 3333, 3333]));
        // 10.00 by 1 : 5 : 1 is 1.428.., 7.142.., 1.428..: 1.42 + 7.14 + 1.42 = 9.98.
        assert_eq!(parts(1_000, &[1, 5, 1]), cents(&[142, 716, 142]));
        assert_eq!(parts(1_000, &[2, 1, 2]), cents(&[400, 200, 400]));
    }

    #[test]
    fn parts_without_weight_are_even_and_nothing_is_divided_by_nothing() {
        assert_eq!(parts(700, &[0, 0]), cents(&[350, 350]));
        assert_eq!(parts(700, &[0, 3]), cents(&[0, 700]));
        assert_eq!(parts(3, &[1, 1, 1, 1]), cents(&[3, 0, 0, 0]));
    }
}
