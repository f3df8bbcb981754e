//! Keyhole beds: the basket in the middle and the path to it.

use rust_decimal::Decimal;

use super::reading::Reading;
use super::shapes::{less_than, needed, positive};
use crate::model::bed::{KeyholePath, Shape};

/// A keyhole bed by its diameter, its basket and the width or the angle of its path.
pub(super) fn keyhole(reading: &mut Reading<'_, '_>) -> Option<Shape> {
    let diameter = needed(reading, "Diameter", "keyhole bed");
    let basket = needed(reading, "Basket", "keyhole bed");
    let path = keyhole_path(reading);
    let (diameter, basket) = diameter.zip(basket)?;
    let basket = less_than(reading, "Basket", basket, "Diameter", diameter)?;
    let path = path?;
    if let KeyholePath::Strip(width) = path {
        less_than(reading, "Notch width", width, "Diameter", diameter)?;
    }
    Some(Shape::Keyhole {
        diameter,
        basket,
        path,
    })
}

fn keyhole_path(reading: &mut Reading<'_, '_>) -> Option<KeyholePath> {
    if reading.has("Path angle") {
        let angle = reading.number("Path angle")?;
        if angle <= Decimal::ZERO || angle >= Decimal::from(180) {
            let sentence = "Path angle must be more than 0 and less than 180 degrees";
            reading.complain(
                "Path angle",
                sentence,
                "write the angle of the wedge, as 30",
            );
            return None;
        }
        return Some(KeyholePath::Wedge(angle));
    }
    if !reading.has("Notch width") {
        let hint = "write the width of the path, as 18 in, or its angle in Path angle";
        let sentence = "Notch width is missing, and a keyhole bed needs it for its path";
        reading.complain("Notch width", sentence, hint);
        return None;
    }
    positive(reading, "Notch width").map(KeyholePath::Strip)
}
