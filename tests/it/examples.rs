//! The examples: whole jobs with their expected outputs beside them.
//!
//! `estimate.json` and a listing of the workbook, `estimate.txt`, stand in `examples/*/expected`. After a
//! change that is meant, `LOAMWRIGHT_BLESS=1 cargo test --test it examples` writes both anew: read the
//! difference before it is committed, since figures are never accepted unread.

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

use crate::folders::{files_below, folders_in, name_of, root};
use crate::recompute::{dump_bytes, formulas, recompute_bytes};

/// Outputs of one run, by name, and what the program printed.
struct Run {
    files: std::collections::BTreeMap<PathBuf, Vec<u8>>,
    printed: Vec<u8>,
}

impl Run {
    #[track_caller]
    fn of(job: &Path) -> Self {
        let root = tempfile::tempdir().unwrap();
        let out = root.path().join("out");
        let output = Command::new(assert_cmd::cargo::cargo_bin!("loamwright"))
            .current_dir(root.path())
            .arg(job)
            .arg("--out")
            .arg("out")
            .env_remove("SOURCE_DATE_EPOCH")
            .env_remove("NO_COLOR")
            .output()
            .unwrap();
        let talk = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(0), "{}: {talk}", job.display());
        Self {
            files: files_below(&out),
            printed: output.stdout,
        }
    }

    #[track_caller]
    fn file(&self, name: &str) -> &[u8] {
        let found = self.files.get(Path::new(name));
        found.unwrap_or_else(|| panic!("{name} was not written: {:?}", self.files.keys()))
    }

    fn text(&self, name: &str) -> String {
        String::from_utf8(self.file(name).to_vec()).unwrap()
    }
}

fn examples() -> Vec<PathBuf> {
    let mut examples = folders_in(&root("examples"));
    examples.retain(|folder| folder.join("job").is_dir());
    assert!(!examples.is_empty());
    examples
}

fn workbook_of(example: &Path) -> PathBuf {
    example.join(format!("{}.xlsx", name_of(example)))
}

/// Compares a text with the expected one, line by line, or writes it when that was asked for.
#[track_caller]
fn check_expected(example: &Path, name: &str, found: &str) {
    let path = example.join("expected").join(name);
    if std::env::var_os("LOAMWRIGHT_BLESS").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(&path, found).unwrap();
    }
    let expected = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let expected = expected.replace("\r\n", "\n");
    for (line, (is, wanted)) in (1..).zip(found.lines().zip(expected.lines())) {
        assert_eq!(is, wanted, "{} line {line}", path.display());
    }
    let lines = (found.lines().count(), expected.lines().count());
    assert_eq!(lines.0, lines.1, "{} has another length", path.display());
}

#[test]
fn the_estimates_are_the_expected_ones() {
    for example in examples() {
        let run = Run::of(&example.join("job"));
        check_expected(&example, "estimate.json", &run.text("estimate.json"));
    }
}

#[test]
fn the_workbooks_are_the_expected_ones() {
    for example in examples() {
        let run = Run::of(&example.join("job"));
        let listing = dump_bytes(run.file("estimate.xlsx"));
        check_expected(&example, "estimate.txt", &listing);
    }
}

#[test]
fn a_workbook_and_a_folder_of_the_same_job_give_the_same_json() {
    for example in examples() {
        let folder = Run::of(&example.join("job"));
        let workbook = Run::of(&workbook_of(&example));
        let [from_folder, from_workbook] = [&folder, &workbook].map(|r| r.text("estimate.json"));
        for (line, (a, b)) in (1..).zip(from_folder.lines().zip(from_workbook.lines())) {
            assert_eq!(a, b, "{} line {line}", example.display());
        }
        assert!(from_folder == from_workbook, "{}", example.display());
    }
}

#[test]
fn the_same_job_gives_the_same_bytes_and_stays_as_it_was() {
    for example in examples() {
        let inputs = || {
            (
                files_below(&example.join("job")),
                fs::read(workbook_of(&example)).unwrap(),
            )
        };
        let before = inputs();
        for job in [example.join("job"), workbook_of(&example)] {
            let (first, second) = (Run::of(&job), Run::of(&job));
            let names: Vec<_> = first.files.keys().collect();
            assert!(names.len() >= 3, "{names:?}");
            for (name, bytes) in &first.files {
                let same = second.files.get(name) == Some(bytes);
                assert!(same, "{} differs between two runs", name.display());
            }
            assert_eq!(first.files.len(), second.files.len());
            assert!(first.printed == second.printed);
        }
        assert!(inputs() == before, "the job was changed");
    }
}

#[test]
fn every_formula_gives_its_stored_result_in_another_engine() {
    for example in examples() {
        let run = Run::of(&example.join("job"));
        let bytes = run.file("estimate.xlsx");
        let mismatches = recompute_bytes(bytes);
        let first: Vec<_> = mismatches.iter().take(10).collect();
        assert!(first.is_empty(), "{} differ: {first:#?}", mismatches.len());
        let count: usize = formulas(bytes).iter().map(|(_, cells)| cells.len()).sum();
        assert!(count > 300, "{} has only {count}", example.display());
    }
}

#[test]
fn what_the_workbook_checks_by_itself_comes_out_well() {
    for example in examples() {
        let run = Run::of(&example.join("job"));
        let listing = dump_bytes(run.file("estimate.xlsx"));
        let checks: Vec<&str> = listing
            .lines()
            .filter(|line| line.starts_with("Checks!B"))
            .collect();
        let answers = checks.iter().filter_map(|line| line.split(" | ").nth(1));
        let answers: Vec<&str> = answers.collect();
        assert!(answers.contains(&"yes"), "{}", example.display());
        assert!(!answers.contains(&"no"), "{checks:#?}");
    }
}
