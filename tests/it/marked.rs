//! Marked copies of jobs, opened as other programs open them and read back as jobs.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::path::Path;

use calamine::{Reader, Xlsx};
use serde_json::Value;

use crate::cli::run_in;
use crate::folders::root;
use crate::tables::Tables;

/// The problems that `check` tells of a job, with the name of its file taken out.
#[track_caller]
fn problems(folder: &Path, job: &str) -> Vec<String> {
    let out = run_in(folder, &["check", job, "--json"], "");
    let list: Value = serde_json::from_slice(&out.stdout).unwrap();
    let list = list.as_array().unwrap().iter();
    list.map(|p| p.to_string().replace(job, "JOB")).collect()
}

/// The parts of a package that are text.
fn parts(path: &Path) -> BTreeMap<String, String> {
    let bytes = std::fs::read(path).unwrap();
    let mut package = zip::ZipArchive::new(Cursor::new(bytes)).unwrap();
    let mut parts = BTreeMap::new();
    for index in 0..package.len() {
        let mut part = package.by_index(index).unwrap();
        let name = part.name().unwrap().into_owned();
        let mut text = String::new();
        if part.read_to_string(&mut text).is_ok() {
            parts.insert(name, text);
        }
    }
    parts
}

fn values(path: &Path) -> BTreeMap<String, Vec<String>> {
    let mut book = Xlsx::new(Cursor::new(std::fs::read(path).unwrap())).unwrap();
    let names = book.sheet_names();
    let cells = |name: &String| {
        let range = book.worksheet_range(name).unwrap();
        let start = range.start().unwrap_or_default();
        let used = range.used_cells();
        let shown = used.map(|(row, column, cell)| {
            format!(
                "{} {} {cell:?}",
                row + usize::try_from(start.0).unwrap(),
                column + usize::try_from(start.1).unwrap()
            )
        });
        (name.clone(), shown.collect())
    };
    names.iter().map(cells).collect()
}

/// A job of three beds, two of them wrong in the same way and one cell missing.
fn wrong_job() -> Tables {
    let mut tables = Tables::default();
    tables.put(
        "Beds",
        "Bed,Length (ft),Width (ft),Courses,Frame,Fill\n\
         A,8 foot-ish,4,2,2x10,Topsoil\n\
         B,9 foot-ish,4,2,2x10,Topsoil\n\
         C,8,4,,2x10,Topsoil\n",
    );
    tables
}

#[test]
fn a_marked_example_keeps_everything_and_reads_the_same() {
    let folder = tempfile::tempdir().unwrap();
    let name = "clinic-gardens.xlsx";
    let job = folder.path().join(name);
    std::fs::copy(root("examples/clinic-gardens").join(name), &job).unwrap();
    let out = run_in(folder.path(), &["check", name, "--mark"], "");
    let told = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(0), "{told}");
    assert!(
        told.contains("marked copy: clinic-gardens - marked.xlsx ("),
        "{told}"
    );
    let copy = folder.path().join("clinic-gardens - marked.xlsx");

    let (before, mut after) = (values(&job), values(&copy));
    let listed = after.remove("Problems").unwrap();
    assert!(listed.len() > 40, "{listed:?}");
    assert_eq!(before, after);
    assert_eq!(
        problems(folder.path(), name),
        problems(folder.path(), "clinic-gardens - marked.xlsx")
    );
    let (before, after) = (parts(&job), parts(&copy));
    let kept = before
        .iter()
        .filter(|(name, text)| after.get(*name) == Some(text));
    assert!(kept.count() > 5);
    // The original is untouched, and a second run gives the same bytes.
    let first = std::fs::read(&copy).unwrap();
    assert_eq!(
        run_in(folder.path(), &["check", name, "--mark"], "")
            .status
            .code(),
        Some(0)
    );
    assert!(std::fs::read(&copy).unwrap() == first);
}

#[test]
fn each_wrong_cell_has_a_colour_and_a_note_that_says_error() {
    let tables = wrong_job();
    let standing = tables.workbook(&tables.names());
    let folder = standing.path.parent().unwrap();
    let out = run_in(folder, &["check", "job.xlsx", "--mark=seen.xlsx"], "");
    let told = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(1), "{told}");
    let parts = parts(&folder.join("seen.xlsx"));
    let notes = &parts["xl/comments1.xml"];
    for cell in ["B2", "B3"] {
        assert!(notes.contains(&format!("<comment ref=\"{cell}\" authorId=\"0\"><text><r><t xml:space=\"preserve\">ERROR: Length ")), "{notes}");
    }
    // Nothing stands under a title Height, so the bed's name is marked.
    assert!(notes.contains("<comment ref=\"A4\""), "{notes}");
    let styles = &parts["xl/styles.xml"];
    assert!(styles.contains("<fgColor rgb=\"FFF8B9B4\"/>"), "{styles}");
    let sheet = &parts["xl/worksheets/sheet1.xml"];
    let cell = sheet
        .split("<c r=\"B2\"")
        .nth(1)
        .unwrap()
        .split('>')
        .next()
        .unwrap();
    let format: usize = cell
        .split("s=\"")
        .nth(1)
        .unwrap()
        .split('"')
        .next()
        .unwrap()
        .parse()
        .unwrap();
    let formats = styles
        .split("<cellXfs")
        .nth(1)
        .unwrap()
        .split("</cellXfs>")
        .next()
        .unwrap();
    let own = formats.split("<xf ").nth(format + 1).unwrap();
    assert!(own.contains("applyFill=\"1\""), "{own}");
    assert_eq!(problems(folder, "job.xlsx"), problems(folder, "seen.xlsx"));
}

#[test]
fn csv_files_are_marked_in_a_workbook_of_their_own() {
    let standing = wrong_job().folder();
    let folder = standing.path.parent().unwrap();
    let out = run_in(folder, &["check", "job", "--mark"], "");
    let told = String::from_utf8(out.stdout).unwrap();
    assert_eq!(out.status.code(), Some(1), "{told}");
    assert!(told.contains("made from what was read"), "{told}");
    let copy = folder.join("job - marked.xlsx");
    let cells = values(&copy);
    assert!(
        cells["Beds"].contains(&"1 1 String(\"8 foot-ish\")".to_owned()),
        "{cells:?}"
    );
    let sentences = |job: &str| -> Vec<String> {
        let out = run_in(folder, &["check", job, "--json"], "");
        let list: Value = serde_json::from_slice(&out.stdout).unwrap();
        let list = list.as_array().unwrap().iter();
        list.map(|p| format!("{} {} {}", p["severity"], p["sentence"], p["holds"]))
            .collect()
    };
    assert_eq!(sentences("job"), sentences("job - marked.xlsx"));
}

#[test]
fn a_copy_that_the_user_changed_or_made_is_not_replaced() {
    let tables = wrong_job();
    let standing = tables.workbook(&tables.names());
    let folder = standing.path.parent().unwrap();
    let copy = folder.join("job - marked.xlsx");
    std::fs::write(&copy, "mine").unwrap();
    let words = ["check", "job.xlsx", "--mark"];
    let out = run_in(folder, &words, "");
    let talk = String::from_utf8(out.stderr).unwrap();
    assert_eq!(out.status.code(), Some(1));
    assert!(
        talk.contains("was not written by this program, so it is not replaced"),
        "{talk}"
    );
    assert!(talk.contains("--mark=FILE"), "{talk}");
    assert_eq!(std::fs::read(&copy).unwrap(), b"mine");
    let forced = run_in(folder, &["check", "job.xlsx", "--mark", "--force"], "");
    assert_eq!(forced.status.code(), Some(1));
    assert!(std::fs::read(&copy).unwrap().len() > 1000);
    for file in ["job.xlsx", "./job.xlsx"] {
        let itself = run_in(
            folder,
            &["check", "job.xlsx", &format!("--mark={file}"), "--force"],
            "",
        );
        let talk = String::from_utf8(itself.stderr).unwrap();
        assert!(
            talk.contains("would replace the job that is read"),
            "{talk}"
        );
    }
    let csv = run_in(folder, &["check", "job.xlsx", "--mark=seen.csv"], "");
    let talk = String::from_utf8(csv.stderr).unwrap();
    assert!(talk.contains("must be called .xlsx"), "{talk}");
}
