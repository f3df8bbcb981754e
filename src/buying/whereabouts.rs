//! Where the pieces of a cut list go: bed, side and courses, so that whoever saws can mark each piece.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{CutList, CutPiece};
use crate::model::bed::BedId;
use crate::model::job::Job;
use crate::model::material::MaterialId;
use crate::takeoff::{Kinds, Piece, TakeOff};

/// Gives each list its pieces, by bed name, longest first.
pub(super) fn tell(job: &Job, kinds: &Kinds, takeoffs: &[TakeOff], lists: &mut [CutList]) {
    let mut all: BTreeMap<MaterialId, Vec<CutPiece>> = BTreeMap::new();
    for (index, (bed, kind)) in job.beds.iter().zip(&kinds.of_bed).enumerate() {
        let Some(takeoff) = takeoffs.get(kind.index()) else {
            continue;
        };
        for piece in &takeoff.pieces {
            let row = all.entry(piece.material).or_default();
            row.extend(of_piece(piece, (BedId::of(index), bed.count)));
        }
    }
    for list in lists {
        let mut pieces = all.remove(&list.material).unwrap_or_default();
        let name = |piece: &CutPiece| job.beds.get(piece.bed.index()).map(|b| Arc::clone(&b.name));
        pieces.sort_by(|a, b| {
            let by_bed = name(a).cmp(&name(b));
            let by_length = || b.length.cmp(&a.length);
            by_bed
                .then_with(by_length)
                .then_with(|| (&a.mark, a.side, &a.courses).cmp(&(&b.mark, b.side, &b.courses)))
        });
        list.pieces = pieces;
    }
}

/// One entry a side, and one for the pieces that have none.
fn of_piece(piece: &Piece, (bed, beds): (BedId, u32)) -> Vec<CutPiece> {
    let mut sides: BTreeMap<u16, (Vec<u16>, u32)> = BTreeMap::new();
    let mut rest = piece.count;
    for place in &piece.places {
        let (courses, count) = sides.entry(place.side).or_default();
        courses.extend(place.course);
        *count = count.saturating_add(place.count);
        rest = rest.saturating_sub(place.count);
    }
    let entry = |side, courses, count| CutPiece {
        length: piece.length,
        mark: Arc::clone(&piece.mark),
        bed,
        beds,
        side,
        courses,
        count,
    };
    let mut entries: Vec<CutPiece> = sides
        .into_iter()
        .map(|(side, (mut courses, count))| {
            courses.sort_unstable();
            courses.dedup();
            entry(Some(side), courses, count)
        })
        .collect();
    if rest > 0 {
        entries.push(entry(None, Vec::new(), rest));
    }
    entries
}
