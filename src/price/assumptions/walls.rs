//! Rules by which walls are built where the job does not give its own.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::{Notes, exact, percent};
use crate::model::frame::{
    BlockWall, BoardWall, Braces, Corner, Frame, FrameKind, Laid, Lie, PanelWall, PostSide, Posts,
    Ribs, StoneWall, Tiers, TimberWall, TopCourse, Wall, WallBase,
};
use crate::model::labour::Driver;
use crate::units::show::plain;
use crate::units::{Density, Length};

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
            Wall::Blocks(wall) => blocks(notes, &frame.name, wall),
            Wall::ReadyMade(wall) => {
                let shown = notes.job.settings.units.value;
                let depth = |l: &Length| exact(shown, *l);
                let used = "inside size";
                notes.of("Wall thickness", &frame.name, &wall.thickness, depth, used);
            }
            Wall::Stone(wall) => stone(notes, &frame.name, wall),
            Wall::Timbers(wall) => timbers(notes, &frame.name, wall),
            Wall::Mound(mound) => {
                let slope = |run: &Decimal| format!("{} run for 1 rise", plain(*run, 3));
                let used = "volume of the mound";
                notes.of("Side slope", &frame.name, &mound.side_slope, slope, used);
            }
        }
        let is_finished = frame.finish.is_some() && frame.kind() != FrameKind::None;
        if is_finished {
            let count = |n: &u32| n.to_string();
            notes.of("Coats", &frame.name, &frame.coats, count, "finish to buy");
        }
    }
}

fn corner_word(corner: Corner) -> String {
    match corner {
        Corner::Butt => "butt",
        Corner::Mitre => "mitre",
        Corner::Lapped => "lapped",
    }
    .to_owned()
}

fn base(notes: &mut Notes, name: &str, base: &WallBase) {
    let shown = notes.job.settings.units.value;
    let depth = |l: &Length| exact(shown, *l);
    let used = "base to buy, trench";
    notes.of("Base depth", name, &base.depth, depth, used);
    notes.of("Trench wider than wall", name, &base.wider, depth, used);
}

fn timbers(notes: &mut Notes, name: &str, wall: &TimberWall) {
    let shown = notes.job.settings.units.value;
    let length = |l: &Length| shown.length(*l);
    let lie = |lie: &Lie| match lie {
        Lie::Flat => "flat".to_owned(),
        Lie::OnEdge => "on edge".to_owned(),
    };
    notes.of(
        "Laid",
        name,
        &wall.lie,
        lie,
        "height and thickness of walls",
    );
    let corner = |c: &Corner| corner_word(*c);
    notes.of("Corner", name, &wall.corner, corner, "timbers to cut");
    let kerf = &notes.job.settings.timber_kerf;
    notes.known("Kerf through timbers", kerf, length, "cut list of timbers");
    if let Some(pins) = &wall.pins {
        notes.of("Pin every", name, &pins.every, length, "pins to buy");
        notes.of("Pin length", name, &pins.length, length, "pins to buy");
    }
    let timber = notes.job.material(wall.timber);
    if timber.is_some_and(|m| m.delivered.is_none()) {
        let show = |d: &Density| shown.density(*d);
        notes.of(
            "Weight of timbers",
            name,
            &wall.density,
            show,
            "weight of walls",
        );
    }
    if let Some(trench) = &wall.base {
        base(notes, name, trench);
    }
    anchors(notes, name, wall);
}

/// Anchors, as far as beds of this frame really have some.
fn anchors(notes: &mut Notes, name: &str, wall: &TimberWall) {
    let shown = notes.job.settings.units.value;
    let length = |l: &Length| shown.length(*l);
    let is_anchored = notes
        .takeoffs
        .iter()
        .zip(&notes.kinds.kinds)
        .any(|(takeoff, kind)| {
            let bed = notes.job.beds.get(kind.first.index());
            let frame = bed.and_then(|b| notes.job.frames.get(b.frame.index()));
            let own = frame.is_some_and(|f| &*f.name == name);
            own && takeoff
                .work
                .iter()
                .any(|(driver, _)| *driver == Driver::Anchor)
        });
    if is_anchored {
        let (anchors, used) = (&wall.anchors, "anchors to cut");
        notes.of("Anchor every", name, &anchors.every, length, used);
        notes.of("Anchor length", name, &anchors.length, length, used);
        notes.of("Anchor crosspiece", name, &anchors.cross, length, used);
        notes.of(
            "Height for a row of anchors",
            name,
            &anchors.tier,
            length,
            used,
        );
    }
}

fn stone(notes: &mut Notes, name: &str, wall: &StoneWall) {
    let shown = notes.job.settings.units.value;
    let depth = |l: &Length| exact(shown, *l);
    let laid = |laid: &Laid| laid.word().to_owned();
    let (to_buy, inside) = ("stone to buy", "inside size and stone to buy");
    notes.of("Laid", name, &wall.laid, laid, to_buy);
    notes.of("Wall thickness", name, &wall.thickness, depth, inside);
    let batter = |rise: &Decimal| {
        if rise.is_zero() {
            "upright".to_owned()
        } else {
            format!("1:{}", plain(*rise, 3))
        }
    };
    notes.of("Batter", name, &wall.batter_rise, batter, to_buy);
    let material = notes.job.material(wall.stone);
    if let Some(material) = material.filter(|m| m.face.is_none()) {
        let show = |d: &Density| shown.density(*d);
        notes.of("Solid weight of stone", name, &wall.solid, show, to_buy);
        if wall.laid.value == Laid::Dry {
            let (label, void) = ("Voids in the wall", &material.void);
            notes.of(label, &material.name, void, percent, to_buy);
        }
    }
    if wall.laid.value == Laid::Mortared {
        let used = "mortar and stone to buy";
        notes.of("Share of mortar", name, &wall.mortar_share, percent, used);
    }
    if let Some(hearting) = &wall.hearting {
        notes.of("Hearting", name, &hearting.share, percent, to_buy);
    }
    if let Some(trench) = &wall.base {
        base(notes, name, trench);
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

fn blocks(notes: &mut Notes, name: &str, wall: &BlockWall) {
    let shown = notes.job.settings.units.value;
    let laid = |laid: &Laid| laid.word().to_owned();
    notes.of("Laid", name, &wall.laid, laid, "wall height, mortar");
    let depth = |l: &Length| exact(shown, *l);
    let length = |l: &Length| shown.length(*l);
    let count = |n: &u32| n.to_string();
    let play = &wall.limits.play;
    notes.of("Play of a joint", name, play, depth, "blocks to cut");
    notes.of("Courses buried", name, &wall.buried, count, "blocks to buy");
    if let Some(trench) = &wall.base {
        base(notes, name, trench);
    }
    if let Some(bars) = &wall.bars {
        if let Some(every) = &bars.every {
            notes.of("Bar every", name, every, depth, "bars");
        }
        if bars.courses.is_some() {
            notes.of("Lap of bars", name, &bars.lap, depth, "bars");
        }
    }
    if let Some(adhesive) = &wall.adhesive {
        notes.of("Bead of a tube", name, &adhesive.bead, length, "adhesive");
    }
}
