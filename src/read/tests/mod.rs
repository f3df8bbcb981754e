//! Jobs in every form, as small worked examples.

mod damage;
mod layouts;
mod read_back;
mod texts;
mod workbooks;

use std::path::Path;

use super::{Opened, Source, open, rows};
use crate::model::sheet::Sheet;
use crate::problem::Problem;

/// Opens CSV text of beds.
pub(super) fn opened_text(text: &str) -> (Opened, Vec<Problem>) {
    let source = Source::Text {
        name: "beds.csv".to_owned(),
        text: text.as_bytes().to_vec(),
    };
    opened(&source)
}

pub(super) fn opened(source: &Source) -> (Opened, Vec<Problem>) {
    let staged = open(source);
    let problems = staged.problems;
    let opened = staged.output.unwrap_or_else(|| panic!("{problems:?}"));
    (opened, problems)
}

pub(super) fn opened_path(path: &Path) -> (Opened, Vec<Problem>) {
    opened(&Source::Path(path.to_path_buf()))
}

/// The problems as printed.
pub(super) fn printed(opened: &Opened, problems: &[Problem]) -> Vec<String> {
    problems
        .iter()
        .map(|p| p.in_full(&opened.sources))
        .collect()
}

/// The texts of one column of a sheet, `-` for an empty cell.
pub(super) fn column(opened: &Opened, sheet: Sheet, field: &'static str) -> Vec<String> {
    let texts = rows(opened, sheet).map(|row| row.text(field));
    texts
        .map(|text| text.map_or_else(|| "-".to_owned(), |t| t.to_string()))
        .collect()
}

/// Problems of opening `source`, which yields no job.
#[track_caller]
pub(super) fn refused(source: &Source) -> Vec<Problem> {
    let staged = open(source);
    assert!(staged.output.is_none(), "{:?}", staged.output);
    assert!(staged.has_errors());
    staged.problems
}
