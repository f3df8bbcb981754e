//! How boards meet at corners, and so how much of a run each covers.

use crate::model::frame::Corner;
use crate::takeoff::geometry::{Bend, Figure, Run};
use crate::units::Length;

/// The stretch of a run that its boards cover, measured from the outside corner where the run starts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    pub(super) from: Length,
    pub(super) to: Length,
}

impl Span {
    pub(super) fn length(self) -> Length {
        self.to - self.from
    }

    /// What is left of it behind a stretch that a neighbour's wall stands for.
    pub(super) fn after(self, shared: Length) -> Self {
        if shared.is_zero() {
            return self;
        }
        Self {
            from: self.from.max(shared),
            ..self
        }
    }
}

/// The span of each run in one course. `other` is every second course from the rim.
///
/// - Mitre: long point to long point, which is the outside length at outer corners and reaches
///   thickness x tan(half the turn) further at inner ones.
/// - Butt, rectangles: the long sides run through, the short sides stand between them.
/// - Butt, other outlines: each run gives up one thickness where it starts and runs through where it
///   ends; round an inner corner the through end is longer by the thickness instead.
/// - Lapped: as butt, with the ends swapped in every second course.
pub(super) fn spans(
    figure: &Figure,
    runs: &[Run],
    rule: Corner,
    thickness: Length,
    other: bool,
) -> Vec<Span> {
    let swapped = other && rule == Corner::Lapped;
    match (rule, figure) {
        (Corner::Mitre, _) => runs.iter().map(|run| mitred(run, thickness)).collect(),
        (_, Figure::Rectangle { length, width }) => {
            let length_through = (length >= width) != swapped;
            let even = |i: usize| i.is_multiple_of(2);
            runs.iter()
                .enumerate()
                .map(|(i, run)| {
                    if even(i) == length_through {
                        through(run)
                    } else {
                        between(run, thickness)
                    }
                })
                .collect()
        }
        _ => runs
            .iter()
            .map(|run| turning(run, thickness, swapped))
            .collect(),
    }
}

fn through(run: &Run) -> Span {
    Span {
        from: Length::ZERO,
        to: run.length,
    }
}

fn between(run: &Run, thickness: Length) -> Span {
    Span {
        from: thickness,
        to: run.length - thickness,
    }
}

fn mitred(run: &Run, thickness: Length) -> Span {
    let more = |bend: Bend| {
        if bend.inner {
            thickness.times(bend.mitre)
        } else {
            Length::ZERO
        }
    };
    Span {
        from: Length::ZERO - more(run.start),
        to: run.length + more(run.end),
    }
}

fn turning(run: &Run, thickness: Length, swapped: bool) -> Span {
    let stops = |bend: Bend| if bend.inner { Length::ZERO } else { thickness };
    let passes = |bend: Bend| if bend.inner { thickness } else { Length::ZERO };
    if swapped {
        Span {
            from: Length::ZERO - passes(run.start),
            to: run.length - stops(run.end),
        }
    } else {
        Span {
            from: stops(run.start),
            to: run.length + passes(run.end),
        }
    }
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::*;
    use crate::model::bed::Shape;

    fn inches(n: i64) -> Length {
        Length::inches(Decimal::from(n))
    }

    #[track_caller]
    fn check(shape: &Shape, rule: Corner, other: bool, expected: &[i64]) {
        let figure = Figure::of(shape).unwrap();
        let runs = figure.runs().unwrap();
        let spans = spans(&figure, &runs, rule, inches(2), other);
        let lengths: Vec<Length> = spans.iter().map(|s| s.length()).collect();
        let expected: Vec<Length> = expected.iter().map(|n| inches(*n)).collect();
        assert_eq!(lengths, expected);
    }

    #[test]
    fn rectangles_by_each_rule() {
        let bed = Shape::Rectangle {
            length: inches(96),
            width: inches(48),
        };
        // 2 in timbers: 48 - 2 x 2 = 44 between the long sides
        check(&bed, Corner::Butt, false, &[96, 44, 96, 44]);
        check(&bed, Corner::Butt, true, &[96, 44, 96, 44]);
        check(&bed, Corner::Mitre, false, &[96, 48, 96, 48]);
        check(&bed, Corner::Lapped, false, &[96, 44, 96, 44]);
        check(&bed, Corner::Lapped, true, &[92, 48, 92, 48]);
        let across = Shape::Rectangle {
            length: inches(48),
            width: inches(96),
        };
        check(&across, Corner::Butt, false, &[44, 96, 44, 96]);
    }

    #[test]
    fn an_l_has_one_inner_corner() {
        // Sides from the outer corner: 96, 84 - 48 = 36, 60, 48, 36, 84; the corner between 60 and 48 is inner.
        let bed = Shape::L {
            length: inches(96),
            width: inches(84),
            notch_length: inches(60),
            notch_width: inches(48),
        };
        // Each starts 2 in short of an outer corner; the 60 runs 2 in past the inner one, and the 48
        // starts at it without loss.
        check(&bed, Corner::Butt, false, &[94, 34, 60, 48, 34, 82]);
        // Swapped ends: the 60 stops at the inner corner and the 48 starts 2 in before it.
        check(&bed, Corner::Lapped, true, &[94, 34, 60, 48, 34, 82]);
        let figure = Figure::of(&bed).unwrap();
        let swapped = spans(
            &figure,
            &figure.runs().unwrap(),
            Corner::Lapped,
            inches(2),
            true,
        );
        assert_eq!((swapped[2].from, swapped[2].to), (inches(0), inches(60)));
        assert_eq!((swapped[3].from, swapped[3].to), (inches(-2), inches(46)));
        check(&bed, Corner::Mitre, false, &[96, 36, 62, 50, 36, 84]);
    }
}
