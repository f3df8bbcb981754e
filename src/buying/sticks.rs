//! Sticks and pieces in whole nanometres, and the way back to lengths with their marks.
//!
//! One sixty-fourth of an inch is 396,875 nm, so that fits are decided exactly. Pieces round up and
//! sticks round down: a fit on paper is a fit on the bench.

use std::collections::BTreeMap;
use std::sync::Arc;

pub(super) use super::cutting::{Cut, Size};
use super::demand::PieceNeed;
use super::{OfferId, Stick};
use crate::units::round::{step_down, step_up, whole_up};
use crate::units::show::System;
use crate::units::{Decimal, Length};

/// Nanometres in a metre.
const NANOMETRES: Decimal = Decimal::from_parts(1_000_000_000, 0, 0, false, 0);

/// A stick that can be bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stock {
    /// Length by which it is sold, in nm.
    pub(super) nominal: i64,
    /// True length, in nm.
    pub(super) full: i64,
    /// True length less the trim of its ends, in nm.
    pub(super) usable: i64,
    /// Price in millionths of the currency unit.
    pub(super) price: i64,
    /// How many there are.
    pub(super) most: Option<u64>,
}

/// A length that is needed, rounded up to whole nanometres.
pub(super) fn needed_nm(length: Length) -> i64 {
    whole(whole_up(length.in_metres().saturating_mul(NANOMETRES)))
}

/// A length that is there, rounded down to whole nanometres.
pub(super) fn given_nm(length: Length) -> i64 {
    let exact = length.in_metres().saturating_mul(NANOMETRES);
    whole(step_down(exact, Decimal::ONE))
}

fn whole(number: Decimal) -> i64 {
    number.try_into().unwrap_or(i64::MAX)
}

/// A length from nanometres.
pub(super) fn length_of(nanometres: i64) -> Length {
    let metres = Decimal::from(nanometres).checked_div(NANOMETRES);
    Length::metres(metres.unwrap_or_default())
}

/// A part of nanometres rounded up to what a tape shows: 1/64 in or 0.1 mm.
pub(super) fn shown_up(system: System, nanometres: Decimal) -> Length {
    let step = match system {
        System::UsCustomary => Decimal::from(396_875),
        System::Metric => Decimal::from(100_000),
    };
    length_of(whole(step_up(nanometres, step)))
}

/// Pieces as sizes, longest first, marks apart.
pub(super) fn sizes_of(pieces: &[PieceNeed]) -> Vec<Size> {
    let mut counts: BTreeMap<i64, u64> = BTreeMap::new();
    for piece in pieces {
        let count = counts.entry(needed_nm(piece.length)).or_default();
        *count = count.saturating_add(piece.count.try_into().unwrap_or(u64::MAX));
    }
    let longest_first = counts.into_iter().rev();
    longest_first
        .map(|(length, count)| Size { length, count })
        .collect()
}

/// Everything that the bench holds: sticks, sizes and the saw.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bench<'a> {
    /// Sticks for sale.
    pub(super) stocks: &'a [Stock],
    /// Pieces wanted, longest first.
    pub(super) sizes: &'a [Size],
    /// Width of a cut, in nm.
    pub(super) kerf: i64,
}

impl Bench<'_> {
    /// Length of a size, in nm.
    pub(super) fn length(&self, size: usize) -> i64 {
        self.sizes.get(size).map_or(i64::MAX, |s| s.length)
    }

    /// What a piece takes of a stick when another follows: its length and a cut.
    pub(super) fn step(&self, size: usize) -> i64 {
        self.length(size).saturating_add(self.kerf)
    }

    /// Length that some pieces take of one stick: the last one may end flush, without a cut.
    pub(super) fn taken(&self, takes: &[(usize, u64)]) -> i64 {
        let one = |(size, times): &(usize, u64)| {
            let times = i64::try_from(*times).unwrap_or(i64::MAX);
            self.step(*size).saturating_mul(times)
        };
        let steps = takes.iter().map(one).fold(0, i64::saturating_add);
        steps.saturating_sub(self.kerf).max(0)
    }

    /// Whether some pieces come out of one stick.
    pub(super) fn holds(&self, stock: &Stock, takes: &[(usize, u64)]) -> bool {
        self.taken(takes) <= stock.usable || self.is_whole(stock, takes)
    }

    /// Whether a stick is used whole, and so is not trimmed.
    pub(super) fn is_whole(&self, stock: &Stock, takes: &[(usize, u64)]) -> bool {
        let [(size, 1)] = takes else { return false };
        let length = self.length(*size);
        length == stock.full || (length == stock.nominal && length <= stock.full)
    }

    /// What remains of a stick, in nm; the cut after the last piece is lost when it does not end flush.
    pub(super) fn offcut(&self, stock: &Stock, takes: &[(usize, u64)]) -> i64 {
        if self.is_whole(stock, takes) {
            return stock.full.saturating_sub(self.taken(takes)).max(0);
        }
        let left = stock.usable.saturating_sub(self.taken(takes));
        left.saturating_sub(self.kerf).max(0)
    }
}

/// Sticks with marked pieces: each length's pieces are given out in the order of their marks, in runs
/// of sticks that are alike, so that a hundred thousand equal sticks are one row.
pub(super) fn marked(
    bench: &Bench<'_>,
    cuts: &[Cut],
    offers: &[Option<OfferId>],
    pieces: &[PieceNeed],
) -> Vec<Stick> {
    let mut marks = Marks::new(pieces);
    let mut sticks = Vec::new();
    for cut in cuts {
        let Some(stock) = bench.stocks.get(cut.stock) else {
            continue;
        };
        let mut left = cut.times;
        while left > 0 {
            let run = marks.run(bench, &cut.takes, left);
            sticks.push(Stick {
                offer: offers.get(cut.stock).copied().flatten(),
                length: length_of(stock.full),
                count: u32::try_from(run).unwrap_or(u32::MAX),
                pieces: marks.give(bench, &cut.takes, run),
                offcut: length_of(bench.offcut(stock, &cut.takes)),
            });
            left = left.saturating_sub(run);
        }
    }
    merged(sticks)
}

/// Sorts sticks, longest first and most used first, and joins those that are alike.
fn merged(sticks: Vec<Stick>) -> Vec<Stick> {
    type Key = (Length, Vec<(Length, Arc<str>, u32)>, Option<OfferId>);
    let mut alike: BTreeMap<Key, Stick> = BTreeMap::new();
    for stick in sticks {
        let key = (stick.length, stick.pieces.clone(), stick.offer);
        match alike.get_mut(&key) {
            Some(same) => same.count = same.count.saturating_add(stick.count),
            None => {
                alike.insert(key, stick);
            }
        }
    }
    let mut sorted: Vec<Stick> = alike.into_values().rev().collect();
    sorted.sort_by(|a, b| b.length.cmp(&a.length).then(b.count.cmp(&a.count)));
    sorted
}

/// The marks that pieces of each length still have to carry.
struct Marks {
    by_length: BTreeMap<i64, Vec<(Length, Arc<str>, u64)>>,
}

impl Marks {
    fn new(pieces: &[PieceNeed]) -> Self {
        let mut by_length: BTreeMap<i64, Vec<_>> = BTreeMap::new();
        for piece in pieces.iter().rev() {
            let count: u64 = piece.count.try_into().unwrap_or(u64::MAX);
            let list = by_length.entry(needed_nm(piece.length)).or_default();
            list.push((piece.length, piece.mark.clone(), count));
        }
        Self { by_length }
    }

    /// How many sticks in a row can carry the same marks, at least one.
    fn run(&self, bench: &Bench<'_>, takes: &[(usize, u64)], most: u64) -> u64 {
        let runs = takes.iter().map(|(size, times)| {
            let list = self.by_length.get(&bench.length(*size));
            let left = list
                .and_then(|list| list.last())
                .map_or(0, |(_, _, count)| *count);
            left.checked_div(*times).unwrap_or(most)
        });
        runs.min().unwrap_or(most).clamp(1, most.max(1))
    }

    /// Gives out the marks of `run` sticks and tells those of one.
    fn give(
        &mut self,
        bench: &Bench<'_>,
        takes: &[(usize, u64)],
        run: u64,
    ) -> Vec<(Length, Arc<str>, u32)> {
        let mut pieces = Vec::new();
        for (size, times) in takes {
            let Some(list) = self.by_length.get_mut(&bench.length(*size)) else {
                continue;
            };
            let mut wanted = times.saturating_mul(run);
            while wanted > 0 {
                let Some((length, mark, count)) = list.last_mut() else {
                    break;
                };
                let given = wanted.min(*count);
                let each = given.div_ceil(run.max(1));
                pieces.push((
                    *length,
                    mark.clone(),
                    u32::try_from(each).unwrap_or(u32::MAX),
                ));
                *count = count.saturating_sub(given);
                wanted = wanted.saturating_sub(given);
                if *count == 0 {
                    list.pop();
                }
            }
        }
        pieces
    }
}
