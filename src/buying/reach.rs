//! Pieces that are longer than every stick for sale.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::choose::Want;
use super::desk::Desk;
use super::lumber;
use crate::model::frame::{Frame, PanelWall, Wall};
use crate::model::material::MaterialId;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::takeoff::{BedKind, Kinds, TakeOff};
use crate::units::Length;

/// Leaves out of a want the pieces that no stick yields, and tells of each at its frame's row.
pub(super) fn within_reach(
    desk: &Desk<'_>,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    want: &mut Want,
    problems: &mut Vec<Problem>,
) {
    let Some(longest) = lumber::longest(&want.supplies) else {
        return;
    };
    let supplies = want.supplies.clone();
    let reached = |length: Length| lumber::reaches(desk, &supplies, length);
    let before = want.demand.pieces.len();
    want.demand.pieces.retain(|piece| reached(piece.length));
    if want.demand.pieces.len() == before {
        return;
    }
    let material = want.demand.material;
    if want.demand.pieces.is_empty() {
        // Nothing can be cut from what is for sale, so nothing of it is bought.
        want.supplies.clear();
    }
    let mut worst: BTreeMap<(RowAt, &'static str), (Length, Arc<str>)> = BTreeMap::new();
    for (kind, takeoff) in kinds.kinds.iter().zip(takeoffs) {
        let own = takeoff.pieces.iter().filter(|p| p.material == material);
        for piece in own.filter(|p| !reached(p.length)) {
            if let Some(spot) = spot_of(desk, kind, material) {
                let here = (piece.length, piece.mark.clone());
                let entry = worst.entry(spot).or_insert_with(|| here.clone());
                *entry = here.max(entry.clone());
            }
        }
    }
    for row in &desk.job.pieces {
        if row.material == material && !reached(row.length) {
            let here = (row.length, row.mark.clone());
            worst.entry((row.at, "Length")).or_insert(here);
        }
    }
    for ((row, field), (length, mark)) in worst {
        let sentence = format!(
            "a piece of {} ({mark}) is longer than any stick of {} for sale, of which the longest is {}",
            desk.system.length(length),
            desk.job.material_name(material),
            desk.system.length(longest),
        );
        let problem = Problem::error(sentence).at(row, field);
        problems
            .push(problem.hint("add a longer stick to Prices, or posts on which runs are spliced"));
    }
}

/// The cell that asks for the material: in the frame's row, or the bed's for a frame of the library.
fn spot_of(desk: &Desk<'_>, kind: &BedKind, material: MaterialId) -> Option<(RowAt, &'static str)> {
    let bed = desk.job.beds.get(kind.first.index())?;
    let frame = desk.job.frames.get(bed.frame.index())?;
    match frame.at {
        Some(row) => Some((row, field_of(frame, material))),
        None => Some((bed.at, "Frame")),
    }
}

fn field_of(frame: &Frame, material: MaterialId) -> &'static str {
    let is = |other: Option<MaterialId>| other == Some(material);
    let wall = match &frame.wall {
        Wall::Boards(wall) => wall,
        Wall::Panels(wall) => return panel_field(wall, material),
        Wall::Timbers(wall) if wall.timber != material && is(wall.cap) => return "Cap material",
        _ => return "Material",
    };
    if is(Some(wall.board)) {
        "Material"
    } else if is(wall.posts.as_ref().map(|posts| posts.material)) {
        "Post material"
    } else if is(wall.cap) {
        "Cap material"
    } else if is(wall.braces.as_ref().map(|braces| braces.material)) {
        "Brace material"
    } else {
        "Material"
    }
}

fn panel_field(wall: &PanelWall, material: MaterialId) -> &'static str {
    let is = |other: Option<MaterialId>| other == Some(material);
    if is(wall.rails.as_ref().map(|rails| rails.material)) {
        "Rail material"
    } else if is(wall.posts.as_ref().map(|posts| posts.material)) {
        "Post material"
    } else if is(wall.corner_trim) {
        "Corner trim"
    } else if is(wall.cap) {
        "Cap material"
    } else {
        "Brace material"
    }
}
