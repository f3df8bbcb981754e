//! Simple fillings: first fit and best fit, longest piece first, and sticks filled one after another
//! as full as they go. Alike sticks are handled together, so that counts do not matter for the time.

use super::core::{Core, Plan};
use super::work::Work;

/// What is still to be cut, and which sticks are left.
#[derive(Clone, Debug)]
pub(super) struct Left {
    /// Pieces of each size.
    pub(super) counts: Vec<i64>,
    /// Sticks of each rack.
    pub(super) sticks: Vec<i64>,
}

impl Left {
    pub(super) fn all(core: &Core) -> Self {
        Self {
            counts: core.counts.clone(),
            sticks: core.racks.iter().map(|rack| rack.most).collect(),
        }
    }
}

/// Into which open stick a piece goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fit {
    First,
    Best,
}

/// Every simple filling of what is left, with each kind of stick as the favourite one.
pub(super) fn fillings(core: &Core, left: &Left, work: &mut Work) -> Vec<Vec<Plan>> {
    let favourites = std::iter::once(None).chain((0..core.racks.len()).map(Some));
    let mut out = Vec::new();
    for favourite in favourites {
        out.extend(fitted(core, left, Fit::First, favourite, work));
        out.extend(fitted(core, left, Fit::Best, favourite, work));
        out.extend(filled(core, left, favourite, work));
    }
    out
}

/// First and best fit only, for what is left inside a dive.
pub(super) fn quick(core: &Core, left: &Left, work: &mut Work) -> Vec<Vec<Plan>> {
    let mut out = Vec::new();
    out.extend(fitted(core, left, Fit::Best, None, work));
    out.extend(filled(core, left, None, work));
    out
}

/// An open group of sticks that are filled alike.
#[derive(Clone, Debug)]
struct Open {
    plan: Plan,
    rest: i64,
}

fn fitted(
    core: &Core,
    left: &Left,
    fit: Fit,
    favourite: Option<usize>,
    work: &mut Work,
) -> Option<Vec<Plan>> {
    let mut open: Vec<Open> = Vec::new();
    let mut sticks = left.sticks.clone();
    for (size, count) in left.counts.iter().copied().enumerate() {
        let mut count = count;
        while count > 0 {
            work.spend(i64::try_from(open.len()).unwrap_or(0) + 1);
            match chosen(&open, core.steps[size], fit) {
                Some(at) => count -= put(&mut open, at, size, core.steps[size], count),
                None => open.push(opened(core, &mut sticks, size, &mut count, favourite)?),
            }
        }
    }
    Some(open.into_iter().map(|open| open.plan).collect())
}

fn chosen(open: &[Open], step: i64, fit: Fit) -> Option<usize> {
    let mut fitting = (0..open.len()).filter(|at| open[*at].rest >= step);
    match fit {
        Fit::First => fitting.next(),
        Fit::Best => fitting.min_by_key(|at| (open[*at].rest, *at)),
    }
}

/// Fills a group with as many pieces as go in; what is not touched becomes a group of its own.
fn put(open: &mut Vec<Open>, at: usize, size: usize, step: i64, count: i64) -> i64 {
    let each = open[at].rest / step;
    let times = open[at].plan.times;
    let full = (count / each).min(times);
    let (each, filled) = if full > 0 { (each, full) } else { (count, 1) };
    if filled < times {
        let mut untouched = open[at].clone();
        untouched.plan.times = times - filled;
        open.insert(at + 1, untouched);
    }
    let group = &mut open[at];
    group.plan.times = filled;
    group.plan.takes.push((size, each));
    group.rest -= each * step;
    filled * each
}

/// New sticks for pieces of a size: as many as it takes when each is filled with that size.
fn opened(
    core: &Core,
    sticks: &mut [i64],
    size: usize,
    count: &mut i64,
    favourite: Option<usize>,
) -> Option<Open> {
    let step = core.steps[size];
    let fitting = |rack: &usize| sticks[*rack] > 0 && core.yields(*rack, size);
    let racks: Vec<usize> = (0..core.racks.len()).filter(fitting).collect();
    let rack = match favourite.filter(|rack| racks.contains(rack)) {
        Some(rack) => rack,
        // The least price for the length that pieces of this size use of it.
        None => racks.into_iter().min_by(|a, b| {
            let worth = |rack: usize| {
                let each = (core.racks[rack].room / step).clamp(1, *count);
                (core.racks[rack].price, each)
            };
            let ((price, each), (other, others)) = (worth(*a), worth(*b));
            let (left, right) = (
                i128::from(price) * i128::from(others),
                i128::from(other) * i128::from(each),
            );
            left.cmp(&right).then(price.cmp(&other)).then(a.cmp(b))
        })?,
    };
    let room = core.racks[rack].room;
    let each = (room / step).clamp(1, *count);
    let times = (*count / each).min(sticks[rack]);
    sticks[rack] -= times;
    *count -= each * times;
    Some(Open {
        plan: Plan {
            rack,
            takes: vec![(size, each)],
            times,
        },
        rest: (room - each * step).max(0),
    })
}

/// Sticks one after another, each around the longest piece left and as full as can be found.
fn filled(
    core: &Core,
    left: &Left,
    favourite: Option<usize>,
    work: &mut Work,
) -> Option<Vec<Plan>> {
    let mut left = left.clone();
    let mut plans = Vec::new();
    while let Some(longest) = left.counts.iter().position(|count| *count > 0) {
        let (rack, takes) = next_stick(core, &left, longest, favourite, work)?;
        let by_pieces = takes.iter().map(|(size, each)| left.counts[*size] / each);
        let times = by_pieces.min()?.min(left.sticks[rack]);
        for (size, each) in &takes {
            left.counts[*size] -= each * times;
        }
        left.sticks[rack] -= times;
        plans.push(Plan { rack, takes, times });
    }
    Some(plans)
}

/// A rack and what comes out of one stick of it.
type Filled = (usize, Vec<(usize, i64)>);

fn next_stick(
    core: &Core,
    left: &Left,
    longest: usize,
    favourite: Option<usize>,
    work: &mut Work,
) -> Option<Filled> {
    let fitting = |rack: &usize| left.sticks[*rack] > 0 && core.yields(*rack, longest);
    let mut racks: Vec<usize> = (0..core.racks.len()).filter(fitting).collect();
    if let Some(rack) = favourite.filter(|rack| racks.contains(rack)) {
        racks = vec![rack];
    }
    let mut best: Option<(i128, i128, Filled)> = None;
    for rack in racks {
        let takes = fullest(core, left, rack, longest, work);
        let length: i64 = takes.iter().map(|(size, n)| core.steps[*size] * n).sum();
        let (price, used) = (
            i128::from(core.racks[rack].price),
            i128::from(length.max(1)),
        );
        let cheaper = |(other, length, _): &(i128, i128, Filled)| price * length < other * used;
        if best.as_ref().is_none_or(cheaper) {
            best = Some((price, used, (rack, takes)));
        }
    }
    best.map(|(_, _, filled)| filled)
}

/// A look for the filling that leaves least.
struct Look<'a> {
    core: &'a Core,
    counts: &'a [i64],
    looks: u32,
    least: i64,
    best: Vec<(usize, i64)>,
    taken: Vec<(usize, i64)>,
}

fn fullest(
    core: &Core,
    left: &Left,
    rack: usize,
    longest: usize,
    work: &mut Work,
) -> Vec<(usize, i64)> {
    let step = core.steps[longest];
    let room = core.racks[rack].room;
    if step > room {
        return vec![(longest, 1)];
    }
    let looks = u32::try_from(400_000 / core.sizes().max(1))
        .unwrap_or(0)
        .clamp(60, 2_000);
    let mut look = Look {
        core,
        counts: &left.counts,
        looks,
        least: i64::MAX,
        best: vec![(longest, 1)],
        taken: Vec::new(),
    };
    for times in (1..=(room / step).min(left.counts[longest])).rev() {
        look.taken = vec![(longest, times)];
        look.fill(longest + 1, room - step * times);
    }
    work.spend(i64::from(looks - look.looks) * 8);
    look.best
}

impl Look<'_> {
    fn fill(&mut self, from: usize, room: i64) {
        if room < self.least {
            self.least = room;
            self.best.clone_from(&self.taken);
        }
        // Sizes stand longest first: those that are too long are passed over by halving.
        let first = from + self.core.steps[from..].partition_point(|step| *step > room);
        for size in first..self.counts.len() {
            let step = self.core.steps[size];
            for times in (1..=(room / step).min(self.counts[size])).rev() {
                if self.looks == 0 || self.least == 0 {
                    return;
                }
                self.looks -= 1;
                self.taken.push((size, times));
                self.fill(size + 1, room - step * times);
                self.taken.pop();
            }
        }
    }
}
