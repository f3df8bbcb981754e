use super::super::volunteers::{Sessions, sessions};
use super::yard::{Yard, check_hours, d, given, named, told};
use crate::model::job::SiteId;
use crate::model::labour::{Driver, Pay, WorkerId};
use crate::units::{Hours, round};

/// Sixty trained hours of work for volunteers, 19 of whom can come on a day, with a paid crew beside them.
fn yard() -> (Yard, WorkerId) {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 60, &[(Driver::Bed, "1")]);
    let fill = yard.task("Fill", Driver::Bed, "1");
    yard.worker("Crew", Pay::Paid);
    let helpers = yard.worker("Helpers", Pay::Volunteer);
    yard.job.workers[helpers.index()].headcount = Some(19);
    yard.job.tasks[fill.index()].worker = Some(helpers);
    (yard, helpers)
}

#[test]
fn sixty_trained_hours_take_thirty_eight_sessions() {
    // 60 x 1.65 = 99.0 h; a session of 3 h less 0.33 h of briefing holds 2.67 h; 99 / 2.67 = 37.08 -> 38.
    // Present 38 x 3 = 114 h. Invite 38 / 0.8 = 47.5 -> 48. Two days of 19; 19 / 9 = 2.1 -> 3 supervisors;
    // 3 x 2 days x 3 h = 18 paid h.
    let (yard, helpers) = yard();
    let labour = yard.work();
    check_hours(&labour, "Fill", "99");
    let group = &labour.volunteering[0];
    assert_eq!((group.worker, group.work), (helpers, Hours::of(d("99"))));
    assert_eq!(group.sessions, d("38"));
    assert_eq!(group.present, Hours::of(d("114")));
    assert_eq!(group.invite, d("48"));
    assert_eq!((group.days, group.supervisors), (d("2"), d("3")));
    assert_eq!(group.supervision, Hours::of(d("18")));
    let no_briefing = round::whole_up(d("99") / d("3"));
    assert_eq!(no_briefing, d("33"), "the naive answer");
    let no_factor = round::whole_up(d("60") / d("2.67"));
    assert_eq!(no_factor, d("23"), "the naive answer at the crew's pace");
    let rate_of_no_shows = round::whole_up(d("38") * d("1.2"));
    assert_eq!(rate_of_no_shows, d("46"), "the naive answer: 20% on top");
}

#[test]
fn supervision_is_paid_work_and_volunteers_start_no_crew_days() {
    let (yard, _) = yard();
    let labour = yard.work();
    let line = named(&labour, "Supervision of Helpers");
    assert_eq!((line.quantity, line.rate), (d("6"), d("3")));
    assert_eq!(line.hours, Hours::of(d("18")));
    assert_eq!(line.worker, Some(WorkerId(0)), "the first paid worker");
    assert!(labour.days.is_empty());
    assert_eq!(
        told(&labour),
        [
            "Notice: the supervisors' own set-up and travel on volunteer days are not counted \
             @31:Per supervisor"
        ]
    );
}

#[track_caller]
fn check_sessions(headcount: Option<u32>, work: &str, expected: [&str; 5]) {
    let (mut yard, helpers) = yard();
    let worker = &mut yard.job.workers[helpers.index()];
    worker.headcount = headcount;
    let Sessions {
        sessions,
        invite,
        days,
        supervisors,
        supervision,
        ..
    } = sessions(worker, Hours::of(d(work)), Hours::ZERO);
    let found = [sessions, invite, days, supervisors, supervision.in_hours()];
    assert_eq!(found, expected.map(d), "{work} h with {headcount:?} a day");
}

#[test]
fn the_headcount_limits_a_day() {
    // 38 sessions of 10 a day: 4 days of 9.5 -> 10; 10 / 9 -> 2 supervisors; 2 x 4 x 3 h = 24 h.
    check_sessions(Some(10), "99", ["38", "48", "4", "2", "24"]);
    // 38 on one day: 38 / 9 = 4.2 -> 5; 5 x 3 h = 15 h.
    check_sessions(Some(40), "99", ["38", "48", "1", "5", "15"]);
    check_sessions(None, "99", ["38", "48", "1", "5", "15"]);
    check_sessions(Some(19), "0", ["0", "0", "0", "0", "0"]);
    // exactly one session's worth: 2.67 h
    check_sessions(Some(19), "2.67", ["1", "2", "1", "1", "3"]);
}

#[test]
fn sessions_that_hold_no_work_are_said_and_not_guessed() {
    let (mut yard, helpers) = yard();
    let worker = &mut yard.job.workers[helpers.index()];
    worker.session = given(Hours::of(d("0.25")), "Session length");
    worker.no_show = given(d("1"), "No-show %");
    worker.per_supervisor = given(0, "Per supervisor");
    worker.headcount = None;
    let labour = yard.work();
    assert_eq!(labour.volunteering[0].sessions, d("0"));
    assert_eq!(
        told(&labour)[..4],
        [
            "Error: briefing and what every session brings leave no time to work for Helpers \
             @31:Session length",
            "Error: when no Helpers comes, no number of invitations is enough @31:No-show %",
            "Error: Helpers cannot work 0 to a supervisor @31:Per supervisor",
            "Caution: Helpers has no headcount: all sessions of a site are put on one day \
             @31:Headcount",
        ]
    );
}

#[test]
fn a_short_session_without_work_is_no_complaint() {
    let (mut yard, helpers) = yard();
    yard.job.workers[helpers.index()].session = given(Hours::of(d("0.25")), "Session length");
    for task in &mut yard.job.tasks {
        task.rate.value = d("0");
    }
    let labour = yard.work();
    assert!(
        told(&labour).iter().all(|t| !t.contains("no time to work")),
        "{labour:?}"
    );
}

#[test]
fn without_paid_people_supervision_has_no_wage_and_that_is_said() {
    let (mut yard, _) = yard();
    yard.job.workers[0].pay = Pay::Volunteer;
    let labour = yard.work();
    assert_eq!(named(&labour, "Supervision of Helpers").worker, None);
    let told = told(&labour);
    assert!(
        told.iter().any(|t| t.contains("has no wage @31:")),
        "{told:?}"
    );
}
