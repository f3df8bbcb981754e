//! Outlines with straight sides: corners in order, counter-clockwise, without crossings.

use rust_decimal::Decimal;

use super::angle::side_of_square;
use crate::units::{Area, Length};

/// Every side is held against every other, so an outline is not endless.
const MOST_CORNERS: usize = 1_000;

/// A corner in plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Point {
    /// Along the length.
    pub x: Length,
    /// Along the width.
    pub y: Length,
}

/// Why corners make no outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutlineFault {
    /// Fewer than three corners.
    TooFew,
    /// More than a thousand.
    TooMany,
    /// Two neighbouring corners are the same.
    Repeated,
    /// Sides cross, touch or run back on each other.
    Crosses,
    /// All corners lie on one line.
    Flat,
}

/// A closed outline with straight sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outline {
    corners: Vec<Point>,
}

/// One side of an outline, from corner to corner.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Side {
    pub(crate) from: Point,
    pub(crate) to: Point,
}

impl Point {
    /// A corner from two lengths.
    pub fn new(x: Length, y: Length) -> Self {
        Self { x, y }
    }
}

/// Twice the area of the triangle `a`, `b`, `c`; positive when they turn left.
fn turn(a: Point, b: Point, c: Point) -> Area {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

impl Side {
    /// Its length; exact for sides along the axes.
    pub(crate) fn length(self) -> Length {
        let (dx, dy) = self.along();
        let straight = |l: Length| Length::metres(l.in_metres().abs());
        if dy.is_zero() {
            straight(dx)
        } else if dx.is_zero() {
            straight(dy)
        } else {
            side_of_square(dx * dx + dy * dy)
        }
    }

    /// Its extent along x and y.
    pub(crate) fn along(self) -> (Length, Length) {
        (self.to.x - self.from.x, self.to.y - self.from.y)
    }

    /// Its direction as a vector of length 1.
    pub(crate) fn direction(self) -> (Decimal, Decimal) {
        let (length, (dx, dy)) = (self.length(), self.along());
        (dx.ratio(length), dy.ratio(length))
    }

    fn reaches(self, point: Point) -> bool {
        let between = |a: Length, b: Length, p: Length| a.min(b) <= p && p <= a.max(b);
        between(self.from.x, self.to.x, point.x) && between(self.from.y, self.to.y, point.y)
    }

    /// Whether the boxes around two sides have nothing in common: a quick way to say no.
    fn apart_from(self, other: Self) -> bool {
        let clear = |a: Length, b: Length, c: Length, d: Length| a.max(b) < c.min(d);
        clear(self.from.x, self.to.x, other.from.x, other.to.x)
            || clear(other.from.x, other.to.x, self.from.x, self.to.x)
            || clear(self.from.y, self.to.y, other.from.y, other.to.y)
            || clear(other.from.y, other.to.y, self.from.y, self.to.y)
    }

    /// Whether two sides have a point in common.
    fn meets(self, other: Self) -> bool {
        if self.apart_from(other) {
            return false;
        }
        let side = |a: Point, b: Point, c: Point| turn(a, b, c).cmp(&Area::ZERO);
        let (a, b) = (
            side(self.from, self.to, other.from),
            side(self.from, self.to, other.to),
        );
        let (c, d) = (
            side(other.from, other.to, self.from),
            side(other.from, other.to, self.to),
        );
        let level = std::cmp::Ordering::Equal;
        (a != b && c != d && a != level && b != level && c != level && d != level)
            || (a == level && self.reaches(other.from))
            || (b == level && self.reaches(other.to))
            || (c == level && other.reaches(self.from))
            || (d == level && other.reaches(self.to))
    }
}

impl Outline {
    /// An outline from its corners in either direction.
    pub fn new(mut corners: Vec<Point>) -> Result<Self, OutlineFault> {
        if corners.len() < 3 {
            return Err(OutlineFault::TooFew);
        }
        if corners.len() > MOST_CORNERS {
            return Err(OutlineFault::TooMany);
        }
        let signed = signed_double_area(&corners);
        if signed < Area::ZERO {
            corners.reverse();
        }
        let outline = Self { corners };
        let sides: Vec<Side> = outline.sides().collect();
        if sides.iter().any(|s| s.from == s.to) {
            return Err(OutlineFault::Repeated);
        }
        if crosses(&sides) {
            return Err(OutlineFault::Crosses);
        }
        if signed.is_zero() {
            return Err(OutlineFault::Flat);
        }
        Ok(outline)
    }

    /// The corners, counter-clockwise.
    pub fn corners(&self) -> &[Point] {
        &self.corners
    }

    /// The sides, each from its corner to the next.
    pub(crate) fn sides(&self) -> impl Iterator<Item = Side> + Clone + '_ {
        let next = self.corners.iter().cycle().skip(1);
        self.corners.iter().zip(next).map(|(from, to)| Side {
            from: *from,
            to: *to,
        })
    }

    /// Area within: half the sum of x1 y2 - x2 y1 over the sides.
    pub fn area(&self) -> Area {
        signed_double_area(&self.corners).split(Decimal::TWO)
    }

    /// Length of all sides.
    pub fn perimeter(&self) -> Length {
        self.sides().map(Side::length).sum()
    }

    /// Greatest extent along the length and along the width.
    pub fn extent(&self) -> (Length, Length) {
        let span = |pick: fn(&Point) -> Length| {
            let most = self.corners.iter().map(pick).max().unwrap_or_default();
            most - self.corners.iter().map(pick).min().unwrap_or_default()
        };
        (span(|p| p.x), span(|p| p.y))
    }
}

fn signed_double_area(corners: &[Point]) -> Area {
    // Measured from the first corner, so that an outline far from the origin keeps its digits.
    let Some(&first) = corners.first() else {
        return Area::ZERO;
    };
    corners
        .iter()
        .zip(corners.iter().skip(1))
        .map(|(b, c)| turn(first, *b, *c))
        .sum()
}

fn crosses(sides: &[Side]) -> bool {
    let n = sides.len();
    sides.iter().enumerate().any(|(i, a)| {
        sides.iter().enumerate().skip(i + 1).any(|(j, b)| {
            let neighbours = j == i + 1 || (i == 0 && j + 1 == n);
            if neighbours {
                runs_back(*a, *b)
            } else {
                a.meets(*b)
            }
        })
    })
}

/// Whether two sides that share a corner lie on one line and on the same side of that corner.
fn runs_back(a: Side, b: Side) -> bool {
    let ((ax, ay), (bx, by)) = (a.along(), b.along());
    (ax * by - ay * bx).is_zero() && (ax * bx + ay * by) < Area::ZERO
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outline(points: &[(i64, i64)]) -> Result<Outline, OutlineFault> {
        let feet = |n: i64| Length::feet(Decimal::from(n));
        Outline::new(
            points
                .iter()
                .map(|(x, y)| Point::new(feet(*x), feet(*y)))
                .collect(),
        )
    }

    #[test]
    fn a_five_sided_bed_by_its_corners() {
        // (0,0)(7,-1)(9,4)(5,6)(1,5): shoelace 0 + 37 + 34 + 19 + 0 = 90, half of it 45 ft2
        let bed = outline(&[(0, 0), (7, -1), (9, 4), (5, 6), (1, 5)]).unwrap();
        assert_eq!(bed.area().in_square_feet().round_dp(9), Decimal::from(45));
        // sqrt 50 + sqrt 29 + sqrt 20 + sqrt 17 + sqrt 26 = 26.1505 ft
        assert_eq!(
            bed.perimeter().in_feet().round_dp(4),
            Decimal::new(261_505, 4)
        );
        // Walking it the other way round changes nothing.
        let back = outline(&[(1, 5), (5, 6), (9, 4), (7, -1), (0, 0)]).unwrap();
        assert_eq!(back.area(), bed.area());
    }

    #[test]
    fn outlines_that_are_none_say_why() {
        assert_eq!(outline(&[(0, 0), (1, 0)]), Err(OutlineFault::TooFew));
        // A bow tie.
        let tie = outline(&[(0, 0), (4, 4), (4, 0), (0, 4)]);
        assert_eq!(tie, Err(OutlineFault::Crosses));
        // A corner that touches another side.
        let pinched = outline(&[(0, 0), (8, 0), (8, 4), (4, 0), (0, 4)]);
        assert_eq!(pinched, Err(OutlineFault::Crosses));
        // A side that runs back on the one before.
        let spike = outline(&[(0, 0), (8, 0), (4, 0), (4, 4)]);
        assert_eq!(spike, Err(OutlineFault::Crosses));
        let twice = outline(&[(0, 0), (4, 0), (4, 0), (4, 4)]);
        assert_eq!(twice, Err(OutlineFault::Repeated));
    }
}
