//! Flow and pressure of water.

use rust_decimal::Decimal;

use super::quantity::quantity;
use super::show::{System, grouped_plain};

quantity!(
    /// A flow of water in litres an hour.
    Flow, litres_per_hour, in_litres_per_hour, "litres an hour"
);
quantity!(
    /// A pressure in kilopascals.
    Pressure, kilopascals, in_kilopascals, "kilopascals"
);

/// One US gallon of 231 in3, exact: 3.785411784 L.
const LITRES_PER_GALLON: Decimal = Decimal::from_parts(3_785_411_784, 0, 0, false, 9);
/// One pound-force on a square inch.
const KILOPASCALS_PER_PSI: Decimal = Decimal::from_parts(689_475_729, 0, 0, false, 8);

impl Flow {
    /// From US gallons an hour.
    pub fn gallons_per_hour(number: Decimal) -> Self {
        Self::litres_per_hour(number.saturating_mul(LITRES_PER_GALLON))
    }

    /// As US gallons an hour.
    pub fn in_gallons_per_hour(self) -> Decimal {
        let gallons = self.in_litres_per_hour().checked_div(LITRES_PER_GALLON);
        gallons.unwrap_or_default()
    }
}

impl Pressure {
    /// From pounds on a square inch.
    pub fn psi(number: Decimal) -> Self {
        Self::kilopascals(number.saturating_mul(KILOPASCALS_PER_PSI))
    }

    /// As pounds on a square inch.
    pub fn in_psi(self) -> Decimal {
        let pounds = self.in_kilopascals().checked_div(KILOPASCALS_PER_PSI);
        pounds.unwrap_or_default()
    }
}

impl System {
    /// A flow in gallons or litres an hour.
    pub fn flow(self, flow: Flow) -> String {
        match self {
            Self::UsCustomary => format!("{} gal/h", grouped_plain(flow.in_gallons_per_hour(), 1)),
            Self::Metric => format!("{} L/h", grouped_plain(flow.in_litres_per_hour(), 1)),
        }
    }

    /// A pressure in pounds on a square inch or kilopascals.
    pub fn pressure(self, pressure: Pressure) -> String {
        match self {
            Self::UsCustomary => format!("{} psi", grouped_plain(pressure.in_psi(), 0)),
            Self::Metric => format!("{} kPa", grouped_plain(pressure.in_kilopascals(), 0)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flows_and_pressures_read_in_both_systems() {
        // 40 emitters of 0.5 gal/h: 20 gal/h, 75.7 L/h.
        let flow = Flow::gallons_per_hour(Decimal::from(20));
        assert_eq!(System::UsCustomary.flow(flow), "20 gal/h");
        assert_eq!(System::Metric.flow(flow), "75.7 L/h");
        let pressure = Pressure::psi(Decimal::from(25));
        assert_eq!(System::UsCustomary.pressure(pressure), "25 psi");
        assert_eq!(System::Metric.pressure(pressure), "172 kPa");
    }
}
