//! Beds and their shapes.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::drip::DripId;
use super::fill::FillId;
use super::frame::FrameId;
use super::ground::GroundWork;
use super::id;
use super::job::{PhaseId, SiteId};
use super::known::Known;
use super::source::RowAt;
use crate::units::Length;

id!(
    /// A bed row, by its place in [`crate::model::job::Job::beds`].
    BedId
);

/// Plan of a bed. All lengths as measured (see [`Measured`]).
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// Four right angles.
    Rectangle {
        /// Long side.
        length: Length,
        /// Short side.
        width: Length,
    },
    /// A rectangle less a rectangular notch at one corner.
    L {
        /// Overall length.
        length: Length,
        /// Overall width.
        width: Length,
        /// Notch along the length.
        notch_length: Length,
        /// Notch along the width.
        notch_width: Length,
    },
    /// A rectangle less an inlet in the middle of one long side.
    U {
        /// Overall length.
        length: Length,
        /// Overall width (depth of the two arms and the back).
        width: Length,
        /// Width of the inlet, along the length.
        notch_length: Length,
        /// Depth of the inlet, along the width.
        notch_width: Length,
    },
    /// Two parallel sides, symmetric.
    Trapezoid {
        /// Longer parallel side.
        length: Length,
        /// Shorter parallel side.
        side: Length,
        /// Distance between them.
        width: Length,
    },
    /// A right triangle for a corner, by its two legs.
    Triangle {
        /// One leg.
        length: Length,
        /// The other leg.
        width: Length,
    },
    /// Equal sides, equal angles.
    Regular {
        /// How many sides, 3 or more.
        sides: u32,
        /// Length of one.
        side: Length,
    },
    /// A circle.
    Circle {
        /// Diameter.
        diameter: Length,
    },
    /// A quarter of a circle, for a corner.
    QuarterCircle {
        /// Radius, which is the length of both straight sides.
        radius: Length,
    },
    /// An ellipse by its two full axes.
    Ellipse {
        /// Longer axis.
        length: Length,
        /// Shorter axis.
        width: Length,
    },
    /// Straight sides with half-round ends.
    RoundEnded {
        /// Overall length, with the round ends.
        length: Length,
        /// Overall width.
        width: Length,
    },
    /// A round bed with a compost basket in the middle and a path to it.
    Keyhole {
        /// Outer diameter.
        diameter: Length,
        /// Diameter of the basket.
        basket: Length,
        /// The path to the basket.
        path: KeyholePath,
    },
    /// Any outline without crossings, by its corners in order.
    Polygon {
        /// Corners; the last joins the first.
        points: Vec<(Length, Length)>,
    },
}

/// A wall that a bed has in common with the one beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Join {
    /// The bed beside it.
    pub with: BedId,
    /// How much wall serves both, along its outside.
    pub length: Length,
    /// Whether the wall is counted with this bed; else it is with the other.
    pub bears: bool,
}

/// The way in to the middle of a keyhole bed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum KeyholePath {
    /// A strip of even width.
    Strip(Length),
    /// A wedge, by its angle in degrees.
    Wedge(Decimal),
}

/// Whether the plan was measured to the outside or the inside of the walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measured {
    /// Outside of the walls.
    Outside,
    /// Inside of the walls.
    Inside,
}

/// What the bed stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Base {
    /// Soil that roots can enter.
    OpenGround,
    /// Paving.
    Paved,
    /// A roof or a deck, where the load must be checked.
    RoofOrDeck,
}

/// Along which way the ground falls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Along {
    /// The length.
    Length,
    /// The width.
    Width,
}

/// How the ground falls; the rim is level, so the low side's wall is taller.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Slope {
    /// Fall as a fraction of the distance: 0.1 for 10%.
    pub fall: Decimal,
    /// Along which side.
    pub along: Along,
}

/// One row of `Beds`.
#[derive(Clone, Debug)]
pub struct Bed {
    /// The row.
    pub at: RowAt,
    /// Name, unlike any other bed's.
    pub name: Arc<str>,
    /// How many alike.
    pub count: u32,
    /// Plan.
    pub shape: Shape,
    /// To which face of the walls.
    pub measured: Measured,
    /// Wall height at the highest ground, when given.
    pub height: Option<Length>,
    /// Courses, when given; they win over the height.
    pub courses: Option<u32>,
    /// How it is walled.
    pub frame: FrameId,
    /// How it is filled; `None` for an empty bed.
    pub fill: Option<FillId>,
    /// What will grow, as typed.
    pub crop: Option<Arc<str>>,
    /// Where it stands.
    pub site: SiteId,
    /// When it is built.
    pub phase: PhaseId,
    /// What it stands on.
    pub base: Base,
    /// Whether the bottom is closed.
    pub closed_bottom: bool,
    /// Clear space below it, for table beds.
    pub underside_clear: Option<Length>,
    /// Walls in common with beds beside it, in the order of their names.
    pub joins: Vec<Join>,
    /// What is done to the ground first: as the bed says, else its site, else the job.
    pub ground: Known<GroundWork>,
    /// How the ground falls.
    pub slope: Option<Slope>,
    /// How it is watered; `None` when no row of `Irrigation` waters it.
    pub drip: Option<DripId>,
    /// Rank for leaving beds out, 1 first.
    pub priority: Option<u32>,
    /// Free words.
    pub note: Option<Arc<str>>,
}
