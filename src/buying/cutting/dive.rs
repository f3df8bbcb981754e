//! Dives: patterns are fixed one after another by the program's shares, which is solved again each
//! time; what is left is tried with simple fillings and, when it is small, with a search.
#![allow(
    clippy::float_arithmetic,
    reason = "shares of patterns only choose what is tried"
)]

use super::best::Best;
use super::core::Plan;
use super::exact;
use super::greedy;
use super::master::{Master, Share};
use super::number::floor;
use super::work::Work;

/// Pieces from which on what is left is searched through.
const FEW: i64 = 18;

/// One dive: how it chooses.
#[derive(Clone, Copy, Debug)]
pub(super) struct Way {
    /// The number of the dive: the first one follows the shares, later ones stray from them.
    pub(super) number: u32,
    /// How many wrong turns may be taken back.
    pub(super) turns: u32,
}

/// Dives from a solved program; good cuttings are offered to `best`, whose money is to be beaten.
pub(super) fn dive(root: &Master<'_>, best: &mut Best<'_>, way: Way, work: &mut Work) {
    let mut dive = Dive {
        master: root.copy(work),
        fixed: Vec::new(),
        spent: 0,
        dice: Dice(u64::from(way.number).wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1),
        way,
    };
    dive.run(best, work);
}

struct Dive<'c> {
    master: Master<'c>,
    fixed: Vec<Plan>,
    spent: i128,
    dice: Dice,
    way: Way,
}

impl Dive<'_> {
    fn run(&mut self, best: &mut Best<'_>, work: &mut Work) {
        let start = best.money();
        loop {
            if self.master.left.counts.iter().all(|n| *n == 0) {
                best.offer(self.fixed.clone());
                return;
            }
            self.try_rest(best, work);
            if work.is_over() || (best.money() < start && self.is_hopeless(best)) {
                return;
            }
            if self.fixes_floors(work) {
                if !self.master.solve(work) || self.is_hopeless(best) {
                    return;
                }
                continue;
            }
            if !self.fixes_one(best, work) {
                return;
            }
        }
    }

    /// Whether what is fixed and the bound of the rest already cost what the best cutting costs.
    fn is_hopeless(&self, best: &Best<'_>) -> bool {
        if self.master.lent() > 1e-6 {
            return true;
        }
        let rest = floor(self.master.cost() - 1e-6);
        let all = self.spent + i128::from(rest) + 1;
        best.money()
            .is_some_and(|money| all.max(self.spent + self.master.worth.money()) >= money)
    }

    fn try_rest(&self, best: &mut Best<'_>, work: &mut Work) {
        let core = self.master.core;
        for rest in greedy::quick(core, &self.master.left, work) {
            let mut plans = self.fixed.clone();
            plans.extend(rest);
            best.offer(plans);
        }
        let pieces: i64 = self.master.left.counts.iter().sum();
        if pieces <= FEW {
            exact::finish(&self.master, &self.fixed, best, work);
        }
    }

    fn fixes_floors(&mut self, work: &mut Work) -> bool {
        let mut any = false;
        for share in self.master.shares() {
            let times = floor(share.value).min(self.master.possible(&share));
            if times > 0 {
                self.fix(&share, times);
                any = true;
            }
        }
        if any {
            self.master.settle(work);
        }
        any
    }

    /// Fixes the most promising pattern once; a turn that proves wrong is taken back and another one
    /// is tried.
    fn fixes_one(&mut self, best: &Best<'_>, work: &mut Work) -> bool {
        let mut shares = self.master.shares();
        shares.retain(|share| self.master.possible(share) > 0);
        let mut ranked: Vec<(f64, Share)> = shares
            .into_iter()
            .map(|share| (share.value + self.noise(), share))
            .collect();
        ranked.sort_by(|a, b| {
            b.0.total_cmp(&a.0)
                .then_with(|| (a.1.rack, &a.1.takes).cmp(&(b.1.rack, &b.1.takes)))
        });
        for (_, share) in ranked.into_iter().take(4) {
            let before = (self.way.turns > 0).then(|| (self.master.copy(work), self.fixed.len()));
            let spent = self.spent;
            self.fix(&share, 1);
            self.master.settle(work);
            if !self.master.solve(work) {
                return false;
            }
            if !self.is_hopeless(best) {
                return true;
            }
            let Some((master, fixed)) = before else {
                return false;
            };
            self.way.turns -= 1;
            self.master = master;
            self.fixed.truncate(fixed);
            self.spent = spent;
        }
        false
    }

    fn noise(&mut self) -> f64 {
        if self.way.number == 0 {
            return 0.0;
        }
        let strength = [0.15, 0.4, 0.8][usize::try_from(self.way.number % 3).unwrap_or(0)];
        self.dice.next() * strength
    }

    fn fix(&mut self, share: &Share, times: i64) {
        self.master.fix(share, times);
        self.spent += i128::from(self.master.core.racks[share.rack].price) * i128::from(times);
        self.fixed.push(Plan {
            rack: share.rack,
            takes: share.takes.clone(),
            times,
        });
    }
}

/// Numbers between 0 and 1 that only look like chance: the same for the same dive, always.
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        super::number::float(i64::try_from(self.0 >> 34).unwrap_or(0)) / f64::from(1 << 30)
    }
}
