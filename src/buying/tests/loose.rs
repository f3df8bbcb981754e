//! Loose goods: steps a load, weight, fees a drop.

use super::super::Bound;
use super::sample::{Sample, cubic_feet, d, line_text, lines_text, sentences, tons, total, yards};
use crate::model::known::Known;
use crate::takeoff::{Moment, Part};
use crate::units::Currency;
use crate::units::share::by_running_total;

/// Site A needs 12.1 yd3, site B three beds of 1.7; a truck of 7 yd3 and 13,000 lb at 95.00 a load;
/// soil of 2,200 lb/yd3 at 42.00 in half yards.
fn two_sites(at_a: &str, beds_at_b: u32) -> Sample {
    let (mut sample, soil) = Sample::with_soil();
    let a = crate::model::job::SiteId(0);
    let b = sample.site("Site B");
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.truck("Hill Yard", Some("7"), Some("13000"), "95");
    sample.beds(a, 1).needs(soil, yards(at_a));
    sample.beds(b, beds_at_b).needs(soil, yards("1.7"));
    sample
}

#[test]
fn loads_round_by_the_half_yard_on_each_site() {
    // 13,000 lb / 2,200 lb/yd3 = 5.909 yd3 a load, and by the half yard 5.5.
    // A: 12.1 -> 12.5 yd3; 12.5 / 5.5 = 2.27 -> 3 loads. B: 3 x 1.7 = 5.1 -> 5.5 yd3, 1 load.
    let bought = two_sites("12.1", 3).buy();
    assert_eq!(
        lines_text(&bought),
        ["12.5 x 42 = 525.00", "5.5 x 42 = 231.00"]
    );
    let loads: Vec<usize> = bought.trips.iter().map(|t| t.loads.len()).collect();
    assert_eq!(loads, [3, 1]);
    // 18.0 x 42.00 = 756.00; 4 x 95.00 = 380.00; together 1,136.00.
    assert_eq!(total(&bought), "1,136.00");
    // After rain 13,000 / 3,000 = 4.33, by the half yard 4: 12.5 / 4 = 3.125 -> 4.
    assert_eq!(
        bought.trips[0].words,
        "12.5 yd3 of topsoil to Site A: 3 loads at 2,200 lb/yd3, after rain 4"
    );
    assert_eq!(bought.trips[0].bound, Bound::Weight);
    assert_eq!(
        bought.trips[1].words,
        "5.5 yd3 of topsoil to Site B: 1 load at 2,200 lb/yd3, after rain 2"
    );
    // One lumped order would say 17.5 yd3, 3 loads, 1,020.00: that is refused.
    let quantity: crate::units::Decimal = bought.lines.iter().map(|l| l.quantity).sum();
    assert_eq!(quantity, d("18.0"));
}

#[test]
fn the_fee_is_shared_by_what_bound_the_load() {
    let bought = two_sites("12.1", 3).buy();
    let trips = &bought.trips[1];
    // B's load is bound by weight: 1.7 yd3 x 2,200 lb = 3,740 lb a bed.
    let (kind, kilograms) = trips.measures[0];
    assert_eq!(kind.0, 1);
    let pounds = crate::units::Weight::kilograms(kilograms).in_pounds();
    assert_eq!(pounds.round_dp(6), d("3740"));
    let shares = by_running_total(trips.cost, &[kilograms; 3], Currency::USD);
    let shown: Vec<String> = shares.into_iter().map(|m| Currency::USD.show(m)).collect();
    assert_eq!(shown, ["31.67", "31.66", "31.67"]);
}

#[test]
fn leaving_a_bed_out_saves_what_its_steps_and_loads_cost() {
    // Two beds at B: 3.4 -> 3.5 yd3, 147.00 + 95.00: 84.00 less than with three.
    assert_eq!(total(&two_sites("12.1", 2).buy()), "1,052.00");
    // A without a bed of 1.6: 10.5 yd3 = 441.00 in 2 loads = 190.00: 179.00 less.
    assert_eq!(total(&two_sites("10.5", 3).buy()), "957.00");
}

#[test]
fn seventeen_and_a_half_yards_are_four_loads_by_weight() {
    // At most 5.5 a load: 5.5 + 5.5 + 5.5 + 1.0.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.truck("Hill Yard", Some("7"), Some("13000"), "95");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("17.5"));
    let bought = sample.buy();
    let parts: Vec<_> = bought.trips[0]
        .loads
        .iter()
        .map(|l| l.parts[0].1.normalize())
        .collect();
    assert_eq!(parts, [d("5.5"), d("5.5"), d("5.5"), d("1")]);
}

#[test]
fn volume_binds_light_goods_and_weight_binds_heavy_ones() {
    // 20 yd3; 12 yd3 and 27,000 lb: at 1,000 lb/yd3 2 loads, at 2,200 2, at 3,000 3 (9 yd3 each).
    for (density, loads, bound) in [
        ("1000", 2, Bound::Volume),
        ("2200", 2, Bound::Volume),
        ("3000", 3, Bound::Weight),
    ] {
        let (mut sample, soil) = Sample::with_soil();
        let heavy = crate::units::Density::pounds_per_cubic_yard(d(density));
        sample.stuff(soil).delivered = Some(Known::assumed(heavy, "test"));
        sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
        sample.truck("Hill Yard", Some("12"), Some("27000"), "95");
        sample
            .beds(crate::model::job::SiteId(0), 1)
            .needs(soil, yards("20"));
        let bought = sample.buy();
        assert_eq!(bought.trips[0].loads.len(), loads, "{density}");
        assert_eq!(bought.trips[0].bound, bound, "{density}");
    }
}

#[test]
fn free_delivery_counts_all_goods_of_the_drop() {
    // 6 yd3 soil x 42 = 252 and 5 yd3 compost x 50 = 250: 502 together, free over 500.
    let (mut sample, soil) = Sample::with_soil();
    let compost = sample.soil("compost");
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.offer("Hill Yard", compost, "yard", yards("1"), "50");
    sample.truck("Hill Yard", Some("10"), None, "95").free_over =
        Some(Known::assumed(d("500"), "test"));
    let site = crate::model::job::SiteId(0);
    sample
        .beds(site, 1)
        .needs(soil, yards("6"))
        .needs(compost, yards("5"));
    assert_eq!(total(&sample.buy()), "502.00");
    // A site that asks 20.00 for each drop asks it of both loads all the same.
    sample.job.sites[0].drop_fee = Some(Known::assumed(d("20"), "test"));
    assert_eq!(total(&sample.buy()), "542.00");
    // With 4 yd3 of soil, 168 + 250 = 418 is under 500: two loads at 95 + 20.
    sample.takeoffs[0].needs[0].order = yards("4");
    assert_eq!(total(&sample.buy()), "648.00");
}

#[test]
fn goods_under_the_minimum_order_are_told() {
    let mut sample = two_sites("12.1", 3);
    sample.job.vehicles[0].minimum_order = Some(Known::assumed(d("300"), "test"));
    let bought = sample.buy();
    let told = sentences(&bought);
    assert!(
        told.contains(
            "goods of Hill Yard for Site B come to 231.00, under the minimum order of 300.00"
        ),
        "{told}"
    );
    assert!(!told.contains("for Site A come"), "{told}");
}

#[test]
fn the_cheaper_vehicle_for_the_quantity_is_taken() {
    // 12 yd3: 2 trips of the big one at 150 = 300, or 3 of the small one (5 yd3) at 80 = 240.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.truck("Hill Yard", Some("10"), None, "150").name = "big".into();
    sample.truck("Hill Yard", Some("5"), None, "80").name = "small".into();
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("12"));
    let bought = sample.buy();
    assert_eq!(bought.trips[0].vehicle.map(|v| v.0), Some(1));
    assert_eq!(Currency::USD.show(bought.trips[0].cost), "240.00");
}

#[test]
fn a_supplier_with_a_dearer_yard_and_a_cheaper_trip_can_win() {
    // 5 yd3: near 5 x 40 + 120 = 320; far 5 x 44 + 60 = 280.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Near Yard", soil, "yard", yards("1"), "40");
    sample.offer("Far Yard", soil, "yard", yards("1"), "44");
    sample.truck("Near Yard", Some("10"), None, "120");
    sample.truck("Far Yard", Some("10"), None, "60");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("5"));
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["5 x 44 = 220.00"]);
    // It stays the cheaper one up to (320 - 60) / 5 = 52.00 a yard.
    assert_eq!(bought.lines[0].flip_price, Some(d("52")));
    assert!(
        bought.lines[0]
            .why
            .contains("Near Yard, yard would cost 40.00 more"),
        "{}",
        bought.lines[0].why
    );
}

#[test]
fn tons_are_turned_into_yards_by_the_density_as_delivered() {
    // 11 yd3 x 2,200 lb = 24,200 lb = 12.1 short tons -> 12.5 in half tons x 30 = 375.00.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "ton", tons("1"), "30");
    sample.truck("Hill Yard", None, Some("14000"), "50");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("11"));
    let bought = sample.buy();
    assert_eq!(line_text(&bought.lines[0]), "12.5 x 30 = 375.00");
    assert!(
        bought.lines[0].why.contains("at 2,200 lb/yd3 as delivered"),
        "{}",
        bought.lines[0].why
    );
    // 14,000 lb are 7 tons: 2 loads.
    assert_eq!(bought.trips[0].loads.len(), 2);
    // Without a density the row cannot be compared, and says so at Holds.
    sample.stuff(soil).delivered = None;
    let bought = sample.buy();
    assert_eq!(bought.lines[0].offer, None);
    let problem = &bought.problems[0];
    assert_eq!(problem.spot.map(|s| s.field), Some("Holds"));
    assert!(
        problem.sentence.contains("cannot be turned into yd3"),
        "{}",
        problem.sentence
    );
}

#[test]
fn a_near_miss_over_a_step_is_told() {
    // 7.55 yd3 -> 8.0; 10 beds of 29.0625 ft2 are 290.625 ft2; 0.05 yd3 = 1.35 ft3 is 0.0557 in of it.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.truck("Hill Yard", Some("20"), None, "95");
    sample
        .beds(crate::model::job::SiteId(0), 10)
        .needs(soil, yards("0.755"));
    let told = sentences(&sample.buy());
    assert_eq!(
        told,
        "topsoil for Site A: 7.5 yards in place of 8 would finish 0.06 in lower and save 21.00"
    );
    // A need of 7.9 is no near miss: 0.4 yd3 would be 0.45 in.
    sample.takeoffs[0].needs[0].order = yards("0.79");
    assert_eq!(sentences(&sample.buy()), "");
}

#[test]
fn loose_goods_that_lack_only_a_fee_are_named_beside_the_dearer_bags() {
    // 2 yd3 are 54 ft3: 54 bags x 5.00 = 270.00; loose 2 x 42.00 = 84.00 and a fee that nobody gave.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.offer("Hill Yard", soil, "bag", cubic_feet("1"), "5");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("2"));
    let bought = sample.buy();
    assert_eq!(total(&bought), "270.00");
    assert_eq!(
        sentences(&bought),
        "topsoil: loose from Hill Yard it costs 84.00 and a delivery fee that nobody gave, so 54 bags for 270.00 are taken"
    );
    // With a fee of 95.00 loose is 179.00, and nothing is passed over.
    sample.truck("Hill Yard", Some("7"), None, "95");
    let bought = sample.buy();
    assert_eq!(
        (total(&bought), sentences(&bought)),
        ("179.00".into(), String::new())
    );
}

#[test]
fn a_supplier_whose_fee_nobody_gave_does_not_lose_in_silence() {
    // 4 yd3: Far Yard 4 x 33.00 + one trip of 20.00 = 152.00; Near Yard 4 x 30.00 = 120.00 and a fee.
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Far Yard", soil, "yard", yards("1"), "33");
    sample.offer("Near Yard", soil, "yard", yards("1"), "30");
    sample.truck("Far Yard", Some("10"), None, "20");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("4"));
    let bought = sample.buy();
    assert_eq!(total(&bought), "152.00");
    assert_eq!(
        sentences(&bought),
        "topsoil for Site A: loose from Near Yard it costs 120.00 and a delivery fee that nobody gave, so 4 yards from Far Yard with delivery for 152.00 are taken"
    );
    let why = &bought.lines[0].why;
    let said = "Near Yard not compared: no delivery fee is given";
    assert!(why.contains(said), "{why}");
    // With a fee of 40.00 it costs 160.00 and is simply dearer.
    sample.truck("Near Yard", Some("10"), None, "40");
    let bought = sample.buy();
    assert_eq!(
        (total(&bought), sentences(&bought)),
        ("152.00".into(), String::new())
    );
}

#[test]
fn no_vehicle_or_one_too_small_is_told_and_the_fee_is_missing() {
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample
        .beds(crate::model::job::SiteId(0), 1)
        .needs(soil, yards("3"));
    let bought = sample.buy();
    assert_eq!(bought.trips[0].fee, None);
    assert!(
        sentences(&bought).contains("no vehicle of theirs"),
        "{}",
        sentences(&bought)
    );
    sample.truck("Hill Yard", Some("7"), Some("800"), "95");
    let bought = sample.buy();
    assert_eq!(
        bought.problems[0].spot.map(|s| s.field),
        Some("Weight limit")
    );
}

#[test]
fn the_top_up_is_a_drop_of_its_own() {
    let mut sample = two_sites("12.1", 3);
    let soil = sample.takeoffs[0].needs[0].material;
    sample.takeoffs[1].needs_at(soil, cubic_feet("3"), Moment::TopUp, Part::TopUp);
    let bought = sample.buy();
    // 3 beds x 3 ft3 = 9 ft3 = 0.333 yd3 -> 0.5 x 42 = 21.00 and a trip of 95.00.
    let last = bought
        .lines
        .iter()
        .find(|l| l.moment == Moment::TopUp)
        .unwrap();
    assert_eq!(line_text(last), "0.5 x 42 = 21.00");
    assert_eq!(total(&bought), "1,252.00");
}
