//! Problems, cautions and notices in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::model::sheet::Sheet;
use crate::model::source::{RowAt, Sources};
use crate::price::Estimate;
use crate::price::assumptions::Assumption;
use crate::problem::{Fault, Problem, Severity, Spot, printable};

/// Something to tell about the job, named by sheet, row and column and not by file and cell, so that
/// it reads the same in whatever form the job came.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MessageJson {
    /// What it says.
    pub sentence: String,
    /// The sheet that it is about.
    pub sheet: Option<String>,
    /// The row, by the name in its naming column: `Bed 3`.
    pub row: Option<String>,
    /// The column.
    pub column: Option<String>,
    /// What to do about it.
    pub hint: Option<String>,
}

/// One figure that the job did not give.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AssumptionJson {
    /// What it is.
    pub what: String,
    /// What it was used for.
    pub used_for: String,
    /// Its value with the unit.
    pub value: String,
    /// Where it comes from.
    pub basis: String,
    /// How sure it is.
    pub confidence: String,
}

/// One problem of a job file, as `check --json` prints it. Here the place is that of the file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProblemJson {
    /// `error`, `caution` or `notice`.
    pub severity: String,
    /// `input`, `file` or `bug`.
    pub fault: String,
    /// What it says.
    pub sentence: String,
    /// Where: `job.xlsx!Beds!D7`.
    pub place: Option<String>,
    /// What the cell holds.
    pub holds: Option<String>,
    /// What to write instead.
    pub hint: Option<String>,
}

/// All problems as a JSON list, in the order given.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn problems_json(problems: &[Problem], sources: &Sources) -> Result<String, serde_json::Error> {
    let list: Vec<ProblemJson> = problems.iter().map(|p| problem(p, sources)).collect();
    let mut text = serde_json::to_string_pretty(&list)?;
    text.push('\n');
    Ok(text)
}

fn problem(problem: &Problem, sources: &Sources) -> ProblemJson {
    let place = problem.place.clone();
    let holds = problem.holds.clone();
    let fault = match problem.fault {
        Fault::Input => "input",
        Fault::File => "file",
        Fault::Bug => "bug",
    };
    ProblemJson {
        severity: problem.severity.word().to_owned(),
        fault: fault.to_owned(),
        sentence: problem.sentence.clone(),
        place: place.or_else(|| sources.place(problem.spot?)),
        holds: holds.or_else(|| sources.held(problem.spot?)),
        hint: problem.hint.clone(),
    }
}

/// Messages of one severity, in order of their words. What is about a file rather than the job
/// (hidden rows, encodings) differs by the form in which the job came, and stays out.
pub(super) fn messages(estimate: &Estimate, severity: Severity) -> Vec<MessageJson> {
    let of_severity = estimate.problems.iter().filter(|p| p.severity == severity);
    let about_the_job = of_severity.filter(|p| p.place.is_none() && p.fault != Fault::File);
    let mut messages: Vec<MessageJson> = about_the_job
        .map(|p| message(p, &estimate.sources))
        .collect();
    messages.sort();
    messages.dedup();
    messages
}

fn message(problem: &Problem, sources: &Sources) -> MessageJson {
    let sheet = problem.spot.and_then(|spot| sources.sheet_of(spot.row));
    let column = problem.spot.map(|spot| spot.field.to_owned());
    MessageJson {
        sentence: printable(&problem.sentence),
        sheet: sheet.map(|s| s.title().to_owned()),
        row: sheet.and_then(|s| row_name(problem.spot?.row, s, sources)),
        column: column.filter(|c| !c.is_empty()),
        hint: problem.hint.clone(),
    }
}

fn row_name(row: RowAt, sheet: Sheet, sources: &Sources) -> Option<String> {
    let field = sheet.naming_column();
    let name = sources.held(Spot { row, field })?;
    (!name.is_empty()).then_some(name)
}

/// All assumptions, by what they are.
pub(super) fn assumptions(estimate: &Estimate) -> Vec<AssumptionJson> {
    let one = |a: &Assumption| AssumptionJson {
        what: a.what.clone(),
        used_for: a.used_for.clone(),
        value: a.value.clone(),
        basis: a.basis.clone(),
        confidence: a.confidence.clone(),
    };
    let mut list: Vec<AssumptionJson> = estimate.assumptions.iter().map(one).collect();
    list.sort();
    list
}
