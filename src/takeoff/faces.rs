//! The two faces of a bed's walls in plan.

use super::bill::Bill;
use super::geometry::Figure;
use super::trace::Trace;
use crate::model::bed::{Measured, Shape};
use crate::problem::Problem;
use crate::units::{Length, System};

/// Outline outside and inside the walls.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faces {
    /// Outside the walls.
    pub outside: Figure,
    /// Inside the walls.
    pub inside: Figure,
    /// Between the two.
    pub thickness: Length,
}

/// What is said when walls leave nothing between them.
pub(super) fn eaten() -> Problem {
    Problem::error("the wall eats the bed: walls this thick leave no one piece inside this outline")
        .hint("make the bed wider or its narrow parts wider, or the wall thinner")
}

/// The column in which the size of a shape is most likely wrong.
pub(super) fn size_field(shape: &Shape) -> &'static str {
    match shape {
        Shape::Circle { .. } | Shape::Keyhole { .. } => "Diameter",
        Shape::Regular { .. } => "Side",
        Shape::Polygon { .. } => "Points",
        Shape::QuarterCircle { .. } => "Length",
        _ => "Width",
    }
}

/// Both faces from the one that was measured; `None` after a problem was told.
pub(super) fn of(bill: &mut Bill<'_>, thickness: Length, trace: &mut impl Trace) -> Option<Faces> {
    let bed = bill.bed;
    let measured = match Figure::of(&bed.shape) {
        Ok(figure) => figure,
        Err(fault) => {
            bill.tell(Problem::error(fault.sentence), fault.field);
            return None;
        }
    };
    let by = match bed.measured {
        Measured::Outside => thickness,
        Measured::Inside => Length::ZERO - thickness,
    };
    let Some(other) = measured.inward(by) else {
        bill.tell(eaten(), size_field(&bed.shape));
        return None;
    };
    let faces = match bed.measured {
        Measured::Outside => Faces {
            outside: measured,
            inside: other,
            thickness,
        },
        Measured::Inside => Faces {
            outside: other,
            inside: measured,
            thickness,
        },
    };
    show(&faces, bed.measured, bill.units, trace);
    Some(faces)
}

fn show(faces: &Faces, measured: Measured, units: System, trace: &mut impl Trace) {
    if let (
        Figure::Rectangle { length, width },
        Figure::Rectangle {
            length: l,
            width: w,
        },
    ) = (&faces.outside, &faces.inside)
    {
        let wall = faces.thickness;
        let (names, pairs) = match measured {
            Measured::Outside => (["inside length", "inside width"], [(length, l), (width, w)]),
            Measured::Inside => (
                ["outside length", "outside width"],
                [(l, length), (w, width)],
            ),
        };
        let sign = if measured == Measured::Outside {
            "-"
        } else {
            "+"
        };
        for (name, (from, to)) in names.into_iter().zip(pairs) {
            trace.step(
                name,
                || {
                    let (from, wall) = (units.length(*from), units.length(wall));
                    format!("{from} {sign} 2 x {wall}")
                },
                || units.length(*to),
            );
        }
    }
    trace.step(
        "outside area",
        || "area within the outside face of the walls".to_owned(),
        || units.area(faces.outside.area()),
    );
    trace.step(
        "inside area",
        || match &faces.inside {
            Figure::Rectangle { length, width } => {
                format!("{} x {}", units.length(*length), units.length(*width))
            }
            _ => format!("outline inside walls of {}", units.length(faces.thickness)),
        },
        || units.area(faces.inside.area()),
    );
}
