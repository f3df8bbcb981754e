//! Frames: how walls are built.

use std::sync::Arc;

use super::id;
use super::known::Known;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::Length;

id!(
    /// A frame of the job, by its place in [`crate::model::job::Job::frames`].
    FrameId
);

/// The kind of wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FrameKind {
    /// Boards of one section on edge, course by course.
    Boards,
    /// Bought whole, by the unit.
    ReadyMade,
    /// No wall: a mound.
    None,
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

/// Posts that hold the boards.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Posts {
    /// Their material.
    pub material: MaterialId,
    /// Greatest distance between posts along a run.
    pub spacing: Known<Length>,
    /// How deep they stand in the ground; zero for posts that end at the ground.
    pub buried: Known<Length>,
}

/// One row of `Frames`.
#[derive(Clone, Debug)]
pub struct Frame {
    /// The row; `None` for a frame of the trade library.
    pub at: Option<RowAt>,
    /// Its name.
    pub name: Arc<str>,
    /// The kind of wall.
    pub kind: FrameKind,
    /// Boards, or the ready-made unit; `None` for no wall.
    pub material: Option<MaterialId>,
    /// Wall thickness for ready-made units, when measured outside; zero otherwise.
    pub wall: Known<Length>,
    /// Posts, when there are any.
    pub posts: Option<Posts>,
    /// Corner rule.
    pub corner: Known<Corner>,
    /// Boards laid flat on the rim, mitred.
    pub cap: Option<MaterialId>,
    /// Greatest distance between braces across a long bed; `None` for no braces.
    pub brace_every: Option<Known<Length>>,
    /// Material of the braces; the frame's boards when `None`.
    pub brace: Option<MaterialId>,
    /// Screws or bolts.
    pub fastener: Option<MaterialId>,
    /// How many per board end and course, at corners, posts and splices.
    pub per_joint: Known<u32>,
    /// Liner on the inside of the walls.
    pub liner: Option<MaterialId>,
    /// Mesh below the bed.
    pub mesh: Option<MaterialId>,
    /// Finish on the outside and rim.
    pub finish: Option<MaterialId>,
    /// Coats of finish.
    pub coats: Known<u32>,
    /// Side slope of a mound without walls, as run over rise.
    pub side_slope: Known<rust_decimal::Decimal>,
}
