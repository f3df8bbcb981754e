//! Which sums of prices there can be: sticks come in whole numbers and need room for all pieces, so that
//! a bound rises to the next sum that some numbers of sticks make.

use super::core::Core;
use super::master::Span;
use super::work::Work;

/// Numbers of sticks that are looked at before the bound is left as it is.
const LOOKS: i64 = 200_000;

/// The least sum of prices from `least` up to `most` that numbers of sticks within the span make, with
/// room for all pieces; `most` when there is none below it.
pub(super) fn next(core: &Core, span: &Span, least: i128, most: i128, work: &mut Work) -> i128 {
    if least >= most {
        return least;
    }
    let length = |(step, n): (&i64, &i64)| i128::from(*step) * i128::from(*n);
    let mut search = Search {
        kinds: kinds(core, span),
        need: core.steps.iter().zip(&core.counts).map(length).sum(),
        total: span.total,
        least,
        found: most,
        looks: LOOKS.min(work.left() / 8),
    };
    let before = search.looks;
    search.from(0, Used::default());
    work.spend((before - search.looks) * 8);
    if search.looks <= 0 {
        return least;
    }
    search.found
}

/// Sticks of one kind, and what it and the kinds after it can add at most.
struct Kind {
    price: i128,
    room: i128,
    least: i64,
    most: i64,
    /// Of the kinds after it: least and most sticks, least and greatest sum, greatest room.
    rest: Rest,
}

#[derive(Clone, Copy, Default)]
struct Rest {
    sticks: (i64, i64),
    sum: (i128, i128),
    room: i128,
}

#[derive(Clone, Copy, Default)]
struct Used {
    sticks: i64,
    sum: i128,
    room: i128,
}

fn kinds(core: &Core, span: &Span) -> Vec<Kind> {
    let mut rest = Rest::default();
    let mut kinds: Vec<Kind> = Vec::with_capacity(core.racks.len());
    for (rack, (least, most)) in core.racks.iter().zip(span.least.iter().zip(&span.most)) {
        let lone = rack.lone.iter().map(|size| core.steps[*size]);
        let room = i128::from(lone.fold(rack.room, i64::max));
        let (price, most) = (i128::from(rack.price), (*most).max(*least));
        let kind = Kind {
            price,
            room,
            least: *least,
            most,
            rest,
        };
        kinds.push(kind);
        rest.sticks.0 += least;
        rest.sticks.1 = rest.sticks.1.saturating_add(most);
        rest.sum.0 += price * i128::from(*least);
        rest.sum.1 += price * i128::from(most);
        rest.room += room * i128::from(most);
    }
    kinds.reverse();
    kinds
}

struct Search {
    kinds: Vec<Kind>,
    need: i128,
    total: (i64, i64),
    least: i128,
    found: i128,
    looks: i64,
}

impl Search {
    fn from(&mut self, at: usize, used: Used) {
        let Some(kind) = self.kinds.get(at) else {
            let is_in = (self.total.0..=self.total.1).contains(&used.sticks);
            if is_in && used.room >= self.need && used.sum >= self.least {
                self.found = self.found.min(used.sum);
            }
            return;
        };
        let (price, room, rest) = (kind.price, kind.room, kind.rest);
        // The fewest with which everything after can still reach what is needed.
        let short = |lack: i128, each: i128| {
            let times = if each > 0 {
                (lack + each - 1).div_euclid(each)
            } else {
                0
            };
            i64::try_from(times.max(0)).unwrap_or(i64::MAX)
        };
        let from = kind
            .least
            .max(short(self.need - used.room - rest.room, room))
            .max(short(self.least - used.sum - rest.sum.1, price))
            .max((self.total.0 - used.sticks).saturating_sub(rest.sticks.1));
        let to = kind.most.min(self.total.1 - used.sticks - rest.sticks.0);
        for times in from..=to {
            self.looks -= 1;
            let next = Used {
                sticks: used.sticks + times,
                sum: used.sum + price * i128::from(times),
                room: used.room + room * i128::from(times),
            };
            let is_dear = next.sum + rest.sum.0 >= self.found;
            if is_dear || self.looks <= 0 || self.found == self.least {
                return;
            }
            self.from(at + 1, next);
        }
    }
}
