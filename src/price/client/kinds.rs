//! Kinds of bed as a client sees them: what they are, how many, and drawings to scale.

use super::super::Estimate;
use super::super::naming::first_three;
use super::Kind;
use super::beds::{built_of, named};
use crate::drawing::{MM, Room, common_scale, drawings, small_plan};
use crate::model::bed::{Bed, BedId};
use crate::takeoff::{BedKind, TakeOff};

/// Kinds beyond which none is drawn: nobody reads more, and drawings take time.
const MOST_DRAWN: usize = 60;
/// Kinds of which a section is drawn, those with most beds first.
const MOST_SECTIONS: usize = 2;
/// Names that are all said.
const MOST_NAMES: usize = 6;
/// Paper of a small plan in a list.
const SMALL: (i64, i64) = (34 * MM, 24 * MM);
/// Paper of the drawings beside each other on a page.
const ROOM: Room = Room {
    plan: (44 * MM, 36 * MM),
    section: (42 * MM, 36 * MM),
    words: 40 * MM,
    letters: 28,
};

/// Kinds in the order of their names.
pub(super) fn kinds(estimate: &Estimate) -> Vec<Kind> {
    let all: Vec<Shown<'_>> = shown(estimate);
    let job = &estimate.job;
    let is_drawn = all.len() <= MOST_DRAWN;
    let scale = common_scale(job, all.iter().map(|s| s.bed), SMALL).filter(|_| is_drawn);
    let with_section = with_section(&all);
    let kinds = all.iter().enumerate().map(|(place, shown)| {
        let whole = with_section.contains(&place) && is_drawn;
        let whole = whole.then(|| drawings(job, shown.bed, shown.takeoff, &ROOM));
        Kind {
            built: built_of(
                estimate,
                names(estimate, shown.kind),
                shown.kind,
                shown.takeoff,
            ),
            small: scale.and_then(|scale| small_plan(job, shown.bed, shown.takeoff, scale)),
            whole: whole.flatten(),
        }
    });
    kinds.collect()
}

struct Shown<'a> {
    kind: &'a BedKind,
    takeoff: &'a TakeOff,
    bed: &'a Bed,
}

fn shown(estimate: &Estimate) -> Vec<Shown<'_>> {
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    let shown = pairs.filter_map(|(kind, takeoff)| {
        let bed = estimate.job.beds.get(kind.first.index())?;
        Some(Shown { kind, takeoff, bed })
    });
    let mut shown: Vec<Shown<'_>> = shown.collect();
    shown.sort_by(|a, b| crate::model::naming::by_name(&a.bed.name, &b.bed.name));
    shown
}

/// Places of the kinds with most beds, one for each fill.
fn with_section(all: &[Shown<'_>]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..all.len()).collect();
    let count = |place: &usize| all.get(*place).map(|s| s.kind.count);
    order.sort_by(|a, b| count(b).cmp(&count(a)).then(a.cmp(b)));
    let mut chosen: Vec<usize> = Vec::new();
    let fill = |place: &usize| all.get(*place).map(|s| s.bed.fill);
    for place in order {
        let is_new = chosen.iter().all(|known| fill(known) != fill(&place));
        if chosen.len() < MOST_SECTIONS && is_new {
            chosen.push(place);
        }
    }
    chosen
}

/// All names of a kind, or the first three and how many more.
fn names(estimate: &Estimate, kind: &BedKind) -> String {
    let mut rows: Vec<BedId> = kind.beds.clone();
    rows.sort_by(|a, b| crate::model::naming::by_name(named(estimate, *a), named(estimate, *b)));
    let names = rows.iter().map(|id| named(estimate, *id).to_owned());
    if rows.len() <= MOST_NAMES {
        let names: Vec<String> = names.collect();
        return names.join(", ");
    }
    first_three(names)
}
