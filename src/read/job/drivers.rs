//! What work is counted by: `bed`, `100 ft2 of sheet`, `yd3 of spread`.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::measures::one_of;
use crate::model::labour::Driver;
use crate::model::library::folded;
use crate::units::parse::{self, Context};
use crate::units::{Amount, Dimension};

/// A typed `Per`: how much of what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Counted {
    /// Of what; `None` when only an amount was typed.
    pub(super) driver: Option<Driver>,
    /// How much of it, in base units.
    pub(super) base: Decimal,
    /// Of which dimension that is.
    pub(super) dimension: Dimension,
    /// The amount in words: `100 ft2`.
    pub(super) words: Arc<str>,
}

/// Other words for drivers than those of the files.
const ALSO: &[(&str, Driver)] = &[
    ("corner", Driver::CornerJoint),
    ("post", Driver::PostInside),
    ("soil", Driver::SpreadVolume),
    ("compost", Driver::SpreadVolume),
    ("mulch", Driver::SpreadVolume),
    ("leaves", Driver::LitterVolume),
    ("straw", Driver::LitterVolume),
    ("logs", Driver::WoodVolume),
    ("cardboard", Driver::SheetArea),
    ("delivery", Driver::Load),
    ("person-hour", Driver::Hour),
    ("h", Driver::Hour),
];

/// A driver by its word, in the singular or the plural.
pub(super) fn driver_by_word(word: &str) -> Option<Driver> {
    let wanted = folded(word);
    let same = |known: &str| {
        let known = folded(known);
        wanted == known || wanted.strip_suffix('s').is_some_and(|w| w == known)
    };
    let main = Driver::ALL.iter().copied().find(|d| same(d.word()));
    main.or_else(|| ALSO.iter().find(|(w, _)| same(w)).map(|(_, d)| *d))
}

/// Reads a `Per`; `None` when it is neither a driver nor an amount, or when the two do not suit.
pub(super) fn counted(typed: &str, context: Context) -> Option<Counted> {
    let context = Context {
        bare: None,
        ..context
    };
    let typed = typed.trim();
    if matches!(folded(typed).as_str(), "each" | "ea" | "1") {
        return Some(of(None, Amount::Count(Decimal::ONE), "each"));
    }
    if let Some((amount, word)) = typed.split_once(" of ") {
        let driver = driver_by_word(word)?;
        let amount = parse::amount(&one_of(amount), &context).ok()?;
        return suited(Some(driver), amount, &one_or_plain(typed, " of "));
    }
    if let Some(driver) = driver_by_word(typed) {
        let one = driver.dimension().of_base(Decimal::ONE);
        return matches!(one, Amount::Count(_)).then(|| of(Some(driver), one, "each"));
    }
    if let Some((number, word)) = typed.split_once(' ')
        && let Some(driver) = driver_by_word(word)
    {
        let number = parse::number(number, context.decimal_comma).ok()?;
        return suited(
            Some(driver),
            Amount::Count(number),
            number_words(number).as_ref(),
        );
    }
    let amount = parse::amount(&one_of(typed), &context).ok()?;
    suited(None, amount, typed)
}

fn number_words(number: Decimal) -> Arc<str> {
    Arc::from(number.normalize().to_string())
}

fn one_or_plain(typed: &str, before: &str) -> String {
    typed
        .split(before)
        .next()
        .unwrap_or(typed)
        .trim()
        .to_owned()
}

fn suited(driver: Option<Driver>, amount: Amount, words: &str) -> Option<Counted> {
    let fits = driver.is_none_or(|d| d.dimension() == amount.dimension());
    (fits && amount.base() > Decimal::ZERO).then(|| of(driver, amount, words))
}

fn of(driver: Option<Driver>, amount: Amount, words: &str) -> Counted {
    Counted {
        driver,
        base: amount.base(),
        dimension: amount.dimension(),
        words: Arc::from(words),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::parse::Commas;
    use crate::units::{System, Volume};

    fn read(typed: &str) -> Option<Counted> {
        let context = Context {
            bare: None,
            system: System::UsCustomary,
            decimal_comma: Commas::Ask,
        };
        counted(typed, context)
    }

    #[track_caller]
    fn check(typed: &str, driver: Option<Driver>, base: &str, words: &str) {
        let counted = read(typed).expect("it is read");
        assert_eq!(counted.driver, driver);
        assert_eq!(counted.base, base.parse().unwrap());
        assert_eq!(&*counted.words, words);
    }

    #[test]
    fn work_is_counted_by_a_word_an_amount_or_both() {
        check("bed", Some(Driver::Bed), "1", "each");
        check("Corner joints", Some(Driver::CornerJoint), "1", "each");
        check("10 boards", Some(Driver::Board), "10", "10");
        // 100 ft2 = 9.290304 m2
        check(
            "100 ft2 of sheet",
            Some(Driver::SheetArea),
            "9.290304",
            "100 ft2",
        );
        check("100 ft2", None, "9.290304", "100 ft2");
        let yard = Volume::cubic_yards(Decimal::ONE)
            .in_cubic_metres()
            .to_string();
        check("yd3 of spread", Some(Driver::SpreadVolume), &yard, "yd3");
        check("each", None, "1", "each");
    }

    #[test]
    fn what_does_not_suit_is_not_read() {
        // spreading is measured by volume, so a bare word and an area leave the amount open
        assert_eq!(read("spread"), None);
        assert_eq!(read("100 ft2 of spread"), None);
        assert_eq!(read("0 beds"), None);
        assert_eq!(read("moonlight"), None);
    }
}
