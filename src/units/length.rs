//! Lengths, areas and volumes, and the products that lead from one to the next.

use rust_decimal::Decimal;

use super::quantity::quantity;

quantity!(
    /// A length in metres.
    Length, metres, in_metres, "metres"
);
quantity!(
    /// An area in square metres.
    Area, square_metres, in_square_metres, "square metres"
);
quantity!(
    /// A volume in cubic metres.
    Volume, cubic_metres, in_cubic_metres, "cubic metres"
);

/// One inch is 0.0254 m by definition (international yard and pound agreement, 1959).
pub const METRES_PER_INCH: Decimal = Decimal::from_parts(254, 0, 0, false, 4);
/// One foot is 12 inches.
pub const METRES_PER_FOOT: Decimal = Decimal::from_parts(3048, 0, 0, false, 4);
/// One square foot, exact.
pub const SQUARE_METRES_PER_SQUARE_FOOT: Decimal = Decimal::from_parts(9_290_304, 0, 0, false, 8);
/// One cubic foot, exact: 0.028316846592 m3.
pub const CUBIC_METRES_PER_CUBIC_FOOT: Decimal =
    Decimal::from_parts(2_547_042_816, 6, 0, false, 12);
/// One cubic yard is 27 cubic feet, exact: 0.764554857984 m3.
pub const CUBIC_METRES_PER_CUBIC_YARD: Decimal = Decimal::from_parts(50_679_296, 178, 0, false, 12);

fn per(number: Decimal, unit: Decimal) -> Decimal {
    number.checked_div(unit).unwrap_or_default()
}

impl Length {
    /// From inches.
    pub fn inches(number: Decimal) -> Self {
        Self::metres(number.saturating_mul(METRES_PER_INCH))
    }

    /// From feet.
    pub fn feet(number: Decimal) -> Self {
        Self::metres(number.saturating_mul(METRES_PER_FOOT))
    }

    /// From millimetres.
    pub fn millimetres(number: Decimal) -> Self {
        Self::metres(number.saturating_mul(Decimal::new(1, 3)))
    }

    /// As inches.
    pub fn in_inches(self) -> Decimal {
        per(self.in_metres(), METRES_PER_INCH)
    }

    /// As feet.
    pub fn in_feet(self) -> Decimal {
        per(self.in_metres(), METRES_PER_FOOT)
    }

    /// As millimetres.
    pub fn in_millimetres(self) -> Decimal {
        self.in_metres().saturating_mul(Decimal::ONE_THOUSAND)
    }
}

impl std::ops::Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area::square_metres(self.in_metres().saturating_mul(other.in_metres()))
    }
}

impl Area {
    /// From square feet.
    pub fn square_feet(number: Decimal) -> Self {
        Self::square_metres(number.saturating_mul(SQUARE_METRES_PER_SQUARE_FOOT))
    }

    /// As square feet.
    pub fn in_square_feet(self) -> Decimal {
        per(self.in_square_metres(), SQUARE_METRES_PER_SQUARE_FOOT)
    }

    /// Volume that covers this area to `depth`, before waste and settlement.
    pub fn filled_to(self, depth: Length) -> Volume {
        Volume::cubic_metres(self.in_square_metres().saturating_mul(depth.in_metres()))
    }
}

impl Volume {
    /// From cubic feet.
    pub fn cubic_feet(number: Decimal) -> Self {
        Self::cubic_metres(number.saturating_mul(CUBIC_METRES_PER_CUBIC_FOOT))
    }

    /// From cubic yards.
    pub fn cubic_yards(number: Decimal) -> Self {
        Self::cubic_metres(number.saturating_mul(CUBIC_METRES_PER_CUBIC_YARD))
    }

    /// From litres.
    pub fn litres(number: Decimal) -> Self {
        Self::cubic_metres(number.saturating_mul(Decimal::new(1, 3)))
    }

    /// As cubic feet.
    pub fn in_cubic_feet(self) -> Decimal {
        per(self.in_cubic_metres(), CUBIC_METRES_PER_CUBIC_FOOT)
    }

    /// As cubic yards.
    pub fn in_cubic_yards(self) -> Decimal {
        per(self.in_cubic_metres(), CUBIC_METRES_PER_CUBIC_YARD)
    }

    /// As litres.
    pub fn in_litres(self) -> Decimal {
        self.in_cubic_metres().saturating_mul(Decimal::ONE_THOUSAND)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn customary_units_are_exact() {
        // 27 x 0.3048 m cubed = 0.764554857984 m3
        assert_eq!(CUBIC_METRES_PER_CUBIC_FOOT.to_string(), "0.028316846592");
        assert_eq!(CUBIC_METRES_PER_CUBIC_YARD.to_string(), "0.764554857984");
        assert_eq!(METRES_PER_FOOT.to_string(), "0.3048");
        assert_eq!(SQUARE_METRES_PER_SQUARE_FOOT.to_string(), "0.09290304");
        assert_eq!(
            Volume::cubic_feet(Decimal::from(27)),
            Volume::cubic_yards(Decimal::ONE)
        );
    }

    #[test]
    fn a_four_by_eight_bed_of_dressed_boards_holds_less_than_its_outside_says() {
        // 8 ft - 2 x 1.5 in = 93 in; 4 ft - 2 x 1.5 in = 45 in; 93 x 45 = 4185 in2 = 29.0625 ft2
        let inside = Length::inches(Decimal::from(93)) * Length::inches(Decimal::from(45));
        assert_eq!(inside.in_square_feet().normalize().to_string(), "29.0625");
        // to 18.5 in: 44.8047 ft3 = 1.6594 yd3, not the 53.333 ft3 of the nominal sizes
        let fill = inside.filled_to(Length::inches(Decimal::new(185, 1)));
        assert_eq!(fill.in_cubic_feet().round_dp(3).to_string(), "44.805");
        assert_eq!(fill.in_cubic_yards().round_dp(4).to_string(), "1.6594");
    }
}
