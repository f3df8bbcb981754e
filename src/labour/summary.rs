//! How many hours there are in all, and how far to trust them.

use super::{Labour, LabourLine};
use crate::model::job::Job;
use crate::model::settings::TopUp;
use crate::takeoff::Moment;
use crate::units::{Hours, show};

/// Hours in all, and how many of them rest on typical figures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct HoursSummary {
    /// All person-hours.
    pub total: Hours,
    /// Those whose rate is a typical figure and not the user's.
    pub typical: Hours,
    /// All of them at the low end of the typical rates. Days stay as counted.
    pub low: Hours,
    /// All of them at the high end of the typical rates. Days stay as counted.
    pub high: Hours,
}

impl HoursSummary {
    fn of<'a>(lines: impl Iterator<Item = &'a LabourLine>) -> Self {
        let mut sum = Self::default();
        for line in lines {
            let (low, high) = line.range.unwrap_or((line.hours, line.hours));
            sum.total += line.hours;
            sum.low += low;
            sum.high += high;
            if line.typical {
                sum.typical += line.hours;
            }
        }
        sum
    }

    /// In words: `119.2 hours, of which 23.2 rest on typical figures, not yours; low 110, high 140.5`.
    pub fn words(&self) -> String {
        let hours = |h: Hours| show::grouped_plain(h.in_hours(), 1);
        if self.typical.is_zero() {
            return format!("{} hours, all on your own figures", hours(self.total));
        }
        format!(
            "{} hours, of which {} rest on typical figures, not yours; low {}, high {}",
            hours(self.total),
            hours(self.typical),
            hours(self.low),
            hours(self.high)
        )
    }

    /// The same for a line of a screen: `119.2 hours (110 to 140.5); 23.2 rest on typical figures, not yours`.
    pub fn short(&self) -> String {
        if self.typical.is_zero() {
            return self.words();
        }
        let hours = |h: Hours| show::grouped_plain(h.in_hours(), 1);
        format!(
            "{} hours ({} to {}); {} rest on typical figures, not yours",
            hours(self.total),
            hours(self.low),
            hours(self.high),
            hours(self.typical)
        )
    }
}

/// The hours that the price holds: the top-up visit among them only when it is included.
pub fn hours_in_price(job: &Job, labour: &Labour) -> HoursSummary {
    match job.settings.top_up.value {
        TopUp::Included => hours_summary(labour),
        _ => hours_summary_at(labour, Moment::Build),
    }
}

/// The hours of the whole job, the top-up visit among them when it has one.
pub fn hours_summary(labour: &Labour) -> HoursSummary {
    HoursSummary::of(labour.lines.iter())
}

/// The hours of the build or of the top-up visit alone.
pub fn hours_summary_at(labour: &Labour, moment: Moment) -> HoursSummary {
    HoursSummary::of(labour.lines.iter().filter(|l| l.moment == moment))
}
