//! Ways of writing that people use: folders with one small file that holds ONE oddity, and what it must be read as.
//!
//! A folder of `tests/dialects` holds a file (`Beds.csv`, `job.xlsx`) or a folder `job` of CSV files, and `expect.md`
//! (a `book.txt` stands for the workbook `job.xlsx` that it describes: see `books`):
//! a heading, a line of prose on why people write so, and statements, which are its list items:
//! ```text
//! - `Beds A Length` = 7 ft 10.5 in           the reading: with plain units, 15%, 12.50, yes, 2026-05-04, "words", nothing
//! - beds = 3                                 how many beds were read
//! - error at `Beds.csv:2:3`: needs a unit    an error at a place (`at` may be left out), and a part of its sentence
//!   hint: write 8 ft                         a part of its hint
//! - notice: was read as                      a notice, in the same way; a caution likewise
//! - no notice: semicolon                     no message of this kind holds this
//! ```
//! An error that no statement expects fails the case; other messages may be there unsaid. The sheet, row and
//! column of a reading are named as in the file: `Prices Compost Price`, `Job Profit %`, `Fills Deep 1 Depth`
//! (the first layer), `Mixes Blend Compost Parts`.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use loamwright::model::source::Sources;
use loamwright::problem::{Problem, Severity};
use loamwright::read::{Loaded, Source, library, read_job};

use crate::books;
use crate::folders::{folders_in, name_of, root};
use crate::readings::reading;

/// Folders that there are at least, so that none is lost unseen.
const FEWEST: usize = 250;

/// One statement of `expect.md`.
#[derive(Clone, Debug, PartialEq)]
enum Statement {
    Reads {
        path: String,
        value: String,
    },
    Beds(usize),
    Told(Message),
    Untold {
        severity: Severity,
        sentence: String,
    },
}

/// A message by parts of it.
#[derive(Clone, Debug, PartialEq)]
struct Message {
    severity: Severity,
    place: Option<String>,
    sentence: String,
    hint: Option<String>,
}

/// Statements of an `expect.md`, or which line is none.
fn statements(words: &str) -> Result<Vec<Statement>, String> {
    let mut found = Vec::new();
    for line in words.lines() {
        if let Some(hint) = line.strip_prefix("  hint: ") {
            let Some(Statement::Told(Message {
                hint: slot @ None, ..
            })) = found.last_mut()
            else {
                return Err(format!("a hint belongs to a message: {line}"));
            };
            *slot = Some(hint.to_owned());
        } else if let Some(item) = line.strip_prefix("- ") {
            let statement = statement(item).filter(|_| item == item.trim());
            found.push(statement.ok_or_else(|| format!("cannot be understood: {line}"))?);
        } else if line.starts_with([' ', '*', '-', '`']) {
            return Err(format!("is neither prose nor a statement: {line}"));
        }
    }
    Ok(found)
}

fn statement(item: &str) -> Option<Statement> {
    if let Some(rest) = item.strip_prefix('`') {
        let (path, value) = rest.split_once("` = ")?;
        let (path, value) = (path.to_owned(), value.to_owned());
        return Some(Statement::Reads { path, value });
    }
    if let Some(number) = item.strip_prefix("beds = ") {
        return number.parse().ok().map(Statement::Beds);
    }
    if let Some(rest) = item.strip_prefix("no ") {
        let (severity, sentence) = rest.split_once(": ")?;
        let (severity, sentence) = (kind(severity)?, sentence.to_owned());
        return Some(Statement::Untold { severity, sentence });
    }
    let (word, rest) = item.split_at(item.find([' ', ':'])?);
    let (place, rest) = match rest.strip_prefix(" at `") {
        Some(rest) => {
            let (place, rest) = rest.split_once('`')?;
            (Some(place.to_owned()), rest)
        }
        None => (None, rest),
    };
    Some(Statement::Told(Message {
        severity: kind(word)?,
        place,
        sentence: rest
            .strip_prefix(": ")
            .filter(|s| !s.is_empty())?
            .to_owned(),
        hint: None,
    }))
}

fn kind(word: &str) -> Option<Severity> {
    match word {
        "error" => Some(Severity::Error),
        "caution" => Some(Severity::Caution),
        "notice" => Some(Severity::Notice),
        _ => None,
    }
}

/// What a reader said about one job.
struct Heard {
    loaded: Option<Loaded>,
    problems: Vec<Problem>,
    sources: Sources,
}

impl Heard {
    fn of(job: &Path) -> Self {
        let staged = read_job(&Source::Path(job.to_owned()), &library::builtin());
        let sources = staged.output.as_ref().map(|l| l.sources.clone());
        Self {
            loaded: staged.output,
            problems: staged.problems,
            sources: sources.unwrap_or_default(),
        }
    }

    fn is(&self, problem: &Problem, message: &Message) -> bool {
        let spot = || problem.spot.and_then(|s| self.sources.place(s));
        let place = problem.place.clone().or_else(spot);
        let hint = problem.hint.as_deref().unwrap_or_default();
        problem.severity == message.severity
            && problem.sentence.contains(&message.sentence)
            && message
                .place
                .as_ref()
                .is_none_or(|p| place.as_ref() == Some(p))
            && message.hint.as_ref().is_none_or(|h| hint.contains(h))
    }

    /// What does not hold of a statement.
    fn mistake(&self, statement: &Statement) -> Option<String> {
        match statement {
            Statement::Reads { path, value } => {
                let Some(loaded) = &self.loaded else {
                    return Some(format!("{path}: nothing was read"));
                };
                match reading(loaded, path).and_then(|r| Ok((r.is(value)?, r.shown()))) {
                    Ok((true, _)) => None,
                    Ok((false, shown)) => Some(format!("{path}\n    - {value}\n    + {shown}")),
                    Err(why) => Some(why),
                }
            }
            Statement::Beds(number) => {
                let read = self.loaded.as_ref().map_or(0, |l| l.job.beds.len());
                (read != *number).then(|| format!("beds\n    - {number}\n    + {read}"))
            }
            Statement::Told(message) => {
                let told = self.problems.iter().any(|p| self.is(p, message));
                (!told).then(|| format!("not told\n    - {}", message.shown()))
            }
            Statement::Untold { severity, sentence } => {
                let mut problems = self.problems.iter();
                let told =
                    problems.find(|p| p.severity == *severity && p.sentence.contains(sentence));
                told.map(|p| format!("told, but must not be\n    + {}", self.shown(p)))
            }
        }
    }

    fn shown(&self, problem: &Problem) -> String {
        problem.in_full(&self.sources).replace('\n', "\n    +")
    }
}

impl Message {
    fn shown(&self) -> String {
        let word = format!("{:?}", self.severity).to_lowercase();
        let mut text = format!("{word}: {}", self.sentence);
        if let Some(place) = &self.place {
            let _ = write!(text, "\n    -  at {place}");
        }
        if let Some(hint) = &self.hint {
            let _ = write!(text, "\n    -  hint: {hint}");
        }
        text
    }
}

/// The job of a folder: the folder `job`, or the only file beside `expect.md`.
fn job_of(folder: &Path) -> Result<PathBuf, String> {
    let entries = fs::read_dir(folder).map_err(|e| e.to_string())?;
    let mut others: Vec<PathBuf> = entries
        .map(|entry| entry.unwrap().path())
        .filter(|path| name_of(path) != "expect.md")
        .collect();
    match (others.pop(), others.is_empty()) {
        (Some(job), true) if job.is_file() || name_of(&job) == "job" => Ok(job),
        _ => Err("holds neither one file nor a folder called job beside expect.md".to_owned()),
    }
}

/// The folder with the workbook that a `book.txt` describes.
fn book_of(job: &Path) -> Result<Option<tempfile::TempDir>, String> {
    if name_of(job) != "book.txt" {
        return Ok(None);
    }
    let folder = tempfile::tempdir().map_err(|e| e.to_string())?;
    let text = fs::read_to_string(job).map_err(|e| e.to_string())?;
    books::write(&text, &folder.path().join("job.xlsx"))?;
    Ok(Some(folder))
}

/// Everything that is wrong with a case.
fn mistakes(folder: &Path) -> Vec<String> {
    let words = fs::read_to_string(folder.join("expect.md"));
    let case = words
        .map_err(|_| "there is no expect.md".to_owned())
        .and_then(|words| Ok((statements(&words)?, job_of(folder)?, words)));
    let (statements, job, words) = match case {
        Ok(case) => case,
        Err(why) => return vec![why],
    };
    let is_prose = |l: &str| l.starts_with(|c: char| c.is_alphanumeric() || c == '"' || c == '(');
    if !words.starts_with("# ") || !words.lines().any(is_prose) {
        return vec![
            "expect.md does not say in a heading and a line what is odd and why".to_owned(),
        ];
    }
    if statements.is_empty() {
        return vec!["expect.md states nothing".to_owned()];
    }
    let made = match book_of(&job) {
        Ok(made) => made,
        Err(why) => return vec![format!("book.txt cannot be understood: {why}")],
    };
    let heard = Heard::of(&made.as_ref().map_or(job, |f| f.path().join("job.xlsx")));
    let unheard = statements.iter().filter_map(|s| heard.mistake(s));
    let expects = |p: &&Problem| {
        let is = |s: &Statement| matches!(s, Statement::Told(message) if heard.is(p, message));
        !statements.iter().any(is)
    };
    let errors = heard
        .problems
        .iter()
        .filter(|p| p.severity == Severity::Error);
    let unasked = errors.filter(expects);
    let unasked = unasked.map(|p| format!("not expected\n    + {}", heard.shown(p)));
    unheard.chain(unasked).collect()
}

#[test]
fn every_dialect_is_read_as_it_is_meant() {
    let folders = folders_in(&root("tests/dialects"));
    assert!(folders.len() >= FEWEST, "only {} dialects", folders.len());
    let mut wrong = String::new();
    let mut failing = 0;
    for folder in &folders {
        let mistakes = mistakes(folder);
        failing += usize::from(!mistakes.is_empty());
        for mistake in mistakes {
            let _ = writeln!(wrong, "{}: {mistake}", name_of(folder));
        }
    }
    assert!(
        wrong.is_empty(),
        "{failing} of {} dialects fail (- expected, + found):\n{wrong}",
        folders.len()
    );
}

/// What is wrong with a bed of `8 ft` and a bare height when a case states this.
fn of_a_case(expect: &str) -> String {
    let folder = tempfile::tempdir().unwrap();
    let beds = "Bed,Length,Width,Height,Frame\nA,8 ft,4 ft,18 in,2x10\nB,8 ft,4 ft,18,2x10\n";
    fs::write(folder.path().join("Beds.csv"), beds).unwrap();
    fs::write(folder.path().join("expect.md"), expect).unwrap();
    mistakes(folder.path()).join("\n")
}

#[test]
fn a_wrong_expectation_is_found() {
    let head = "# A height without a unit\nThe header was meant to say it.\n";
    let error = "- error at `Beds.csv:3:4`: needs a unit\n  hint: write 18\n";
    let of = |more: &str| of_a_case(&format!("{head}{error}{more}"));
    for right in [
        "",
        "- `Beds A Length` = 8 ft",
        "- `Beds A Length` = 7 ft 12 in",
        "- beds = 1",
        "- no notice: semicolons",
        "- notice: Measured is not set",
        "- `Beds A Fill` = nothing",
        "- `Beds A Frame` = \"2x10\"",
    ] {
        assert_eq!(of(right), "", "{right}");
    }
    for (wrong, said) in [
        ("- `Beds A Length` = 9 ft", "- 9 ft\n    + 2.4384 m (8')"),
        ("- `Beds A Length` = 8", "- 8\n"),
        ("- `Beds A Length` = 8 feet", "not understood"),
        ("- `Beds A Wide` = 8 ft", "does not end with a column"),
        ("- `Beds C Length` = 8 ft", "no such row"),
        ("- beds = 2", "- 2\n    + 1"),
        ("- no notice: Measured", "told, but must not be"),
        ("- notice: Measured is set", "not told"),
        ("- error at `Beds.csv:2:4`: needs a unit", "not told"),
        ("- eror: needs a unit", "cannot be understood"),
        ("- beds are 2", "cannot be understood"),
        ("* beds = 2", "neither prose nor a statement"),
        ("\n  hint: write 18", "hint belongs to a message"),
    ] {
        let found = of(wrong);
        assert!(found.contains(said), "{wrong}: {found}");
    }
    assert!(of_a_case(head).contains("states nothing"));
    assert!(of_a_case(&format!("{head}- beds = 1")).contains("not expected"));
    assert!(of_a_case("- beds = 1").contains("what is odd and why"));
}
