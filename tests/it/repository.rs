//! Rules of the repository: who may use whom, how long a file is, which words stay out.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::folders::root;

/// Lines from which the header of a file has to say why it is longer than others.
const LONG: usize = 400;
/// Lines that no file has.
const TOO_LONG: usize = 800;
/// Words of the header of a long file: `Longer than most because ...`.
const WHY_LONG: &str = "onger than";
/// Long files whose reason stands here.
const LONG_ANYHOW: [(&str, &str); 3] = [
    (
        "src/write/formula.rs",
        "every term has its text here, beside the random terms that test it",
    ),
    (
        "src/write/layout.rs",
        "a quarter of it is tests of the plan that it makes",
    ),
    (
        "src/write/xlsx/tests/by_hand.rs",
        "every field of an estimate is written out once",
    ),
];

/// Modules in the order of the pipeline: each may use those before it.
const PIPELINE: [&str; 8] = [
    "units", "model", "takeoff", "drawing", "buying", "labour", "schedule", "price",
];

/// Text files of the repository, by their path from its root with `/` between the parts.
fn texts() -> BTreeMap<String, String> {
    let mut texts = BTreeMap::new();
    let mut open: Vec<PathBuf> = vec![root("")];
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            let is_foreign = name.starts_with(".git") || name == "target";
            if path.is_dir() && !is_foreign {
                open.push(path);
            } else if !is_foreign && is_text(&path) {
                let below = path.strip_prefix(root("")).unwrap();
                let parts: Vec<_> = below.iter().map(|p| p.to_string_lossy()).collect();
                texts.insert(
                    parts.join("/"),
                    String::from_utf8_lossy(&fs::read(&path).unwrap()).into_owned(),
                );
            }
        }
    }
    texts
}

fn is_text(path: &Path) -> bool {
    let ending = path.extension().and_then(|e| e.to_str());
    matches!(
        ending,
        Some("rs" | "md" | "csv" | "json" | "toml" | "txt" | "sh" | "yml")
    )
}

/// Code files of the program without those that only test it, and without test modules at their end.
fn code() -> BTreeMap<String, String> {
    let files = texts().into_iter().filter(|(path, _)| {
        let is_test = path.contains("/tests") || path.ends_with("_tests.rs");
        let is_made_for_tests = path.ends_with("/fixture.rs") || path.ends_with("/trial.rs");
        path.starts_with("src/") && is_rust(path) && !is_test && !is_made_for_tests
    });
    let plain = files.map(|(path, text)| {
        let before_tests = text.split("#[cfg(test)]\nmod tests {").next().unwrap();
        let lines = before_tests
            .lines()
            .filter(|l| !l.trim_start().starts_with("//"));
        let lines: Vec<&str> = lines.collect();
        (path, lines.join("\n"))
    });
    plain.collect()
}

fn is_rust(path: &str) -> bool {
    Path::new(path).extension().is_some_and(|e| e == "rs")
}

fn module_of(path: &str) -> &str {
    let below = path.strip_prefix("src/").unwrap();
    below.split(['/', '.']).next().unwrap()
}

/// What a module may use besides itself.
fn may_use(module: &str) -> Vec<&'static str> {
    let upto = |last: &str| {
        let end = PIPELINE.iter().position(|m| *m == last).unwrap();
        PIPELINE[..end].to_vec()
    };
    match module {
        "cli" | "main" | "lib" => {
            let mut all = PIPELINE.to_vec();
            all.extend(["problem", "read", "write", "cli"]);
            all
        }
        "units" => vec![],
        // A problem knows the row that it is about, and a source the problem's spot.
        "problem" => vec!["model"],
        "model" => vec!["units", "problem"],
        "read" => vec!["units", "model", "problem"],
        "write" => {
            let mut below = PIPELINE.to_vec();
            below.push("problem");
            below
        }
        stage => {
            let mut below = upto(stage);
            below.push("problem");
            below
        }
    }
}

/// The modules that a text names after `crate::`.
fn used(text: &str) -> Vec<&str> {
    let after = text.split("crate::").skip(1);
    let name = |rest: &'_ str| {
        rest.find(|c: char| !c.is_ascii_lowercase())
            .unwrap_or(rest.len())
    };
    after
        .map(|rest| &rest[..name(rest)])
        .filter(|m| !m.is_empty())
        .collect()
}

#[test]
fn arrows_between_modules_point_one_way() {
    let files = code();
    assert!(files.len() > 150, "only {} files", files.len());
    let mut wrong = Vec::new();
    for (path, text) in &files {
        let module = module_of(path);
        let allowed = may_use(module);
        let strangers = used(text)
            .into_iter()
            .filter(|m| *m != module && !allowed.contains(m));
        wrong.extend(strangers.map(|m| format!("{path} uses {m}")));
        assert!(!text.contains("crate::{"), "{path}: one `use` a module");
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn arrows_are_found() {
    assert_eq!(
        used("use crate::read::Row; fn f(x: crate::units::Length)"),
        ["read", "units"]
    );
    assert!(!may_use("write").contains(&"read"));
    assert!(!may_use("read").contains(&"write"));
    assert!(!may_use("takeoff").contains(&"buying"));
    assert_eq!(
        may_use("labour"),
        ["units", "model", "takeoff", "drawing", "buying", "problem"]
    );
}

#[test]
fn only_the_command_line_prints_and_knows_clock_and_environment() {
    for (path, text) in code() {
        if path.starts_with("src/cli/") || path == "src/main.rs" {
            continue;
        }
        for word in [
            "println!",
            "eprint",
            "std::env",
            "SystemTime",
            "Zoned::now",
            "Timestamp::now",
            "stdout()",
            "stderr()",
        ] {
            assert!(!text.contains(word), "{path} holds {word}");
        }
    }
}

#[test]
fn long_files_say_why() {
    let mut wrong = Vec::new();
    for (path, text) in texts().iter().filter(|(path, _)| is_rust(path)) {
        let lines = text.lines().count();
        let header: Vec<&str> = text.lines().take_while(|l| l.starts_with("//!")).collect();
        let listed = LONG_ANYHOW.iter().any(|(p, _)| p == path);
        if lines > TOO_LONG {
            wrong.push(format!("{path} has {lines} lines, more than {TOO_LONG}"));
        } else if lines > LONG && !header.join(" ").contains(WHY_LONG) && !listed {
            wrong.push(format!("{path} has {lines} lines, and its header does not say \"Longer than most because ...\""));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_code_file_begins_with_what_it_is() {
    for (path, text) in texts() {
        let is_code = is_rust(&path) && !path.starts_with("benches/");
        let is_test = path.contains("/tests") || path.ends_with("_tests.rs");
        let is_case = path.starts_with("src/") && is_test;
        let has_header = text.starts_with("//! ");
        assert!(!is_code || is_case || has_header, "{path} has no header");
    }
}

#[test]
fn banned_words_stay_out() {
    // Put together here, so that this file does not hold them.
    let banned = [
        ["to", "do!("].concat(),
        ["unimplem", "ented!("].concat(),
        ["FIX", "ME"].concat(),
        ["TO", "DO"].concat(),
        ["XX", "X:"].concat(),
        ["#[ign", "ore"].concat(),
        ["#[should", "_panic"].concat(),
        ["dbg", "!("].concat(),
    ];
    let mut wrong = Vec::new();
    for (path, text) in texts() {
        for (number, line) in (1..).zip(text.lines()) {
            let held = banned.iter().filter(|word| line.contains(word.as_str()));
            wrong.extend(held.map(|word| format!("{path}:{number} holds {word}")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_row_of_the_library_names_its_source() {
    let tables = texts();
    let library = tables
        .iter()
        .filter(|(path, _)| path.starts_with("templates/library/"));
    let mut rows = 0;
    for (path, text) in library {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let titles = reader.headers().unwrap().clone();
        let column = |title: &str| {
            let found = titles.iter().position(|t| t == title);
            found.unwrap_or_else(|| panic!("{path} has no column {title}"))
        };
        let [source, confidence, checked] = ["source", "confidence", "checked"].map(column);
        for (number, row) in (2..).zip(reader.records()) {
            let row = row.unwrap();
            assert!(
                row[source].trim().len() > 3,
                "{path}:{number} has no source"
            );
            let sure = ["published", "typical-range", "assumption"].contains(&&row[confidence]);
            assert!(sure, "{path}:{number}: {}", &row[confidence]);
            let seen = ["read", "computed", "mixed", "recalled"].contains(&&row[checked]);
            assert!(seen, "{path}:{number}: {}", &row[checked]);
            rows += 1;
        }
    }
    assert!(rows > 150, "only {rows} rows");
}

#[test]
fn the_schema_is_that_of_the_code() {
    let published = fs::read_to_string(root("templates/estimate.schema.json")).unwrap();
    let published = published.replace("\r\n", "\n");
    let current = loamwright::write::json::schema().unwrap();
    assert!(
        published == current,
        "write it anew: loamwright schema > templates/estimate.schema.json"
    );
}

#[test]
fn the_spellings_of_columns_lead_to_one_column_each() {
    let text = fs::read_to_string(root("templates/headers.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut known: BTreeMap<(String, String), String> = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        let (sheet, column) = (row[0].to_owned(), row[1].to_owned());
        if column.is_empty() {
            continue;
        }
        for spelling in std::iter::once(&*column).chain(row[2].split(';')) {
            let key = (sheet.clone(), spelling.trim().to_lowercase());
            let before = known.insert(key.clone(), column.clone());
            let same = before.as_ref().is_none_or(|b| *b == column);
            assert!(same, "{key:?} is {before:?} and {column}");
        }
    }
    assert!(known.len() > 200);
}

#[test]
fn what_goes_to_a_client_is_written_from_the_clients_view_alone() {
    let code = code();
    for path in ["src/write/client_page.rs", "src/write/json/client.rs"] {
        let text = &code[path];
        assert!(text.contains("ClientView"), "{path}");
        for owners in ["Estimate", "Job", "Price,", "PriceLine"] {
            let uses = text.lines().filter(|line| line.contains(owners));
            let uses: Vec<&str> = uses.collect();
            assert!(uses.is_empty(), "{path} uses {owners}: {uses:?}");
        }
    }
}
