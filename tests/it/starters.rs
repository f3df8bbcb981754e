//! Starters as they are written: each reads and prices without a word of its own, its drop-downs lead to
//! the right lists, its titles explain themselves, and nothing is ever replaced.

use std::collections::BTreeMap;
use std::fs;
use std::io::{Cursor, Read};
use std::path::{Path, PathBuf};

use calamine::{Data, Reader, Xlsx};
use ironcalc::base::cell::CellValue;
use loamwright::model::sheet::Sheet;
use loamwright::read::fields;
use rust_xlsxwriter::Workbook;
use serde_json::Value;
use tempfile::TempDir;

use crate::cli::run_in;
use crate::pipeline::{priced, text};
use crate::recompute::{evaluated, recompute_bytes, value};

const PURPOSES: [&str; 3] = ["quote", "grant", "suppliers"];
const UNITS: [&str; 2] = ["us", "metric"];

/// The starters of every purpose in both systems: a workbook and a folder with the same name before its
/// ending, so that both are the same job.
fn all() -> (TempDir, Vec<(PathBuf, PathBuf)>) {
    let root = tempfile::tempdir().unwrap();
    let mut made = Vec::new();
    for purpose in PURPOSES {
        for units in UNITS {
            let name = format!("{purpose}-{units}");
            let book = format!("{name}.xlsx");
            for words in [vec![&*book], vec![&*name, "--csv"]] {
                let mut line = vec!["start", "--for", purpose, "--units", units];
                line.extend(words);
                let output = run_in(root.path(), &line, "");
                assert_eq!(output.status.code(), Some(0), "{output:?}");
            }
            made.push((root.path().join(book), root.path().join(name)));
        }
    }
    (root, made)
}

/// The workbooks with their bytes.
fn books() -> Vec<(String, Vec<u8>)> {
    let (_root, made) = all();
    let read = |(book, _): &(PathBuf, PathBuf)| {
        let name = crate::folders::name_of(book);
        (name, fs::read(book).unwrap())
    };
    made.iter().map(read).collect()
}

/// A part of a workbook's package.
fn part(bytes: &[u8], name: &str) -> String {
    let mut package = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    package
        .by_name(name)
        .unwrap()
        .read_to_string(&mut text)
        .unwrap();
    text
}

/// The pieces of a text between two marks.
fn between<'t>(text: &'t str, from: &str, to: &str) -> Vec<&'t str> {
    let rest = text.split(from).skip(1);
    rest.map(|piece| piece.split(to).next().unwrap()).collect()
}

/// Sheets by name with the number of their part, and their titles by the letter of the column.
fn titles(bytes: &[u8]) -> Vec<(String, usize, BTreeMap<String, String>)> {
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let names = book.sheet_names();
    let sheet = |(name, number): (String, usize)| {
        let range = book.worksheet_range(&name).unwrap();
        let row = range.rows().next().unwrap();
        let titles = row.iter().enumerate().map(|(column, held)| {
            let letter = loamwright::model::source::column_letters(u32::try_from(column).unwrap());
            (letter, held.to_string())
        });
        (name, number, titles.collect())
    };
    names.into_iter().zip(1..).map(sheet).collect()
}

fn bare(title: &str) -> &str {
    title.split(" (").next().unwrap()
}

#[test]
fn an_untouched_starter_reads_and_prices_without_a_word_about_itself() {
    let (root, made) = all();
    for (book, folder) in &made {
        for job in [book, folder] {
            let name = crate::folders::name_of(job);
            let output = run_in(root.path(), &["check", &name, "--json"], "");
            assert_eq!(output.status.code(), Some(0), "{name}");
            let told: Vec<Value> = serde_json::from_slice(&output.stdout).unwrap();
            for problem in told {
                let sentence = problem["sentence"].as_str().unwrap();
                // Cautions are about soil, compost, wood, heat and paths; near misses over a step and what
                // volunteers leave uncounted are of the job itself.
                let is_meant = match problem["severity"].as_str() {
                    Some("caution") => CAUTIONS.iter().any(|word| sentence.contains(word)),
                    Some("notice") => NOTICES.iter().any(|word| sentence.contains(word)),
                    _ => false,
                };
                assert!(is_meant, "{name}: {problem:#}");
            }
        }
        let (from_book, from_folder) = (priced(book), priced(folder));
        assert!(from_book.is_complete(), "{}", book.display());
        let same = text(&from_book) == text(&from_folder);
        assert!(same, "{}", book.display());
    }
}

const CAUTIONS: [&str; 7] = [
    "sheet metal is sharp",
    "Path of Garden path",
    "Dust at Garden path",
    "lead in the soil",
    "weed killers",
    "bury only plain wood",
    "Work outdoors",
];
const NOTICES: [&str; 2] = [" in place of ", "supervisors' own set-up"];

#[test]
fn every_title_is_known_and_says_what_it_means() {
    for (book, bytes) in books() {
        let sheets = titles(&bytes);
        let inputs = sheets
            .iter()
            .filter(|(name, ..)| name != "Start here" && name != "Lists");
        // The notes of the n-th sheet are in the part of the number that the guide, without any, leaves.
        for (name, number, titles) in inputs {
            let sheet = Sheet::ALL.into_iter().find(|s| s.title() == name).unwrap();
            let comments = part(&bytes, &format!("xl/comments{}.xml", number - 1));
            let noted = between(&comments, "ref=\"", "\"");
            for (letter, title) in titles {
                assert!(
                    fields::of(sheet).contains(&bare(title)),
                    "{book} {name} {title}"
                );
                assert!(
                    noted.contains(&&*format!("{letter}1")),
                    "{book} {name} {title}"
                );
            }
            assert_eq!(noted.len(), titles.len(), "{book} {name}");
        }
    }
}

#[test]
fn drop_downs_stand_under_their_titles_and_lead_to_lists_that_are_there() {
    let expected = [
        ("Beds", "Frame", "list_frames"),
        ("Beds", "Fill", "list_fills"),
        ("Beds", "Site", "list_sites"),
        ("Beds", "Crop", "list_crops"),
        ("Frames", "Material", "list_walls"),
        ("Fills", "Material", "list_materials"),
        ("Prices", "Supplier", "list_suppliers"),
        ("Prices", "Material", "list_goods"),
        ("Deliveries", "Supplier", "list_suppliers"),
        ("Beds", "Measured", "\"outside,inside\""),
        ("Frames", "Corner", "\"butt,mitre,lapped\""),
    ];
    for (book, bytes) in books() {
        let names = part(&bytes, "xl/workbook.xml");
        let mut found = Vec::new();
        for (sheet, number, titles) in titles(&bytes) {
            let xml = part(&bytes, &format!("xl/worksheets/sheet{number}.xml"));
            for rule in between(&xml, "<dataValidation ", "</dataValidation>") {
                // It warns and lets pass.
                assert!(
                    rule.contains("errorStyle=\"warning\""),
                    "{book} {sheet} {rule}"
                );
                let cells = between(rule, "sqref=\"", "\"")[0];
                let list = between(rule, "<formula1>", "<")[0].replace("&quot;", "\"");
                let letter: String = cells
                    .chars()
                    .take_while(char::is_ascii_alphabetic)
                    .collect();
                let is_defined = names.contains(&format!("name=\"{list}\""));
                assert!(is_defined || list.starts_with('"'), "{book} {sheet} {list}");
                if sheet != "Job" {
                    assert_eq!(cells, format!("{letter}2:{letter}301"), "{book} {sheet}");
                }
                found.push((sheet.clone(), bare(&titles[&letter]).to_owned(), list));
            }
        }
        for (sheet, title, list) in expected {
            let wanted = (sheet.to_owned(), title.to_owned(), list.to_owned());
            assert!(found.contains(&wanted), "{book} {wanted:?}: {found:#?}");
        }
    }
}

/// What stands on the sheet of lists under a title, from its count downwards, recomputed.
fn list(model: &ironcalc::base::Model<'_>, bytes: &[u8], title: &str) -> (String, Vec<String>) {
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let range = book.worksheet_range("Lists").unwrap();
    let mut heads = range.rows().next().unwrap().iter();
    let column = heads
        .position(|held| *held == Data::String(title.to_owned()))
        .unwrap();
    let column = u32::try_from(column).unwrap();
    let shown = |row| match value(model, "Lists", row, column) {
        CellValue::Number(n) => n.to_string(),
        CellValue::String(s) => s,
        other => panic!("{other:?}"),
    };
    let entries = (2..).map(shown).take_while(|entry| !entry.is_empty());
    (shown(1), entries.collect())
}

#[test]
fn a_frame_typed_on_its_sheet_is_offered_at_once_and_a_repeated_fill_once() {
    let (_, bytes) = books().remove(0);
    let mut model = evaluated(&bytes);
    assert_eq!(
        list(&model, &bytes, "frames"),
        (
            "2".to_owned(),
            vec!["Cedar walls".to_owned(), "Round tub".to_owned()]
        )
    );
    let frames = model.workbook.get_worksheet_names();
    let frames = frames.iter().position(|name| name == "Frames").unwrap();
    let frames = u32::try_from(frames).unwrap();
    // Row 4 is the next free one; row 6 repeats a name in capitals; row 101 is the last that is looked at.
    for (row, typed) in [(4, "Oak sleepers*"), (6, "ROUND TUB"), (101, "Last")] {
        model
            .set_user_input(frames, row, 1, typed.to_owned())
            .unwrap();
    }
    model.evaluate();
    let (count, names) = list(&model, &bytes, "frames");
    assert_eq!(count, "4");
    assert_eq!(names, ["Cedar walls", "Round tub", "Oak sleepers*", "Last"]);
    // Six rows of layers are two fills.
    assert_eq!(list(&model, &bytes, "fills").1, ["Deep fill", "Tub fill"]);
}

#[test]
fn every_formula_of_the_lists_gives_its_stored_result_in_another_engine() {
    for (book, bytes) in books().into_iter().take(2) {
        let mismatches = recompute_bytes(&bytes);
        let first: Vec<_> = mismatches.iter().take(5).collect();
        assert!(
            first.is_empty(),
            "{book}: {} differ: {first:#?}",
            mismatches.len()
        );
    }
}

#[test]
fn the_same_starter_is_the_same_bytes() {
    let (first, second) = (books(), books());
    assert!(first == second);
}

#[test]
fn nothing_is_replaced_and_the_message_says_what_to_do() {
    let root = tempfile::tempdir().unwrap();
    fs::write(root.path().join("garden.xlsx"), "mine").unwrap();
    fs::create_dir(root.path().join("garden")).unwrap();
    for line in [
        vec!["start", "garden.xlsx"],
        vec!["start", "garden", "--csv"],
    ] {
        let output = run_in(root.path(), &line, "");
        assert_eq!(output.status.code(), Some(1));
        let talk = String::from_utf8(output.stderr).unwrap();
        assert!(talk.contains("not replaced"), "{talk}");
        assert!(talk.contains("hint: pick another name"), "{talk}");
    }
    let kept = fs::read_to_string(root.path().join("garden.xlsx")).unwrap();
    assert_eq!(kept, "mine");
    assert_eq!(fs::read_dir(root.path().join("garden")).unwrap().count(), 0);
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 2);
}

#[test]
fn a_name_that_a_starter_cannot_have_is_a_wrong_command_line() {
    let root = tempfile::tempdir().unwrap();
    for name in ["garden", "garden.ods", "garden.xls"] {
        let output = run_in(root.path(), &["start", name], "");
        assert_eq!(output.status.code(), Some(2), "{name}");
        let talk = String::from_utf8(output.stderr).unwrap();
        assert!(talk.contains("garden.xlsx"), "{talk}");
    }
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 0);
}

#[test]
fn what_to_do_next_is_told_in_words_that_can_be_copied() {
    let root = tempfile::tempdir().unwrap();
    let output = run_in(root.path(), &["start", "my garden.xlsx"], "");
    let told = String::from_utf8(output.stdout).unwrap();
    assert!(
        told.contains("\n  loamwright check \"my garden.xlsx\"\n"),
        "{told}"
    );
    assert!(
        told.contains("\n  loamwright estimate \"my garden.xlsx\"\n"),
        "{told}"
    );
    let output = run_in(root.path(), &["check", "my garden.xlsx"], "");
    assert_eq!(output.status.code(), Some(0));
    // The job is called as its file.
    assert_eq!(
        &*priced(&root.path().join("my garden.xlsx"))
            .job
            .settings
            .job_name,
        "my garden"
    );
}

/// What is told of a workbook of somebody else that has a sheet called `Start here`, too.
fn told_of_own(path: &Path) -> String {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Beds").unwrap();
    for (column, (title, held)) in (0..).zip([
        ("Bed", "A"),
        ("Size", "8 ft x 4 ft x 18.5 in"),
        ("Frame", "2x10"),
        ("Fill", "Topsoil"),
    ]) {
        sheet.write(0, column, title).unwrap();
        sheet.write(1, column, held).unwrap();
    }
    let sheet = book.add_worksheet();
    sheet.set_name("Start here").unwrap();
    sheet
        .write(0, 0, "three more beds: see the sketch")
        .unwrap();
    book.save(path).unwrap();
    let output = run_in(path.parent().unwrap(), &["check", "own.xlsx"], "");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_sheet_of_that_name_in_another_workbook_is_not_passed_over_in_silence() {
    let root = tempfile::tempdir().unwrap();
    let told = told_of_own(&root.path().join("own.xlsx"));
    assert!(
        told.contains("this sheet is not known and is not read"),
        "{told}"
    );
    assert!(told.contains("own.xlsx!Start here"), "{told}");
}
