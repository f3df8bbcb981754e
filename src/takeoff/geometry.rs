//! From the shape of a bed to the outline of one face of its walls, and from one face to the other.

use rust_decimal::Decimal;

use super::angle::{PI, sine, tangent};
use super::curved::Curved;
use super::outline::{Outline, OutlineFault, Point, Side};
use crate::model::bed::{KeyholePath, Shape};
use crate::units::{Area, Length};

/// More sides than any regular bed is built with.
const MOST_SIDES: u32 = 360;

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

/// Why a shape is none, and in which column that shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShapeFault {
    /// Canonical column title.
    pub field: &'static str,
    /// One sentence without a full stop.
    pub sentence: &'static str,
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

fn fault(field: &'static str, sentence: &'static str) -> ShapeFault {
    ShapeFault { field, sentence }
}

impl Figure {
    /// The outline of a shape, all measures taken along one face of the walls.
    pub fn of(shape: &Shape) -> Result<Self, ShapeFault> {
        for (field, length) in measures(shape) {
            if length <= Length::ZERO {
                return Err(fault(field, "a bed needs a measure greater than zero here"));
            }
        }
        match shape {
            Shape::Rectangle { length, width } => Ok(Self::Rectangle {
                length: *length,
                width: *width,
            }),
            Shape::L {
                length,
                width,
                notch_length,
                notch_width,
            } => angle_bed(*length, *width, *notch_length, *notch_width),
            Shape::U {
                length,
                width,
                notch_length,
                notch_width,
            } => inlet_bed(*length, *width, *notch_length, *notch_width),
            Shape::Trapezoid {
                length,
                side,
                width,
            } => {
                let indent = (*length - *side).split(Decimal::TWO);
                let zero = Length::ZERO;
                let top = (indent + *side, *width);
                straight(&[(zero, zero), (*length, zero), top, (indent, *width)])
            }
            Shape::Triangle { length, width } => straight(&[
                (Length::ZERO, Length::ZERO),
                (*length, Length::ZERO),
                (Length::ZERO, *width),
            ]),
            Shape::Regular { sides, side } => regular(*sides, *side),
            Shape::Polygon { points } => straight(points),
            round => curved(round).map(Self::Curved),
        }
    }

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

/// The measures of a shape that must be greater than zero, with their columns.
fn measures(shape: &Shape) -> Vec<(&'static str, Length)> {
    match shape {
        Shape::Rectangle { length, width }
        | Shape::Triangle { length, width }
        | Shape::Ellipse { length, width }
        | Shape::RoundEnded { length, width } => vec![("Length", *length), ("Width", *width)],
        Shape::L {
            length,
            width,
            notch_length,
            notch_width,
        }
        | Shape::U {
            length,
            width,
            notch_length,
            notch_width,
        } => vec![
            ("Length", *length),
            ("Width", *width),
            ("Notch length", *notch_length),
            ("Notch width", *notch_width),
        ],
        Shape::Trapezoid {
            length,
            side,
            width,
        } => vec![("Length", *length), ("Side", *side), ("Width", *width)],
        Shape::Regular { side, .. } => vec![("Side", *side)],
        Shape::Circle { diameter } | Shape::Keyhole { diameter, .. } => {
            vec![("Diameter", *diameter)]
        }
        Shape::QuarterCircle { radius } => vec![("Length", *radius)],
        Shape::Polygon { .. } => Vec::new(),
    }
}

fn straight(points: &[(Length, Length)]) -> Result<Figure, ShapeFault> {
    let corners = points.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    Outline::new(corners).map(Figure::Straight).map_err(|why| {
        let sentence = match why {
            OutlineFault::TooFew => "an outline needs at least three corners",
            OutlineFault::Repeated => "two neighbouring corners of the outline are the same point",
            OutlineFault::Crosses => {
                "the sides of the outline cross, touch or run back on each other"
            }
            OutlineFault::Flat => "all corners of the outline lie on one line",
        };
        fault("Points", sentence)
    })
}

fn angle_bed(l: Length, w: Length, nl: Length, nw: Length) -> Result<Figure, ShapeFault> {
    notch_fits(l, w, nl, nw)?;
    let zero = Length::ZERO;
    let notch = [(l, w - nw), (l - nl, w - nw), (l - nl, w)];
    let mut points = vec![(zero, zero), (l, zero)];
    points.extend(notch);
    points.push((zero, w));
    straight(&points)
}

fn inlet_bed(l: Length, w: Length, nl: Length, nw: Length) -> Result<Figure, ShapeFault> {
    notch_fits(l, w, nl, nw)?;
    let (zero, arm) = (Length::ZERO, (l - nl).split(Decimal::TWO));
    straight(&[
        (zero, zero),
        (l, zero),
        (l, w),
        (l - arm, w),
        (l - arm, w - nw),
        (arm, w - nw),
        (arm, w),
        (zero, w),
    ])
}

fn notch_fits(l: Length, w: Length, nl: Length, nw: Length) -> Result<(), ShapeFault> {
    if nl >= l {
        return Err(fault(
            "Notch length",
            "the notch must be shorter than the bed is long",
        ));
    }
    if nw >= w {
        return Err(fault(
            "Notch width",
            "the notch must be less wide than the bed",
        ));
    }
    Ok(())
}

fn regular(sides: u32, side: Length) -> Result<Figure, ShapeFault> {
    if (3..=MOST_SIDES).contains(&sides) {
        return Ok(Figure::Regular { sides, side });
    }
    Err(fault("Shape", "a regular bed has from 3 to 360 sides"))
}

fn curved(shape: &Shape) -> Result<Curved, ShapeFault> {
    let half = |length: Length| length.split(Decimal::TWO);
    Ok(match shape {
        Shape::Circle { diameter } => Curved::Circle {
            radius: half(*diameter),
        },
        Shape::QuarterCircle { radius } => Curved::Quarter {
            radius: *radius,
            inset: Length::ZERO,
        },
        Shape::Ellipse { length, width } => Curved::Ellipse {
            along: half(*length),
            across: half(*width),
        },
        Shape::RoundEnded { length, width } if length < width => {
            return Err(fault(
                "Width",
                "a bed with round ends cannot be wider than long",
            ));
        }
        Shape::RoundEnded { length, width } => Curved::RoundEnded {
            straight: *length - *width,
            radius: half(*width),
        },
        Shape::Keyhole {
            diameter,
            basket,
            path,
        } => keyhole(half(*diameter), half(*basket), *path)?,
        _ => return Err(fault("Shape", "this shape has no curved sides")),
    })
}

fn keyhole(radius: Length, basket: Length, path: KeyholePath) -> Result<Curved, ShapeFault> {
    if basket <= Length::ZERO || basket >= radius {
        let words =
            "the basket of a keyhole bed must be greater than zero and smaller than the bed";
        return Err(fault("Basket", words));
    }
    let (angle, aside) = match path {
        KeyholePath::Strip(width) => (Decimal::ZERO, width.split(Decimal::TWO)),
        KeyholePath::Wedge(wide) => (wide, Length::ZERO),
    };
    if angle < Decimal::ZERO || angle >= Decimal::from(180) || aside < Length::ZERO {
        let words = "the path of a keyhole bed must be less than half a turn wide";
        return Err(fault("Path", words));
    }
    if aside > basket {
        let words = "the path of a keyhole bed cannot be wider than its basket";
        return Err(fault("Path", words));
    }
    Ok(Curved::Keyhole {
        radius,
        basket,
        angle: Curved::wedge(angle),
        aside,
    })
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
