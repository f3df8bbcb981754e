//! For how long a price holds, and why not for longer.

use std::fmt;

use jiff::ToSpan;
use jiff::civil::Date;

use super::Estimate;

/// The days of a price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Validity {
    /// Day of the estimate.
    pub date: Date,
    /// Last day on which the price holds.
    pub until: Date,
    /// Days for which the job would have it hold.
    pub valid_days: u32,
    /// Days for which a supplier's price counts as fresh.
    pub stale_days: u32,
    /// Day of the oldest price used, and its age in days.
    pub oldest: Option<(Date, i64)>,
}

impl Validity {
    /// That of an estimate.
    pub fn of(estimate: &Estimate) -> Self {
        let settings = &estimate.job.settings;
        Self {
            date: estimate.date,
            until: estimate.price.valid_until,
            valid_days: settings.valid_days.value,
            stale_days: settings.stale_days.value,
            oldest: estimate.price.oldest_price,
        }
    }

    /// Day and age of the price that cuts the validity short.
    pub fn cut_by(&self) -> Option<(Date, i64)> {
        let full = self.date.checked_add(i64::from(self.valid_days).days());
        self.oldest
            .filter(|_| full.is_ok_and(|full| self.until < full))
    }
}

/// `until 2026-04-19`, and what cuts it short:
/// `until 2026-04-08: its oldest price is of 2026-03-09, and prices count as fresh for 30 days`.
impl fmt::Display for Validity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let until = self.until;
        let Some((oldest, age)) = self.cut_by() else {
            return write!(f, "until {until}");
        };
        let fresh = days(i64::from(self.stale_days));
        if until > self.date {
            return write!(
                f,
                "until {until}: its oldest price is of {oldest}, and prices count as fresh for {fresh}"
            );
        }
        let age = days(age);
        write!(
            f,
            "on {until} only: its oldest price, of {oldest}, is {age} old, and prices count as fresh for {fresh}"
        )
    }
}

/// `1 day`, `30 days`.
pub fn days(number: i64) -> String {
    match number {
        1 => "1 day".to_owned(),
        n => format!("{n} days"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    /// An estimate of 24 November that shall hold for 30 days, with prices that stay fresh for 30.
    fn words(oldest: Option<(Date, i64)>, until: Date) -> String {
        let validity = Validity {
            date: date(2026, 11, 24),
            until,
            valid_days: 30,
            stale_days: 30,
            oldest,
        };
        validity.to_string()
    }

    #[test]
    fn a_price_that_old_prices_cut_short_says_so() {
        let (today, full) = (date(2026, 11, 24), date(2026, 12, 24));
        assert_eq!(words(None, full), "until 2026-12-24");
        assert_eq!(words(Some((today, 0)), full), "until 2026-12-24");
        // Fresh for 30 days from 1 November: until 1 December.
        assert_eq!(
            words(Some((date(2026, 11, 1), 23)), date(2026, 12, 1)),
            "until 2026-12-01: its oldest price is of 2026-11-01, and prices count as fresh for 30 days"
        );
        // From 1 October to 24 November are 30 + 24 = 54 days.
        assert_eq!(
            words(Some((date(2026, 10, 1), 54)), today),
            "on 2026-11-24 only: its oldest price, of 2026-10-01, is 54 days old, and prices count as fresh for 30 days"
        );
    }
}
