//! Alternates: each is the job with its cells typed over, none touches the job itself or another one.

use std::fmt::Write as _;
use std::path::Path;

use jiff::civil::date;
use loamwright::model::alternate::Alternate;
use loamwright::price::Outcome;
use loamwright::price::build::estimate;
use loamwright::problem::Severity;
use loamwright::read::{Loaded, Source, library, read_good_part, read_job};
use loamwright::units::Money;
use loamwright::write::xlsx::workbook;
use proptest::prelude::*;

use crate::made_up::{beds, job};
use crate::pipeline::{price, priced, text, tree};
use crate::tables::Tables;

const TITLES: &str = "Alternate,Sheet,Row,Column,Value,Note\n";

/// Three beds of the clinic.
fn few_beds() -> Tables {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    let kept = ["A1 Herb walk", "A5 Round tank", "B2 Cross slope"];
    let beds = tables.table("Beds");
    beds.rows.retain(|row| kept.contains(&row[0].as_str()));
    tables
}

/// The same with these rows of `Alternates`.
fn with(rows: &str) -> Tables {
    let mut tables = few_beds();
    tables.put("Alternates", &format!("{TITLES}{rows}"));
    tables
}

fn loaded(tables: &Tables) -> Loaded {
    let standing = tables.folder();
    let staged = read_job(&Source::Path(standing.path.clone()), &library::builtin());
    assert!(!staged.has_errors(), "{:#?}", staged.problems);
    staged.output.unwrap()
}

/// The JSON of the job that an alternate stands for, priced by itself.
fn by_itself(alternate: Alternate) -> String {
    let library = library::builtin();
    let on = date(2026, 3, 20);
    let staged = estimate(alternate.job, alternate.sources, &library, on, None);
    text(&staged.output.unwrap())
}

/// What the alternate of this name comes to.
#[track_caller]
fn total_of(tables: &Tables, name: &str) -> Money {
    let priced = priced(&tables.folder().path);
    let found = priced.alternates.iter().find(|a| &*a.name == name);
    match &found
        .unwrap_or_else(|| panic!("no alternate {name}"))
        .outcome
    {
        Outcome::Priced { total, adds } => {
            assert_eq!(*adds, *total - priced.price.total);
            *total
        }
        Outcome::NotComplete(words) => panic!("{name}: {words}"),
    }
}

#[test]
fn an_alternate_costs_what_the_job_costs_with_its_cells_typed_over() {
    let tables = with(
        "Higher,,A1 Herb walk,Courses,3,\n\
         Other boards,Beds,all / Cedar ten,Frame,Cedar eight,\n\
         Dearer crew,Workers,Crew,Pay rate,27.50,\n\
         No signs,Extras,Bed sign,,leave out,\n\
         Less profit,Job,Profit %,,10%,\n\
         Rounded to 1000,Job,Round price to,,1000,\n\
         Stone out,Fills,Tank fill / Clean stone,,leave out,\n",
    );
    let typed = |change: &dyn Fn(&mut Tables)| {
        let mut tables = few_beds();
        change(&mut tables);
        priced(&tables.folder().path).price.total
    };
    let bed = [("Bed", "A1 Herb walk")];
    let higher = typed(&|t| t.set("Beds", &bed, "Courses", "3"));
    assert_eq!(total_of(&tables, "Higher"), higher);
    let other = typed(&|t| {
        for row in t.rows("Beds", &[("Frame", "Cedar ten")]) {
            let column = t.table("Beds").column("Frame");
            "Cedar eight".clone_into(&mut t.table("Beds").rows[row][column]);
        }
    });
    assert_eq!(total_of(&tables, "Other boards"), other);
    let dearer = typed(&|t| t.set("Workers", &[("Worker", "Crew")], "Pay rate", "27.50"));
    assert_eq!(total_of(&tables, "Dearer crew"), dearer);
    let without = |t: &mut Tables, sheet: &str, key: (&str, &str)| {
        let row = t.rows(sheet, &[key])[0];
        t.table(sheet).rows.remove(row);
    };
    let no_signs = typed(&|t| without(t, "Extras", ("Item", "Bed sign")));
    assert_eq!(total_of(&tables, "No signs"), no_signs);
    let less = typed(&|t| t.setting("Profit %", "10%"));
    assert_eq!(total_of(&tables, "Less profit"), less);
    let rounded = typed(&|t| t.setting("Round price to", "1000"));
    assert_eq!(total_of(&tables, "Rounded to 1000"), rounded);
    let stone_out = typed(&|t| without(t, "Fills", ("Material", "Clean stone")));
    assert_eq!(total_of(&tables, "Stone out"), stone_out);
}

#[test]
fn a_dozen_alternates_are_priced_and_leave_the_job_as_it_is() {
    let mut rows = String::new();
    for number in 1..=12 {
        let _ = writeln!(
            rows,
            "Pay {number},Workers,Crew,Pay rate,{}.00,",
            20 + number
        );
    }
    let tables = with(&rows);
    let priced_with = priced(&tables.folder().path);
    assert_eq!(priced_with.alternates.len(), 12);
    let outcome = |number: usize| match &priced_with.alternates[number].outcome {
        Outcome::Priced { adds, .. } => *adds,
        Outcome::NotComplete(words) => panic!("{words}"),
    };
    // The fourth is the job's own wage.
    assert_eq!(outcome(3), Money::ZERO);
    assert!(outcome(0) < Money::ZERO && outcome(11) > Money::ZERO);
    let mut with_them = tree(&priced_with);
    let plain = tree(&priced(&few_beds().folder().path));
    with_them.as_object_mut().unwrap().remove("alternates");
    with_them["client"]["alternates"] = serde_json::json!([]);
    assert_eq!(with_them, plain);
}

#[test]
fn the_workbook_is_read_back_with_its_alternates() {
    let tables = with(
        "Higher,,A1 Herb walk,Courses,3,asked for on the phone\n\
         No signs,Extras,Bed sign,,leave out,\n",
    );
    let first = priced(&tables.folder().path);
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("estimate.xlsx");
    std::fs::write(&path, workbook(&first).unwrap()).unwrap();
    let again = priced(&path);
    assert_eq!(tree(&again)["alternates"], tree(&first)["alternates"]);
    assert_eq!(tree(&again)["price"], tree(&first)["price"]);
}

#[test]
fn an_alternate_without_every_price_has_no_figure_and_says_why() {
    let tables = with("Brick dust,Fills,Tank fill / Clean stone,Material,Pea gravel,\n");
    let priced = priced(&tables.folder().path);
    let lacks = "PRICE NOT COMPLETE: 1 line has no price";
    assert_eq!(
        priced.alternates[0].outcome,
        Outcome::NotComplete(lacks.to_owned())
    );
    let alternate = &tree(&priced)["alternates"][0];
    assert_eq!(alternate["not_complete"], lacks);
    assert!(alternate["adds"].is_null() && alternate["total"].is_null());
    assert!(priced.is_complete());
}

#[test]
fn a_danger_that_comes_with_an_alternate_is_told_with_its_name() {
    let mut tables = with(
        "Waist high,Beds,B2 Cross slope,Height,50 in,\n\
                           A foot more,Beds,A1 Herb walk,Courses,3,\n",
    );
    tables.set("Beds", &[("Bed", "B2 Cross slope")], "Height", "26");
    let priced = priced(&tables.folder().path);
    let cautions = priced.problems.iter();
    let cautions = cautions.filter(|p| p.severity == Severity::Caution);
    let told: Vec<&str> = cautions.map(|p| p.sentence.as_str()).collect();
    let has = |begins: &str, holds: &str| {
        let mut found = told.iter().filter(|s| s.contains(holds));
        assert!(found.any(|s| s.starts_with(begins)), "{begins}: {told:#?}");
    };
    has("B2 Cross slope", "can need a permit");
    has(
        "with alternate \"Waist high\": B2 Cross slope",
        "design of an engineer",
    );
    // The job has that caution for one bed already, and with three boards of 9 1/4 in for another.
    has(
        "with alternate \"A foot more\": A1 Herb walk",
        "can need a permit",
    );
    // What the job says of the same beds is not said again.
    let again = |s: &&&str| s.starts_with("with alternate") && s.contains("buried lines");
    assert_eq!(told.iter().filter(again).count(), 0, "{told:#?}");
}

#[test]
fn a_part_of_a_job_is_priced_without_its_alternates_and_says_so() {
    let mut tables = with("Higher,,A1 Herb walk,Courses,3,\n");
    tables.set("Beds", &[("Bed", "B2 Cross slope")], "Length", "long");
    let standing = tables.folder();
    let staged = read_good_part(&Source::Path(standing.path.clone()), &library::builtin());
    let words = "alternates are not priced together with a part of the job";
    let told = staged.problems.iter().filter(|p| p.sentence == words);
    assert_eq!(told.count(), 1);
    assert!(staged.output.unwrap().alternates.is_empty());
    // The wrong bed is told once, and not again for the alternate.
    let errors = price(&standing.path, None).unwrap_err();
    let errors = errors.iter().filter(|p| p.severity == Severity::Error);
    assert_eq!(errors.count(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 6, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_alternate_taken_back_is_the_job_to_the_byte(
        beds in beds(),
        which in any::<prop::sample::Index>(),
        to in 6..40_u32,
    ) {
        let mut tables = job(&beds, &[]);
        let bed = which.index(beds.len());
        let sheet = tables.table("Beds").clone();
        let (name, long) = (&sheet.rows[bed][0], &sheet.rows[bed][sheet.column("Length")]);
        tables.put("Alternates", &format!(
            "{TITLES}Back,,{name},Length,{to},\nBack,Workers,all,Pay rate,99,\n\
             Back,,{name},Length,{long},\nBack,Workers,Crew,Pay rate,24.00,\n\
             Back,Workers,Carpenter,Pay rate,31.00,\n"
        ));
        let mut loaded = loaded(&tables);
        let alternate = loaded.alternates.remove(0);
        let plain = Alternate { job: loaded.job, sources: loaded.sources, ..alternate.clone() };
        prop_assert_eq!(by_itself(alternate), by_itself(plain));
    }

    #[test]
    fn the_order_of_alternates_changes_nothing(seed in any::<u64>()) {
        let rows = [
            "Higher,,A1 Herb walk,Courses,3,",
            "No signs,Extras,Bed sign,,leave out,",
            "Dearer crew,Workers,Crew,Pay rate,27.50,",
            "Less profit,Job,Profit %,,10%,",
        ];
        let mut order: Vec<usize> = (0..rows.len()).collect();
        let turns = usize::try_from(seed % 4).unwrap();
        order.rotate_left(turns);
        if seed % 8 > 3 {
            order.reverse();
        }
        let text_of = |order: &[usize]| {
            let rows: Vec<&str> = order.iter().map(|place| rows[*place]).collect();
            text(&priced(Path::new(&with(&format!("{}\n", rows.join("\n"))).folder().path)))
        };
        prop_assert_eq!(text_of(&[0, 1, 2, 3]), text_of(&order));
    }
}
