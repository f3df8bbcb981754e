//! Searches that end with proof: through every cutting of a few pieces, or through those whose sticks
//! together waste less worth than the gap between the bound and the best cutting.

use std::collections::HashMap;

use super::best::Best;
use super::bound::Worth;
use super::core::{Core, Plan};
use super::greedy::Left;
use super::master::Master;
use super::work::Work;

/// Pieces up to which every cutting is looked at, for the fewest sticks and the longest offcut too.
pub(super) const ALL: i64 = 10;
/// States that a search remembers.
const STATES: usize = 400_000;

/// What a search aims at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Aim {
    /// The best rank: also sticks that are not filled up.
    Rank,
    /// Less money than the best cutting: only sticks into which no more fits.
    Money,
}

/// Looks at every cutting of a few pieces; false when the work ended before the search.
pub(super) fn every(core: &Core, worth: &Worth, best: &mut Best<'_>, work: &mut Work) -> bool {
    let left = Left::all(core);
    run(
        Search::new(core, left, worth, Aim::Rank, Vec::new()),
        best,
        work,
    )
}

/// Searches for less money than `best` costs. True means that there is none, or that it was found.
pub(super) fn cheaper(core: &Core, worth: &Worth, best: &mut Best<'_>, work: &mut Work) -> bool {
    let left = Left::all(core);
    run(
        Search::new(core, left, worth, Aim::Money, Vec::new()),
        best,
        work,
    )
}

/// Searches the rest of a dive with few pieces left.
pub(super) fn finish(master: &Master<'_>, fixed: &[Plan], best: &mut Best<'_>, work: &mut Work) {
    let mut part = Work::of(300_000.min(work.left()));
    let before = part.left();
    let left = master.left.clone();
    let search = Search::new(master.core, left, &master.worth, Aim::Money, fixed.to_vec());
    run(search, best, &mut part);
    work.spend(before - part.left());
}

fn run(mut search: Search<'_>, best: &mut Best<'_>, work: &mut Work) -> bool {
    search.next_stick(best, work);
    !work.is_over()
}

struct Search<'c> {
    core: &'c Core,
    left: Left,
    aim: Aim,
    worth: Worth,
    /// Worth of a money unit.
    scale: i128,
    /// Bound of the whole, times the scale.
    floor: i128,
    /// What the sticks so far cost beyond the bound, times the scale.
    wasted: i128,
    /// Worth and step of the size that is worth most by length.
    dearest: (i128, i128),
    path: Vec<Plan>,
    seen: HashMap<Vec<i64>, i128>,
}

impl<'c> Search<'c> {
    fn new(core: &'c Core, left: Left, worth: &Worth, aim: Aim, path: Vec<Plan>) -> Self {
        let worth = if worth.pieces.is_empty() {
            Worth {
                pieces: vec![0; core.sizes()],
                gaps: core.racks.iter().map(|rack| rack.price).collect(),
                bound: 0,
                scale: 1,
            }
        } else {
            worth.clone()
        };
        let price = |plan: &Plan| i128::from(core.racks[plan.rack].price) * i128::from(plan.times);
        let spent: i128 = path.iter().map(price).sum();
        let scale = i128::from(worth.scale);
        // Racks that gain are counted as if all their sticks were used; a stick used then costs only
        // what it wastes, and one that is not used costs its gain.
        let gains = worth.gaps.iter().zip(&left.sticks);
        let gains: i128 = gains
            .map(|(gap, n)| i128::from((*gap).min(0)) * i128::from(*n))
            .sum();
        let worths = worth.pieces.iter().zip(&left.counts);
        let worths: i128 = worths.map(|(w, n)| i128::from(*w) * i128::from(*n)).sum();
        let by_length = worth.pieces.iter().zip(&core.steps);
        let by_length = by_length.map(|(w, step)| (i128::from(*w), i128::from(*step)));
        let dearest = by_length.max_by(|a, b| (a.0 * b.1).cmp(&(b.0 * a.1)));
        Self {
            core,
            left,
            aim,
            scale,
            dearest: dearest.unwrap_or((0, 1)),
            floor: spent * scale + worths + gains,
            wasted: 0,
            worth,
            path,
            seen: HashMap::new(),
        }
    }

    /// Whether what is wasted so far already leads to no better cutting.
    fn is_over(&self, wasted: i128, best: &Best<'_>) -> bool {
        let Some(money) = best.money() else {
            return false;
        };
        let most = match self.aim {
            Aim::Rank => money,
            Aim::Money => money - 1,
        };
        self.floor + wasted > most * self.scale
    }

    /// Cuts the longest piece left from every kind of stick, with every filling around it.
    fn next_stick(&mut self, best: &mut Best<'_>, work: &mut Work) {
        let Some(longest) = self.left.counts.iter().position(|n| *n > 0) else {
            match self.aim {
                Aim::Rank => best.offer_exact(&self.path),
                Aim::Money => {
                    best.offer(self.path.clone());
                }
            }
            return;
        };
        if self.aim == Aim::Money {
            work.spend(400 + super::number::count(self.core.sizes()) * 8);
            if self.was_seen() {
                return;
            }
        }
        for rack in 0..self.core.racks.len() {
            if self.left.sticks[rack] <= 0 || !self.core.yields(rack, longest) {
                continue;
            }
            let room = self.core.racks[rack].room - self.core.steps[longest];
            let gap = i128::from(self.core.racks[rack].price) * self.scale
                - i128::from(self.worth.gaps[rack].min(0));
            let wasted = gap - i128::from(self.worth.pieces[longest]);
            let mut takes = vec![(longest, 1)];
            self.left.counts[longest] -= 1;
            self.fill(rack, &mut takes, longest, (room, wasted), best, work);
            self.left.counts[longest] += 1;
        }
    }

    /// Whether the same pieces and sticks were left before at no more waste.
    fn was_seen(&mut self) -> bool {
        let mut key = self.left.counts.clone();
        let limited = self.core.racks.iter().zip(&self.left.sticks);
        key.extend(
            limited
                .filter(|(rack, _)| rack.most < self.core.pieces)
                .map(|(_, n)| *n),
        );
        match self.seen.get_mut(&key) {
            Some(least) if *least <= self.wasted => true,
            Some(least) => {
                *least = self.wasted;
                false
            }
            None => {
                if self.seen.len() < STATES {
                    self.seen.insert(key, self.wasted);
                }
                false
            }
        }
    }

    /// Adds pieces no longer than the last one. `state` is the room that is left and what the stick
    /// wastes so far.
    fn fill(
        &mut self,
        rack: usize,
        takes: &mut Vec<(usize, i64)>,
        from: usize,
        state: (i64, i128),
        best: &mut Best<'_>,
        work: &mut Work,
    ) {
        let (room, wasted) = state;
        work.spend(80);
        if work.is_over() || self.is_over(self.wasted + self.least(wasted, room), best) {
            return;
        }
        let first = from + self.core.steps[from..].partition_point(|step| *step > room);
        for size in first..self.core.sizes() {
            if self.left.counts[size] == 0 {
                continue;
            }
            let rest = room - self.core.steps[size];
            let less = wasted - i128::from(self.worth.pieces[size]);
            self.left.counts[size] -= 1;
            push(takes, size);
            self.fill(rack, takes, size, (rest, less), best, work);
            pop(takes);
            self.left.counts[size] += 1;
        }
        if self.aim == Aim::Rank || self.is_full(room) {
            self.cut(rack, takes, wasted, best, work);
        }
    }

    /// Whether no piece that is left fits, a longer one than the last neither.
    fn is_full(&self, room: i64) -> bool {
        let first = self.core.steps.partition_point(|step| *step > room);
        self.left.counts[first..].iter().all(|n| *n == 0)
    }

    /// The least that a stick can waste in the end, when its room is used at the best worth by length.
    fn least(&self, wasted: i128, room: i64) -> i128 {
        let (worth, step) = self.dearest;
        let more = i128::from(room.max(0)) * worth / step;
        (wasted - more).max(0)
    }

    fn cut(
        &mut self,
        rack: usize,
        takes: &[(usize, i64)],
        wasted: i128,
        best: &mut Best<'_>,
        work: &mut Work,
    ) {
        if self.is_over(self.wasted + wasted, best) {
            return;
        }
        self.path.push(Plan {
            rack,
            takes: takes.to_vec(),
            times: 1,
        });
        self.left.sticks[rack] -= 1;
        self.wasted += wasted;
        self.next_stick(best, work);
        self.wasted -= wasted;
        self.left.sticks[rack] += 1;
        self.path.pop();
    }
}

fn push(takes: &mut Vec<(usize, i64)>, size: usize) {
    match takes.last_mut() {
        Some((last, times)) if *last == size => *times += 1,
        _ => takes.push((size, 1)),
    }
}

fn pop(takes: &mut Vec<(usize, i64)>) {
    match takes.last_mut() {
        Some((_, times)) if *times > 1 => *times -= 1,
        _ => {
            takes.pop();
        }
    }
}
