//! A bed, a frame, a fill and a layer.

use rust_decimal::Decimal;

use super::row;
use crate::model::bed::{Base, Bed, Measured, Shape};
use crate::model::fill::{Depth, Fill, Layer, Stuff};
use crate::model::frame::{
    Anchors, BlockLimits, BlockWall, BoardWall, Corner, Frame, FrameId, Laid, Lie, Mound,
    PanelWall, Ribs, StoneWall, TimberWall, TopCourse, UnitWall, Wall,
};
use crate::model::ground::GroundWork;
use crate::model::job::{PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::units::by_hand::{d, feet, inches};
use crate::units::{Density, Length};

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
        joins: Vec::new(),
        ground: Known::assumed(GroundWork::Leave, "not set, taken as leave"),
        slope: None,
        drip: None,
        priority: None,
        note: None,
    }
}

/// A wall alone.
pub(crate) fn frame(name: &str, wall: Wall) -> Frame {
    Frame {
        at: None,
        name: name.into(),
        wall,
        liner: None,
        mesh: None,
        finish: None,
        coats: Known::assumed(1, "not set, taken as 1 coat"),
    }
}

/// Boards with butt corners and nothing else.
pub(crate) fn boards(board: MaterialId) -> Wall {
    Wall::Boards(Box::new(BoardWall {
        board,
        posts: None,
        corner: Known::assumed(Corner::Butt, "not set, taken as butt"),
        cap: None,
        braces: None,
        fastener: None,
        per_joint: Known::assumed(3, "not set, taken as 3"),
        top: Known::assumed(TopCourse::Whole, "not set, taken as whole"),
        end_treatment: None,
    }))
}

/// Sheets along the wall, without thickness, posts, rails or screws.
pub(crate) fn panels(panel: MaterialId) -> PanelWall {
    PanelWall {
        panel,
        ribs: Known::assumed(Ribs::Along, "not set, taken as along the wall"),
        thickness: Known::assumed(Length::ZERO, "flat sheet, taken as no thickness"),
        end_lap: Known::assumed(Length::ZERO, "flat sheets meet without a lap"),
        posts: None,
        rails: None,
        corner: Known::assumed(Corner::Butt, "not set, taken as butt"),
        corner_trim: None,
        cap: None,
        braces: None,
        fastener: None,
        per_joint: Known::assumed(2, "not set, taken as 2"),
        screw: None,
        screw_spacing: Known::assumed(Length::feet(Decimal::ONE), "not set, taken as 1 ft"),
        end_treatment: None,
    }
}

/// Blocks and nothing else, with 3/16 in of play in a joint.
pub(crate) fn blocks(block: MaterialId, laid: Laid) -> Wall {
    let limit = |text| Known::assumed(inches(text), "set by the example");
    Wall::Blocks(Box::new(BlockWall {
        block,
        half: None,
        laid: Known::assumed(laid, "set by the example"),
        mortar: None,
        cap: None,
        core: None,
        bars: None,
        adhesive: None,
        base: None,
        buried: Known::assumed(0, "not set, taken as none"),
        limits: BlockLimits {
            play: limit("0.1875"),
            widest_joint: limit("0.75"),
            least_radius: limit("36"),
        },
    }))
}

/// A unit without thickness.
pub(crate) fn unit(unit: MaterialId) -> Wall {
    Wall::ReadyMade(UnitWall {
        unit,
        thickness: Known::assumed(Length::ZERO, "not set, taken as no thickness"),
    })
}

/// Timbers laid flat that lap at square corners, neither pinned nor bedded; 40 lb/ft3.
pub(crate) fn timbers(timber: MaterialId) -> Wall {
    let no_figure = "not set, taken as usual";
    Wall::Timbers(Box::new(TimberWall {
        timber,
        lie: Known::assumed(Lie::Flat, "not set, taken as flat"),
        corner: Known::assumed(Corner::Lapped, "not set, taken as lapped"),
        pins: None,
        anchors: Anchors {
            every: Known::assumed(feet("6"), no_figure),
            length: Known::assumed(feet("4"), no_figure),
            cross: Known::assumed(feet("2"), no_figure),
            tier: Known::assumed(feet("2.5"), no_figure),
        },
        cap: None,
        end_treatment: None,
        base: None,
        density: Known::assumed(pounds_per_cubic_foot("40"), no_figure),
    }))
}

/// Stone laid dry with upright faces, a foot thick; solid stone weighs 165 lb/ft3.
pub(crate) fn stone(stone: MaterialId) -> Wall {
    let no_figure = "not set, taken as usual";
    Wall::Stone(Box::new(StoneWall {
        stone,
        laid: Known::assumed(Laid::Dry, "not set, taken as dry"),
        thickness: Known::assumed(feet("1"), no_figure),
        batter_rise: Known::assumed(Decimal::ZERO, "not set, taken as upright"),
        hearting: None,
        mortar: None,
        mortar_share: Known::assumed(Decimal::new(25, 2), no_figure),
        solid: Known::assumed(pounds_per_cubic_foot("165"), no_figure),
        cap: None,
        base: None,
    }))
}

/// 27 ft3 are a cubic yard.
#[track_caller]
fn pounds_per_cubic_foot(number: &str) -> Density {
    Density::pounds_per_cubic_yard(d(number) * d("27"))
}

/// A mound with sides of 1 in 1.
pub(crate) fn mound() -> Wall {
    Wall::Mound(Mound {
        side_slope: Known::assumed(Decimal::ONE, "not set, taken as 1 run for 1 rise"),
    })
}

/// The boards of a frame that has some, to be changed.
#[track_caller]
pub(crate) fn boards_of(frame: &mut Frame) -> &mut BoardWall {
    match &mut frame.wall {
        Wall::Boards(wall) => wall,
        other => panic!("{other:?} is not of boards"),
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
