//! From the shape of a bed, as its row says it, to an outline.

use rust_decimal::Decimal;

use super::curved::Curved;
use super::geometry::Figure;
use super::outline::{Outline, OutlineFault, Point};
use crate::model::bed::{KeyholePath, Shape};
use crate::units::Length;

/// More sides than any regular bed is built with.
const MOST_SIDES: u32 = 360;

/// Why a shape is none, and in which column that shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShapeFault {
    /// Canonical column title.
    pub field: &'static str,
    /// One sentence without a full stop.
    pub sentence: &'static str,
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
            OutlineFault::TooMany => "an outline has at most 1,000 corners",
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
        return Err(fault("Path angle", words));
    }
    if aside > basket {
        let words = "the path of a keyhole bed cannot be wider than its basket";
        return Err(fault("Path angle", words));
    }
    Ok(Curved::Keyhole {
        radius,
        basket,
        angle: Curved::wedge(angle),
        aside,
    })
}
