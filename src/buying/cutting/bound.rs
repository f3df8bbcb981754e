//! Bounds from what pieces are worth, in whole numbers; the simplest from their lengths alone.

use super::core::Core;
use super::number::count;

/// Worths of pieces in whole numbers and the bound that follows from them.
#[derive(Clone, Debug, Default)]
pub(super) struct Worth {
    /// Worth of one piece of each size; a money unit is `scale`.
    pub(super) pieces: Vec<i64>,
    /// What a stick of each rack costs more than any filling of it is worth (less than zero: it gains).
    pub(super) gaps: Vec<i64>,
    /// The bound, times `scale`.
    pub(super) bound: i128,
    /// Parts of a money unit.
    pub(super) scale: i64,
}

impl Worth {
    /// The bound in whole money units, rounded up, since every price is whole.
    pub(super) fn money(&self) -> i128 {
        let scale = i128::from(self.scale.max(1));
        (self.bound + scale - 1).div_euclid(scale)
    }
}

/// Worth of pieces by their lengths. A stick of room r holds steps that sum to r at most, so at the
/// least price by room no filling is worth more than its stick; pieces that use a stick whole are
/// worth that stick at most.
pub(super) fn by_length(core: &Core) -> Worth {
    let scale = 1_i64 << 20;
    let cheapest = core
        .racks
        .iter()
        .filter(|rack| rack.room > 0)
        .min_by(|a, b| {
            let left = i128::from(a.price) * i128::from(b.room);
            left.cmp(&(i128::from(b.price) * i128::from(a.room)))
        });
    let worth = |size: usize| {
        let cheapest = cheapest?;
        let exact = i128::from(scale) * i128::from(cheapest.price) * i128::from(core.steps[size])
            / i128::from(cheapest.room);
        let lone = core.racks.iter().filter(|rack| rack.lone.contains(&size));
        let lone = lone
            .map(|rack| i128::from(rack.price) * i128::from(scale))
            .min();
        i64::try_from(lone.map_or(exact, |lone| lone.min(exact))).ok()
    };
    let pieces: Vec<i64> = (0..core.sizes())
        .map(|size| worth(size).unwrap_or(0))
        .collect();
    let each = |(worth, n): (&i64, &i64)| i128::from(*worth) * i128::from(*n);
    let bound = pieces.iter().zip(&core.counts).map(each).sum();
    debug_assert!(count(pieces.len()) <= core.pieces);
    Worth {
        pieces,
        gaps: vec![0; core.racks.len()],
        bound,
        scale,
    }
}
