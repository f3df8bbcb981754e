//! The clock and the environment: read here and nowhere else.

use std::time::{SystemTime, UNIX_EPOCH};

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::args::ColorWhen;

/// What the process finds around it.
#[derive(Clone, Debug)]
pub struct Surroundings {
    /// Today in UTC.
    pub today: Date,
    /// The day that `SOURCE_DATE_EPOCH` sets (seconds since 1970, for outputs that can be reproduced).
    pub epoch: Option<Date>,
    /// Never when `NO_COLOR` is set to anything, always when `CLICOLOR_FORCE` is set to anything but 0,
    /// never on a terminal that knows no colours; the first of these that holds.
    pub color: ColorWhen,
}

/// Who set the date of an estimate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateFrom {
    /// `--date`.
    Option,
    /// `Date` on the `Job` sheet.
    Job,
    /// `SOURCE_DATE_EPOCH`.
    Epoch,
    /// The clock.
    Clock,
}

impl Surroundings {
    /// Those of this process.
    ///
    /// # Errors
    /// When `SOURCE_DATE_EPOCH` is set and is not a number of seconds.
    pub fn of_process() -> Result<Self, String> {
        Ok(Self {
            today: today(),
            epoch: variable("SOURCE_DATE_EPOCH")
                .map(|text| epoch_day(&text))
                .transpose()?,
            color: color(
                variable("NO_COLOR").as_deref(),
                variable("CLICOLOR_FORCE").as_deref(),
                variable("TERM").as_deref(),
            ),
        })
    }

    /// The date of an estimate and who set it: `--date`, then the `Job` sheet, then
    /// `SOURCE_DATE_EPOCH`, then the clock.
    pub fn date(&self, asked: Option<Date>, job: Option<Date>) -> (Date, DateFrom) {
        let set = asked
            .map(|date| (date, DateFrom::Option))
            .or(job.map(|date| (date, DateFrom::Job)))
            .or(self.epoch.map(|date| (date, DateFrom::Epoch)));
        set.unwrap_or((self.today, DateFrom::Clock))
    }
}

impl DateFrom {
    /// In words, for the talk.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Option => "from --date",
            Self::Job => "from the Job sheet",
            Self::Epoch => "from SOURCE_DATE_EPOCH",
            Self::Clock => {
                "today in UTC; --date, or Date on the Job sheet, keeps it for another day"
            }
        }
    }
}

#[allow(
    clippy::disallowed_methods,
    reason = "this is the one place that reads the environment"
)]
fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok().filter(|text| !text.is_empty())
}

#[allow(
    clippy::disallowed_methods,
    reason = "this is the one place that reads the clock"
)]
fn today() -> Date {
    let now = SystemTime::now().duration_since(UNIX_EPOCH);
    let seconds = now.map_or(0, |since| since.as_secs());
    day_of(i64::try_from(seconds).unwrap_or(0)).unwrap_or(Date::constant(1970, 1, 1))
}

fn day_of(seconds: i64) -> Option<Date> {
    let time = Timestamp::from_second(seconds).ok()?;
    Some(TimeZone::UTC.to_datetime(time).date())
}

fn epoch_day(text: &str) -> Result<Date, String> {
    let seconds = text.trim().parse().ok();
    seconds.and_then(day_of).ok_or_else(|| {
        format!("SOURCE_DATE_EPOCH must be a number of seconds since 1970, and is \"{text}\"")
    })
}

fn color(no_color: Option<&str>, force: Option<&str>, term: Option<&str>) -> ColorWhen {
    if no_color.is_some() {
        ColorWhen::Never
    } else if force.is_some_and(|force| force != "0") {
        ColorWhen::Always
    } else if term == Some("dumb") {
        ColorWhen::Never
    } else {
        ColorWhen::Auto
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn the_narrower_wins_and_the_clock_comes_last() {
        let around = Surroundings {
            today: date(2026, 11, 24),
            epoch: Some(date(2026, 3, 3)),
            color: ColorWhen::Never,
        };
        let (asked, job) = (Some(date(2026, 1, 1)), Some(date(2026, 2, 2)));
        assert_eq!(
            around.date(asked, job),
            (date(2026, 1, 1), DateFrom::Option)
        );
        assert_eq!(around.date(None, job), (date(2026, 2, 2), DateFrom::Job));
        assert_eq!(around.date(None, None), (date(2026, 3, 3), DateFrom::Epoch));
        let plain = Surroundings {
            epoch: None,
            ..around
        };
        assert_eq!(
            plain.date(None, None),
            (date(2026, 11, 24), DateFrom::Clock)
        );
    }

    #[test]
    fn seconds_become_the_civil_day_in_utc() {
        // 1,700,000,000 s is 2023-11-14 22:13:20 UTC.
        assert_eq!(epoch_day("1700000000"), Ok(date(2023, 11, 14)));
        assert_eq!(epoch_day("0"), Ok(date(1970, 1, 1)));
        assert_eq!(epoch_day("86399"), Ok(date(1970, 1, 1)));
        assert_eq!(epoch_day("86400"), Ok(date(1970, 1, 2)));
        for wrong in ["yesterday", "1e9", "99999999999999999999"] {
            assert!(epoch_day(wrong).unwrap_err().contains(wrong));
        }
    }

    #[test]
    fn colour_goes_where_it_is_wanted_and_known() {
        let of = |no_color, force, term| color(no_color, force, Some(term));
        assert_eq!(of(Some("1"), Some("1"), "xterm"), ColorWhen::Never);
        assert_eq!(of(None, Some("1"), "dumb"), ColorWhen::Always);
        assert_eq!(of(None, Some("0"), "dumb"), ColorWhen::Never);
        assert_eq!(of(None, Some("0"), "xterm"), ColorWhen::Auto);
        assert_eq!(color(None, None, None), ColorWhen::Auto);
    }
}
