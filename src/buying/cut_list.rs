//! The cut list: which pieces come out of which sticks, for little money.
//!
//! Several ways of filling sticks are tried and the cheapest is kept; equal sticks are cut as one
//! pattern with a count, so that the work grows with the number of lengths and not of beds. Small
//! lists are searched through, and then the result is known to be the least.

use super::search;
use super::sticks::{Bench, Cut};

/// A cut list found.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    /// The sticks.
    pub(super) cuts: Vec<Cut>,
    /// Whether no other cutting costs less at these prices.
    pub(super) proven: bool,
}

/// How one stick is filled.
#[derive(Clone, Copy, Debug)]
enum Filling {
    /// Longest piece first, then the longest that still fits, and so on.
    InOrder,
    /// The longest piece, then what leaves least, looking at so many fillings at most.
    Fullest(u32),
}

/// The cheapest cutting found; `None` when the sticks for sale cannot yield all pieces.
pub(super) fn solve(bench: &Bench<'_>) -> Option<Solved> {
    let looks = 400_000 / u32::try_from(bench.sizes.len().max(1)).unwrap_or(u32::MAX);
    let fullest = Filling::Fullest(looks.clamp(60, 4_000));
    let favourites = std::iter::once(None).chain((0..bench.stocks.len()).map(Some));
    let mut best: Option<(i128, Vec<Cut>)> = None;
    for favourite in favourites {
        for filling in [Filling::InOrder, fullest] {
            let Some(cuts) = cut_all(bench, filling, favourite) else {
                continue;
            };
            let cuts = traded_down(bench, cuts);
            let cost = cost_of(bench, &cuts);
            if best.as_ref().is_none_or(|(least, _)| cost < *least) {
                best = Some((cost, cuts));
            }
        }
    }
    let (cost, cuts) = best?;
    if cost <= lower_bound(bench) {
        return Some(Solved { cuts, proven: true });
    }
    Some(search::improved(bench, cuts, cost))
}

/// Price of a cutting, in millionths.
pub(super) fn cost_of(bench: &Bench<'_>, cuts: &[Cut]) -> i128 {
    let price = |cut: &Cut| bench.stocks.get(cut.stock).map_or(0, |stock| stock.price);
    cuts.iter()
        .map(|cut| price(cut).saturating_mul(i128::from(cut.times)))
        .fold(0, i128::saturating_add)
}

/// A price below which no cutting can go, in millionths.
///
/// A stick of usable length u holds pieces that with a cut each sum to u + kerf at most. So a piece
/// costs at least its length with a cut, at the best price per length of the sticks that hold it.
pub(super) fn lower_bound(bench: &Bench<'_>) -> i128 {
    let size = |(index, size): (usize, &super::sticks::Size)| {
        least_price(bench, index).saturating_mul(i128::from(size.count))
    };
    let billionths = bench.sizes.iter().enumerate().map(size);
    billionths.fold(0, i128::saturating_add) / FINE
}

/// Parts of a millionth in which bounds are summed, so that rounding down costs nothing to speak of.
pub(super) const FINE: i128 = 1_000;

/// Least price that one piece can cost, in `FINE` parts of a millionth, rounded down.
pub(super) fn least_price(bench: &Bench<'_>, size: usize) -> i128 {
    let alone = [(size, 1)];
    let price = |stock: &super::sticks::Stock| {
        if !bench.holds(stock, &alone) {
            return None;
        }
        let whole = stock.price.saturating_mul(FINE);
        if bench.taken(&alone) > stock.usable {
            return Some(whole);
        }
        let of = i128::from(stock.usable.saturating_add(bench.kerf)).max(1);
        Some(whole.saturating_mul(i128::from(bench.step(size))) / of)
    };
    bench.stocks.iter().filter_map(price).min().unwrap_or(0)
}

/// What is still to be cut, and which sticks are left.
struct Left {
    counts: Vec<u64>,
    sticks: Vec<Option<u64>>,
    active: Vec<usize>,
}

impl Left {
    fn new(bench: &Bench<'_>) -> Self {
        Self {
            counts: bench.sizes.iter().map(|size| size.count).collect(),
            sticks: bench.stocks.iter().map(|stock| stock.most).collect(),
            active: (0..bench.sizes.len()).collect(),
        }
    }

    fn count(&self, size: usize) -> u64 {
        self.counts.get(size).copied().unwrap_or(0)
    }

    /// The longest size from a place on that fits into `room`, found by halving: sizes stand longest first.
    fn next_fitting(&self, bench: &Bench<'_>, from: usize, room: i64) -> Option<(usize, usize)> {
        let rest = self.active.get(from..)?;
        let place = from + rest.partition_point(|size| bench.step(*size) > room);
        Some((place, *self.active.get(place)?))
    }

    fn has(&self, stock: usize) -> bool {
        self.sticks.get(stock).is_some_and(|left| *left != Some(0))
    }

    /// How often a pattern can be cut before a size or the sticks run short.
    fn times(&self, stock: usize, takes: &[(usize, u64)]) -> u64 {
        let by_pieces = takes
            .iter()
            .map(|(size, each)| self.count(*size).checked_div(*each).unwrap_or(0))
            .min()
            .unwrap_or(0);
        match self.sticks.get(stock).copied().flatten() {
            Some(left) => by_pieces.min(left),
            None => by_pieces,
        }
    }

    fn take(&mut self, stock: usize, takes: &[(usize, u64)], times: u64) {
        for (size, each) in takes {
            if let Some(count) = self.counts.get_mut(*size) {
                *count = count.saturating_sub(each.saturating_mul(times));
            }
        }
        if let Some(Some(left)) = self.sticks.get_mut(stock) {
            *left = left.saturating_sub(times);
        }
        let counts = &self.counts;
        self.active
            .retain(|size| counts.get(*size).is_some_and(|count| *count > 0));
    }
}

fn cut_all(bench: &Bench<'_>, filling: Filling, favourite: Option<usize>) -> Option<Vec<Cut>> {
    let mut left = Left::new(bench);
    left.take(usize::MAX, &[], 0);
    let mut cuts = Vec::new();
    while let Some(longest) = left.active.first().copied() {
        let (stock, takes) = next_stick(bench, &left, longest, filling, favourite)?;
        let times = left.times(stock, &takes);
        if times == 0 {
            return None;
        }
        left.take(stock, &takes, times);
        cuts.push(Cut {
            stock,
            takes,
            times,
        });
    }
    Some(cuts)
}

type Filled = (usize, Vec<(usize, u64)>);

/// The stick for the longest piece left: the favourite when it holds it, else the cheapest by length used.
fn next_stick(
    bench: &Bench<'_>,
    left: &Left,
    longest: usize,
    filling: Filling,
    favourite: Option<usize>,
) -> Option<Filled> {
    let alone = [(longest, 1)];
    let mut fitting: Vec<_> = bench
        .stocks
        .iter()
        .enumerate()
        .filter(|(index, stock)| left.has(*index) && bench.holds(stock, &alone))
        .collect();
    if let Some(favoured) = fitting.iter().copied().find(|(i, _)| Some(*i) == favourite) {
        fitting = vec![favoured];
    }
    let mut best: Option<(i128, i128, Filled)> = None;
    for (index, stock) in fitting {
        let takes = if bench.taken(&alone) > stock.usable {
            alone.to_vec()
        } else {
            match filling {
                Filling::InOrder => in_order(bench, left, stock.usable),
                Filling::Fullest(looks) => fullest(bench, left, stock.usable, longest, looks),
            }
        };
        let used = i128::from(bench.taken(&takes).saturating_add(bench.kerf)).max(1);
        // Price per length used, compared without a division.
        let cheaper = best.as_ref().is_none_or(|(price, length, _)| {
            stock.price.saturating_mul(*length) < price.saturating_mul(used)
        });
        if cheaper {
            best = Some((stock.price, used, (index, takes)));
        }
    }
    best.map(|(_, _, filled)| filled)
}

/// How many more pieces of a size fit into `room` (usable length plus one cut).
fn fitting_in(bench: &Bench<'_>, left: &Left, size: usize, room: i64) -> u64 {
    let fit = room.checked_div(bench.step(size).max(1)).unwrap_or(0);
    u64::try_from(fit).unwrap_or(0).min(left.count(size))
}

fn in_order(bench: &Bench<'_>, left: &Left, usable: i64) -> Vec<(usize, u64)> {
    let mut room = usable.saturating_add(bench.kerf);
    let mut takes = Vec::new();
    let mut from = 0;
    while let Some((place, size)) = left.next_fitting(bench, from, room) {
        let times = fitting_in(bench, left, size, room);
        room = room.saturating_sub(spent(bench, size, times));
        takes.push((size, times));
        from = place + 1;
    }
    takes
}

fn spent(bench: &Bench<'_>, size: usize, times: u64) -> i64 {
    let times = i64::try_from(times).unwrap_or(i64::MAX);
    bench.step(size).saturating_mul(times)
}

/// A look for the filling that leaves least.
struct Look<'a> {
    bench: &'a Bench<'a>,
    left: &'a Left,
    looks: u32,
    least: i64,
    best: Vec<(usize, u64)>,
    taken: Vec<(usize, u64)>,
}

fn fullest(
    bench: &Bench<'_>,
    left: &Left,
    usable: i64,
    longest: usize,
    looks: u32,
) -> Vec<(usize, u64)> {
    let room = usable.saturating_add(bench.kerf);
    let mut look = Look {
        bench,
        left,
        looks,
        least: i64::MAX,
        best: vec![(longest, 1)],
        taken: Vec::new(),
    };
    for times in (1..=fitting_in(bench, left, longest, room)).rev() {
        look.taken = vec![(longest, times)];
        look.fill(1, room.saturating_sub(spent(bench, longest, times)));
    }
    look.best
}

impl Look<'_> {
    fn fill(&mut self, from: usize, room: i64) {
        if room < self.least {
            self.least = room;
            self.best.clone_from(&self.taken);
        }
        let mut from = from;
        while let Some((place, size)) = self.left.next_fitting(self.bench, from, room) {
            for times in (1..=fitting_in(self.bench, self.left, size, room)).rev() {
                if self.looks == 0 || self.least == 0 {
                    return;
                }
                self.looks -= 1;
                self.taken.push((size, times));
                let rest = room.saturating_sub(spent(self.bench, size, times));
                self.fill(place + 1, rest);
                self.taken.pop();
            }
            from = place + 1;
        }
    }
}

/// Gives every stick's pieces to the cheapest stick that holds them and is still to be had.
pub(super) fn traded_down(bench: &Bench<'_>, cuts: Vec<Cut>) -> Vec<Cut> {
    let mut free: Vec<Option<u64>> = bench.stocks.iter().map(|stock| stock.most).collect();
    for cut in &cuts {
        if let Some(Some(left)) = free.get_mut(cut.stock) {
            *left = left.saturating_sub(cut.times);
        }
    }
    let mut by_price: Vec<(usize, &super::sticks::Stock)> =
        bench.stocks.iter().enumerate().collect();
    by_price.sort_by_key(|(index, stock)| (stock.price, *index));
    let mut traded = Vec::with_capacity(cuts.len());
    for mut cut in cuts {
        let now = bench.stocks.get(cut.stock).map_or(0, |stock| stock.price);
        for (index, stock) in by_price.iter().take_while(|(_, stock)| stock.price < now) {
            if cut.times == 0 || !bench.holds(stock, &cut.takes) {
                continue;
            }
            let moved = match free.get(*index).copied().flatten() {
                Some(left) => left.min(cut.times),
                None => cut.times,
            };
            if moved == 0 {
                continue;
            }
            move_sticks(&mut free, cut.stock, *index, moved);
            traded.push(Cut {
                stock: *index,
                takes: cut.takes.clone(),
                times: moved,
            });
            cut.times = cut.times.saturating_sub(moved);
        }
        if cut.times > 0 {
            traded.push(cut);
        }
    }
    traded
}

fn move_sticks(free: &mut [Option<u64>], from: usize, to: usize, count: u64) {
    if let Some(Some(left)) = free.get_mut(from) {
        *left = left.saturating_add(count);
    }
    if let Some(Some(left)) = free.get_mut(to) {
        *left = left.saturating_sub(count);
    }
}
