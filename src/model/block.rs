//! Blocks: the units of walls laid in courses with running bond.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::units::{Length, Volume, Weight};

/// How a block is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BlockMake {
    /// With open cells.
    Hollow,
    /// Without cells: solid block, brick, caps.
    Solid,
    /// Laid dry by a lip or pins, and tapered to follow curves.
    Segmental,
}

impl BlockMake {
    /// Every make.
    pub const ALL: [Self; 3] = [Self::Hollow, Self::Solid, Self::Segmental];

    /// Its word in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hollow => "hollow",
            Self::Solid => "solid",
            Self::Segmental => "segmental",
        }
    }
}

/// The true size of a block, and what it weighs.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct BlockSize {
    /// The name the trade calls it, as `8x8x16`: depth, height, length.
    pub nominal: Arc<str>,
    /// How it is made.
    pub make: BlockMake,
    /// Nominal height, for recognising heights given as nominal courses.
    pub nominal_height: Length,
    /// Along the wall.
    pub length: Length,
    /// Up the wall, without a joint.
    pub height: Length,
    /// Through the wall.
    pub depth: Length,
    /// The joint that goes with it when it is laid in mortar.
    pub joint: Length,
    /// Share of its bulk that is open cells.
    pub cells: Decimal,
    /// What one weighs; `None` when nothing says it.
    pub weight: Option<Weight>,
}

impl BlockSize {
    /// Its bulk, cells included.
    pub fn bulk(&self) -> Volume {
        (self.length * self.depth).filled_to(self.height)
    }

    /// Length of the half that goes with it: two halves and a joint are as long as a whole.
    pub fn half_length(&self) -> Length {
        (self.length - self.joint).split(Decimal::TWO)
    }
}
