//! Days: visits over weekends and days off, deliveries and last days to order, waits, the calendar file.

use jiff::civil::{Date, date};
use loamwright::price::Estimate;
use loamwright::schedule::Schedule;
use loamwright::takeoff::Moment;
use loamwright::write::calendar::calendar;

use crate::pipeline::{price, priced};
use crate::tables::Tables;

/// The clinic's job with settings and a first day for its first site.
fn clinic(settings: &[(&str, &str)], first_day: &str) -> Estimate {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    for (name, value) in settings {
        tables.setting(name, value);
    }
    let sites = tables.table("Sites");
    sites.titles.push("First day".to_owned());
    let name = sites.column("Site");
    for row in &mut sites.rows {
        let is_first = row[name] == "Front court";
        row.push(if is_first { first_day } else { "" }.to_owned());
    }
    priced(&tables.folder().path)
}

fn visits(schedule: &Schedule) -> Vec<(&str, Moment, Date, Date, Date)> {
    let visits = schedule.visits.iter();
    visits
        .map(|v| (&*v.name, v.moment, v.from, v.to, v.filling))
        .collect()
}

const EASTER: [(&str, &str); 1] = [("Days off", "2026-04-06")];

#[test]
fn visits_step_over_a_weekend_and_a_holiday() {
    let schedule = clinic(&EASTER, "2026-04-02").schedule().unwrap();
    // 81.88 h of a crew of 3 at Front court are 5 days: Thu 2, Fri 3, Tue 7, Wed 8, Thu 9 April; filling begins
    // on the fourth. Kitchen yard follows on the next working day with 4: Fri 10, Mon 13, Tue 14, Wed 15.
    // 180 days after 9 April is 6 October, after 15 April 12 October.
    assert_eq!(
        visits(&schedule),
        [
            (
                "Front court",
                Moment::Build,
                date(2026, 4, 2),
                date(2026, 4, 9),
                date(2026, 4, 8)
            ),
            (
                "Kitchen yard",
                Moment::Build,
                date(2026, 4, 10),
                date(2026, 4, 15),
                date(2026, 4, 14)
            ),
            (
                "Front court",
                Moment::TopUp,
                date(2026, 10, 6),
                date(2026, 10, 6),
                date(2026, 10, 6)
            ),
            (
                "Kitchen yard",
                Moment::TopUp,
                date(2026, 10, 12),
                date(2026, 10, 12),
                date(2026, 10, 12)
            ),
        ]
    );
    // 14 days after the last day of work.
    let ready: Vec<Date> = schedule.ready.iter().map(|ready| ready.day).collect();
    assert_eq!(ready, [date(2026, 4, 23), date(2026, 4, 29)]);
}

#[test]
fn spoil_leaves_on_the_first_day_and_fill_comes_on_the_day_of_filling() {
    let estimate = clinic(&EASTER, "2026-04-02");
    let files = loamwright::write::orders::orders(&estimate);
    let (_, bytes) = files
        .iter()
        .find(|(name, _)| name.contains("Hollow Creek"))
        .unwrap();
    let mut reader = csv::Reader::from_reader(&bytes[3..]);
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let day = |material: &str| {
        let own = |row: &&csv::StringRecord| &row[3] == "Front court" && &row[10] == material;
        let row = rows.iter().find(own).unwrap();
        (row[8].to_owned(), row[9].to_owned())
    };
    assert_eq!(
        day("Spoil"),
        ("taken away".to_owned(), "2026-04-02".to_owned())
    );
    assert_eq!(
        day("Garden blend"),
        ("brought".to_owned(), "2026-04-08".to_owned())
    );
}

#[test]
fn goods_are_ordered_as_many_days_ahead_as_the_prices_say() {
    let schedule = clinic(&EASTER, "2026-04-02").schedule().unwrap();
    let soil = schedule
        .deliveries
        .iter()
        .find(|d| d.site.as_deref() == Some("Front court") && !d.what.contains("Spoil"))
        .unwrap();
    // Filling begins on Wed 8 April; 2 days before is the holiday, so Fri 3 April is the last day to order.
    assert_eq!(&*soil.name, "Hollow Creek Soil Yard");
    assert_eq!(
        (soil.day, soil.order_by),
        (date(2026, 4, 8), Some(date(2026, 4, 3)))
    );
    let packs = schedule
        .deliveries
        .iter()
        .find(|d| d.site.is_none())
        .unwrap();
    assert_eq!(packs.day, date(2026, 4, 2));
    assert!(
        packs.loads == 0 && packs.what.contains("2x10 cedar"),
        "{packs:?}"
    );
    for delivery in &schedule.deliveries {
        let visit = schedule
            .visits
            .iter()
            .find(|v| v.moment == delivery.moment)
            .unwrap();
        assert!(delivery.day >= visit.from, "{delivery:?}");
        assert!(delivery.order_by.is_none_or(|day| day <= delivery.day));
    }
}

#[test]
fn what_cannot_come_in_time_is_told() {
    // The estimate is of 20 March 2026, a Friday; boards and tanks need days.
    let schedule = clinic(&[], "2026-03-23").schedule().unwrap();
    assert!(
        schedule
            .notes
            .iter()
            .any(|note| note.contains("Tannery Road Supply")
                && note.contains("would have had to be ordered by 2026-03-18")),
        "{:?}",
        schedule.notes
    );
    let late = clinic(&[], "2026-04-04").schedule().unwrap();
    assert_eq!(
        late.notes,
        ["Front court begins on the next working day, 2026-04-06"]
    );
}

#[test]
fn without_a_first_day_days_are_counted() {
    let estimate = priced(&crate::folders::root("examples/clinic-gardens/job"));
    let schedule = estimate.schedule().unwrap();
    assert!(!schedule.has_dates);
    let days: Vec<(String, String)> = schedule
        .visits
        .iter()
        .map(|v| (schedule.day_words(v.from), schedule.day_words(v.to)))
        .collect();
    // Five days from a Monday, then four from the next: days 6 and 7 are a weekend.
    assert_eq!(days[0], ("day 1".to_owned(), "day 5".to_owned()));
    assert_eq!(days[1], ("day 8".to_owned(), "day 11".to_owned()));
    assert_eq!(calendar(&estimate), None);
}

#[test]
fn a_larger_crew_is_done_no_later_and_nobody_works_on_a_day_off() {
    let mut last = Date::MAX;
    for crew in ["1", "2", "3", "4", "6", "9"] {
        let settings = [
            ("Crew size", crew),
            ("Working days", "Mon, Tue, Thu"),
            ("Days off", "2026-04-07; 2026-04-13"),
        ];
        let estimate = clinic(&settings, "2026-04-01");
        let schedule = estimate.schedule().unwrap();
        let end = schedule.visits.iter().filter(|v| v.moment == Moment::Build);
        let end = end.map(|v| v.to).max().unwrap();
        assert!(end <= last, "{crew}");
        last = end;
        let calendar = &estimate.job.settings.calendar;
        for visit in &schedule.visits {
            assert!(calendar.is_working(visit.from) && calendar.is_working(visit.to));
            assert!(calendar.is_working(visit.filling));
        }
    }
}

#[test]
fn the_calendar_file_holds_every_day_and_keeps_its_names() {
    let text = calendar(&clinic(&EASTER, "2026-04-02")).unwrap();
    let events = |text: &str| text.matches("BEGIN:VEVENT").count();
    let names = |text: &str| {
        let lines = text.lines().filter(|line| line.starts_with("UID:"));
        let mut names: Vec<String> = lines.map(str::to_owned).collect();
        names.sort();
        names
    };
    assert!(text.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"));
    assert!(text.ends_with("END:VCALENDAR\r\n") && !text.replace("\r\n", "").contains('\n'));
    for words in [
        "DTSTAMP:20260320T000000Z",
        // From 2 to 9 April: the end is the day after.
        "DTSTART;VALUE=DATE:20260402\r\nDTEND;VALUE=DATE:20260410\r\nSUMMARY:Build at Front court",
        "LOCATION:Front court\\, 1 Larkspur Way",
        "SUMMARY:Last day to order from Hollow Creek Soil Yard",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    assert!(text.lines().all(|line| line.len() <= 75), "{text}");
    // A week later the same events have the same names, so that a calendar moves them.
    let moved = calendar(&clinic(&EASTER, "2026-04-09")).unwrap();
    assert_eq!(names(&text), names(&moved));
    let mut once = names(&text);
    once.dedup();
    assert_eq!(once.len(), events(&text));
}

#[test]
fn a_wrong_calendar_names_its_cell() {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    tables.setting("Working days", "weekdays");
    tables.setting("Days off", "the last week of May");
    let problems = price(&tables.folder().path, None).unwrap_err();
    let told: Vec<&str> = problems.iter().map(|p| &*p.sentence).collect();
    assert!(
        told.contains(&"Working days must be days of the week"),
        "{told:?}"
    );
    assert!(told.contains(&"Days off must be dates"), "{told:?}");
}
