//! Walls: a file for each kind, and beside them what several kinds share.
//!
//! [`Build`] is where the kinds meet the rest of the take-off. A kind tells how thick its walls are
//! in plan, builds them over both faces of a bed, and says what room they leave for the fill.

mod anchors;
mod blocks;
mod board_steps;
mod boards;
mod caps;
mod corners;
mod ends;
mod fasteners;
mod modular;
mod modular_runs;
mod modular_steps;
mod mound;
mod panel_rails;
mod panel_rows;
mod panel_sheets;
mod panel_steps;
mod panels;
mod posts;
mod pour;
mod ready_made;
mod splices;
mod stone;
mod stone_steps;
mod timber_steps;
mod timbers;
mod trims;
mod wall_base;

use super::bill::Bill;
use super::faces::Faces;
use super::heights::{self, Heights};
use super::room::Room;
use super::sticks::Sticks;
use super::trace::Trace;
use crate::model::block::BlockSize;
use crate::model::frame::{
    BlockWall, BoardWall, Frame, FrameKind, ModularWall, Mound, PanelWall, StoneWall, TimberWall,
    TopCourse, UnitWall, Wall,
};
use crate::model::material::{MaterialId, Section};
use crate::problem::Problem;
use crate::units::{Area, Length};

/// A frame whose materials were looked up: all that building its walls takes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Build<'a> {
    frame: &'a Frame,
    stuff: Stuff<'a>,
}

#[derive(Clone, Copy, Debug)]
enum Stuff<'a> {
    Boards(&'a BoardWall, &'a Section),
    Modular(&'a ModularWall),
    Panels(&'a PanelWall),
    Blocks(&'a BlockWall, &'a BlockSize),
    ReadyMade(&'a UnitWall),
    Stone(&'a StoneWall),
    Timbers(&'a TimberWall, &'a Section),
    Mound(&'a Mound),
}

impl<'a> Build<'a> {
    /// Looks the materials of a frame up; `None` after a problem was told.
    pub(super) fn of(bill: &mut Bill<'a>, frame: &'a Frame) -> Option<Self> {
        let stuff = match &frame.wall {
            Wall::Boards(wall) => Stuff::Boards(wall, section_of(bill, frame, wall.board)?),
            Wall::Modular(wall) => Stuff::Modular(wall),
            Wall::Panels(wall) => Stuff::Panels(wall),
            Wall::Blocks(wall) => Stuff::Blocks(wall, block_of(bill, frame, wall.block)?),
            Wall::ReadyMade(wall) => Stuff::ReadyMade(wall),
            Wall::Stone(wall) => Stuff::Stone(wall),
            Wall::Timbers(wall) => Stuff::Timbers(wall, section_of(bill, frame, wall.timber)?),
            Wall::Mound(mound) => Stuff::Mound(mound),
        };
        Some(Self { frame, stuff })
    }

    /// Thickness of the walls in plan.
    pub(super) fn thickness(&self) -> Length {
        match self.stuff {
            Stuff::Boards(_, section) => section.thickness,
            Stuff::Modular(wall) => wall.thickness.value,
            Stuff::Panels(wall) => wall.thickness.value,
            Stuff::Blocks(_, size) => size.depth,
            Stuff::ReadyMade(wall) => wall.thickness.value,
            Stuff::Stone(wall) => wall.thickness.value,
            Stuff::Timbers(wall, section) => timbers::laid(section, wall.lie.value).thickness,
            Stuff::Mound(_) => Length::ZERO,
        }
    }

    /// What its courses are of, as the trade calls it: `2x10`.
    pub(super) fn course(&self) -> Option<&'a str> {
        match self.stuff {
            Stuff::Boards(_, section) | Stuff::Timbers(_, section) => Some(&section.nominal),
            Stuff::Blocks(_, size) => Some(&size.nominal),
            Stuff::Modular(_)
            | Stuff::Panels(_)
            | Stuff::ReadyMade(_)
            | Stuff::Stone(_)
            | Stuff::Mound(_) => None,
        }
    }

    /// Heights of the walls, and all that they take; `None` for a mound, and after a problem was told.
    pub(super) fn walls(
        &self,
        bill: &mut Bill<'_>,
        faces: &Faces,
        sticks: &Sticks,
        trace: &mut impl Trace,
    ) -> Option<Heights> {
        match self.stuff {
            Stuff::Boards(wall, section) => {
                let heights = heights::of_boards(
                    bill,
                    section,
                    wall.top.value,
                    faces.outside.extent(),
                    trace,
                )?;
                boards::build(bill, (self.frame, wall), faces, &heights, sticks, trace);
                tell_unbalanced(bill, faces, true);
                Some(heights)
            }
            Stuff::Stone(wall) => {
                let heights = stone::heights(bill, faces, trace)?;
                stone::build(bill, (self.frame, wall), faces, &heights, trace);
                tell_unbalanced(bill, faces, false);
                Some(heights)
            }
            Stuff::Timbers(wall, section) => {
                let laid = timbers::laid(section, wall.lie.value);
                let (whole, extent) = (TopCourse::Whole, faces.outside.extent());
                let heights = heights::of_boards(bill, &laid, whole, extent, trace)?;
                let stack = (self.frame, wall, &laid);
                timbers::build(bill, stack, faces, &heights, sticks, trace);
                tell_unbalanced(bill, faces, true);
                Some(heights)
            }
            Stuff::Modular(wall) => {
                let (heights, tiers) = modular::heights(bill, wall)?;
                let all = (&heights, tiers);
                modular::build(bill, (self.frame, wall), faces, all, sticks, trace);
                Some(heights)
            }
            Stuff::Panels(wall) => {
                let heights = heights::as_asked(bill, faces.outside.extent(), trace)?;
                panels::build(bill, (self.frame, wall), faces, &heights, sticks, trace);
                tell_unbalanced(bill, faces, true);
                Some(heights)
            }
            Stuff::Blocks(wall, size) => {
                let stack = blocks::Stack::of(self.frame, wall, size);
                let extent = faces.outside.extent();
                let course = stack.as_section();
                let whole = TopCourse::Whole;
                let heights = heights::of_boards(bill, &course, whole, extent, trace)?;
                blocks::build(bill, &stack, faces, &heights, sticks, trace);
                tell_unbalanced(bill, faces, true);
                Some(heights)
            }
            Stuff::ReadyMade(wall) => {
                ready_made::set(bill, wall.unit, faces);
                ready_made::heights(bill)
            }
            Stuff::Mound(_) => None,
        }
    }

    /// The room for fill; `None` after a problem was told.
    pub(super) fn room(
        &self,
        bill: &mut Bill<'_>,
        faces: &Faces,
        heights: Option<&Heights>,
        trace: &mut impl Trace,
    ) -> Option<Room> {
        match (self.stuff, heights) {
            (Stuff::Mound(mound), _) => mound::room(bill, mound, faces),
            (_, Some(heights)) => walled(bill, faces, heights, trace),
            (_, None) => None,
        }
    }

    /// Top of the cap, which is coated too: the ring between the outside face and the cap's inner edge.
    pub(super) fn cap_top(&self, bill: &Bill<'_>, faces: &Faces) -> Area {
        match self.stuff {
            Stuff::Boards(wall, _) => caps::top(bill, wall.cap, &faces.outside),
            Stuff::Panels(wall) => caps::top(bill, wall.cap, &faces.outside),
            Stuff::Blocks(wall, _) => caps::top(bill, wall.cap, &faces.outside),
            Stuff::Timbers(wall, _) => caps::top(bill, wall.cap, &faces.outside),
            Stuff::Modular(_) | Stuff::ReadyMade(_) | Stuff::Stone(_) | Stuff::Mound(_) => {
                Area::ZERO
            }
        }
    }
}

/// Kinds whose walls can follow a curve.
pub(super) const ROUND: &[FrameKind] = &[
    FrameKind::Modular,
    FrameKind::Blocks,
    FrameKind::ReadyMade,
    FrameKind::Stone,
    FrameKind::None,
];

/// Says why walls of this frame cannot be built on this outline, and of which kinds they can.
pub(super) fn cannot(bill: &mut Bill<'_>, frame: &Frame, why: &str, can: &[FrameKind]) {
    let words = format!(
        "{why}, and frame {} is of kind {}",
        frame.name,
        frame.kind().word()
    );
    let mut others = can.to_vec();
    others.retain(|kind| *kind != frame.kind());
    let hint = format!(
        "give the bed another shape, or a frame of kind {}",
        FrameKind::words(&others)
    );
    bill.tell(Problem::error(words).hint(hint), "Frame");
}

/// The section of lumber that stands in courses; told when it has none.
fn section_of<'a>(bill: &mut Bill<'a>, frame: &Frame, id: MaterialId) -> Option<&'a Section> {
    let material = bill.material(id)?;
    let section = material.section.as_ref().map(|s| &s.value);
    if section.is_none() {
        let words = format!(
            "{} has no section, so no wall can be built of it in courses",
            material.name
        );
        let problem = Problem::error(words).hint("give its Section in Materials, as 2x10");
        bill.tell_frame(frame, problem, "Material");
    }
    section
}

/// The size of the blocks that stand in courses; told when they have none.
fn block_of<'a>(bill: &mut Bill<'a>, frame: &Frame, id: MaterialId) -> Option<&'a BlockSize> {
    let material = bill.material(id)?;
    let size = material.block.as_ref().map(|b| &b.value);
    if size.is_none() {
        let words = format!(
            "{} has no size, so no wall can be built of it",
            material.name
        );
        let problem = Problem::error(words).hint("give its Section in Materials, as 8x8x16");
        bill.tell_frame(frame, problem, "Material");
    }
    size
}

/// The fill of a bed on falling ground is as deep as half way down, which is exact for outlines alike
/// from both ends.
fn tell_unbalanced(bill: &mut Bill<'_>, faces: &Faces, stepped: bool) {
    let falls = bill.bed.slope.is_some_and(|s| !s.fall.is_zero());
    if falls && !faces.outside.is_balanced() {
        let mut words = "on falling ground the mean of the high and the low side is filled, which is not exact for this shape".to_owned();
        words.push_str(if stepped {
            "; every run is as high as the low side"
        } else {
            "; the stone is counted for that mean too"
        });
        bill.tell(Problem::notice(words), "Slope %");
    }
}

/// What stands between walls: the mean wall height less freeboard. Buried parts and caps never count.
fn walled(
    bill: &mut Bill<'_>,
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) -> Option<Room> {
    let freeboard = &bill.job.settings.freeboard;
    let rim = heights.mean();
    let height = rim - freeboard.value;
    let units = bill.units;
    if height <= Length::ZERO {
        let words = format!(
            "a freeboard of {} leaves nothing to fill in bed {}, whose wall is {} high",
            units.length(freeboard.value),
            bill.bed.name,
            units.length(rim)
        );
        let from = freeboard.from.clone();
        bill.tell_from(&from, Problem::error(words), "Height");
        return None;
    }
    trace.step(
        "height to fill",
        || {
            let less = units.length(freeboard.value);
            if heights.low == heights.high {
                format!("{} - {less} freeboard", units.length(rim))
            } else {
                let (high, low) = (units.length(heights.high), units.length(heights.low));
                format!("({high} + {low}) / 2 - {less} freeboard")
            }
        },
        || units.length(height),
    );
    Some(Room::Walled {
        area: faces.inside.area(),
        height,
        rim,
    })
}
