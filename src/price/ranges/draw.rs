//! Draws: a number between the low and the high of a figure, by the seed, the run and the figure alone.

use rust_decimal::prelude::ToPrimitive;

use crate::price::ledger::Ranged;

/// Odd number next to 2^64 over the golden ratio, by which the counters of splitmix64 go on (Steele, Lea and
/// Flood, Fast splittable pseudorandom number generators, 2014).
const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;
/// Figures that a run has room for.
const FIGURES: u64 = 1 << 24;

/// The mixing of splitmix64.
fn mixed(counter: u64) -> u64 {
    let z = (counter ^ (counter >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// A number between 0 and 1, both left out. It rests on no other draw, so that threads can share runs in
/// any way.
pub(super) fn uniform(seed: u64, run: u64, figure: u64) -> f64 {
    let counter = run
        .wrapping_mul(FIGURES)
        .wrapping_add(figure)
        .wrapping_add(1);
    let start = mixed(seed.wrapping_add(GOLDEN));
    let bits = mixed(start.wrapping_add(counter.wrapping_mul(GOLDEN)));
    let top = u32::try_from(bits >> 32).unwrap_or(u32::MAX);
    (f64::from(top) + 0.5) / (f64::from(u32::MAX) + 1.0)
}

/// A triangular distribution: low, likely (its mode) and high.
#[derive(Clone, Copy, Debug)]
pub(super) struct Triangle {
    low: f64,
    likely: f64,
    high: f64,
}

impl Triangle {
    /// That of a given cell. The likely figure counts as an end where it lies beyond one.
    pub(super) fn of(ranged: &Ranged) -> Option<Self> {
        let likely = ranged.likely.to_f64()?;
        Some(Self {
            low: ranged.spread.low.to_f64()?.min(likely),
            likely,
            high: ranged.spread.high.to_f64()?.max(likely),
        })
    }

    /// The number below which a part `u` of all draws lies: the inverse of the distribution.
    pub(super) fn at(self, u: f64) -> f64 {
        let Self { low, likely, high } = self;
        let width = high - low;
        if width <= 0.0 {
            return likely;
        }
        if u * width < likely - low {
            low + (u * width * (likely - low)).sqrt()
        } else {
            high - ((1.0 - u) * width * (high - likely)).sqrt()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentiles_of_a_triangle_are_those_by_hand() {
        let soil = Triangle {
            low: 30.0,
            likely: 42.0,
            high: 60.0,
        };
        // A part of (42 - 30) / (60 - 30) = 0.4 lies below 42.
        assert!((soil.at(0.4) - 42.0).abs() < 1e-9);
        // P10: 30 + sqrt(0.1 x 30 x 12) = 30 + 6 = 36; P80: 60 - sqrt(0.2 x 30 x 18) = 60 - 10.392
        assert!((soil.at(0.1) - 36.0).abs() < 1e-9);
        assert!((soil.at(0.8) - 49.608).abs() < 0.001);
    }

    #[test]
    fn a_figure_without_width_is_itself() {
        let fixed = Triangle {
            low: 5.0,
            likely: 5.0,
            high: 5.0,
        };
        assert!((fixed.at(0.3) - 5.0).abs() < 1e-12);
    }

    #[test]
    fn draws_are_even_between_0_and_1() {
        let tenths = (0..10_000).map(|run| uniform(7, run, 3));
        let below = tenths.filter(|u| *u < 0.1).count();
        // 1,000 of 10,000 are due, give or take 30 (one standard deviation).
        assert!((880..1_120).contains(&below), "{below}");
    }
}
