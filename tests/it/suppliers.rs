//! Suppliers side by side at landed cost, bags against bulk, prices to look at again, orders as data.

use std::sync::Arc;

use loamwright::price::Estimate;
use loamwright::price::suppliers::{Comparison, Single, Why, compare};
use loamwright::units::{Amount, Decimal, Money};
use loamwright::write::orders::{COLUMNS, orders};
use loamwright::write::screen::Screen;
use loamwright::write::suppliers::suppliers_text;
use proptest::prelude::*;

use crate::folders::root;
use crate::made_up::{beds, job, shuffled};
use crate::pipeline::priced;
use crate::tables::Tables;

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn money(text: &str) -> Money {
    Money::of(d(text))
}

fn compared(tables: &Tables, within: &str) -> (Estimate, Comparison) {
    let estimate = priced(&tables.folder().path);
    let comparison = compare(&estimate, d(within)).unwrap();
    (estimate, comparison)
}

/// One bed of 5.1 x 6 x 1.5 ft, 45.9 ft3 of soil, in a box that is bought; without work and tax.
fn one_bed(prices: &str) -> Tables {
    let mut tables = Tables::of("tests/worked/leaving-out-a-bed-saves-a-load/job");
    tables.put(
        "Beds",
        "Bed,Length (ft),Width (ft),Height (ft),Frame,Fill,Site\nB1,5.1,6,1.5,Free box,Plain soil,B\n",
    );
    tables.set("Materials", &[("Material", "Box")], "Source", "buy");
    let titles = "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee\n";
    let row = prices
        .contains("Yard,")
        .then_some("Yard,tipper,7,14000,95\n");
    tables.put(
        "Deliveries",
        &format!("{titles}{}", row.unwrap_or_default()),
    );
    let head = "Supplier,Material,Pack,Holds,Price,Step,Price date\n";
    tables.put("Prices", &format!("{head}{prices}"));
    tables
}

const THREE: &str = "\
Ash,Box,each,,100,,
Ash,Plain soil,sack,45.9 ft3,100,,
Birch,Box,each,,101,,
Cole,Plain soil,sack,45.9 ft3,99,,
";

fn from(single: &Single) -> Vec<&str> {
    single.from.iter().map(|name| &**name).collect()
}

#[test]
fn a_cheaper_split_gives_way_to_one_supplier_within_a_percent() {
    // Least: box from Ash 100 and soil from Cole 99, 199. Ash alone is 200, which is 0.503% more.
    let (_, near) = compared(&one_bed(THREE), "0.01");
    assert_eq!(
        (near.least.cost, from(&near.least)),
        (money("199"), vec!["Ash", "Cole"])
    );
    assert_eq!(near.as_ruled.cost, money("199"));
    assert_eq!(
        (near.fewest.single.cost, from(&near.fewest.single)),
        (money("200"), vec!["Ash"])
    );
    assert!(near.fewest.is_proven);
    let (_, exact) = compared(&one_bed(THREE), "0.005");
    assert_eq!(exact.fewest.single.cost, money("199"));
    // Alone, in the order of names.
    let alone: Vec<(Money, usize)> = near
        .singles
        .iter()
        .map(|s| (s.cost, s.lacks.len()))
        .collect();
    assert_eq!(
        alone,
        [(money("200"), 0), (money("101"), 1), (money("99"), 1)]
    );
    let soil = near
        .rows
        .iter()
        .find(|row| &*row.name == "Plain soil")
        .unwrap();
    assert_eq!(soil.landed, [Some(money("100")), None, Some(money("99"))]);
    assert_eq!(soil.chosen.0, [Arc::from("Cole")]);
    // Soil of Cole at more than 100 a sack, and Ash has it.
    assert_eq!(soil.flip, Some((d("99"), d("100"))));
}

#[test]
fn bags_lose_to_a_load_from_the_quantity_where_both_steps_have_passed() {
    let prices = "\
Yard,Plain soil,yard,1 yd3,42,0.5 yd3,
Shop,Plain soil,bag,1.5 ft3,4,,
Shop,Box,each,,1,,
";
    let (_, found) = compared(&one_bed(prices), "0.03");
    // Bags: 4.00 for each started 1.5 ft3, 72.00 a yard. A load: 95.00 and 42.00 a yard by the half.
    // 3.60 yd3: 65 bags are 260.00, 4 yards and a trip 263.00. 3.65 yd3: 66 bags are 264.00, and the load is ahead.
    // A trip takes 14,000 / 2,200 = 6.36 yd3, and with the second one bags are ahead once more: 6.65 yd3 are
    // 120 bags, 480.00, and 7 yards with two trips 190.00 + 294.00 = 484.00. At 6.70 yd3 121 bags are 484.00 too,
    // and from there on the load never costs more.
    let even = &found.break_evens[0];
    let yards = |amount: Amount| match amount {
        Amount::Volume(volume) => volume.in_cubic_yards().round_dp(6).normalize(),
        other => panic!("{other:?}"),
    };
    assert_eq!(even.from.map(yards), Some(d("6.7")));
    assert_eq!(yards(even.need), d("1.7"));
    let at = |wanted: &str| {
        let mut points = even.points.iter();
        let point = points
            .find(|(amount, ..)| yards(*amount) == d(wanted))
            .unwrap();
        (point.1, point.2)
    };
    assert_eq!(at("3.6"), (money("260"), money("263")));
    assert_eq!(at("3.65"), (money("264"), money("263")));
    assert_eq!(at("6.65"), (money("480"), money("484")));
    assert_eq!(at("6.7"), (money("484"), money("484")));
}

#[test]
fn loads_are_ahead_in_the_ranges_that_are_told_and_at_the_need() {
    let prices = "\
Yard,Plain soil,yard,1 yd3,42,0.5 yd3,
Shop,Plain soil,bag,1.5 ft3,4,,
Shop,Box,each,,1,,
";
    let (estimate, found) = compared(&one_bed(prices), "0.03");
    // 45.9 ft3 are 31 bags, 124.00; 2 yards and a trip are 84.00 + 95.00.
    let even = &found.break_evens[0];
    assert_eq!(even.at_need, (Some(money("124")), Some(money("179"))));
    let screen = Screen::of(loamwright::write::paint::Paint::Plain, None);
    let text = suppliers_text(&estimate, &found, screen);
    assert!(
        text.contains("the largest drop needs 1.7 yd3: packs 124.00, loads 179.00"),
        "{text}"
    );
    assert!(text.contains("from 6.7 yd3 on"), "{text}");
}

#[test]
fn a_price_that_serves_two_drops_flips_where_both_together_do() {
    let mut tables = one_bed(
        "Yard,Plain soil,yard,1 yd3,42,0.5 yd3,\nShop,Plain soil,bag,1.5 ft3,8,,\nShop,Box,each,,1,,\n",
    );
    tables.put(
        "Beds",
        "Bed,Length (ft),Width (ft),Height (ft),Frame,Fill,Site\nA1,5.1,6,1.5,Free box,Plain soil,A\nB1,5.1,6,1.5,Free box,Plain soil,B\n",
    );
    // 91.8 ft3 are 62 bags, 496.00. 1.7 yd3 at each site are 2 yards and a trip: 2 x (84.00 + 95.00) = 358.00.
    // Both drops pay one price: (496.00 - 190.00) / 4 yd3 = 76.50.
    let (_, found) = compared(&tables, "0.03");
    let soil = found
        .rows
        .iter()
        .find(|row| &*row.name == "Plain soil")
        .unwrap();
    assert_eq!(soil.chosen, (vec!["Yard".into()], Some(money("358"))));
    assert_eq!(soil.flip, Some((d("42"), d("76.5"))));
    let mut dearer = tables;
    dearer.set("Prices", &[("Supplier", "Yard")], "Price", "76.51");
    let (_, found) = compared(&dearer, "0.03");
    let soil = found
        .rows
        .iter()
        .find(|row| &*row.name == "Plain soil")
        .unwrap();
    assert_eq!(soil.chosen.0, ["Shop".into()]);
}

#[test]
fn who_has_too_few_does_not_have_it_all() {
    let mut tables = one_bed(THREE);
    tables.put(
        "Prices",
        "Supplier,Material,Pack,Holds,Price,Available\nAsh,Box,each,,100,\nAsh,Plain soil,sack,1 ft3,3,40\nCole,Plain soil,sack,1 ft3,4,\n",
    );
    // 46 sacks are needed, and Ash has 40.
    let (_, found) = compared(&tables, "0.03");
    let soil = found
        .rows
        .iter()
        .find(|row| &*row.name == "Plain soil")
        .unwrap();
    assert_eq!(soil.landed, [None, Some(money("184"))]);
    assert_eq!(found.singles[0].lacks, ["Plain soil".into()]);
    assert_eq!(found.least.cost, money("284"));
}

#[test]
fn prices_ten_times_the_others_and_old_ones_are_named_with_their_cells() {
    let prices = format!(
        "{THREE}Dray,Plain soil,sack,45.9 ft3,1000,,\nElm,Plain soil,sack,45.9 ft3,120,,2026-01-01\n"
    );
    let (_, found) = compared(&one_bed(&prices), "0.03");
    let told: Vec<(Why, &str, &str)> = found
        .doubts
        .iter()
        .map(|doubt| (doubt.why, &*doubt.words, &*doubt.place))
        .collect();
    // The nearest other price is 120: 1000 is 8.3 times that and no slip by itself.
    assert_eq!(told.len(), 1, "{told:?}");
    assert_eq!(told[0].0, Why::Old);
    // Of 4 May 2026 the price is 123 days old.
    assert!(
        told[0]
            .1
            .ends_with("the price is 123 days old, and 30 are fresh"),
        "{told:?}"
    );
    assert_eq!(told[0].2, "Prices.csv:7:7");
    let slip = format!("{THREE}Dray,Plain soil,sack,45.9 ft3,1000,,\n");
    let (_, found) = compared(&one_bed(&slip), "0.03");
    assert_eq!(found.doubts.len(), 1);
    assert_eq!(
        found.doubts[0].words,
        "Dray, Plain soil, sack: by what it holds the price is 10 times what Ash, Plain soil, sack asks: check pack and unit"
    );
    assert_eq!(found.doubts[0].place, "Prices.csv:6:5");
}

#[test]
fn free_delivery_and_trips_count_in_what_one_supplier_asks() {
    let prices = "Yard,Plain soil,yard,1 yd3,42,0.5 yd3,\nYard,Box,each,,1,,\n";
    // 1.7 yd3 are 2 yards: 84.00, the trip 95.00, the box 1.00.
    let (_, paid) = compared(&one_bed(prices), "0");
    assert_eq!(paid.singles[0].cost, money("180"));
    let mut free = one_bed(prices);
    free.put(
        "Deliveries",
        "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee,Free over\nYard,tipper,7,14000,95,80\n",
    );
    assert_eq!(compared(&free, "0").1.singles[0].cost, money("85"));
}

#[test]
fn the_text_fits_the_screen_and_names_who_has_what() {
    let (estimate, found) = compared(&one_bed(THREE), "0.01");
    let screen = Screen::of(loamwright::write::paint::Paint::Plain, None);
    let text = suppliers_text(&estimate, &found, screen);
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    for words in [
        "99.00*",
        "  all from Ash: 200.00, 1.00 more than the least",
        "  all from Birch: 101.00 without Plain soil: no price, or too few",
        "  fewest suppliers within 1% (every set tried): 200.00",
        "quality is not",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

#[test]
fn orders_as_data_hold_one_suppliers_goods_and_guard_their_cells() {
    let estimate = priced(&root("examples/clinic-gardens/job"));
    let files = orders(&estimate);
    let names: Vec<&str> = files.iter().map(|(name, _)| &**name).collect();
    assert_eq!(
        names,
        [
            "order-Hollow Creek Soil Yard.csv",
            "order-Millrace Lumber.csv",
            "order-Tannery Road Supply.csv"
        ]
    );
    let mut sum = Money::ZERO;
    for (name, bytes) in &files {
        let text = std::str::from_utf8(bytes)
            .unwrap()
            .trim_start_matches('\u{feff}');
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        assert_eq!(
            reader.headers().unwrap().iter().collect::<Vec<_>>(),
            COLUMNS
        );
        for record in reader.records() {
            let record = record.unwrap();
            assert_eq!(format!("order-{}.csv", &record[0]), *name);
            sum += money(&record[16]);
        }
    }
    let goods: Money = estimate.bought.lines.iter().map(|line| line.cost).sum();
    assert_eq!(sum, goods);
    let evil = THREE.replace("Ash", "=cmd|' /C calc'!A1");
    let estimate = priced(&one_bed(&evil).folder().path);
    for (name, bytes) in orders(&estimate) {
        let text = String::from_utf8(bytes).unwrap();
        assert!(
            !text.contains("\n=cmd") && !name.contains('|'),
            "{name}: {text}"
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4))]

    #[test]
    fn the_least_is_least_and_the_order_of_rows_changes_nothing(beds in beds(), seed in any::<u64>()) {
        let tables = job(&beds, &[]);
        let told = |tables: &Tables| {
            let (_, found) = compared(tables, "0.03");
            let singles: Vec<(Money, usize)> = found.singles.iter().map(|s| (s.cost, s.lacks.len())).collect();
            (found.least.cost, found.as_ruled.cost, found.fewest.single.cost, singles)
        };
        let plain = told(&tables);
        prop_assert_eq!(&plain, &told(&shuffled(&tables, seed)));
        prop_assert!(plain.0 <= plain.1);
    }
}
