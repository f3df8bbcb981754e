//! The room that is filled: between walls, or within the slopes of a mound.
//!
//! Posts and braces that stand in it are not taken off its volume, which errs on the full side; caps and
//! buried parts are no part of it.

use rust_decimal::Decimal;

use super::geometry::Figure;
use super::solids::prismatoid;
use crate::units::{Area, Length, Volume};

/// What a fill goes into.
#[derive(Clone, Debug)]
pub(super) enum Room {
    /// Upright walls.
    Walled {
        /// Area between them.
        area: Area,
        /// Height that is filled.
        height: Length,
        /// Height of the rim above the ground, half way down the fall.
        rim: Length,
    },
    /// A heap with even side slopes and no rim.
    Mound {
        /// Its outline on the ground.
        foot: Figure,
        /// Run over rise of its sides.
        slope: Decimal,
        /// How high it is.
        height: Length,
    },
}

impl Room {
    /// Height that is filled.
    pub(super) fn height(&self) -> Length {
        match self {
            Self::Walled { height, .. } | Self::Mound { height, .. } => *height,
        }
    }

    /// Area at the ground.
    pub(super) fn area(&self) -> Area {
        match self {
            Self::Walled { area, .. } => *area,
            Self::Mound { foot, .. } => foot.area(),
        }
    }

    /// Height of the rim; `None` when there is none.
    pub(super) fn rim(&self) -> Option<Length> {
        match self {
            Self::Walled { rim, .. } => Some(*rim),
            Self::Mound { .. } => None,
        }
    }

    /// Volume between two levels above the ground.
    pub(super) fn volume(&self, from: Length, to: Length) -> Volume {
        match self {
            Self::Walled { area, .. } => area.filled_to(to - from),
            Self::Mound { foot, slope, .. } => {
                let middle = (from + to).split(Decimal::TWO);
                let at = |level: Length| {
                    let face = foot.inward(level.times(*slope));
                    face.map_or(Area::ZERO, |f| f.area())
                };
                prismatoid(at(from), at(middle), at(to), to - from)
            }
        }
    }
}
