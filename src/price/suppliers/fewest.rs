//! As few suppliers as possible, within a part of the least cost.

use std::cmp::Reverse;

use rust_decimal::Decimal;

use super::super::Estimate;
use super::super::beside::beside_each_other;
use super::{Run, Single, run};
use crate::model::offer::SupplierId;
use crate::units::Money;

/// Suppliers up to which every set of them is tried.
const ALL_SETS: usize = 6;

/// The fewest suppliers that do.
#[derive(Clone, Debug)]
pub struct Fewest {
    /// How much more than the least it may cost, as a fraction.
    pub within: Decimal,
    /// What it comes to.
    pub single: Single,
    /// Whether no set of fewer does: every set was tried.
    pub is_proven: bool,
}

/// Every set of few suppliers is tried, smaller ones first; of more than six the one whose going costs least is
/// left out again and again.
pub(super) fn fewest(
    estimate: &Estimate,
    sellers: &[SupplierId],
    (alone, all): (&[Run], &Run),
    (least, within): (&Single, Decimal),
) -> Fewest {
    let most = Decimal::ONE
        .saturating_add(within)
        .saturating_mul(least.cost.amount());
    let does =
        |single: &Single| single.lacks.len() <= least.lacks.len() && single.cost.amount() <= most;
    let found = |single: &Single, is_proven| Fewest {
        within,
        single: single.clone(),
        is_proven,
    };
    let best = |singles: Vec<Single>| -> Option<Single> {
        let fit = singles.into_iter().filter(|single| does(single));
        fit.min_by(|a, b| a.cost.cmp(&b.cost).then_with(|| a.from.cmp(&b.from)))
    };
    if let Some(one) = best(alone.iter().map(|run| run.single.clone()).collect()) {
        return found(&one, true);
    }
    if sellers.len() <= ALL_SETS {
        for size in 2..sellers.len() {
            let runs = beside_each_other(sets(sellers, size), &|set: Vec<SupplierId>| {
                run(estimate, &set).single
            });
            if let Some(single) = best(runs.into_iter().flatten().collect()) {
                return found(&single, true);
            }
        }
        return found(&all.single, true);
    }
    let (mut kept, mut single) = (sellers.to_vec(), all.single.clone());
    while kept.len() > 2 {
        let without = (0..kept.len()).map(|place| {
            let mut fewer = kept.clone();
            fewer.remove(place);
            fewer
        });
        let without: Vec<Vec<SupplierId>> = without.collect();
        let runs = beside_each_other(without.clone(), &|set: Vec<SupplierId>| {
            run(estimate, &set).single
        });
        let tried = without.into_iter().zip(runs);
        let tried = tried.filter_map(|(set, single)| Some((set, single?)));
        let cheapest = tried.filter(|(_, single)| does(single)).min_by_key(
            |(_, single)| -> (Money, Reverse<usize>) { (single.cost, Reverse(single.from.len())) },
        );
        let Some((set, fewer)) = cheapest else {
            break;
        };
        (kept, single) = (set, fewer);
    }
    found(&single, false)
}

/// All sets of so many, in the order of the suppliers.
fn sets(of: &[SupplierId], size: usize) -> Vec<Vec<SupplierId>> {
    match (size, of.split_first()) {
        (0, _) => vec![Vec::new()],
        (_, None) => Vec::new(),
        (_, Some((first, rest))) => {
            let with = sets(rest, size.saturating_sub(1)).into_iter();
            let with = with.map(|set| {
                let mut whole = vec![*first];
                whole.extend(set);
                whole
            });
            let mut all: Vec<Vec<SupplierId>> = with.collect();
            all.extend(sets(rest, size));
            all
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_set_is_tried_once() {
        let four: Vec<SupplierId> = (0..4).map(SupplierId::of).collect();
        // 4 over 2 is 6, 4 over 3 is 4.
        assert_eq!(sets(&four, 2).len(), 6);
        assert_eq!(sets(&four, 3).len(), 4);
        assert_eq!(sets(&four, 2)[0], [SupplierId(0), SupplierId(1)]);
        assert_eq!(sets(&four, 5), Vec::<Vec<SupplierId>>::new());
    }
}
