//! Frames: how walls are built.
//!
//! Longer than most because it has a struct for each kind of wall, and each field says what it means.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::id;
use super::known::Known;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::{Density, Length};

id!(
    /// A frame of the job, by its place in [`crate::model::job::Job::frames`].
    FrameId
);

/// The kind of wall, without what it is built of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FrameKind {
    /// Boards of one section on edge, course by course.
    Boards,
    /// Modules bolted to each other.
    Modular,
    /// Sheets on a frame of posts and rails.
    Panels,
    /// Blocks in running bond, course by course.
    Blocks,
    /// Bought whole, by the unit.
    ReadyMade,
    /// Stone, dry or in mortar.
    Stone,
    /// Timbers or sleepers, course by course.
    Timbers,
    /// No wall: a mound.
    None,
}

impl FrameKind {
    /// Every kind.
    pub const ALL: [Self; 8] = [
        Self::Boards,
        Self::Modular,
        Self::Panels,
        Self::Blocks,
        Self::ReadyMade,
        Self::Stone,
        Self::Timbers,
        Self::None,
    ];

    /// Whether its walls stand in courses of one height.
    pub const fn has_courses(self) -> bool {
        matches!(self, Self::Boards | Self::Blocks | Self::Timbers)
    }

    /// Some kinds in words: `ready-made, stone or none`.
    pub fn words(kinds: &[Self]) -> String {
        let words: Vec<&str> = kinds.iter().map(|kind| kind.word()).collect();
        match words.split_last() {
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} or {last}", others.join(", ")),
            None => String::new(),
        }
    }

    /// The kind's word in files and outputs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Boards => "boards",
            Self::Modular => "modular",
            Self::Panels => "panels",
            Self::Blocks => "blocks",
            Self::ReadyMade => "ready-made",
            Self::Stone => "stone",
            Self::Timbers => "timbers",
            Self::None => "none",
        }
    }
}

/// How boards meet at a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Corner {
    /// The long sides run through; the short sides stand between them.
    Butt,
    /// Both are cut at half the angle; each is as long as the outside.
    Mitre,
    /// As butt, the through side alternating from course to course.
    Lapped,
}

/// What becomes of the top course when whole courses would stand higher than asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TopCourse {
    /// It stays whole, and the wall is as high as its courses.
    Whole,
    /// It is ripped along, so that the wall is as high as asked.
    Ripped,
}

/// On which side of the boards posts stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PostSide {
    /// In the bed: one post in each corner holds both boards.
    Inside,
    /// Outside: each run needs its own post at both its ends.
    Outside,
}

/// Posts that hold the boards.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Posts {
    /// Their material.
    pub material: MaterialId,
    /// Greatest distance between posts along a run.
    pub spacing: Known<Length>,
    /// How deep they stand in the ground; zero for posts that end at the ground.
    pub buried: Known<Length>,
    /// On which side of the boards.
    pub side: Known<PostSide>,
}

/// One row of `Frames`: a wall, and what goes on its faces and under the bed.
#[derive(Clone, Debug)]
pub struct Frame {
    /// The row; `None` for a frame of the trade library.
    pub at: Option<RowAt>,
    /// Its name.
    pub name: Arc<str>,
    /// How its walls are built, each kind with what only it has.
    pub wall: Wall,
    /// Liner on the inside of the walls.
    pub liner: Option<MaterialId>,
    /// Mesh below the bed.
    pub mesh: Option<MaterialId>,
    /// Finish on the outside and rim.
    pub finish: Option<MaterialId>,
    /// Coats of finish.
    pub coats: Known<u32>,
}

impl Frame {
    /// The kind of its wall.
    pub const fn kind(&self) -> FrameKind {
        match self.wall {
            Wall::Boards(_) => FrameKind::Boards,
            Wall::Modular(_) => FrameKind::Modular,
            Wall::Panels(_) => FrameKind::Panels,
            Wall::Blocks(_) => FrameKind::Blocks,
            Wall::ReadyMade(_) => FrameKind::ReadyMade,
            Wall::Stone(_) => FrameKind::Stone,
            Wall::Timbers(_) => FrameKind::Timbers,
            Wall::Mound(_) => FrameKind::None,
        }
    }

    /// What its column `Material` names: that of which most of the wall is; none for a mound.
    pub const fn material(&self) -> Option<MaterialId> {
        match &self.wall {
            Wall::Boards(wall) => Some(wall.board),
            Wall::Modular(wall) => Some(wall.module),
            Wall::Panels(wall) => Some(wall.panel),
            Wall::Blocks(wall) => Some(wall.block),
            Wall::ReadyMade(wall) => Some(wall.unit),
            Wall::Stone(wall) => Some(wall.stone),
            Wall::Timbers(wall) => Some(wall.timber),
            Wall::Mound(_) => None,
        }
    }
}

/// How walls are built.
#[derive(Clone, Debug)]
pub enum Wall {
    /// Boards on edge.
    Boards(Box<BoardWall>),
    /// Modules bolted to each other.
    Modular(Box<ModularWall>),
    /// Sheets on posts and rails.
    Panels(Box<PanelWall>),
    /// Blocks in running bond.
    Blocks(Box<BlockWall>),
    /// A bed bought whole.
    ReadyMade(UnitWall),
    /// Stone, dry or in mortar.
    Stone(Box<StoneWall>),
    /// Timbers or sleepers, course by course.
    Timbers(Box<TimberWall>),
    /// No wall.
    Mound(Mound),
}

/// Boards of one section on edge, course by course.
#[derive(Clone, Debug)]
pub struct BoardWall {
    /// The boards.
    pub board: MaterialId,
    /// Posts, when there are any.
    pub posts: Option<Posts>,
    /// Corner rule.
    pub corner: Known<Corner>,
    /// What becomes of the top course.
    pub top: Known<TopCourse>,
    /// Boards laid flat on the rim, mitred.
    pub cap: Option<MaterialId>,
    /// Braces across a long bed, when there are any.
    pub braces: Option<Braces>,
    /// Screws or bolts.
    pub fastener: Option<MaterialId>,
    /// How many per board end and course, at corners, posts and splices.
    pub per_joint: Known<u32>,
    /// Preservative on the ends of every piece.
    pub end_treatment: Option<MaterialId>,
}

/// Braces across a long bed.
#[derive(Clone, Debug)]
pub struct Braces {
    /// Their material.
    pub material: MaterialId,
    /// Greatest distance between them.
    pub every: Known<Length>,
    /// How many stand above each other.
    pub tiers: Tiers,
}

/// How many braces stand above each other.
#[derive(Clone, Debug)]
pub enum Tiers {
    /// So many.
    Given(Known<u32>),
    /// One for each started height.
    Each(Known<Length>),
}

/// Which way the ribs of a sheet run on the wall, or its grain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ribs {
    /// Along the wall: sheets are ripped to the height of the wall.
    Along,
    /// Up the wall: sheets are cut to the height of the wall and stand side by side.
    Upright,
}

/// Sheets on a frame of posts and rails.
#[derive(Clone, Debug)]
pub struct PanelWall {
    /// The sheets, corrugated or flat.
    pub panel: MaterialId,
    /// Which way their ribs run.
    pub ribs: Known<Ribs>,
    /// Depth of the sheet in plan.
    pub thickness: Known<Length>,
    /// How far a sheet laps the next one at its end.
    pub end_lap: Known<Length>,
    /// Posts, when there are any.
    pub posts: Option<Posts>,
    /// Rails to which the sheets are fixed, when there are any.
    pub rails: Option<Rails>,
    /// How sheets and rails meet at corners.
    pub corner: Known<Corner>,
    /// Trim that covers the corners.
    pub corner_trim: Option<MaterialId>,
    /// Boards laid flat on the rim, or a trim over the edge of the sheet.
    pub cap: Option<MaterialId>,
    /// Braces across a long bed, when there are any.
    pub braces: Option<Braces>,
    /// Screws or bolts that hold rails, posts and braces.
    pub fastener: Option<MaterialId>,
    /// How many at each end of a rail or brace, and where a rail passes a post.
    pub per_joint: Known<u32>,
    /// Screws that hold the sheets.
    pub screw: Option<MaterialId>,
    /// Greatest distance between them along rails and laps.
    pub screw_spacing: Known<Length>,
    /// Preservative on the ends of every piece of lumber.
    pub end_treatment: Option<MaterialId>,
}

/// Rails along the walls, one above the other.
#[derive(Clone, Debug)]
pub struct Rails {
    /// Their material.
    pub material: MaterialId,
    /// How many: 2 for top and bottom.
    pub number: Known<u32>,
}

/// Modules bolted to each other.
#[derive(Clone, Debug)]
pub struct ModularWall {
    /// The modules of straight walls.
    pub module: MaterialId,
    /// The modules of curved walls.
    pub curved: Option<MaterialId>,
    /// The pieces that turn corners; without them modules are bolted to each other there.
    pub corner: Option<MaterialId>,
    /// Thickness of the wall in plan.
    pub thickness: Known<Length>,
    /// Trim over the edge.
    pub cap: Option<MaterialId>,
    /// Braces across a long bed, when there are any.
    pub braces: Option<Braces>,
    /// Bolts.
    pub fastener: Option<MaterialId>,
    /// How many in each line between two pieces.
    pub per_joint: Known<u32>,
}

/// How the units of a wall are held together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Laid {
    /// Stacked without mortar: a course of blocks rises by the block alone.
    Dry,
    /// In mortar: a course of blocks rises by the block and a joint.
    Mortared,
}

impl Laid {
    /// Its word in files and outputs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Mortared => "mortared",
        }
    }
}

/// Blocks in running bond, course by course.
#[derive(Clone, Debug)]
pub struct BlockWall {
    /// The blocks.
    pub block: MaterialId,
    /// Halves that are bought; without them halves are cut from whole blocks.
    pub half: Option<MaterialId>,
    /// Dry or in mortar.
    pub laid: Known<Laid>,
    /// The mortar, when it is laid in some.
    pub mortar: Option<MaterialId>,
    /// Units laid flat on the rim.
    pub cap: Option<MaterialId>,
    /// What fills the cells.
    pub core: Option<MaterialId>,
    /// Reinforcing bars, when there are any.
    pub bars: Option<Bars>,
    /// Adhesive between dry courses and below caps.
    pub adhesive: Option<Adhesive>,
    /// What the first course is bedded on, when it is.
    pub base: Option<WallBase>,
    /// Courses below the ground, besides those that the bed asks for.
    pub buried: Known<u32>,
    /// Limits that the job does not set.
    pub limits: BlockLimits,
}

/// Up to where blocks can be laid without being cut.
#[derive(Clone, Debug)]
pub struct BlockLimits {
    /// How much wider a joint may be than it should, so that a run comes out.
    pub play: Known<Length>,
    /// The widest joint of mortar, at the outside of a curve.
    pub widest_joint: Known<Length>,
    /// The tightest outside radius that segmental units follow.
    pub least_radius: Known<Length>,
}

/// Reinforcing bars in a wall.
#[derive(Clone, Debug)]
pub struct Bars {
    /// Their material.
    pub material: MaterialId,
    /// Greatest distance between upright bars; `None` for no upright ones.
    pub every: Option<Known<Length>>,
    /// A bar all round in every so many courses; `None` for none.
    pub courses: Option<Known<u32>>,
    /// How far bars lie side by side where one ends.
    pub lap: Known<Length>,
}

/// Adhesive in beads.
#[derive(Clone, Debug)]
pub struct Adhesive {
    /// It, by the tube.
    pub material: MaterialId,
    /// Length of the bead that one tube gives.
    pub bead: Known<Length>,
}

/// A trench filled with base material, on which a wall stands.
#[derive(Clone, Debug)]
pub struct WallBase {
    /// What fills it.
    pub material: MaterialId,
    /// How deep it lies when it is tamped.
    pub depth: Known<Length>,
    /// How much wider than the wall the trench is, both sides together.
    pub wider: Known<Length>,
}

/// A bed bought whole.
#[derive(Clone, Debug)]
pub struct UnitWall {
    /// The unit.
    pub unit: MaterialId,
    /// Wall thickness, when the bed is measured outside; zero otherwise.
    pub thickness: Known<Length>,
}

/// Stone, dry or in mortar. The inside face stands upright; the outside face leans in by the batter.
#[derive(Clone, Debug)]
pub struct StoneWall {
    /// The stone.
    pub stone: MaterialId,
    /// Dry or in mortar.
    pub laid: Known<Laid>,
    /// Thickness where it stands, which is where the bed is measured outside.
    pub thickness: Known<Length>,
    /// Rise for each one that the outside face leans in; zero for an upright face.
    pub batter_rise: Known<Decimal>,
    /// Small stone in the heart of the wall, when it is bought apart.
    pub hearting: Option<Hearting>,
    /// The mortar, when it is laid in some.
    pub mortar: Option<MaterialId>,
    /// Share of the wall that is mortar, when it is laid in some.
    pub mortar_share: Known<Decimal>,
    /// What solid stone weighs.
    pub solid: Known<Density>,
    /// Stones laid flat on the rim, by their length.
    pub cap: Option<MaterialId>,
    /// What it stands on.
    pub base: Option<WallBase>,
}

/// Small stone in the heart of a wall.
#[derive(Clone, Debug)]
pub struct Hearting {
    /// It.
    pub material: MaterialId,
    /// Share of the wall that it takes.
    pub share: Known<Decimal>,
}

/// On which of its sides a timber lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lie {
    /// On its wide side: a low course, and a thick wall.
    Flat,
    /// On its narrow side: a high course, and a thin wall.
    OnEdge,
}

/// Timbers or sleepers, course by course.
#[derive(Clone, Debug)]
pub struct TimberWall {
    /// The timbers.
    pub timber: MaterialId,
    /// On which side they lie.
    pub lie: Known<Lie>,
    /// How they meet at square corners.
    pub corner: Known<Corner>,
    /// Drift pins, when there are any.
    pub pins: Option<Pins>,
    /// Timbers that tie the wall back into the ground behind it.
    pub anchors: Anchors,
    /// Boards laid flat on the rim, mitred.
    pub cap: Option<MaterialId>,
    /// Preservative on the ends of every piece.
    pub end_treatment: Option<MaterialId>,
    /// What the first course is bedded on.
    pub base: Option<WallBase>,
    /// What the timber weighs when the material does not say it.
    pub density: Known<Density>,
}

/// Steel pins driven down through timbers.
#[derive(Clone, Debug)]
pub struct Pins {
    /// Their material, by the piece.
    pub material: MaterialId,
    /// Greatest distance between pins along a timber, besides one at each end.
    pub every: Known<Length>,
    /// How long one is.
    pub length: Known<Length>,
}

/// Timbers that tie a wall back into the ground behind it, each with a crosspiece.
#[derive(Clone, Debug)]
pub struct Anchors {
    /// Greatest distance between them along a run; what the library has is used on falling ground only.
    pub every: Known<Length>,
    /// How far each reaches back from the inside face.
    pub length: Known<Length>,
    /// Length of the crosspiece at its end.
    pub cross: Known<Length>,
    /// Height of wall for each row of anchors; a lower wall has none.
    pub tier: Known<Length>,
}

/// A bed without walls.
#[derive(Clone, Debug)]
pub struct Mound {
    /// Run of the sides for each rise of one.
    pub side_slope: Known<Decimal>,
}
