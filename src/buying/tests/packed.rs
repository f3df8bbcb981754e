//! Packed goods: whole packs for the whole job, breaks, least orders, stock on hand.

use super::super::price_requests;
use super::sample::{
    Sample, cubic_feet, d, feet, inches, line_text, lines_text, sentences, total, yards,
};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::material::{Category, MaterialId, Source};
use crate::units::{Amount, Area, Decimal, Volume};

const SITE: SiteId = SiteId(0);

fn count(number: &str) -> Amount {
    Amount::Count(d(number))
}

/// A job that needs so many boxes of screws at 10.00, or 8.50 from 20 on.
fn boxes(needed: &str) -> Sample {
    let mut sample = Sample::new();
    sample.site("Site A");
    let screws = sample.material("screws", Category::Fastener);
    sample.offer("Corner Store", screws, "box", count("100"), "10");
    sample
        .offer("Corner Store", screws, "box", count("100"), "8.50")
        .from_quantity = d("20");
    let pieces = d(needed) * d("100");
    sample.beds(SITE, 1).needs(screws, Amount::Count(pieces));
    sample
}

#[track_caller]
fn check_boxes(needed: &str, line: &str) {
    let bought = boxes(needed).buy();
    assert_eq!(lines_text(&bought), [line], "{}", bought.lines[0].why);
}

#[test]
fn a_price_break_is_taken_when_the_whole_costs_less() {
    // 18 x 10.00 = 180.00; 20 x 8.50 = 170.00.
    check_boxes("18", "20 x 8.5 = 170.00");
    // 17 x 10.00 = 170.00: as much, so nothing more is bought.
    check_boxes("17", "17 x 10 = 170.00");
    check_boxes("16", "16 x 10 = 160.00");
    check_boxes("20.5", "21 x 8.5 = 178.50");
    let bought = boxes("18").buy();
    assert_eq!(
        sentences(&bought),
        "20 boxes of screws are bought where 18 would do, which saves 10.00"
    );
    assert!(bought.lines[0].fixed);
    assert_eq!(bought.lines[0].surplus, count("200"));
}

#[test]
fn a_least_order_is_bought_in_full() {
    let mut sample = boxes("3");
    sample.job.offers[0].least = d("5");
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["5 x 10 = 50.00"]);
    assert!(bought.lines[0].fixed);
    assert!(
        bought.lines[0].why.contains("the least that is sold is 5"),
        "{}",
        bought.lines[0].why
    );
}

#[test]
fn bags_round_once_for_the_job() {
    // 32 ft3 wanted, kept 0.846: 37.825 ft3 = 25.2 bags of 1.5 ft3 -> 26. On two sites still 26.
    let (mut sample, soil) = Sample::with_soil();
    let b = sample.site("Site B");
    sample.offer("Corner Store", soil, "bag", cubic_feet("1.5"), "4");
    let half = Amount::Volume(Volume::cubic_feet(d("32") / d("0.846") / d("2")));
    sample.beds(SITE, 1).needs(soil, half);
    sample.beds(b, 1).needs(soil, half);
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["26 x 4 = 104.00"]);
    assert!(bought.trips.is_empty(), "bags are collected");
    assert_eq!(bought.lines[0].measures.len(), 2);
}

#[test]
fn dust_from_unit_conversion_buys_no_bag() {
    for size in ["0.5", "0.75", "1.5", "2"] {
        for bags in 1..=60_u32 {
            let (mut sample, soil) = Sample::with_soil();
            sample.offer("Corner Store", soil, "bag", cubic_feet(size), "4");
            // There and back through cubic yards leaves dust in the last digits.
            let there = Volume::cubic_feet(d(size) * Decimal::from(bags)).in_cubic_yards();
            let back = Amount::Volume(Volume::cubic_yards(there));
            sample
                .beds(SITE, 3)
                .needs(soil, back.times(d("1") / d("3")));
            let bought = sample.buy();
            assert_eq!(
                bought.lines[0].quantity,
                Decimal::from(bags),
                "{bags} of {size} ft3"
            );
        }
    }
}

/// Soil by the yard at 42.00 with a trip of 95.00, or in bags of 1.5 ft3 at 5.00.
fn bags_or_bulk(need: &str) -> Sample {
    let (mut sample, soil) = Sample::with_soil();
    sample.offer("Hill Yard", soil, "yard", yards("1"), "42");
    sample.truck("Hill Yard", Some("7"), Some("13000"), "95");
    sample.offer("Corner Store", soil, "bag", cubic_feet("1.5"), "5");
    sample.beds(SITE, 1).needs(soil, yards(need));
    sample
}

#[test]
fn bags_win_for_little_and_bulk_for_much() {
    // 1.5 yd3: 1.5 x 42 + 95 = 158.00; 40.5 ft3 = 27 bags = 135.00.
    let little = bags_or_bulk("1.5").buy();
    assert_eq!(lines_text(&little), ["27 x 5 = 135.00"]);
    assert!(
        little.lines[0]
            .why
            .contains("loose with delivery 158.00, packed 135.00")
    );
    // The bags stay cheaper up to 158 / 27 = 5.85185... each.
    assert_eq!(
        little.lines[0].flip_price.map(|p| p.round_dp(4)),
        Some(d("5.8519"))
    );
    // 4 yd3: 168 + 95 = 263.00; 108 ft3 = 72 bags = 360.00.
    let much = bags_or_bulk("4").buy();
    assert_eq!(total(&much), "263.00");
    // The yard stays cheaper up to (360 - 95) / 4 = 66.25.
    assert_eq!(much.lines[0].flip_price, Some(d("66.25")));
}

#[test]
fn stock_on_hand_comes_off_first() {
    let mut sample = bags_or_bulk("1.5");
    let soil = MaterialId(0);
    sample.stuff(soil).on_hand = Some(Known::assumed(cubic_feet("12"), "test"));
    // 40.5 - 12 = 28.5 ft3 = 19 bags.
    let bought = sample.buy();
    assert_eq!(lines_text(&bought), ["19 x 5 = 95.00"]);
    let on_hand = bought.lines[0].on_hand;
    assert_eq!(on_hand, cubic_feet("12"));
    // With more on hand than is needed nothing is bought.
    sample.stuff(soil).on_hand = Some(Known::assumed(yards("2"), "test"));
    let bought = sample.buy();
    assert!(bought.lines[0].free && bought.lines[0].offer.is_none());
    assert_eq!(bought.lines[0].on_hand, yards("1.5"));
    assert_eq!(total(&bought), "0.00");
}

#[test]
fn what_is_found_on_site_costs_nothing_and_keeps_its_drop() {
    let mut sample = bags_or_bulk("1.5");
    sample.stuff(MaterialId(0)).source = Known::assumed(Source::OnSite, "test");
    let bought = sample.buy();
    assert!(bought.lines[0].free);
    assert_eq!(bought.lines[0].need, yards("1.5"));
    assert_eq!(bought.lines[0].price, Some(Decimal::ZERO));
    assert_eq!(bought.lines[0].why, "found on the site");
    assert!(bought.trips.is_empty());
}

#[test]
fn rolls_cover_their_length_times_their_width() {
    // A roll of 50 ft, 4 ft wide, covers 200 ft2: 300 ft2 take 2.
    let mut sample = Sample::new();
    sample.site("Site A");
    let mesh = sample.material("mesh", Category::Mesh);
    sample.offer("Corner Store", mesh, "roll", feet("50"), "60");
    sample
        .beds(SITE, 1)
        .needs(mesh, Amount::Area(Area::square_feet(d("300"))));
    let bought = sample.buy();
    assert_eq!(
        bought.problems[0].spot.map(|s| s.field),
        Some("Holds"),
        "no width yet"
    );
    sample.stuff(mesh).roll_width = Some(Known::assumed(inches("48"), "test"));
    let bought = sample.buy();
    assert_eq!(line_text(&bought.lines[0]), "2 x 60 = 120.00");
    assert!(
        bought.lines[0].why.contains("on a roll 4' wide"),
        "{}",
        bought.lines[0].why
    );
}

#[test]
fn oil_covers_its_area_by_the_litre() {
    // 10 m2 a litre are 10,000 m2 a cubic metre; 25 m2 take 2.5 litres: 3 cans of one litre.
    let mut sample = Sample::new();
    sample.site("Site A");
    let oil = sample.material("oil", Category::Finish);
    sample.stuff(oil).coverage = Some(Known::assumed(d("10000"), "test"));
    let litre = Amount::Volume(Volume::litres(d("1")));
    sample.offer("Corner Store", oil, "can", litre, "15");
    sample
        .beds(SITE, 5)
        .needs(oil, Amount::Area(Area::square_metres(d("5"))));
    assert_eq!(lines_text(&sample.buy()), ["3 x 15 = 45.00"]);
}

#[test]
fn a_seller_with_too_few_is_passed_over() {
    let mut sample = boxes("18");
    let screws = MaterialId(0);
    sample.job.offers[0].available = Some(d("10"));
    sample.job.offers[1].available = Some(d("10"));
    sample.offer("Mill Store", screws, "box", count("100"), "12");
    assert_eq!(lines_text(&sample.buy()), ["18 x 12 = 216.00"]);
    // When nobody has enough, the least bad is bought and told of.
    sample.job.offers[2].available = Some(d("15"));
    let told = sentences(&sample.buy());
    assert!(
        told.contains("20 boxes of screws are needed, and Corner Store has 10"),
        "{told}"
    );
}

#[test]
fn what_has_no_price_is_asked_for() {
    let (mut sample, soil) = Sample::with_soil();
    let screws = sample.material("screws", Category::Fastener);
    sample
        .beds(SITE, 2)
        .needs(soil, yards("1.25"))
        .needs(screws, count("40"));
    let bought = sample.buy();
    assert!(
        bought
            .lines
            .iter()
            .all(|l| l.price.is_none() && l.offer.is_none())
    );
    let asked = price_requests(&sample.job, &bought);
    assert_eq!(asked.len(), 1);
    assert_eq!(&*asked[0].name, "Any supplier");
    let lines: Vec<String> = asked[0]
        .lines
        .iter()
        .map(|l| {
            format!(
                "{} {} {}",
                sample.job.material_name(l.material),
                l.quantity,
                l.unit
            )
        })
        .collect();
    assert_eq!(lines, ["screws 80 ", "topsoil 2.5 yd3"]);
    // A row without a price still tells the packs, and is a gap.
    sample.offer("Corner Store", screws, "box", count("50"), "");
    let bought = sample.buy();
    assert_eq!(line_text(&bought.lines[0]), "2 x ? = 0.00");
    assert_eq!(bought.problems[0].spot.map(|s| s.field), Some("Price"));
    let asked = price_requests(&sample.job, &bought);
    assert_eq!((asked.len(), &*asked[0].name), (1, "Corner Store"));
}

#[test]
fn packs_that_a_vehicle_names_are_told_to_be_collected() {
    let mut sample = boxes("3");
    sample.truck("Corner Store", None, None, "75").carries = vec!["Screws".into()];
    let told = sentences(&sample.buy());
    assert!(
        told.contains("screws is bought by the pack and counted as collected"),
        "{told}"
    );
}
