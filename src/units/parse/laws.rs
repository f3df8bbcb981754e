//! Laws of spellings: whatever is accepted means what was printed, and nothing else breaks.

use proptest::prelude::*;
use rust_decimal::Decimal;

use super::tests::{METRIC, US};
use super::*;
use crate::units::{Length, show};

/// A text in full-width signs, as East Asian keyboards write it.
fn wide(text: &str) -> String {
    let widened = |c: char| char::from_u32(u32::from(c) + 0xFEE0).filter(|_| c.is_ascii_graphic());
    text.chars().map(|c| widened(c).unwrap_or(c)).collect()
}

proptest! {
    /// What is printed reads back: any length to 1 km in sixteenths of an inch.
    #[test]
    fn printed_lengths_read_back(sixteenths in -629_000_i64..629_000) {
        let printed = Length::inches(Decimal::new(sixteenths * 625, 4));
        let text = show::feet_inches(printed);
        prop_assert_eq!(length(&text, &US), Ok(printed), "{}", text);
    }

    /// Every spelling of a length that is accepted means the same length: to 1,000 ft in eighths of an inch.
    #[test]
    fn every_spelling_of_a_length_reads_back(feet in 0_i64..1000, eighths in 0_i64..96) {
        let whole = Length::inches(Decimal::new((feet * 96 + eighths) * 125, 3));
        let (inches, part) = (eighths / 8, eighths % 8);
        let decimal = Decimal::new(eighths * 125, 3).normalize();
        let mixed = if part == 0 { inches.to_string() } else { format!("{inches} {part}/8") };
        let dashed = mixed.replace(' ', "-");
        let all = Decimal::new((feet * 96 + eighths) * 125, 3).normalize();
        for text in [
            format!("{feet}' {mixed}\""),
            format!("{feet}'-{mixed}\""),
            format!("{feet}′ {mixed}″"),
            format!("{feet}’{mixed}”"),
            format!("{feet}' {decimal}''"),
            format!("{feet} ft {dashed} in"),
            format!("{feet}ft{decimal}in"),
            format!("{feet} FEET, {decimal} INCHES"),
            format!("{feet} foot and {mixed} inches"),
            format!("{feet} pies {decimal} pulgadas"),
            format!("'{feet}' {mixed}\""),
            format!("=\"{feet}-{dashed}\""),
            format!("{feet}-{dashed}"),
            format!("{all}\""),
            format!("{all}-inch"),
            format!("{all}\u{a0}in."),
        ] {
            prop_assert_eq!(length(&text, &US), Ok(whole), "{}", text);
        }
    }

    /// So does every spelling of a metric length, from a centimetre to 100 m.
    #[test]
    fn every_spelling_of_a_metric_length_reads_back(centimetres in 1_i64..10_000) {
        let whole = Length::millimetres(Decimal::from(centimetres * 10));
        let (metres, rest) = (centimetres / 100, centimetres % 100);
        for text in [
            format!("{centimetres}cm"),
            format!("{centimetres}0 mm"),
            format!("{metres}.{rest:02} m"),
            format!("{metres},{rest:02} m"),
            format!("{metres} m {rest:02}"),
            format!("{metres}m{rest:02}"),
            format!("{metres} m {rest} cm"),
            format!("{metres}.{rest:02} METROS"),
            wide(&format!("{metres}.{rest:02}m")),
        ] {
            prop_assert_eq!(length(&text, &METRIC), Ok(whole), "{}", text);
        }
    }

    /// Every spelling of a sum means the same sum: to a million in cents.
    #[test]
    fn every_spelling_of_a_sum_reads_back(cents in 0_i64..100_000_000) {
        let sum = Decimal::new(cents, 2);
        let (whole, part) = (cents / 100, cents % 100);
        let spelled = |mark: &str, point: &str| {
            let grouped = show::grouped(Decimal::from(whole), 0).replace(',', mark);
            format!("{grouped}{point}{part:02}")
        };
        for (text, commas) in [
            (format!("${}", spelled(",", ".")), Commas::Thousands),
            (format!("US$ {}", spelled("", ".")), Commas::Ask),
            (format!("{} €", spelled(".", ",")), Commas::Decimal),
            (format!("{} €", spelled("\u{202f}", ",")), Commas::Decimal),
            (format!("CHF {}", spelled("'", ".")), Commas::Thousands),
            (format!("{} usd", spelled(" ", ".")), Commas::Thousands),
            (wide(&format!("${}", spelled(",", "."))), Commas::Thousands),
            (format!("{cents}¢"), Commas::Ask),
        ] {
            prop_assert_eq!(money(&text, commas), Ok(sum), "{}", text);
        }
    }

    /// So does every spelling of a day, when the order is known.
    #[test]
    fn every_spelling_of_a_day_reads_back(year in 2020_i16..2079, month in 1_i8..13, day in 1_i8..29) {
        let written = jiff::civil::date(year, month, day);
        for format in [
            "%Y-%m-%d", "%Y/%m/%d", "%-d %b %Y", "%d-%b-%y", "%B %-d, %Y", "%a, %b %d, %Y", "%d.%m.%Y",
            "%d/%m/%Y", "%-d/%-m/%y", "%Y-%m-%d 00:00:00", "%d/%m/%Y 8:30 AM",
        ] {
            let text = written.strftime(format).to_string();
            prop_assert_eq!(date(&text, DateOrder::DayFirst), Ok(written), "{}", text);
        }
        let text = written.strftime("%-m/%-d/%Y").to_string();
        prop_assert_eq!(date(&text, DateOrder::MonthFirst), Ok(written), "{}", text);
    }

    /// No text, however odd, does more than be refused.
    #[test]
    fn no_text_panics(text in "\\PC{0,24}", shape in "[0-9 .,/x'\"ftinmdy-]{0,16}") {
        for text in [text, shape] {
            let _ = (length(&text, &US), amount(&text, &US), size(&text, &METRIC));
            let _ = (density(&text, &US), percent(&text, true), money(&text, false));
            let _ = (remark(&text, true, &US), is_open(&text), is_nothing(&text), side_said(&text));
            let _ = (count(&text, Commas::Ask, "Count"), currencies(&text), date_evidence(&text));
            let _ = (date(&text, DateOrder::Ask), hours(&text, &US), comma_evidence(&text), volume(&text, &US));
        }
    }
}
