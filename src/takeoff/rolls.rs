//! Goods from rolls: how they are laid out, and so how much of a roll they take.
//!
//! A waste percentage is not added to what a layout gives; it stands for goods without a roll width.

use rust_decimal::Decimal;

use crate::model::material::Material;
use crate::units::{Area, Length, round};

/// How far burrow mesh is turned up at the foot of the walls all round: 3 in.
pub(super) const MESH_TURN_UP: Length = Length::metres(Decimal::from_parts(762, 0, 0, false, 4));
/// How far a protective sheet under fill is turned up the walls all round: 4 in.
pub(super) const SHEET_TURN_UP: Length = Length::metres(Decimal::from_parts(1016, 0, 0, false, 4));

/// Strips that cover a rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Strips {
    /// How many, side by side.
    pub(super) number: Decimal,
    /// How long each is.
    pub(super) length: Length,
    /// What they take of the roll.
    pub(super) area: Area,
}

/// Lays `length` x `width` out in strips, whichever way takes less of the roll; `None` when the lap
/// eats the roll.
pub(super) fn cover(length: Length, width: Length, roll: Length, lap: Length) -> Option<Strips> {
    if lap >= roll {
        return None;
    }
    let along = strips(length, width, roll, lap);
    let across = strips(width, length, roll, lap);
    Some(if across.area < along.area {
        across
    } else {
        along
    })
}

/// The first strip covers its width, every other its width less the lap.
fn strips(length: Length, across: Length, roll: Length, lap: Length) -> Strips {
    let number = round::whole_up((across - lap).ratio(roll - lap)).max(Decimal::ONE);
    Strips {
        number,
        length,
        area: (length * roll).times(number),
    }
}

/// Lines a wall of `height` all round: a high wall takes several strips one above the other, and out of
/// a wide roll several strips are cut side by side.
pub(super) fn line(perimeter: Length, height: Length, roll: Length, lap: Length) -> Option<Area> {
    if lap >= roll || height <= Length::ZERO {
        return None;
    }
    if height > roll {
        return Some(strips(perimeter, height, roll, lap).area);
    }
    let beside = roll.ratio(height).round_dp(9).floor().max(Decimal::ONE);
    Some(perimeter.split(beside) * roll)
}

/// Roll width and lap of a material that comes from rolls.
pub(super) fn roll_of(material: &Material) -> Option<(Length, Length)> {
    let roll = material.roll_width.as_ref()?.value;
    (roll > Length::ZERO).then_some((roll, material.lap.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inches(n: i64) -> Length {
        Length::inches(Decimal::from(n))
    }

    #[test]
    fn strips_lap_and_the_better_way_is_taken() {
        // 100 x 52 in from a 36 in roll, 6 in lap.
        // Along: (52 - 6)/(36 - 6) = 1.53, so 2 strips of 100 in: 7,200 in2.
        // Across: (100 - 6)/30 = 3.13, so 4 strips of 52 in: 7,488 in2.
        let laid = cover(inches(100), inches(52), inches(36), inches(6)).unwrap();
        assert_eq!(laid.number, Decimal::TWO);
        assert_eq!(laid.area, inches(7200) * inches(1));
        // 66 in across is exactly two strips: 36 + 36 - 6.
        let exact = cover(inches(100), inches(66), inches(36), inches(6)).unwrap();
        assert_eq!(exact.number, Decimal::TWO);
        // 96 x 30 across would be (96 - 6)/30 = 3 strips of 30 in: less than 1 of 96 in? 3,240 against 3,456.
        let across = cover(inches(96), inches(30), inches(36), inches(6)).unwrap();
        assert_eq!(across.area, inches(3240) * inches(1));
        assert_eq!(cover(inches(9), inches(9), inches(6), inches(6)), None);
    }

    #[test]
    fn liners_are_ripped_from_wide_rolls() {
        // 276 in round, 18 in high, 72 in roll: 4 strips beside each other, 69 in of roll: 4,968 in2.
        let lined = line(inches(276), inches(18), inches(72), inches(6)).unwrap();
        assert_eq!(lined, inches(4968) * inches(1));
        // From a 12 in roll with 2 in lap: (18 - 2)/(12 - 2) = 1.6, so 2 strips: 276 x 12 x 2 = 6,624 in2.
        let high = line(inches(276), inches(18), inches(12), inches(2)).unwrap();
        assert_eq!(high, inches(6624) * inches(1));
    }
}
