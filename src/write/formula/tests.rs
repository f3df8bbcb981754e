//! Tests of the printed formulas.

use rust_decimal::Decimal;

use super::*;
use crate::model::source::Sources;
use crate::price::ledger::{Format, Role, Value};
use crate::units::Currency;

fn col(block: u16, column: u16) -> ColRef {
    ColRef { block, column }
}

fn here(column: u16) -> Term {
    Term::Here(col(0, column))
}

fn whole(n: i64) -> Term {
    Term::whole(n)
}

/// Three rows of three figures on `Orders`, one on `Cut list`, a link with a gap between them.
fn ledger() -> Ledger {
    let mut ledger = Ledger::new(Currency::USD);
    let orders = ledger.block("Orders", "", 3);
    for title in ["A", "B", "C"] {
        let values = vec![Value::number(Decimal::ONE); 3];
        ledger.numbers(orders, title, Format::Number(2), Role::Fixed, values);
    }
    let cuts = ledger.block("Cut list", "Sticks", 3);
    let values = vec![Value::number(Decimal::ONE); 3];
    ledger.numbers(cuts, "Sticks", Format::Number(0), Role::Fixed, values);
    ledger.link(orders, cuts, vec![None, Some(2), Some(0)]);
    ledger
}

#[track_caller]
fn check(term: &Term, row: usize, expected: &str) {
    let ledger = ledger();
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    let mut out = String::new();
    let printer = Printer::new(&ledger, &layout);
    printer
        .term(term, Standing { block: 0, row }, &mut out)
        .unwrap();
    assert_eq!(out, expected);
}

#[test]
fn parentheses_stand_where_the_order_of_work_needs_them() {
    // Orders starts in row 5: title, line below it, free row, headers.
    check(&(here(0) + here(1) * here(2)), 0, "A5+B5*C5");
    check(&((here(0) + here(1)) * here(2)), 0, "(A5+B5)*C5");
    check(&(here(0) - (here(1) - here(2))), 0, "A5-(B5-C5)");
    check(&(here(0) - here(1) - here(2)), 0, "A5-B5-C5");
    let below = Term::Div(Box::new(here(0)), Box::new(here(1) * here(2)));
    check(&below, 1, "A6/(B6*C6)");
    check(&(here(0) - whole(-5)), 0, "A5-(-5)");
    check(&(whole(-5)).money(), 0, "ROUND(-5,2)");
    let third = Term::Number(Decimal::new(333_333_333_333_333, 21));
    check(&(here(0) * third), 2, "A7*0.000000333333333333333");
}

#[test]
fn a_table_without_rows_sums_to_nothing() {
    // A job without hired machines has an empty table of hire: SUMIF over nothing is an error everywhere.
    let mut ledger = ledger();
    let hire = ledger.block("Hours", "Hire", 0);
    ledger.numbers(hire, "In price", Format::Number(0), Role::Label, Vec::new());
    ledger.numbers(hire, "Cost", Format::Money, Role::Label, Vec::new());
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    let printer = Printer::new(&ledger, &layout);
    let mut out = String::new();
    let sum = Term::total_if(col(hire, 0), 1, col(hire, 1));
    printer
        .term(&sum, Standing { block: 0, row: 0 }, &mut out)
        .unwrap();
    assert_eq!(out, "ROUND(0,2)");
}

#[test]
fn rounding_is_written_as_every_spreadsheet_knows_it() {
    check(&here(0).money(), 0, "ROUND(A5,2)");
    let packs = Term::WholeUp(Box::new(here(0) * here(1)));
    check(&packs, 0, "ROUNDUP(ROUND(A5*B5,9),0)");
    let steps = Term::StepUp(Box::new(here(0) + here(1)), Box::new(here(2)));
    let text = "IF(C5>0,ROUNDUP(ROUND((A5+B5)/C5,9),0)*C5,A5+B5)";
    check(&steps, 0, text);
    check(&here(0).ratio(here(1)), 0, "IF(B5=0,0,A5/B5)");
    check(&here(0).max(whole(0)), 0, "MAX(A5,0)");
}

#[test]
fn references_name_other_sheets_only() {
    let link = LinkRef { block: 0, link: 0 };
    // The link has no target in the first row; the second row leads to the third of the block,
    // which stands below a heading and headers: row 8.
    check(&Term::Via(link, col(1, 0)), 0, "0");
    check(&Term::Via(link, col(1, 0)), 1, "'Cut list'!$A$8");
    check(&Term::Before(col(0, 0)), 0, "0");
    check(&Term::Before(col(0, 0)), 2, "A6");
    check(&Term::total(col(0, 1)), 0, "ROUND(SUM($B$5:$B$7),2)");
    let sticks = "ROUND(SUM('Cut list'!$A$6:$A$8),2)";
    check(&Term::total(col(1, 0)), 0, sticks);
    let by_key = "ROUND(SUMIF($A$5:$A$7,2,$C$5:$C$7),2)";
    check(&Term::total_if(col(0, 0), 2, col(0, 2)), 0, by_key);
    let dot = Term::Dot {
        from: col(0, 0),
        to: col(0, 2),
        head: col(0, 0),
    };
    check(&dot, 1, "SUMPRODUCT($A$5:$C$5,$A$6:$C$6)");
}

#[test]
fn what_no_program_would_take_is_refused() {
    let ledger = ledger();
    let layout = Layout::plan(&ledger, &Sources::default(), &[]);
    let printer = Printer::new(&ledger, &layout);
    let at = Standing { block: 0, row: 0 };
    let mut out = String::new();
    // 400 constants of 30 characters and the signs between them: over 12,000.
    let constant = Term::Number(Decimal::new(1, 28));
    let long = Term::add_all((0..400).map(|_| constant.clone()));
    let refused = printer.term(&long, at, &mut out);
    assert_eq!(refused, Err(Unprintable::TooLong));
    let missing = Term::cell(col(0, 7), 0);
    let refused = printer.term(&missing, at, &mut out);
    assert_eq!(refused, Err(Unprintable::BeyondSheet));
    let missing = Term::cell(col(9, 0), 0);
    let refused = printer.term(&missing, at, &mut out);
    assert_eq!(refused, Err(Unprintable::Unknown));
}
