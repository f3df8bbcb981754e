//! Dates in words and figures.

use jiff::civil::Date;

use super::Wrong;
use super::words::plain_marks;

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];
const SPANISH_MONTHS: [&str; 12] = [
    "ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sep", "oct", "nov", "dic",
];
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// Which number of `3/4/2026` is the month, as the other dates of a file show.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum DateOrder {
    /// Nothing in the file decides: `3/4/2026` asks.
    #[default]
    Ask,
    /// `24/11/2026` stands there too.
    DayFirst,
    /// `11/24/2026` stands there too.
    MonthFirst,
}

/// A date: `2026-11-24`, `24 Nov 2026`, `Nov 24, 2026`, `24-Nov-26`; `3/4/2026` asks which is the month
/// unless `order` says so.
pub fn date(text: &str, order: DateOrder) -> Result<Date, Wrong> {
    let plain = plain_marks(text).to_lowercase();
    let parts = parts_of(&plain);
    let [a, b, c] = parts.as_slice() else {
        return Err(plain
            .parse()
            .ok()
            .and_then(serial)
            .map_or_else(date_wrong, serial_wrong));
    };
    match (month(a), month(b)) {
        (Some(m), None) => of(year(c), Some(m), figure(b)),
        (None, Some(m)) => of(year(c), Some(m), figure(a)),
        (None, None) => all_figures([a, b, c], &plain, order),
        (Some(_), Some(_)) => Err(date_wrong()),
    }
}

/// The words and numbers of a date; a time of day behind it, a weekday before it and the Spanish `de`
/// are no part of it.
fn parts_of(plain: &str) -> Vec<&str> {
    let day_only = plain.split('t').next().filter(|d| is_iso(d));
    let parts = day_only.unwrap_or(plain).split([' ', ',', '-', '/', '.']);
    let is_clock = |part: &str| part.contains(':') || matches!(part, "am" | "pm");
    parts
        .filter(|p| !p.is_empty() && !is_weekday(p) && !is_clock(p) && *p != "de")
        .collect()
}

/// What a text shows about the order of day and month; [`DateOrder::Ask`] when nothing.
pub fn date_evidence(text: &str) -> DateOrder {
    let is_date = text.len() <= 24 && text.contains(['/', '-']);
    if !is_date || !text.starts_with(|c: char| c.is_ascii_digit()) {
        return DateOrder::Ask;
    }
    let parts = parts_of(text);
    let numbers: Vec<i16> = parts.iter().filter_map(|p| p.parse().ok()).collect();
    match (parts.as_slice(), numbers.as_slice()) {
        ([_, _, third], [13..=31, 1..=12, _]) if year(third).is_some_and(|y| y > 1000) => {
            DateOrder::DayFirst
        }
        ([_, _, third], [1..=12, 13..=31, _]) if year(third).is_some_and(|y| y > 1000) => {
            DateOrder::MonthFirst
        }
        _ => DateOrder::Ask,
    }
}

/// Month and day, or only the month, of `6-Jul` and `Jul-94`, which is how spreadsheets show what they
/// took for a date.
pub(super) fn made_by_a_spreadsheet(plain: &str) -> Option<(i8, Option<i8>)> {
    let (first, second) = plain.split_once('-')?;
    let number = |part: &str| part.parse::<i8>().ok().filter(|_| part.len() <= 2);
    let exact = |part: &str| month(part).filter(|_| part.len() == 3);
    let (named, figure, day_first) = match (exact(first), exact(second)) {
        (Some(named), None) => (named, number(second)?, false),
        (None, Some(named)) => (named, number(first)?, true),
        _ => return None,
    };
    let named = i8::try_from(named).ok()?;
    Some((named, (day_first || figure <= 31).then_some(figure)))
}

/// The day that spreadsheets keep as this number, when it is one of our time.
pub(crate) fn serial(number: i32) -> Option<Date> {
    const DAYS: std::ops::Range<i32> = 36_526..73_051;
    let first = jiff::civil::date(1899, 12, 30);
    let days = DAYS.contains(&number).then_some(number)?;
    first.checked_add(jiff::Span::new().days(days)).ok()
}

/// What to say of a day that stands there as its number.
pub(crate) fn serial_wrong(day: Date) -> Wrong {
    Wrong::new(
        "needs a date, not a bare number",
        format!("write {day}, if the number is a day as spreadsheets count them"),
    )
}

fn all_figures(
    [first, second, third]: [&str; 3],
    plain: &str,
    order: DateOrder,
) -> Result<Date, Wrong> {
    if first.len() == 4 {
        return of(figure(first), figure(second), figure(third));
    }
    let (first, second, year) = (figure(first), figure(second), year(third));
    match (first, second) {
        // Dots are written where the day comes first.
        (Some(day), Some(month)) if plain.contains('.') => of(year, Some(month), Some(day)),
        (Some(day), Some(month)) if day > 12 || day == month => of(year, Some(month), Some(day)),
        (Some(month), Some(day)) if day > 12 => of(year, Some(month), Some(day)),
        (Some(day), month @ Some(_)) if order == DateOrder::DayFirst => of(year, month, Some(day)),
        (month @ Some(_), day @ Some(_)) if order == DateOrder::MonthFirst => of(year, month, day),
        (Some(one), Some(other)) => Err(Wrong::new(
            "is unclear: which of the two numbers is the month?",
            match (two_ways(year, one, other), two_ways(year, other, one)) {
                (Ok(one), Ok(other)) => format!("write {} or {}", in_words(one), in_words(other)),
                _ => "write 2026-11-24 or 24 Nov 2026".to_owned(),
            },
        )),
        _ => Err(date_wrong()),
    }
}

fn two_ways(year: Option<i16>, month: i16, day: i16) -> Result<Date, Wrong> {
    of(year, Some(month), Some(day))
}

/// `2026-05-04 (4 May)`
fn in_words(day: Date) -> String {
    format!("{day} ({})", day.strftime("%-d %B"))
}

fn is_iso(text: &str) -> bool {
    text.len() == 10 && text.bytes().filter(|b| *b == b'-').count() == 2
}

fn is_weekday(part: &str) -> bool {
    part.get(..3).is_some_and(|start| WEEKDAYS.contains(&start)) && month(part).is_none()
}

/// The month that a word names by at least its first three letters.
fn month(part: &str) -> Option<i16> {
    let start = part.get(..3)?;
    let named = |months: &[&str]| months.iter().position(|m| *m == start);
    let index = named(&MONTHS).or_else(|| named(&SPANISH_MONTHS))?;
    i16::try_from(index).ok()?.checked_add(1)
}

/// A year of four digits, or of two when it can only be one of the years that are near.
fn year(part: &str) -> Option<i16> {
    let number = figure(part)?;
    let near = part.len() == 2 && (20..80).contains(&number);
    Some(if near {
        number.saturating_add(2000)
    } else {
        number
    })
}

fn figure(part: &str) -> Option<i16> {
    let ending = ["st", "nd", "rd", "th"];
    let digits = ending.iter().find_map(|e| part.strip_suffix(e));
    digits.unwrap_or(part).parse().ok()
}

fn of(year: Option<i16>, month: Option<i16>, day: Option<i16>) -> Result<Date, Wrong> {
    let (Some(year), Some(month), Some(day)) = (year, month, day) else {
        return Err(date_wrong());
    };
    if year < 1000 {
        return Err(Wrong::new(
            "needs a year of four digits",
            "write 2026-11-24 or 24 Nov 2026",
        ));
    }
    let (month, day) = (i8::try_from(month).ok(), i8::try_from(day).ok());
    let date = month.zip(day).and_then(|(m, d)| Date::new(year, m, d).ok());
    date.ok_or_else(|| {
        Wrong::new(
            "is no day of the calendar",
            "write 2026-11-24 or 24 Nov 2026",
        )
    })
}

fn date_wrong() -> Wrong {
    Wrong::new("needs a date", "write 2026-11-24 or 24 Nov 2026")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(text: &str, expected: &str) {
        assert_eq!(
            date(text, DateOrder::Ask).map(|d| d.to_string()),
            Ok(expected.to_owned()),
            "{text}"
        );
    }

    #[test]
    fn dates_in_every_usual_form() {
        check("2026-11-24", "2026-11-24");
        check("2026/11/4", "2026-11-04");
        check("2026-11-24T00:00:00", "2026-11-24");
        check("24 Nov 2026", "2026-11-24");
        check("24-nov-2026", "2026-11-24");
        check("Nov 24, 2026", "2026-11-24");
        check("Tuesday, November 24th 2026", "2026-11-24");
        check("Mar 3, 2026", "2026-03-03");
        check("24.11.2026", "2026-11-24");
        check("3.4.2026", "2026-04-03");
        check("11/24/2026", "2026-11-24");
        check("24/11/2026", "2026-11-24");
        check("5/5/2026", "2026-05-05");
        check("24-Nov-26", "2026-11-24");
        check("24 de noviembre de 2026", "2026-11-24");
        check("11/24/2026 8:30 AM", "2026-11-24");
    }

    #[test]
    fn another_date_of_the_file_shows_the_order() {
        assert_eq!(date_evidence("28/5/2026"), DateOrder::DayFirst);
        assert_eq!(date_evidence("5/28/26"), DateOrder::MonthFirst);
        for text in [
            "5/4/2026",
            "2026-05-28",
            "7-28",
            "1/2 yd",
            "28.5.2026",
            "28/5/6",
        ] {
            assert_eq!(date_evidence(text), DateOrder::Ask, "{text}");
        }
        let read = |order| date("5/4/2026", order).map(|d| d.to_string());
        assert_eq!(read(DateOrder::DayFirst), Ok("2026-04-05".to_owned()));
        assert_eq!(read(DateOrder::MonthFirst), Ok("2026-05-04".to_owned()));
    }

    #[test]
    fn a_day_as_its_number_is_named() {
        // 2026-05-04 is 46,146 days after 1899-12-30.
        assert_eq!(serial(46_146), Some(jiff::civil::date(2026, 5, 4)));
        assert_eq!(serial(12), None);
        let wrong = date("46146", DateOrder::Ask).unwrap_err();
        assert_eq!(wrong.sentence, "needs a date, not a bare number");
    }

    #[test]
    fn a_date_that_can_be_two_days_asks() {
        let wrong = date("3/4/2026", DateOrder::Ask).unwrap_err();
        assert_eq!(
            wrong.sentence,
            "is unclear: which of the two numbers is the month?"
        );
        assert_eq!(
            wrong.hint,
            "write 2026-03-04 (4 March) or 2026-04-03 (3 April)"
        );
        assert_eq!(
            date("24 Nov 1", DateOrder::Ask).unwrap_err().sentence,
            "needs a year of four digits"
        );
        assert_eq!(
            date("31 Feb 2026", DateOrder::Ask).unwrap_err().sentence,
            "is no day of the calendar"
        );
        assert_eq!(
            date("soon", DateOrder::Ask).unwrap_err().sentence,
            "needs a date"
        );
        assert_eq!(
            date("", DateOrder::Ask).unwrap_err().sentence,
            "needs a date"
        );
    }
}
