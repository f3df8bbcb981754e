//! The outline of one face of a bed's walls: its area, its length, its runs, and the other face.

use rust_decimal::Decimal;

use super::angle::{PI, sine, tangent};
use super::curved::Curved;
use super::outline::{Outline, Side};
use crate::units::{Area, Length};

/// The outline of a bed in plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Figure {
    /// Four right angles.
    Rectangle {
        /// Along x.
        length: Length,
        /// Along y.
        width: Length,
    },
    /// Any other straight sides.
    Straight(Outline),
    /// Equal sides, equal angles.
    Regular {
        /// How many, 3 or more.
        sides: u32,
        /// Length of one.
        side: Length,
    },
    /// Curved sides.
    Curved(Curved),
}

/// A stretch of wall between two corners, along the outside face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// From corner to corner on the outside face.
    pub length: Length,
    /// The corner where it starts.
    pub start: Bend,
    /// The corner where it ends.
    pub end: Bend,
}

/// How an outline turns at a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bend {
    /// Whether the bed lies on the outer side of the corner, as in the notch of an L.
    pub inner: bool,
    /// Tangent of half the turn: how far a mitre runs for one unit of thickness.
    pub mitre: Decimal,
}

impl Bend {
    /// A right angle at an outer corner.
    pub const SQUARE: Self = Self {
        inner: false,
        mitre: Decimal::ONE,
    };
}

impl Figure {
    /// The outline moved inward by `by`, outward when negative; `None` when no one piece is left.
    pub fn inward(&self, by: Length) -> Option<Self> {
        let twice = by.times(Decimal::TWO);
        let left = |length: Length, less: Length| Some(length - less).filter(|l| *l > Length::ZERO);
        Some(match self {
            Self::Rectangle { length, width } => Self::Rectangle {
                length: left(*length, twice)?,
                width: left(*width, twice)?,
            },
            Self::Straight(outline) => Self::Straight(outline.inward(by)?),
            Self::Regular { sides, side } => Self::Regular {
                sides: *sides,
                side: left(*side, twice.times(half_turn_tangent(*sides)))?,
            },
            Self::Curved(curved) => Self::Curved(curved.inward(by)?),
        })
    }

    /// Area within.
    pub fn area(&self) -> Area {
        match self {
            Self::Rectangle { length, width } => *length * *width,
            Self::Straight(outline) => outline.area(),
            // n s2 / (4 tan(pi/n))
            Self::Regular { sides, side } => (*side * *side)
                .times(Decimal::from(*sides))
                .split(half_turn_tangent(*sides).saturating_mul(Decimal::from(4))),
            Self::Curved(curved) => curved.area(),
        }
    }

    /// Length of the walls along this face.
    pub fn perimeter(&self) -> Length {
        match self {
            Self::Rectangle { length, width } => (*length + *width).times(Decimal::TWO),
            Self::Straight(outline) => outline.perimeter(),
            Self::Regular { sides, side } => side.times(Decimal::from(*sides)),
            Self::Curved(curved) => curved.perimeter(),
        }
    }

    /// Greatest extent along the length and along the width; for regular outlines that of the circle round them.
    pub fn extent(&self) -> (Length, Length) {
        match self {
            Self::Rectangle { length, width } => (*length, *width),
            Self::Straight(outline) => outline.extent(),
            Self::Regular { sides, side } => {
                let across = side.split(sine(half_angle(*sides)));
                (across, across)
            }
            Self::Curved(curved) => curved.extent(),
        }
    }

    /// The walls from corner to corner; `None` when they are curved.
    pub fn runs(&self) -> Option<Vec<Run>> {
        let square = |length: Length| Run {
            length,
            start: Bend::SQUARE,
            end: Bend::SQUARE,
        };
        match self {
            Self::Rectangle { length, width } => {
                Some([*length, *width, *length, *width].map(square).to_vec())
            }
            Self::Straight(outline) => Some(outline_runs(outline)),
            Self::Regular { sides, side } => {
                let bend = Bend {
                    inner: false,
                    mitre: half_turn_tangent(*sides),
                };
                let run = Run {
                    length: *side,
                    start: bend,
                    end: bend,
                };
                Some(vec![run; usize::try_from(*sides).unwrap_or(0)])
            }
            Self::Curved(_) => None,
        }
    }

    /// Whether it looks the same from both ends along both directions, so that the middle of a fall is
    /// the mean of its ends.
    pub fn is_balanced(&self) -> bool {
        match self {
            Self::Rectangle { .. } => true,
            Self::Regular { sides, .. } => sides.is_multiple_of(2),
            Self::Curved(curved) => {
                !matches!(curved, Curved::Quarter { .. } | Curved::Keyhole { .. })
            }
            Self::Straight(_) => false,
        }
    }
}

fn half_angle(sides: u32) -> Decimal {
    PI.checked_div(Decimal::from(sides)).unwrap_or_default()
}

fn half_turn_tangent(sides: u32) -> Decimal {
    tangent(half_angle(sides))
}

fn outline_runs(outline: &Outline) -> Vec<Run> {
    let sides: Vec<Side> = outline.sides().collect();
    let last = sides.len().saturating_sub(1);
    let before = sides.iter().cycle().skip(last);
    let after = sides.iter().cycle().skip(1);
    sides
        .iter()
        .zip(before)
        .zip(after)
        .map(|((side, before), after)| Run {
            length: side.length(),
            start: bend(*before, *side),
            end: bend(*side, *after),
        })
        .collect()
}

/// The turn from one side to the next; tan(turn/2) = sin / (1 + cos).
fn bend(a: Side, b: Side) -> Bend {
    let ((ax, ay), (bx, by)) = (a.direction(), b.direction());
    let cross = ax.saturating_mul(by).saturating_sub(ay.saturating_mul(bx));
    let dot = ax.saturating_mul(bx).saturating_add(ay.saturating_mul(by));
    let mitre = cross.abs().checked_div(Decimal::ONE.saturating_add(dot));
    Bend {
        inner: cross < Decimal::ZERO,
        mitre: mitre.unwrap_or_default(),
    }
}

#[cfg(test)]
#[path = "geometry_tests.rs"]
mod tests;
