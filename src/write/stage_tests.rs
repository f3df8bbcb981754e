//! Each promise of the staging folder, on a real disk.

use super::*;
use crate::problem::Fault;

fn folder() -> (TempDir, PathBuf) {
    let root = tempfile::tempdir().unwrap();
    let out = root.path().join("nine beds-estimate");
    (root, out)
}

#[track_caller]
fn publish(out: &Path, files: &[(&str, &str)], replacing: Replacing) -> Written {
    try_publish(out, files, replacing).unwrap()
}

fn try_publish(
    out: &Path,
    files: &[(&str, &str)],
    replacing: Replacing,
) -> Result<Written, Vec<Problem>> {
    let mut staging = Staging::open(out, replacing).map_err(|p| vec![*p])?;
    for (name, text) in files {
        staging.add(name, text.as_bytes()).map_err(|p| vec![*p])?;
    }
    staging.publish()
}

fn put(path: &Path, text: &str) {
    File::create(path)
        .unwrap()
        .write_all(text.as_bytes())
        .unwrap();
}

#[track_caller]
fn check_holds(out: &Path, expected: &[(&str, &str)]) {
    let mut found: Vec<(String, String)> = fs::read_dir(out)
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_name() != MANIFEST)
        .map(|entry| {
            (
                entry.file_name().into_string().unwrap(),
                fs::read_to_string(entry.path()).unwrap(),
            )
        })
        .collect();
    found.sort();
    let found: Vec<(&str, &str)> = found
        .iter()
        .map(|(n, t)| (n.as_str(), t.as_str()))
        .collect();
    assert_eq!(found, expected);
}

#[test]
fn nothing_is_in_the_folder_before_publishing_but_the_staging() {
    let (_root, out) = folder();
    let mut staging = Staging::open(&out, Replacing::Ours).unwrap();
    staging.add("estimate.json", b"{}").unwrap();
    let names: Vec<_> = fs::read_dir(&out)
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(names.len(), 1);
    assert!(names[0].starts_with(".staging-"));
    staging.publish().unwrap();
    check_holds(&out, &[("estimate.json", "{}")]);
}

#[test]
fn a_run_that_comes_to_nothing_leaves_nothing() {
    let (root, out) = folder();
    let mut staging = Staging::open(&out, Replacing::Ours).unwrap();
    staging.add("estimate.json", b"{}").unwrap();
    drop(staging);
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 0);
}

#[test]
fn the_list_is_sorted_and_holds_the_hashes_of_what_was_written() {
    let (_root, out) = folder();
    let written = publish(
        &out,
        &[("estimate.xlsx", "b"), ("estimate.json", "a")],
        Replacing::Ours,
    );
    assert_eq!(written.names, ["estimate.json", "estimate.xlsx"]);
    let list = Manifest::read(&out).unwrap();
    assert_eq!(list.files["estimate.json"], hash_of(b"a"));
    assert_eq!(list.files["estimate.xlsx"], hash_of(b"b"));
}

#[test]
fn our_own_unchanged_outputs_are_replaced() {
    let (_root, out) = folder();
    publish(&out, &[("estimate.json", "first")], Replacing::Ours);
    assert_eq!(survey(&out, &["estimate.json"], Replacing::Ours), []);
    publish(&out, &[("estimate.json", "second")], Replacing::Ours);
    check_holds(&out, &[("estimate.json", "second")]);
}

#[test]
fn an_output_changed_since_is_not_replaced_without_force() {
    let (_root, out) = folder();
    publish(
        &out,
        &[("estimate.json", "1"), ("estimate.xlsx", "1")],
        Replacing::Ours,
    );
    put(&out.join("estimate.xlsx"), "my own price");
    let problems = try_publish(
        &out,
        &[("estimate.json", "2"), ("estimate.xlsx", "2")],
        Replacing::Ours,
    )
    .unwrap_err();
    assert_eq!(problems.len(), 1);
    assert_eq!(
        problems[0].sentence,
        "estimate.xlsx was changed since this program wrote it, so it is not replaced"
    );
    assert!(
        problems[0]
            .hint
            .as_ref()
            .unwrap()
            .contains("read it back as a job")
    );
    // Not even the other file was touched: half a set would contradict itself.
    check_holds(
        &out,
        &[("estimate.json", "1"), ("estimate.xlsx", "my own price")],
    );
    assert_eq!(
        survey(&out, &["estimate.xlsx"], Replacing::Ours),
        problems,
        "and it is known before anything is computed"
    );
    publish(
        &out,
        &[("estimate.json", "2"), ("estimate.xlsx", "2")],
        Replacing::Everything,
    );
    check_holds(&out, &[("estimate.json", "2"), ("estimate.xlsx", "2")]);
}

#[test]
fn a_file_of_somebody_else_is_not_replaced_without_force() {
    let (_root, out) = folder();
    fs::create_dir(&out).unwrap();
    put(&out.join("estimate.json"), "not ours");
    let problems = try_publish(&out, &[("estimate.json", "ours")], Replacing::Ours).unwrap_err();
    assert_eq!(
        problems[0].sentence,
        "estimate.json was not written by this program, so it is not replaced"
    );
    check_holds(&out, &[("estimate.json", "not ours")]);
    publish(&out, &[("estimate.json", "ours")], Replacing::Everything);
    check_holds(&out, &[("estimate.json", "ours")]);
}

#[test]
fn a_file_that_holds_the_same_bytes_is_no_obstacle() {
    let (_root, out) = folder();
    fs::create_dir(&out).unwrap();
    put(&out.join("estimate.json"), "{}");
    publish(&out, &[("estimate.json", "{}")], Replacing::Ours);
    assert_eq!(Manifest::read(&out).unwrap().files.len(), 1);
}

#[test]
fn other_files_in_the_folder_are_never_touched() {
    let (_root, out) = folder();
    fs::create_dir(&out).unwrap();
    put(&out.join("notes.txt"), "call the yard");
    publish(&out, &[("estimate.json", "{}")], Replacing::Everything);
    check_holds(
        &out,
        &[("estimate.json", "{}"), ("notes.txt", "call the yard")],
    );
}

#[test]
fn an_output_of_an_earlier_run_goes_unless_it_was_changed() {
    let (_root, out) = folder();
    publish(
        &out,
        &[
            ("estimate-NOT-COMPLETE.xlsx", "1"),
            ("price-request-a.csv", "1"),
        ],
        Replacing::Ours,
    );
    put(&out.join("price-request-a.csv"), "42.00");
    let written = publish(&out, &[("estimate.xlsx", "2")], Replacing::Ours);
    check_holds(
        &out,
        &[("estimate.xlsx", "2"), ("price-request-a.csv", "42.00")],
    );
    let told: Vec<&str> = written
        .notices
        .iter()
        .map(|p| p.sentence.as_str())
        .collect();
    assert_eq!(
        told,
        [
            "removed estimate-NOT-COMPLETE.xlsx of an earlier run",
            "price-request-a.csv is of an earlier run and was changed since, so it is left as it is",
        ]
    );
    let problems = try_publish(&out, &[("price-request-a.csv", "3")], Replacing::Ours).unwrap_err();
    assert!(
        problems[0].sentence.contains("was changed since"),
        "the changed file stays known"
    );
}

#[test]
fn what_a_killed_run_left_is_swept_up_and_its_half_set_is_known() {
    let (_root, out) = folder();
    publish(
        &out,
        &[("estimate.json", "1"), ("estimate.xlsx", "1")],
        Replacing::Ours,
    );
    // The killed run had renamed the JSON and not yet the workbook.
    let stale = out.join(".staging-gone42");
    fs::create_dir(&stale).unwrap();
    put(&stale.join("running"), "");
    put(&stale.join("estimate.xlsx"), "2");
    let mut intended = Manifest::default();
    intended.files.insert("estimate.json".into(), hash_of(b"2"));
    intended.files.insert("estimate.xlsx".into(), hash_of(b"2"));
    put(
        &stale.join(MANIFEST),
        &String::from_utf8(intended.to_bytes().unwrap()).unwrap(),
    );
    put(&out.join("estimate.json"), "2");

    assert_eq!(survey(&out, &["estimate.json"], Replacing::Ours), []);
    assert!(stale.exists(), "a survey changes nothing");
    let written = publish(
        &out,
        &[("estimate.json", "3"), ("estimate.xlsx", "3")],
        Replacing::Ours,
    );
    check_holds(&out, &[("estimate.json", "3"), ("estimate.xlsx", "3")]);
    assert!(!stale.exists());
    assert_eq!(
        written.notices[0].sentence,
        "an earlier run was cut short; what it left behind is removed"
    );
}

#[test]
fn a_run_that_is_still_writing_is_not_disturbed() {
    let (_root, out) = folder();
    let mut first = Staging::open(&out, Replacing::Ours).unwrap();
    first.add("estimate.json", b"first").unwrap();
    let refused = Staging::open(&out, Replacing::Everything).unwrap_err();
    assert_eq!(
        refused.sentence,
        "another run is writing to the same output folder"
    );
    assert_eq!(survey(&out, &[], Replacing::Ours), [*refused]);
    first.publish().unwrap();
    publish(&out, &[("estimate.json", "second")], Replacing::Ours);
}

#[test]
fn no_name_leads_out_of_the_folder() {
    let (root, out) = folder();
    let mut staging = Staging::open(&out, Replacing::Everything).unwrap();
    for name in [
        "../up.txt",
        "/tmp/abs.txt",
        "a/b.txt",
        "a\\b.txt",
        "..",
        ".",
        "",
        ".loamwright.json",
        "c:x",
    ] {
        let problem = staging.add(name, b"x").unwrap_err();
        assert_eq!(problem.fault, Fault::Bug, "{name}");
    }
    drop(staging);
    assert_eq!(fs::read_dir(root.path()).unwrap().count(), 0);
}

#[cfg(unix)]
#[test]
fn a_link_is_replaced_and_never_followed() {
    let (root, out) = folder();
    fs::create_dir(&out).unwrap();
    let elsewhere = root.path().join("precious.txt");
    put(&elsewhere, "precious");
    std::os::unix::fs::symlink(&elsewhere, out.join("estimate.json")).unwrap();
    std::os::unix::fs::symlink(root.path(), out.join(".staging-link42")).unwrap();
    assert!(try_publish(&out, &[("estimate.json", "{}")], Replacing::Ours).is_err());
    publish(&out, &[("estimate.json", "{}")], Replacing::Everything);
    assert_eq!(fs::read_to_string(&elsewhere).unwrap(), "precious");
    assert_eq!(fs::read_to_string(out.join("estimate.json")).unwrap(), "{}");
    assert!(
        root.path().join("precious.txt").exists(),
        "a linked staging folder is not swept"
    );
}

#[test]
fn messages_name_the_verb_and_the_path() {
    let (root, _) = folder();
    let file = root.path().join("file");
    put(&file, "");
    assert_eq!(
        survey(&file, &[], Replacing::Ours)[0].sentence,
        "the output folder is a file"
    );
    let below = file.join("out");
    let problem = Staging::open(&below, Replacing::Ours).unwrap_err();
    assert_eq!(problem.fault, Fault::File);
    assert!(
        problem
            .sentence
            .starts_with(&format!("cannot create folder {}: ", below.display())),
        "{}",
        problem.sentence
    );
    let out = root.path().join("out");
    fs::create_dir_all(out.join("estimate.json")).unwrap();
    let problem = &survey(&out, &["estimate.json"], Replacing::Everything)[0];
    assert_eq!(
        problem.sentence,
        "there is a folder named estimate.json where an output goes"
    );
}

#[test]
fn a_rename_that_fails_half_way_keeps_track_of_what_is_ours() {
    let (_root, out) = folder();
    publish(&out, &[("a.json", "1"), ("b.json", "1")], Replacing::Ours);
    let mut staging = Staging::open(&out, Replacing::Ours).unwrap();
    staging.add("a.json", b"2").unwrap();
    staging.add("b.json", b"2").unwrap();
    // The staged second file vanishes, as by another program.
    fs::remove_file(staging.room().join("b.json")).unwrap();
    let problems = staging.publish().unwrap_err();
    assert!(problems[0].sentence.starts_with("cannot replace "));
    check_holds(&out, &[("a.json", "2"), ("b.json", "1")]);
    publish(&out, &[("a.json", "3"), ("b.json", "3")], Replacing::Ours);
    check_holds(&out, &[("a.json", "3"), ("b.json", "3")]);
}

#[test]
fn a_list_that_cannot_be_read_makes_nothing_ours() {
    let (_root, out) = folder();
    publish(&out, &[("a.json", "1")], Replacing::Ours);
    put(&out.join(MANIFEST), "{ broken");
    let problems = try_publish(&out, &[("a.json", "2")], Replacing::Ours).unwrap_err();
    assert_eq!(
        problems[0].sentence,
        "a.json was not written by this program, so it is not replaced"
    );
}

#[test]
fn what_is_put_beside_others_takes_the_place_of_none() {
    let (_root, out) = folder();
    publish(&out, &[("estimate.json", "1")], Replacing::Ours);
    let mut staging = Staging::open(&out, Replacing::Ours)
        .unwrap()
        .beside_others();
    staging.add("job - marked.xlsx", b"2").unwrap();
    assert!(staging.publish().unwrap().notices.is_empty());
    check_holds(&out, &[("estimate.json", "1"), ("job - marked.xlsx", "2")]);
    // Both stay known: the next estimate replaces its own file, and the copy is an earlier output of ours.
    publish(
        &out,
        &[("estimate.json", "3"), ("job - marked.xlsx", "4")],
        Replacing::Ours,
    );
    check_holds(&out, &[("estimate.json", "3"), ("job - marked.xlsx", "4")]);
}
