//! Volumes that are not an area times a depth.

use rust_decimal::Decimal;

use super::angle::{PI, tangent};
use crate::units::{Area, Length, Volume};

/// A body between two level faces: h/6 (A1 + 4 Am + A2), exact for prisms, wedges, pyramids and frustums.
///
/// The mean of the two end areas would say too much.
pub fn prismatoid(bottom: Area, middle: Area, top: Area, height: Length) -> Volume {
    let areas = bottom + middle.times(Decimal::from(4)) + top;
    areas.filled_to(height).split(Decimal::from(6))
}

/// A tapered round tank by its two radii: pi h/3 (R1 R1 + R1 R2 + R2 R2).
pub fn frustum(top: Length, bottom: Length, height: Length) -> Volume {
    let squares = top * top + top * bottom + bottom * bottom;
    squares.times(PI).filled_to(height).split(Decimal::from(3))
}

/// A rectangle with a level top over ground that falls evenly: area times the mean of the corner depths.
///
/// Exact when opposite corners have the same sum; otherwise the ground is warped and this is its mean.
pub fn wedge(area: Area, corners: [Length; 4]) -> Volume {
    area.filled_to(corners.into_iter().sum::<Length>().split(Decimal::from(4)))
}

/// A crown of parabolic section over a rectangle: 2/3 of its area times its height.
pub fn crown(area: Area, height: Length) -> Volume {
    area.filled_to(height)
        .times(Decimal::TWO)
        .split(Decimal::from(3))
}

/// Radius and height of a loose heap of `volume` that stands at `degrees` of repose.
///
/// V = pi r3 tan(phi)/3, so r is the cube root of 3V/(pi tan phi).
pub fn heap(volume: Volume, degrees: Decimal) -> (Length, Length) {
    let slope = tangent(super::angle::degrees(degrees));
    let cube = volume
        .times(Decimal::from(3))
        .split(PI.saturating_mul(slope))
        .in_cubic_metres();
    let radius = Length::metres(cube_root(cube));
    (radius, radius.times(slope))
}

/// A round log by its middle diameter, which is right for an even taper: pi d2/4 times its length.
pub fn log(diameter: Length, length: Length) -> Volume {
    let face = (diameter * diameter).times(PI).split(Decimal::from(4));
    face.filled_to(length)
}

/// Board feet of nominal inches by inches by feet: t w l / 12. Mills price by it; walls are never computed from it.
pub fn board_feet(thick: Length, wide: Length, long: Length) -> Decimal {
    let feet = long.in_feet();
    thick
        .in_inches()
        .saturating_mul(wide.in_inches())
        .saturating_mul(feet)
        .checked_div(Decimal::from(12))
        .unwrap_or_default()
}

/// Newton's way to the cube root of a number that is not negative.
fn cube_root(number: Decimal) -> Decimal {
    if number <= Decimal::ZERO {
        return Decimal::ZERO;
    }
    let mut root = number.max(Decimal::ONE);
    for _ in 0..200 {
        let square = root.saturating_mul(root);
        let part = number.checked_div(square).unwrap_or_default();
        let next = root
            .saturating_mul(Decimal::TWO)
            .saturating_add(part)
            .checked_div(Decimal::from(3))
            .unwrap_or_default();
        // From above the steps only go down, until the last digit.
        if next >= root {
            break;
        }
        root = next;
    }
    root
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn ft(text: &str) -> Length {
        Length::feet(d(text))
    }

    #[track_caller]
    fn check(volume: Volume, cubic_feet: &str) {
        assert_eq!(volume.in_cubic_feet().round_dp(4), d(cubic_feet));
    }

    #[test]
    fn tapered_tanks_and_troughs() {
        // pi 2/3 (2 x 2 + 2 x 1.75 + 1.75 x 1.75) = pi 2/3 x 10.5625
        check(frustum(ft("2"), ft("1.75"), ft("2")), "22.1220");
        // top 4 x 2, bottom 3.6 x 1.6, middle 3.8 x 1.8: 2/6 (8 + 4 x 6.84 + 5.76) = 13.7067
        let (top, middle, bottom) = (
            ft("4") * ft("2"),
            ft("3.8") * ft("1.8"),
            ft("3.6") * ft("1.6"),
        );
        let exact = prismatoid(bottom, middle, top, ft("2"));
        check(exact, "13.7067");
        let naive = (top + bottom).filled_to(ft("1"));
        assert!(naive > exact, "the mean of the ends says 13.76");
    }

    #[test]
    fn beds_on_falling_ground() {
        // 8 x 4, 0.75 high, 10% along the length: low side 0.75 + 0.8 = 1.55; 32 x 1.15
        let area = ft("8") * ft("4");
        let one_way = [ft("0.75"), ft("1.55"), ft("1.55"), ft("0.75")];
        check(wedge(area, one_way), "36.8000");
        // Both ways, corners 0.75, 1.15, 1.95, 1.55: mean 1.35
        let both = [ft("0.75"), ft("1.15"), ft("1.95"), ft("1.55")];
        check(wedge(area, both), "43.2000");
    }

    #[test]
    fn crowns_heaps_logs_and_board_feet() {
        check(crown(ft("8") * ft("4"), ft("0.25")), "5.3333");
        // 135 ft3 at 35 deg: r = 5.689 ft, h = 3.983 ft
        let (radius, height) = heap(Volume::cubic_yards(d("5")), d("35"));
        assert_eq!(radius.in_feet().round_dp(3), d("5.689"));
        assert_eq!(height.in_feet().round_dp(3), d("3.983"));
        let ground = (radius * radius).times(PI);
        assert_eq!(ground.in_square_feet().round_dp(4), d("101.6722"));
        assert_eq!(
            radius.times(PI).times(d("2")).in_feet().round_dp(4),
            d("35.7442")
        );
        check(ground.filled_to(height).split(d("3")), "135.0000");
        // 10 in across, 4 ft long: pi x 100/4 / 144 x 4 = 2.1817
        check(log(Length::inches(d("10")), ft("4")), "2.1817");
        // A nominal 2x10 of 12 ft: 2 x 10 x 12 / 12 = 20
        let feet = board_feet(Length::inches(d("2")), Length::inches(d("10")), ft("12"));
        assert_eq!(feet.round_dp(9), d("20"));
    }
}
