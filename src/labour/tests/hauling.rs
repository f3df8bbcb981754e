//!
//! Longer than most because each way of bringing fill in has a worked example of its own.
use super::super::barrow::{Barrow, Pace};
use super::yard::{Yard, d, given, named, told, yards};
use crate::buying::Scope;
use crate::model::job::{PhaseId, SiteId};
use crate::model::labour::{Driver, Pay};
use crate::model::material::{Category, MaterialId};
use crate::model::offer::Handover;
use crate::model::settings::TopUp;
use crate::takeoff::{KindId, Moment, Need, Part};
use crate::units::{Amount, Decimal, Density, Length, System, Volume};

const MOIST_SOIL: &str = "2200";

fn soil() -> Density {
    Density::pounds_per_cubic_yard(d(MOIST_SOIL))
}

#[track_caller]
fn check_rate(pace: Pace, density: Option<Density>, feet: &str, expected: &str) {
    let barrow = Barrow::of(&Yard::new().library, pace);
    let hours = barrow.hours(yards("1"), density, Length::feet(d(feet)));
    let places = d(expected).scale();
    assert_eq!(
        hours.round_dp(places),
        d(expected),
        "{pace:?} over {feet} ft"
    );
}

#[test]
fn a_barrow_of_moist_soil_is_half_full() {
    // 250 / 2,200 x 27 = 3.0682 ft3. Loading 3.0682 / 27 / 2.2 x 60 = 3.0992 min; 100 / 160 = 0.625;
    // 100 / 220 = 0.4545; 0.4 + 0.3: 4.8787 min. x 27 / 3.0682 / 60 x 1.2 = 0.8587 h a yard.
    let barrow = Barrow::of(&Yard::new().library, Pace::Typical);
    let load = barrow.load(Some(soil()));
    assert_eq!(load.in_cubic_feet().round_dp(4), d("3.0682"));
    let way = Length::feet(d("100"));
    assert_eq!(barrow.cycle(Some(soil()), way).round_dp(4), d("4.8787"));
    check_rate(Pace::Typical, Some(soil()), "100", "0.8587");
    // By volume alone, a heaped barrow of 489 lb: (6.0606 + 1.0795 + 0.7) / 60 x 4.5 x 1.2 = 0.7056.
    check_rate(Pace::Typical, None, "100", "0.7056");
    // A yard in loads of 3.0682 ft3 is 8.8, so 9 barrows; by volume alone 4.5, so 5.
    assert_eq!(barrow.loads(yards("1"), Some(soil())), d("9"));
    assert_eq!(barrow.loads(yards("1"), None), d("5"));
    assert_eq!(barrow.loads(Volume::cubic_feet(d("12")), None), d("2"));
}

#[test]
fn rates_agree_with_the_tables_of_the_trade() {
    // Moist soil and compost (37 lb/ft3 fills the barrow) at 50, 100, 200 and 300 ft.
    let compost = Some(Density::pounds_per_cubic_yard(d("999")));
    for (feet, soil_hours, light_hours) in [
        ("50", "0.76", "0.66"),
        ("100", "0.86", "0.71"),
        ("200", "1.05", "0.80"),
        ("300", "1.24", "0.90"),
    ] {
        check_rate(Pace::Typical, Some(soil()), feet, soil_hours);
        check_rate(Pace::Typical, compost, feet, light_hours);
    }
    check_rate(Pace::Quick, Some(soil()), "100", "0.62");
    check_rate(Pace::Slow, Some(soil()), "100", "1.38");
}

#[test]
fn the_built_in_library_has_a_whole_barrow() {
    let library = crate::read::library::builtin();
    for pace in [Pace::Quick, Pace::Typical, Pace::Slow] {
        assert!(Barrow::of(&library, pace).is_whole());
    }
    let missing = Barrow::of(&crate::model::library::Library::default(), Pace::Typical);
    assert!(!missing.is_whole());
}

/// Two beds that each need 1.5 yd3 of topsoil, 100 ft away.
fn yard() -> (Yard, KindId, MaterialId) {
    let mut yard = Yard::new();
    let kind = yard.beds(SiteId(0), 2, &[(Driver::Bed, "1")]);
    let topsoil = yard.material("topsoil", Category::Soil, Some(MOIST_SOIL));
    yard.take_off(kind).hauled = vec![(topsoil, yards("1.5"))];
    (yard, kind, topsoil)
}

/// Hours of `volume` yards of moist soil over 100 ft at the unrounded cycle.
fn wheeled(volume: &str) -> Decimal {
    let barrow = Barrow::of(&Yard::new().library, Pace::Typical);
    barrow.hours(yards(volume), Some(soil()), Length::feet(d("100")))
}

#[track_caller]
fn check_close(found: Decimal, expected: Decimal) {
    assert_eq!(found.round_dp(9), expected.round_dp(9));
}

#[test]
fn what_is_needed_is_wheeled_and_shared_by_what_each_bed_needs() {
    let (mut yard, kind, _) = yard();
    let labour = yard.work();
    let line = named(&labour, "Barrow topsoil 100 ft");
    assert_eq!((line.quantity, &*line.unit), (d("3"), "yd3"));
    assert_eq!(line.rate.round_dp(4), d("0.8587"));
    check_close(line.hours.in_hours(), wheeled("3"));
    assert_eq!(line.measures.len(), 1);
    assert_eq!(line.measures[0].0, kind);
    check_close(line.measures[0].1, wheeled("1.5"));
    let (low, high) = line.range.unwrap();
    assert_eq!(low.in_hours().round_dp(2), d("1.85"), "3 x 0.6169");
    assert_eq!(high.in_hours().round_dp(2), d("4.14"), "3 x 1.3793");
    assert!(line.typical);

    yard.job.settings.units = given(System::Metric, "Value");
    let metric = yard.work();
    let line = named(&metric, "Barrow topsoil 30.5 m");
    assert_eq!(&*line.unit, "m3");
    check_close(line.hours.in_hours(), wheeled("3"));
}

#[test]
fn the_way_slows_the_barrow() {
    let (mut yard, ..) = yard();
    yard.job.sites[0].haul_slope = given(d("0.2"), "Haul slope");
    let line = yard.work();
    let line = named(&line, "Barrow topsoil 100 ft");
    assert_eq!(line.multiplier, d("1.6"));
    check_close(line.hours.in_hours(), wheeled("3") * d("1.6"));
}

#[test]
fn a_material_of_unknown_weight_is_said() {
    let (mut yard, ..) = yard();
    yard.job.materials[0].delivered = None;
    let labour = yard.work();
    let rate = named(&labour, "Barrow topsoil 100 ft").rate;
    assert_eq!(rate.round_dp(4), d("0.7056"));
    assert_eq!(
        told(&labour),
        [
            "Caution: topsoil has no delivered density, so a barrow of it is taken as full and its \
             weight is not checked @40:Delivered density"
        ]
    );
}

#[test]
fn a_library_without_a_barrow_is_our_bug() {
    let (mut yard, ..) = yard();
    yard.library.figures.clear();
    let labour = yard.work();
    assert_eq!(
        told(&labour),
        ["Error: the trade library has no whole set of barrow figures"]
    );
}

#[test]
fn the_surplus_of_a_step_is_wheeled_on_a_line_of_its_own() {
    // 3 yd3 needed, 3.5 bought: the need stays 3 yd3, and the half yard is hauled and spread besides.
    let (mut yard, kind, topsoil) = yard();
    yard.task("Spread", Driver::SpreadVolume, "0.2");
    yard.job.tasks[0].per = yards("1").in_cubic_metres();
    let bulk = yard.offer(topsoil, Handover::Bulk, yards("1"));
    let scope = Scope::Drop(SiteId(0), PhaseId(0));
    let line = yard.order(bulk, scope, yards("3"), &[(kind, yards("1.5"))]);
    line.surplus = Amount::Volume(yards("0.5"));
    let labour = yard.work();
    let hours = |name| named(&labour, name).hours.in_hours();
    check_close(hours("Barrow topsoil 100 ft"), wheeled("3"));
    check_close(
        hours("Surplus beyond the need, hauled: topsoil"),
        wheeled("0.5"),
    );
    assert_eq!(hours("Surplus beyond the need, spread: topsoil"), d("0.1"));
    let surplus = named(&labour, "Surplus beyond the need, hauled: topsoil");
    assert!(surplus.measures.is_empty());
    assert_ne!(
        hours("Barrow topsoil 100 ft").round_dp(4),
        wheeled("3.5").round_dp(4),
        "the naive answer hauls what was bought"
    );
}

#[test]
fn only_loose_surplus_is_moved_and_only_what_is_hauled_is_wheeled() {
    let (mut yard, kind, topsoil) = yard();
    yard.task("Spread", Driver::SpreadVolume, "0.2");
    let scope = Scope::Drop(SiteId(0), PhaseId(0));
    let bulk_bag = yard.offer(topsoil, Handover::Packed, yards("2"));
    let line = yard.order(bulk_bag, scope, yards("3"), &[(kind, yards("1.5"))]);
    assert_eq!(line.surplus, Amount::Volume(yards("1")));
    let names = |yard: &Yard| -> Vec<String> {
        let lines = yard.work().lines;
        lines.iter().map(|l| l.name.to_string()).collect()
    };
    assert_eq!(
        names(&yard),
        ["Barrow topsoil 100 ft"],
        "a sack not needed stays shut"
    );
    // Tipped where it is used, the surplus needs no barrow but is spread all the same.
    yard.job.offers[0].handover = Handover::Bulk;
    yard.takeoffs[0].hauled.clear();
    assert_eq!(names(&yard), ["Surplus beyond the need, spread: topsoil"]);
}

#[test]
fn a_surplus_by_weight_is_turned_into_volume() {
    // 2,200 lb too much at 2,200 lb/yd3 is a yard.
    let (mut yard, kind, topsoil) = yard();
    let bulk = yard.offer(topsoil, Handover::Bulk, yards("1"));
    let scope = Scope::Drop(SiteId(0), PhaseId(0));
    let line = yard.order(bulk, scope, yards("3"), &[(kind, yards("1.5"))]);
    line.surplus = Amount::Weight(crate::units::Weight::pounds(d("2200")));
    let labour = yard.work();
    let line = named(&labour, "Surplus beyond the need, hauled: topsoil");
    assert_eq!(line.quantity.round_dp(9), d("1"));
}

#[test]
fn bags_are_carried_and_opened_instead_of_wheeled() {
    // Two beds of 1.5 yd3 are 81 ft3: 54 bags of 1.5 ft3, 27 a bed. At 0.035 h a bag 1.89 h.
    let (mut yard, kind, topsoil) = yard();
    let other = yard.beds(SiteId(0), 1, &[(Driver::Bed, "1")]);
    yard.task("Open a bag", Driver::Bag, "0.035");
    let bag = yard.offer(topsoil, Handover::Packed, Volume::cubic_feet(d("1.5")));
    yard.order(bag, Scope::Job, yards("3"), &[(kind, yards("1.5"))]);
    let labour = yard.work();
    assert_eq!(labour.lines.len(), 1, "no barrow");
    let line = named(&labour, "Open a bag");
    assert_eq!(line.quantity, d("54"));
    assert_eq!(line.hours.in_hours(), d("1.89"));
    assert_eq!(line.measures, [(kind, d("0.945"))]);
    assert!(line.measures.iter().all(|(k, _)| *k != other));
}

#[test]
fn bags_bought_only_for_a_minimum_stay_shut() {
    let (mut yard, kind, topsoil) = yard();
    yard.task("Open a bag", Driver::Bag, "0.035");
    let bag = yard.offer(topsoil, Handover::Packed, Volume::cubic_feet(d("1.5")));
    let line = yard.order(bag, Scope::Job, yards("3"), &[(kind, yards("1.5"))]);
    line.quantity = d("100");
    assert_eq!(named(&yard.work(), "Open a bag").quantity, d("54"));
    // And bags that the seller does not have are not opened.
    yard.bought.lines[0].quantity = d("40");
    assert_eq!(named(&yard.work(), "Open a bag").quantity, d("40"));
}

#[test]
fn a_bulk_bag_is_wheeled_and_so_are_bags_that_no_task_opens() {
    let (mut yard, kind, topsoil) = yard();
    let bag = yard.offer(topsoil, Handover::Packed, Volume::cubic_feet(d("1.5")));
    yard.order(bag, Scope::Job, yards("3"), &[(kind, yards("1.5"))]);
    assert_eq!(
        named(&yard.work(), "Barrow topsoil 100 ft").quantity,
        d("3")
    );
    yard.task("Open a bag", Driver::Bag, "0.035");
    yard.job.offers[0].holds = Amount::Volume(yards("1"));
    let labour = yard.work();
    assert_eq!(labour.lines.len(), 1);
    assert_eq!(named(&labour, "Barrow topsoil 100 ft").quantity, d("3"));
}

#[test]
fn stock_on_hand_is_wheeled_and_the_bags_beside_it_are_opened() {
    // 1 of 3 yd3 is there already; 2 yd3 are 36 bags of 1.5 ft3.
    let (mut yard, kind, topsoil) = yard();
    yard.task("Open a bag", Driver::Bag, "0.035");
    let bag = yard.offer(topsoil, Handover::Packed, Volume::cubic_feet(d("1.5")));
    let line = yard.order(bag, Scope::Job, yards("2"), &[(kind, yards("1.5"))]);
    line.on_hand = Amount::Volume(yards("1"));
    let labour = yard.work();
    assert_eq!(named(&labour, "Open a bag").quantity, d("36"));
    let wheeled = named(&labour, "Barrow topsoil 100 ft").quantity;
    assert_eq!(wheeled.round_dp(12), d("1"));
}

#[test]
fn a_rate_of_your_own_for_hauling_replaces_the_barrow() {
    let (mut yard, ..) = yard();
    let helpers = yard.worker("Crew", Pay::Paid);
    let haul = yard.task("Wheel soil in", Driver::HaulVolume, "1.5");
    let task = &mut yard.job.tasks[haul.index()];
    task.per = yards("1").in_cubic_metres();
    task.haul = true;
    yard.job.sites[0].haul_slope = given(d("0.06"), "Haul slope");
    let labour = yard.work();
    // 3 yd3 x 1.5 h x 1.12 = 5.04 h
    let line = named(&labour, "Wheel soil in");
    assert_eq!(line.hours.in_hours(), d("5.04"));
    assert_eq!(line.worker, Some(helpers));
    assert_eq!(labour.lines.len(), 1, "not both");
    assert_eq!(
        told(&labour),
        [
            "Notice: Wheel soil in sets the hours of hauling; the barrow is not reckoned @20:Person-hours"
        ]
    );
}

fn top_up(yard: &mut Yard, kind: KindId, material: MaterialId, volume: Volume) {
    yard.take_off(kind).needs.push(Need {
        material,
        part: Part::TopUp,
        moment: Moment::TopUp,
        net: Amount::Volume(volume),
        order: Amount::Volume(volume),
    });
}

#[test]
fn the_top_up_visit_hauls_and_spreads_its_own_and_nothing_else() {
    // 0.2 yd3 a bed: 0.4 yd3 hauled, and spread at 0.2 h a yard: 0.08 h. No setting out again.
    let (mut yard, kind, topsoil) = yard();
    top_up(&mut yard, kind, topsoil, yards("0.2"));
    yard.task("Spread", Driver::SpreadVolume, "0.2");
    yard.job.tasks[0].per = yards("1").in_cubic_metres();
    yard.task("Set out the site", Driver::Site, "1");
    yard.task("Set out a bed", Driver::Bed, "1");
    assert!(
        yard.work().lines.iter().all(|l| l.moment == Moment::Build),
        "neither offered nor included"
    );
    yard.job.settings.top_up = given(TopUp::Offered, "Value");
    yard.job.settings.setup_hours = given(crate::units::Hours::of(d("1")), "Value");
    let labour = yard.work();
    let visit: Vec<_> = labour
        .lines
        .iter()
        .filter(|l| l.moment == Moment::TopUp)
        .collect();
    let names: Vec<&str> = visit.iter().map(|l| &*l.name).collect();
    assert_eq!(
        names,
        ["Spread", "Barrow topsoil 100 ft", "Set-up and travel"]
    );
    assert_eq!(visit[0].hours.in_hours(), d("0.08"));
    check_close(visit[1].hours.in_hours(), wheeled("0.4"));
    assert_eq!(
        visit[2].hours.in_hours(),
        d("4"),
        "one day, 1 h x crew of 4"
    );
    assert_eq!(labour.days.len(), 2);
}

#[test]
fn a_top_up_of_a_mix_is_blended_again() {
    // 0.3 yd3 of soil and 0.2 yd3 of compost for each of two beds: 1 yd3 to blend at 0.5 h a yard.
    let (mut yard, kind, topsoil) = yard();
    let compost = yard.material("compost", Category::Compost, Some("1000"));
    top_up(&mut yard, kind, topsoil, yards("0.3"));
    yard.job.settings.top_up = given(TopUp::Included, "Value");
    yard.task("Blend", Driver::MixVolume, "0.5");
    yard.job.tasks[0].per = yards("1").in_cubic_metres();
    assert!(yard.work().lines.iter().all(|l| &*l.name != "Blend"));
    top_up(&mut yard, kind, compost, yards("0.2"));
    assert_eq!(named(&yard.work(), "Blend").hours.in_hours(), d("0.5"));
}

/// One bed with 2 yd3 of logs, laid in a layer of their own, and the task that carries and places them.
fn woodyard() -> (Yard, MaterialId) {
    let mut yard = Yard::new();
    let kind = yard.beds(SiteId(0), 1, &[]);
    let logs = yard.material("logs", Category::Wood, Some("620"));
    let volume = Amount::Volume(yards("2"));
    let takeoff = yard.take_off(kind);
    takeoff.hauled = vec![(logs, yards("2"))];
    takeoff.work = vec![(Driver::WoodVolume, yards("2").in_cubic_metres())];
    takeoff.needs.push(Need {
        material: logs,
        part: Part::Layer(0),
        moment: Moment::Build,
        net: volume,
        order: volume,
    });
    yard.task("Carry and place logs", Driver::WoodVolume, "0.8");
    yard.job.tasks[0].per = yards("1").in_cubic_metres();
    (yard, logs)
}

#[track_caller]
fn check_names(yard: &Yard, expected: &[&str]) {
    let lines = yard.work().lines;
    let names: Vec<&str> = lines.iter().map(|l| &*l.name).collect();
    assert_eq!(names, expected);
}

#[test]
fn wood_is_carried_and_not_wheeled_as_well() {
    let (mut yard, _) = woodyard();
    yard.job.sites[0].haul = given(Length::feet(d("50")), "Haul distance");
    check_names(&yard, &["Carry and place logs"]);
    let line = named(&yard.work(), "Carry and place logs").hours;
    assert_eq!(line.in_hours().round_dp(9), d("1.6"), "2 yd3 x 0.8 h");
}

#[test]
fn a_barrow_adds_only_the_way_beyond_what_wood_is_carried() {
    // 100 ft less 50 ft carried: 50 / 160 + 50 / 220 = 0.53977 min a load. A full barrow of 6 ft3 holds
    // 138 lb: 9 loads for 2 yd3, 9 x 0.53977 / 60 x 1.2 = 0.09716 h; wheeling all of it anew 1.41 h.
    let (yard, _) = woodyard();
    let line = yard.work();
    let line = named(&line, "Barrow logs 50 ft farther than it is carried");
    assert_eq!(line.hours.in_hours().round_dp(5), d("0.09716"));
}

#[test]
fn wood_in_a_mix_is_wheeled_with_it_and_so_is_wood_that_no_task_places() {
    let (mut yard, logs) = woodyard();
    let soil = yard.material("soil", Category::Soil, Some(MOIST_SOIL));
    let mut part = yard.takeoffs[0].needs[0].clone();
    part.material = soil;
    yard.takeoffs[0].needs.push(part);
    yard.takeoffs[0].work.clear();
    check_names(&yard, &["Barrow logs 100 ft"]);
    let (mut yard, _) = woodyard();
    yard.job.tasks.clear();
    check_names(&yard, &["Barrow logs 100 ft"]);
    assert_eq!(yard.job.material_name(logs), "logs");
}

#[test]
fn a_rate_of_your_own_for_hauling_takes_no_wood_that_is_carried() {
    let (mut yard, _) = woodyard();
    yard.task("Wheel soil in", Driver::HaulVolume, "1.5");
    check_names(&yard, &["Carry and place logs"]);
}
