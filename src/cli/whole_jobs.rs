//! Small jobs from their CSV files to the price: what two stages must agree on.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::Write;

use jiff::civil::date;
use rust_decimal::Decimal;

use super::run::PIPELINE;
use crate::price::Estimate;
use crate::price::changes::{Moved, changes};
use crate::problem::{Problem, Severity};
use crate::read::Source;

/// Reads and prices a folder of these files, errors and all.
fn run(files: &[(&str, &str)]) -> (Option<Estimate>, Vec<Problem>) {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let mut file = File::create(folder.path().join(name)).unwrap();
        file.write_all(text.as_bytes()).unwrap();
    }
    let read = (PIPELINE.read)(&Source::Path(folder.path().to_owned()));
    let mut problems = read.problems;
    let Some(loaded) = read.output else {
        return (None, problems);
    };
    let priced = (PIPELINE.price)(loaded, date(2026, 3, 20));
    problems.extend(priced.problems);
    if let Some(estimate) = &priced.output {
        problems.extend(estimate.problems.iter().cloned());
    }
    (priced.output, problems)
}

#[track_caller]
fn estimate(files: &[(&str, &str)]) -> Estimate {
    let (estimate, problems) = run(files);
    let errors = problems.iter().filter(|p| p.severity == Severity::Error);
    assert_eq!(errors.count(), 0, "{problems:#?}");
    estimate.unwrap_or_else(|| panic!("{problems:#?}"))
}

#[track_caller]
fn check_line(estimate: &Estimate, key: &str, amount: &str) {
    let line = estimate
        .price
        .line(key)
        .unwrap_or_else(|| panic!("no line {key}"));
    let expected: Decimal = amount.parse().unwrap();
    assert_eq!(line.amount.amount(), expected, "{key}");
}

/// Two sites with three tubs of topsoil, one of them twice.
const TUBS: (&str, &str) = (
    "Beds.csv",
    "Bed,Count,Size,Frame,Fill,Site\nA,2,4x8x18 in,Tub,Topsoil,Front\nB,1,4x8x18 in,Tub,Topsoil,Back\n",
);
const TUB: (&str, &str) = (
    "Frames.csv",
    "Frame,Frame kind,Material\nTub,ready-made,Stock tank\n",
);

#[test]
fn the_quantity_of_an_extra_is_paid_once() {
    // 6 boards at 9.50 for each of two sites: 2 x 6 x 9.50 = 114.00. Counting the quantity in how often it
    // comes and again in its cost would say 684.00. 2 signs at 14 for each of 3 beds: 84.00.
    let estimate = estimate(&[
        TUBS,
        TUB,
        (
            "Extras.csv",
            "Item,Quantity,Unit,Rate,Per,Kind of extra\nBoards,6,board,9.50,site,cost\nSign,2,sign,14,bed,cost\n",
        ),
    ]);
    check_line(&estimate, "other", "198.00");
}

#[test]
fn tax_by_category_without_a_category_is_a_mistake_and_not_no_tax() {
    let (_, problems) = run(&[
        TUBS,
        TUB,
        (
            "Job.csv",
            "Setting,Value\nTax mode,on chosen categories\nTax %,7%\n",
        ),
    ]);
    let errors = problems.iter().filter(|p| p.severity == Severity::Error);
    let told: Vec<&str> = errors.map(|p| p.sentence.as_str()).collect();
    assert_eq!(
        told,
        ["Tax mode is on categories, and Taxed categories names none"]
    );
    // 7% of materials: the whole price is the tub's 100.00 x 3 here, so 21.00.
    let priced = estimate(&[
        TUBS,
        TUB,
        (
            "Job.csv",
            "Setting,Value\nTax mode,on chosen categories\nTaxed categories,materials\nTax %,7%\n",
        ),
        (
            "Prices.csv",
            "Supplier,Material,Pack,Holds,Price\nYard,Stock tank,each,1,100\n",
        ),
    ]);
    check_line(&priced, "tax", "21.00");
}

#[test]
fn loose_goods_without_a_vehicle_are_named_as_not_priced() {
    let estimate = estimate(&[
        TUBS,
        TUB,
        (
            "Prices.csv",
            "Supplier,Material,Pack,Holds,Price\nYard,Topsoil,yard,1 yd3,40\n",
        ),
    ]);
    let phrase = "delivery by Yard (no vehicle in Deliveries)".to_owned();
    assert!(
        estimate.not_priced.contains(&phrase),
        "{:?}",
        estimate.not_priced
    );
}

#[test]
fn what_no_offer_is_marked_for_is_said_once() {
    let (priced, problems) = run(&[
        TUBS,
        TUB,
        ("Job.csv", "Setting,Value\nBuying,as marked\n"),
        (
            "Prices.csv",
            "Supplier,Material,Pack,Holds,Price\nYard,Topsoil,yard,1 yd3,40\nYard,Stock tank,each,1,100\n",
        ),
    ]);
    assert!(priced.is_some());
    let told: BTreeSet<&str> = problems
        .iter()
        .map(|p| p.sentence.as_str())
        .filter(|sentence| sentence.contains("cheapest"))
        .collect();
    let expected = "Stock tank, Topsoil: no offer is marked, so the cheapest was taken";
    assert_eq!(told, BTreeSet::from([expected]));
}

/// One tub of topsoil and a wage, at these prices a yard and an hour.
fn priced_at(yard: &str, hour: &str, beds: &str) -> Estimate {
    let prices = format!(
        "Supplier,Material,Pack,Holds,Price,Step\nYard,Topsoil,yard,1 yd3,{yard},1\nYard,Stock tank,each,1,100,1\n"
    );
    let workers = format!("Worker,Pay rate,Burden %\nCrew,{hour},0%\n");
    let beds = format!("Bed,Count,Size,Frame,Fill\n{beds}");
    estimate(&[
        ("Beds.csv", &beds),
        TUB,
        ("Prices.csv", &prices),
        ("Workers.csv", &workers),
        ("Job.csv", "Setting,Value\nTop-up,none\n"),
    ])
}

#[test]
fn what_moved_between_two_estimates_is_told_line_by_line() {
    let before = priced_at("40", "0", "A,2,4x8x18 in,Tub,Topsoil\n");
    let same = changes(
        &before,
        &priced_at("40", "0", "A,2,4x8x18 in,Tub,Topsoil\n"),
    );
    assert!(same.is_empty(), "{same:#?}");
    // 5 yards at 40.00 and at 45.50: 200.00 and 227.50. The beds bear all of it.
    let dearer = changes(
        &before,
        &priced_at("45.50", "0", "A,2,4x8x18 in,Tub,Topsoil\n"),
    );
    let money = |text: &str| Some(crate::units::Money::of(text.parse().unwrap()));
    let moved = |name: &str, before: &str, after: &str| Moved {
        name: name.to_owned(),
        before: money(before),
        after: money(after),
    };
    assert_eq!(dearer.beds, [moved("A", "400.00", "427.50")]);
    assert_eq!(dearer.price[0], moved("Materials", "400.00", "427.50"));
    assert_eq!(
        dearer.price.last(),
        Some(&moved("Price", "400.00", "427.50"))
    );
    assert_eq!(dearer.orders.len(), 1);
    assert_eq!(dearer.orders[0].name, "Topsoil, yard from Yard");
    assert!(dearer.choices.is_empty() && dearer.hours.is_empty() && dearer.sizes.is_empty());
}

#[test]
fn a_new_bed_moves_its_size_its_orders_and_its_hours() {
    let before = priced_at("40", "20", "A,2,4x8x18 in,Tub,Topsoil\n");
    let after = priced_at(
        "40",
        "20",
        "A,2,4x8x18 in,Tub,Topsoil\nB,1,4x8x18 in,Tub,Topsoil\n",
    );
    let moved = changes(&before, &after);
    let sizes: Vec<&str> = moved.sizes.iter().map(|m| &*m.name).collect();
    assert_eq!(sizes, ["B"]);
    assert_eq!(moved.sizes[0].before, None);
    let tanks = moved
        .orders
        .iter()
        .find(|m| m.name.starts_with("Stock tank"));
    let tanks = tanks.unwrap();
    // Two tanks at 100.00, then three.
    assert_eq!(tanks.before.as_ref().unwrap().packs, "2");
    assert_eq!(
        tanks.after.as_ref().unwrap().cost,
        crate::units::Money::of(300.into())
    );
    assert!(!moved.hours.is_empty());
    let total = moved.price.last().unwrap();
    assert_eq!(total.before, Some(moved.total.0));
    assert_eq!(total.after, Some(moved.total.1));
    assert!(moved.total.1 > moved.total.0);
}
