//! Whole packs and steps: how many priced units a need takes, and at which price break.

use std::cmp::{Ordering, Reverse};

use crate::model::offer::OfferId;
use crate::units::round::step_up;
use crate::units::{Currency, Decimal, Money};

/// One price of a pack: it holds from a quantity on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Tier {
    /// The row of `Prices`.
    pub(super) offer: OfferId,
    /// Priced units from which this price applies.
    pub(super) from: Decimal,
    /// Sold in multiples of this.
    pub(super) step: Decimal,
    /// Least order.
    pub(super) least: Decimal,
    /// How many the seller has.
    pub(super) available: Option<Decimal>,
    /// Price of one priced unit.
    pub(super) price: Option<Decimal>,
}

/// A quantity that would do, at the price that applies to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Bid {
    /// The row of `Prices` whose price applies.
    pub(super) offer: OfferId,
    /// Its step.
    pub(super) step: Decimal,
    /// Priced units.
    pub(super) quantity: Decimal,
    /// Price of one.
    pub(super) price: Option<Decimal>,
    /// `quantity x price`, rounded once; zero without a price.
    pub(super) cost: Money,
    /// Whether the seller has too few.
    pub(super) short: bool,
}

/// The order of price rows: by the quantity from which they apply, then the dearest first.
pub(super) fn in_order<'t>(
    a: impl Iterator<Item = &'t Tier>,
    b: impl Iterator<Item = &'t Tier>,
) -> Ordering {
    let key = |tier: &'t Tier| {
        (
            tier.from,
            (tier.price.is_none(), Reverse(tier.price)),
            Reverse(tier.step),
            Reverse(tier.least),
            tier.available,
        )
    };
    a.map(key).cmp(b.map(key))
}

/// Every quantity worth asking for: for each price, the least that covers `need` and earns the price.
///
/// The tiers stand by the quantity from which they apply. The quantity is a multiple of the step, at least the
/// least order, and never above what the need takes for any other reason than to earn a price.
pub(super) fn bids(tiers: &[Tier], need: Decimal, currency: Currency) -> Vec<Bid> {
    let bid = |(index, tier): (usize, &Tier)| {
        let quantity = step_up(need.max(tier.least).max(tier.from), tier.step);
        let applies = applying(tiers, quantity) == Some(index);
        applies.then(|| Bid {
            offer: tier.offer,
            step: tier.step,
            quantity,
            price: tier.price,
            cost: cost_of(quantity, tier.price, currency),
            short: tier.available.is_some_and(|there| quantity > there),
        })
    };
    tiers.iter().enumerate().filter_map(bid).collect()
}

/// The bid that costs least: enough in stock first, a price before none, then money, then quantity.
pub(super) fn cheapest(bids: &[Bid]) -> Option<&Bid> {
    bids.iter()
        .min_by_key(|bid| (bid.short, bid.price.is_none(), bid.cost, bid.quantity))
}

/// Money for a quantity at a price, rounded once.
pub(super) fn cost_of(quantity: Decimal, price: Option<Decimal>, currency: Currency) -> Money {
    currency.round_line(quantity.saturating_mul(price.unwrap_or_default()))
}

fn applying(tiers: &[Tier], quantity: Decimal) -> Option<usize> {
    tiers.iter().rposition(|tier| tier.from <= quantity)
}
