//! Laws that hold for every job, tried on jobs made up at random.
//!
//! Longer than most because each law has its check beside it.

use std::collections::BTreeMap;

use loamwright::labour::{LabourLine, LineKind};
use loamwright::model::labour::Per;
use loamwright::price::Estimate;
use proptest::prelude::*;
use rust_decimal::Decimal;
use serde_json::Value;

use crate::made_up::{Bed, beds, in_metres, job, settings, shuffled};
use crate::pipeline::{price, priced, text, tree};
use crate::tables::Tables;

fn estimate(tables: &Tables) -> Estimate {
    priced(&tables.folder().path)
}

fn number(value: &Value) -> Decimal {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no number"));
    text.parse().unwrap()
}

fn measure(value: &Value) -> Decimal {
    number(&value["number"])
}

fn list<'v>(tree: &'v Value, field: &str) -> &'v Vec<Value> {
    tree[field]
        .as_array()
        .unwrap_or_else(|| panic!("no list {field}"))
}

fn total(list: &[Value], of: impl Fn(&Value) -> Decimal) -> Decimal {
    list.iter().map(of).sum()
}

fn line(tree: &Value, key: &str) -> Decimal {
    let lines = list(&tree["price"], "lines");
    let found = lines.iter().find(|l| l["key"] == key);
    number(&found.unwrap_or_else(|| panic!("no line {key}"))["amount"])
}

/// Rounds away from zero to the cent.
fn cents(exact: Decimal) -> Decimal {
    exact.round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
}

/// Every sum of the price, worked out again from the lines that it is of.
fn check_sums(estimate: &Estimate) {
    let tree = tree(estimate);
    let line = |key: &str| line(&tree, key);
    let direct = [
        "materials",
        "tax_paid",
        "delivery",
        "labour",
        "equipment",
        "other",
        "allowances",
    ];
    assert_eq!(
        direct.map(line).iter().sum::<Decimal>(),
        line("direct_cost")
    );
    // Lines that a job may have or not.
    let maybe = |key: &str| {
        let lines = list(&tree["price"], "lines");
        let found = lines.iter().find(|l| l["key"] == key);
        found.map_or(Decimal::ZERO, |l| number(&l["amount"]))
    };
    let own = [
        "materials",
        "delivery",
        "labour",
        "equipment",
        "other",
        "allowances",
    ];
    let own = own.map(|category| maybe(&format!("markup_{category}")));
    let marked_up = ["direct_cost", "overhead", "contingency", "profit"];
    assert_eq!(
        marked_up.map(line).iter().chain(&own).sum::<Decimal>() + maybe("overhead_hours"),
        line("marked_up")
    );
    let outside = ["marked_up", "labour_charged", "pass_through"];
    assert_eq!(
        outside.map(line).iter().sum::<Decimal>(),
        line("before_rounding")
    );
    let before_tax = ["before_rounding", "minimum", "rounding"];
    assert_eq!(
        before_tax.map(line).iter().sum::<Decimal>() + maybe("discount"),
        line("before_tax")
    );
    let stages = list(&tree["price"], "payments");
    if !stages.is_empty() {
        let due = total(stages, |stage| number(&stage["amount"]));
        assert_eq!(due, line("total"), "stages of payment");
    }
    assert_eq!(line("before_tax") + line("tax"), line("total"));
    assert_eq!(number(&tree["price"]["total"]), line("total"));
    check_shares(&tree);
}

/// Beds, areas, places and kinds bear the whole price; a job of pieces alone has none that could.
fn check_shares(tree: &Value) {
    let line = |name: &str| line(tree, name);
    // Beds and areas bear everything that is neither overhead nor profit, and the whole price.
    let bearers = || list(tree, "beds").iter().chain(list(tree, "areas"));
    if bearers().next().is_none() {
        return;
    }
    let cost = line("direct_cost") + line("labour_charged") + line("pass_through");
    let sum = |field: &str| bearers().map(|b| number(&b[field])).sum::<Decimal>();
    assert_eq!(sum("cost"), cost, "cost of beds and areas");
    assert_eq!(sum("price"), line("total"), "price of beds and areas");
    for bearer in bearers() {
        let groups = bearer["cost_by_group"].as_object().unwrap();
        let sum: Decimal = groups.values().map(number).sum();
        assert_eq!(sum, number(&bearer["cost"]), "{bearer}");
    }
    let places = list(&tree["price"], "places");
    assert_eq!(
        total(places, |p| number(&p["price"])),
        line("total"),
        "places"
    );
    let of = |name: &str, field: &str| total(list(tree, name), |b| number(&b[field]));
    assert_eq!(of("kinds", "price"), of("beds", "price"), "kinds");
    assert_eq!(of("kinds", "cost"), of("beds", "cost"), "kinds");
}

/// The lists of orders and trips add up to their lines of the price.
fn check_lists(estimate: &Estimate) {
    let tree = tree(estimate);
    let included =
        estimate.job.settings.top_up.value == loamwright::model::settings::TopUp::Included;
    let counts = |v: &Value| included || v["moment"] == "build";
    let cost_of = |name: &str| {
        let counted = list(&tree, name).iter().filter(|v| counts(v));
        counted.map(|v| number(&v["cost"])).sum::<Decimal>()
    };
    assert_eq!(cost_of("orders"), line(&tree, "materials"));
    assert_eq!(cost_of("trips"), line(&tree, "delivery"));
    for order in list(&tree, "orders") {
        let unit_price = order["unit_price"]
            .as_str()
            .map_or(Decimal::ZERO, |p| p.parse().unwrap());
        assert_eq!(
            cents(number(&order["quantity"]) * unit_price),
            number(&order["cost"]),
            "{order}"
        );
    }
}

/// Every piece on a stick has a bed to go to, and every piece of a bed a stick.
fn check_cuts(estimate: &Estimate) {
    let job = &estimate.job;
    for list in &estimate.bought.cut_lists {
        let mut cut: BTreeMap<(String, String), u64> = BTreeMap::new();
        for stick in &list.sticks {
            for (length, mark, count) in &stick.pieces {
                let key = (length.in_metres().to_string(), mark.to_string());
                *cut.entry(key).or_default() += u64::from(*count) * u64::from(stick.count);
            }
        }
        let mut placed: BTreeMap<(String, String), u64> = BTreeMap::new();
        for piece in &list.pieces {
            let key = (piece.length.in_metres().to_string(), piece.mark.to_string());
            *placed.entry(key).or_default() += u64::from(piece.count) * u64::from(piece.beds);
        }
        // Rows of Pieces and edges of areas go to no bed.
        if job.pieces.is_empty() && job.areas.is_empty() {
            assert_eq!(cut, placed, "{}", job.material_name(list.material));
        }
    }
}

/// No order is a pack more than needed, unless it says why.
fn check_packs(estimate: &Estimate) {
    for order in list(&tree(estimate), "orders") {
        let [bought, need, step] = ["quantity", "need_in_packs", "step"].map(|f| number(&order[f]));
        let dust = Decimal::new(1, 9);
        assert!(bought + dust >= need, "too little: {order}");
        let by_program = order["quantity_by_program"] == true;
        if by_program {
            assert_ne!(order["why"], "", "{order}");
        } else if step > Decimal::ZERO {
            assert!(bought - need < step, "more than a step too much: {order}");
            let steps = bought / step;
            assert_eq!(steps, steps.round(), "no multiple of the step: {order}");
        } else {
            assert!((bought - need).abs() <= dust, "{order}");
        }
    }
}

/// Whether these hours come with every session or day, and stand in a block of their own.
fn is_repeated(estimate: &Estimate, line: &LabourLine) -> bool {
    let mut extras = estimate.job.extras.iter();
    let extra = extras.find(|e| Some(e.at) == line.extra);
    extra.is_some_and(|e| matches!(e.per, Per::Day | Per::Session))
}

/// What the stages computed and what the columns of the workbook give are the same figures.
fn check_columns(estimate: &Estimate) {
    let ledger = &estimate.ledger;
    let column = |heading: &str, title: &str| -> Vec<Decimal> {
        let block = ledger
            .blocks
            .iter()
            .position(|b| *b.heading == *heading)
            .unwrap();
        let place = ledger.blocks[block]
            .columns
            .iter()
            .position(|c| *c.title == *title);
        let at = loamwright::price::term::ColRef {
            block: u16::try_from(block).unwrap(),
            column: u16::try_from(place.unwrap_or_else(|| panic!("{heading}: {title}"))).unwrap(),
        };
        estimate.values.column(at).unwrap().to_vec()
    };
    let bought = &estimate.bought;
    let quantities: Vec<Decimal> = bought.lines.iter().map(|l| l.quantity).collect();
    let same = |found: Vec<Decimal>, wanted: Vec<Decimal>, what: &str| {
        let tidy = |n: &Decimal| n.round_dp(9).normalize();
        let [found, wanted] = [found, wanted].map(|l| l.iter().map(tidy).collect::<Vec<_>>());
        assert_eq!(found, wanted, "{what}");
    };
    same(
        column("What is bought", "Quantity"),
        quantities,
        "quantities",
    );
    let costs = bought.lines.iter().map(|l| l.cost.amount()).collect();
    same(column("What is bought", "Cost"), costs, "costs of orders");
    let trips = bought.trips.iter().map(|t| t.cost.amount()).collect();
    same(column("How it comes", "Cost"), trips, "costs of trips");
    let labour = &estimate.labour;
    let work = labour.lines.iter().filter(|l| l.kind == LineKind::Work);
    let work = work.filter(|l| !is_repeated(estimate, l));
    let hours = work.map(|l| l.hours.in_hours()).collect();
    same(column("Work", "Person-hours"), hours, "hours");
    if !labour.volunteering.is_empty() {
        let bands = "Volunteers: sessions, and supervision of them";
        let sessions = labour.volunteering.iter().map(|b| b.sessions).collect();
        same(column(bands, "Sessions"), sessions, "sessions");
        let paid = labour.volunteering.iter();
        let paid = paid.map(|b| b.supervision.in_hours()).collect();
        same(column(bands, "Supervision (h)"), paid, "supervision");
    }
    let steps = labour.hire.iter().map(|h| h.steps).collect();
    same(column("Hire", "Steps"), steps, "steps of hire");
    let days = labour.days.iter().map(|d| d.days).collect();
    same(column("Days, set-up and travel", "Days"), days, "days");
    let lost = labour.days.iter().map(|d| d.overhead.in_hours()).collect();
    same(
        column("Days, set-up and travel", "Person-hours"),
        lost,
        "set-up and travel",
    );
}

fn check_all(estimate: &Estimate) {
    crate::client::check(estimate);
    check_sums(estimate);
    check_lists(estimate);
    check_packs(estimate);
    check_columns(estimate);
    check_cuts(estimate);
    crate::budgets::check_budget(&tree(estimate));
}

#[test]
fn the_example_adds_up() {
    check_all(&estimate(&Tables::of("examples/clinic-gardens/job")));
}

#[test]
fn the_worked_examples_add_up() {
    for folder in crate::folders::folders_in(&crate::folders::root("tests/worked")) {
        check_all(&priced(&folder.join("job")));
    }
}

/// All needs of a job, by material, part and moment.
fn needs(tree: &Value) -> BTreeMap<String, Decimal> {
    let mut needs = BTreeMap::new();
    for kind in list(tree, "kinds") {
        for need in list(kind, "needs") {
            let key = format!("{} {} {}", need["material"], need["part"], need["moment"]);
            let sum: &mut Decimal = needs.entry(key).or_default();
            *sum += measure(&need["order"]) * number(&kind["count"]);
        }
    }
    needs
}

/// Needs of goods, and hours that depend on beds alone.
fn bed_hours(tree: &Value) -> BTreeMap<String, Decimal> {
    let each_site = [
        "Set out the site",
        "Walk through and mend the snag list",
        "Set-up and travel",
        "Receive a load",
    ];
    let mut hours = BTreeMap::new();
    for line in list(tree, "hours") {
        let task = line["task"].as_str().unwrap();
        // What a site takes, and what hangs on loads and packs, does not grow with the beds.
        let by_packs = ["urplus", "bag", "Barrow"];
        if !each_site.contains(&task) && !by_packs.iter().any(|w| task.contains(w)) {
            let key = format!("{task} {} {}", line["site"], line["moment"]);
            let sum: &mut Decimal = hours.entry(key).or_default();
            *sum += measure(&line["person_hours"]);
        }
    }
    hours
}

fn check_doubled(once: &BTreeMap<String, Decimal>, twice: &BTreeMap<String, Decimal>) {
    let near = |a: Decimal, b: Decimal| (a - b).abs() < Decimal::new(1, 6);
    assert!(once.keys().eq(twice.keys()), "{once:?}\n{twice:?}");
    for (key, amount) in once {
        let found = twice[key];
        assert!(
            near(amount * Decimal::TWO, found),
            "{key}: {amount} and {found}"
        );
    }
}

/// Lines of the price, and needs and hours of the job.
fn figures(tree: &Value) -> BTreeMap<String, Decimal> {
    let lines = list(&tree["price"], "lines").iter();
    let lines = lines.map(|l| (l["key"].to_string(), number(&l["amount"])));
    lines.chain(bed_hours(tree)).collect()
}

#[track_caller]
fn check_alike(one: &BTreeMap<String, Decimal>, other: &BTreeMap<String, Decimal>) {
    assert!(one.keys().eq(other.keys()), "{one:?}\n{other:?}");
    for (key, amount) in one {
        let apart = (amount - other[key]).abs();
        assert!(
            apart < Decimal::new(1, 6),
            "{key}: {amount} and {}",
            other[key]
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_job_adds_up(beds in beds(), settings in settings()) {
        check_all(&estimate(&job(&beds, &settings)));
    }

    #[test]
    fn twice_the_beds_take_twice_the_goods_and_hours(beds in beds()) {
        let doubled: Vec<Bed> = beds.iter().map(Bed::twice).collect();
        let settings = [("Top-up", "none")];
        let [once, twice] = [&beds, &doubled].map(|b| tree(&estimate(&job(b, &settings))));
        check_doubled(&needs(&once), &needs(&twice));
        check_doubled(&bed_hours(&once), &bed_hours(&twice));
    }

    #[test]
    fn metres_and_feet_make_the_same_bed(beds in beds(), settings in settings()) {
        let feet = job(&beds, &settings);
        let metres = in_metres(&feet);
        let [a, b] = [&feet, &metres].map(|j| tree(&estimate(j)));
        check_alike(&figures(&a), &figures(&b));
        check_alike(&needs(&a), &needs(&b));
        // And a job whose outputs are in metres has the same price.
        let mut si = metres.clone();
        si.setting("Units", "metric");
        check_alike(&figures(&a), &figures(&tree(&estimate(&si))));
    }

    #[test]
    fn the_order_of_rows_columns_and_sheets_changes_nothing(
        beds in beds(),
        seed in any::<u64>(),
        first in 0..14_usize,
    ) {
        let tables = job(&beds, &[]);
        let wanted = text(&estimate(&tables));
        let other = shuffled(&tables, seed);
        prop_assert!(first_difference(&wanted, &text(&estimate(&other))).is_none(),
            "{:?}", first_difference(&wanted, &text(&estimate(&other))));
        let mut sheets = other.names();
        let by = first % sheets.len();
        sheets.rotate_left(by);
        let book = other.workbook(&sheets);
        let found = text(&price(&book.path, None).unwrap());
        prop_assert!(first_difference(&wanted, &found).is_none(), "{:?}", first_difference(&wanted, &found));
    }
}

fn first_difference(a: &str, b: &str) -> Option<(usize, String, String)> {
    let pairs = (1..).zip(a.lines().zip(b.lines()));
    let mut differing = pairs.filter(|(_, (a, b))| a != b);
    let first = differing
        .next()
        .map(|(n, (a, b))| (n, a.to_owned(), b.to_owned()));
    first.or_else(|| (a != b).then(|| (0, "one is longer".to_owned(), String::new())))
}
