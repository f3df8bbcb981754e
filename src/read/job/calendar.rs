//! Working days, days off and waits of the `Job` sheet.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::draft::figure;
use super::settings::Cells;
use crate::model::calendar::{Calendar, WorkWeek};
use crate::model::known::Known;
use crate::model::library::Library;
use crate::units::parse::{self, DateOrder, without_accents};

/// The first letters by which a day is known, in English and Spanish, Monday first. Longer ones come first
/// where one begins as another does.
const DAYS: [(&str, usize); 14] = [
    ("mon", 0),
    ("tue", 1),
    ("wed", 2),
    ("thu", 3),
    ("fri", 4),
    ("sat", 5),
    ("sun", 6),
    ("lun", 0),
    ("mar", 1),
    ("mie", 2),
    ("jue", 3),
    ("vie", 4),
    ("sab", 5),
    ("dom", 6),
];

/// The calendar of the job.
pub(super) fn calendar(cells: &mut Cells<'_>, library: &Library) -> Calendar {
    let usual = Known::assumed(WorkWeek::USUAL, "not set, taken as Mon-Fri");
    let week = cells.take_or("Working days", usual, |r| {
        let text = r.text("Value")?;
        let week = week(&text);
        if week.is_none() {
            let hint = "write the days as Mon-Fri, or Mon, Wed, Fri";
            r.complain("Value", "Value must be days of the week", hint);
        }
        week
    });
    let days_off = cells.take("Days off", |r| {
        let text = r.text("Value")?;
        let days = dates(&text);
        if days.is_none() {
            let hint = "write each as 2026-05-25, and a semicolon between two";
            r.complain("Value", "Value must be dates", hint);
        }
        days
    });
    Calendar {
        week,
        days_off: days_off.map(|known| known.value).unwrap_or_default(),
        settling: wait(cells, library, "Days to settle", "settle_days"),
        season: wait(cells, library, "Days to top-up", "season_days"),
    }
}

/// Days that the job gives, or the typical figure of the library.
fn wait(
    cells: &mut Cells<'_>,
    library: &Library,
    title: &'static str,
    key: &'static str,
) -> Known<u32> {
    let whole = |days: Decimal| days.to_u32().unwrap_or(0);
    cells.take_or(title, figure(library, key, whole), |r| r.whole("Value"))
}

/// `Mon-Fri`, `monday to saturday`, `Mon, Wed and Fri`, `lun-vie`.
fn week(text: &str) -> Option<WorkWeek> {
    let plain: String = without_accents(text).collect::<String>().to_lowercase();
    let plain = plain
        .replace(['–', '—'], "-")
        .replace(" to ", "-")
        .replace(" a ", "-");
    let parts = plain.split([',', ';', '/', '&', '+', '\n']);
    let parts = parts.flat_map(|part| part.split(" and ").flat_map(|p| p.split(" y ")));
    let mut days = Vec::new();
    for part in parts.map(str::trim).filter(|part| !part.is_empty()) {
        match part.split_once('-') {
            None => days.push(day(part)?),
            Some((from, to)) => {
                let (from, to) = (day(from.trim())?, day(to.trim())?);
                // Sat-Mon goes round the end of the week.
                let length = (to + 7 - from) % 7;
                days.extend((0..=length).map(|n| (from + n) % 7));
            }
        }
    }
    WorkWeek::of(days)
}

fn day(word: &str) -> Option<usize> {
    let is_word = word.chars().all(|c| c.is_alphabetic() || c == '.');
    let found = DAYS.iter().find(|(start, _)| word.starts_with(start));
    found.filter(|_| is_word).map(|(_, day)| *day)
}

/// Dates with semicolons between them; commas too where no month is in words.
fn dates(text: &str) -> Option<Vec<Date>> {
    let has_words = text.chars().any(char::is_alphabetic);
    let parts = text.split(|c| c == ';' || c == '\n' || (c == ',' && !has_words));
    let parts = parts.map(str::trim).filter(|part| !part.is_empty());
    parts
        .map(|part| parse::date(part, DateOrder::Ask).ok())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn weeks_are_read_as_people_write_them() {
        let check = |text: &str, words: &str| {
            let week = week(text).map(WorkWeek::words);
            assert_eq!(week.as_deref(), Some(words), "{text}");
        };
        check("Mon-Fri", "Mon-Fri");
        check("Monday to Saturday", "Mon-Sat");
        check("mon, wed and fri", "Mon, Wed, Fri");
        check("Lunes a viernes", "Mon-Fri");
        check("mié, sáb", "Wed, Sat");
        check("Sat-Mon", "Mon, Sat, Sun");
        for wrong in ["", "daily", "Mon-", "1-5", "Mon-Fry day"] {
            assert_eq!(week(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn days_off_stand_in_one_cell() {
        let two = Some(vec![date(2026, 5, 25), date(2026, 7, 3)]);
        assert_eq!(dates("2026-05-25; 2026-07-03"), two);
        assert_eq!(dates("2026-05-25, 2026-07-03"), two);
        assert_eq!(dates("May 25, 2026; 3 Jul 2026"), two);
        assert_eq!(dates("the last week of May"), None);
    }
}
