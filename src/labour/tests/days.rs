use super::super::days::CrewDay;
use super::super::hours_summary;
use super::yard::{Yard, check_hours, d, given, named, row, told, yards};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::labour::{Driver, Pay};
use crate::model::material::Category;
use crate::model::settings::TopUp;
use crate::takeoff::{Moment, Need, Part};
use crate::units::{Amount, Hours, round};

fn crew_of_four() -> CrewDay {
    let hours = |text| Hours::of(d(text));
    CrewDay {
        crew: 4,
        hours: hours("8"),
        setup: hours("0.75"),
        travel: hours("0.7"),
    }
}

#[test]
fn a_day_holds_what_set_up_and_travel_leave() {
    // 4 x (8 - 0.75 - 0.7) = 26.2 h a day; 96 / 26.2 = 3.66, so 4 days; 4 x 1.45 x 4 = 23.2 h on top.
    let day = crew_of_four();
    assert_eq!(day.holds(), Hours::of(d("26.2")));
    let days = day.days(Hours::of(d("96")), Hours::ZERO);
    assert_eq!(days, d("4"));
    let naive = round::whole_up(d("96") / d("32"));
    assert_eq!(naive, d("3"), "the naive answer: whole days of work");
    assert_ne!(days, naive);
    assert_eq!(day.overhead_a_day().times(days), Hours::of(d("23.2")));
}

#[test]
fn a_full_day_is_one_day_and_a_minute_more_is_two() {
    let day = crew_of_four();
    assert_eq!(day.days(Hours::of(d("26.2")), Hours::ZERO), d("1"));
    assert_eq!(day.days(Hours::of(d("26.21")), Hours::ZERO), d("2"));
    // Dust from rates is not another day.
    let dusty = Hours::of(d("26.2000000000000000001"));
    assert_eq!(day.days(dusty, Hours::ZERO), d("1"));
}

/// The crew of four with 96 hours of work at one site.
fn yard() -> Yard {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 96, &[(Driver::Bed, "1")]);
    yard.task("Build", Driver::Bed, "1");
    yard.job.settings.setup_hours = given(Hours::of(d("0.75")), "Value");
    yard.job.sites[0].travel = given(Hours::of(d("0.7")), "Travel time");
    yard
}

#[test]
fn set_up_and_travel_are_a_line_and_all_lines_are_all_hours() {
    // 96 + 4 days x 1.45 h x 4 people = 119.2 h
    let mut yard = yard();
    let crew = yard.worker("Crew", Pay::Paid);
    let labour = yard.work();
    check_hours(&labour, "Set-up and travel", "23.2");
    let line = named(&labour, "Set-up and travel");
    assert_eq!((line.quantity, line.rate), (d("4"), d("5.8")));
    assert_eq!(line.worker, Some(crew));
    assert!(line.measures.is_empty() && !line.typical);
    assert_eq!(hours_summary(&labour).total, Hours::of(d("119.2")));
    let days = &labour.days[0];
    assert_eq!(days.work, Hours::of(d("96")));
    assert_eq!(days.day_holds, Hours::of(d("26.2")));
    assert_eq!((days.crew, days.days), (4, d("4")));
}

#[test]
fn set_up_at_the_typical_figure_counts_as_typical() {
    let mut yard = yard();
    let hours = Hours::of(d("0.75"));
    yard.job.settings.setup_hours = Known::library(hours, "figures", "setup_h".into(), "typical");
    assert!(named(&yard.work(), "Set-up and travel").typical);
}

#[test]
fn every_site_starts_its_own_days() {
    // 30 h on each of two sites at 26.2 h a day is 2 + 2 days, not the 3 of 60 h in one heap.
    let mut yard = yard();
    yard.kinds.kinds[0].count = d("30");
    let barn = yard.site("Barn");
    yard.job.sites[1].travel = given(Hours::of(d("0.7")), "Travel time");
    yard.beds(barn, 30, &[(Driver::Bed, "1")]);
    let labour = yard.work();
    let days: Vec<_> = labour.days.iter().map(|s| (s.site, s.days)).collect();
    assert_eq!(days, [(barn, d("2")), (SiteId(0), d("2"))]);
    let naive = crew_of_four().days(Hours::of(d("60")), Hours::ZERO);
    assert_eq!(naive, d("3"), "the naive answer");
}

#[test]
fn a_day_that_holds_nothing_is_said_at_the_site() {
    let mut yard = yard();
    yard.job.sites[0].travel = given(Hours::of(d("7.25")), "Travel time");
    let labour = yard.work();
    assert_eq!(
        told(&labour),
        [
            "Error: a day of 8 h at Meadow holds no work after 0.75 h of set-up, 7.25 h of travel \
             and what every day brings @10:Travel time"
        ]
    );
    assert_eq!(labour.days[0].days, d("0"), "no made-up days");
}

#[test]
fn a_day_that_holds_nothing_is_said_once_for_build_and_top_up() {
    let mut yard = yard();
    let soil = yard.material("topsoil", Category::Soil, Some("2200"));
    yard.takeoffs[0].needs.push(Need {
        material: soil,
        part: Part::TopUp,
        moment: Moment::TopUp,
        net: Amount::Volume(yards("0.1")),
        order: Amount::Volume(yards("0.1")),
    });
    yard.job.settings.top_up = given(TopUp::Included, "Value");
    assert_eq!(yard.work().days.len(), 2);
    yard.job.sites[0].travel = given(Hours::of(d("7.25")), "Travel time");
    assert_eq!(told(&yard.work()).len(), 1);
}

#[test]
fn without_travel_the_hours_per_day_are_to_blame() {
    let mut yard = yard();
    yard.job.sites[0].travel = given(Hours::ZERO, "Travel time");
    yard.job.settings.hours_per_day = Known::job(Hours::of(d("0.5")), row(5), "Value");
    let told = told(&yard.work());
    assert_eq!(told.len(), 1);
    assert!(told[0].ends_with(" @5:Value"), "{told:?}");
}

#[test]
fn a_crew_of_nobody_is_a_problem() {
    let mut yard = yard();
    yard.job.settings.crew_size = Known::job(0, row(4), "Value");
    assert_eq!(
        told(&yard.work()),
        ["Error: a crew of nobody does no work @4:Value"]
    );
}

#[test]
fn set_up_goes_to_the_paid_worker_with_the_most_hours() {
    let mut yard = yard();
    yard.beds(SiteId(0), 1, &[(Driver::Board, "1")]);
    let fix = yard.task("Fix", Driver::Board, "97");
    let helpers = yard.worker("Helpers", Pay::Volunteer);
    let crew = yard.worker("Crew", Pay::Paid);
    let carpenter = yard.worker("Carpenter", Pay::Paid);
    yard.job.workers[helpers.index()].headcount = Some(10);
    yard.job.tasks[0].worker = Some(crew);
    yard.job.tasks[fix.index()].worker = Some(carpenter);
    assert_eq!(
        yard.work().days[0].worker,
        Some(carpenter),
        "97 h against 96 h"
    );
    yard.job.tasks[fix.index()].worker = Some(helpers);
    let labour = yard.work();
    assert_eq!(labour.days[0].worker, Some(crew), "volunteers are not paid");
    assert_eq!(
        labour.days[0].work,
        Hours::of(d("96")),
        "nor do they fill days"
    );
}
