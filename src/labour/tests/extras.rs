use super::yard::{Yard, check_hours, d, given, named, told};
use crate::model::job::{PhaseId, SiteId};
use crate::model::labour::{Driver, ExtraKind, Pay, Per};
use crate::model::settings::TopUp;
use crate::units::{Area, Hours};

const MEADOW: SiteId = SiteId(0);
const BARN: SiteId = SiteId(1);

/// Meadow: three beds of 2 m2 in the first phase and one of 5 m2 in the second. Barn: two of 2 m2.
/// Building takes 20 h a bed, so at 32 h a day Meadow takes 3 days (80 h) and Barn 2 (40 h).
fn yard() -> Yard {
    let mut yard = Yard::new();
    yard.site("Barn");
    yard.worker("Crew", Pay::Paid);
    for (site, count, area, phase) in [(MEADOW, 3, 2, 0), (MEADOW, 1, 5, 1), (BARN, 2, 2, 0)] {
        let kind = yard.beds(site, count, &[(Driver::Bed, "1")]);
        yard.take_off(kind).inside_area = Area::square_metres(area.into());
        yard.kinds.kinds[kind.index()].phase = PhaseId(phase);
    }
    yard.task("Build", Driver::Bed, "20");
    yard
}

#[track_caller]
fn check_times(per: Per, quantity: &str, expected: &[(SiteId, &str)]) {
    let mut yard = yard();
    yard.extra("Sign", per, quantity, "0");
    let expected: Vec<_> = expected
        .iter()
        .map(|(site, n)| (*site, (*n).to_owned()))
        .collect();
    assert_eq!(yard.extra_comes(0), expected, "{per:?}");
}

#[test]
fn extras_are_counted_by_what_they_are_for_each_of() {
    // 3 + 1 beds at Meadow with 3 x 2 + 5 = 11 m2, 2 beds at Barn with 4 m2. The quantity is what comes
    // each time: it is no part of how often.
    for quantity in ["1", "6"] {
        check_times(Per::Bed, quantity, &[(BARN, "2"), (MEADOW, "4")]);
        check_times(Per::Area, quantity, &[(BARN, "4"), (MEADOW, "11")]);
        check_times(Per::Site, quantity, &[(BARN, "1"), (MEADOW, "1")]);
        check_times(Per::Visit, quantity, &[(BARN, "1"), (MEADOW, "2")]);
        check_times(Per::Day, quantity, &[(BARN, "2"), (MEADOW, "3")]);
        check_times(Per::Job, quantity, &[(BARN, "1")]);
        check_times(Per::Session, quantity, &[]);
    }
}

#[test]
fn an_extra_keeps_to_its_site_and_phase() {
    let mut yard = yard();
    yard.extra("Sign", Per::Bed, "1", "0").site = Some(MEADOW);
    assert_eq!(yard.extra_comes(0), [(MEADOW, "4".to_owned())]);
    yard.job.extras[0].phase = Some(PhaseId(1));
    assert_eq!(yard.extra_comes(0), [(MEADOW, "1".to_owned())]);
    yard.job.extras[0].per = Per::Job;
    assert_eq!(yard.extra_comes(0), [(MEADOW, "1".to_owned())]);
    // 20 of the 80 h at Meadow are in the second phase: a quarter of its 3 days.
    yard.job.extras[0].per = Per::Day;
    assert_eq!(yard.extra_comes(0), [(MEADOW, "0.75".to_owned())]);
    yard.job.extras[0].site = None;
    yard.job.extras[0].phase = Some(PhaseId(0));
    assert_eq!(
        yard.extra_comes(0),
        [(BARN, "2".to_owned()), (MEADOW, "2.25".to_owned())]
    );
}

#[test]
fn an_exclusion_takes_nothing_and_an_extra_nowhere_is_said() {
    let mut yard = yard();
    yard.extra("Permit", Per::Site, "1", "2").kind = ExtraKind::Exclusion;
    yard.extra("Lights", Per::Site, "1", "2").phase = Some(PhaseId(7));
    assert_eq!(yard.extra_comes(0), []);
    assert_eq!(yard.extra_comes(1), []);
    let labour = yard.work();
    assert!(labour.lines.iter().all(|l| &*l.name == "Build"));
    assert_eq!(
        told(&labour),
        ["Notice: Lights comes to nothing: no bed stands there @71:Phase"]
    );
}

#[test]
fn hours_of_extras_are_labour_and_slow_down_with_the_season() {
    // 2 hoops a bed, 0.12 h each, 4 beds at Meadow: 8 x 0.12 = 0.96 h; in a season of 1.25 1.2 h.
    let mut yard = yard();
    yard.extra("Hoops", Per::Bed, "2", "0.12").site = Some(MEADOW);
    let labour = yard.work();
    check_hours(&labour, "Hoops", "0.96");
    let line = named(&labour, "Hoops");
    assert_eq!(line.task, None);
    let per_bed: Vec<_> = line.measures.iter().map(|(_, hours)| *hours).collect();
    assert_eq!(per_bed, [d("0.24"), d("0.24")], "for one bed of each kind");
    yard.job.settings.season_factor = given(d("1.25"), "Value");
    check_hours(&yard.work(), "Hoops", "1.2");
}

#[test]
fn what_every_day_brings_may_need_another_day() {
    // Barn: 62 h at 32 h a day is 2 days. A talk of 0.25 h for each of 4 people leaves 31 h a day:
    // 62 / 31 = 2 days still. At 0.3 h it leaves 30.8 h: 3 days, with 3 x 1.2 = 3.6 h of talk.
    let mut yard = yard();
    yard.kinds.kinds.truncate(1);
    yard.takeoffs.truncate(1);
    yard.kinds.kinds[0].site = BARN;
    yard.kinds.kinds[0].count = d("3.1");
    yard.extra("Talk", Per::Day, "4", "0.25");
    let labour = yard.work();
    assert_eq!(labour.days[0].days, d("2"));
    check_hours(&labour, "Talk", "2");
    assert_eq!(labour.days[0].work, Hours::of(d("64")));
    yard.job.extras[0].hours = Some(given(d("0.3"), "Person-hours each"));
    let labour = yard.work();
    assert_eq!(labour.days[0].days, d("3"));
    check_hours(&labour, "Talk", "3.6");
    assert_eq!(labour.days[0].work, Hours::of(d("65.6")));
    // A sheet that divides what is printed finds the same days: 65.6 / 32 = 2.05 -> 3.
    assert_eq!((d("65.6") / d("32")).ceil(), d("3"));
}

#[test]
fn what_days_bring_to_one_site_the_other_does_not_have() {
    // 2 days at Barn x 0.5 h; Meadow has none.
    let mut yard = yard();
    yard.extra("Unlock the gate", Per::Day, "1", "0.5").site = Some(BARN);
    let labour = yard.work();
    check_hours(&labour, "Unlock the gate", "1");
    assert_eq!(named(&labour, "Unlock the gate").site, BARN);
}

#[test]
fn what_every_session_brings_shortens_it() {
    // 60 h x 1.65 = 99 h; sessions of 3 - 0.33 = 2.67 h, less 0.2 h x 1.65 = 0.33 h to put tools away:
    // 99 / 2.34 = 42.3 -> 43 sessions, 14.19 h of putting away. Without it 38.
    let mut yard = yard();
    yard.kinds.kinds.truncate(1);
    yard.takeoffs.truncate(1);
    let helpers = yard.worker("Helpers", Pay::Volunteer);
    yard.job.workers[helpers.index()].headcount = Some(50);
    yard.job.tasks[0].worker = Some(helpers);
    yard.extra("Snacks", Per::Session, "1", "0");
    assert_eq!(yard.extra_comes(0), [(MEADOW, "38".to_owned())]);
    yard.extra("Put tools away", Per::Session, "1", "0.2")
        .worker = Some(helpers);
    let labour = yard.work();
    assert_eq!(labour.volunteering[0].sessions, d("43"));
    assert_eq!(labour.volunteering[0].work, Hours::of(d("113.19")));
    check_hours(&labour, "Put tools away", "14.19");
    assert_eq!(yard.extra_comes(0), [(MEADOW, "43".to_owned())]);
}

#[test]
fn the_top_up_visit_counts_when_it_is_in_the_price() {
    let mut yard = yard();
    let soil = yard.material(
        "topsoil",
        crate::model::material::Category::Soil,
        Some("2200"),
    );
    let volume = crate::units::Amount::Volume(super::yard::yards("0.5"));
    yard.takeoffs[2].needs.push(crate::takeoff::Need {
        material: soil,
        part: crate::takeoff::Part::TopUp,
        moment: crate::takeoff::Moment::TopUp,
        net: volume,
        order: volume,
    });
    yard.extra("Parking", Per::Visit, "1", "0");
    yard.extra("Toilet", Per::Day, "1", "0");
    let units = |barn: &str, meadow: &str| [(BARN, barn.to_owned()), (MEADOW, meadow.to_owned())];
    yard.job.settings.top_up = given(TopUp::Offered, "Value");
    assert_eq!(yard.extra_comes(0), units("1", "2"));
    assert_eq!(yard.extra_comes(1), units("2", "3"));
    yard.job.settings.top_up = given(TopUp::Included, "Value");
    assert_eq!(yard.extra_comes(0), units("2", "2"));
    assert_eq!(yard.extra_comes(1), units("3", "3"));
}
