//! Pricing what is good in a job: errors leave out whole beds and offers, never halves of them, and the
//! price of the rest is that of a job in which they never stood.

use loamwright::model::sheet::Sheet;
use loamwright::price::Estimate;
use loamwright::price::build::estimate_good_part;
use loamwright::problem::{Problem, Severity};
use loamwright::read::{Source, library, read_good_part};
use loamwright::write::xlsx::workbook;
use proptest::prelude::*;
use rust_decimal::Decimal;

use crate::cli::run_in;
use crate::pipeline::priced;
use crate::recompute::recompute_bytes;
use crate::tables::Tables;

const JOB: &str = "examples/clinic-gardens/job";

/// The estimate of the good part, and every error that was told on the way.
fn good_part(tables: &Tables) -> (Option<Estimate>, Vec<Problem>) {
    let job = tables.folder();
    let library = library::builtin();
    let mut told = Vec::new();
    let loaded = read_good_part(&Source::Path(job.path.clone()), &library);
    let loaded = loaded.keep(&mut told).unwrap();
    let on = loaded.job.settings.date.as_ref().unwrap().value;
    let priced = estimate_good_part(loaded.job, &loaded.sources, &library, on);
    told.extend(priced.problems);
    told.retain(|p| p.severity == Severity::Error);
    (priced.output, told)
}

/// Adds a bed of 8 x 4 ft of the job's own frame and fill, with some cells changed.
fn add_bed(tables: &mut Tables, name: &str, first: bool, changes: &[(&str, &str)]) {
    let beds = tables.table("Beds");
    let mut row = vec![String::new(); beds.titles.len()];
    let usual = [
        ("Bed", name),
        ("Count", "3"),
        ("Shape", "rectangle"),
        ("Length", "8"),
        ("Width", "4"),
        ("Courses", "2"),
        ("Frame", "Cedar ten"),
        ("Fill", "Deep bed"),
        ("Site", "Front court"),
    ];
    for (title, value) in usual.iter().chain(changes) {
        (*value).clone_into(&mut row[beds.column(title)]);
    }
    let at = if first { 0 } else { beds.rows.len() };
    beds.rows.insert(at, row);
}

#[test]
fn stages_of_payment_do_not_forbid_the_price_of_what_is_good() {
    // A deposit of 20,000 fits the whole job; without its largest beds the price is below it.
    let mut tables = Tables::of(JOB);
    tables.put(
        "Payments",
        "Stage,Share or amount,When\nDeposit,20000,\nDone,rest,\n",
    );
    tables.table("Beds").rows[1][3] = "8 foot-ish".to_owned();
    let (estimate, told) = good_part(&tables);
    let estimate = estimate.unwrap();
    assert_eq!(told.len(), 1, "{told:#?}");
    let due = estimate.price.payments.iter().map(|due| due.amount);
    assert_eq!(due.sum::<loamwright::units::Money>(), estimate.price.total);
    // A stage that cannot be read is left out with the others, and the beds keep their price.
    let mut tables = Tables::of(JOB);
    tables.put(
        "Payments",
        "Stage,Share or amount,When\nDeposit,0.3,\nDone,70%,\n",
    );
    let (estimate, _) = good_part(&tables);
    let whole = priced(Tables::of(JOB).folder().as_ref());
    assert_eq!(estimate.unwrap().price.total, whole.price.total);
}

/// Ways in which a bed can be wrong: at reading, by a name that nothing has, and at the take-off.
const WRONG: [(&str, &[(&str, &str)]); 9] = [
    ("a length that is none", &[("Length", "8 foot-ish")]),
    ("no length", &[("Length", "")]),
    ("a count of nothing", &[("Count", "0")]),
    ("an unknown frame", &[("Frame", "Cedar tin")]),
    ("an unknown fill", &[("Fill", "Deep bad")]),
    ("an unknown site", &[("Site", "Back court")]),
    ("ground like a wall", &[("Slope %", "150%")]),
    ("two mistakes", &[("Width", "4 x"), ("Height", "tall")]),
    ("walls that leave no room", &[("Width", "0.2")]),
];

#[track_caller]
fn check_same_price(found: &Estimate, good: &Estimate) {
    let lines = |e: &Estimate| -> Vec<String> {
        let line = |l: &loamwright::price::PriceLine| format!("{} {:?}", l.key, l.amount);
        e.price.lines.iter().map(line).collect()
    };
    assert_eq!(lines(found), lines(good));
    assert_eq!(found.price.total, good.price.total);
    assert_eq!(found.job.beds.len(), good.job.beds.len());
}

#[test]
fn each_way_to_be_wrong_leaves_out_that_bed_alone() {
    let good = Tables::of(JOB);
    let expected = priced(&good.folder().path);
    for (way, changes) in WRONG {
        let mut tables = good.clone();
        add_bed(&mut tables, "Z1", false, changes);
        let (found, told) = good_part(&tables);
        let found = found.unwrap_or_else(|| panic!("{way}: {told:#?}"));
        check_same_price(&found, &expected);
        let left: Vec<&str> = found.job.left_out.iter().map(|l| l.name.as_str()).collect();
        assert_eq!(left, ["Z1"], "{way}");
        assert!(!told.is_empty(), "{way} is told");
        assert!(!found.is_complete(), "{way} shows");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    /// With any number of broken beds before and behind the others, the price is that of the good job.
    #[test]
    fn broken_beds_change_no_price(ways in prop::collection::vec((0..WRONG.len(), any::<bool>()), 1..8)) {
        let good = Tables::of(JOB);
        let mut tables = good.clone();
        for (number, (way, first)) in ways.iter().enumerate() {
            let name = if *first { format!("0 broken {number}") } else { format!("Z broken {number}") };
            add_bed(&mut tables, &name, *first, WRONG[*way].1);
        }
        let (found, told) = good_part(&tables);
        let found = found.unwrap_or_else(|| panic!("{told:#?}"));
        check_same_price(&found, &priced(&good.folder().path));
        prop_assert_eq!(found.job.left_out.len(), ways.len());
    }
}

#[test]
fn what_uses_a_wrong_frame_or_fill_is_left_out_with_it() {
    // The layer of rest is wrong in the fill of the four deep beds of the example, and the frame of
    // the round tank has no such kind.
    let mut tables = Tables::of(JOB);
    let rows = tables.rows("Fills", &[("Fill", "Deep bed")]);
    let fills = tables.table("Fills");
    let depth = fills.column("Depth");
    "a lot".clone_into(&mut fills.rows[rows[0]][depth]);
    tables.set("Frames", &[("Frame", "Round tank")], "Frame kind", "barrel");
    let (found, _) = good_part(&tables);
    let found = found.unwrap();
    let beds = found.job.left_out.iter().filter(|l| l.sheet == Sheet::Beds);
    let beds: Vec<&str> = beds.map(|l| l.name.as_str()).collect();
    let expected = [
        "A1 Herb walk",
        "A2 Corner L",
        "A3 Inlet U",
        "A5 Round tank",
        "B1 Slope bed",
        "B4 Long bed",
    ];
    assert_eq!(beds, expected);

    let mut without = Tables::of(JOB);
    let name = without.table("Beds").column("Bed");
    without
        .table("Beds")
        .rows
        .retain(|row| !expected.contains(&row[name].as_str()));
    check_same_price(&found, &priced(&without.folder().path));
}

#[test]
fn a_wrong_price_leaves_out_its_offer() {
    let mut tables = Tables::of(JOB);
    let offers = tables.rows("Prices", &[("Material", "Garden blend"), ("Pack", "yard")]);
    let prices = tables.table("Prices");
    let price = prices.column("Price");
    "forty-six".clone_into(&mut prices.rows[offers[0]][price]);
    let mut without = Tables::of(JOB);
    without.table("Prices").rows.remove(offers[0]);
    let (found, told) = good_part(&tables);
    let found = found.unwrap_or_else(|| panic!("{told:#?}"));
    check_same_price(&found, &priced(&without.folder().path));
    assert_eq!(
        found.job.left_out[0].words(),
        format!("Prices row Garden blend is left out: {}", told[0].sentence)
    );
    assert_eq!(
        found.not_complete().as_deref(),
        Some("PRICE NOT COMPLETE: 1 other row is left out")
    );
}

/// A job of these beds of 2x10 and what of it is priced.
fn good_part_of(beds: &str) -> Estimate {
    let folder = tempfile::tempdir().unwrap();
    let prices = "Supplier,Material,Pack,Holds,Price,Price date\n\
                  Hill Lumber,2x10 fir,board,8 ft,10.00,2026-03-01\n";
    for (name, text) in [("Beds.csv", beds), ("Prices.csv", prices)] {
        let mut file = std::fs::File::create(folder.path().join(name)).unwrap();
        std::io::Write::write_all(&mut file, text.as_bytes()).unwrap();
    }
    let library = library::builtin();
    let loaded = read_good_part(&Source::Path(folder.path().to_owned()), &library);
    let loaded = loaded.output.unwrap();
    let on = jiff::civil::date(2026, 3, 5);
    let found = estimate_good_part(loaded.job, &loaded.sources, &library, on);
    found.output.unwrap()
}

/// South 8 x 4 ft alone takes 4 long sides of 96 in and 4 short ones of 45 in, two out of a board of 96 in: 6
/// boards. West leaves its 4 ft side to South: 4 long and 2 short ones, 5 boards. North is too narrow for its
/// walls and goes, so that the wall that it would have borne for South is South's own again.
#[test]
fn a_bed_whose_neighbour_is_left_out_builds_their_wall() {
    let found = good_part_of(
        "Bed,Length (ft),Width (ft),Courses,Frame,Joins\n\
         North,8,0.2,2,2x10 fir,South 8 ft\n\
         South,8,4,2,2x10 fir,West 4 ft\n\
         West,8,4,2,2x10 fir,\n",
    );
    let names: Vec<&str> = found.job.beds.iter().map(|bed| &*bed.name).collect();
    assert_eq!(names, ["South", "West"]);
    assert_eq!(found.bought.lines[0].quantity, Decimal::from(11));
    let with = found.job.beds[0].joins[0].with;
    assert_eq!(&*found.job.beds[with.index()].name, "West");
}

/// The width of North cannot be read: South is priced alone, with its 6 boards, though it names North.
#[test]
fn a_bed_that_names_a_neighbour_that_cannot_be_read_stays() {
    let found = good_part_of(
        "Bed,Length (ft),Width (ft),Courses,Frame,Joins\n\
         North,8,wide,2,2x10 fir,\n\
         South,8,4,2,2x10 fir,North 8 ft\n",
    );
    assert_eq!(found.job.beds.len(), 1);
    assert_eq!(found.job.beds[0].joins, []);
    assert_eq!(found.bought.lines[0].quantity, Decimal::from(6));
    assert_eq!(found.job.left_out.len(), 1);
}

#[test]
fn what_would_make_all_money_wrong_leaves_nothing_out() {
    for (sheet, keys, title) in [
        ("Job", ("Setting", "Overhead %"), "Value"),
        ("Sites", ("Site", "Front court"), "Haul distance"),
        ("Workers", ("Worker", "Carpenter"), "Pay rate"),
        ("Deliveries", ("Supplier", "Hollow Creek Soil Yard"), "Fee"),
    ] {
        let mut tables = Tables::of(JOB);
        let row = tables.rows(sheet, &[keys])[0];
        let table = tables.table(sheet);
        let column = table.column(title);
        "a bit".clone_into(&mut table.rows[row][column]);
        let job = tables.folder();
        let out = run_in(job.path.parent().unwrap(), &["job", "--partial"], "");
        let talk = String::from_utf8(out.stderr).unwrap();
        assert_eq!(out.status.code(), Some(1), "{talk}");
        assert!(
            talk.ends_with("1 error; nothing was written\n"),
            "{sheet}: {talk}"
        );
    }
}

#[test]
fn a_part_is_written_loudly_and_ends_with_one() {
    let mut tables = Tables::of(JOB);
    add_bed(&mut tables, "Z1", false, &[("Length", "8 foot-ish")]);
    let job = tables.folder();
    let root = job.path.parent().unwrap();
    let whole = run_in(root, &["job"], "");
    let talk = String::from_utf8(whole.stderr).unwrap();
    assert_eq!(whole.status.code(), Some(1));
    assert!(
        talk.ends_with(
            "1 error; nothing was written\n\
             10 of 11 beds are good: --partial prices what is good and leaves out the rest\n"
        ),
        "{talk}"
    );
    let part = run_in(root, &["job", "--partial", "--out", "out", "--json"], "");
    assert_eq!(part.status.code(), Some(1));
    let talk = String::from_utf8(part.stderr).unwrap();
    assert!(talk.contains("which holds \"8 foot-ish\""), "{talk}");
    let tree: serde_json::Value = serde_json::from_slice(&part.stdout).unwrap();
    assert_eq!(tree["left_out"][0]["sheet"], "Beds");
    assert_eq!(tree["left_out"][0]["row"], "Z1");
    assert_eq!(tree["job"]["price_complete"], false);
    let bytes = std::fs::read(root.join("out/estimate-NOT-COMPLETE.xlsx")).unwrap();
    let mismatches = recompute_bytes(&bytes);
    assert!(mismatches.is_empty(), "{mismatches:#?}");
    assert!(!root.join("out/estimate.xlsx").exists());

    let summed = run_in(root, &["job", "--partial", "--out", "out"], "");
    let told = String::from_utf8(summed.stdout).unwrap();
    assert!(
        told.contains("PRICE NOT COMPLETE: 1 bed is left out\n  Bed Z1 is left out: "),
        "{told}"
    );
}

#[test]
fn a_part_read_back_still_asks_about_what_was_left_out() {
    let mut tables = Tables::of(JOB);
    add_bed(&mut tables, "Z1", false, &[("Length", "8 foot-ish")]);
    let (found, _) = good_part(&tables);
    let bytes = workbook(&found.unwrap()).unwrap();
    let root = tempfile::tempdir().unwrap();
    let saved = root.path().join("estimate-NOT-COMPLETE.xlsx");
    std::fs::write(&saved, bytes).unwrap();
    let out = run_in(root.path(), &["check", "estimate-NOT-COMPLETE.xlsx"], "");
    let told = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(1), "{told}");
    assert!(told.contains("which holds \"8 foot-ish\""), "{told}");
}

#[test]
fn pieces_alone_are_priced_when_no_bed_is_left() {
    // Three rails of 4 ft out of two sticks of 8 ft at 10.00; the only bed has no length.
    let root = tempfile::tempdir().unwrap();
    for (name, text) in [
        (
            "Beds.csv",
            "Bed,Shape,Width (ft),Height (in),Frame,Fill\nA,rectangle,4,18,2x10,Topsoil\n",
        ),
        (
            "Pieces.csv",
            "Material,Length (ft),Count\n2x4 cedar,3.9,3\n",
        ),
        (
            "Prices.csv",
            "Supplier,Material,Pack,Holds,Price\nMill,2x4 cedar,board,8 ft,10\n",
        ),
        ("Job.csv", "Setting,Value\nDate,2026-03-20\nCurrency,USD\n"),
    ] {
        std::fs::write(root.path().join(name), text).unwrap();
    }
    let output = run_in(
        root.path(),
        &["estimate", ".", "--partial", "--out", "out"],
        "",
    );
    let told = String::from_utf8(output.stdout).unwrap();
    let talk = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{talk}");
    assert!(told.contains("1 bed is left out"), "{told}{talk}");
    assert!(told.contains("2 boards of 2x4 cedar"), "{told}");
}
