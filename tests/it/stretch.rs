//! How many beds a sum of money builds.

use loamwright::price::build::estimate;
use loamwright::price::stretch::{Stretch, stretch};
use loamwright::read::{Source, library, read_job};
use loamwright::units::{Decimal, Money};
use proptest::prelude::*;

use crate::folders::root;
use crate::made_up::{beds, job, shuffled};
use crate::pipeline::priced;
use crate::tables::Tables;

fn money(text: &str) -> Money {
    Money::of(text.parse::<Decimal>().unwrap())
}

fn stretched(tables: &Tables, budget: &str) -> Stretch {
    let standing = tables.folder();
    let library = library::builtin();
    let mut told = Vec::new();
    let loaded = read_job(&Source::Path(standing.path.clone()), &library)
        .keep(&mut told)
        .unwrap();
    let on = loaded.job.settings.date.as_ref().map(|date| date.value);
    let on = on.unwrap_or(jiff::civil::date(2026, 5, 4));
    let asked = (&loaded.job, &loaded.sources);
    stretch(asked, &loaded.alternates, money(budget), &|job, sources| {
        estimate(job, sources, &library, on, None)
    })
    .unwrap()
}

/// Three beds of 5.1 x 6 x 1.5 ft = 45.9 ft3 = 1.7 yd3 in free boxes; soil at 42.00 a yard by the half
/// yard, a truck of 4 yd3 at 95.00 a trip.
fn three_beds() -> Tables {
    let mut tables = Tables::of("tests/worked/leaving-out-a-bed-saves-a-load/job");
    let bed = |name: &str, priority: &str| {
        format!("{name},1,rectangle,5.1,6,1.5,Free box,Plain soil,B,{priority}\n")
    };
    let head = "Bed,Count,Shape,Length (ft),Width (ft),Height (ft),Frame,Fill,Site,Priority\n";
    let rows = [bed("B1", "2"), bed("B2", ""), bed("B3", "1")];
    tables.put("Beds", &format!("{head}{}", rows.concat()));
    tables.put(
        "Deliveries",
        "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee\nYard,tipper,4,13000,95\n",
    );
    tables
}

#[test]
fn the_third_bed_needs_a_second_load() {
    // B3: 1.7 is 2.0 yd3: 84.00 + 95.00 = 179.00. B1 too: 3.4 is 3.5 yd3: 147.00 + 95.00 = 242.00.
    // B2 too: 5.1 is 5.5 yd3 in two loads: 231.00 + 190.00 = 421.00, so that it adds 179.00 and not 63.00.
    let of = stretched(&three_beds(), "300");
    let told: Vec<(&str, Option<Money>, Option<Money>, bool)> = of
        .steps
        .iter()
        .map(|step| (&*step.bed, step.adds, step.total, step.fits))
        .collect();
    let m = |text: &str| Some(money(text));
    assert_eq!(
        told,
        [
            ("B3", m("179"), m("179"), true),
            ("B1", m("63"), m("242"), true),
            ("B2", m("179"), m("421"), false),
        ]
    );
    assert_eq!((of.built, of.left), (2, money("58")));
    assert_eq!(of.lacking(), m("121"));
    assert_eq!(of.steps[2].because, ["1 load more from Yard"]);
    assert_eq!((of.with_priority, of.without_priority), (2, 1));
}

#[test]
fn a_sum_that_is_just_enough_is_enough() {
    assert_eq!(stretched(&three_beds(), "242").built, 2);
    assert_eq!(stretched(&three_beds(), "241.99").built, 1);
    let nothing = stretched(&three_beds(), "100");
    assert_eq!((nothing.built, nothing.left), (0, money("100")));
    let all = stretched(&three_beds(), "421");
    assert_eq!((all.built, all.next().is_none(), all.tried), (3, true, 0));
}

#[test]
fn a_smaller_change_than_the_whole_contingency_comes_first() {
    let mut tables = three_beds();
    tables.setting("Contingency %", "10%");
    // With 10%: 3 beds are 463.10. Without it 421.00, which 430.00 reaches; 42.10 less.
    let of = stretched(&tables, "430");
    assert_eq!((of.built, of.lacking()), (2, Some(money("33.10"))));
    assert_eq!(of.ways.len(), 1);
    assert_eq!(of.ways[0].words, "without the contingency of 10%");
    assert_eq!(of.ways[0].total, money("421"));
    assert_eq!(of.ways[0].saves, Some(money("42.10")));
    // 420.00 is a dollar short of it.
    let short = stretched(&tables, "420");
    assert_eq!(short.ways, []);
    assert_eq!(short.nearest.unwrap().total, money("421"));
}

#[test]
fn another_bed_in_place_of_the_next_is_told_as_out_of_turn() {
    let mut tables = three_beds();
    let head = "Bed,Count,Shape,Length (ft),Width (ft),Height (ft),Frame,Fill,Site,Priority\n";
    let big = "Big,1,rectangle,10.2,6,1.5,Free box,Plain soil,B,1\n";
    let small = "Small,1,rectangle,5.1,6,1.5,Free box,Plain soil,B,2\n";
    tables.put("Beds", &format!("{head}{big}{small}"));
    // Big alone: 3.4 is 3.5 yd3: 242.00. Small alone: 2.0 yd3: 179.00.
    let of = stretched(&tables, "200");
    assert_eq!(of.built, 0);
    assert_eq!(of.ways[0].words, "Small in place of the next bed");
    assert!(of.ways[0].out_of_turn && of.ways[0].total == money("179"));
}

#[test]
fn an_alternate_without_a_chosen_bed_gets_no_bed_in() {
    let mut tables = three_beds();
    let head = "Alternate,Sheet,Row,Column,Value,Note\n";
    tables.put("Alternates", &format!("{head}No B3,Beds,B3,,leave out,\n"));
    // B3 and B1 are 242.00; B2 is next. B1 and B2 alone are two beds of 1.7 yd3, 242.00, and no third bed.
    let of = stretched(&tables, "300");
    assert_eq!((of.built, of.ways.len()), (2, 0));
}

#[test]
fn a_bed_that_makes_the_job_cheaper_is_told() {
    let mut tables = three_beds();
    tables.put(
        "Deliveries",
        "Supplier,Vehicle,Volume limit (yd3),Weight limit (lb),Fee,Free over\nYard,tipper,4,13000,95,100\n",
    );
    // One bed is 84.00 + 95.00 = 179.00; two are 147.00, brought free.
    let of = stretched(&tables, "150");
    assert_eq!((of.built, of.steps[0].fits), (2, false));
    assert_eq!(of.steps[1].adds, Some(money("-32")));
    assert!(
        of.steps[1].because[0].starts_with("the job is cheaper with it"),
        "{:?}",
        of.steps[1].because
    );
}

#[test]
fn all_beds_cost_what_the_job_costs() {
    for example in ["clinic-gardens", "learning-garden"] {
        let tables = Tables::of(&format!("examples/{example}/job"));
        let of = stretched(&tables, "1000000");
        let whole = priced(&root("examples").join(example).join("job"));
        assert_eq!(of.steps.last().unwrap().total, Some(whole.price.total));
        let sum: Money = of.steps.iter().filter_map(|step| step.adds).sum();
        assert_eq!(sum, whole.price.total);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(6))]

    #[test]
    fn the_order_of_rows_changes_nothing(beds in beds(), seed in any::<u64>()) {
        let tables = job(&beds, &[]);
        let told = |tables: &Tables| {
            let of = stretched(tables, "5000");
            let steps = of.steps.iter();
            let steps = steps.map(|s| (s.bed.clone(), s.of_row, s.total, s.because.clone()));
            (of.built, of.left, of.ways.clone(), steps.collect::<Vec<_>>())
        };
        prop_assert_eq!(told(&tables), told(&shuffled(&tables, seed)));
    }
}
