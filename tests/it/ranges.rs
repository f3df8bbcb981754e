//! Ranges of cost and price: what the draws come to by hand, and what holds for every job.

use std::path::Path;

use loamwright::price::Estimate;
use loamwright::price::ranges::{Drawing, Quantiles, Ranges, ranges};
use loamwright::units::Money;
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::cli::{check_run, run_in};
use crate::folders::root;
use crate::pipeline::{price, priced};
use crate::tables::Tables;

/// 16.0 yd3 at 42.00 and 3 loads at 95.00, nobody paid, nothing put on: 957.00.
const SOIL: &str = "tests/worked/leaving-out-a-bed-saves-a-load/job";

const DRAWING: Drawing = Drawing {
    runs: 10_000,
    seed: 1,
    threads: 2,
};

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// The soil job with ranges for the price of a yard and the fee of a load; empty for none.
fn soil(price: [&str; 2], fee: [&str; 2]) -> Tables {
    let mut tables = Tables::of(SOIL);
    let [low, high] = price;
    tables.put(
        "Prices",
        &format!(
            "Supplier,Material,Pack,Holds,Price,Low,High,Step\n\
             Yard,Plain soil,yard,1 yd3,42.00,{low},{high},0.5 yd3\n"
        ),
    );
    let [low, high] = fee;
    tables.put(
        "Deliveries",
        &format!(
            "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee,Low,High\n\
             Yard,tipper,7,13000,95,{low},{high}\n"
        ),
    );
    tables
}

fn drawn(estimate: &Estimate, drawing: Drawing) -> Option<Ranges> {
    ranges(estimate, drawing).unwrap()
}

fn of(tables: &Tables) -> Option<Ranges> {
    drawn(&priced(&tables.folder().path), DRAWING)
}

#[track_caller]
fn near(money: Money, by_hand: &str, tolerance: &str) {
    let apart = (money.amount() - d(by_hand)).abs();
    assert!(apart <= d(tolerance), "{} is not {by_hand}", money.amount());
}

#[test]
fn percentiles_of_one_ranged_price_are_those_of_its_triangle() {
    let ranges = of(&soil(["30.00", "60.00"], ["", ""])).unwrap();
    // 285.00 for three loads, and 16 yd3 at the percentile of the triangle 30, 42, 60:
    // P10 30 + sqrt(0.1 x 30 x 12) = 36.000   P50 60 - sqrt(0.5 x 30 x 18) = 43.568
    // P80 60 - sqrt(0.2 x 30 x 18) = 49.608   P90 60 - sqrt(0.1 x 30 x 18) = 52.652
    // Half a dollar a yard is six standard errors of the median of 10,000 draws.
    for q in [ranges.cost, ranges.price] {
        assert_eq!(q.estimate, Money::of(d("957.00")));
        near(q.p10, "861.00", "8");
        near(q.p50, "982.09", "8");
        near(q.p80, "1078.73", "8");
        near(q.p90, "1127.43", "8");
    }
    // (1,078.73 - 957.00) / 957.00 = 12.7%
    let reserve = ranges.cost.reserve().unwrap();
    assert!((reserve - d("0.127")).abs() < d("0.01"), "{reserve}");
    assert_eq!(ranges.figures.len(), 1);
    assert_eq!(ranges.figures[0].share, Decimal::ONE);
}

#[test]
fn the_share_of_each_figure_is_its_part_of_the_variance() {
    let ranges = of(&soil(["30.00", "60.00"], ["65.00", "185.00"])).unwrap();
    // Variance of a triangle: (a2 + b2 + c2 - ab - ac - bc) / 18.
    // Soil (900 + 1,764 + 3,600 - 1,260 - 1,800 - 2,520) / 18 = 38, x 16 yd3 squared = 9,728.
    // Fee (4,225 + 9,025 + 34,225 - 6,175 - 12,025 - 17,575) / 18 = 650, x 3 loads squared = 5,850.
    // 9,728 / 15,578 = 62.4%, 5,850 / 15,578 = 37.6%.
    let shares: Vec<(&str, Decimal)> = ranges.figures.iter().map(|f| (&*f.name, f.share)).collect();
    let [(soil, first), (fee, second)] = shares[..] else {
        panic!("{shares:?}");
    };
    assert_eq!(soil, "price of Plain soil, Yard, yard");
    assert_eq!(fee, "fee of tipper, Yard");
    assert!((first - d("0.624")).abs() < d("0.02"), "{first}");
    assert!((second - d("0.376")).abs() < d("0.02"), "{second}");
}

#[test]
fn a_job_without_ranges_says_so() {
    let job = soil(["", ""], ["", ""]).folder();
    assert_eq!(drawn(&priced(&job.path), DRAWING), None);
    let words = job.path.to_str().unwrap();
    check_run(
        Path::new("."),
        &["ranges", words],
        0,
        "No figure of this price has a range",
        "cautions",
    );
}

#[test]
fn ends_on_the_wrong_side_are_told_with_their_cell() {
    for (ends, told) in [
        (["43", "60"], "Low is more than Price"),
        (["30", "41"], "High is less than Price"),
    ] {
        let job = soil(ends, ["", ""]).folder();
        let problems = price(&job.path, None).unwrap_err();
        assert!(
            problems
                .iter()
                .any(|p| p.sentence == told && p.spot.is_some()),
            "{problems:?}"
        );
    }
}

#[test]
fn hours_left_to_the_library_take_its_range_and_typed_ones_their_own() {
    let mut tables = Tables::of(SOIL);
    tables.put(
        "Labour",
        "Task,Person-hours,Low,High,Per\nReceive a load,0.5,0.25,2,each\n",
    );
    let ranges = of(&tables).unwrap();
    let named = |name: &str| ranges.figures.iter().find(|f| &*f.name == name);
    let own = named("hours: Receive a load").unwrap();
    assert_eq!(
        (own.low, own.likely, own.high),
        (d("0.25"), d("0.5"), d("2"))
    );
    assert!(!own.typical);
    assert!(named("hours: Spread and rake soil").unwrap().typical);
}

#[test]
fn drawn_next_to_what_is_typed_every_example_costs_what_it_costs() {
    for example in ["clinic-gardens", "learning-garden"] {
        let mut estimate = priced(&root(&format!("examples/{example}/job")));
        for ranged in &mut estimate.ledger.ranged {
            ranged.spread.low = ranged.likely;
            ranged.spread.high = ranged.likely + d("0.000000001");
        }
        let runs = Drawing {
            runs: 100,
            ..DRAWING
        };
        let Quantiles {
            estimate, p10, p90, ..
        } = drawn(&estimate, runs).unwrap().cost;
        // A line on half a cent may round the other way.
        near(p10, &estimate.amount().to_string(), "0.05");
        near(p90, &estimate.amount().to_string(), "0.05");
    }
}

#[test]
fn the_command_prints_a_screen_and_json() {
    let job = soil(["30.00", "60.00"], ["65.00", "185.00"]).folder();
    let words = job.path.to_str().unwrap();
    let out = run_in(Path::new("."), &["ranges", words, "--seed", "5"], "");
    let text = String::from_utf8(out.stdout).unwrap();
    assert!(text.contains("10,000 draws, seed 5"), "{text}");
    assert!(
        text.lines().all(|line| line.chars().count() <= 80),
        "{text}"
    );
    assert!(text.contains("contingency is set to 0.0%"), "{text}");
    let out = run_in(Path::new("."), &["ranges", words, "--json", "--quiet"], "");
    let tree: serde_json::Value = serde_json::from_slice(&out.stdout).unwrap();
    assert_eq!(tree["direct_cost"]["estimate"], "957.00");
    assert_eq!(tree["figures"][0]["likely"], "42");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn the_same_seed_gives_the_same_figures_on_any_number_of_threads(seed: u64, threads in 1_usize..7) {
        let estimate = priced(&soil(["30.00", "60.00"], ["65.00", "185.00"]).folder().path);
        let by = |threads| drawn(&estimate, Drawing { runs: 1_001, seed, threads }).unwrap();
        let (one, many) = (by(1), by(threads));
        prop_assert_eq!(one.cost, many.cost);
        prop_assert_eq!(one.price, many.price);
        prop_assert_eq!(one.figures, many.figures);
    }

    #[test]
    fn a_wider_range_never_narrows_the_result(low in 20_u32..42, high in 43_u32..70, wider in 1_u32..20) {
        let mut estimate = priced(&soil(["30.00", "60.00"], ["65.00", "185.00"]).folder().path);
        let mut width = |low: u32, high: u32| {
            for ranged in &mut estimate.ledger.ranged {
                if ranged.name.starts_with("price") {
                    ranged.spread.low = Decimal::from(low);
                    ranged.spread.high = Decimal::from(high);
                }
            }
            let Quantiles { p10, p90, .. } = drawn(&estimate, DRAWING).unwrap().cost;
            p90.amount() - p10.amount()
        };
        let (before, after) = (width(low, high), width(low.saturating_sub(wider), high + wider));
        prop_assert!(after >= before, "{} became {}", before, after);
    }
}
