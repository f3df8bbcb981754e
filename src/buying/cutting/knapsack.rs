//! The most valuable filling of a stick, in whole numbers: by table where lengths are small, by branch
//! and bound otherwise. Where even that would take too long, a bound from coarser lengths remains.

use super::number::{count, place};
use super::work::Work;

/// A size that may go on the stick.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    /// Which size.
    pub(super) size: usize,
    /// Its length with a cut.
    pub(super) step: i64,
    /// Its worth, more than zero.
    pub(super) value: i64,
    /// How many at most.
    pub(super) most: i64,
}

/// A filling.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Filling {
    /// Summed worth.
    pub(super) value: i64,
    /// What no filling is worth more than; equal to `value` when this filling is the best.
    pub(super) upper: i64,
    /// Sizes in their order, and how many of each.
    pub(super) takes: Vec<(usize, i64)>,
}

/// Table cells up to which the table is always used.
const SMALL_TABLE: i64 = 2_000_000;
/// Table cells beyond which it is never used.
const LARGE_TABLE: i64 = 40_000_000;
/// Nodes of one search.
const NODES: i64 = 60_000;

/// The best filling for each of several rooms, or fillings of which one is worth more than what is
/// `enough` for its room: then a better one is not waited for.
pub(super) fn best(items: &[Item], rooms: &[i64], enough: &[i64], work: &mut Work) -> Vec<Filling> {
    let widest = rooms.iter().copied().max().unwrap_or(0);
    let items: Vec<Item> = items
        .iter()
        .copied()
        .filter(|item| item.value > 0 && item.most > 0 && item.step <= widest)
        .collect();
    // Two rows are there even without a single layer.
    let rows = layers(&items, widest).saturating_add(2);
    let cells = rows.saturating_mul(widest + 1);
    if cells <= SMALL_TABLE {
        return by_table(&items, rooms, work);
    }
    let searched: Vec<Filling> = rooms
        .iter()
        .map(|room| by_search(&items, *room, work))
        .collect();
    let is_enough = |(filling, enough): (&Filling, &i64)| filling.value > *enough;
    let is_best = |filling: &Filling| filling.value == filling.upper;
    if searched.iter().all(is_best) || searched.iter().zip(enough).any(is_enough) {
        return searched;
    }
    if cells <= LARGE_TABLE {
        return by_table(&items, rooms, work);
    }
    let coarse = coarse_uppers(&items, rooms, work);
    let tightened = searched
        .into_iter()
        .zip(coarse)
        .map(|(filling, upper)| Filling {
            upper: filling.upper.min(upper),
            ..filling
        });
    tightened.collect()
}

/// How many pieces of an item go on a stick at most.
fn copies(item: &Item, room: i64) -> i64 {
    item.most.min(room / item.step)
}

/// Numbers of copies that together make every number up to `most`: 1, 2, 4, ... and a rest.
fn splits(most: i64) -> Vec<i64> {
    let (mut left, mut next) = (most, 1);
    let mut parts = Vec::new();
    while left > 0 {
        let part = next.min(left);
        parts.push(part);
        left -= part;
        next *= 2;
    }
    parts
}

fn layers(items: &[Item], room: i64) -> i64 {
    items
        .iter()
        .map(|item| count(splits(copies(item, room)).len()))
        .sum()
}

fn by_table(items: &[Item], rooms: &[i64], work: &mut Work) -> Vec<Filling> {
    let widest = rooms.iter().copied().max().unwrap_or(0).max(0);
    let width = place(widest) + 1;
    let layers: Vec<(usize, i64)> = items
        .iter()
        .enumerate()
        .flat_map(|(at, item)| {
            splits(copies(item, widest))
                .into_iter()
                .map(move |n| (at, n))
        })
        .collect();
    work.spend(count(layers.len() * width));
    let mut worth = vec![0_i64; width];
    let mut next = worth.clone();
    let mut taken = vec![false; layers.len() * width];
    for ((at, copies), row) in layers.iter().zip(taken.chunks_exact_mut(width)) {
        let shift = place(items[*at].step * copies).min(width);
        let gain = items[*at].value * copies;
        next[..shift].copy_from_slice(&worth[..shift]);
        let pairs = worth[shift..].iter().zip(&worth[..width - shift]);
        let outs = next[shift..].iter_mut().zip(&mut row[shift..]);
        for ((out, took), (without, rest)) in outs.zip(pairs) {
            let filled = rest + gain;
            *took = filled > *without;
            *out = filled.max(*without);
        }
        std::mem::swap(&mut worth, &mut next);
    }
    let one = |room: &i64| {
        let mut at = place((*room).max(0));
        let value = worth[at];
        let mut filling: Vec<(usize, i64)> = Vec::new();
        for (layer, (item, copies)) in layers.iter().enumerate().rev() {
            if taken[layer * width + at] {
                at -= place(items[*item].step * copies);
                match filling.last_mut() {
                    Some((size, times)) if *size == items[*item].size => *times += copies,
                    _ => filling.push((items[*item].size, *copies)),
                }
            }
        }
        filling.sort_unstable();
        Filling {
            value,
            upper: value,
            takes: filling,
        }
    };
    rooms.iter().map(one).collect()
}

/// A search, items in the order of worth per length.
struct Search {
    items: Vec<Item>,
    /// Shortest step from each item on.
    shortest: Vec<i64>,
    nodes: i64,
    best: i64,
    found: Vec<(usize, i64)>,
    taken: Vec<(usize, i64)>,
    /// The greatest bound of what was not looked at.
    open: i64,
}

fn by_search(items: &[Item], room: i64, work: &mut Work) -> Filling {
    let mut items: Vec<Item> = items
        .iter()
        .copied()
        .filter(|item| item.step <= room)
        .collect();
    items.sort_by(|a, b| {
        let left = i128::from(a.value) * i128::from(b.step);
        let right = i128::from(b.value) * i128::from(a.step);
        right.cmp(&left).then(a.size.cmp(&b.size))
    });
    let mut shortest = vec![i64::MAX; items.len() + 1];
    for at in (0..items.len()).rev() {
        shortest[at] = shortest[at + 1].min(items[at].step);
    }
    let mut search = Search {
        items,
        shortest,
        nodes: NODES,
        best: 0,
        found: Vec::new(),
        taken: Vec::new(),
        open: 0,
    };
    search.from(0, room, 0);
    work.spend((NODES - search.nodes) * 12);
    let mut takes = search.found;
    takes.sort_unstable();
    Filling {
        value: search.best,
        upper: search.best.max(search.open),
        takes,
    }
}

impl Search {
    fn from(&mut self, start: usize, room: i64, value: i64) {
        if value > self.best {
            self.best = value;
            self.found.clone_from(&self.taken);
        }
        for at in start..self.items.len() {
            if room < self.shortest[at] {
                return;
            }
            let item = self.items[at];
            if item.step > room {
                continue;
            }
            let bound = value.saturating_add(worth_of(room, &item));
            if bound <= self.best {
                return;
            }
            if self.nodes <= 0 {
                self.open = self.open.max(bound);
                return;
            }
            for times in (1..=copies(&item, room)).rev() {
                self.nodes -= 1;
                self.taken.push((item.size, times));
                self.from(at + 1, room - item.step * times, value + item.value * times);
                self.taken.pop();
            }
        }
    }
}

/// What a room is worth at an item's worth per length, rounded down: items after it are worth no more.
fn worth_of(room: i64, item: &Item) -> i64 {
    if let Some(product) = room.checked_mul(item.value) {
        return product / item.step;
    }
    let exact = i128::from(room) * i128::from(item.value) / i128::from(item.step);
    i64::try_from(exact).unwrap_or(i64::MAX)
}

/// Bounds from lengths in coarser units, rounded down, which let every true filling through.
fn coarse_uppers(items: &[Item], rooms: &[i64], work: &mut Work) -> Vec<i64> {
    let widest = rooms.iter().copied().max().unwrap_or(0);
    let unit = (widest / 60_000).max(1);
    let coarse: Vec<Item> = items
        .iter()
        .map(|item| Item {
            step: (item.step / unit).max(1),
            most: copies(item, widest),
            ..*item
        })
        .collect();
    if items.iter().any(|item| item.step < unit) {
        return vec![i64::MAX; rooms.len()];
    }
    let rooms: Vec<i64> = rooms.iter().map(|room| room / unit).collect();
    if layers(&coarse, rooms.iter().copied().max().unwrap_or(0)) * 60_000 > LARGE_TABLE {
        return vec![i64::MAX; rooms.len()];
    }
    let fillings = by_table(&coarse, &rooms, work);
    fillings.into_iter().map(|filling| filling.upper).collect()
}
