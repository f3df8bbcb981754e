//! What a drawing is made of.

use super::paper::{Paper, Scale};
use crate::model::material::Category;

/// A point on paper: to the right, and down.
pub type Spot = (Paper, Paper);

/// A finished drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawing {
    /// How wide it is.
    pub width: Paper,
    /// How high it is.
    pub height: Paper,
    /// Its scale.
    pub scale: Scale,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// What it is made of, the lowest first.
    pub marks: Vec<Mark>,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// The edge of something that is cut or seen.
    Edge,
    /// Joints within a wall, leaders, lines of measure.
    Thin,
    /// What is not there yet, or out of sight.
    Dashed,
}

/// Where a text is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// At its start.
    Start,
    /// At its middle.
    Middle,
    /// At its end.
    End,
}

/// A filling that is told apart in grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// Walls that are cut through.
    Wall,
    /// Ground below.
    Ground,
    /// Coarse wood: rings.
    Wood,
    /// Soil and blends: fine dots.
    Soil,
    /// Compost: short strokes.
    Compost,
    /// Gravel and sand: small circles.
    Gravel,
    /// Leaves, straw, mulch: waves.
    Litter,
    /// Anything else: slanting lines.
    Other,
}

impl Pattern {
    /// Every pattern.
    pub const ALL: [Self; 8] = [
        Self::Wall,
        Self::Ground,
        Self::Wood,
        Self::Soil,
        Self::Compost,
        Self::Gravel,
        Self::Litter,
        Self::Other,
    ];

    /// The pattern of a layer.
    pub const fn of(category: Category) -> Self {
        match category {
            Category::Wood => Self::Wood,
            Category::Soil | Category::Medium => Self::Soil,
            Category::Compost => Self::Compost,
            Category::Aggregate | Category::Stone => Self::Gravel,
            Category::Litter | Category::Mulch => Self::Litter,
            _ => Self::Other,
        }
    }

    /// Its name within a drawing.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Wall => "wall",
            Self::Ground => "ground",
            Self::Wood => "wood",
            Self::Soil => "soil",
            Self::Compost => "compost",
            Self::Gravel => "gravel",
            Self::Litter => "litter",
            Self::Other => "other",
        }
    }
}

/// One mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A closed outline, with others left out of it, filled.
    Area {
        /// The outline, then what is left out.
        outlines: Vec<Vec<Spot>>,
        /// How it is filled; nothing for white.
        pattern: Option<Pattern>,
        /// How its edge is drawn.
        edge: Line,
    },
    /// A line through points.
    Path {
        /// The points.
        points: Vec<Spot>,
        /// How it is drawn.
        line: Line,
    },
    /// Words.
    Words {
        /// Where.
        at: Spot,
        /// What.
        text: String,
        /// Which part of the words stands there.
        anchor: Anchor,
        /// Whether they run upwards.
        upright: bool,
        /// Whether they stand out.
        strong: bool,
        /// Whether they stand on a plate of white, so that a pattern does not run through them.
        plate: bool,
    },
}

impl Mark {
    /// Words that run to the right.
    pub(super) fn words(at: Spot, text: impl Into<String>, anchor: Anchor) -> Self {
        Self::Words {
            at,
            text: text.into(),
            anchor,
            upright: false,
            strong: false,
            plate: false,
        }
    }

    /// Words that run to the right over a pattern.
    pub(super) fn plated(at: Spot, text: impl Into<String>, anchor: Anchor, strong: bool) -> Self {
        Self::Words {
            at,
            text: text.into(),
            anchor,
            upright: false,
            strong,
            plate: true,
        }
    }

    /// A line through points.
    pub(super) fn path(points: impl IntoIterator<Item = Spot>, line: Line) -> Self {
        Self::Path {
            points: points.into_iter().collect(),
            line,
        }
    }
}
