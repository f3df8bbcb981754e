//! Budgets of grants: they add up whoever pays what, and the workbook reckons them as the program does.

use loamwright::price::Estimate;
use proptest::prelude::*;
use rust_decimal::Decimal;
use serde_json::Value;

use crate::made_up::{beds, job};
use crate::pipeline::{priced, tree};
use crate::sheets::Sheets;
use crate::tables::Tables;
use loamwright::write::xlsx::workbook;

fn number(value: &Value) -> Decimal {
    value.as_str().unwrap().parse().unwrap()
}

fn sum(value: &Value) -> Decimal {
    value.as_array().unwrap().iter().map(number).sum()
}

fn all(value: &Value, of: impl Fn(&Value) -> Decimal) -> Decimal {
    value.as_array().unwrap().iter().map(of).sum()
}

/// Everything that a reviewer of the form would add up.
pub(crate) fn check_budget(tree: &Value) {
    let budget = &tree["budget"];
    if budget.is_null() {
        return;
    }
    let whole = budget["whole_units"].as_bool().unwrap();
    for line in budget["lines"].as_array().unwrap() {
        let paid = sum(&line["paid"]) + number(&line["not_funded"]);
        assert_eq!(paid, number(&line["amount"]), "{line}");
        for amount in [&line["amount"], &line["in_kind"], &line["not_funded"]] {
            assert!(number(amount) >= Decimal::ZERO, "{line}");
            assert!(!whole || number(amount).fract().is_zero(), "{line}");
        }
        let apart = (number(&line["cost"]) - number(&line["amount"])).abs();
        assert!(apart <= Decimal::new(5, 1), "{line}");
    }
    let (mut direct, mut indirect) = (Decimal::ZERO, Decimal::ZERO);
    for (place, funder) in budget["funders"].as_array().unwrap().iter().enumerate() {
        let own = all(&budget["lines"], |l| number(&l["paid"][place]));
        assert_eq!(own, number(&funder["direct"]), "{funder}");
        let total = number(&funder["direct"]) + number(&funder["indirect"]);
        assert_eq!(total, number(&funder["total"]), "{funder}");
        if !funder["amount"].is_null() {
            assert!(total <= number(&funder["amount"]), "{funder}");
        }
        let exact = number(&funder["indirect_rate"]) * number(&funder["indirect_base"]);
        assert!(number(&funder["indirect"]) <= exact, "{funder}");
        direct += own;
        indirect += number(&funder["indirect"]);
    }
    let given = all(&budget["lines"], |l| number(&l["in_kind"]));
    let left = all(&budget["lines"], |l| number(&l["not_funded"]));
    assert_eq!(left, number(&budget["not_funded"]));
    assert_eq!(direct + indirect + given + left, number(&budget["total"]));
    let rows = budget["by_class"].as_array().unwrap();
    let classes = rows.iter().filter(|r| r["mark"] != "");
    let classes: Decimal = classes.map(|r| number(&r["total"])).sum();
    let last = rows.last().unwrap();
    assert_eq!(classes + indirect, number(&last["total"]));
    assert_eq!(number(&last["total"]), number(&budget["total"]));
}

/// The budget on the workbook's own sheet, recomputed by an independent engine.
fn check_sheet(estimate: &Estimate) {
    let bytes = workbook(estimate).unwrap();
    let sheets = Sheets::open(&bytes);
    let budget = estimate.price.budget.as_ref().unwrap();
    for funder in &budget.funders {
        for (title, money) in [
            ("Direct cost", funder.direct),
            ("Base of indirect", funder.base),
            ("Indirect cost", funder.indirect),
            ("Total", funder.total),
        ] {
            let at = sheets.figure("Budget", ("Funder", &funder.name), title);
            let expected = format!("{:.2}", money.amount());
            assert_eq!(
                sheets.money("Budget", at),
                expected,
                "{} {title}",
                funder.name
            );
        }
    }
}

/// The learning garden, paid by two funders and a match.
fn funded() -> Tables {
    let mut tables = Tables::of("examples/learning-garden/job");
    tables.put(
        "Funding",
        "Funder,Counts as,Amount,Award date,Pays for,Match %,Match base,Indirect %\n\
         Green fund,award,4000,2026-01-15,\"supplies, contractual\",20%,total project,de minimis\n\
         Old fund,award,1500,2023-05-01,,10%,award,de minimis\n\
         School,cash match,2500,,personnel,,,\n",
    );
    tables
}

#[test]
fn two_funders_and_a_match_come_to_the_cost() {
    let estimate = priced(&funded().folder().path);
    check_budget(&tree(&estimate));
    check_sheet(&estimate);
    let budget = estimate.price.budget.as_ref().unwrap();
    let [green, old, _] = &budget.funders[..] else {
        panic!("{:?}", budget.funders);
    };
    assert_eq!(green.rate, Decimal::new(15, 2));
    assert_eq!(
        old.rate,
        Decimal::new(10, 2),
        "an award before October 2024"
    );
}

#[test]
fn the_order_of_other_rows_changes_no_budget() {
    let mut tables = funded();
    let one = tree(&priced(&tables.folder().path));
    for sheet in ["Prices", "Workers", "Extras", "Beds"] {
        tables.table(sheet).rows.reverse();
    }
    let other = tree(&priced(&tables.folder().path));
    assert_eq!(one["budget"], other["budget"]);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_budget_adds_up(
        beds in beds(),
        amounts in [0_u32..4000, 0..2000],
        rates in [0_u32..40, 0..20],
        whole in any::<bool>(),
    ) {
        let mut tables = job(&beds, &[]);
        let [one, two] = amounts;
        let [first, second] = rates;
        let whole = if whole { "yes" } else { "no" };
        tables.put("Funding", &format!(
            "Funder,Counts as,Amount,Award date,Pays for,Match %,Indirect %,Whole units\n\
             One,award,{one},2026-01-15,materials,{second}%,{first}%,{whole}\n\
             Two,award,{two},2023-05-01,,,{second}%,{whole}\n\
             Own,cash match,,,wages,,,{whole}\n"
        ));
        let estimate = priced(&tables.folder().path);
        check_budget(&tree(&estimate));
        check_sheet(&estimate);
    }
}
