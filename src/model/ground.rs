//! The ground under beds and paths: what is there, and what is done to it first.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::id;
use super::job::{PhaseId, SiteId};
use super::known::Known;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::show::plain;
use crate::units::{Area as Extent, Length, System};

id!(
    /// A path or surround, by its place in [`crate::model::job::Job::areas`].
    AreaId
);

/// What grows or lies on a site before the work begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cover {
    /// Turf.
    Lawn,
    /// Weeds and light growth, cleared by hand first.
    Weeds,
    /// Dense brush with roots, cleared and grubbed out first.
    Brush,
    /// Soil with nothing on it.
    Bare,
    /// Paving, which nobody digs through with a spade.
    Paving,
}

/// By what turf is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Cutter {
    /// Spade or kick cutter.
    Hand,
    /// A powered cutter; its hire is a row of `Equipment`.
    Powered,
}

/// What is done to the ground before a bed or path comes onto it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum GroundWork {
    /// Nothing.
    Leave,
    /// Mown short and covered with cardboard.
    Cover,
    /// The turf or top is taken off and carried away.
    Strip {
        /// How deep.
        depth: Length,
        /// By what.
        by: Cutter,
    },
    /// Dug out and carried away.
    Dig {
        /// How deep.
        depth: Length,
    },
    /// Loosened with a fork; nothing leaves.
    Loosen,
    /// Dug two spits deep and put back; nothing leaves.
    DoubleDig,
}

impl GroundWork {
    /// Its words as a cell holds them, with its depth in full: `strip 3 in`.
    pub fn words(self, system: System) -> String {
        let deep = |depth: Length| match system {
            System::UsCustomary => format!("{} in", plain(depth.in_inches(), 6)),
            System::Metric => format!("{} mm", plain(depth.in_millimetres(), 3)),
        };
        match self {
            Self::Leave => "leave".to_owned(),
            Self::Cover => "mow and cover".to_owned(),
            Self::Strip { depth, by } => {
                let by = match by {
                    Cutter::Hand => "",
                    Cutter::Powered => " with a cutter",
                };
                format!("strip {}{by}", deep(depth))
            }
            Self::Dig { depth } => format!("dig {}", deep(depth)),
            Self::Loosen => "loosen".to_owned(),
            Self::DoubleDig => "double dig".to_owned(),
        }
    }

    /// How much of the ground leaves its place.
    pub const fn depth(self) -> Option<Length> {
        match self {
            Self::Strip { depth, .. } | Self::Dig { depth } => Some(depth),
            Self::Leave | Self::Cover | Self::Loosen | Self::DoubleDig => None,
        }
    }

    /// Whether tools go into the ground, where lines may lie.
    pub const fn opens_ground(self) -> bool {
        !matches!(self, Self::Leave | Self::Cover)
    }
}

/// How large a path or surround is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Plan {
    /// A rectangle.
    Rectangle {
        /// Long side.
        length: Length,
        /// Short side.
        width: Length,
    },
    /// Measured or reckoned as an area, of whatever outline.
    Measured(Extent),
}

impl Plan {
    /// Its area, beds in it included.
    pub fn area(self) -> Extent {
        match self {
            Self::Rectangle { length, width } => length * width,
            Self::Measured(area) => area,
        }
    }

    /// The way round it; `None` when only the area is known.
    pub fn perimeter(self) -> Option<Length> {
        match self {
            Self::Rectangle { length, width } => Some((length + width).times(Decimal::TWO)),
            Self::Measured(_) => None,
        }
    }
}

/// What is spread on a path or surround.
#[derive(Clone, Debug)]
pub struct Surface {
    /// The material.
    pub material: MaterialId,
    /// How deep when trodden or tamped down.
    pub depth: Known<Length>,
    /// Share of the loose volume that is lost when it is trodden or tamped down.
    pub compaction: Known<Decimal>,
}

/// An edge of a path or surround.
#[derive(Clone, Debug)]
pub struct Edging {
    /// The material.
    pub material: MaterialId,
    /// How much of it.
    pub length: Known<Length>,
}

/// One row of `Areas`: a path, a surround, a gravel yard.
#[derive(Clone, Debug)]
pub struct Area {
    /// The row.
    pub at: RowAt,
    /// Name, unlike any other area's.
    pub name: Arc<str>,
    /// Where it lies.
    pub site: SiteId,
    /// When it is laid.
    pub phase: PhaseId,
    /// How large it is.
    pub plan: Plan,
    /// What lies on top.
    pub surface: Option<Surface>,
    /// Fabric below it.
    pub under: Option<MaterialId>,
    /// What holds its edge.
    pub edging: Option<Edging>,
    /// Whether the footprints of the site's beds are taken off it.
    pub less_beds: bool,
    /// What is done to the ground first.
    pub ground: Known<GroundWork>,
}
