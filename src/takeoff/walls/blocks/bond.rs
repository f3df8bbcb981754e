//! Running bond: how whole blocks, halves and cut ones make up the courses of a wall.
//!
//! At a square corner one run passes and the other butts against it, the other way round in the next course;
//! that gives the bond. Which run passes where is chosen for each corner so that the fewest blocks are
//! cut, then so that the fewest halves are needed. At any other corner both end blocks are cut at half the
//! angle, and every second course starts with a half.

use rust_decimal::Decimal;

use crate::model::block::BlockSize;
use crate::model::frame::{BlockWall, Laid};
use crate::takeoff::geometry::{Bend, Run};
use crate::takeoff::shared::Shared;
use crate::units::{Length, round};

/// Less than this is the dust of unit conversion.
const DUST: Length = Length::metres(Decimal::from_parts(1, 0, 0, false, 9));

/// What a course takes, or many together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Course {
    /// Whole blocks.
    pub(super) whole: u32,
    /// Halves.
    pub(super) half: u32,
    /// Pieces that are cut to length or to an angle, each out of a block of its own.
    pub(super) cut: u32,
    /// Cuts through these pieces.
    pub(super) saw: u32,
}

impl Course {
    /// How many units are laid.
    pub(super) fn units(self) -> u32 {
        self.whole
            .saturating_add(self.half)
            .saturating_add(self.cut)
    }

    /// Whole blocks that it amounts to: cut pieces count whole.
    pub(super) fn bulk(self) -> Decimal {
        let halves = Decimal::from(self.half).checked_div(Decimal::TWO);
        Decimal::from(self.whole.saturating_add(self.cut))
            .saturating_add(halves.unwrap_or_default())
    }

    /// Whole blocks that it is cut from when nobody sells halves, and the cuts for that.
    pub(super) fn without_halves(self) -> Self {
        let split = self.half.div_ceil(2);
        Self {
            whole: self.whole.saturating_add(split),
            half: 0,
            cut: self.cut,
            saw: self.saw.saturating_add(split),
        }
    }

    pub(super) fn times(self, n: u32) -> Self {
        Self {
            whole: self.whole.saturating_mul(n),
            half: self.half.saturating_mul(n),
            cut: self.cut.saturating_mul(n),
            saw: self.saw.saturating_mul(n),
        }
    }

    pub(super) fn and(self, other: Self) -> Self {
        Self {
            whole: self.whole.saturating_add(other.whole),
            half: self.half.saturating_add(other.half),
            cut: self.cut.saturating_add(other.cut),
            saw: self.saw.saturating_add(other.saw),
        }
    }
}

impl std::iter::Sum for Course {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::default(), Self::and)
    }
}

/// A block as it is laid.
#[derive(Clone, Copy, Debug)]
pub(super) struct Unit {
    /// Along the wall.
    pub(super) length: Length,
    half: Length,
    /// Through the wall.
    pub(super) depth: Length,
    /// The joint at its end; zero when it is laid dry.
    pub(super) joint: Length,
    play: Length,
}

/// How a run meets a corner in one course.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Passes,
    Butts,
    Mitred,
}

impl Unit {
    /// The blocks of a wall.
    pub(super) fn of(size: &BlockSize, wall: &BlockWall) -> Self {
        Self::flat(size, size.depth, wall)
    }

    /// As [`Unit::of`], for a unit that lies so deep on the rim.
    pub(super) fn flat(size: &BlockSize, depth: Length, wall: &BlockWall) -> Self {
        Self {
            length: size.length,
            half: size.half_length(),
            depth,
            joint: match wall.laid.value {
                Laid::Dry => Length::ZERO,
                Laid::Mortared => size.joint,
            },
            play: wall.limits.play.value,
        }
    }

    /// A block and its joint.
    pub(super) fn module(&self) -> Length {
        self.length + self.joint
    }

    /// Outside lengths of a run between corners that it passes which come out in whole blocks and at most
    /// one half, nearest first: the one below and the two above.
    pub(super) fn near(&self, length: Length) -> Vec<Length> {
        let whole = round::step_down((length + self.joint).ratio(self.module()), Decimal::ONE);
        let with_half = self.half + self.joint;
        let mut all = Vec::new();
        for blocks in [whole, whole.saturating_add(Decimal::ONE)] {
            let run = self.module().times(blocks) - self.joint;
            all.extend(
                [run, run + with_half]
                    .into_iter()
                    .filter(|l| *l > self.length),
            );
        }
        all.sort_by_key(|l| (*l - length).in_metres().abs());
        all.truncate(3);
        all
    }

    /// What a run takes that must fill `room`, its joints included: `blocks x (length + joint)`. It butts
    /// against other blocks at so many of its ends.
    pub(super) fn fit(&self, room: Length, butts: u32) -> Option<Course> {
        let module = self.module();
        let blocks = round::step_down((room + DUST).ratio(module), Decimal::ONE);
        let n = u32::try_from(blocks).ok()?;
        let comes_out = |whole: u32, half: u32| {
            let pieces = whole.saturating_add(half);
            let filled = module.times(Decimal::from(whole))
                + (self.half + self.joint).times(Decimal::from(half));
            let joints = pieces.saturating_add(butts).saturating_sub(1);
            let (over, play) = (room - filled, self.play.times(Decimal::from(joints)));
            // A joint of mortar can also be thinner than it should; blocks that touch cannot come closer.
            let under = if self.joint.is_zero() { DUST } else { play };
            pieces > 0 && over + under >= Length::ZERO && over <= play + DUST
        };
        let exact = [(n, 0), (n, 1), (n.saturating_add(1), 0)];
        if let Some((whole, half)) = exact.into_iter().find(|(w, h)| comes_out(*w, *h)) {
            let (cut, saw) = (0, 0);
            return Some(Course {
                whole,
                half,
                cut,
                saw,
            });
        }
        let left = room - module.times(blocks) - self.joint;
        // A sliver is never laid: the last two pieces share what is left.
        let is_sliver = left.times(Decimal::from(4)) < self.length;
        let (whole, cut) = match n {
            0 if left <= Length::ZERO => return None,
            _ if is_sliver && n > 0 => (n.saturating_sub(1), 2),
            _ => (n, 1),
        };
        Some(Course {
            whole,
            half: 0,
            cut,
            saw: cut,
        })
    }

    /// How many pieces fill `room` when what is left over goes into a piece that is cut anyway.
    fn pieces(&self, room: Length) -> u32 {
        let full = round::step_down((room + DUST).ratio(self.module()), Decimal::ONE);
        let over = room - self.module().times(full);
        let more = over > self.play.times(full) + DUST;
        let count = u32::try_from(full).unwrap_or(u32::MAX);
        count.saturating_add(u32::from(more)).max(1)
    }

    /// What a run takes that is cut at an angle at `ends` of its ends.
    fn mitred(&self, room: Length, ends: u32, is_second: bool) -> Option<Course> {
        if room <= self.joint {
            return None;
        }
        let after_half = room - self.half - self.joint;
        let pieces = if is_second && ends == 2 && after_half > self.joint {
            self.pieces(after_half).saturating_add(1)
        } else {
            self.pieces(room)
        };
        let cut = ends.min(pieces);
        Some(Course {
            whole: pieces.saturating_sub(cut),
            half: 0,
            cut,
            saw: ends,
        })
    }

    /// What a run takes in one course.
    fn course(&self, run: &Run, (start, end): (End, End), is_second: bool) -> Option<Course> {
        let more = self.reach(run.start, start) + self.reach(run.end, end);
        let room = run.length + self.joint + more;
        let count =
            |wanted: End| u32::from(start == wanted).saturating_add(u32::from(end == wanted));
        match count(End::Mitred) {
            0 => self.fit(room, count(End::Butts)),
            ends => self.mitred(room, ends, is_second),
        }
    }

    /// How far a run reaches beyond the corner of the outside face; negative when it stops short.
    fn reach(&self, bend: Bend, end: End) -> Length {
        let none = Length::ZERO;
        match (end, bend.inner) {
            (End::Passes | End::Mitred, false) => none,
            (End::Passes, true) => self.depth,
            (End::Mitred, true) => self.depth.times(bend.mitre),
            (End::Butts, false) => none - self.depth - self.joint,
            (End::Butts, true) => none - self.joint,
        }
    }
}

/// Whether two runs meet at a right angle, so that their blocks can overlap.
pub(super) fn is_square(bend: Bend) -> bool {
    bend.mitre.round_dp(9) == Decimal::ONE
}

/// The courses of all runs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Bond {
    /// Each run in the first course and every second one after it.
    pub(super) first: Vec<Course>,
    /// Each run in the courses between.
    pub(super) second: Vec<Course>,
}

impl Bond {
    /// All runs in so many courses.
    pub(super) fn over(&self, courses: u32) -> Course {
        let first: Course = self.first.iter().copied().sum();
        let second: Course = self.second.iter().copied().sum();
        first
            .times(courses.div_ceil(2))
            .and(second.times(courses / 2))
    }
}

impl Bond {
    /// The bond without the whole blocks of walls that a neighbour bears.
    pub(super) fn without(mut self, shared: &Shared, unit: &Unit) -> Self {
        for course in [&mut self.first, &mut self.second] {
            for (i, run) in course.iter_mut().enumerate() {
                if shared.is_whole(i) {
                    *run = Course::default();
                    continue;
                }
                let left = shared.length(i).ratio(unit.module()).floor();
                let left = u32::try_from(left).unwrap_or(u32::MAX);
                run.whole = run.whole.saturating_sub(left);
            }
        }
        self
    }
}

/// The bond with the fewest cuts, then the fewest halves; `None` when a run is too short for any block.
pub(super) fn bond(unit: &Unit, runs: &[Run], courses: u32) -> Option<Bond> {
    let laid = |run: &Run, starts: bool, next_starts: bool, is_second: bool| {
        let end = |bend: Bend, passes: bool| match (is_square(bend), passes != is_second) {
            (false, _) => End::Mitred,
            (true, true) => End::Passes,
            (true, false) => End::Butts,
        };
        unit.course(
            run,
            (end(run.start, starts), end(run.end, !next_starts)),
            is_second,
        )
    };
    let cost = |i: usize, starts: bool, next: bool| {
        let run = runs.get(i)?;
        let weigh = |course: Course, n: u32| {
            let worth = u64::from(course.cut)
                .saturating_mul(1_000_000)
                .saturating_add(u64::from(course.half));
            worth.saturating_mul(u64::from(n))
        };
        let first = weigh(laid(run, starts, next, false)?, courses.div_ceil(2));
        let second = weigh(laid(run, starts, next, true)?, courses / 2);
        Some(first.saturating_add(second))
    };
    let corners = cheapest(runs.len(), cost)?;
    let nexts = corners.iter().skip(1);
    let mut found = Bond::default();
    for ((run, starts), next) in runs.iter().zip(&corners).zip(nexts) {
        found.first.push(laid(run, *starts, *next, false)?);
        found.second.push(laid(run, *starts, *next, true)?);
    }
    Some(found)
}

type Path = Option<(u64, Vec<bool>)>;

/// For each corner, and the first one again at the end, whether the run that starts there passes in the
/// first course: the choice of least cost all round.
fn cheapest(runs: usize, cost: impl Fn(usize, bool, bool) -> Option<u64>) -> Option<Vec<bool>> {
    let mut best: Path = None;
    for first in [true, false] {
        let start = |state: bool| (state == first).then(|| (0, vec![first]));
        let (mut yes, mut no): (Path, Path) = (start(true), start(false));
        for run in 0..runs {
            let onward = |path: &Path, starts: bool, next: bool| {
                let (sum, corners) = path.as_ref()?;
                let sum = sum.saturating_add(cost(run, starts, next)?);
                let mut corners = corners.clone();
                corners.push(next);
                Some((sum, corners))
            };
            let step = |next: bool| {
                let ways = [onward(&yes, true, next), onward(&no, false, next)];
                ways.into_iter().flatten().min_by_key(|(sum, _)| *sum)
            };
            (yes, no) = (step(true), step(false));
        }
        let closed = if first { yes } else { no };
        let both = [best, closed].into_iter().flatten();
        best = both.min_by_key(|(sum, _)| *sum);
    }
    best.map(|(_, corners)| corners)
}

#[cfg(test)]
#[path = "bond_tests.rs"]
mod tests;
