//! The face of a wall from its other face: every side moved by the thickness, corners mitred.

use rust_decimal::Decimal;

use super::outline::{Outline, Point, Side};
use crate::units::{Area, Length};

/// Corners sharper than this (1 + cosine of the turn, about 1/40 of a degree) have no mitre.
const SHARPEST: Decimal = Decimal::from_parts(1, 0, 0, false, 7);

impl Outline {
    /// The outline with every side moved inward by `by`; outward when `by` is negative.
    ///
    /// `None` when a side would vanish or sides would cross: then nothing, or no one piece, is left.
    pub fn inward(&self, by: Length) -> Option<Self> {
        let sides: Vec<Side> = self.sides().collect();
        let before = sides.iter().cycle().skip(sides.len().saturating_sub(1));
        let corners: Option<Vec<Point>> = before
            .zip(&sides)
            .map(|(last, side)| mitre(*last, *side, by))
            .collect();
        let corners = corners?;
        // A side that has turned round has been eaten, even when what is left looks like an outline.
        let moved = corners.iter().zip(corners.iter().cycle().skip(1));
        let kept = moved.zip(&sides).all(|((from, to), old)| {
            let new = Side {
                from: *from,
                to: *to,
            };
            same_way(new, *old)
        });
        kept.then(|| Self::new(corners).ok())?
    }
}

/// The corner between two sides, moved to the left of both by `by`.
///
/// With unit normals n1 and n2 it moves by `by (n1 + n2) / (1 + n1 n2)`; at right angles that is exact.
fn mitre(last: Side, side: Side, by: Length) -> Option<Point> {
    let ((ax, ay), (bx, by_y)) = (last.direction(), side.direction());
    let cosine = ax
        .saturating_mul(bx)
        .saturating_add(ay.saturating_mul(by_y));
    let divisor = Decimal::ONE.saturating_add(cosine);
    if divisor < SHARPEST {
        return None;
    }
    // The left normal of (x, y) is (-y, x).
    let shift = |sum: Decimal| by.times(sum).split(divisor);
    Some(Point {
        x: side.from.x - shift(ay.saturating_add(by_y)),
        y: side.from.y + shift(ax.saturating_add(bx)),
    })
}

fn same_way(a: Side, b: Side) -> bool {
    let ((ax, ay), (bx, by)) = (a.along(), b.along());
    ax * bx + ay * by > Area::ZERO
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn inches(n: i64) -> Length {
        Length::inches(Decimal::from(n))
    }

    fn outline(points: &[(i64, i64)]) -> Outline {
        Outline::new(
            points
                .iter()
                .map(|(x, y)| Point::new(inches(*x), inches(*y)))
                .collect(),
        )
        .unwrap()
    }

    #[test]
    fn a_wall_round_an_inlet_widens_the_inlet() {
        // 120 x 72 in with an inlet of 48 x 48 in; 2 in walls.
        // Inside: 116 x 68 less (48 + 4) x 48 = 7888 - 2496 = 5392 in2.
        let u = outline(&[
            (0, 0),
            (120, 0),
            (120, 72),
            (84, 72),
            (84, 24),
            (36, 24),
            (36, 72),
            (0, 72),
        ]);
        let inside = u.inward(inches(2)).unwrap();
        assert_eq!(inside.area(), inches(5392) * inches(1));
        // The back is 24 in; two walls of 12 in leave nothing of it.
        assert_eq!(u.inward(inches(12)), None);
        assert!(u.inward(inches(11)).is_some());
    }

    #[test]
    fn a_wall_that_eats_the_bed_leaves_nothing() {
        let bed = outline(&[(0, 0), (96, 0), (96, 48), (0, 48)]);
        assert_eq!(bed.inward(inches(24)), None);
        assert_eq!(bed.inward(inches(30)), None);
        assert!(bed.inward(inches(23)).is_some());
    }

    proptest! {
        #[test]
        fn moving_in_and_out_again_is_nothing_and_inside_is_smaller(
            a in 40_i64..200, b in 40_i64..200, c in -15_i64..15, d in -15_i64..15, t in 1_i64..6,
        ) {
            let outside = outline(&[(0, 0), (a, c), (a + d, b), (d, b + c)]);
            let inside = outside.inward(inches(t)).unwrap();
            prop_assert!(inside.area() < outside.area());
            let again = inside.inward(Length::ZERO - inches(t)).unwrap();
            let off = (again.area().in_square_metres() - outside.area().in_square_metres()).abs();
            prop_assert!(off < Decimal::new(1, 20));
        }
    }
}
