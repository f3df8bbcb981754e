//! Walls that a bed shares with the one beside it.
//!
//! The wall between two beds stands once, with the bed that bears it. The other bed leaves out that stretch of
//! its run, from the corner where the run starts; its fill and its inside are as they would be alone. Posts and
//! corner trims at the ends of the stretch are those of the wall that stands; the sides that meet it are fastened
//! to it, so that the joints there stay, and they stay as long as alone: the crew trims them to the wall. A face
//! that leans in stands upright along the stretch, because fill presses on both sides of it.

use std::cmp::Reverse;

use rust_decimal::Decimal;

use super::bill::Bill;
use super::faces::Faces;
use super::geometry::{Figure, Run};
use crate::model::bed::{Along, Join};
use crate::problem::Problem;
use crate::units::Length;

/// What each run has in common with a neighbour.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Shared {
    runs: Vec<Common>,
}

/// What one run has in common with neighbours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Common {
    /// What it leaves to them, from its start.
    left: Length,
    /// Whether that is all of it.
    whole: bool,
    /// What it bears for them.
    borne: Length,
}

impl Shared {
    /// Finds the runs along which a bed is joined; nothing after a problem was told.
    pub(super) fn of(bill: &mut Bill<'_>, faces: &Faces) -> Self {
        let bed = bill.bed;
        let joins = &bed.joins;
        if joins.is_empty() {
            return Self::default();
        }
        let Some(runs) = faces.outside.runs() else {
            let words = "a wall on a curve cannot be shared with another bed";
            let hint = "leave Joins empty, or give the bed straight sides";
            bill.tell(Problem::error(words).hint(hint), "Joins");
            return Self::default();
        };
        let two_walls = faces.thickness.times(Decimal::TWO);
        match assigned(joins, &runs, two_walls, preferred(bill, &faces.outside)) {
            Ok(runs) => Self { runs },
            Err(length) => {
                let longest = runs.iter().map(|run| run.length).max().unwrap_or_default();
                let words = format!(
                    "a wall of {} is shared, and no side has so much left: the longest is {}",
                    bill.units.length(length),
                    bill.units.length(longest)
                );
                let hint = "write the length along which the two beds stand side by side";
                bill.tell(Problem::error(words).hint(hint), "Joins");
                Self::default()
            }
        }
    }

    fn at(&self, run: usize) -> Common {
        self.runs.get(run).copied().unwrap_or_default()
    }

    /// Whether a run is the neighbour's from end to end.
    pub(super) fn is_whole(&self, run: usize) -> bool {
        self.at(run).whole
    }

    /// How much of a run is the neighbour's, from its start.
    pub(super) fn length(&self, run: usize) -> Length {
        self.at(run).left
    }

    /// All that is left to neighbours.
    pub(super) fn total(&self) -> Length {
        self.runs.iter().map(|run| run.left).sum()
    }

    /// All that is borne for neighbours.
    pub(super) fn borne(&self) -> Length {
        self.runs.iter().map(|run| run.borne).sum()
    }

    /// What is left to neighbours and what is borne for them, along an outline that leans in from that of the
    /// foot: a whole run is as long as it is there, and a part of one loses what the corner moves.
    pub(super) fn leaning(&self, foot: &Figure, outline: &Figure) -> (Length, Length) {
        let (Some(foot), Some(outline)) = (foot.runs(), outline.runs()) else {
            return (Length::ZERO, Length::ZERO);
        };
        let mut sums = (Length::ZERO, Length::ZERO);
        for (run, (low, high)) in self.runs.iter().zip(foot.iter().zip(&outline)) {
            let corner = (low.length - high.length).split(Decimal::TWO);
            let along = |length: Length| match length {
                whole if whole >= low.length.tidy() => high.length,
                part => (part - corner).max(Length::ZERO),
            };
            sums.0 += along(run.left);
            sums.1 += along(run.borne);
        }
        sums
    }

    /// Whether the bed has a post or trim of its own at the corner where a run starts.
    pub(super) fn has_corner(&self, run: usize) -> bool {
        let before = run
            .checked_sub(1)
            .unwrap_or(self.runs.len().saturating_sub(1));
        self.length(run).is_zero() && !self.is_whole(before)
    }

    /// The lengths of runs that are the bed's own, whole ones of the neighbour left out.
    pub(super) fn own_lengths(&self, runs: &[Run]) -> Vec<Length> {
        let own =
            |(i, run): (usize, &Run)| (!self.is_whole(i)).then(|| run.length - self.length(i));
        runs.iter().enumerate().filter_map(own).collect()
    }
}

/// The run that is tried first among those alike: on falling ground the one at the high end, whose wall is the
/// lowest, so that no more is left out than stands there.
fn preferred(bill: &Bill<'_>, figure: &Figure) -> usize {
    match (figure, bill.bed.slope.map(|slope| slope.along)) {
        (Figure::Rectangle { .. }, Some(Along::Length)) => 3,
        _ => 0,
    }
}

/// Gives each join the run that it fits best, the longest joins first; the length that fits nowhere.
///
/// What would remain of a run is nothing when it is no more than the two walls at its ends: the beds are then
/// joined along their insides.
fn assigned(
    joins: &[Join],
    runs: &[Run],
    two_walls: Length,
    preferred: usize,
) -> Result<Vec<Common>, Length> {
    let mut free: Vec<Length> = runs.iter().map(|run| run.length.tidy()).collect();
    let mut common = vec![Common::default(); runs.len()];
    let mut order: Vec<&Join> = joins.iter().collect();
    order.sort_by_key(|join| Reverse(join.length));
    for join in order {
        let length = join.length.tidy();
        let fitting = free.iter().enumerate().filter(|(_, free)| **free >= length);
        let best = fitting.min_by_key(|(i, free)| (**free, *i != preferred, *i));
        let Some((run, room)) = best.map(|(i, free)| (i, *free)) else {
            return Err(join.length);
        };
        let rest = (room - length).tidy();
        let taken = if rest <= two_walls { room } else { length };
        if let Some(free) = free.get_mut(run) {
            *free = *free - taken;
        }
        if let Some(common) = common.get_mut(run) {
            if join.bears {
                common.borne += taken;
            } else {
                common.left += taken;
            }
        }
    }
    for (common, run) in common.iter_mut().zip(runs) {
        common.whole = !common.left.is_zero() && common.left >= run.length.tidy();
    }
    Ok(common)
}

/// Tells the crew which wall serves two beds, and returns it in words for the size of the bed.
pub(super) fn note(bill: &mut Bill<'_>) -> String {
    let mut words = String::new();
    let bed = bill.bed;
    for join in &bed.joins {
        let name = bill
            .job
            .beds
            .get(join.with.index())
            .map_or("?", |bed| &*bed.name);
        let length = bill.units.length(join.length);
        let step = if join.bears {
            format!("the wall of {length} beside {name} serves both beds: build it before {name}")
        } else {
            format!(
                "no wall of {length} beside {name}, whose wall serves both: fasten the sides to it"
            )
        };
        let shared = if words.is_empty() { " shared" } else { "" };
        words = format!("{words}, {length}{shared} with {name}");
        bill.crew_notes.push(step);
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::bed::BedId;
    use crate::takeoff::geometry::Bend;
    use crate::units::by_hand::{feet, inches};

    #[track_caller]
    fn check(joins: &[(&str, bool)], expected: Result<[&str; 4], &str>) {
        let join = |(i, (length, bears)): (usize, &(&str, bool))| Join {
            with: BedId::of(i),
            length: feet(length),
            bears: *bears,
        };
        let joins: Vec<Join> = joins.iter().enumerate().map(join).collect();
        let run = |length: &str| Run {
            length: feet(length),
            start: Bend::SQUARE,
            end: Bend::SQUARE,
        };
        let runs = ["8", "4", "8", "4"].map(run);
        let found = assigned(&joins, &runs, inches("3"), 0);
        let lengths = found.map(|runs| runs.iter().map(|run| run.left).collect::<Vec<_>>());
        let expected = expected.map(|all| all.map(feet).to_vec()).map_err(feet);
        assert_eq!(lengths, expected);
    }

    /// Walls of 8 x 4 ft of which the first run is in common for so long, where the outside has leaned in by 2 in.
    #[track_caller]
    fn check_leaning(shared: Common, left: &str, borne: &str) {
        let rectangle = |length: &str, width: &str| Figure::Rectangle {
            length: inches(length),
            width: inches(width),
        };
        let shared = Shared { runs: vec![shared] };
        let found = shared.leaning(&rectangle("96", "48"), &rectangle("92", "44"));
        assert_eq!(found, (inches(left), inches(borne)));
    }

    #[test]
    fn a_wall_that_leans_in_shares_less_of_its_rim() {
        let length = |inch: &str| Common {
            left: inches(inch),
            ..Common::default()
        };
        // All of it is as long as it is there; a part of it begins at the corner, which has moved by 2 in.
        check_leaning(length("96"), "92", "0");
        check_leaning(length("40"), "38", "0");
        check_leaning(length("0"), "0", "0");
        let borne = Common {
            borne: inches("96"),
            ..Common::default()
        };
        check_leaning(borne, "0", "92");
    }

    #[test]
    fn a_join_takes_the_side_that_it_fits_best() {
        check(&[("8", false)], Ok(["8", "0", "0", "0"]));
        check(&[("4", false)], Ok(["0", "4", "0", "0"]));
        check(&[("3", false)], Ok(["0", "3", "0", "0"]));
        // In the middle of a row: one neighbour on each long side, of which one bears its own wall.
        check(&[("8", true), ("8", false)], Ok(["0", "0", "8", "0"]));
        // 7 ft 10 in is the inside of a side of 8 ft: 2 in are no more than two walls of 1 1/2 in.
        check(&[("7.8333333333", false)], Ok(["8", "0", "0", "0"]));
        check(&[("9", false)], Err("9"));
        check(&[("8", false), ("8", false), ("5", false)], Err("5"));
    }
}
