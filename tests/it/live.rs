//! The estimate workbook is live: a figure typed into it gives the price that the program gives for a
//! job with that figure, as long as the choices of the first run are held.

use loamwright::buying::{Held, held};
use loamwright::price::Estimate;
use loamwright::write::xlsx::workbook;

use crate::pipeline::{price, priced};
use crate::sheets::{At, Sheets};
use crate::tables::Tables;

/// A priced job with its tables and its workbook.
struct Live {
    tables: Tables,
    choices: Held,
    estimate: Estimate,
    sheets: Sheets,
}

/// One changed cell: the row by its words, the column, what is typed into the workbook and into the job.
struct Edit {
    sheet: &'static str,
    row: [(&'static str, &'static str); 1],
    column: &'static str,
    typed: &'static str,
    in_job: &'static str,
}

const fn edit(
    sheet: &'static str,
    row: [(&'static str, &'static str); 1],
    column: &'static str,
    typed: &'static str,
) -> Edit {
    Edit {
        sheet,
        row,
        column,
        typed,
        in_job: typed,
    }
}

/// A setting, which the workbook keeps as a number.
const fn setting(name: &'static str, typed: &'static str, in_job: &'static str) -> Edit {
    Edit {
        sheet: "Job",
        row: [("Setting", name)],
        column: "Value",
        typed,
        in_job,
    }
}

impl Live {
    /// The clinic's gardens, to the cent: a price rounded up to 25 would hide small changes.
    fn clinic() -> Self {
        let mut tables = Tables::of("examples/clinic-gardens/job");
        tables.setting("Round price to", "0.01");
        Self::of(tables)
    }

    fn of(tables: Tables) -> Self {
        let estimate = priced(&tables.folder().path);
        let sheets = Sheets::open(&workbook(&estimate).unwrap());
        Self {
            tables,
            choices: held(&estimate.bought),
            estimate,
            sheets,
        }
    }

    fn total_at(&self) -> At {
        let label = &self.estimate.price.line("total").unwrap().label;
        self.sheets.figure("Price", ("Line", label), "Amount")
    }

    #[track_caller]
    fn type_in(&mut self, edit: &Edit) {
        let cell = self.sheets.input(edit.sheet, &edit.row, edit.column);
        self.sheets.type_in(edit.sheet, cell, edit.typed);
    }

    /// The words of the only cell of a sheet whose formula holds `part`.
    #[track_caller]
    fn said(&self, sheet: &str, part: &str) -> String {
        let cells = self.sheets.formulas_with(sheet, part);
        assert_eq!(cells.len(), 1, "{part} on {sheet}");
        self.sheets.words(sheet, cells[0])
    }
}

/// Types the edits into the workbook and into the job, and compares the two prices.
#[track_caller]
fn check(edits: &[Edit]) {
    let mut live = Live::clinic();
    let at = live.total_at();
    let was = cents(&live.estimate);
    assert_eq!(live.sheets.money("Price", at), was);
    for edit in edits {
        live.type_in(edit);
        live.tables
            .set(edit.sheet, &edit.row, edit.column, edit.in_job);
    }
    let again = price(&live.tables.folder().path, Some(&live.choices)).unwrap();
    let now = live.sheets.money("Price", at);
    assert_eq!(now, cents(&again));
    // The first sheet says by how much, and what the top-up would add now.
    let summary = |words| {
        live.sheets
            .money("Summary", live.sheets.beside("Summary", words))
    };
    let total = |estimate: &Estimate| estimate.price.total.amount();
    let moved = total(&again) - total(&live.estimate);
    assert_eq!(summary("Moved since the estimate"), format!("{moved:.2}"));
    let top_up = again.price.top_up.unwrap().amount();
    let shown = summary("Top-up after the first season");
    assert_eq!(shown, format!("{top_up:.2}"));
    assert_ne!(now, was, "the edits change nothing");
}

fn cents(estimate: &Estimate) -> String {
    format!("{:.2}", estimate.price.total.amount())
}

const POSTS: Edit = edit("Prices", [("Material", "4x4 cedar")], "Price", "36.45");
const WAGE: Edit = edit("Workers", [("Worker", "Crew")], "Pay rate", "26.50");
const PROFIT: Edit = setting("Profit %", "0.18", "18%");
const HOURS: Edit = edit(
    "Labour",
    [("Task", "Spread and rake soil")],
    "Person-hours",
    "0.9",
);
const FEE: Edit = edit(
    "Deliveries",
    [("Vehicle", "tandem tipper")],
    "Fee",
    "117.35",
);

#[test]
fn a_price_and_an_hour_of_a_path_flow_to_the_total() {
    let job = "tests/worked/beds-and-a-path-share-a-load/job";
    let mut live = Live::of(Tables::of(job));
    let at = live.total_at();
    let edits = [
        edit("Prices", [("Material", "Dust")], "Price", "55"),
        edit(
            "Labour",
            [("Task", "Spread and tamp a gravel path, 3 in")],
            "Person-hours",
            "2",
        ),
    ];
    for edit in &edits {
        live.type_in(edit);
        live.tables
            .set(edit.sheet, &edit.row, edit.column, edit.in_job);
    }
    let again = price(&live.tables.folder().path, Some(&live.choices)).unwrap();
    // 55.00 more than 40.00 for the dust; 54 ft2 at 2 h for 100 ft2 take 1.08 h = 43.20, not 32.40:
    // (207.40 + 15.00 + 10.80) x 1.1 = 256.52.
    assert_eq!(cents(&again), live.sheets.money("Price", at));
    assert_eq!(again.price.total.amount().to_string(), "256.52");
    let no = live.sheets.formulas_with("Checks", "\"no\"");
    assert!(!no.is_empty());
    for check in no {
        assert_eq!(live.sheets.words("Checks", check), "yes");
    }
}

#[test]
fn a_changed_price_flows_to_the_total() {
    check(&[POSTS]);
}

#[test]
fn a_changed_wage_flows_to_the_total() {
    check(&[WAGE]);
}

#[test]
fn a_changed_margin_flows_to_the_total() {
    check(&[PROFIT]);
}

#[test]
fn changed_person_hours_flow_to_the_total_with_the_days_that_they_fill() {
    check(&[HOURS]);
}

#[test]
fn a_changed_fee_flows_to_the_total() {
    check(&[FEE]);
}

const MORE: [Edit; 14] = [
    setting("Overhead %", "0.135", "13.5%"),
    setting("Contingency %", "0.0425", "4.25%"),
    setting("Tax %", "0.0775", "7.75%"),
    setting("Round price to", "5", "5"),
    edit("Prices", [("Holds", "250")], "Price", "45.05"),
    edit("Prices", [("Material", "Burrow mesh")], "Price", "71.90"),
    edit("Workers", [("Worker", "Carpenter")], "Pay rate", "29.95"),
    edit(
        "Labour",
        [("Task", "Carry, place and fix a board")],
        "Person-hours",
        "0.21",
    ),
    edit(
        "Equipment",
        [("Item", "Mitre saw and stand")],
        "Rate",
        "41.50",
    ),
    edit("Sites", [("Site", "Front court")], "Travel time", "1.1"),
    edit("Sites", [("Site", "Kitchen yard")], "Drop fee", "18.25"),
    edit("Extras", [("Item", "Bed sign")], "Rate", "15.25"),
    edit(
        "Extras",
        [("Item", "Turf protection boards")],
        "Quantity",
        "7",
    ),
    edit("Extras", [("Item", "Right-of-way permit")], "Rate", "91"),
];

#[test]
fn every_marked_figure_flows_to_the_total() {
    for one in &MORE {
        println!("{} {:?} {}", one.sheet, one.row, one.column);
        check(std::slice::from_ref(one));
    }
    check(&MORE);
}

#[test]
fn a_least_charge_typed_in_lifts_the_total() {
    check(&[setting("Minimum charge", "30000", "30000")]);
}

#[test]
fn a_typical_figure_typed_over_is_as_good_as_one_of_the_job() {
    let mut live = Live::clinic();
    let at = live.total_at();
    let row = [("Task", "Level the footprint")];
    let cell = live.sheets.input("Labour", &row, "Person-hours");
    live.sheets.type_in("Labour", cell, "2.35");
    let own = ["Level the footprint", "2.35", "100 ft2", "", ""].map(str::to_owned);
    live.tables.table("Labour").rows.push(own.to_vec());
    let again = price(&live.tables.folder().path, Some(&live.choices)).unwrap();
    assert_eq!(live.sheets.money("Price", at), cents(&again));
    assert_ne!(cents(&live.estimate), cents(&again));
}

#[test]
fn a_price_at_which_another_offer_is_cheaper_asks_for_a_new_run() {
    let mut live = Live::clinic();
    // Screws come in one box of 250 for 44.00; from a certain price of it boxes of 50 would cost less.
    let row = [("Holds", "250")];
    let price = live.sheets.input("Prices", &row, "Price");
    let choice = live.sheets.input("Prices", &row, "Choice");
    assert_eq!(live.sheets.words("Prices", choice), "as chosen");
    live.sheets.type_in("Prices", price, "1000");
    let said = live.sheets.words("Prices", choice);
    assert!(said.starts_with("run again"), "{said}");
    // A price that was not chosen, and falls.
    let row = [("Holds", "50")];
    let price = live.sheets.input("Prices", &row, "Price");
    let choice = live.sheets.input("Prices", &row, "Choice");
    live.sheets.type_in("Prices", price, "0.10");
    let said = live.sheets.words("Prices", choice);
    assert!(said.starts_with("run again"), "{said}");
}

#[test]
fn an_input_that_no_formula_follows_turns_the_price_stale() {
    let fresh = Live::clinic().said("Summary", "STALE");
    assert!(!fresh.contains("STALE"), "{fresh}");
    for edit in [
        edit("Beds", [("Bed", "B4 Long bed")], "Length", "22"),
        edit("Frames", [("Frame", "Cedar ten")], "Corner", "mitre"),
        edit("Sites", [("Site", "Kitchen yard")], "Haul distance", "20"),
        setting("Kerf", "0.25 in", "0.25 in"),
    ] {
        let mut live = Live::clinic();
        live.type_in(&edit);
        let said = live.said("Summary", "STALE");
        assert!(
            said.contains("STALE"),
            "{} {}: {said}",
            edit.sheet,
            edit.column
        );
    }
}

#[test]
fn a_marked_figure_that_changes_makes_nothing_stale() {
    for edit in [POSTS, WAGE, PROFIT, HOURS, FEE] {
        let mut live = Live::clinic();
        live.type_in(&edit);
        let said = live.said("Summary", "STALE");
        assert!(
            said == "marked cells changed since the estimate",
            "{} {}: {said}",
            edit.sheet,
            edit.column
        );
    }
}
