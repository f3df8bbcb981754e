//! How far cost and price may lie when figures come to less or more than is typed.
//!
//! Each ranged cell is drawn from a triangle of its low, the figure itself and its high, on its own and not
//! together with others, and the ledger's terms are computed with the draws. Quantities, suppliers, packs, loads
//! and cuts stay as they were chosen. The draws are a statistic and are made with binary numbers; no figure of
//! an estimate comes from here.

#![allow(
    clippy::float_arithmetic,
    clippy::float_cmp,
    reason = "a simulation is a statistic, and none of its numbers enters an estimate"
)]

mod draw;
mod program;

use std::sync::Arc;

use rust_decimal::Decimal;

use self::draw::{Triangle, uniform};
use self::program::Program;
use super::estimate::Estimate;
use super::ledger::Ranged;
use crate::units::Money;
use crate::units::round::half_away;

/// How to draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// How often the job is priced; at least 1.
    pub runs: u32,
    /// Which draws: the same seed gives the same figures.
    pub seed: u64,
    /// Threads to work with, which change no figure; at least 1.
    pub threads: usize,
}

/// Cost and price with their ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct Ranges {
    /// How it was drawn.
    pub drawing: Drawing,
    /// Direct cost.
    pub cost: Quantiles,
    /// Price with tax.
    pub price: Quantiles,
    /// Contingency that the estimate sets, as a fraction of direct cost.
    pub contingency: Decimal,
    /// Figures with a range on which the price rests, those first that matter most; equal ones by name.
    pub figures: Vec<Weighed>,
}

/// A sum of money, and what parts of the draws stay at or below.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Quantiles {
    /// As estimated.
    pub estimate: Money,
    /// One draw in ten costs no more.
    pub p10: Money,
    /// Half of them.
    pub p50: Money,
    /// Eight in ten.
    pub p80: Money,
    /// Nine in ten.
    pub p90: Money,
}

impl Quantiles {
    /// How far P80 lies above the estimate, as a fraction of it; nothing for an estimate of 0.
    pub fn reserve(&self) -> Option<Decimal> {
        let above = self.p80.amount().checked_sub(self.estimate.amount())?;
        above.checked_div(self.estimate.amount())
    }
}

/// A figure with its range, and its part in how far the price lies.
#[derive(Clone, Debug, PartialEq)]
pub struct Weighed {
    /// The figure in words.
    pub name: Arc<str>,
    /// Least.
    pub low: Decimal,
    /// As estimated.
    pub likely: Decimal,
    /// Greatest.
    pub high: Decimal,
    /// Whether it is a typical figure of the trade library.
    pub typical: bool,
    /// Its part of the variance of the price before minimum and rounding, as a fraction: the squared
    /// correlation with it, by which all figures together come to 1.
    pub share: Decimal,
}

/// Draws the ranges of an estimate; `None` when no figure of the price has one.
///
/// # Errors
/// In words, when the ledger has no such program: a bug.
pub fn ranges(estimate: &Estimate, drawing: Drawing) -> Result<Option<Ranges>, &'static str> {
    let lines = &estimate.price.lines;
    let cell = |key: &str| {
        let at = lines.iter().find(|l| l.key == key)?.at;
        Some((at.col, usize::try_from(at.row).ok()?))
    };
    let targets = ["direct_cost", "total", "before_rounding"].map(cell);
    let targets = targets.into_iter().collect::<Option<Vec<_>>>();
    let targets = targets.ok_or("the price has no lines to draw")?;
    let all = &estimate.ledger.ranged;
    let cells: Vec<_> = all.iter().map(|r| r.cell).collect();
    let program = Program::new(&estimate.ledger, &cells, &targets);
    let program = program.ok_or("the terms of the price cannot be drawn")?;
    let figures: Option<Vec<Drawn>> = all.iter().map(Drawn::of).collect();
    let figures = figures.ok_or("a figure cannot be drawn")?;
    let used: Vec<bool> = (0..all.len())
        .map(|place| program.uses(place) && all.get(place).is_some_and(has_width))
        .collect();
    if !used.contains(&true) {
        return Ok(None);
    }
    let drawn = runs(&program, &figures, drawing);
    let quantiles = |estimate, of: fn(&Outcome) -> f64| {
        let sum = |number| money(number).unwrap_or(estimate);
        quantiles(estimate, &drawn, of, sum)
    };
    Ok(Some(Ranges {
        drawing,
        cost: quantiles(estimate.price.direct_cost, |o| o.cost),
        price: quantiles(estimate.price.total, |o| o.price),
        contingency: estimate.job.settings.contingency.value,
        figures: weighed(all, &figures, &used, &drawn, drawing.seed),
    }))
}

fn has_width(ranged: &Ranged) -> bool {
    ranged.spread.low < ranged.spread.high
}

/// A figure that is drawn.
#[derive(Clone, Copy, Debug)]
struct Drawn(Triangle);

impl Drawn {
    fn of(ranged: &Ranged) -> Option<Self> {
        Triangle::of(ranged).map(Self)
    }

    fn number(self, seed: u64, run: u64, place: usize) -> f64 {
        self.0
            .at(uniform(seed, run, u64::try_from(place).unwrap_or(u64::MAX)))
    }
}

/// What one run came to.
#[derive(Clone, Copy, Debug)]
struct Outcome {
    cost: f64,
    price: f64,
    /// Price before minimum charge and rounding, which follows every figure.
    smooth: f64,
}

/// All runs in their order, whichever thread did them.
fn runs(program: &Program, figures: &[Drawn], drawing: Drawing) -> Vec<Outcome> {
    let threads = u32::try_from(drawing.threads).unwrap_or(1).max(1);
    let each = drawing.runs.div_ceil(threads).max(1);
    let spans = (0..threads).map(|t| {
        let from = t.saturating_mul(each).min(drawing.runs);
        from..from.saturating_add(each).min(drawing.runs)
    });
    std::thread::scope(|scope| {
        let workers = spans.map(|span| {
            scope.spawn(move || {
                let mut slots = program.slots();
                let mut numbers = vec![0.0; figures.len()];
                let mut one = |run: u32| {
                    for (place, (number, figure)) in numbers.iter_mut().zip(figures).enumerate() {
                        *number = figure.number(drawing.seed, u64::from(run), place);
                    }
                    outcome(&program.run(&numbers, &mut slots))
                };
                span.map(&mut one).collect::<Vec<Outcome>>()
            })
        });
        let workers: Vec<_> = workers.collect();
        let done = workers.into_iter().filter_map(|worker| worker.join().ok());
        done.flatten().collect()
    })
}

fn outcome(targets: &[f64]) -> Outcome {
    let at = |place: usize| targets.get(place).copied().unwrap_or(f64::NAN);
    Outcome {
        cost: at(0),
        price: at(1),
        smooth: at(2),
    }
}

/// A drawn sum with four decimals, enough for every currency.
fn money(number: f64) -> Option<Money> {
    let number = Decimal::try_from(number).ok()?;
    Some(Money::of(half_away(number, 4)))
}

/// By nearest rank: the least draw that so many in a hundred do not exceed.
fn quantiles(
    estimate: Money,
    drawn: &[Outcome],
    of: fn(&Outcome) -> f64,
    sum: impl Fn(f64) -> Money,
) -> Quantiles {
    let mut sorted: Vec<f64> = drawn.iter().map(of).collect();
    sorted.sort_by(f64::total_cmp);
    let at = |percent: usize| {
        let rank = sorted.len().saturating_mul(percent).div_ceil(100);
        let number = sorted.get(rank.saturating_sub(1)).copied();
        number.map_or(estimate, &sum)
    };
    Quantiles {
        estimate,
        p10: at(10),
        p50: at(50),
        p80: at(80),
        p90: at(90),
    }
}

/// The figures that count with their parts of the variance.
fn weighed(
    all: &[Ranged],
    figures: &[Drawn],
    used: &[bool],
    drawn: &[Outcome],
    seed: u64,
) -> Vec<Weighed> {
    let prices: Vec<f64> = drawn.iter().map(|o| o.smooth).collect();
    let square = |(place, (figure, used)): (usize, (&Drawn, &bool))| {
        let numbers = (0..).take(drawn.len());
        let numbers = numbers.map(|run| figure.number(seed, run, place));
        let square = squared_correlation(&numbers.collect::<Vec<f64>>(), &prices);
        if *used { square } else { 0.0 }
    };
    let squares: Vec<f64> = figures.iter().zip(used).enumerate().map(square).collect();
    let whole: f64 = squares.iter().sum();
    let of_whole = |square: f64| if whole > 0.0 { square / whole } else { 0.0 };
    let counted = all.iter().zip(squares).zip(used).filter(|(_, used)| **used);
    let mut weighed: Vec<Weighed> = counted
        .map(|((ranged, square), _)| Weighed {
            name: Arc::clone(&ranged.name),
            low: ranged.spread.low,
            likely: ranged.likely,
            high: ranged.spread.high,
            typical: ranged.typical,
            share: Decimal::try_from(of_whole(square)).map_or(Decimal::ZERO, |s| half_away(s, 4)),
        })
        .collect();
    weighed.sort_by(|a, b| b.share.cmp(&a.share).then_with(|| a.name.cmp(&b.name)));
    weighed
}

/// The part of one list's variance that a straight line through the other explains.
fn squared_correlation(a: &[f64], b: &[f64]) -> f64 {
    let count = a.iter().fold(0.0, |n, _| n + 1.0);
    let mean = |list: &[f64]| list.iter().sum::<f64>() / count;
    let (mean_a, mean_b) = (mean(a), mean(b));
    let (mut aa, mut bb, mut ab) = (0.0, 0.0, 0.0);
    for (a, b) in a.iter().zip(b) {
        aa += (a - mean_a) * (a - mean_a);
        bb += (b - mean_b) * (b - mean_b);
        ab += (a - mean_a) * (b - mean_b);
    }
    if aa > 0.0 && bb > 0.0 {
        ab * ab / (aa * bb)
    } else {
        0.0
    }
}
