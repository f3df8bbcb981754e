//! Whole packs and steps: how many priced units a need takes, and at which price break.

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

/// Brings tiers into the order of their quantities. Of two prices from one quantity the lower comes
/// last, and so is the one that applies.
pub(super) fn arrange(tiers: &mut [Tier]) {
    tiers.sort_by(|a, b| {
        let dear_first = b.price.cmp(&a.price);
        let missing_first = a.price.is_some().cmp(&b.price.is_some());
        (a.from.cmp(&b.from))
            .then(missing_first)
            .then(dear_first)
            .then(b.step.cmp(&a.step))
            .then(b.least.cmp(&a.least))
            .then(a.available.cmp(&b.available))
    });
}

/// Every quantity worth asking for: for each price, the least that covers `need` and earns the price.
///
/// The tiers stand as [`arrange`] left them. The quantity is a multiple of the step, at least the
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
