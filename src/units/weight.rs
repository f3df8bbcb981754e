//! Weights and densities.

use rust_decimal::Decimal;

use super::Volume;
use super::length::CUBIC_METRES_PER_CUBIC_YARD;
use super::quantity::quantity;

quantity!(
    /// A weight in kilograms.
    Weight, kilograms, in_kilograms, "kilograms"
);
quantity!(
    /// A bulk density in kilograms per cubic metre.
    Density, kilograms_per_cubic_metre, in_kilograms_per_cubic_metre, "kilograms per cubic metre"
);

/// One avoirdupois pound, exact: 0.45359237 kg.
pub const KILOGRAMS_PER_POUND: Decimal = Decimal::from_parts(45_359_237, 0, 0, false, 8);
/// A short ton is 2,000 lb.
const POUNDS_PER_SHORT_TON: Decimal = Decimal::from_parts(2000, 0, 0, false, 0);

impl Weight {
    /// From pounds.
    pub fn pounds(number: Decimal) -> Self {
        Self::kilograms(number.saturating_mul(KILOGRAMS_PER_POUND))
    }

    /// From short tons of 2,000 lb.
    pub fn short_tons(number: Decimal) -> Self {
        Self::pounds(number.saturating_mul(POUNDS_PER_SHORT_TON))
    }

    /// From tonnes of 1,000 kg.
    pub fn tonnes(number: Decimal) -> Self {
        Self::kilograms(number.saturating_mul(Decimal::ONE_THOUSAND))
    }

    /// As pounds.
    pub fn in_pounds(self) -> Decimal {
        self.in_kilograms()
            .checked_div(KILOGRAMS_PER_POUND)
            .unwrap_or_default()
    }

    /// As short tons of 2,000 lb.
    pub fn in_short_tons(self) -> Decimal {
        self.in_pounds()
            .checked_div(POUNDS_PER_SHORT_TON)
            .unwrap_or_default()
    }

    /// The volume that this weight fills at `density`; nothing at density zero.
    pub fn volume_at(self, density: Density) -> Volume {
        let cubic_metres = self
            .in_kilograms()
            .checked_div(density.in_kilograms_per_cubic_metre());
        Volume::cubic_metres(cubic_metres.unwrap_or_default())
    }
}

impl Density {
    /// From pounds per cubic yard, the unit of the US trade.
    pub fn pounds_per_cubic_yard(number: Decimal) -> Self {
        let kilograms = number.saturating_mul(KILOGRAMS_PER_POUND);
        Self::kilograms_per_cubic_metre(
            kilograms
                .checked_div(CUBIC_METRES_PER_CUBIC_YARD)
                .unwrap_or_default(),
        )
    }

    /// As pounds per cubic yard.
    pub fn in_pounds_per_cubic_yard(self) -> Decimal {
        let kilograms = self
            .in_kilograms_per_cubic_metre()
            .saturating_mul(CUBIC_METRES_PER_CUBIC_YARD);
        kilograms
            .checked_div(KILOGRAMS_PER_POUND)
            .unwrap_or_default()
    }

    /// Weight of `volume` at this density.
    pub fn weigh(self, volume: Volume) -> Weight {
        Weight::kilograms(
            self.in_kilograms_per_cubic_metre()
                .saturating_mul(volume.in_cubic_metres()),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_yard_of_moist_topsoil_weighs_more_than_half_a_ton_truck_carries() {
        // 1 yd3 x 2,200 lb/yd3 = 2,200 lb = 1.1 short tons
        let weight = Density::pounds_per_cubic_yard(Decimal::from(2200))
            .weigh(Volume::cubic_yards(Decimal::ONE));
        assert_eq!(weight.in_pounds().round_dp(9), Decimal::from(2200));
        assert_eq!(weight.in_short_tons().round_dp(9), Decimal::new(11, 1));
    }
}
