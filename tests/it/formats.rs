//! One job gives one estimate, whatever kind of workbook it came in.

use std::fs;

use crate::folders::root;
use crate::pipeline::{priced, text};

#[test]
fn every_kind_of_workbook_gives_the_same_json() {
    let expected = text(&priced(&root("examples/clinic-gardens/job")));
    let mut seen = 0;
    for entry in fs::read_dir(root("tests/formats")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_some_and(|ending| ending == "md") {
            continue;
        }
        seen += 1;
        let found = text(&priced(&path));
        for (line, (a, b)) in (1..).zip(found.lines().zip(expected.lines())) {
            assert_eq!(a, b, "{} line {line}", path.display());
        }
        assert!(found == expected, "{}", path.display());
    }
    assert_eq!(seen, 3);
}
