//! Money: sums with the signs and codes of currencies, and which currency they say.

use rust_decimal::Decimal;

use super::figure::number;
use super::words::plain_marks;
use super::{Commas, Wrong};
use crate::units::Currency;

/// Signs that stand for a currency, those that tell dollars apart first, and the codes that they may mean.
const SIGNS: [(&str, &[&str]); 20] = [
    ("US$", &["USD"]),
    ("CA$", &["CAD"]),
    ("C$", &["CAD"]),
    ("AU$", &["AUD"]),
    ("A$", &["AUD"]),
    ("NZ$", &["NZD"]),
    ("MX$", &["MXN"]),
    ("R$", &["BRL"]),
    ("$", &DOLLARS),
    ("€", &["EUR"]),
    ("£", &["GBP"]),
    ("¥", &["JPY", "CNY"]),
    ("₹", &["INR"]),
    ("₩", &["KRW"]),
    ("₪", &["ILS"]),
    ("zł", &["PLN"]),
    ("Kč", &["CZK"]),
    ("SFr.", &["CHF"]),
    ("Fr.", &["CHF"]),
    ("kr", &["SEK", "NOK", "DKK", "ISK"]),
];
/// Currencies that write a plain `$`.
const DOLLARS: [&str; 22] = [
    "USD", "CAD", "AUD", "NZD", "MXN", "SGD", "HKD", "TWD", "BBD", "BSD", "BZD", "BMD", "FJD",
    "GYD", "JMD", "KYD", "LRD", "NAD", "TTD", "XCD", "CLP", "COP",
];
/// Codes (ISO 4217) that are taken for a currency beside a number; any three letters would also be `bag`
/// and `lbs`.
const CODES: [&str; 46] = [
    "USD", "CAD", "AUD", "NZD", "MXN", "EUR", "GBP", "CHF", "SEK", "NOK", "DKK", "ISK", "PLN",
    "CZK", "HUF", "RON", "BGN", "TRY", "JPY", "CNY", "INR", "KRW", "ILS", "ZAR", "BRL", "SGD",
    "HKD", "TWD", "THB", "PHP", "MYR", "IDR", "VND", "ARS", "CLP", "COP", "PEN", "UYU", "CRC",
    "DOP", "GTQ", "HNL", "KES", "NGN", "GHS", "UAH",
];

/// An amount of money without its currency: `$1,299.00`, `42.00`, `EUR 12,50`, `12,50 €`, `12.-`, `85¢`.
pub fn money(text: &str, decimal_comma: impl Into<Commas>) -> Result<Decimal, Wrong> {
    let plain = plain_marks(text);
    let (bare, bracketed) = match plain.strip_prefix('(').and_then(|t| t.strip_suffix(')')) {
        Some(inside) => (inside, true),
        None => (plain.as_ref(), false),
    };
    let (bare, negative) = match bare.strip_prefix('-') {
        Some(rest) => (rest, true),
        None => (bare, bracketed),
    };
    let (bare, _) = apart(bare);
    if bare == "-" && !plain.starts_with('-') {
        return Err(Wrong::new(
            format!("is unclear: \"{plain}\" may be 0 or no price yet"),
            "write 0, or leave the cell empty",
        ));
    }
    let (bare, cents) = match bare.strip_suffix('¢') {
        Some(cents) => (cents.trim(), true),
        None => (without_dash(bare), false),
    };
    let value = number(bare, decimal_comma).map_err(|wrong| {
        if wrong.sentence.starts_with("needs") {
            Wrong::new("needs an amount of money", hint_for(&plain))
        } else {
            wrong
        }
    })?;
    let value = if cents {
        value.saturating_mul(Decimal::new(1, 2))
    } else {
        value
    };
    Ok(if negative { -value } else { value })
}

fn hint_for(plain: &str) -> &'static str {
    match plain.to_lowercase().as_str() {
        "free" | "gratis" | "no charge" | "n/c" | "donated" => "write 0 if it costs nothing",
        _ => "write a number such as 42.50",
    }
}

/// `12.-`, `12,-` and `12.--` without the dash that stands for no cents.
fn without_dash(text: &str) -> &str {
    let dashless = text.trim_end_matches('-');
    let whole = dashless.strip_suffix(['.', ',']);
    whole
        .filter(|_| dashless.len() < text.len())
        .unwrap_or(text)
}

/// The currencies that a sum may be in by its sign or code: all that write their money so, none when it
/// says nothing.
pub fn currencies(text: &str) -> &'static [&'static str] {
    apart(plain_marks(text).trim_matches(['(', ')', '-'])).1
}

/// A sum without its sign and code, and the currencies that the last of them may mean.
fn apart(text: &str) -> (&str, &'static [&'static str]) {
    let mut rest = text.trim();
    let mut said: &[&str] = &[];
    while let Some((shorter, meant)) = sign_off(rest).or_else(|| code_off(rest)) {
        // `$12 CAD` says more with its code than with its sign.
        if said.is_empty() || meant.len() < said.len() {
            said = meant;
        }
        rest = shorter;
    }
    (rest, said)
}

fn sign_off(text: &str) -> Option<(&str, &'static [&'static str])> {
    SIGNS.iter().find_map(|(sign, meant)| {
        let rest = text
            .strip_prefix(sign)
            .or_else(|| text.strip_suffix(sign))?;
        Some((rest.trim(), *meant))
    })
}

fn code_off(text: &str) -> Option<(&str, &'static [&'static str])> {
    let known = |typed: &str| {
        let at = CODES
            .iter()
            .position(|code| code.eq_ignore_ascii_case(typed))?;
        CODES.get(at..=at)
    };
    let front = text.split_at_checked(3);
    let front = front.and_then(|(code, rest)| Some((rest.trim(), known(code)?)));
    let behind = || {
        let (rest, code) = text.split_at_checked(text.len().checked_sub(3)?)?;
        Some((rest.trim(), known(code)?))
    };
    front.or_else(behind)
}

/// The currency that a sum names beyond doubt.
pub fn currency_named(text: &str) -> Option<Currency> {
    match currencies(text) {
        [one] => Currency::from_code(one),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn money_loses_its_currency_and_nothing_else() {
        for text in [
            "$1,299.00",
            "US$ 1,299",
            "USD 1,299.00",
            "1299 usd",
            "1 299,00 €",
            "CHF 1'299.-",
            "$1,299.00 CAD",
            "129900¢",
        ] {
            let commas = if text == "US$ 1,299" {
                Commas::Thousands
            } else {
                Commas::Ask
            };
            assert_eq!(money(text, commas), Ok(d("1299")), "{text}");
        }
        assert_eq!(money("EUR 12,50", true), Ok(d("12.50")));
        assert_eq!(money("12,--", true), Ok(d("12")));
        assert_eq!(money("($4.00)", false), Ok(d("-4.00")));
        assert_eq!(money("-$4.00", false), Ok(d("-4.00")));
        for text in ["42 per yd", "free", "4.50 bag", "40 lbs", "-", "$"] {
            assert_eq!(
                money(text, false).unwrap_err().sentence,
                "needs an amount of money",
                "{text}"
            );
        }
        assert_eq!(
            money("$ -", false).unwrap_err().sentence,
            "is unclear: \"$ -\" may be 0 or no price yet"
        );
    }

    #[test]
    fn signs_and_codes_say_the_currency() {
        assert_eq!(currencies("4.50"), [""; 0]);
        assert_eq!(currencies("4,50 €"), ["EUR"]);
        assert_eq!(currencies("C$ 4.50"), ["CAD"]);
        assert_eq!(currencies("$4.50 CAD"), ["CAD"]);
        assert!(currencies("$4.50").contains(&"USD"));
        assert_eq!(currency_named("$4.50"), None);
        assert_eq!(currency_named("£4.50").map(|c| c.code), Some(*b"GBP"));
        assert_eq!(currency_named("40 lb bag"), None);
    }
}
