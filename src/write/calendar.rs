//! The schedule as a calendar file that calendars take in (RFC 5545): orders, deliveries and visits as
//! events of whole days.

use std::collections::BTreeMap;

use super::days::{DayRow, RowKind, day_rows};
use super::manifest::hash_of;
use crate::price::Estimate;
use crate::problem::printable;

/// Its file name.
pub const FILE: &str = "schedule.ics";
/// Most bytes of a line, without its end (RFC 5545, 3.1).
const LINE: usize = 75;

/// The file; nothing without a schedule with dates.
pub fn calendar(estimate: &Estimate) -> Option<String> {
    let schedule = estimate.schedule().filter(|schedule| schedule.has_dates)?;
    let job = &estimate.job.settings.job_name;
    let stamp = format!("{}T000000Z", compact(estimate.date));
    let mut text = String::new();
    let mut line = |content: &str| folded(&mut text, content);
    line("BEGIN:VCALENDAR");
    line("VERSION:2.0");
    line("PRODID:-//loamwright//schedule//EN");
    line("CALSCALE:GREGORIAN");
    line("METHOD:PUBLISH");
    line(&format!("X-WR-CALNAME:{}", escaped(job)));
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for row in day_rows(&schedule) {
        line("BEGIN:VEVENT");
        line(&format!(
            "UID:{}@loamwright.invalid",
            uid(&mut seen, identity(job, &row))
        ));
        line(&format!("DTSTAMP:{stamp}"));
        line(&format!("DTSTART;VALUE=DATE:{}", compact(row.from)));
        // The end of an event of whole days is the day after it.
        let end = row.to.tomorrow().unwrap_or(row.to);
        line(&format!("DTEND;VALUE=DATE:{}", compact(end)));
        line(&format!("SUMMARY:{}", escaped(&row.what)));
        line(&format!("DESCRIPTION:{}", escaped(&row.more)));
        if let Some(place) = place(estimate, &row) {
            line(&format!("LOCATION:{}", escaped(&place)));
        }
        // Only visits take the days of the crew.
        let takes = if row.kind == RowKind::Visit {
            "OPAQUE"
        } else {
            "TRANSPARENT"
        };
        line(&format!("TRANSP:{takes}"));
        line("END:VEVENT");
    }
    line("END:VCALENDAR");
    Some(text)
}

fn compact(day: jiff::civil::Date) -> String {
    day.to_string().replace('-', "")
}

/// Address of the site, else its name.
fn place(estimate: &Estimate, row: &DayRow) -> Option<String> {
    let name = row.site.as_ref()?;
    let site = estimate
        .job
        .sites
        .iter()
        .find(|site| *site.name == **name)?;
    let address = site.address.as_ref();
    Some(address.map_or_else(|| name.clone(), |address| format!("{name}, {address}")))
}

/// An identity that no event before it has: the same goods can be ordered for the build and for the top-up.
fn uid(seen: &mut BTreeMap<String, usize>, identity: String) -> String {
    let before = seen.entry(identity.clone()).or_default();
    *before += 1;
    match *before {
        1 => identity,
        n => format!("{identity}-{n}"),
    }
}

/// The same for the same event of a later run, whatever day it moves to, so that a calendar moves it too.
fn identity(job: &str, row: &DayRow) -> String {
    let more = if row.kind == RowKind::Visit {
        ""
    } else {
        &row.more
    };
    let site = row.site.as_deref().unwrap_or_default();
    let kind = format!("{:?}", row.kind);
    let parts = [job, kind.as_str(), site, &row.what, more].join("\u{0}");
    let hash = hash_of(parts.as_bytes());
    hash.trim_start_matches("sha256:")
        .chars()
        .take(24)
        .collect()
}

/// Text as RFC 5545 wants it (3.3.11): backslash, semicolon, comma and line ends escaped.
fn escaped(text: &str) -> String {
    let plain = printable(text);
    let mut out = String::with_capacity(plain.len());
    for c in plain.chars() {
        match c {
            '\\' | ';' | ',' => {
                out.push('\\');
                out.push(c);
            }
            '\n' => out.push_str("\\n"),
            c => out.push(c),
        }
    }
    out
}

/// A line folded at 75 bytes, never within a letter (3.1).
fn folded(text: &mut String, content: &str) {
    let mut used = 0;
    for c in content.chars() {
        if used + c.len_utf8() > LINE {
            text.push_str("\r\n ");
            used = 1;
        }
        text.push(c);
        used += c.len_utf8();
    }
    text.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_of_the_format_are_escaped_and_controls_are_no_part_of_it() {
        assert_eq!(
            escaped("a,b;c\\d\nEND:VEVENT\r\u{1}"),
            "a\\,b\\;c\\\\d\\nEND:VEVENT\u{fffd}\u{fffd}"
        );
    }

    #[test]
    fn no_two_events_share_an_identity() {
        let mut seen = BTreeMap::new();
        let ids: Vec<String> = ["a", "b", "a"]
            .map(|id| uid(&mut seen, id.to_owned()))
            .into();
        assert_eq!(ids, ["a", "b", "a-2"]);
    }

    #[test]
    fn long_lines_are_folded_between_letters() {
        let mut text = String::new();
        folded(&mut text, &format!("SUMMARY:{}", "ö".repeat(60)));
        let lines: Vec<&str> = text.split("\r\n").collect();
        assert!(lines.iter().all(|line| line.len() <= LINE), "{lines:?}");
        let whole: String = text.replace("\r\n ", "");
        assert_eq!(whole, format!("SUMMARY:{}\r\n", "ö".repeat(60)));
    }
}
