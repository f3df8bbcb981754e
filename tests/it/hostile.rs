//! Names that try to be formulas, to reach other cells, or to write on the terminal.

use std::path::Path;

use assert_cmd::Command;
use calamine::{Data, Reader, Xlsx};

use crate::folders::files_below;
use crate::recompute::{evaluated, formulas, recompute_bytes};
use crate::tables::Tables;

/// Beds, suppliers and materials that no spreadsheet may run. The last ones hold what is no letter.
const NAMES: [&str; 10] = [
    "=1+1",
    "+cmd|' /C x'!A0",
    "-2+3",
    "@SUM(A1:A9)",
    "=HYPERLINK(\"http://bed.example\",\"bed\")",
    "'=9+9",
    "\"=1+1\"",
    "Tab\tin it",
    "Line\nend",
    "Bell\u{7} and escape \u{1b}[31mred",
];

/// The clinic's gardens with hostile names for beds, a supplier, a material, a site and a worker.
fn hostile_job() -> Tables {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    let beds = tables.table("Beds");
    let column = beds.column("Bed");
    assert_eq!(beds.rows.len(), NAMES.len());
    for (row, name) in beds.rows.iter_mut().zip(NAMES) {
        name.clone_into(&mut row[column]);
    }
    rename(&mut tables, "Hollow Creek Soil Yard", "=2+2");
    rename(&mut tables, "Tannery Road Supply", "@2+2\u{1b}[2J");
    rename(&mut tables, "Garden blend", "=3+3");
    rename(&mut tables, "Galvanised round tank 6 ft", "+3+3");
    rename(&mut tables, "Front court", "-4+4");
    rename(&mut tables, "Carpenter", "=5+5");
    // Without prices these are asked of the suppliers, in CSV files.
    for material in ["=3+3", "+3+3"] {
        for row in tables.rows("Prices", &[("Material", material)]) {
            let prices = tables.table("Prices");
            let column = prices.column("Price");
            prices.rows[row][column].clear();
        }
    }
    tables.set("Sites", &[("Site", "Kitchen yard")], "Address", "=6+6");
    tables.setting("Client", "=7+7");
    tables
}

fn rename(tables: &mut Tables, from: &str, to: &str) {
    for table in tables.0.values_mut() {
        for cell in table.rows.iter_mut().flatten() {
            if cell == from {
                to.clone_into(cell);
            }
        }
    }
}

/// Everything that the program wrote and said about the hostile job.
struct Said {
    files: std::collections::BTreeMap<std::path::PathBuf, Vec<u8>>,
    told: String,
    talk: String,
}

fn said(words: &[&str]) -> Said {
    let job = hostile_job().folder();
    let root = job.path.parent().unwrap();
    let output = Command::new(assert_cmd::cargo::cargo_bin!("loamwright"))
        .current_dir(root)
        .args(words)
        .output()
        .unwrap();
    let talk = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{talk}");
    let out = root.join("out");
    Said {
        files: if out.is_dir() {
            files_below(&out)
        } else {
            std::collections::BTreeMap::default()
        },
        told: String::from_utf8(output.stdout).unwrap(),
        talk,
    }
}

fn estimated() -> Said {
    said(&["job", "--out", "out"])
}

impl Said {
    fn workbook(&self) -> &[u8] {
        let name = "estimate-NOT-COMPLETE.xlsx";
        let found = self.files.get(Path::new(name));
        found.unwrap_or_else(|| panic!("{:?}", self.files.keys()))
    }
}

#[test]
fn no_formula_holds_what_a_user_typed() {
    let said = estimated();
    let bytes = said.workbook();
    let mut count = 0;
    for (sheet, cells) in formulas(bytes) {
        for (row, column, formula, _) in cells {
            count += 1;
            for typed in [
                "HYPERLINK",
                "cmd",
                "SUM(A1",
                "1+1",
                "2+2",
                "2+3",
                "3+3",
                "4+4",
                "5+5",
                "6+6",
                "7+7",
            ] {
                let held = formula.contains(typed);
                assert!(!held, "{sheet} {row} {column}: {formula}");
            }
        }
    }
    assert!(count > 300, "only {count} formulas");
    let mismatches = recompute_bytes(bytes);
    assert!(mismatches.is_empty(), "{mismatches:#?}");
    evaluated(bytes);
}

#[test]
fn names_stand_in_the_workbook_as_the_text_that_they_are() {
    let said = estimated();
    let mut book = Xlsx::new(std::io::Cursor::new(said.workbook())).unwrap();
    let beds = book.worksheet_range("Beds").unwrap();
    for name in &NAMES[..7] {
        // An apostrophe before a sign that starts a formula is a guard in a CSV, not part of the name.
        let name = name.strip_prefix('\'').unwrap_or(name);
        let is_name = |cell: &Data| *cell == Data::String(name.to_owned());
        assert!(
            beds.used_cells().any(|(_, _, cell)| is_name(cell)),
            "{name}"
        );
    }
    let prices = book.worksheet_range("Prices").unwrap();
    for name in ["=2+2", "=3+3", "+3+3"] {
        let is_name = |cell: &Data| *cell == Data::String(name.to_owned());
        assert!(
            prices.used_cells().any(|(_, _, cell)| is_name(cell)),
            "{name}"
        );
    }
}

#[test]
fn csv_outputs_guard_every_cell() {
    let said = estimated();
    let csvs = said
        .files
        .iter()
        .filter(|(name, _)| name.extension().is_some_and(|e| e == "csv"));
    let (mut requests, mut orders, mut guarded) = (0, 0, 0);
    for (name, bytes) in csvs {
        let shown = name.display().to_string();
        requests += u32::from(shown.starts_with("price-request-"));
        orders += u32::from(shown.starts_with("order-"));
        let text = String::from_utf8(bytes.clone()).unwrap();
        let text = text.trim_start_matches('\u{feff}');
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(text.as_bytes());
        for record in reader.records() {
            for cell in &record.unwrap() {
                let first = cell.chars().next();
                let runs = matches!(first, Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n'));
                assert!(!runs, "{}: {cell}", name.display());
                guarded += u32::from(cell.starts_with("'=") || cell.starts_with("'+"));
            }
        }
    }
    assert_eq!(
        (requests, orders),
        (2, 3),
        "a request for each supplier without prices, an order for each: {:?}",
        said.files.keys()
    );
    assert!(guarded >= 2);
}

#[test]
fn file_names_stay_in_their_folder() {
    for name in estimated().files.keys() {
        let plain =
            name.components().count() == 1 && !name.to_string_lossy().contains(char::is_control);
        assert!(plain, "{name:?}");
    }
}

#[test]
fn nothing_typed_moves_the_cursor_of_a_terminal() {
    for words in [&["job", "--out", "out"][..], &["check", "job"]] {
        let said = said(words);
        for text in [&said.told, &said.talk] {
            let moves = |c: char| c.is_control() && c != '\n';
            let at = text.find(moves);
            assert!(
                at.is_none(),
                "{words:?}: {:?}",
                &text[at.unwrap_or(0).saturating_sub(60)..]
            );
        }
        assert!(said.told.len() + said.talk.len() > 1000);
    }
}
