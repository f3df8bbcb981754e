//! Buying what is cut: one supplier's sticks, the cut list from them, culls, and what it costs.

use std::collections::BTreeMap;

use super::cut_list::{self, Solved};
use super::demand::Demand;
use super::desk::Desk;
use super::packs::{self, Bid};
use super::sticks::{self, Bench, Cut, Size, Stock};
use super::supply::Supply;
use super::{Stick, held};
use crate::units::round::whole_up;
use crate::units::{Amount, Decimal, Length, Money};

/// Millionths in one unit of currency.
const MILLIONTHS: Decimal = Decimal::from_parts(1_000_000, 0, 0, false, 0);
/// What rounding changes in one line at most.
const HALF_A_CENT: Decimal = Decimal::from_parts(5, 0, 0, false, 3);
/// What a stick without a price is taken to cost when sticks are compared, so that it comes last.
const UNPRICED: i64 = 1_000_000_000_000;

/// So many sticks of one supply.
#[derive(Clone, Debug)]
pub(super) struct Sticks {
    /// Which supply, by its place in the list.
    pub(super) supply: usize,
    /// Sticks of the cut list.
    pub(super) cut: u64,
    /// Extra sticks for culls.
    pub(super) culls: u64,
    /// What is bought.
    pub(super) bid: Bid,
    /// Summed length of the pieces that come out of them.
    pub(super) pieces: Length,
}

/// The sticks bought for one material.
#[derive(Clone, Debug)]
pub(super) struct CutPlan {
    /// By supply.
    pub(super) sticks: Vec<Sticks>,
    /// The cut list.
    pub(super) list: Vec<Stick>,
    /// Cost of everything.
    pub(super) cost: Money,
    /// Cost without culls.
    pub(super) cost_of_cut: Money,
    /// A cost that no cutting can go below.
    pub(super) lower_bound: Money,
    /// Whether that cost is reached.
    pub(super) proven: bool,
    /// Whole extra sticks.
    pub(super) culls: u64,
    /// Lines whose price is missing.
    pub(super) gaps: u32,
    /// Whether a seller has too few.
    pub(super) short: bool,
}

/// The cheapest cutting from these supplies; `None` when they cannot yield every piece.
pub(super) fn plan(
    desk: &Desk<'_>,
    demand: &Demand,
    supplies: &[(usize, Supply)],
) -> Option<CutPlan> {
    let sold: Vec<&(usize, Supply)> = supplies.iter().filter(|(_, s)| s.stick.is_some()).collect();
    let priced: Vec<_> = sold
        .iter()
        .copied()
        .filter(|(_, s)| s.is_priced())
        .collect();
    let sizes = sticks::sizes_of(&demand.pieces);
    [priced, sold]
        .into_iter()
        .find_map(|from| plan_from(desk, demand, &from, &sizes))
}

/// Whether any of the sticks yields a piece of this length.
pub(super) fn reaches(desk: &Desk<'_>, supplies: &[Supply], piece: Length) -> bool {
    let sizes = [Size {
        length: sticks::needed_nm(piece),
        count: 1,
    }];
    let bench = Bench {
        stocks: &[],
        sizes: &sizes,
        kerf: 0,
    };
    supplies.iter().any(|supply| {
        supply.stick.is_some() && bench.holds(&stock_of(desk, supply, false, false), &[(0, 1)])
    })
}

/// The longest stick that any of the supplies has.
pub(super) fn longest(supplies: &[Supply]) -> Option<Length> {
    supplies.iter().filter_map(|supply| supply.stick).max()
}

fn plan_from(
    desk: &Desk<'_>,
    demand: &Demand,
    supplies: &[&(usize, Supply)],
    sizes: &[Size],
) -> Option<CutPlan> {
    if supplies.is_empty() {
        return None;
    }
    let kerf = sticks::needed_nm(desk.job.kerf(demand.material).value);
    let mut best: Option<CutPlan> = None;
    let breaks = supplies.iter().any(|(_, supply)| supply.tiers.len() > 1);
    for reached in [false, true] {
        if reached && !breaks {
            break;
        }
        for capped in [true, false] {
            let stocks: Vec<Stock> = supplies
                .iter()
                .map(|(_, supply)| stock_of(desk, supply, reached, capped))
                .collect();
            let bench = Bench {
                stocks: &stocks,
                sizes,
                kerf,
            };
            let Some(solved) = solved(desk, demand, &bench, supplies) else {
                continue;
            };
            let found = priced(desk, demand, &bench, supplies, &solved);
            let rank = |plan: &CutPlan| (plan.short, plan.gaps, plan.cost);
            if best.as_ref().is_none_or(|b| rank(&found) < rank(b)) {
                best = Some(found);
            }
            // Without the limits of what is in stock only when nothing else yields all pieces.
            break;
        }
    }
    best
}

/// The cut list of an earlier run when it is held and still fits, else a new one.
fn solved(
    desk: &Desk<'_>,
    demand: &Demand,
    bench: &Bench<'_>,
    supplies: &[&(usize, Supply)],
) -> Option<Solved> {
    let kept = desk
        .held
        .and_then(|held| held.cut_lists.get(&demand.material))
        .and_then(|list| held::cuts_of(list, bench, supplies));
    match kept {
        Some(cuts) => Some(Solved { cuts, bound: None }),
        None => cut_list::solve(bench),
    }
}

/// One kind of stick at its price for few, as many as there are.
pub(super) fn stock(desk: &Desk<'_>, supply: &Supply) -> Stock {
    stock_of(desk, supply, false, true)
}

fn stock_of(desk: &Desk<'_>, supply: &Supply, reached: bool, capped: bool) -> Stock {
    let settings = &desk.job.settings;
    let ends = settings.trimmed_ends.value.number();
    let trim = settings.end_trim.value.times(ends);
    let full = supply.stick.unwrap_or_default();
    let nominal = match supply.holds {
        Amount::Length(length) => length,
        _ => full,
    };
    // At the price for few, or at the best price that any quantity reaches.
    let mut prices = supply.tiers.iter().filter_map(|tier| tier.price);
    let price = if reached { prices.min() } else { prices.next() };
    let most = supply.tiers.iter().filter_map(|tier| tier.available).min();
    Stock {
        nominal: sticks::given_nm(nominal),
        full: sticks::given_nm(full),
        usable: sticks::given_nm(full - trim).max(0),
        price: price.map_or(UNPRICED, millionths),
        most: most
            .filter(|_| capped)
            .and_then(|number| number.floor().try_into().ok()),
    }
}

/// A price in millionths of the currency unit.
pub(super) fn millionths(price: Decimal) -> i64 {
    let number = price.saturating_mul(MILLIONTHS).round();
    number.try_into().unwrap_or(UNPRICED)
}

fn priced(
    desk: &Desk<'_>,
    demand: &Demand,
    bench: &Bench<'_>,
    supplies: &[&(usize, Supply)],
    solved: &Solved,
) -> CutPlan {
    let counts = counts_of(bench, &solved.cuts);
    let total: u64 = counts.values().map(|(sticks, _)| *sticks).sum();
    let culls = culls_of(desk, total);
    // A cull may have been any stick, and the longest replaces them all.
    let longest = counts.keys().copied().max_by_key(|stock| {
        (
            bench.stocks.get(*stock).map_or(0, |s| s.full),
            usize::MAX - stock,
        )
    });
    let mut bought = Vec::new();
    for (stock, (cut, pieces)) in &counts {
        let Some((place, supply)) = supplies.get(*stock) else {
            continue;
        };
        let extra = if Some(*stock) == longest { culls } else { 0 };
        let wanted = Decimal::from(cut.saturating_add(extra));
        let bids = packs::bids(&supply.tiers, wanted, desk.currency);
        let Some(bid) = packs::cheapest(&bids).cloned() else {
            continue;
        };
        bought.push(Sticks {
            supply: *place,
            cut: *cut,
            culls: extra,
            bid,
            pieces: *pieces,
        });
    }
    summed(desk, demand, bench, supplies, solved, bought)
}

fn summed(
    desk: &Desk<'_>,
    demand: &Demand,
    bench: &Bench<'_>,
    supplies: &[&(usize, Supply)],
    solved: &Solved,
    bought: Vec<Sticks>,
) -> CutPlan {
    let offer = |(place, _): &&(usize, Supply)| {
        let sticks = bought.iter().find(|sticks| sticks.supply == *place);
        sticks.map(|sticks| sticks.bid.offer)
    };
    let offers: Vec<_> = supplies.iter().map(offer).collect();
    let list = sticks::marked(bench, &solved.cuts, &offers, &demand.pieces);
    let costs: Vec<(Money, Money)> = bought.iter().map(|s| costs_of(desk, s)).collect();
    let cost_of_cut: Money = costs.iter().map(|(cut, _)| *cut).sum();
    let cost: Money = costs.iter().map(|(cut, culls)| *cut + *culls).sum();
    let (lower_bound, proven) = bound_of(bench, supplies, solved, cost_of_cut, bought.len());
    let gaps = bought
        .iter()
        .map(|s| u32::from(s.bid.price.is_none()))
        .sum();
    CutPlan {
        culls: bought.iter().map(|s| s.culls).sum(),
        gaps,
        short: bought.iter().any(|s| s.bid.short),
        lower_bound,
        proven: proven && gaps == 0,
        sticks: bought,
        list,
        cost,
        cost_of_cut,
    }
}

/// Cost of the sticks that are cut and of the culls among those bought, two lines of an order that are each
/// rounded once.
pub(super) fn costs_of(desk: &Desk<'_>, sticks: &Sticks) -> (Money, Money) {
    let culls = Decimal::from(sticks.culls);
    let rest = sticks.bid.quantity.saturating_sub(culls);
    let cost = |quantity| packs::cost_of(quantity, sticks.bid.price, desk.currency);
    (cost(rest), cost(culls))
}

/// A cost that no cutting can go below, at the best price that any quantity reaches, and whether this
/// cutting's cost is that one but for the rounding of its lines.
fn bound_of(
    bench: &Bench<'_>,
    supplies: &[&(usize, Supply)],
    solved: &Solved,
    cost: Money,
    lines: usize,
) -> (Money, bool) {
    let is_plain = supplies.iter().all(|(_, s)| s.tiers.len() == 1);
    let exact = cut_list::cost_of(bench, &solved.cuts);
    let bound = match solved.bound {
        Some(bound) if is_plain => bound,
        _ => cut_list::lower_bound(&Bench {
            stocks: &at_best_prices(bench, supplies),
            ..*bench
        }),
    };
    let rounded = Decimal::from(lines).saturating_mul(HALF_A_CENT);
    let off = cost.amount().saturating_sub(amount_of(exact)).abs();
    if bound >= exact && off <= rounded {
        return (cost, true);
    }
    (money_of(bound).min(cost), false)
}

fn at_best_prices(bench: &Bench<'_>, supplies: &[&(usize, Supply)]) -> Vec<Stock> {
    let one = |(stock, (_, supply)): (&Stock, &&(usize, Supply))| {
        let price = supply.tiers.iter().filter_map(|tier| tier.price).min();
        Stock {
            price: price.map_or(0, millionths),
            ..stock.clone()
        }
    };
    bench.stocks.iter().zip(supplies).map(one).collect()
}

fn amount_of(millionths: i128) -> Decimal {
    Decimal::try_from_i128_with_scale(millionths, 6).unwrap_or_default()
}

pub(super) fn money_of(millionths: i128) -> Money {
    let exact = amount_of(millionths);
    // A bound rounds down to hundredths of the currency unit, never up.
    Money::of(exact.round_dp_with_strategy(2, rust_decimal::RoundingStrategy::ToZero))
}

/// Sticks of each stock, and the length of the pieces from them.
fn counts_of(bench: &Bench<'_>, cuts: &[Cut]) -> BTreeMap<usize, (u64, Length)> {
    let mut counts: BTreeMap<usize, (u64, Length)> = BTreeMap::new();
    for cut in cuts {
        let entry = counts.entry(cut.stock).or_default();
        entry.0 = entry.0.saturating_add(cut.times);
        for (size, times) in &cut.takes {
            let pieces = Decimal::from(times.saturating_mul(cut.times));
            entry.1 += sticks::length_of(bench.length(*size)).times(pieces);
        }
    }
    counts
}

/// Whole extra sticks: 3% of 42 is 1.26, so 2.
fn culls_of(desk: &Desk<'_>, sticks: u64) -> u64 {
    let exact = Decimal::from(sticks).saturating_mul(desk.job.settings.culls.value);
    whole_up(exact).try_into().unwrap_or(0)
}
