//! Dates in words and figures.

use jiff::civil::Date;

use super::Wrong;
use super::words::plain_marks;

const MONTHS: [&str; 12] = [
    "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec",
];
const WEEKDAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// A date: `2026-11-24`, `24 Nov 2026`, `Nov 24, 2026`; `3/4/2026` asks which is the month.
pub fn date(text: &str) -> Result<Date, Wrong> {
    let plain = plain_marks(text).to_lowercase();
    // A time of day behind an ISO date is no part of it.
    let day_only = plain.split('t').next().filter(|d| is_iso(d));
    let parts: Vec<&str> = day_only
        .unwrap_or(&plain)
        .split([' ', ',', '-', '/', '.'])
        .filter(|part| !part.is_empty() && !is_weekday(part))
        .collect();
    let [a, b, c] = parts.as_slice() else {
        return Err(date_wrong());
    };
    match (month(a), month(b)) {
        (Some(m), None) => of(figure(c), Some(m), figure(b)),
        (None, Some(m)) => of(figure(c), Some(m), figure(a)),
        (None, None) => all_figures([a, b, c], &plain),
        (Some(_), Some(_)) => Err(date_wrong()),
    }
}

fn all_figures([first, second, third]: [&str; 3], plain: &str) -> Result<Date, Wrong> {
    if first.len() == 4 {
        return of(figure(first), figure(second), figure(third));
    }
    let (first, second, year) = (figure(first), figure(second), figure(third));
    match (first, second) {
        // Dots are written where the day comes first.
        (Some(day), Some(month)) if plain.contains('.') => of(year, Some(month), Some(day)),
        (Some(day), Some(month)) if day > 12 || day == month => of(year, Some(month), Some(day)),
        (Some(month), Some(day)) if day > 12 => of(year, Some(month), Some(day)),
        (Some(one), Some(other)) => Err(Wrong::new(
            "is unclear: which of the two numbers is the month?",
            match (two_ways(year, one, other), two_ways(year, other, one)) {
                (Ok(one), Ok(other)) => format!("write {one} or {other}"),
                _ => "write 2026-11-24 or 24 Nov 2026".to_owned(),
            },
        )),
        _ => Err(date_wrong()),
    }
}

fn two_ways(year: Option<i16>, month: i16, day: i16) -> Result<Date, Wrong> {
    of(year, Some(month), Some(day))
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
    let index = MONTHS.iter().position(|m| *m == start)?;
    i16::try_from(index).ok()?.checked_add(1)
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
            date(text).map(|d| d.to_string()),
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
    }

    #[test]
    fn a_date_that_can_be_two_days_asks() {
        let wrong = date("3/4/2026").unwrap_err();
        assert_eq!(
            wrong.sentence,
            "is unclear: which of the two numbers is the month?"
        );
        assert_eq!(wrong.hint, "write 2026-03-04 or 2026-04-03");
        assert_eq!(
            date("24 Nov 26").unwrap_err().sentence,
            "needs a year of four digits"
        );
        assert_eq!(
            date("31 Feb 2026").unwrap_err().sentence,
            "is no day of the calendar"
        );
        assert_eq!(date("soon").unwrap_err().sentence, "needs a date");
        assert_eq!(date("").unwrap_err().sentence, "needs a date");
    }
}
