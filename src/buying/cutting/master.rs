//! The linear program over patterns: every pattern's share of use, made of columns as they are found.
//! Each search for a column also certifies a bound in whole numbers. Longer than most because patterns, limits and
//! bound are views of one program and share its state.
#![allow(
    clippy::float_arithmetic,
    reason = "shares of patterns only guide: bounds are certified in whole numbers"
)]

use std::collections::BTreeMap;

use super::bound::Worth;
use super::core::{Core, Plan};
use super::greedy::Left;
use super::knapsack::{self, Item};
use super::number::{count, float, whole};
use super::simplex::{Column, NO_GAIN, Simplex};
use super::work::Work;

/// What the dearest price is in whole-numbered worths: about 11 digits.
const SCALE: i64 = 1 << 37;

/// How many sticks of each rack a cutting may use, at least and at most.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Span {
    /// At least.
    pub(super) least: Vec<i64>,
    /// At most.
    pub(super) most: Vec<i64>,
    /// All together, at least and at most.
    pub(super) total: (i64, i64),
}

impl Span {
    pub(super) fn all(core: &Core) -> Self {
        Self {
            least: vec![0; core.racks.len()],
            most: core.racks.iter().map(|rack| rack.most).collect(),
            total: (0, core.pieces),
        }
    }
}

/// A share of a pattern.
#[derive(Clone, Debug)]
pub(super) struct Share {
    /// Row of the program.
    pub(super) row: usize,
    /// How often it is used.
    pub(super) value: f64,
    pub(super) rack: usize,
    pub(super) takes: Vec<(usize, i64)>,
}

/// The program with its patterns.
#[derive(Clone, Debug)]
pub(super) struct Master<'c> {
    pub(super) core: &'c Core,
    lp: Simplex,
    /// Patterns by column.
    patterns: BTreeMap<usize, (usize, Vec<(usize, i64)>)>,
    known: BTreeMap<(usize, Vec<(usize, i64)>), usize>,
    /// Pieces still to be cut and sticks still to be had.
    pub(super) left: Left,
    /// Sticks that still have to be used.
    least: Vec<i64>,
    /// Rows that limit a rack: at most, at least.
    caps: Vec<Option<usize>>,
    floors: Vec<Option<usize>>,
    /// Rows that limit all racks together, and what is left of those limits.
    totals: Option<(usize, usize)>,
    total: (i64, i64),
    /// A hair more for each stick, so that fewer sticks win among equal prices.
    tilt: f64,
    dear: f64,
    scale: i64,
    /// The best bound of what is left.
    pub(super) worth: Worth,
}

impl<'c> Master<'c> {
    /// The program without patterns. `splits` gives every limit a row, since limits will change, and a
    /// hair more price to each stick.
    pub(super) fn new(core: &'c Core, span: &Span, splits: bool) -> Self {
        let racks = core.racks.len();
        let mut right: Vec<f64> = core.counts.iter().map(|n| float(*n)).collect();
        let (mut caps, mut floors) = (vec![None; racks], vec![None; racks]);
        for rack in 0..racks {
            if splits || span.most[rack] < core.pieces {
                caps[rack] = Some(right.len());
                right.push(float(span.most[rack]));
            }
            if splits || span.least[rack] > 0 {
                floors[rack] = Some(right.len());
                right.push(float(span.least[rack]));
            }
        }
        let totals = splits.then(|| (right.len(), right.len() + 1));
        if splits {
            right.extend([float(span.total.1), float(span.total.0)]);
        }
        let dearest = core
            .racks
            .iter()
            .map(|rack| rack.price)
            .max()
            .unwrap_or(1)
            .max(1);
        let is_capped = caps.iter().any(Option::is_some);
        let dear = float(dearest) * if is_capped { 1_000.0 } else { 10.0 };
        let mut master = Self {
            core,
            lp: Simplex::new(right, dear),
            patterns: BTreeMap::new(),
            known: BTreeMap::new(),
            left: Left {
                counts: core.counts.clone(),
                sticks: span.most.clone(),
            },
            least: span.least.clone(),
            caps,
            floors,
            totals,
            total: span.total,
            tilt: if splits { float(dearest) * 1e-7 } else { 0.0 },
            dear,
            scale: (SCALE / dearest).max(1),
            worth: Worth::default(),
        };
        master.add_slacks();
        master
    }

    fn add_slacks(&mut self) {
        for size in 0..self.core.sizes() {
            self.lp.add(Column {
                cost: 0.0,
                entries: vec![(size, -1.0)],
            });
        }
        let (cap, floor) = self.totals.unzip();
        for row in self.caps.iter().flatten().chain(&cap) {
            self.lp.add(Column {
                cost: 0.0,
                entries: vec![(*row, 1.0)],
            });
        }
        for row in self.floors.iter().flatten().chain(&floor) {
            self.lp.add(Column {
                cost: 0.0,
                entries: vec![(*row, -1.0)],
            });
        }
    }

    /// The rows that limit a rack.
    fn limits(&self, rack: usize) -> impl Iterator<Item = usize> + use<> {
        let (cap, floor) = self.totals.unzip();
        let rows = [self.caps[rack], self.floors[rack], cap, floor];
        rows.into_iter().flatten()
    }

    /// Other limits on the numbers of sticks, from the basis that there is.
    pub(super) fn respan(&mut self, span: &Span, work: &mut Work) {
        let mut shift = |row: Option<usize>, by: i64| {
            if let Some(row) = row.filter(|_| by != 0) {
                self.lp.shift(row, float(by));
            }
        };
        for rack in 0..self.core.racks.len() {
            shift(self.caps[rack], span.most[rack] - self.left.sticks[rack]);
            shift(self.floors[rack], span.least[rack] - self.least[rack]);
        }
        let (cap, floor) = self.totals.unzip();
        shift(cap, span.total.1 - self.total.1);
        shift(floor, span.total.0 - self.total.0);
        self.left.sticks.clone_from(&span.most);
        self.least.clone_from(&span.least);
        self.total = span.total;
        self.lp.repair(self.dear * 2.0);
        self.worth = Worth::default();
        work.spend(self.lp.size());
    }

    /// Adds the pattern of a stick; `None` when it is known.
    pub(super) fn add(&mut self, rack: usize, takes: &[(usize, i64)]) -> Option<usize> {
        let key = (rack, takes.to_vec());
        if self.known.contains_key(&key) {
            return None;
        }
        let mut entries: Vec<(usize, f64)> = takes.iter().map(|(s, n)| (*s, float(*n))).collect();
        entries.extend(self.limits(rack).map(|row| (row, 1.0)));
        let cost = float(self.core.racks[rack].price) + self.tilt;
        let column = self.lp.add(Column { cost, entries });
        self.known.insert(key.clone(), column);
        self.patterns.insert(column, key);
        Some(column)
    }

    /// Adds the patterns of a cutting.
    pub(super) fn add_plans(&mut self, plans: &[Plan]) {
        for plan in plans {
            self.add(plan.rack, &plan.takes);
        }
    }

    /// Makes fewer sticks win among equal prices from now on.
    pub(super) fn tilted(&mut self) {
        let dearest = self
            .core
            .racks
            .iter()
            .map(|rack| rack.price)
            .max()
            .unwrap_or(1);
        self.tilt = float(dearest.max(1)) * 1e-7;
        for (column, (rack, _)) in &self.patterns {
            if self.lp.is_open(*column) {
                let cost = float(self.core.racks[*rack].price) + self.tilt;
                self.lp.set_cost(*column, cost);
            }
        }
        self.lp.price_out();
    }

    /// Solves the program, or stops when the bound cannot rise to the next whole price any more;
    /// false when the work is over.
    pub(super) fn solve(&mut self, work: &mut Work) -> bool {
        self.solve_until(None, work)
    }

    /// Solves the program, or stops when the bound is as high as `goal`.
    pub(super) fn solve_until(&mut self, goal: Option<i128>, work: &mut Work) -> bool {
        let least = NO_GAIN * self.dear.min(1e9);
        let mut stale = 0;
        while !work.is_over() {
            if let Some(column) = self.lp.dearest(least, work) {
                if !self.lp.enter(column, work) {
                    self.lp.bar(column, self.dear);
                }
                stale += 1;
                if stale > 20 * self.lp.basis.len() + 2_000 {
                    // Going in circles: what there is has to do.
                    return true;
                }
                continue;
            }
            stale = 0;
            let is_found = self.found_columns(work);
            let is_enough = goal.is_some_and(|goal| self.worth.money() >= goal);
            if !is_found || is_enough || self.is_settled() {
                return true;
            }
        }
        false
    }

    /// Whether the bound, rounded up, is as high as the program can still lift it.
    fn is_settled(&self) -> bool {
        let bound = whole_ceil(self.lp.cost() - 1e-6);
        self.lent() < 1e-7 && self.worth.money() >= i128::from(bound)
    }

    /// Searches columns that gain; adds them and notes the bound.
    fn found_columns(&mut self, work: &mut Work) -> bool {
        let duals: Vec<i64> = (0..self.core.sizes())
            .map(|size| whole(self.lp.duals[size].max(0.0) * float(self.scale)))
            .collect();
        let item = |size: usize| Item {
            size,
            step: self.core.steps[size],
            value: duals[size],
            most: self.left.counts[size],
        };
        let items: Vec<Item> = (0..self.core.sizes()).map(item).collect();
        let rooms: Vec<i64> = self.core.racks.iter().map(|rack| rack.room).collect();
        let enough: Vec<i64> = (0..rooms.len()).map(|rack| self.enough(rack)).collect();
        let fillings = knapsack::best(&items, &rooms, &enough, work);
        let mut gaps = Vec::with_capacity(fillings.len());
        let mut found = false;
        for (rack, filling) in fillings.into_iter().enumerate() {
            let lone = self.core.racks[rack].lone.iter().copied();
            let lone = lone.filter(|size| self.left.counts[*size] > 0);
            let lone = lone.max_by_key(|size| (duals[*size], *size));
            let alone = lone.map_or(0, |size| duals[size]);
            let upper = filling.upper.max(alone);
            gaps.push(
                self.core.racks[rack]
                    .price
                    .saturating_mul(self.scale)
                    .saturating_sub(upper),
            );
            let takes = match lone {
                Some(size) if alone > filling.value => vec![(size, 1)],
                _ => filling.takes,
            };
            found |= self.adds_gain(rack, &takes);
        }
        self.note_bound(duals, gaps);
        found
    }

    fn adds_gain(&mut self, rack: usize, takes: &[(usize, i64)]) -> bool {
        if takes.is_empty() || self.left.sticks[rack] <= 0 {
            return false;
        }
        let worth: f64 = takes
            .iter()
            .map(|(s, n)| self.lp.duals[*s] * float(*n))
            .sum();
        let cost = self.cost_of(rack);
        worth - cost > 1e-8 * cost.abs().max(1.0) && self.add(rack, takes).is_some()
    }

    /// What a filling of a rack has to be worth for its column to gain nothing.
    fn cost_of(&self, rack: usize) -> f64 {
        let limits: f64 = self.limits(rack).map(|row| self.lp.duals[row]).sum();
        float(self.core.racks[rack].price) + self.tilt - limits
    }

    /// The worth from which on a filling gains for certain; out of reach for a rack that is used up.
    fn enough(&self, rack: usize) -> i64 {
        if self.left.sticks[rack] <= 0 {
            return i64::MAX;
        }
        let cost = self.cost_of(rack);
        whole((cost + 1e-6 * cost.abs().max(1.0)) * float(self.scale))
    }

    /// Notes the bound that worths give: pieces at their worth, and the least that numbers of sticks can
    /// cost beyond the worth of what they hold.
    fn note_bound(&mut self, pieces: Vec<i64>, gaps: Vec<i64>) {
        let worth = |(worth, n): (&i64, &i64)| i128::from(*worth) * i128::from(*n);
        let mut bound: i128 = pieces.iter().zip(&self.left.counts).map(worth).sum();
        bound += self.least_of_gaps(&gaps);
        if self.worth.pieces.is_empty() || bound > self.worth.bound {
            self.worth = Worth {
                pieces,
                gaps,
                bound,
                scale: self.scale,
            };
        }
    }

    /// The least that numbers of sticks within all limits can cost beyond the worth of what they hold.
    fn least_of_gaps(&self, gaps: &[i64]) -> i128 {
        let mut order: Vec<usize> = (0..gaps.len()).collect();
        order.sort_by_key(|rack| gaps[*rack]);
        let mut sticks: i64 = self.least.iter().sum();
        let at = |rack: usize, n: i64| i128::from(gaps[rack]) * i128::from(n);
        let mut sum: i128 = order.iter().map(|rack| at(*rack, self.least[*rack])).sum();
        for rack in order {
            let more = (self.left.sticks[rack] - self.least[rack]).max(0);
            let until = if gaps[rack] < 0 {
                self.total.1
            } else {
                self.total.0
            };
            let more = more.min((until - sticks).max(0));
            sum += at(rack, more);
            sticks += more;
        }
        sum
    }

    /// How much of the solution is still lent by dear columns.
    pub(super) fn lent(&self) -> f64 {
        let pairs = self.lp.basis.iter().zip(&self.lp.values);
        pairs
            .filter(|(column, _)| !self.lp.is_open(**column))
            .map(|(_, value)| value)
            .sum()
    }

    /// A copy, and the steps that it takes.
    pub(super) fn copy(&self, work: &mut Work) -> Self {
        work.spend(self.lp.size() + count(self.patterns.len()) * 120);
        self.clone()
    }

    /// Cost of the program's solution.
    pub(super) fn cost(&self) -> f64 {
        self.lp.cost()
    }

    /// The patterns in use.
    pub(super) fn shares(&self) -> Vec<Share> {
        let mut shares = Vec::new();
        for (row, column) in self.lp.basis.iter().enumerate() {
            let value = self.lp.values[row];
            if value < 1e-7 || !self.lp.is_open(*column) {
                continue;
            }
            if let Some((rack, takes)) = self.patterns.get(column) {
                shares.push(Share {
                    row,
                    value,
                    rack: *rack,
                    takes: takes.clone(),
                });
            }
        }
        shares
    }

    /// How often a pattern can be cut from what is left.
    pub(super) fn possible(&self, share: &Share) -> i64 {
        let by_pieces = share
            .takes
            .iter()
            .map(|(size, n)| self.left.counts[*size] / n);
        by_pieces
            .min()
            .unwrap_or(0)
            .min(self.left.sticks[share.rack])
    }

    /// Cuts a pattern so often and leaves the rest to the program. `settle` has to follow.
    pub(super) fn fix(&mut self, share: &Share, times: i64) {
        self.lp.fix(share.row, float(times), self.dear * 2.0);
        for (size, n) in &share.takes {
            self.left.counts[*size] -= n * times;
        }
        self.left.sticks[share.rack] -= times;
        self.least[share.rack] = (self.least[share.rack] - times).max(0);
        self.total = ((self.total.0 - times).max(0), self.total.1 - times);
    }

    /// Bars patterns that no longer fit what is left, after patterns were cut.
    pub(super) fn settle(&mut self, work: &mut Work) {
        work.spend(count(self.patterns.len()) * 4);
        let left = &self.left;
        let is_over = |(rack, takes): &(usize, Vec<(usize, i64)>)| {
            left.sticks[*rack] <= 0 || takes.iter().any(|(size, n)| *n > left.counts[*size])
        };
        let over: Vec<usize> = self
            .patterns
            .iter()
            .filter(|(_, pattern)| is_over(pattern))
            .map(|(column, _)| *column)
            .collect();
        for column in over {
            self.lp.bar(column, self.dear);
            if let Some(pattern) = self.patterns.remove(&column) {
                self.known.remove(&pattern);
            }
        }
        self.lp.price_out();
        self.worth = Worth::default();
    }
}

fn whole_ceil(value: f64) -> i64 {
    whole(value.ceil())
}
