//! A bed, a frame, a fill and a layer.

use rust_decimal::Decimal;

use super::row;
use crate::model::bed::{Base, Bed, Measured, Shape};
use crate::model::fill::{Depth, Fill, Layer, Stuff};
use crate::model::frame::{Corner, Frame, FrameId, FrameKind};
use crate::model::job::{PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::units::Length;
use crate::units::by_hand::feet;

/// A rectangle of so many feet.
#[track_caller]
pub(crate) fn rectangle(length: &str, width: &str) -> Shape {
    Shape::Rectangle {
        length: feet(length),
        width: feet(width),
    }
}

/// One bed of 8 x 4 ft outside, on open ground, in the job's first frame, site and phase.
pub(crate) fn bed(name: &str) -> Bed {
    Bed {
        at: row(1),
        name: name.into(),
        count: 1,
        shape: rectangle("8", "4"),
        measured: Measured::Outside,
        height: None,
        courses: None,
        frame: FrameId(0),
        fill: None,
        crop: None,
        site: SiteId(0),
        phase: PhaseId(0),
        base: Base::OpenGround,
        closed_bottom: false,
        underside_clear: None,
        ground: None,
        slope: None,
        priority: None,
        note: None,
    }
}

/// A wall of its material alone, with butt corners.
pub(crate) fn frame(name: &str, kind: FrameKind, material: Option<MaterialId>) -> Frame {
    Frame {
        at: None,
        name: name.into(),
        kind,
        material,
        wall: Known::assumed(Length::ZERO, "not set, taken as no thickness"),
        posts: None,
        corner: Known::assumed(Corner::Butt, "not set, taken as butt"),
        cap: None,
        brace_every: None,
        brace: None,
        fastener: None,
        per_joint: Known::assumed(3, "not set, taken as 3"),
        liner: None,
        mesh: None,
        finish: None,
        coats: Known::assumed(1, "not set, taken as 1 coat"),
        side_slope: Known::assumed(Decimal::ONE, "not set, taken as 1 run for 1 rise"),
    }
}

/// A stack of layers without amendments.
pub(crate) fn fill(name: &str, layers: Vec<Layer>) -> Fill {
    Fill {
        name: name.into(),
        layers,
        amendments: Vec::new(),
    }
}

/// A layer of one material, of a fill of the trade library.
pub(crate) fn layer(material: MaterialId, depth: Depth) -> Layer {
    Layer {
        at: None,
        stuff: Stuff::Material(material),
        depth,
        note: None,
    }
}
