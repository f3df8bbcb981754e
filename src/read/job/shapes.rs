//! The plan of a bed: which columns each shape needs, and whether its numbers make sense.

use super::keyhole::keyhole;
use super::outline::{polygon, simple_outline};
use super::reading::{Reading, Words};
use crate::model::bed::Shape;
use crate::model::library::folded;
use crate::units::Length;

/// The shape words of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Plan {
    Rectangle,
    L,
    U,
    Trapezoid,
    Triangle,
    Regular(u32),
    RegularBySides,
    Circle,
    QuarterCircle,
    Ellipse,
    RoundEnded,
    Keyhole,
    Polygon,
}

/// Words for outlines.
pub(super) const PLANS: &Words<Plan> = &[
    (
        &["rectangle", "rect", "rectangular", "square", "box"],
        Plan::Rectangle,
    ),
    (&["L", "L-shape", "L-shaped"], Plan::L),
    (&["U", "U-shape", "U-shaped"], Plan::U),
    (&["trapezoid", "trapezium"], Plan::Trapezoid),
    (
        &["triangle", "corner triangle", "right triangle"],
        Plan::Triangle,
    ),
    (&["pentagon"], Plan::Regular(5)),
    (&["hexagon", "hexagonal"], Plan::Regular(6)),
    (&["octagon", "octagonal"], Plan::Regular(8)),
    (&["regular polygon"], Plan::RegularBySides),
    (&["circle", "round", "circular"], Plan::Circle),
    (
        &["quarter circle", "quarter round", "quadrant"],
        Plan::QuarterCircle,
    ),
    (&["ellipse", "oval", "elliptical"], Plan::Ellipse),
    (
        &["round-ended", "obround", "round ends", "racetrack"],
        Plan::RoundEnded,
    ),
    (&["keyhole"], Plan::Keyhole),
    (&["polygon", "by points", "freeform"], Plan::Polygon),
];

/// The plan of a bed row and what its `Size` cell says beside it.
pub(super) struct Sized {
    /// The plan; `None` after a problem.
    pub(super) shape: Option<Shape>,
    /// The third length of the `Size` cell.
    pub(super) height: Option<Length>,
    /// Whether the `Size` cell was reported, so that nobody misses the height in it.
    pub(super) size_told: bool,
}

/// The plan of a bed row.
pub(super) fn shape(reading: &mut Reading<'_, '_>) -> Sized {
    let Some(size) = size(reading) else {
        return Sized {
            shape: None,
            height: None,
            size_told: size_is_told(reading),
        };
    };
    Sized {
        shape: plan(reading, &size).and_then(|plan| planned(reading, &size, plan)),
        height: size.height,
        size_told: false,
    }
}

fn planned(reading: &mut Reading<'_, '_>, size: &Size, plan: Plan) -> Option<Shape> {
    match plan {
        Plan::Rectangle => {
            let (length, width) = size.sides(reading, "rectangle")?;
            Some(Shape::Rectangle { length, width })
        }
        Plan::L => notched(reading, size, "L").map(|n| Shape::L {
            length: n.length,
            width: n.width,
            notch_length: n.along,
            notch_width: n.across,
        }),
        Plan::U => notched(reading, size, "U").map(|n| Shape::U {
            length: n.length,
            width: n.width,
            notch_length: n.along,
            notch_width: n.across,
        }),
        Plan::Trapezoid => trapezoid(reading, size),
        Plan::Triangle => {
            let (length, width) = size.sides(reading, "triangle")?;
            Some(Shape::Triangle { length, width })
        }
        Plan::Regular(sides) => {
            let one = needed(reading, "Side", "regular polygon")?;
            Some(Shape::Regular { sides, side: one })
        }
        Plan::RegularBySides => regular(reading),
        Plan::Circle => {
            let diameter = needed(reading, "Diameter", "circle")?;
            Some(Shape::Circle { diameter })
        }
        Plan::QuarterCircle => quarter(reading, size),
        Plan::Ellipse => {
            let (length, width) = size.sides(reading, "ellipse")?;
            Some(Shape::Ellipse { length, width })
        }
        Plan::RoundEnded => round_ended(reading, size),
        Plan::Keyhole => keyhole(reading),
        Plan::Polygon => points(reading),
    }
}

/// The lengths of the `Size` cell and of `Length` and `Width`.
struct Size {
    length: Option<Length>,
    width: Option<Length>,
    height: Option<Length>,
}

impl Size {
    fn sides(&self, reading: &mut Reading<'_, '_>, shape: &str) -> Option<(Length, Length)> {
        let length = told_when_missing(reading, self.length, "Length", shape);
        let width = told_when_missing(reading, self.width, "Width", shape);
        length.zip(width)
    }
}

fn told_when_missing(
    reading: &mut Reading<'_, '_>,
    known: Option<Length>,
    field: &'static str,
    shape: &str,
) -> Option<Length> {
    if known.is_none() && !reading.has(field) {
        lacking(reading, field, shape);
    }
    known
}

/// Whether a `Size` cell is there, so that one which gave nothing was reported.
fn size_is_told(reading: &Reading<'_, '_>) -> bool {
    reading.has("Size") || reading.row.spoilt("Size")
}

/// Both ways of giving length and width; they may not say different things.
fn size(reading: &mut Reading<'_, '_>) -> Option<Size> {
    let wrong_before = reading.problems.len();
    let sized = reading.size("Size").unwrap_or_default();
    let spoilt = size_is_told(reading) && sized.is_empty();
    if spoilt || sized.iter().any(|l| l.is_zero()) {
        if !spoilt {
            reading.complain("Size", "Size must be more than 0", "write 4x8x18 in");
        }
        return None;
    }
    let mut read = |field: &'static str, place: usize| {
        let typed = positive(reading, field);
        let from_size = sized.get(place).copied();
        if let (Some(typed), Some(from_size)) = (typed, from_size)
            && typed != from_size
        {
            let sentence = format!("{field} and Size say different things");
            reading.complain(field, sentence, "keep one of the two");
        }
        typed.or(from_size)
    };
    let size = Size {
        length: read("Length", 0),
        width: read("Width", 1),
        height: sized.get(2).copied(),
    };
    let told = reading.problems.iter().skip(wrong_before);
    let wrong = told
        .filter(|p| p.severity == crate::problem::Severity::Error)
        .count();
    (wrong == 0).then_some(size)
}

/// A length that is more than nothing.
pub(super) fn positive(reading: &mut Reading<'_, '_>, field: &'static str) -> Option<Length> {
    let length = reading.length(field)?;
    if length.is_zero() {
        let sentence = format!("{field} must be more than 0");
        reading.complain(field, sentence, "write a length, as 4 ft or 1200 mm");
        return None;
    }
    Some(length)
}

fn lacking(reading: &mut Reading<'_, '_>, field: &'static str, shape: &str) {
    let sentence = format!("{field} is missing, and a {shape} needs it");
    let hint = match field {
        "Sides" => "write how many equal sides it has, as 6",
        "Points" => "write its corners in order, as 0,0; 8,0; 8,4; 0,4",
        _ => "write a length with its unit, as 4 ft or 1200 mm",
    };
    reading.complain(field, sentence, hint);
}

/// A length that the shape cannot do without.
pub(super) fn needed(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    shape: &str,
) -> Option<Length> {
    if !reading.has(field) {
        lacking(reading, field, shape);
        return None;
    }
    positive(reading, field)
}

/// The plan by its word; without a word, by the only columns that are filled.
fn plan(reading: &mut Reading<'_, '_>, size: &Size) -> Option<Plan> {
    let Some(typed) = reading.text("Shape") else {
        let rectangle = size.length.is_some() || size.width.is_some();
        return Some(if rectangle {
            Plan::Rectangle
        } else if reading.has("Points") {
            Plan::Polygon
        } else if reading.has("Diameter") && !reading.has("Basket") {
            Plan::Circle
        } else {
            Plan::Rectangle
        });
    };
    let word = folded(&typed);
    let sided = ["sidedpolygon", "sided", "sides"];
    let number = sided.iter().find_map(|w| word.strip_suffix(w));
    if let Some(sides) = number.and_then(|n| n.parse::<u32>().ok()) {
        return sides_in_range(reading, "Shape", sides).map(Plan::Regular);
    }
    reading.choice("Shape", PLANS)
}

fn sides_in_range(reading: &mut Reading<'_, '_>, field: &'static str, sides: u32) -> Option<u32> {
    if (3..=100).contains(&sides) {
        return Some(sides);
    }
    let sentence = format!("{field} must count 3 to 100 sides");
    reading.complain(field, sentence, "write 6, or circle for a round bed");
    None
}

/// A rectangle and what is cut out of it.
struct Notched {
    length: Length,
    width: Length,
    along: Length,
    across: Length,
}

fn notched(reading: &mut Reading<'_, '_>, size: &Size, shape: &str) -> Option<Notched> {
    let shape = format!("bed of shape {shape}");
    let sides = size.sides(reading, &shape);
    let along = needed(reading, "Notch length", &shape);
    let across = needed(reading, "Notch width", &shape);
    let (length, width) = sides?;
    let (along, across) = along.zip(across)?;
    let along = less_than(reading, "Notch length", along, "Length", length);
    let across = less_than(reading, "Notch width", across, "Width", width);
    let (along, across) = along.zip(across)?;
    Some(Notched {
        length,
        width,
        along,
        across,
    })
}

/// A length that must leave something of another.
pub(super) fn less_than(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    value: Length,
    than: &str,
    limit: Length,
) -> Option<Length> {
    if value < limit {
        return Some(value);
    }
    let sentence = format!("{field} must be less than {than}");
    reading.complain(
        field,
        sentence,
        "check both cells: what is cut out must leave a bed",
    );
    None
}

fn trapezoid(reading: &mut Reading<'_, '_>, size: &Size) -> Option<Shape> {
    let plan = size.sides(reading, "trapezoid");
    let shorter = needed(reading, "Side", "trapezoid");
    let (length, width) = plan?;
    let shorter = shorter?;
    if shorter >= length {
        let hint = "Length is the longer of the two parallel sides and Side the shorter";
        reading.complain("Side", "Side must be less than Length", hint);
        return None;
    }
    Some(Shape::Trapezoid {
        length,
        side: shorter,
        width,
    })
}

fn regular(reading: &mut Reading<'_, '_>) -> Option<Shape> {
    if !reading.has("Sides") {
        lacking(reading, "Sides", "regular polygon");
    }
    let sides = reading.whole("Sides");
    let side = needed(reading, "Side", "regular polygon");
    let sides = sides_in_range(reading, "Sides", sides?)?;
    side.map(|side| Shape::Regular { sides, side })
}

/// A quarter circle by its radius: `Side`, or `Length` where that is what was filled in.
fn quarter(reading: &mut Reading<'_, '_>, size: &Size) -> Option<Shape> {
    let radius = match (reading.has("Side"), size.length) {
        (true, _) => positive(reading, "Side"),
        (false, Some(length)) => Some(length),
        (false, None) => needed(reading, "Length", "quarter circle"),
    };
    radius.map(|radius| Shape::QuarterCircle { radius })
}

fn round_ended(reading: &mut Reading<'_, '_>, size: &Size) -> Option<Shape> {
    let (length, width) = size.sides(reading, "round-ended bed")?;
    if width > length {
        let hint = "Length is the overall length with the round ends";
        reading.complain("Width", "Width must not be more than Length", hint);
        return None;
    }
    Some(Shape::RoundEnded { length, width })
}

fn points(reading: &mut Reading<'_, '_>) -> Option<Shape> {
    let Some(typed) = reading.text("Points") else {
        lacking(reading, "Points", "polygon");
        return None;
    };
    let context = reading.row.context("Points");
    let points = match polygon(&typed, context) {
        Ok(points) => points,
        Err(wrong) => {
            let sentence = format!("Points {}", wrong.sentence);
            reading.complain("Points", sentence, &wrong.hint);
            return None;
        }
    };
    if !simple_outline(&points) {
        let hint = "write the corners in order around the bed, each once";
        reading.complain(
            "Points",
            "Points must enclose a bed without crossing itself",
            hint,
        );
        return None;
    }
    Some(Shape::Polygon { points })
}
