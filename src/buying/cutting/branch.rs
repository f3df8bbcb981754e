//! Sticks of several kinds: the program is split by how many of each kind are used, cheapest bound
//! first. A cutting that costs no more than every open part is proven.
#![allow(
    clippy::float_arithmetic,
    reason = "shares of patterns only choose where to split"
)]

use std::collections::BTreeSet;

use super::best::Best;
use super::core::{Core, Plan};
use super::dive::{self, Way};
use super::master::{Master, Span};
use super::sums;
use super::work::Work;

/// Parts that are looked at.
const PARTS: u32 = 400;

/// Steps that a small gap is still worth.
const NEAR_STEPS: i64 = 50_000_000;

/// Splits until the best cutting is proven, parts run out or the work is over; a better cutting is
/// offered to `best`. Gives a bound for the whole.
pub(super) fn split(
    core: &Core,
    known: &[Plan],
    bound: i128,
    best: &mut Best<'_>,
    work: &mut Work,
) -> i128 {
    let mut parts = BTreeSet::from([(bound, 0_u32, Span::all(core))]);
    let mut stuck: Option<i128> = None;
    let mut master = Master::new(core, &Span::all(core), true);
    master.add_plans(known);
    let mut number = 0;
    let before = work.left();
    while let Some((least, age, span)) = parts.pop_first() {
        if best.reaches(least) {
            // Every other part costs at least as much.
            return stuck.map_or(least, |stuck| stuck.min(least)).max(bound);
        }
        number += 1;
        let is_enough = best.is_near(least) && before - work.left() > NEAR_STEPS;
        if number > PARTS || work.is_over() || is_enough {
            parts.insert((least, age, span));
            break;
        }
        let mut part = Part {
            master: &mut master,
            span: span.clone(),
            bound: least,
        };
        let Some(spans) = part.open(best, number, work) else {
            parts.insert((least, age, span));
            break;
        };
        match spans {
            Splits::Closed => {}
            Splits::Stuck => stuck = Some(stuck.map_or(part.bound, |s| s.min(part.bound))),
            Splits::Into(spans) => {
                for span in spans {
                    parts.insert((part.bound, number, span));
                }
            }
        }
    }
    let open = parts.first().map(|(least, _, _)| *least);
    let ends = [open, stuck, best.money()].into_iter().flatten().min();
    ends.unwrap_or(bound).max(bound)
}

enum Splits {
    /// Nothing cheaper in it.
    Closed,
    /// Numbers of sticks are settled, and no cutting was found.
    Stuck,
    Into(Vec<Span>),
}

struct Part<'m, 'c> {
    master: &'m mut Master<'c>,
    span: Span,
    bound: i128,
}

impl Part<'_, '_> {
    /// Solves the part and dives in it; `None` when the work is over before its bound is known.
    fn open(&mut self, best: &mut Best<'_>, number: u32, work: &mut Work) -> Option<Splits> {
        self.master.respan(&self.span, work);
        if !self.master.solve_until(best.goal(), work) {
            return None;
        }
        self.bound = self.bound.max(self.master.worth.money());
        if let Some(goal) = best.goal() {
            let core = self.master.core;
            self.bound = sums::next(core, &self.span, self.bound, goal, work);
        }
        if best.reaches(self.bound) {
            return Some(Splits::Closed);
        }
        let used = self.used();
        let all: f64 = used.iter().sum();
        let is_whole = (all - all.round()).abs() < 1e-5;
        let split = (0..used.len())
            .map(|rack| (rack, (used[rack] - used[rack].round()).abs()))
            .filter(|(_, off)| *off > 1e-5)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        let dives = match split {
            Some(_) if number % 4 == 1 => 1,
            Some(_) => 0,
            None => 6,
        };
        for dive in 0..dives {
            let number = if dive == 0 { 0 } else { number * 8 + dive };
            dive::dive(self.master, best, Way { number, turns: 6 }, work);
            if best.reaches(self.bound) {
                return Some(Splits::Closed);
            }
        }
        if !is_whole {
            return Some(Splits::Into(self.around_total(super::number::floor(all))));
        }
        Some(match split {
            Some((rack, _)) => {
                let low = super::number::floor(used[rack]);
                Splits::Into(self.around(rack, low, low + 1))
            }
            None => self.settled(&used),
        })
    }

    /// Sticks used of each rack.
    fn used(&self) -> Vec<f64> {
        let mut used = vec![0.0; self.span.most.len()];
        for share in self.master.shares() {
            used[share.rack] += share.value;
        }
        used
    }

    /// Parts with at most `low` sticks and with more.
    fn around_total(&self, low: i64) -> Vec<Span> {
        let (mut below, mut above) = (self.span.clone(), self.span.clone());
        below.total.1 = below.total.1.min(low);
        above.total.0 = above.total.0.max(low + 1);
        let fits = |span: &Span| span.total.0 <= span.total.1;
        [below, above].into_iter().filter(fits).collect()
    }

    /// Parts with at most `low` and at least `high` sticks of a rack.
    fn around(&self, rack: usize, low: i64, high: i64) -> Vec<Span> {
        let mut below = self.span.clone();
        below.most[rack] = below.most[rack].min(low);
        let mut above = self.span.clone();
        above.least[rack] = above.least[rack].max(high);
        let fits = |span: &Span| span.least[rack] <= span.most[rack];
        [below, above].into_iter().filter(fits).collect()
    }

    /// Parts around whole numbers of sticks for which no cutting was found.
    fn settled(&self, used: &[f64]) -> Splits {
        let free = (0..used.len()).find(|rack| self.span.least[*rack] < self.span.most[*rack]);
        let Some(rack) = free else {
            return Splits::Stuck;
        };
        // Where sticks were lent the shares may lie outside the limits.
        let (least, most) = (self.span.least[rack], self.span.most[rack]);
        let at = super::number::whole(used[rack]).max(least).min(most);
        let mut spans = self.around(rack, at - 1, at + 1);
        let mut here = self.span.clone();
        here.least[rack] = at;
        here.most[rack] = at;
        spans.push(here);
        Splits::Into(spans)
    }
}
