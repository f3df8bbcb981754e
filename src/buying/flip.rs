//! The price of a unit at which another way of buying becomes the cheaper one.

use super::choose::Plan;
use super::packs::Bid;
use crate::model::offer::OfferId;
use crate::units::round::tidy15;
use crate::units::{Decimal, Money};

/// The unit price of one offer at which a whole plan costs `money`: one price moves every drop that it serves.
pub(super) fn flip_of_plan(plan: &Plan, offer: OfferId, money: Money) -> Option<Decimal> {
    let bids = plan.lines.iter().map(|line| &line.quote.bid);
    let own = bids.filter(|bid| bid.offer == offer);
    let goods: Money = own.clone().map(|bid| bid.cost).sum();
    let quantity = own.map(|bid| bid.quantity);
    let quantity = quantity.fold(Decimal::ZERO, Decimal::saturating_add);
    let left = money - (plan.cost - goods);
    left.amount().checked_div(quantity).map(tidy15)
}

/// The lower of two prices that may be unknown.
pub(super) fn lower(one: Option<Decimal>, other: Option<Decimal>) -> Option<Decimal> {
    match (one, other) {
        (Some(one), Some(other)) => Some(one.min(other)),
        (one, other) => one.or(other),
    }
}

/// The unit price at which `bid` costs `money`.
pub(super) fn flip_price(bid: &Bid, money: Money) -> Option<Decimal> {
    bid.price?;
    money.amount().checked_div(bid.quantity).map(tidy15)
}
