use std::sync::Arc;

use super::super::{hours_summary, hours_summary_at};
use super::yard::{Yard, check_hours, d, given, named, told};
use crate::buying::{Bound, Load, Trips};
use crate::model::job::{HaulGround, PhaseId, SiteId};
use crate::model::labour::{Driver, Pay};
use crate::model::offer::SupplierId;
use crate::takeoff::{KindId, Moment};
use crate::units::length::SQUARE_METRES_PER_SQUARE_FOOT;
use crate::units::{Length, Money, Volume, Weight};

#[test]
fn hours_are_quantity_by_rate_and_beds_share_them_by_their_own() {
    // Leveling at 1.9 h for 100 ft2: three beds of 32 ft2 and two of 50 ft2.
    // 3 x 0.32 + 2 x 0.5 = 1.96 hundreds; x 1.9 = 3.724 h. One small bed 0.608 h, one large 0.95 h.
    let mut yard = Yard::new();
    let square_feet = |n: &str| (d(n) * SQUARE_METRES_PER_SQUARE_FOOT).to_string();
    yard.beds(SiteId(0), 3, &[(Driver::Footprint, &square_feet("32"))]);
    yard.beds(SiteId(0), 2, &[(Driver::Footprint, &square_feet("50"))]);
    let level = yard.task("Level", Driver::Footprint, "1.9");
    let task = &mut yard.job.tasks[level.index()];
    task.per = d("100") * SQUARE_METRES_PER_SQUARE_FOOT;
    task.per_words = "100 ft2".into();
    let labour = yard.work();
    let line = named(&labour, "Level");
    assert_eq!(line.quantity, d("1.96"));
    assert_eq!(&*line.unit, "100 ft2");
    check_hours(&labour, "Level", "3.724");
    let naive = d("82") / d("100") * d("1.9");
    assert_ne!(line.hours.in_hours(), naive, "counts of beds forgotten");
    assert_eq!(
        line.measures,
        [(KindId(0), d("0.608")), (KindId(1), d("0.95"))]
    );
}

#[test]
fn the_way_slows_hauling_alone_and_the_season_slows_everything() {
    // Season 1.1 on all; slope 12% is 1.3, soft ground 1.3, a gate of 32 in 1.15, on hauling only:
    // 1.1 x 1.3 x 1.3 x 1.15 = 2.13785. Two hours of each task.
    let mut yard = Yard::new();
    yard.beds(
        SiteId(0),
        2,
        &[(Driver::Bag, "9"), (Driver::Bed, "1"), (Driver::Board, "1")],
    );
    yard.task("Set out", Driver::Bed, "1");
    let carry = yard.task("Carry boards", Driver::Board, "1");
    yard.job.tasks[carry.index()].haul = true;
    yard.job.settings.season_factor = given(d("1.1"), "Value");
    let site = &mut yard.job.sites[0];
    site.haul_slope = given(d("0.12"), "Haul slope");
    site.haul_ground = given(HaulGround::Soft, "Haul ground");
    site.gate = Some(given(Length::inches(d("32")), "Gate width"));
    let labour = yard.work();
    check_hours(&labour, "Set out", "2.2");
    check_hours(&labour, "Carry boards", "4.2757");
    assert_eq!(named(&labour, "Set out").multiplier_words, "season x1.1");
    assert_eq!(
        named(&labour, "Carry boards").multiplier_words,
        "season x1.1, slope of 10 to 15% x1.3, soft ground x1.3, gate under 36 in x1.15"
    );
}

#[track_caller]
fn check_slope(fall: &str, factor: &str) {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 1, &[(Driver::Board, "1")]);
    let carry = yard.task("Carry", Driver::Board, "1");
    yard.job.tasks[carry.index()].haul = true;
    yard.job.sites[0].haul_slope = given(d(fall), "Haul slope");
    assert_eq!(
        named(&yard.work(), "Carry").multiplier,
        d(factor),
        "fall {fall}"
    );
}

#[test]
fn slopes_fall_into_four_classes() {
    check_slope("0.0499", "1");
    check_slope("0.05", "1.12");
    check_slope("0.10", "1.12");
    check_slope("0.101", "1.3");
    check_slope("0.15", "1.3");
    check_slope("0.151", "1.6");
}

#[test]
fn a_gate_of_exactly_the_width_is_wide_enough_and_stairs_are_not_soft_ground() {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 1, &[(Driver::Board, "1")]);
    let carry = yard.task("Carry", Driver::Board, "1");
    yard.job.tasks[carry.index()].haul = true;
    let site = &mut yard.job.sites[0];
    site.gate = Some(given(Length::inches(d("36")), "Gate width"));
    site.haul_ground = given(HaulGround::Stairs, "Haul ground");
    assert_eq!(named(&yard.work(), "Carry").multiplier, d("2.5"));
}

#[test]
fn the_first_worker_does_what_nobody_is_named_for() {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 1, &[(Driver::Bed, "1"), (Driver::Board, "1")]);
    yard.task("Set out", Driver::Bed, "2");
    let fix = yard.task("Fix", Driver::Board, "2");
    assert_eq!(named(&yard.work(), "Fix").worker, None, "no workers named");
    let crew = yard.worker("Crew", Pay::Paid);
    let helpers = yard.worker("Helpers", Pay::Volunteer);
    yard.job.tasks[fix.index()].worker = Some(helpers);
    let labour = yard.work();
    assert_eq!(named(&labour, "Set out").worker, Some(crew));
    // Helpers take 1.65 times as long: 2 x 1.65 = 3.3 h.
    check_hours(&labour, "Fix", "3.3");
    assert_eq!(named(&labour, "Fix").multiplier_words, "Helpers x1.65");
}

fn trips(site: SiteId, moment: Moment, loads: usize) -> Trips {
    let load = Load {
        parts: Vec::new(),
        volume: Volume::ZERO,
        weight: Weight::ZERO,
    };
    Trips {
        supplier: SupplierId(0),
        vehicle: None,
        site,
        phase: PhaseId(0),
        moment,
        lines: Vec::new(),
        loads: vec![load; loads],
        bound: Bound::Nothing,
        after_rain: 0,
        fee: None,
        charged: d("0"),
        cost: Money::ZERO,
        measures: Vec::new(),
        words: String::new(),
    }
}

#[test]
fn sites_and_loads_are_counted_once_however_many_beds_there_are() {
    // Two sites, named out of order; three loads at Meadow, one at Barn. 0.5 h a load, 1 h a site.
    let mut yard = Yard::new();
    let barn = yard.site("Barn");
    yard.beds(SiteId(0), 40, &[(Driver::Bed, "1")]);
    yard.beds(SiteId(0), 5, &[(Driver::Bed, "1")]);
    yard.beds(barn, 2, &[(Driver::Bed, "1")]);
    yard.task("Set out the site", Driver::Site, "1");
    yard.task("Receive a load", Driver::Load, "0.5");
    yard.bought.trips = vec![
        trips(SiteId(0), Moment::Build, 2),
        trips(SiteId(0), Moment::Build, 1),
        trips(barn, Moment::Build, 1),
    ];
    let lines = yard.work().lines;
    let found: Vec<(SiteId, &Arc<str>, String, usize)> = lines
        .iter()
        .map(|l| {
            (
                l.site,
                &l.name,
                l.hours.in_hours().to_string(),
                l.measures.len(),
            )
        })
        .collect();
    let (site, load): (Arc<str>, Arc<str>) = ("Set out the site".into(), "Receive a load".into());
    assert_eq!(
        found,
        [
            (barn, &site, "1".to_owned(), 0),
            (barn, &load, "0.5".to_owned(), 0),
            (SiteId(0), &site, "1".to_owned(), 0),
            (SiteId(0), &load, "1.5".to_owned(), 0),
        ]
    );
}

#[test]
fn hours_typed_as_such_are_for_the_job_once() {
    let mut yard = Yard::new();
    let barn = yard.site("Barn");
    yard.beds(SiteId(0), 3, &[(Driver::Bed, "1")]);
    yard.task("Meet the client", Driver::Hour, "2.5");
    check_hours(&yard.work(), "Meet the client", "2.5");
    assert_eq!(told(&yard.work()), Vec::<String>::new());
    yard.beds(barn, 3, &[(Driver::Bed, "1")]);
    let labour = yard.work();
    check_hours(&labour, "Meet the client", "2.5");
    assert_eq!(named(&labour, "Meet the client").site, barn);
    assert_eq!(
        told(&labour),
        ["Notice: Meet the client is counted once, on Barn @20:Per"]
    );
}

#[test]
fn the_summary_says_how_much_rests_on_typical_figures() {
    // Own: 10 beds x 2 h = 20 h. Typical: 10 boards x (0.1, 0.15, 0.25) = 1, 1.5, 2.5 h.
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 10, &[(Driver::Bed, "1"), (Driver::Board, "1")]);
    yard.task("Set out", Driver::Bed, "2");
    let empty = hours_summary(&super::super::Labour::default());
    assert_eq!(empty.words(), "0 hours, all on your own figures");
    assert_eq!(
        hours_summary(&yard.work()).words(),
        "20 hours, all on your own figures"
    );
    yard.typical_task("Fix", Driver::Board, ["0.1", "0.15", "0.25"]);
    let labour = yard.work();
    assert!(named(&labour, "Fix").typical);
    assert_eq!(
        hours_summary(&labour).words(),
        "21.5 hours, of which 1.5 rest on typical figures, not yours; low 21, high 22.5"
    );
    assert!(hours_summary_at(&labour, Moment::TopUp).total.is_zero());
}

#[test]
fn a_rate_of_your_own_has_no_range() {
    let mut yard = Yard::new();
    yard.beds(SiteId(0), 1, &[(Driver::Board, "1")]);
    let fix = yard.typical_task("Fix", Driver::Board, ["0.1", "0.15", "0.25"]);
    assert!(named(&yard.work(), "Fix").range.is_some());
    yard.job.tasks[fix.index()].rate = given(d("0.2"), "Person-hours");
    let labour = yard.work();
    assert_eq!(named(&labour, "Fix").range, None);
    assert!(!named(&labour, "Fix").typical);
}
