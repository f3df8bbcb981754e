//! The whole workbook of the estimate made by hand.

use std::io::Cursor;

use calamine::{Data, DataType, Reader, Xlsx};
use ironcalc::base::cell::CellValue;

use super::super::{FigureNote, MARK, workbook, write_workbook};
use super::by_hand::{BEDS, estimate, with_ledger};
use super::recompute::{dump_bytes, evaluated, formulas, near, recompute_bytes, value};
use crate::price::Estimate;
use crate::price::ledger::{Format, Ledger, Role, Value};
use crate::price::term::CellRef;
use crate::units::{Currency, Decimal};
use crate::write::formula::{FUNCTIONS, SUM_IF};

fn number(value: &CellValue) -> f64 {
    match value {
        CellValue::Number(number) => *number,
        other => panic!("{other:?} is no number"),
    }
}

fn text(value: &CellValue) -> String {
    match value {
        CellValue::String(text) => text.clone(),
        other => panic!("{other:?} is no text"),
    }
}

/// Row and column of the cell that holds exactly this text.
fn find(bytes: &[u8], sheet: &str, wanted: &str) -> (u32, u32) {
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let range = book.worksheet_range(sheet).unwrap();
    let (top, left) = range.start().unwrap();
    let found = range
        .used_cells()
        .find(|(_, _, cell)| cell.as_string().as_deref() == Some(wanted));
    let (row, column, _) = found.unwrap_or_else(|| panic!("{sheet} does not hold {wanted}"));
    (
        top + u32::try_from(row).unwrap(),
        left + u32::try_from(column).unwrap(),
    )
}

#[test]
fn every_formula_gives_its_stored_result_in_another_engine() {
    let (estimate, _) = estimate();
    let bytes = workbook(&estimate).unwrap();
    let mismatches = recompute_bytes(&bytes);
    assert!(mismatches.is_empty(), "{mismatches:#?}");
    let count: usize = formulas(&bytes).iter().map(|(_, cells)| cells.len()).sum();
    assert!(count > 30, "only {count} formulas");
}

#[test]
fn only_listed_functions_are_used() {
    let (estimate, _) = estimate();
    for (sheet, cells) in formulas(&workbook(&estimate).unwrap()) {
        for (_, _, formula, _) in cells {
            for (at, _) in formula.match_indices('(') {
                let name: String = formula[..at]
                    .chars()
                    .rev()
                    .take_while(char::is_ascii_alphanumeric)
                    .collect();
                let name: String = name.chars().rev().collect();
                let listed = name.is_empty() || name == SUM_IF || FUNCTIONS.contains(&&*name);
                assert!(listed, "{name} in {formula} on {sheet}");
            }
        }
    }
}

#[test]
fn a_changed_price_and_overhead_flow_to_the_total() {
    // 12.5 yd3 x 42.00 + 11 boards x 18.40 = 525.00 + 202.40 = 727.40; 12% = 87.29; 814.69.
    let (estimate, _) = estimate();
    let bytes = workbook(&estimate).unwrap();
    let mut model = evaluated(&bytes);
    let (row, _) = find(&bytes, "Price", "Total");
    assert!(near(number(&value(&model, "Price", row, 1)), 814.69));
    // 50.00 a yard and 10%: 625.00 + 202.40 = 827.40; 82.74; 910.14.
    let sheets = model.workbook.get_worksheet_names();
    let index = |name: &str| u32::try_from(sheets.iter().position(|s| s == name).unwrap()).unwrap();
    let (prices, job) = (index("Prices"), index("Job"));
    model.update_cell_with_number(prices, 2, 2, 50.0).unwrap();
    model.update_cell_with_number(job, 3, 2, 0.1).unwrap();
    model.evaluate();
    assert!(near(number(&value(&model, "Price", row, 1)), 910.14));
    let (summary, _) = find(&bytes, "Summary", "So far, not the price, USD");
    assert!(near(number(&value(&model, "Summary", summary, 1)), 910.14));
    // The choice of supplier does not hold any more, and the sheet says so.
    let said = text(&value(&model, "Orders", 5, 6));
    assert_eq!(said, "run again: another supplier is now cheaper");
    assert_eq!(
        text(&value(&model, "Summary", summary, 2)),
        "marked cells changed since the estimate"
    );
    // 910.14 - 814.69 = 95.45.
    let (since, _) = find(&bytes, "Summary", "Moved since the estimate");
    let moved = number(&value(&model, "Summary", since, 1));
    assert!(near(moved, 95.45), "{moved}");
}

#[test]
fn changed_input_that_no_formula_follows_turns_the_price_stale() {
    let (estimate, _) = estimate();
    let bytes = workbook(&estimate).unwrap();
    let (row, _) = find(&bytes, "Summary", "So far, not the price, USD");
    // sheet, row and column from 1, what is typed: a length; a price of an offer that was not
    // chosen; a crew size; a layer's material; a new row.
    let edits = [
        ("Beds", 4, 2, "13"),
        ("Prices", 4, 2, "1"),
        ("Job", 4, 2, "3"),
        ("Fills", 2, 3, "Compost"),
        ("Beds", 5, 1, "One more"),
    ];
    for (sheet, line, column, typed) in edits {
        let mut model = evaluated(&bytes);
        let names = model.workbook.get_worksheet_names();
        let index = names.iter().position(|s| s == sheet).unwrap();
        let index = u32::try_from(index).unwrap();
        model
            .set_user_input(index, line, column, typed.to_owned())
            .unwrap();
        model.evaluate();
        let said = text(&value(&model, "Summary", row, 2));
        let stale = "STALE: inputs changed, run the estimate again";
        assert_eq!(said, stale, "{sheet} {line} {column}");
    }
}

#[test]
fn typed_text_stays_text() {
    let (estimate, _) = estimate();
    let bytes = workbook(&estimate).unwrap();
    let mut book = Xlsx::new(Cursor::new(&bytes[..])).unwrap();
    let beds = book.worksheet_range("Beds").unwrap();
    for (row, name) in (1..).zip(BEDS) {
        assert_eq!(beds.get_value((row, 0)), Some(&Data::String(name.into())));
    }
    let job = book.worksheet_range("Job").unwrap();
    assert_eq!(job.get_value((1, 1)), Some(&Data::String("00123".into())));
    let formulas = formulas(&bytes);
    let fills = formulas.iter().find(|(name, _)| name == "Fills").unwrap();
    assert!(fills.1.is_empty());
}

#[test]
fn input_sheets_stand_with_their_header_first() {
    let (estimate, _) = estimate();
    let bytes = workbook(&estimate).unwrap();
    let mut book = Xlsx::new(Cursor::new(&bytes[..])).unwrap();
    let names = book.sheet_names();
    let expected = [
        "Summary",
        "Beds",
        "Take-off",
        "Orders",
        "Cut list",
        "Price",
        "Shares",
        "Assumptions",
        "Checks",
        "Job",
        "Fills",
        "Prices",
        "Basis",
        "Choices",
    ];
    assert_eq!(names, expected);
    for (sheet, title) in [("Beds", "Bed"), ("Job", "Setting"), ("Fills", "Fill")] {
        let range = book.worksheet_range(sheet).unwrap();
        assert_eq!(range.get_value((0, 0)), Some(&Data::String(title.into())));
    }
    assert!(book.defined_names().iter().any(|(name, _)| name == MARK));
}

#[test]
fn the_same_estimate_gives_the_same_bytes() {
    let (first, places) = estimate();
    let (second, _) = estimate();
    assert!(workbook(&first).unwrap() == workbook(&second).unwrap());
    let note = FigureNote {
        at: CellRef {
            col: places.price,
            row: 0,
        },
        words: "42.00 a yard: Prices row 2".to_owned(),
    };
    let mut file = Cursor::new(Vec::new());
    write_workbook(&first, &[note], &mut file).unwrap();
    assert!(recompute_bytes(file.get_ref()).is_empty());
    assert!(*file.get_ref() != workbook(&first).unwrap());
}

#[test]
fn the_summary_says_what_belongs_beside_the_price() {
    let (estimate, places) = estimate();
    assert_eq!(places.overhead.row, 1);
    let bytes = workbook(&estimate).unwrap();
    let text = dump_bytes(&bytes);
    let expected = [
        "| PRICE NOT COMPLETE: 1 line has no price |",
        "| Compost: no price at any supplier |",
        "| Surface will sink about 1.11 in by autumn: =1+1, North & <b>South</b>, https://bed.example. |",
        "| 12.5 yd3: 3 loads at 2,200 lb/yd3, after rain 4 |",
        "| Least for the prices and specs typed; quality not compared. |",
        "Cut list!D6 | 1 x 8' (long side) + 1 x 3' 9\" (short side) |",
        "| 814.69 | Price!$B$8",
        "Orders!D6 | 12.5 | IF(C6>0,ROUNDUP(ROUND(B6/C6,9),0)*C6,B6)",
        "| yes | IF(ROUND(SUM(Shares!$E$11:$E$13)-Price!$B$8,2)=0,\"yes\",\"no\")",
    ];
    for line in expected {
        assert!(text.contains(line), "{line} is not in\n{text}");
    }
}

/// An estimate with `rows` beds of ten figures each.
fn many_beds(rows: usize) -> Estimate {
    let mut ledger = Ledger::new(Currency::USD);
    let beds = ledger.block("Beds", "", rows);
    for column in 0..10 {
        let value =
            |row: usize| Value::number(Decimal::new(i64::try_from(row * 8 + column).unwrap(), 3));
        let values = (0..rows).map(value).collect();
        ledger.numbers(beds, "Length", Format::Number(3), Role::Label, values);
    }
    with_ledger(ledger)
}

#[test]
fn a_large_job_compares_sums_and_says_so() {
    // 5,001 rows of ten figures are 50,010 cells, ten more than are compared one by one.
    let bytes = workbook(&many_beds(5_001)).unwrap();
    assert!(recompute_bytes(&bytes).is_empty());
    let (row, _) = find(
        &bytes,
        "Checks",
        "Changed input columns that no formula follows",
    );
    let mut model = evaluated(&bytes);
    let names = model.workbook.get_worksheet_names();
    let beds = names.iter().position(|s| s == "Beds").unwrap();
    let beds = u32::try_from(beds).unwrap();
    model.update_cell_with_number(beds, 4_000, 3, 0.0).unwrap();
    model.update_cell_with_number(beds, 17, 10, 5.25).unwrap();
    model.evaluate();
    assert!(near(number(&value(&model, "Checks", row, 1)), 2.0));
    let few = dump_bytes(&workbook(&many_beds(60)).unwrap());
    assert!(few.contains("Changed input cells that no formula follows"));
}
