//! Rules by which walls are built where the job does not give its own.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Notes, exact};
use crate::model::frame::{Corner, Frame, FrameKind};
use crate::units::Length;
use crate::units::show::plain;

pub(super) fn note(notes: &mut Notes) {
    let beds = &notes.job.beds;
    let frames: BTreeMap<&str, &Frame> = beds
        .iter()
        .filter_map(|bed| notes.job.frames.get(bed.frame.index()))
        .map(|frame| (&*frame.name, frame))
        .collect();
    for frame in frames.into_values() {
        match frame.kind {
            FrameKind::Boards => boards(notes, frame),
            FrameKind::ReadyMade => {
                let shown = notes.job.settings.units.value;
                let depth = |l: &Length| exact(shown, *l);
                let used = "inside size";
                notes.of("Wall thickness", &frame.name, &frame.wall, depth, used);
            }
            FrameKind::None => {
                let slope = |run: &Decimal| format!("{} run for 1 rise", plain(*run, 3));
                let used = "volume of the mound";
                notes.of("Side slope", &frame.name, &frame.side_slope, slope, used);
            }
        }
    }
}

fn boards(notes: &mut Notes, frame: &Frame) {
    let shown = notes.job.settings.units.value;
    let name = &*frame.name;
    let corner = |c: &Corner| match c {
        Corner::Butt => "butt".to_owned(),
        Corner::Mitre => "mitre".to_owned(),
        Corner::Lapped => "lapped".to_owned(),
    };
    notes.of("Corner", name, &frame.corner, corner, "boards to cut");
    let length = |l: &Length| shown.length(*l);
    if let Some(posts) = &frame.posts {
        notes.of("Post spacing", name, &posts.spacing, length, "posts");
        let depth = |l: &Length| exact(shown, *l);
        notes.of("Post buried", name, &posts.buried, depth, "posts");
    }
    if let Some(every) = &frame.brace_every {
        notes.of("Brace every", name, every, length, "braces");
    }
    let count = |n: &u32| n.to_string();
    if frame.fastener.is_some() {
        let label = "Fasteners per joint";
        notes.of(label, name, &frame.per_joint, count, "fasteners to buy");
    }
    if frame.finish.is_some() {
        notes.of("Coats", name, &frame.coats, count, "finish to buy");
    }
}
