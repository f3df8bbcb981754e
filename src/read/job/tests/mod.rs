//! Whole jobs from CSV text: what a good one means, and what is said about usual mistakes.

use std::fs::File;
use std::io::Write;

use rust_decimal::Decimal;

use super::super::library::builtin;
use super::super::open::Source;
use super::{Loaded, read_job};
use crate::model::job::Job;
use crate::problem::{Severity, Staged};

mod blocks;
mod by_measure;
mod good;
mod ground;
mod hostile;
mod joined;
mod mistakes;
mod pieces;
mod rules;
mod stacked;
mod strangers;
mod words;
mod workers;

/// A folder of CSV files, by sheet.
type Sheets<'a> = &'a [(&'a str, &'a str)];

fn read(sheets: Sheets<'_>) -> Staged<Option<Loaded>> {
    let folder = tempfile::tempdir().unwrap();
    for (sheet, text) in sheets {
        let mut file = File::create(folder.path().join(format!("{sheet}.csv"))).unwrap();
        file.write_all(text.as_bytes()).unwrap();
    }
    read_job(&Source::Path(folder.path().to_owned()), &builtin())
}

/// Everything that is told, of one weight, in full.
fn told(sheets: Sheets<'_>, severity: Severity) -> Vec<String> {
    let staged = read(sheets);
    let sources = staged.output.map(|l| l.sources).unwrap_or_default();
    let wanted = staged.problems.iter().filter(|p| p.severity == severity);
    wanted.map(|p| p.in_full(&sources)).collect()
}

/// A job that must have no errors.
#[track_caller]
fn job(sheets: Sheets<'_>) -> Job {
    let staged = read(sheets);
    let loaded = staged.output.expect("the job is read");
    let errors: Vec<String> = staged
        .problems
        .iter()
        .filter(|p| p.severity == Severity::Error)
        .map(|p| p.in_full(&loaded.sources))
        .collect();
    assert_eq!(errors, Vec::<String>::new());
    loaded.job
}

/// The errors of a job, which must be exactly these.
#[track_caller]
fn check_errors(sheets: Sheets<'_>, expected: &[&str]) {
    assert_eq!(told(sheets, Severity::Error), expected);
}

/// One bed with more columns than every bed needs.
#[track_caller]
fn check_bed_error(columns: &str, values: &str, expected: &str) {
    let text = format!("Bed,Frame,{columns}\nA1,2x10,{values}\n");
    check_errors(&[("Beds", &text)], &[expected]);
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}
