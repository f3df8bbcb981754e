//! Random terms over random numbers: printed, recomputed by another engine, equal to ours.

use proptest::prelude::*;
use proptest::test_runner::TestRunner;
use rust_decimal::Decimal;

use super::super::workbook;
use super::by_hand::with_ledger;
use super::recompute::recompute_bytes;
use crate::price::ledger::{Column, Format, Ledger, Role, Value};
use crate::price::term::{ColRef, Cond, LinkRef, Term};
use crate::units::Currency;
use crate::units::round::tidy15;

const ROWS: usize = 5;
/// Columns of the block of random numbers; a column of keys and one of steps follow.
const INPUTS: u16 = 4;
const KEY: ColRef = ColRef {
    block: 0,
    column: INPUTS,
};
const STEP: ColRef = ColRef {
    block: 0,
    column: INPUTS + 1,
};
const LINK: LinkRef = LinkRef { block: 2, link: 0 };

fn input(column: u16) -> ColRef {
    ColRef { block: 0, column }
}

fn here(column: u16) -> Term {
    Term::Here(ColRef { block: 2, column })
}

/// Numbers as a sheet may hold them: 15 digits, prices with half cents, thirds. Below 100,000, so that
/// sums of products keep their cents within the 15 digits of a cell. Nothing is rounded to the last one
/// or two of those digits: there two programs may differ, since the sixteenth is already lost.
fn number() -> impl Strategy<Value = Decimal> {
    prop_oneof![
        (1_i64..1_000_000_000_000_000).prop_map(|n| Decimal::new(n, 10)),
        (1_i64..1_000_000).prop_map(|n| Decimal::new(n, 3)),
        (1_i64..100_000).prop_map(|n| Decimal::new(n * 125, 3)),
        (1_i64..10_000).prop_map(|n| tidy15(Decimal::from(n) / Decimal::from(3))),
    ]
}

/// A figure that stands in a cell, directly or by a link.
fn leaf() -> impl Strategy<Value = Term> {
    prop_oneof![
        (0..INPUTS).prop_map(here),
        (0..INPUTS).prop_map(|c| Term::Via(LINK, input(c))),
        (0..INPUTS, 0..ROWS).prop_map(|(c, row)| Term::cell(input(c), row)),
        number().prop_map(Term::Number),
    ]
}

/// A product or quotient of figures, as lines of an estimate are.
fn line() -> impl Strategy<Value = Term> {
    let packs = (leaf(), leaf()).prop_map(|(need, pack)| {
        let packs = Term::Div(Box::new(need), Box::new(pack + Term::whole(1)));
        Term::WholeUp(Box::new(packs))
    });
    let steps = leaf().prop_map(|need| {
        let step = Term::Here(ColRef {
            block: 2,
            column: INPUTS,
        });
        Term::StepUp(Box::new(need), Box::new(step))
    });
    let fixed_step = (leaf(), number())
        .prop_map(|(need, step)| Term::StepUp(Box::new(need), Box::new(Term::Number(step))));
    prop_oneof![
        leaf(),
        packs,
        steps,
        fixed_step,
        (leaf(), leaf()).prop_map(|(a, b)| a * b),
        // A part of a whole: by a divisor that may be nothing, or in a product by none below 1, or the
        // product would outgrow its cents.
        (leaf(), leaf()).prop_map(|(a, b)| a.ratio(b)),
        (leaf(), leaf(), leaf()).prop_map(|(a, b, c)| a * (b.ratio(c + Term::whole(1)))),
        (leaf(), leaf(), leaf()).prop_map(|(a, b, c)| (a + b) * c),
        (leaf(), leaf(), leaf()).prop_map(|(a, b, c)| {
            let below = Term::Mul(Box::new(b), Box::new(c)) + Term::whole(1);
            Term::Div(Box::new(a), Box::new(below))
        }),
        (leaf(), leaf()).prop_map(|(a, b)| a.max(b)),
        (leaf(), leaf()).prop_map(|(a, b)| Term::Min(Box::new(a), Box::new(b))),
    ]
}

/// A rounded amount: sums and differences of rounded amounts are rounded again, as every line of the
/// ledger is, since binary sums leave dust.
fn amount() -> impl Strategy<Value = Term> {
    let sums = (0..INPUTS, 0_i64..4).prop_map(|(c, key)| Term::total_if(KEY, key, input(c)));
    let dot = Just(
        Term::Dot {
            from: ColRef {
                block: 2,
                column: 0,
            },
            to: ColRef {
                block: 2,
                column: 2,
            },
            head: ColRef {
                block: 1,
                column: 0,
            },
        }
        .money(),
    );
    let simple = prop_oneof![
        4 => line().prop_map(Term::money),
        1 => (line(), 0_u32..4).prop_map(|(x, places)| Term::Round(Box::new(x), places)),
        1 => (0..INPUTS).prop_map(|c| Term::total(input(c))),
        1 => sums,
        1 => dot,
        1 => (-100_000_i64..0).prop_map(|n| Term::Number(Decimal::new(n, 2))),
    ];
    simple.prop_recursive(3, 12, 3, |inner| {
        let pair = (inner.clone(), inner.clone());
        prop_oneof![
            pair.clone().prop_map(|(a, b)| (a + b).money()),
            pair.clone().prop_map(|(a, b)| (a - b).money()),
            pair.clone()
                .prop_map(|(a, b)| (a - (b.clone() - b)).money()),
            (pair, inner.clone(), inner).prop_map(|((a, b), x, y)| {
                let when = Cond::Greater(a.clone().money(), b.money());
                let when = Cond::And(
                    Box::new(when),
                    Box::new(Cond::Equal(a.clone().money(), a.money())),
                );
                Term::If(Box::new(when), Box::new(x), Box::new(y))
            }),
        ]
    })
}

/// A block of inputs, a head block of one row, and a block with a column of each term.
fn ledger(cells: &[Decimal], steps: &[usize], links: &[Option<u32>], terms: &[Term]) -> Ledger {
    let mut ledger = Ledger::new(Currency::USD);
    let inputs = ledger.block("Prices", "", ROWS);
    for column in cells.chunks(ROWS).take(usize::from(INPUTS)) {
        let values = column.iter().copied().map(Value::number).collect();
        ledger.numbers(inputs, "Price", Format::UnitPrice, Role::Given, values);
    }
    let keys = (0..ROWS).map(|row| Value::number(Decimal::from(row % 3)));
    ledger.numbers(
        inputs,
        "Key",
        Format::Number(0),
        Role::Fixed,
        keys.collect(),
    );
    let list = ["0", "0.5", "1", "0.25", "1.1"];
    let step = |i: &usize| Value::number(list[*i].parse().unwrap());
    let steps: Vec<Value> = steps.iter().map(step).collect();
    let step = Role::Fixed;
    ledger.numbers(inputs, "Step", Format::Number(2), step, steps.clone());
    let head = ledger.block("Shares", "Rates", 1);
    for cell in cells.iter().rev().take(3) {
        let values = vec![Value::number(*cell)];
        ledger.numbers(head, "Rate", Format::Number(6), Role::Fixed, values);
    }
    let block = ledger.block("Orders", "", ROWS);
    for column in cells.chunks(ROWS).rev().take(usize::from(INPUTS)) {
        let values = column.iter().copied().map(Value::number).collect();
        ledger.numbers(block, "Figure", Format::Number(6), Role::Fixed, values);
    }
    ledger.numbers(block, "Step", Format::Number(2), Role::Fixed, steps);
    ledger.link(block, inputs, links.to_vec());
    for term in terms {
        ledger.live(block, "Amount", Format::Money, term.clone());
    }
    let when = Cond::Greater(terms[0].clone().money(), Term::whole(100));
    let flag = Role::Flag {
        when,
        yes: "more than \"100\"",
        no: "less",
    };
    ledger.column(block, Column::plain("More", Format::Text, flag, Vec::new()));
    ledger
}

/// Everything that one case takes.
fn case() -> impl Strategy<Value = Ledger> {
    let rows = u32::try_from(ROWS).unwrap();
    let parts = (
        prop::collection::vec(number(), ROWS * usize::from(INPUTS)),
        prop::collection::vec(0_usize..5, ROWS),
        prop::collection::vec(prop::option::of(0..rows), ROWS),
        prop::collection::vec(amount(), 6),
    );
    parts.prop_map(|(cells, steps, links, terms)| ledger(&cells, &steps, &links, &terms))
}

#[test]
fn engine_and_sheet_agree() {
    let run = || {
        let config = ProptestConfig {
            cases: 96,
            failure_persistence: None,
            ..ProptestConfig::default()
        };
        TestRunner::new(config).run(&case(), |ledger| {
            let bytes = workbook(&with_ledger(ledger)).unwrap();
            let mismatches = recompute_bytes(&bytes);
            prop_assert!(mismatches.is_empty(), "{:#?}", mismatches);
            Ok(())
        })
    };
    // The other engine parses formulas by recursion, and its unoptimised frames are large.
    let roomy = std::thread::Builder::new().stack_size(64 << 20);
    let result = roomy.spawn(run).unwrap().join().unwrap();
    assert!(result.is_ok(), "{}", result.unwrap_err());
}

#[test]
fn steps_and_keys_are_where_the_terms_look() {
    // Row 2 holds key 1 and step 0.5: 12.1 rounds up to 12.5, and to itself where the step is 0.
    let cells = vec![Decimal::new(121, 1); ROWS * usize::from(INPUTS)];
    let term = Term::StepUp(Box::new(here(0)), Box::new(here(INPUTS)));
    let ledger = ledger(&cells, &[0, 1, 1, 1, 1], &[None; ROWS], &[term]);
    assert_eq!(
        ledger.get(KEY).unwrap().values[1],
        Value::number(Decimal::ONE)
    );
    assert_eq!(
        ledger.get(STEP).unwrap().values[1],
        Value::number(Decimal::new(5, 1))
    );
    let estimate = with_ledger(ledger);
    let at = *estimate.ledger.sequence.first().unwrap();
    let steps = estimate.values.column(at).unwrap();
    assert_eq!(steps[0], Decimal::new(121, 1));
    assert_eq!(steps[1], Decimal::new(125, 1));
}
