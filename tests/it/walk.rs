//! The walk of a new user, with only the README: start, change eight cells in another spreadsheet
//! program, save, estimate, read the result. What was typed must be found again in what comes out.

use std::fs;
use std::path::Path;

use calamine::{Data, Reader, Xlsx, open_workbook};
use ironcalc::export::save_xlsx_to_writer;
use serde_json::Value;

use crate::cli::run_in;
use crate::sheets::Sheets;

/// Sheet, the row by what stands under a title of it, the title of the cell, what is typed.
type Edit = (
    &'static str,
    (&'static str, &'static str),
    &'static str,
    &'static str,
);

const EIGHT: [Edit; 8] = [
    ("Job", ("Setting", "Client"), "Value", "Hall committee"),
    ("Job", ("Setting", "Profit %"), "Value", "20%"),
    ("Beds", ("Bed", "Kitchen beds"), "Length", "7' 6\""),
    ("Beds", ("Bed", "Herb tub"), "Count", "2"),
    (
        "Prices",
        ("Material", "Round steel tub 4 ft"),
        "Price",
        "259",
    ),
    (
        "Prices",
        ("Material", "Structural screws"),
        "Price",
        "26.25",
    ),
    ("Workers", ("Worker", "Crew"), "Pay rate", "26"),
    ("Extras", ("Item", "Planting allowance"), "Rate", "175"),
];

/// Makes the edits as somebody at a desk does, and saves.
fn edit(path: &Path) {
    let mut sheets = Sheets::open(&fs::read(path).unwrap());
    for (sheet, row, title, typed) in EIGHT {
        let at = sheets.input(sheet, &[row], title);
        sheets.type_in(sheet, at, typed);
    }
    let saved = save_xlsx_to_writer(sheets.model(), std::io::Cursor::new(Vec::new())).unwrap();
    fs::write(path, saved.into_inner()).unwrap();
}

fn cents(held: &Value) -> i64 {
    let digits = held.as_str().unwrap().replace('.', "");
    digits.parse().unwrap()
}

/// A line of the price, in cents.
#[track_caller]
fn line(estimate: &Value, key: &str) -> i64 {
    let lines = estimate["price"]["lines"].as_array().unwrap();
    let found = lines.iter().find(|line| line["key"] == key);
    cents(&found.unwrap_or_else(|| panic!("{key} of {lines:#?}"))["amount"])
}

#[track_caller]
fn order<'e>(estimate: &'e Value, material: &str) -> &'e Value {
    let mut orders = estimate["orders"].as_array().unwrap().iter();
    orders.find(|order| order["material"] == material).unwrap()
}

/// A share of some cents, half away from zero.
fn share(percent: i64, of: i64) -> i64 {
    (percent * of + 50) / 100
}

#[test]
fn what_a_new_user_types_comes_out_again() {
    let root = tempfile::tempdir().unwrap();
    let run = |words: &[&str]| {
        let output = run_in(root.path(), words, "");
        let talk = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{words:?}: {talk}");
        (String::from_utf8(output.stdout).unwrap(), talk)
    };
    run(&["start", "garden.xlsx"]);
    edit(&root.path().join("garden.xlsx"));
    let (checked, _) = run(&["check", "garden.xlsx"]);
    assert!(
        checked.ends_with('\n') && checked.contains("no errors"),
        "{checked}"
    );
    assert!(!checked.contains("is not known"), "{checked}");
    let (summary, _) = run(&["estimate", "garden.xlsx"]);
    let out = root.path().join("garden-estimate");
    let estimate = fs::read_to_string(out.join("estimate.json")).unwrap();
    let estimate: Value = serde_json::from_str(&estimate).unwrap();

    assert!(summary.contains("for Hall committee"), "{summary}");
    let beds = estimate["beds"].as_array().unwrap();
    let kitchen = beds
        .iter()
        .find(|bed| bed["name"] == "Kitchen beds")
        .unwrap();
    let size = kitchen["size"].as_str().unwrap();
    assert!(size.starts_with("7' 6\" x 4' outside"), "{size}");
    // Two tubs at 259.00 are 518.00.
    let tubs = order(&estimate, "Round steel tub 4 ft");
    assert_eq!(
        (&tubs["quantity"], &tubs["cost"]),
        (&"2".into(), &"518.00".into())
    );
    // Boards on posts, a course: each kitchen bed has 4 corners with 2 boards each and a post in the
    // middle of each long side, 10; the L has 6 corners and 4 posts between, 16. In 2 courses
    // 2 x (10 + 10 + 16) = 72, with 4 screws each 288, with a tenth lost 316.8: 4 boxes of 100.
    let screws = order(&estimate, "Structural screws");
    assert_eq!(screws["need"]["number"], "316.8");
    // 4 x 26.25 = 105.00.
    assert_eq!(
        (&screws["quantity"], &screws["cost"]),
        (&"4".into(), &"105.00".into())
    );
    assert_eq!(line(&estimate, "allowances"), 17_500);
    // 12% and 5% of the direct cost, then 20% of all three.
    let direct = line(&estimate, "direct_cost");
    assert_eq!(line(&estimate, "overhead"), share(12, direct));
    assert_eq!(line(&estimate, "contingency"), share(5, direct));
    let base = direct + share(12, direct) + share(5, direct);
    assert_eq!(line(&estimate, "profit"), share(20, base));
    // The price goes up to a full ten.
    let price = cents(&estimate["price"]["total"]);
    let before = base + share(20, base);
    assert_eq!(price % 1000, 0);
    assert!(price >= before && price - before < 1000, "{before} {price}");
    // 26.00 an hour and 30% on top are 33.80, live in the workbook.
    let mut book: Xlsx<_> = open_workbook(out.join("estimate.xlsx")).unwrap();
    let workers = book.worksheet_range("Workers").unwrap();
    let held = workers.used_cells().any(|(_, _, cell)| match cell {
        Data::Float(number) => (number - 33.8).abs() < 1e-9,
        _ => false,
    });
    assert!(held, "{workers:?}");
}
