//! `Joins` of Beds: which wall two beds have in common, as `B2 8 ft; B3 4 ft`.
//!
//! One of the two beds may say it, or both alike. Read when all beds are known. The higher wall is the one that
//! stands, among equals that on the steeper ground, whose low side is higher, and then that of the first by name. A bed whose neighbour is left out builds its
//! own wall.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::reading::Reading;
use super::resolve::Found;
use crate::model::bed::{Bed, BedId, Join};
use crate::model::frame::{Frame, FrameKind};
use crate::model::library::folded;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::units::Length;
use crate::units::parse::{self, Context};

/// The cell that says it.
const FIELD: &str = "Joins";

/// A cell of a bed that was read.
pub(super) struct Said {
    at: RowAt,
    bed: usize,
    typed: Arc<str>,
    context: Context,
}

/// Keeps the cell until all beds are known.
pub(super) fn of_row(reading: &Reading<'_, '_>, bed: usize) -> Option<Said> {
    Some(Said {
        at: reading.at(),
        bed,
        typed: reading.text(FIELD)?,
        context: reading.row.context(FIELD),
    })
}

/// A wrong cell in words, and what to write instead.
type Wrong = (String, &'static str);

/// Gives the beds their joins, or the problems of the cells that say them; `gone` are beds that were left out.
pub(super) fn settle(draft: &mut Draft<'_>, gone: &[String]) {
    let said = std::mem::take(&mut draft.joins);
    let mut pairs: BTreeMap<(usize, usize), (Length, RowAt)> = BTreeMap::new();
    for cell in &said {
        for part in cell.typed.split([';', '\n', '+']).map(str::trim) {
            if part.is_empty() {
                continue;
            }
            let found = match named(draft, gone, cell, part) {
                Ok(Some((other, length))) => {
                    let pair = (cell.bed.min(other), cell.bed.max(other));
                    paired(draft, &mut pairs, pair, (length, cell.at))
                }
                Ok(None) => Ok(()),
                Err(wrong) => Err(wrong),
            };
            tell(draft, cell.at, found);
        }
    }
    for ((one, other), (length, at)) in pairs {
        match bearer(draft, one, other) {
            Ok(first) => {
                let last = if first == one { other } else { one };
                join(draft, (first, last), length, true);
                join(draft, (last, first), length, false);
            }
            Err(wrong) => tell(draft, at, Err(wrong)),
        }
    }
    let names: Vec<Arc<str>> = draft.beds.iter().map(|bed| Arc::clone(&bed.name)).collect();
    for bed in &mut draft.beds {
        bed.joins.sort_by_key(|join| names.get(join.with.index()));
    }
}

fn join(draft: &mut Draft<'_>, (bed, with): (usize, usize), length: Length, bears: bool) {
    let with = BedId::of(with);
    if let Some(bed) = draft.beds.get_mut(bed) {
        bed.joins.push(Join {
            with,
            length,
            bears,
        });
    }
}

fn tell(draft: &mut Draft<'_>, at: RowAt, found: Result<(), Wrong>) {
    if let Err((sentence, hint)) = found {
        let problem = Problem::error(sentence).at(at, FIELD).hint(hint);
        draft.problems.push(problem);
    }
}

/// The bed and the length of `B2 8 ft`; nothing for a bed whose own row has been reported.
fn named(
    draft: &Draft<'_>,
    gone: &[String],
    cell: &Said,
    part: &str,
) -> Result<Option<(usize, Length)>, Wrong> {
    const HINT: &str = "write the bed beside it and the length of the wall, as B2 8 ft";
    let spaces = part.char_indices().filter(|(_, c)| c.is_whitespace());
    let mut ways: Vec<(&str, Length)> = Vec::new();
    for (place, _) in spaces {
        let (name, length) = part.split_at(place);
        let name = name.trim().trim_end_matches([':', ',', '=', '(', ' ']);
        let length = length.trim().trim_matches(['(', ')']);
        if let Ok(length) = parse::length(length, &cell.context) {
            ways.push((name, length));
        }
    }
    let is_gone = |name: &str| gone.iter().any(|bed| folded(bed) == folded(name));
    // A name may end in a number, as in `Bed 2 8 ft`: the longest that is a bed.
    let is_bed = |(name, _): &&(&str, Length)| draft.bed_names.has(name) || is_gone(name);
    let known = ways.iter().rev().find(is_bed);
    let Some((name, length)) = known.or(ways.first()).copied() else {
        if draft.bed_names.has(part) {
            return Err((
                format!("Joins names {part} without the length of the wall"),
                HINT,
            ));
        }
        return Err(("Joins needs a bed and a length".to_owned(), HINT));
    };
    if length <= Length::ZERO {
        return Err(("Joins needs a length above 0".to_owned(), HINT));
    }
    match draft.bed_names.find(name) {
        Found::Is(place) if place == cell.bed => {
            Err(("Joins names the bed itself".to_owned(), HINT))
        }
        Found::Is(place) => Ok(Some((place, length))),
        Found::Broken => Ok(None),
        Found::Unknown if is_gone(name) => Ok(None),
        Found::Unknown => {
            let near = crate::read::names::did_you_mean(name, draft.bed_names.all());
            let near = near.map_or_else(String::new, |near| format!("; did you mean \"{near}\"?"));
            Err((
                format!("Joins names {name}, which is not among Beds{near}"),
                HINT,
            ))
        }
    }
}

/// Notes a pair; both beds may say the same.
fn paired(
    draft: &Draft<'_>,
    pairs: &mut BTreeMap<(usize, usize), (Length, RowAt)>,
    pair: (usize, usize),
    (length, at): (Length, RowAt),
) -> Result<(), Wrong> {
    let Some((before, there)) = pairs.get(&pair).copied() else {
        pairs.insert(pair, (length, at));
        return Ok(());
    };
    if there == at {
        let hint = "add the lengths up: two beds share one wall";
        return Err(("Joins names the same bed twice".to_owned(), hint));
    }
    if before.tidy() != length.tidy() {
        let shown = |length| draft.system.length(length);
        let sentence = format!(
            "Joins says that {} are shared, and the other bed says {}",
            shown(length),
            shown(before)
        );
        return Err((
            sentence,
            "write the same length in both, or in one of them only",
        ));
    }
    Ok(())
}

/// The bed with which the wall is counted.
fn bearer(draft: &Draft<'_>, one: usize, other: usize) -> Result<usize, Wrong> {
    let (Some(a), Some(b)) = (draft.beds.get(one), draft.beds.get(other)) else {
        return Ok(one);
    };
    if let Some((what, hint)) = apart(draft, a, b) {
        return Err((
            format!("Joins is between {} and {}, {what}", a.name, b.name),
            hint,
        ));
    }
    let Some(higher) = height_order(a, b) else {
        let sentence = format!(
            "Joins: it is not known which of {} and {} is higher",
            a.name, b.name
        );
        return Err((sentence, "give both beds Height, or both Courses"));
    };
    let fall = |bed: &Bed| bed.slope.map_or(Decimal::ZERO, |slope| slope.fall);
    let higher = higher.then_with(|| fall(a).cmp(&fall(b)));
    let first = higher.reverse().then_with(|| a.name.cmp(&b.name));
    Ok(if first.is_le() { one } else { other })
}

/// Why two beds cannot have a wall in common, and what to write instead.
fn apart(draft: &Draft<'_>, a: &Bed, b: &Bed) -> Option<(String, &'static str)> {
    if let Some(many) = [a, b].into_iter().find(|bed| bed.count > 1) {
        let hint = "give each bed that shares a wall a row of its own";
        return Some((format!("and {} stands for {}", many.name, many.count), hint));
    }
    let differs = [
        (
            a.site != b.site,
            "which stand on two sites",
            "beds that share a wall stand on one site",
        ),
        (
            a.phase != b.phase,
            "which are built in two phases",
            "build beds that share a wall in one phase",
        ),
        (
            a.frame != b.frame,
            "which have two frames",
            "give both beds one frame, or leave Joins empty",
        ),
    ];
    if let Some((_, what, hint)) = differs.into_iter().find(|(differ, ..)| *differ) {
        return Some((what.to_owned(), hint));
    }
    let kind = draft.frames.get(a.frame.index()).map(Frame::kind)?;
    let hint = "leave Joins empty: only walls that are built can be shared";
    matches!(kind, FrameKind::ReadyMade | FrameKind::None).then(|| {
        let what = format!("and a frame of kind {} has no wall to share", kind.word());
        (what, hint)
    })
}

/// How high one bed is against another; courses count before a height, as they do when walls are built.
fn height_order(a: &Bed, b: &Bed) -> Option<std::cmp::Ordering> {
    match (a.courses.zip(b.courses), a.height.zip(b.height)) {
        (Some((a, b)), _) => Some(a.cmp(&b)),
        (None, Some((x, y))) if a.courses.is_none() && b.courses.is_none() => Some(x.cmp(&y)),
        _ => None,
    }
}
