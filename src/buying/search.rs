//! A search through all cuttings of a small list: it ends with the cheapest one, or gives up in time.

use super::cut_list::{FINE, Solved, least_price};
use super::sticks::{Bench, Cut, Stock};

/// Lists of more pieces than this are not searched.
const MOST_PIECES: u64 = 40;
/// Sticks tried before the search gives up.
const MOST_STEPS: u32 = 8_000;

/// `cuts` of price `cost`, or a cheaper cutting when the search finds one.
pub(super) fn improved(bench: &Bench<'_>, cuts: Vec<Cut>, cost: i128) -> Solved {
    let pieces = bench
        .sizes
        .iter()
        .map(|size| size.count)
        .fold(0, u64::saturating_add);
    if pieces > MOST_PIECES {
        return Solved {
            cuts,
            proven: false,
        };
    }
    let mut search = Search {
        bench,
        counts: bench.sizes.iter().map(|size| size.count).collect(),
        used: vec![0; bench.stocks.len()],
        floor: (0..bench.sizes.len())
            .map(|size| least_price(bench, size))
            .collect(),
        path: Vec::new(),
        best: cost,
        found: None,
        steps: MOST_STEPS,
    };
    search.next_stick(0);
    Solved {
        proven: search.steps > 0,
        cuts: search.found.unwrap_or(cuts),
    }
}

struct Search<'a> {
    bench: &'a Bench<'a>,
    counts: Vec<u64>,
    used: Vec<u64>,
    /// Least price of one piece of each size.
    floor: Vec<i128>,
    path: Vec<Cut>,
    best: i128,
    found: Option<Vec<Cut>>,
    steps: u32,
}

impl Search<'_> {
    /// Cuts the longest piece left from every kind of stick, with every filling around it.
    fn next_stick(&mut self, cost: i128) {
        let Some(longest) = self.counts.iter().position(|count| *count > 0) else {
            if cost < self.best {
                self.best = cost;
                self.found = Some(self.path.clone());
            }
            return;
        };
        let stocks: Vec<(usize, Stock)> = self.bench.stocks.iter().cloned().enumerate().collect();
        for (index, stock) in stocks {
            let used = self.used.get(index).copied().unwrap_or(0);
            if stock.most.is_some_and(|most| used >= most) {
                continue;
            }
            let alone = [(longest, 1)];
            if !self.bench.holds(&stock, &alone) {
                continue;
            }
            if self.bench.taken(&alone) > stock.usable {
                self.cut(index, &stock, &alone, cost);
                continue;
            }
            let room = stock.usable.saturating_add(self.bench.kerf);
            let rest = room.saturating_sub(self.bench.step(longest));
            self.fill(index, &stock, &mut vec![(longest, 1)], rest, cost);
        }
    }

    /// Adds pieces, no longer than the last one, until no more fits; only full sticks are cut, since a
    /// piece more on a stick costs nothing.
    fn fill(
        &mut self,
        index: usize,
        stock: &Stock,
        takes: &mut Vec<(usize, u64)>,
        room: i64,
        cost: i128,
    ) {
        let Some((last, times)) = takes.last().copied().filter(|_| self.steps > 0) else {
            return;
        };
        for size in last..self.counts.len() {
            let step = self.bench.step(size);
            if step > room || !self.is_left(size, takes) {
                continue;
            }
            if size == last {
                set_last(takes, times + 1);
            } else {
                takes.push((size, 1));
            }
            self.fill(index, stock, takes, room.saturating_sub(step), cost);
            if size == last {
                set_last(takes, times);
            } else {
                takes.pop();
            }
        }
        let full = (0..self.counts.len())
            .all(|size| self.bench.step(size) > room || !self.is_left(size, takes));
        if full {
            self.cut(index, stock, takes, cost);
        }
    }

    fn is_left(&self, size: usize, takes: &[(usize, u64)]) -> bool {
        let same = takes.iter().find(|(other, _)| *other == size);
        let times = same.map_or(0, |(_, times)| *times);
        self.counts.get(size).is_some_and(|count| *count > times)
    }

    fn cut(&mut self, index: usize, stock: &Stock, takes: &[(usize, u64)], cost: i128) {
        if self.steps == 0 {
            return;
        }
        self.steps -= 1;
        self.change(index, takes, false);
        let cost = cost.saturating_add(stock.price);
        if cost.saturating_add(self.rest_costs()) < self.best {
            self.path.push(Cut {
                stock: index,
                takes: takes.to_vec(),
                times: 1,
            });
            self.next_stick(cost);
            self.path.pop();
        }
        self.change(index, takes, true);
    }

    /// Least price of all that is left, rounded up, since prices are whole millionths.
    fn rest_costs(&self) -> i128 {
        let each = self.counts.iter().zip(&self.floor);
        let sum = each
            .map(|(count, floor)| floor.saturating_mul(i128::from(*count)))
            .fold(0, i128::saturating_add);
        sum.saturating_add(FINE - 1) / FINE
    }

    fn change(&mut self, index: usize, takes: &[(usize, u64)], back: bool) {
        for (size, times) in takes {
            if let Some(count) = self.counts.get_mut(*size) {
                *count = if back {
                    count.saturating_add(*times)
                } else {
                    count.saturating_sub(*times)
                };
            }
        }
        if let Some(used) = self.used.get_mut(index) {
            *used = if back {
                used.saturating_sub(1)
            } else {
                used.saturating_add(1)
            };
        }
    }
}

fn set_last(takes: &mut [(usize, u64)], times: u64) {
    if let Some(last) = takes.last_mut() {
        last.1 = times;
    }
}
