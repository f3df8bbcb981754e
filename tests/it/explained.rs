//! How figures came about: the arithmetic is that of the estimate, and every number names its cell.

use assert_cmd::Command;
use loamwright::price::explain::{Found, Step, explain, names};

use crate::folders::root;
use crate::pipeline::priced;

fn found(what: &str) -> Vec<Found> {
    explain(&priced(&root("examples/clinic-gardens/job")), what)
}

fn step<'f>(found: &'f [Found], what: &str) -> &'f Step {
    let steps = found.iter().flat_map(|found| &found.steps);
    let mut steps = steps.filter(|step| step.what == what);
    steps.next().unwrap_or_else(|| panic!("{what}: {found:#?}"))
}

#[test]
fn overhead_is_a_share_of_direct_cost_from_a_cell() {
    // 12% of 15,267.21 is 1,832.0652; the share stands in the second row of Job.csv.
    let found = found("overhead");
    let overhead = step(&found, "Overhead");
    assert_eq!(overhead.arithmetic, "15,267.21 x 12%");
    assert_eq!(overhead.value, "1,832.07");
    assert_eq!(step(&found, "Overhead %").from, "Job.csv:2:2");
}

#[test]
fn the_price_goes_back_to_cells() {
    let found = found("total");
    let profit = step(&found, "Profit");
    // A margin: (15,267.21 + 1,832.07 + 916.03) x 0.15 / 0.85 = 3,179.1723...
    assert_eq!(
        profit.arithmetic,
        "(15,267.21 + 1,832.07 + 916.03) x 15% / (1 - 15%)"
    );
    assert_eq!(profit.value, "3,179.17");
    assert_eq!(step(&found, "Round price to").value, "25.00");
}

#[test]
fn a_bed_goes_from_its_cells_to_its_layers() {
    let found = found("A1 Herb walk");
    assert_eq!(found[0].title, "Bed A1 Herb walk");
    assert_eq!(step(&found, "Length (ft)").from, "Beds.csv:2:4");
    let inside = step(&found, "inside length");
    assert_eq!(
        (&*inside.arithmetic, &*inside.value),
        ("8' - 2 x 1 1/2\"", "7' 9\"")
    );
    // All figures of the owner for both beds of the row.
    assert_eq!(step(&found, "Price with tax").value, "3,158.08");
}

#[test]
fn goods_tell_the_need_the_reason_and_the_price_cell() {
    let found = found("compost");
    assert_eq!(found.len(), 1);
    let need = step(&found, "needed, before packs");
    assert!(need.from.contains("bought in steps of 0.5"), "{need:?}");
    let steps = found.iter().flat_map(|found| &found.steps);
    assert!(
        steps
            .into_iter()
            .any(|step| step.from == "Prices.csv:4:6" && step.value == "41.5")
    );
}

#[test]
fn a_name_is_found_by_how_it_begins_and_case_does_not_count() {
    assert_eq!(found("a1 herb")[0].title, "Bed A1 Herb walk");
    assert_eq!(found("DIRECT_COST")[0].title, "Direct cost");
    assert!(found("nothing of this name").is_empty() && found("").is_empty());
    let estimate = priced(&root("examples/terrace-allotments/job"));
    for name in names(&estimate) {
        assert!(!explain(&estimate, &name).is_empty(), "{name}");
    }
}

#[test]
fn the_command_prints_it_and_helps_with_a_name_that_is_none() {
    let run = |words: &[&str]| {
        let mut command = Command::cargo_bin("loamwright").unwrap();
        let job = root("examples/clinic-gardens/job");
        command
            .arg("explain")
            .arg(job)
            .args(words)
            .output()
            .unwrap()
    };
    let good = run(&["overhead"]);
    let text = String::from_utf8(good.stdout).unwrap();
    assert!(
        text.starts_with(
            "Overhead\n  Overhead = 15,267.21 x 12% = 1,832.07  [Overhead % x direct cost]\n"
        ),
        "{text}"
    );
    assert!(text.lines().all(|line| line.chars().count() <= 80));
    let wrong = run(&["overheads"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(
        String::from_utf8(wrong.stderr)
            .unwrap()
            .contains("did you mean Overhead?")
    );
    let json = run(&["total", "--json"]);
    let tree: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    assert_eq!(tree["found"][0]["steps"][0]["value"], "21,300.00");
}
