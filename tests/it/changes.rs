//! Two jobs compared: what moved, in words and JSON, and the change order that a client may see.

use std::fs;
use std::path::Path;
use std::process::Command;

use rust_decimal::Decimal;
use serde_json::Value;

use crate::tables::Tables;

struct Ran {
    out: String,
    err: String,
    code: Option<i32>,
}

fn run(words: &[&str], paths: &[&Path]) -> Ran {
    let mut command = Command::new(env!("CARGO_BIN_EXE_loamwright"));
    command.arg("changes").args(paths).args(words);
    let ran = command.output().unwrap();
    Ran {
        out: String::from_utf8(ran.stdout).unwrap(),
        err: String::from_utf8(ran.stderr).unwrap(),
        code: ran.status.code(),
    }
}

/// The clinic, and the clinic with two beds more of its first row.
fn clinics() -> (Tables, Tables) {
    let agreed = Tables::of("examples/clinic-gardens/job");
    let mut wanted = agreed.clone();
    let beds = wanted.table("Beds");
    let (name, count) = (beds.column("Bed"), beds.column("Count"));
    let more: u32 = beds.rows[0][count].parse::<u32>().unwrap() + 2;
    beds.rows[0][count] = more.to_string();
    let mut new = beds.rows[0].clone();
    "Gate bed".clone_into(&mut new[name]);
    "1".clone_into(&mut new[count]);
    beds.rows.push(new);
    (agreed, wanted)
}

#[test]
fn beds_orders_and_money_that_moved_are_told() {
    let (agreed, wanted) = clinics();
    let (before, after) = (agreed.folder(), wanted.folder());
    let ran = run(&["--json"], &[&before.path, &after.path]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let tree: Value = serde_json::from_str(&ran.out).unwrap();
    let number = |v: &Value| v.as_str().unwrap().parse::<Decimal>().unwrap();
    let difference = number(&tree["after"]["total"]) - number(&tree["before"]["total"]);
    assert_eq!(number(&tree["difference"]), difference);
    assert!(difference > Decimal::ZERO);
    let beds = tree["beds"].as_array().unwrap();
    assert_eq!(beds.len(), 2, "{beds:?}");
    assert!(
        beds.iter()
            .any(|b| b["name"] == "Gate bed" && b["before"].is_null())
    );
    let last = tree["price"].as_array().unwrap().last().unwrap();
    assert_eq!(number(&last["after"]), number(&tree["after"]["total"]));
    let text = run(&[], &[&before.path, &after.path]).out;
    assert!(text.contains("new bed Gate bed"), "{text}");
    // Nothing moves between a job and itself, and back again everything moves back.
    let same = run(&[], &[&before.path, &before.path]);
    assert!(same.out.starts_with("Nothing moved"), "{}", same.out);
    let back = run(&["--json"], &[&after.path, &before.path]);
    let back: Value = serde_json::from_str(&back.out).unwrap();
    assert_eq!(number(&back["difference"]), -difference);
}

#[test]
fn a_change_order_adds_up_and_tells_no_cost() {
    let (agreed, wanted) = clinics();
    let (before, after) = (agreed.folder(), wanted.folder());
    let root = tempfile::tempdir().unwrap();
    let file = root.path().join("change.txt");
    let order = [
        "--order",
        file.to_str().unwrap(),
        "--number",
        "7",
        "--revision",
        "B",
    ];
    let ran = run(&order, &[&before.path, &after.path]);
    assert_eq!(ran.code, Some(0), "{}", ran.err);
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.starts_with("CHANGE ORDER 7, revision B\n"), "{text}");
    let amount = |line: &str| -> Decimal {
        let last = line.rsplit(' ').next().unwrap();
        last.replace([',', '+'], "").parse().unwrap()
    };
    let of = |words: &str| amount(text.lines().find(|l| l.starts_with(words)).unwrap());
    assert_eq!(of("Price before") + of("This change"), of("New price"));
    let blocks: Vec<&str> = text.split("\n\n").collect();
    let told = blocks
        .iter()
        .position(|b| b.starts_with("What changes"))
        .unwrap();
    let lines = blocks[told + 1].lines();
    let ends = |line: &&str| line.rsplit(' ').next().unwrap().contains('.');
    let sum: Decimal = lines.filter(ends).map(amount).sum();
    assert_eq!(sum, of("This change"), "{text}");
    for supplier in Tables::of("examples/clinic-gardens/job").column("Prices", "Supplier") {
        assert!(!text.contains(&supplier), "{supplier} in {text}");
    }
    for word in ["cost", "markup", "margin", "wage", "overhead", "profit"] {
        assert!(!text.to_lowercase().contains(word), "{word} in {text}");
    }
    // A file that is there stays, unless it may go.
    fs::write(&file, "mine").unwrap();
    let refused = run(&order, &[&before.path, &after.path]);
    assert_eq!(refused.code, Some(1));
    assert_eq!(fs::read_to_string(&file).unwrap(), "mine");
}

#[test]
fn two_currencies_are_not_compared() {
    let (agreed, mut wanted) = clinics();
    wanted.setting("Currency", "EUR");
    let (before, after) = (agreed.folder(), wanted.folder());
    let ran = run(&[], &[&before.path, &after.path]);
    assert_eq!(ran.code, Some(1));
    assert!(
        ran.err
            .contains("the first is in USD and the second in EUR"),
        "{}",
        ran.err
    );
}
