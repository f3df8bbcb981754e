//! The bound from lengths alone: what a piece costs at the best price by length.

use super::core::Core;
use super::master::Worth;
use super::number::count;

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
