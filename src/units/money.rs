//! Money: rounded once per printed line, to the currency's minor unit.

use rust_decimal::Decimal;

use super::quantity::quantity;
use super::round;

quantity!(
    /// An amount of money that has been rounded to the minor unit of the job's currency.
    Money, of, amount, "currency units"
);

/// A currency by its ISO 4217 code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    /// Three capital letters, as `USD`.
    pub code: [u8; 3],
    /// Decimals of the minor unit: 2 for cents, 0 for yen, 3 for fils.
    pub minor: u32,
}

/// Codes whose minor unit is not a hundredth (ISO 4217:2015, table A.1).
const OTHER_MINOR: &[(&str, u32)] = &[
    ("BHD", 3),
    ("BIF", 0),
    ("CLP", 0),
    ("DJF", 0),
    ("GNF", 0),
    ("IQD", 3),
    ("ISK", 0),
    ("JOD", 3),
    ("JPY", 0),
    ("KMF", 0),
    ("KRW", 0),
    ("KWD", 3),
    ("LYD", 3),
    ("OMR", 3),
    ("PYG", 0),
    ("RWF", 0),
    ("TND", 3),
    ("UGX", 0),
    ("VND", 0),
    ("VUV", 0),
    ("XAF", 0),
    ("XOF", 0),
    ("XPF", 0),
];

impl Currency {
    /// ISO 4217 keeps this code for amounts without a currency.
    pub const NONE: Self = Self {
        code: *b"XXX",
        minor: 2,
    };

    /// US dollars, the default of US-unit jobs.
    pub const USD: Self = Self {
        code: *b"USD",
        minor: 2,
    };

    /// A currency from its three-letter code in any case; `None` for anything else.
    pub fn from_code(text: &str) -> Option<Self> {
        let upper = text.trim().to_ascii_uppercase();
        let code: [u8; 3] = upper.as_bytes().try_into().ok()?;
        if !code.iter().all(u8::is_ascii_uppercase) {
            return None;
        }
        let minor = OTHER_MINOR
            .iter()
            .find(|(other, _)| *other == upper)
            .map_or(2, |(_, minor)| *minor);
        Some(Self { code, minor })
    }

    /// The code as text.
    pub fn as_str(&self) -> &str {
        std::str::from_utf8(&self.code).unwrap_or("XXX")
    }

    /// The smallest amount: 0.01 for a currency of two decimals.
    pub fn smallest(&self) -> Decimal {
        Decimal::new(1, self.minor)
    }

    /// The one rounding of money: half away from zero to the minor unit, after tidying to 15 digits.
    ///
    /// # Examples
    /// 37.5249999999999999999 dollars, which is 5/6 of 45.03, is 37.53.
    pub fn round_line(&self, exact: Decimal) -> Money {
        Money::of(round::half_away(exact, self.minor))
    }

    /// Money with the decimals of this currency and thousands separated: `1,136.00`.
    pub fn show(&self, money: Money) -> String {
        super::show::grouped(money.amount(), self.minor)
    }

    /// As [`Currency::show`], with the code in front: `USD 1,136.00`.
    pub fn show_with_code(&self, money: Money) -> String {
        format!("{} {}", self.as_str(), self.show(money))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_round_once_and_a_total_is_the_sum_of_printed_lines() {
        // Three lines of 0.125 print 0.13 each; their printed total is 0.39, not 0.38.
        let line = Currency::USD.round_line(Decimal::new(125, 3));
        assert_eq!(line.amount().to_string(), "0.13");
        let total: Money = [line; 3].into_iter().sum();
        assert_eq!(total.amount().to_string(), "0.39");
    }

    #[test]
    fn minor_units_follow_the_currency() {
        let yen = Currency::from_code("jpy").unwrap();
        assert_eq!(
            yen.show_with_code(yen.round_line(Decimal::new(12_345, 1))),
            "JPY 1,235"
        );
        assert_eq!(
            Currency::USD.show(Money::of(Decimal::new(-1_136_000, 3))),
            "-1,136.00"
        );
        assert_eq!(Currency::from_code("dollars"), None);
    }
}
