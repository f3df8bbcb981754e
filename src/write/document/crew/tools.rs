//! What a crew has to bring, from what it will do.

use crate::model::frame::{Frame, FrameKind, Wall};
use crate::model::material::Category;
use crate::price::Estimate;
use crate::takeoff::{Part, TakeOff};

/// Tools in the order in which they are packed.
pub(super) fn tools(estimate: &Estimate) -> Vec<String> {
    let takeoffs = &estimate.takeoffs;
    let any = |is: &dyn Fn(&TakeOff) -> bool| takeoffs.iter().any(is);
    let needs = |part: Part| any(&|t: &TakeOff| t.needs.iter().any(|n| n.part == part));
    let layers =
        |is: fn(Category) -> bool| any(&|t: &TakeOff| t.layers.iter().any(|l| is(l.category)));
    let frames: Vec<FrameKind> = estimate.job.frames.iter().map(Frame::kind).collect();
    let used = |kind: FrameKind| frames.contains(&kind);
    let masonry = used(FrameKind::Blocks) || used(FrameKind::Stone);
    let dust = masonry || needs(Part::Block) || needs(Part::Stone);
    let digs = any(&|t: &TakeOff| !t.ground_area.is_zero()) || posts_are_buried(estimate);
    let all = [
        (
            true,
            "gloves, eye protection, first-aid kit, drinking water",
        ),
        (true, "tape, marking pencil, string line, level"),
        (
            any(&|t: &TakeOff| !t.pieces.is_empty()),
            "saw, square, ear protection",
        ),
        (
            any(&|t: &TakeOff| !t.sheet_pieces.is_empty()),
            "snips or a metal-cutting saw, cut-proof gloves",
        ),
        (needs(Part::Fastener), "driver, bits and drill bits"),
        (
            dust,
            "block splitter or wet saw, respirator for silica dust, rubber mallet",
        ),
        (needs(Part::Mortar), "mixing tub, trowels, hose"),
        (
            needs(Part::WallBase) || needs(Part::Surface),
            "hand tamper or plate compactor",
        ),
        (digs, "spades, digging bar, post-hole digger"),
        (needs(Part::Finish), "brushes, drip sheet"),
        (
            layers(|c| c == Category::Sheet) || needs(Part::Liner),
            "utility knife, staple gun",
        ),
        (
            any(&|t: &TakeOff| !t.hauled.is_empty()),
            "barrows, shovels, rakes, boards to wheel on",
        ),
        (
            layers(|c| matches!(c, Category::Soil | Category::Compost)),
            "hose with a rose",
        ),
    ];
    let needed = all.into_iter().filter(|(is_needed, _)| *is_needed);
    needed.map(|(_, words)| words.to_owned()).collect()
}

fn posts_are_buried(estimate: &Estimate) -> bool {
    let mut frames = estimate.job.frames.iter();
    frames.any(|frame| match &frame.wall {
        Wall::Boards(wall) => wall
            .posts
            .as_ref()
            .is_some_and(|p| !p.buried.value.is_zero()),
        Wall::Panels(wall) => wall
            .posts
            .as_ref()
            .is_some_and(|p| !p.buried.value.is_zero()),
        _ => false,
    })
}
