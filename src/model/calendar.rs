//! On which days work is done, and how long what is built waits.

use jiff::civil::{Date, Weekday};
use jiff::{Span, ToSpan as _};

use super::known::Known;

/// Days of the week on which work is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WorkWeek([bool; 7]);

/// Short names of the days, Monday first.
const NAMES: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

impl WorkWeek {
    /// Monday to Friday.
    pub const USUAL: Self = Self([true, true, true, true, true, false, false]);

    /// A week of these days, counted from Monday, which is 0; `None` for a week without any.
    pub fn of(days: impl IntoIterator<Item = usize>) -> Option<Self> {
        let mut week = [false; 7];
        for day in days {
            if let Some(place) = week.get_mut(day) {
                *place = true;
            }
        }
        week.contains(&true).then_some(Self(week))
    }

    /// Whether work is done on a day of the week.
    pub fn has(self, day: Weekday) -> bool {
        let place = usize::try_from(day.to_monday_zero_offset()).unwrap_or(0);
        self.0.get(place).copied().unwrap_or(false)
    }

    /// `Mon-Fri`, or `Mon, Wed, Fri`.
    pub fn words(self) -> String {
        let days: Vec<usize> = (0..7).filter(|d| self.0.get(*d) == Some(&true)).collect();
        let name = |day: &usize| NAMES.get(*day).copied().unwrap_or_default();
        match (days.first(), days.last()) {
            (Some(first), Some(last)) if days.len() > 2 && last - first + 1 == days.len() => {
                format!("{}-{}", name(first), name(last))
            }
            _ => {
                let names: Vec<&str> = days.iter().map(name).collect();
                names.join(", ")
            }
        }
    }
}

/// The calendar of a job.
#[derive(Clone, Debug)]
pub struct Calendar {
    /// Days of the week on which work is done.
    pub week: Known<WorkWeek>,
    /// Days on which no work is done beside.
    pub days_off: Vec<Date>,
    /// Days for which fill settles before it is planted.
    pub settling: Known<u32>,
    /// Days from the end of the build to the visit that tops up.
    pub season: Known<u32>,
}

/// More days than any search for a working day goes: with every day off there is none.
const MOST_DAYS: u32 = 3_700;

impl Calendar {
    /// Whether work is done on a day.
    pub fn is_working(&self, day: Date) -> bool {
        self.week.value.has(day.weekday()) && !self.days_off.contains(&day)
    }

    /// The first working day on a day or after it.
    pub fn on_or_after(&self, day: Date) -> Date {
        self.walk(day, 1.day())
    }

    /// The last working day on a day or before it.
    pub fn on_or_before(&self, day: Date) -> Date {
        self.walk(day, -1.day())
    }

    fn walk(&self, day: Date, step: Span) -> Date {
        let mut found = day;
        for _ in 0..MOST_DAYS {
            if self.is_working(found) {
                return found;
            }
            found = found.saturating_add(step);
        }
        day
    }

    /// The working day that is the `n`th from a day, from 0: with 0 the first on the day or after it.
    pub fn nth_from(&self, day: Date, n: u32) -> Date {
        let mut found = self.on_or_after(day);
        for _ in 0..n.min(MOST_DAYS) {
            found = self.on_or_after(found.saturating_add(1.day()));
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn calendar() -> Calendar {
        Calendar {
            week: Known::assumed(WorkWeek::USUAL, "usual"),
            days_off: vec![date(2026, 4, 6)],
            settling: Known::assumed(14, "usual"),
            season: Known::assumed(180, "usual"),
        }
    }

    #[test]
    fn weekends_and_days_off_are_stepped_over() {
        let calendar = calendar();
        // 2026-04-03 is a Friday, the Monday after it is off.
        assert_eq!(calendar.nth_from(date(2026, 4, 3), 0), date(2026, 4, 3));
        assert_eq!(calendar.nth_from(date(2026, 4, 3), 1), date(2026, 4, 7));
        assert_eq!(calendar.on_or_before(date(2026, 4, 6)), date(2026, 4, 3));
        assert_eq!(calendar.on_or_after(date(2026, 4, 4)), date(2026, 4, 7));
    }

    #[test]
    fn a_week_is_said_as_people_say_it() {
        assert_eq!(WorkWeek::USUAL.words(), "Mon-Fri");
        assert_eq!(WorkWeek::of([0, 2, 4]).unwrap().words(), "Mon, Wed, Fri");
        assert_eq!(WorkWeek::of([5, 6]).unwrap().words(), "Sat, Sun");
        assert_eq!(WorkWeek::of([]), None);
    }
}
