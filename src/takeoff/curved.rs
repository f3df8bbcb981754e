//! Outlines with curved sides, and what a wall leaves of them.
//!
//! Each is kept by the measures that a wall moves, so that the inside of the outside is the same again.

use rust_decimal::{Decimal, MathematicalOps};

use super::angle::{PI, arcsine, degrees, side_of_square};
use crate::units::{Area, Length};

/// A curved outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curved {
    /// A circle.
    Circle {
        /// Its radius.
        radius: Length,
    },
    /// The corner cut out of a circle by two lines at right angles, each `inset` from its middle.
    Quarter {
        /// Radius of the arc.
        radius: Length,
        /// Distance of the straight sides from the middle of the arc; zero for a true quarter.
        inset: Length,
    },
    /// An ellipse.
    Ellipse {
        /// Half the longer axis.
        along: Length,
        /// Half the shorter axis.
        across: Length,
    },
    /// Straight sides with half-round ends.
    RoundEnded {
        /// Length of a straight side.
        straight: Length,
        /// Radius of the ends.
        radius: Length,
    },
    /// A ring with a way in.
    Keyhole {
        /// Outer radius.
        radius: Length,
        /// Radius of the basket in the middle, which has no wall of its own.
        basket: Length,
        /// Angle of the way in, in radians; zero for a strip.
        angle: Decimal,
        /// How far each side of the way in stands off its radial line: half the width of a strip.
        aside: Length,
    },
}

/// Area between a circle's diameter and the parallel line at distance `x`, on one side of the middle:
/// F(a) = x/2 sqrt(a2 - x2) + a2/2 asin(x/a). Beyond the circle it is the quarter disc.
fn half_strip(radius: Length, x: Length) -> Area {
    let x = x.min(radius).max(Length::ZERO - radius);
    let half = Decimal::new(5, 1);
    let chord = side_of_square(radius * radius - x * x);
    (x * chord).times(half)
        + (radius * radius)
            .times(half)
            .times(arcsine(x.ratio(radius)))
}

fn two(length: Length) -> Length {
    length.times(Decimal::TWO)
}

impl Curved {
    /// The degrees of a wedge path as an angle.
    pub fn wedge(degrees_wide: Decimal) -> Decimal {
        degrees(degrees_wide)
    }

    /// The outline moved inward by `by`, outward when negative; `None` when nothing is left.
    ///
    /// For an ellipse both axes are reduced, which is approximate: the true inner line of an even
    /// wall is not an ellipse, and differs by less than the wall is thick.
    pub fn inward(self, by: Length) -> Option<Self> {
        let left = |length: Length| Some(length - by).filter(|l| *l > Length::ZERO);
        Some(match self {
            Self::Circle { radius } => Self::Circle {
                radius: left(radius)?,
            },
            Self::Quarter { radius, inset } => {
                let (radius, inset) = (left(radius)?, inset + by);
                // The straight sides must still cross within the arc: 2 inset2 < radius2.
                let crosses = (inset * inset).times(Decimal::TWO) < radius * radius;
                (crosses || inset <= Length::ZERO).then_some(Self::Quarter { radius, inset })?
            }
            Self::Ellipse { along, across } => Self::Ellipse {
                along: left(along)?,
                across: left(across)?,
            },
            Self::RoundEnded { straight, radius } => Self::RoundEnded {
                straight,
                radius: left(radius)?,
            },
            Self::Keyhole {
                radius,
                basket,
                angle,
                aside,
            } => {
                let (radius, aside) = (left(radius)?, aside + by);
                (radius > basket && radius > aside).then_some(Self::Keyhole {
                    radius,
                    basket,
                    angle,
                    aside,
                })?
            }
        })
    }

    /// Area within.
    pub fn area(self) -> Area {
        match self {
            Self::Circle { radius } => (radius * radius).times(PI),
            Self::Quarter { radius, inset } => {
                let reach = side_of_square(radius * radius - inset * inset);
                half_strip(radius, reach) - half_strip(radius, inset) - inset * (reach - inset)
            }
            Self::Ellipse { along, across } => (along * across).times(PI),
            Self::RoundEnded { straight, radius } => {
                (radius * radius).times(PI) + two(radius) * straight
            }
            Self::Keyhole {
                radius,
                basket,
                angle,
                aside,
            } => {
                let ring = radius * radius - basket * basket;
                let turned = full_turn().saturating_sub(angle);
                let sector = ring.times(turned).split(Decimal::TWO);
                sector - (half_strip(radius, aside) - half_strip(basket, aside)).times(Decimal::TWO)
            }
        }
    }

    /// Length of the walls: for a keyhole the outer arc and both sides of the way in, without the basket.
    ///
    /// For an ellipse it is Ramanujan's second formula, good to five digits at any flatness met in a garden.
    pub fn perimeter(self) -> Length {
        match self {
            Self::Circle { radius } => radius.times(full_turn()),
            Self::Quarter { radius, inset } => {
                let reach = side_of_square(radius * radius - inset * inset);
                let arc = arcsine(reach.ratio(radius)).saturating_sub(arcsine(inset.ratio(radius)));
                two(reach - inset) + radius.times(arc)
            }
            Self::Ellipse { along, across } => ellipse_perimeter(along, across),
            Self::RoundEnded { straight, radius } => radius.times(full_turn()) + two(straight),
            Self::Keyhole {
                radius,
                basket,
                angle,
                aside,
            } => {
                let open =
                    angle.saturating_add(arcsine(aside.ratio(radius)).saturating_mul(Decimal::TWO));
                let reach = |r: Length| side_of_square(r * r - aside * aside);
                radius.times(full_turn().saturating_sub(open)) + two(reach(radius) - reach(basket))
            }
        }
    }

    /// Greatest extent along the length and along the width.
    pub fn extent(self) -> (Length, Length) {
        match self {
            Self::Circle { radius } | Self::Keyhole { radius, .. } => (two(radius), two(radius)),
            Self::Quarter { radius, inset } => {
                let reach = side_of_square(radius * radius - inset * inset);
                (reach - inset, reach - inset)
            }
            Self::Ellipse { along, across } => (two(along), two(across)),
            Self::RoundEnded { straight, radius } => (straight + two(radius), two(radius)),
        }
    }
}

fn full_turn() -> Decimal {
    PI.saturating_mul(Decimal::TWO)
}

/// pi (a + b) (1 + 3h / (10 + sqrt(4 - 3h))) with h = ((a - b)/(a + b)) squared.
fn ellipse_perimeter(a: Length, b: Length) -> Length {
    let lean = (a - b).ratio(a + b);
    let h3 = lean.saturating_mul(lean).saturating_mul(Decimal::from(3));
    let root = Decimal::from(4)
        .saturating_sub(h3)
        .sqrt()
        .unwrap_or_default();
    let more = h3
        .checked_div(Decimal::TEN.saturating_add(root))
        .unwrap_or_default();
    (a + b).times(PI).times(Decimal::ONE.saturating_add(more))
}
