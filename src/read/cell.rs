//! The edge where binary floats and serial dates of workbooks become decimals and days.

use std::fmt::Write as _;
use std::sync::Arc;

use calamine::{DataRef, ExcelDateTime};
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::raw::{RawCell, Shared};
use crate::model::source::Cell;
use crate::units::round;

/// Larger numbers are no quantity, price or count of a job, and a sheet keeps 15 digits anyway.
const LARGEST: f64 = 1e15;
/// Smaller ones are the dust of binary sums, as 0.3 - 0.1 - 0.2.
const SMALLEST: f64 = 1e-13;

/// Turns the values of a workbook library into cells; keeps what is needed again and again.
#[derive(Debug, Default)]
pub(super) struct CellMaker {
    /// Texts seen before.
    pub(super) shared: Shared,
    digits: String,
}

impl CellMaker {
    /// The cell; `None` when there is nothing in it. `percent` says that its format shows a percentage.
    pub(super) fn cell(&mut self, value: &DataRef<'_>, percent: bool) -> Option<RawCell> {
        match value {
            DataRef::Empty => None,
            DataRef::String(text) => RawCell::text(text, &mut self.shared),
            DataRef::SharedString(text) => RawCell::text(text, &mut self.shared),
            DataRef::Float(number) => Some(self.number(*number, percent)),
            DataRef::Int(number) => Some(RawCell::Good(Cell::Number {
                value: Decimal::from(*number),
                percent,
            })),
            DataRef::Bool(yes) => Some(RawCell::Good(Cell::Bool(*yes))),
            DataRef::DateTime(moment) => Some(self.moment(moment)),
            DataRef::DateTimeIso(text) => Some(self.iso(text)),
            DataRef::DurationIso(text) => RawCell::text(&clock_of_iso(text), &mut self.shared),
            DataRef::Error(error) => Some(RawCell::Error(self.shared.text(&error.to_string()))),
        }
    }

    /// A float crosses by its shortest text and at the 15 significant digits that sheets keep, so
    /// that a cell showing 1.005 is 1.005 and 0.1 + 0.2 is 0.3.
    fn number(&mut self, number: f64, percent: bool) -> RawCell {
        self.digits.clear();
        if !number.is_finite() || number.abs() >= LARGEST {
            return RawCell::TooLarge(Arc::from(format!("{number:e}")));
        }
        if number.abs() < SMALLEST {
            return RawCell::Good(Cell::Number {
                value: Decimal::ZERO,
                percent,
            });
        }
        let _ = write!(self.digits, "{number}");
        let value = self.digits.parse().map_or(Decimal::ZERO, round::tidy15);
        RawCell::Good(Cell::Number { value, percent })
    }

    /// A serial date; a time of day or a duration becomes text such as `1:30`.
    fn moment(&mut self, moment: &ExcelDateTime) -> RawCell {
        let serial = moment.as_f64();
        if !serial.is_finite() || serial.abs() >= LARGEST {
            return RawCell::TooLarge(Arc::from(format!("{serial:e}")));
        }
        if moment.is_duration() || (0.0..1.0).contains(&serial) {
            return RawCell::Good(Cell::Text(self.shared.text(&clock(serial))));
        }
        let (year, month, day, ..) = moment.to_ymd_hms_milli();
        let parts = (i16::try_from(year), i8::try_from(month), i8::try_from(day));
        let date = match parts {
            (Ok(year), Ok(month), Ok(day)) => Date::new(year, month, day).ok(),
            _ => None,
        };
        date.map_or_else(
            || RawCell::TooLarge(Arc::from(format!("day {serial}"))),
            |date| RawCell::Good(Cell::Date(date)),
        )
    }

    fn iso(&mut self, text: &str) -> RawCell {
        let day = text.get(..10).unwrap_or(text);
        match day.parse::<Date>() {
            Ok(date) => RawCell::Good(Cell::Date(date)),
            Err(_) => RawCell::Good(Cell::Text(self.shared.text(text.trim()))),
        }
    }
}

/// A part of a day as hours and minutes: 0.0625 is `1:30`.
fn clock(days: f64) -> String {
    let days: Decimal = format!("{days}").parse().unwrap_or_default();
    let minutes = round::half_away(days.saturating_mul(Decimal::from(1440)), 0);
    let minutes = u64::try_from(minutes).unwrap_or(0);
    format!("{}:{:02}", minutes / 60, minutes % 60)
}

/// `PT1H30M0S` as `1:30`; anything else as it is.
fn clock_of_iso(text: &str) -> String {
    let clock = text.strip_prefix("PT").and_then(|rest| {
        let (hours, rest) = rest.split_once('H')?;
        let (minutes, _) = rest.split_once('M')?;
        let (hours, minutes): (u32, u32) = (hours.parse().ok()?, minutes.parse().ok()?);
        Some(format!("{hours}:{minutes:02}"))
    });
    clock.unwrap_or_else(|| text.to_owned())
}

#[cfg(test)]
mod tests {
    use calamine::ExcelDateTimeType;

    use super::*;

    #[track_caller]
    fn check(number: f64, expected: &str) {
        let cell = CellMaker::default().cell(&DataRef::Float(number), false);
        let Some(RawCell::Good(cell)) = cell else {
            panic!("{number}: {cell:?}");
        };
        assert_eq!(cell.text(), expected);
    }

    #[test]
    fn floats_cross_at_fifteen_digits() {
        check(0.300_000_000_000_000_04, "0.3");
        check(1.005, "1.005");
        check(42.0, "42");
        check(-0.5, "-0.5");
        check(0.833_333_333_333_333_4, "0.833333333333333");
        check(123_456_789.123_456_78, "123456789.123457");
        check(5.551_115_123_125_783e-17, "0");
        check(0.015_625, "0.015625");
    }

    #[test]
    fn numbers_beyond_all_jobs_are_kept_apart() {
        let mut maker = CellMaker::default();
        let huge = maker.cell(&DataRef::Float(1e300), false);
        assert_eq!(huge, Some(RawCell::TooLarge(Arc::from("1e300"))));
        assert!(matches!(
            maker.cell(&DataRef::Float(f64::NAN), false),
            Some(RawCell::TooLarge(_))
        ));
    }

    #[test]
    fn days_are_dates_and_parts_of_days_are_clock_times() {
        let mut maker = CellMaker::default();
        let day = ExcelDateTime::new(46_350.0, ExcelDateTimeType::DateTime, false);
        let cell = maker.cell(&DataRef::DateTime(day), false);
        assert_eq!(
            cell,
            Some(RawCell::Good(Cell::Date(jiff::civil::date(2026, 11, 24))))
        );
        let part = ExcelDateTime::new(0.0625, ExcelDateTimeType::DateTime, false);
        let cell = maker.cell(&DataRef::DateTime(part), false);
        assert_eq!(cell.unwrap().as_text(), Some("1:30"));
        let cell = maker.cell(&DataRef::DurationIso("PT01H30M00S".to_owned()), false);
        assert_eq!(cell.unwrap().as_text(), Some("1:30"));
    }
}
