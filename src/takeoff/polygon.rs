//! Outlines as corners, for drawings: curves become chords of a hundred-and-twentieth of a turn.

use std::sync::LazyLock;

use rust_decimal::Decimal;

use super::angle::{PI, arcsine, cosine, sine};
use super::curved::Curved;
use super::geometry::Figure;
use super::outline::Point;
use crate::units::Length;

/// Chords of a whole turn. The polygon of a circle is smaller than the circle by 1 part in 2,000.
const CHORDS: u32 = 120;

/// Angles nearer to each other than this, in radians, are one.
const DUST: Decimal = Decimal::from_parts(1, 0, 0, false, 9);

/// Sine and cosine of each corner of a whole turn, reckoned once.
static TURN: LazyLock<Vec<(Decimal, Decimal)>> = LazyLock::new(|| {
    let angle = |k: u32| share_of_turn(Decimal::from(k), Decimal::from(CHORDS));
    (0..CHORDS)
        .map(|k| (sine(angle(k)), cosine(angle(k))))
        .collect()
});

fn share_of_turn(part: Decimal, of: Decimal) -> Decimal {
    let turn = PI.saturating_mul(Decimal::TWO).saturating_mul(part);
    turn.checked_div(of).unwrap_or_default()
}

fn minus(length: Length) -> Length {
    Length::ZERO - length
}

fn half(length: Length) -> Length {
    length.split(Decimal::TWO)
}

impl Figure {
    /// Its corners, counter-clockwise, seen from above with the width away from the reader.
    ///
    /// Rectangles, regular outlines and curves lie round the middle, so that both faces of a wall have one
    /// middle; outlines of given corners keep their own places.
    pub fn polygon(&self) -> Vec<Point> {
        match self {
            Self::Rectangle { length, width } => {
                let (x, y) = (half(*length), half(*width));
                let corner = |x, y| Point::new(x, y);
                vec![
                    corner(minus(x), minus(y)),
                    corner(x, minus(y)),
                    corner(x, y),
                    corner(minus(x), y),
                ]
            }
            Self::Straight(outline) => outline.corners().to_vec(),
            Self::Regular { sides, side } => regular(*sides, *side),
            Self::Curved(curved) => curved.polygon(),
        }
    }
}

/// The first side lies in front, from the left to the right.
fn regular(sides: u32, side: Length) -> Vec<Point> {
    let n = Decimal::from(sides);
    let half_side = share_of_turn(Decimal::new(5, 1), n);
    let radius = half(side.split(sine(half_side)));
    let corner = |k: u32| {
        let turned = share_of_turn(Decimal::from(k), n).saturating_sub(half_side);
        // From the front: x is the sine, y minus the cosine.
        let angle = turned.saturating_add(share_of_turn(Decimal::ONE, Decimal::ONE));
        let angle = if turned < Decimal::ZERO {
            angle
        } else {
            turned
        };
        Point::new(
            radius.times(sine(angle)),
            minus(radius.times(cosine(angle))),
        )
    };
    (0..sides).map(corner).collect()
}

impl Curved {
    /// Its corners, see [`Figure::polygon`].
    fn polygon(self) -> Vec<Point> {
        match self {
            Self::Circle { radius } => ring(radius, radius),
            Self::Ellipse { along, across } => ring(along, across),
            Self::RoundEnded { straight, radius } => round_ended(half(straight), radius),
            Self::Quarter { radius, inset } => quarter(radius, inset),
            Self::Keyhole {
                radius,
                basket,
                angle,
                aside,
            } => keyhole((radius, basket), angle, aside),
        }
    }
}

/// The whole turn, from the front, counter-clockwise.
fn ring(along: Length, across: Length) -> Vec<Point> {
    let corners = TURN.iter();
    let corners = corners.map(|(s, c)| Point::new(along.times(*s), minus(across.times(*c))));
    corners.collect()
}

fn round_ended(straight: Length, radius: Length) -> Vec<Point> {
    let turned = TURN.iter().enumerate();
    let corners = turned.flat_map(|(k, (s, c))| {
        let (x, y) = (radius.times(*s), minus(radius.times(*c)));
        let right = Point::new(x + straight, y);
        let left = Point::new(x - straight, y);
        // At the front and at the back one end meets the other by a straight side.
        let half_turn = usize::try_from(CHORDS / 2).unwrap_or(0);
        match k {
            0 => vec![left, right],
            k if k == half_turn => vec![right, left],
            k if k < half_turn => vec![right],
            _ => vec![left],
        }
    });
    corners.collect()
}

/// From an angle to a larger one, both in radians from the front, on a circle round the middle; the ends
/// are met exactly, with the corners of the turn between them.
fn arc(radius: Length, from: Decimal, to: Decimal) -> Vec<Point> {
    let at = |angle| {
        Point::new(
            radius.times(sine(angle)),
            minus(radius.times(cosine(angle))),
        )
    };
    let between = TURN.iter().enumerate().filter_map(|(k, (s, c))| {
        let k = Decimal::from(u32::try_from(k).ok()?);
        let angle = share_of_turn(k, Decimal::from(CHORDS));
        let is_between = angle > from.saturating_add(DUST) && angle < to.saturating_sub(DUST);
        is_between.then(|| Point::new(radius.times(*s), minus(radius.times(*c))))
    });
    let mut corners = vec![at(from)];
    corners.extend(between);
    corners.push(at(to));
    corners
}

/// The corner of both straight sides, then the arc between their ends.
fn quarter(radius: Length, inset: Length) -> Vec<Point> {
    // Angles from the front: a quarter turn points along x, half a turn along y.
    let rise = arcsine(inset.ratio(radius));
    let low = share_of_turn(Decimal::ONE, Decimal::from(4)).saturating_add(rise);
    let high = share_of_turn(Decimal::ONE, Decimal::TWO).saturating_sub(rise);
    let mut corners = vec![Point::new(inset, inset)];
    corners.extend(arc(radius, low, high));
    corners
}

/// The way in lies in front: the outer wall round to it, along it to the basket, round the basket and out.
fn keyhole((radius, basket): (Length, Length), angle: Decimal, aside: Length) -> Vec<Point> {
    let whole = share_of_turn(Decimal::ONE, Decimal::ONE);
    let half_open = |r: Length| {
        let half_angle = angle.checked_div(Decimal::TWO).unwrap_or_default();
        half_angle.saturating_add(arcsine(aside.ratio(r)))
    };
    let (outer, inner) = (half_open(radius), half_open(basket));
    let mut corners = arc(radius, outer, whole.saturating_sub(outer));
    let mut back = arc(basket, inner, whole.saturating_sub(inner));
    back.reverse();
    corners.extend(back);
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::takeoff::outline::Outline;

    fn m(text: &str) -> Length {
        Length::metres(text.parse().unwrap())
    }

    /// The polygon is an outline without crossings, and within 1 part in 1,000 as large as the figure.
    fn agrees(figure: &Figure) {
        let outline = Outline::new(figure.polygon()).unwrap();
        let (drawn, true_area) = (outline.area(), figure.area());
        let off = (drawn - true_area).ratio(true_area).abs();
        assert!(
            off < Decimal::new(1, 3),
            "{figure:?}: {drawn:?} for {true_area:?}"
        );
        assert_eq!(outline.corners(), figure.polygon(), "counter-clockwise");
    }

    #[test]
    fn every_figure_is_drawn_as_large_as_it_is() {
        let curved = [
            Curved::Circle { radius: m("0.9") },
            Curved::Quarter {
                radius: m("1.5"),
                inset: m("0"),
            },
            Curved::Quarter {
                radius: m("1.5"),
                inset: m("0.05"),
            },
            Curved::Ellipse {
                along: m("2"),
                across: m("1"),
            },
            Curved::RoundEnded {
                straight: m("2"),
                radius: m("0.6"),
            },
            Curved::Keyhole {
                radius: m("1"),
                basket: m("0.3"),
                angle: Decimal::ZERO,
                aside: m("0.2"),
            },
            Curved::Keyhole {
                radius: m("1"),
                basket: m("0.3"),
                angle: Curved::wedge(Decimal::from(40)),
                aside: m("0.05"),
            },
        ];
        for curved in curved {
            agrees(&Figure::Curved(curved));
        }
        for sides in [3, 5, 6, 8, 12] {
            agrees(&Figure::Regular {
                sides,
                side: m("0.7"),
            });
        }
        agrees(&Figure::Rectangle {
            length: m("2.4"),
            width: m("1.2"),
        });
    }

    #[test]
    fn a_hexagon_stands_on_its_first_side() {
        // Radius of a hexagon is its side: corners at half a side left and right, 0.866 in front.
        let hexagon = Figure::Regular {
            sides: 6,
            side: m("1"),
        }
        .polygon();
        let tidy = |p: &Point| (p.x.in_metres().round_dp(3), p.y.in_metres().round_dp(3));
        let d = |text: &str| text.parse::<Decimal>().unwrap();
        assert_eq!(tidy(&hexagon[0]), (d("-0.5"), d("-0.866")));
        assert_eq!(tidy(&hexagon[1]), (d("0.5"), d("-0.866")));
        assert_eq!(tidy(&hexagon[2]), (d("1"), d("0")));
    }
}
