//! Plans and sections as SVG files, to be put into letters and drawings of others.

use crate::drawing::{MM, Room, drawings as drawn, svg};
use crate::price::Estimate;

use super::file_name::distinct;

/// Paper of a drawing: most of the width of a page.
const ROOM: Room = Room {
    plan: (140 * MM, 140 * MM),
    section: (100 * MM, 80 * MM),
    words: 60 * MM,
    letters: 44,
};

/// A plan and a section for each kind of bed, by file name: `drawing-A1 Herb walk-plan.svg`.
pub fn drawings(estimate: &Estimate) -> Vec<(String, String)> {
    let job = &estimate.job;
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    let beds =
        pairs.filter_map(|(kind, takeoff)| Some((job.beds.get(kind.first.index())?, takeoff)));
    let beds: Vec<_> = beds.collect();
    let files = distinct(beds.iter().map(|(bed, _)| &*bed.name));
    let both = beds.iter().zip(files).filter_map(|((bed, takeoff), file)| {
        let drawn = drawn(job, bed, takeoff, &ROOM)?;
        Some([
            (format!("drawing-{file}-plan.svg"), svg(&drawn.plan)),
            (format!("drawing-{file}-section.svg"), svg(&drawn.section)),
        ])
    });
    both.flatten().collect()
}
