//! The program as scripts and people meet it: exit codes, streams, help.
use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::process::Output;

use assert_cmd::Command;
use tempfile::TempDir;

/// Runs the program in a folder, away from the clock and the colours of whoever runs the tests.
pub(crate) fn run_in(folder: &Path, words: &[&str], stdin: &str) -> Output {
    Command::new(assert_cmd::cargo::cargo_bin!("loamwright"))
        .current_dir(folder)
        .args(words)
        .env("SOURCE_DATE_EPOCH", "1700000000")
        .env_remove("NO_COLOR")
        .write_stdin(stdin)
        .output()
        .unwrap()
}

#[track_caller]
pub(crate) fn check_run(folder: &Path, words: &[&str], code: i32, out: &str, err: &str) {
    let output = run_in(folder, words, "");
    let told = String::from_utf8(output.stdout).unwrap();
    let talk = String::from_utf8(output.stderr).unwrap();
    assert_eq!(
        output.status.code(),
        Some(code),
        "{words:?}\n{told}\n{talk}"
    );
    for (found, expected) in [(&told, out), (&talk, err)] {
        assert_eq!(
            found.is_empty(),
            expected.is_empty(),
            "{words:?}\n{told}\n{talk}"
        );
        assert!(found.contains(expected), "{words:?}: {found}");
    }
}

/// A folder with a job of CSV files that has two mistakes.
fn wrong_job() -> TempDir {
    let root = tempfile::tempdir().unwrap();
    let job = root.path().join("nine");
    std::fs::create_dir(&job).unwrap();
    let beds = "Bed,Size,Frame,Fill\nNorth,8 foot-ish,2x10,Topsoil\nSouth,4x8x18 in,2x99,Topsoil\n";
    let mut file = File::create(job.join("Beds.csv")).unwrap();
    file.write_all(beds.as_bytes()).unwrap();
    root
}

#[test]
fn an_empty_command_line_says_what_to_do_first() {
    let root = tempfile::tempdir().unwrap();
    check_run(root.path(), &[], 2, "", "loamwright start job.xlsx");
}

#[test]
fn help_version_and_schema_go_to_standard_output() {
    let root = tempfile::tempdir().unwrap();
    check_run(root.path(), &["--help"], 0, "70  a bug of ours", "");
    check_run(root.path(), &["help", "check"], 0, "--strict", "");
    check_run(root.path(), &["-V"], 0, env!("CARGO_PKG_VERSION"), "");
    let schema = include_str!("../../templates/estimate.schema.json");
    check_run(root.path(), &["schema"], 0, schema, "");
}

#[test]
fn bash_reads_the_script_that_completes_in_it() {
    let root = tempfile::tempdir().unwrap();
    let script = run_in(root.path(), &["completions", "bash"], "");
    assert_eq!(script.status.code(), Some(0));
    assert!(!script.stdout.is_empty());
    let checked = Command::new("bash")
        .arg("-n")
        .write_stdin(script.stdout)
        .output();
    // Not every system that runs the tests has bash.
    if let Ok(checked) = checked {
        let told = String::from_utf8(checked.stderr).unwrap();
        assert!(checked.status.success() && told.is_empty(), "{told}");
    }
}

#[test]
fn manual_pages_go_to_standard_output_or_into_a_folder() {
    let root = tempfile::tempdir().unwrap();
    check_run(root.path(), &["manual"], 0, ".SH EXAMPLES", "");
    check_run(
        root.path(),
        &["manual", "check"],
        0,
        "loamwright\\-check",
        "",
    );
    let told = "error: there is no manual page loamwright-hammer";
    check_run(root.path(), &["manual", "hammer"], 2, "", told);
    check_run(
        root.path(),
        &["manual", "hammer", "--out", "man"],
        2,
        "",
        told,
    );
    check_run(
        root.path(),
        &["manual", "--out", "man"],
        0,
        "",
        "loamwright-check.1",
    );
    let page = std::fs::read_to_string(root.path().join("man/loamwright.1")).unwrap();
    assert!(page.contains(".SH COMMANDS"));
}

#[test]
fn a_wrong_command_line_ends_with_two() {
    let root = tempfile::tempdir().unwrap();
    check_run(root.path(), &["--paint", "red"], 2, "", "--paint");
    check_run(root.path(), &["check"], 2, "", "name a job");
}

#[test]
fn a_bare_word_that_is_no_file_was_meant_as_a_command() {
    let root = tempfile::tempdir().unwrap();
    let told = "error: \"estimat\" is neither a command nor a file: did you mean estimate?";
    check_run(root.path(), &["estimat"], 2, "", told);
    // A job behind it does not change what is wrong.
    check_run(root.path(), &["estimat", "garden.xlsx"], 2, "", told);
    let told = "error: \"garden\" is neither a command nor a file; see loamwright --help";
    check_run(root.path(), &["garden"], 2, "", told);
}

#[test]
fn a_job_that_is_not_there_ends_with_one() {
    let root = tempfile::tempdir().unwrap();
    check_run(root.path(), &["gone.xlsx"], 1, "", "gone.xlsx");
    check_run(root.path(), &["check", "gone.xlsx"], 1, "gone.xlsx", "");
}

#[test]
fn two_jobs_of_one_name_do_not_take_each_others_place() {
    let root = tempfile::tempdir().unwrap();
    let copy = |name: &str, count: u32| {
        let job = root.path().join(name);
        std::fs::create_dir(&job).unwrap();
        let beds = format!("Bed,Count,Size,Frame,Fill\nNorth,{count},4x8x18 in,2x10,Topsoil\n");
        for (sheet, text) in [
            ("Job.csv", "Setting,Value\nJob name,Garden\n"),
            ("Beds.csv", &*beds),
        ] {
            let mut file = File::create(job.join(sheet)).unwrap();
            file.write_all(text.as_bytes()).unwrap();
        }
    };
    let result = |folder: &str| {
        std::fs::read_to_string(root.path().join(folder).join("estimate.json")).unwrap()
    };
    copy("spring", 1);
    copy("autumn", 2);
    let run = |words: &[&str]| run_in(root.path(), words, "").status.code();
    assert_eq!(run(&["spring"]), Some(0));
    let of_spring = result("Garden-estimate");
    let told = "error: the estimate of another job, spring, is in the output folder and is not replaced\n  at Garden-estimate";
    check_run(root.path(), &["autumn"], 1, "", told);
    assert_eq!(result("Garden-estimate"), of_spring);
    // The same job again, a folder that is asked for, and --force go on as ever.
    assert_eq!(run(&["spring"]), Some(0));
    assert_eq!(run(&["autumn", "--out", "other"]), Some(0));
    assert_eq!(run(&["autumn", "--force"]), Some(0));
    assert_eq!(result("Garden-estimate"), result("other"));
}

#[test]
fn every_mistake_is_told_with_its_cell_and_nothing_is_written() {
    let root = wrong_job();
    let first = "at Beds.csv:2:2, which holds \"8 foot-ish\"";
    let second = "at Beds.csv:3:3, which holds \"2x99\"";
    for told in [first, second] {
        check_run(root.path(), &["nine"], 1, "", told);
        check_run(root.path(), &["check", "nine"], 1, told, "");
    }
    check_run(root.path(), &["nine", "-q"], 1, "", second);
    let left: Vec<_> = std::fs::read_dir(root.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "only the job itself");
}

#[test]
fn problems_come_as_json_when_asked() {
    let root = wrong_job();
    let output = run_in(root.path(), &["check", "nine", "--json"], "");
    assert_eq!(output.status.code(), Some(1));
    let list: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let errors = list.as_array().unwrap().iter();
    let errors = errors.filter(|problem| problem["severity"] == "error");
    assert_eq!(errors.count(), 2);
}

#[test]
fn beds_come_from_standard_input() {
    let root = tempfile::tempdir().unwrap();
    let output = run_in(
        root.path(),
        &["check", "-"],
        "Bed,Size,Frame,Fill\nA,8 foot-ish,2x10,Topsoil\n",
    );
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8(output.stdout).unwrap();
    assert!(
        told.contains("at stdin:2:2, which holds \"8 foot-ish\""),
        "{told}"
    );
}

#[test]
fn nothing_is_coloured_on_the_way_to_a_file_unless_asked() {
    let root = wrong_job();
    let plain = run_in(root.path(), &["check", "nine"], "");
    assert!(!plain.stdout.contains(&0x1b));
    let coloured = run_in(root.path(), &["check", "nine", "--color", "always"], "");
    assert!(coloured.stdout.contains(&0x1b));
}

#[test]
fn a_date_in_the_environment_that_is_none_is_told() {
    let root = wrong_job();
    let output = Command::new(assert_cmd::cargo::cargo_bin!("loamwright"))
        .current_dir(root.path())
        .args(["check", "nine"])
        .env("SOURCE_DATE_EPOCH", "yesterday")
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        String::from_utf8(output.stderr)
            .unwrap()
            .contains("yesterday")
    );
}

#[test]
fn a_reader_that_stops_reading_is_no_error() {
    let root = wrong_job();
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin!("loamwright"))
        .current_dir(root.path())
        .arg("schema")
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
}
