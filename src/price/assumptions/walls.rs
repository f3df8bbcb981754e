//! Rules by which walls are built where the job does not give its own.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Notes, exact};
use crate::model::frame::{
    BoardWall, Braces, Corner, Frame, FrameKind, PanelWall, PostSide, Posts, Ribs, Tiers,
    TopCourse, Wall,
};
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
        match &frame.wall {
            Wall::Boards(wall) => boards(notes, &frame.name, wall),
            Wall::Modular(wall) => {
                let shown = notes.job.settings.units.value;
                let depth = |l: &Length| exact(shown, *l);
                notes.of(
                    "Wall thickness",
                    &frame.name,
                    &wall.thickness,
                    depth,
                    "inside size",
                );
                if wall.fastener.is_some() {
                    let count = |n: &u32| n.to_string();
                    let used = "bolts to buy";
                    notes.of(
                        "Fasteners per joint",
                        &frame.name,
                        &wall.per_joint,
                        count,
                        used,
                    );
                }
                braces(notes, &frame.name, wall.braces.as_ref());
            }
            Wall::Panels(wall) => panels(notes, &frame.name, wall),
            Wall::ReadyMade(wall) => {
                let shown = notes.job.settings.units.value;
                let depth = |l: &Length| exact(shown, *l);
                let used = "inside size";
                notes.of("Wall thickness", &frame.name, &wall.thickness, depth, used);
            }
            Wall::Mound(mound) => {
                let slope = |run: &Decimal| format!("{} run for 1 rise", plain(*run, 3));
                let used = "volume of the mound";
                notes.of("Side slope", &frame.name, &mound.side_slope, slope, used);
            }
        }
        let is_finished = frame.finish.is_some()
            && !matches!(frame.kind(), FrameKind::ReadyMade | FrameKind::None);
        if is_finished {
            let count = |n: &u32| n.to_string();
            notes.of("Coats", &frame.name, &frame.coats, count, "finish to buy");
        }
    }
}

fn boards(notes: &mut Notes, name: &str, wall: &BoardWall) {
    let corner = |c: &Corner| corner_word(*c);
    notes.of("Corner", name, &wall.corner, corner, "boards to cut");
    posts(notes, name, wall.posts.as_ref());
    braces(notes, name, wall.braces.as_ref());
    let top = |top: &TopCourse| match top {
        TopCourse::Whole => "whole".to_owned(),
        TopCourse::Ripped => "ripped".to_owned(),
    };
    notes.of("Top course", name, &wall.top, top, "wall height");
    let count = |n: &u32| n.to_string();
    if wall.fastener.is_some() {
        let label = "Fasteners per joint";
        notes.of(label, name, &wall.per_joint, count, "fasteners to buy");
    }
}

fn corner_word(corner: Corner) -> String {
    match corner {
        Corner::Butt => "butt".to_owned(),
        Corner::Mitre => "mitre".to_owned(),
        Corner::Lapped => "lapped".to_owned(),
    }
}

fn posts(notes: &mut Notes, name: &str, posts: Option<&Posts>) {
    let Some(posts) = posts else {
        return;
    };
    let shown = notes.job.settings.units.value;
    let length = |l: &Length| shown.length(*l);
    notes.of("Post spacing", name, &posts.spacing, length, "posts");
    let depth = |l: &Length| exact(shown, *l);
    notes.of("Post buried", name, &posts.buried, depth, "posts");
    let side = |side: &PostSide| match side {
        PostSide::Inside => "inside".to_owned(),
        PostSide::Outside => "outside".to_owned(),
    };
    notes.of("Post side", name, &posts.side, side, "posts");
}

fn braces(notes: &mut Notes, name: &str, braces: Option<&Braces>) {
    let Some(braces) = braces else {
        return;
    };
    let shown = notes.job.settings.units.value;
    let length = |l: &Length| shown.length(*l);
    notes.of("Brace every", name, &braces.every, length, "braces");
    if let Tiers::Each(each) = &braces.tiers {
        notes.of("Brace tier", name, each, length, "braces");
    }
}

fn panels(notes: &mut Notes, name: &str, wall: &PanelWall) {
    let shown = notes.job.settings.units.value;
    let depth = |l: &Length| exact(shown, *l);
    let ribs = |ribs: &Ribs| match ribs {
        Ribs::Along => "along the wall".to_owned(),
        Ribs::Upright => "upright".to_owned(),
    };
    let used = "sheets to cut";
    notes.of("Ribs", name, &wall.ribs, ribs, used);
    let corner = |c: &Corner| corner_word(*c);
    notes.of("Corner", name, &wall.corner, corner, used);
    notes.of("End lap", name, &wall.end_lap, depth, used);
    notes.of(
        "Wall thickness",
        name,
        &wall.thickness,
        depth,
        "inside size",
    );
    posts(notes, name, wall.posts.as_ref());
    braces(notes, name, wall.braces.as_ref());
    let count = |n: &u32| n.to_string();
    if let Some(rails) = &wall.rails {
        notes.of("Rails", name, &rails.number, count, "rails to cut");
    }
    if wall.screw.is_some() {
        let used = "screws to buy";
        notes.of("Screw every", name, &wall.screw_spacing, depth, used);
    }
    if wall.fastener.is_some() {
        let label = "Fasteners per joint";
        notes.of(label, name, &wall.per_joint, count, "fasteners to buy");
    }
}
