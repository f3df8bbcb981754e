//! A task in the form that is solved: kerf folded into lengths, rows merged and sorted, lengths and
//! prices divided by what they share, so that neither the order of rows nor the unit matters.

use std::collections::BTreeMap;

use super::{Cut, Task};

/// Sticks of one kind in solved form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Rack {
    /// What steps may sum to: usable length and one cut, in core units, rounded down.
    pub(super) room: i64,
    /// Price in core units.
    pub(super) price: i64,
    /// How many at most, never more than there are pieces.
    pub(super) most: i64,
    /// Sizes that come out of a stick only alone, because they use it whole.
    pub(super) lone: Vec<usize>,
    /// Usable length and one cut, in the task's unit.
    full: i64,
    /// Place in the task.
    place: usize,
}

/// A task in solved form.
#[derive(Clone, Debug)]
pub(super) struct Core {
    /// Length with a cut of each size, longest first, in core units.
    pub(super) steps: Vec<i64>,
    /// How many of each size.
    pub(super) counts: Vec<i64>,
    /// Sticks.
    pub(super) racks: Vec<Rack>,
    /// All pieces.
    pub(super) pieces: i64,
    /// Length of a core unit in the task's unit.
    unit: i64,
    /// Worth of a core price unit in the task's unit.
    coin: i64,
    kerf: i64,
    places: Vec<Vec<(usize, u64)>>,
}

/// Sticks cut alike, in core terms.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Plan {
    /// Which rack.
    pub(super) rack: usize,
    /// Sizes in their order, and how many of each.
    pub(super) takes: Vec<(usize, i64)>,
    /// How many sticks.
    pub(super) times: i64,
}

impl Core {
    /// The solved form; `None` when a size comes out of no stick or a number is out of range.
    pub(super) fn of(task: &Task) -> Option<Self> {
        let mut merged: BTreeMap<i64, Vec<(usize, u64)>> = BTreeMap::new();
        for (place, size) in task.sizes.iter().enumerate() {
            if size.count > 0 {
                let length = size.length.max(0);
                merged.entry(length).or_default().push((place, size.count));
            }
        }
        let lengths: Vec<i64> = merged.keys().rev().copied().collect();
        let places: Vec<_> = merged.into_values().rev().collect();
        let summed = |rows: &Vec<(usize, u64)>| {
            let total = rows
                .iter()
                .try_fold(0_u64, |sum, (_, n)| sum.checked_add(*n))?;
            i64::try_from(total).ok()
        };
        let counts: Vec<i64> = places.iter().map(summed).collect::<Option<_>>()?;
        let pieces = counts
            .iter()
            .try_fold(0_i64, |sum, n| sum.checked_add(*n))?;
        let kerf = task.kerf.max(0);
        let steps: Option<Vec<i64>> = lengths.iter().map(|l| l.checked_add(kerf)).collect();
        // A piece without length on a saw without width would fit endlessly: give it the least length.
        let steps: Vec<i64> = steps?.into_iter().map(|step| step.max(1)).collect();
        let unit = steps.iter().fold(0, |a, b| gcd(a, *b)).max(1);
        let racks = racks_of(task, &lengths, &steps, unit, pieces)?;
        let coin = racks.iter().fold(0, |a, rack| gcd(a, rack.price));
        let mut core = Self {
            steps: steps.iter().map(|step| step / unit).collect(),
            counts,
            racks,
            pieces,
            unit,
            coin,
            kerf,
            places,
        };
        for rack in &mut core.racks {
            // Where nothing costs anything the sticks are counted instead, each worth nothing.
            rack.price = rack.price.checked_div(coin).unwrap_or(1);
        }
        let fits = |size: usize| (0..core.racks.len()).any(|rack| core.yields(rack, size));
        (0..core.sizes()).all(fits).then_some(core)
    }

    /// How many sizes.
    pub(super) fn sizes(&self) -> usize {
        self.steps.len()
    }

    /// Whether a rack's stick yields one piece of a size.
    pub(super) fn yields(&self, rack: usize, size: usize) -> bool {
        let rack = &self.racks[rack];
        self.steps[size] <= rack.room || rack.lone.contains(&size)
    }

    /// Room that is left of a stick in core units.
    pub(super) fn rest(&self, plan: &Plan) -> i64 {
        let taken = |(size, times): &(usize, i64)| self.steps[*size] * times;
        self.racks[plan.rack].room - plan.takes.iter().map(taken).sum::<i64>()
    }

    /// Whether a rack's stick yields all these pieces.
    pub(super) fn holds(&self, rack: usize, takes: &[(usize, i64)]) -> bool {
        let length = |(size, times): &(usize, i64)| self.steps[*size] * times;
        let rack = &self.racks[rack];
        if takes.iter().map(length).sum::<i64>() <= rack.room {
            return true;
        }
        matches!(takes, [(size, 1)] if rack.lone.contains(size))
    }

    /// The offcut of a stick in the task's unit: a cut is lost before it.
    pub(super) fn offcut(&self, plan: &Plan) -> i64 {
        let taken = |(size, times): &(usize, i64)| self.steps[*size] * times * self.unit;
        let left = self.racks[plan.rack].full - plan.takes.iter().map(taken).sum::<i64>();
        (left - self.kerf).max(0)
    }

    /// Whether all sticks have one price, so that money and sticks are the same.
    pub(super) fn has_one_price(&self) -> bool {
        let mut prices = self.racks.iter().map(|rack| rack.price);
        let first = prices.next();
        prices.all(|price| Some(price) == first)
    }

    /// A price of core units in the task's unit.
    pub(super) fn money(&self, units: i128) -> i128 {
        units.saturating_mul(i128::from(self.coin))
    }

    /// The task with every count and every limit halved, when all counts are even.
    pub(super) fn half(&self) -> Option<Self> {
        if self.pieces == 0 || self.counts.iter().any(|count| count % 2 != 0) {
            return None;
        }
        let mut half = self.clone();
        for count in &mut half.counts {
            *count /= 2;
        }
        half.pieces /= 2;
        for rack in &mut half.racks {
            rack.most /= 2;
        }
        Some(half)
    }

    /// Plans in terms of the task: pieces of merged rows are given out in the order of the rows.
    pub(super) fn cuts(&self, plans: &[Plan]) -> Vec<Cut> {
        let mut rows: Vec<Vec<(usize, u64)>> = self.places.clone();
        for list in &mut rows {
            list.reverse();
        }
        let mut cuts = Vec::new();
        for plan in plans {
            let mut left = u64::try_from(plan.times).unwrap_or(0);
            while left > 0 {
                let run = run_of(&rows, &plan.takes, left);
                let takes = given(&mut rows, &plan.takes, run);
                cuts.push(Cut {
                    stock: self.racks[plan.rack].place,
                    takes,
                    times: run,
                });
                left -= run;
            }
        }
        cuts
    }
}

/// How many sticks in a row take from the same rows of the task.
fn run_of(rows: &[Vec<(usize, u64)>], takes: &[(usize, i64)], most: u64) -> u64 {
    let runs = takes.iter().filter_map(|(size, each)| {
        let (_, left) = rows[*size].last()?;
        left.checked_div(u64::try_from(*each).ok()?)
    });
    runs.min().unwrap_or(most).clamp(1, most)
}

fn given(rows: &mut [Vec<(usize, u64)>], takes: &[(usize, i64)], run: u64) -> Vec<(usize, u64)> {
    let mut out = Vec::new();
    for (size, each) in takes {
        let mut wanted = u64::try_from(*each).unwrap_or(0) * run;
        while let Some((place, left)) = rows[*size].last_mut().filter(|_| wanted > 0) {
            let now = wanted.min(*left);
            out.push((*place, now / run.max(1)));
            wanted -= now;
            *left -= now;
            if *left == 0 {
                rows[*size].pop();
            }
        }
    }
    out
}

fn racks_of(
    task: &Task,
    lengths: &[i64],
    steps: &[i64],
    unit: i64,
    pieces: i64,
) -> Option<Vec<Rack>> {
    let mut racks = Vec::new();
    for (place, stock) in task.stocks.iter().enumerate() {
        let full = stock.usable.max(0).checked_add(task.kerf.max(0))?;
        let lone = (0..lengths.len())
            .filter(|size| steps[*size] > full && stock.whole.contains(&lengths[*size]));
        let most = stock.most.and_then(|most| i64::try_from(most).ok());
        racks.push(Rack {
            room: full / unit,
            price: stock.price.max(0),
            most: most.unwrap_or(i64::MAX).min(pieces),
            lone: lone.collect(),
            full,
            place,
        });
    }
    racks.sort_by(|a, b| {
        let key = |rack: &Rack| (rack.full, rack.price, rack.most);
        key(b)
            .cmp(&key(a))
            .then_with(|| b.lone.cmp(&a.lone))
            .then(a.place.cmp(&b.place))
    });
    Some(racks)
}

fn gcd(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a, b);
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}
