//! The size of a bed in words, as every output echoes it.

use super::heights::Heights;
use crate::model::bed::{Bed, KeyholePath, Measured, Shape};
use crate::model::frame::FrameKind;
use crate::units::{Decimal, Length, System};

/// `8' x 4' outside, 18 1/2" high (2 courses of 2x10)`.
pub(super) fn in_words(
    bed: &Bed,
    kind: FrameKind,
    heights: Option<&Heights>,
    section: Option<&str>,
    units: System,
) -> String {
    let mut words = plan(&bed.shape, units);
    words.push_str(match (kind, bed.measured) {
        (FrameKind::None, _) => " on the ground",
        (_, Measured::Outside) => " outside",
        (_, Measured::Inside) => " inside",
    });
    let Some(heights) = heights else {
        return words;
    };
    let mut parts = vec![format!("{} high", units.length(heights.high))];
    if heights.low > heights.high {
        let low = units.length(heights.low);
        parts.push(format!("{low} on the low side"));
    }
    let built = match section {
        Some(section) if heights.courses > 0 => format!(" ({})", courses(heights, section, units)),
        _ => String::new(),
    };
    format!("{words}, {}{built}", parts.join(", "))
}

fn courses(heights: &Heights, section: &str, units: System) -> String {
    let ripped = match heights.ripped {
        Some(left) => format!(", the top one ripped to {}", units.length(left)),
        None => String::new(),
    };
    let (high, low) = (heights.courses, heights.low_courses);
    let noun = if low == 1 { "course" } else { "courses" };
    if low > high {
        format!("{high} to {low} {noun} of {section}{ripped}")
    } else {
        format!("{high} {noun} of {section}{ripped}")
    }
}

fn plan(shape: &Shape, units: System) -> String {
    let l = |length: &Length| units.length(*length);
    match shape {
        Shape::Rectangle { length, width } => format!("{} x {}", l(length), l(width)),
        Shape::L {
            length,
            width,
            notch_length,
            notch_width,
        } => format!(
            "L of {} x {} less {} x {}",
            l(length),
            l(width),
            l(notch_length),
            l(notch_width)
        ),
        Shape::U {
            length,
            width,
            notch_length,
            notch_width,
        } => format!(
            "U of {} x {} with an inlet of {} x {}",
            l(length),
            l(width),
            l(notch_length),
            l(notch_width)
        ),
        Shape::Trapezoid {
            length,
            side,
            width,
        } => format!("trapezoid of {} and {} x {}", l(length), l(side), l(width)),
        Shape::Triangle { length, width } => {
            format!("right triangle of {} x {}", l(length), l(width))
        }
        Shape::Regular { sides, side } => format!("{sides} sides of {}", l(side)),
        Shape::Circle { diameter } => format!("circle {} across", l(diameter)),
        Shape::QuarterCircle { radius } => format!("quarter circle of {} radius", l(radius)),
        Shape::Ellipse { length, width } => format!("ellipse {} x {}", l(length), l(width)),
        Shape::RoundEnded { length, width } => {
            format!("{} x {} with round ends", l(length), l(width))
        }
        Shape::Keyhole {
            diameter,
            basket,
            path,
        } => keyhole(*diameter, *basket, *path, units),
        Shape::Polygon { points } => format!("outline of {} corners", points.len()),
    }
}

fn keyhole(diameter: Length, basket: Length, path: KeyholePath, units: System) -> String {
    let path = match path {
        KeyholePath::Strip(width) => units.length(width),
        KeyholePath::Wedge(angle) => format!("{} degrees", plain(angle)),
    };
    format!(
        "keyhole {} across with a basket of {} and a path of {path}",
        units.length(diameter),
        units.length(basket)
    )
}

fn plain(number: Decimal) -> String {
    number.normalize().to_string()
}
