//! The best cutting so far, and what "better" means.

use std::cmp::Reverse;

use super::core::{Core, Plan};
use super::polish;

/// Rank of a cutting: money, then sticks, then the longest single offcut. Less is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Score {
    /// Price in core units.
    pub(super) money: i128,
    /// Sticks.
    pub(super) sticks: i64,
    /// Longest offcut of one stick, in the task's unit.
    longest: Reverse<i64>,
}

impl Score {
    pub(super) fn of(core: &Core, plans: &[Plan]) -> Self {
        let price = |plan: &Plan| i128::from(core.racks[plan.rack].price) * i128::from(plan.times);
        Self {
            money: plans.iter().map(price).sum(),
            sticks: plans.iter().map(|plan| plan.times).sum(),
            longest: Reverse(
                plans
                    .iter()
                    .map(|plan| core.offcut(plan))
                    .max()
                    .unwrap_or(0),
            ),
        }
    }
}

/// A gap of one part in so many is small: two cents in a thousand of the currency unit.
const NEAR: i128 = 50_000;

/// The best cutting so far.
#[derive(Clone, Debug)]
pub(super) struct Best<'c> {
    core: &'c Core,
    /// A bound from which on nothing better is looked for.
    enough: Option<i128>,
    found: Option<(Score, Vec<Plan>)>,
}

impl<'c> Best<'c> {
    pub(super) fn new(core: &'c Core) -> Self {
        Self {
            core,
            enough: None,
            found: None,
        }
    }

    /// Looks for nothing better once the bound is as high as this.
    pub(super) fn until(mut self, enough: Option<i128>) -> Self {
        self.enough = enough;
        self
    }

    /// Takes a complete cutting when it is better; says whether it was cheaper than all before.
    pub(super) fn offer(&mut self, plans: Vec<Plan>) -> bool {
        if !is_within(self.core, &plans) {
            return false;
        }
        let plans = polish::traded_down(self.core, plans);
        let score = Score::of(self.core, &plans);
        let before = self.found.as_ref().map(|(score, _)| *score);
        if before.is_none_or(|before| score < before) {
            self.found = Some((score, plans));
        }
        before.is_none_or(|before| score.money < before.money)
    }

    /// Takes a complete cutting as it is, when it is better.
    pub(super) fn offer_exact(&mut self, plans: &[Plan]) {
        let score = Score::of(self.core, plans);
        if self
            .found
            .as_ref()
            .is_none_or(|(before, _)| score < *before)
        {
            self.found = Some((score, plans.to_vec()));
        }
    }

    /// Price of the best one.
    pub(super) fn money(&self) -> Option<i128> {
        self.found.as_ref().map(|(score, _)| score.money)
    }

    /// Whether the best one costs no more than a bound, or the bound is as high as anybody asks.
    pub(super) fn reaches(&self, bound: i128) -> bool {
        self.goal().is_some_and(|goal| goal <= bound)
    }

    /// The bound at which the search ends.
    pub(super) fn goal(&self) -> Option<i128> {
        [self.money(), self.enough].into_iter().flatten().min()
    }

    /// Whether the best one costs so little more than a bound that long work is not worth it.
    pub(super) fn is_near(&self, bound: i128) -> bool {
        self.money()
            .is_some_and(|money| money - bound <= bound / NEAR)
    }

    pub(super) fn plans(&self) -> Option<&[Plan]> {
        self.found.as_ref().map(|(_, plans)| plans.as_slice())
    }
}

/// Whether no more sticks of any rack are used than there are: no search is trusted with that.
fn is_within(core: &Core, plans: &[Plan]) -> bool {
    let mut free: Vec<i64> = core.racks.iter().map(|rack| rack.most).collect();
    for plan in plans {
        free[plan.rack] -= plan.times;
    }
    free.iter().all(|left| *left >= 0)
}
