//! Numbers as JSON carries them: decimals as strings, always with their unit.

use std::borrow::Cow;

use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};

use crate::units::round::tidy15;
use crate::units::{Amount, Currency, Hours, Length, Money, System};

/// A decimal number as a string, so that no reader loses digits: `"37.825"`, `"-0.5"`, `"12.00"`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Number(String);

impl Number {
    /// A quantity at the 15 significant digits that a spreadsheet keeps.
    pub fn of(number: Decimal) -> Self {
        Self(tidy15(number).to_string())
    }

    /// A sum of money with all decimals of its currency.
    pub fn money(money: Money, currency: Currency) -> Self {
        let places = usize::try_from(currency.minor).unwrap_or(0);
        let rounded = currency.round_line(money.amount()).amount();
        Self(format!("{rounded:.places$}"))
    }
}

impl JsonSchema for Number {
    fn schema_name() -> Cow<'static, str> {
        "Number".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "A decimal number as a string, so that no reader loses digits.",
            "type": "string",
            "pattern": "^-?[0-9]+(\\.[0-9]+)?$",
        })
    }
}

/// A unit of measure.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
pub enum Unit {
    /// Pieces.
    #[serde(rename = "each")]
    Each,
    /// Inches.
    #[serde(rename = "in")]
    Inch,
    /// Feet.
    #[serde(rename = "ft")]
    Foot,
    /// Square feet.
    #[serde(rename = "ft2")]
    SquareFoot,
    /// Cubic yards.
    #[serde(rename = "yd3")]
    CubicYard,
    /// Pounds.
    #[serde(rename = "lb")]
    Pound,
    /// Millimetres.
    #[serde(rename = "mm")]
    Millimetre,
    /// Metres.
    #[serde(rename = "m")]
    Metre,
    /// Square metres.
    #[serde(rename = "m2")]
    SquareMetre,
    /// Cubic metres.
    #[serde(rename = "m3")]
    CubicMetre,
    /// Kilograms.
    #[serde(rename = "kg")]
    Kilogram,
    /// Hours.
    #[serde(rename = "h")]
    Hour,
}

/// A number with its unit.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Measure {
    /// How many.
    pub number: Number,
    /// Of what.
    pub unit: Unit,
}

impl Measure {
    /// An amount in the unit that the job's outputs use for its dimension.
    pub fn of(system: System, amount: Amount) -> Self {
        let unit = match (system, amount) {
            (_, Amount::Count(_)) => Unit::Each,
            (System::UsCustomary, Amount::Length(_)) => Unit::Foot,
            (System::UsCustomary, Amount::Area(_)) => Unit::SquareFoot,
            (System::UsCustomary, Amount::Volume(_)) => Unit::CubicYard,
            (System::UsCustomary, Amount::Weight(_)) => Unit::Pound,
            (System::Metric, Amount::Length(_)) => Unit::Metre,
            (System::Metric, Amount::Area(_)) => Unit::SquareMetre,
            (System::Metric, Amount::Volume(_)) => Unit::CubicMetre,
            (System::Metric, Amount::Weight(_)) => Unit::Kilogram,
        };
        Self {
            number: Number::of(system.number(amount)),
            unit,
        }
    }

    /// A height, depth or length of a piece, in inches or millimetres.
    pub fn short(system: System, length: Length) -> Self {
        let (number, unit) = match system {
            System::UsCustomary => (length.in_inches(), Unit::Inch),
            System::Metric => (length.in_millimetres(), Unit::Millimetre),
        };
        Self {
            number: Number::of(number),
            unit,
        }
    }

    /// Hours.
    pub fn hours(hours: Hours) -> Self {
        Self {
            number: Number::of(hours.in_hours()),
            unit: Unit::Hour,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Dimension, Volume};

    #[track_caller]
    fn check_text(value: &impl Serialize, expected: &str) {
        assert_eq!(serde_json::to_string(value).unwrap(), expected);
    }

    #[test]
    fn decimals_are_strings_without_dust() {
        check_text(
            &Number::of("1.4009259259259259259259".parse().unwrap()),
            "\"1.40092592592593\"",
        );
        check_text(&Number::of(Decimal::new(-50, 2)), "\"-0.5\"");
        check_text(
            &Number::money(Money::of(Decimal::from(12)), Currency::USD),
            "\"12.00\"",
        );
        let yen = Currency::from_code("JPY").unwrap();
        check_text(
            &Number::money(Money::of(Decimal::from(1200)), yen),
            "\"1200\"",
        );
    }

    #[test]
    fn every_amount_names_the_unit_that_the_printed_outputs_use() {
        // 27 ft3 = 1 yd3
        let yard = Amount::Volume(Volume::cubic_feet(Decimal::from(27)));
        check_text(
            &Measure::of(System::UsCustomary, yard),
            "{\"number\":\"1\",\"unit\":\"yd3\"}",
        );
        check_text(
            &Measure::short(System::Metric, Length::metres(Decimal::new(45, 2))),
            "{\"number\":\"450\",\"unit\":\"mm\"}",
        );
        for system in [System::UsCustomary, System::Metric] {
            for dimension in [
                Dimension::Length,
                Dimension::Area,
                Dimension::Volume,
                Dimension::Weight,
            ] {
                let measure = Measure::of(system, dimension.of_base(Decimal::ONE));
                check_text(&measure.unit, &format!("\"{}\"", system.unit(dimension)));
            }
        }
    }
}
