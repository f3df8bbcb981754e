//! Worked examples: folders with a job and what must come out of it, with the arithmetic by hand.
//!
//! `expect.md` is prose; each of its lines of the form
//! ```text
//! - `path` = value: words        exactly this number, amount with its unit, or "text"
//! - `path` ~ value: words        this number when rounded to the decimals typed
//! - `path` has "text": words     a list with a message or text that holds this
//! - `path` = nothing: words      nothing there
//! ```
//! is checked against `estimate.json`. A part of a path is a field, a place in a list (from 0), or what
//! an element of a list is called (`beds.B1.cost`, `price.lines.overhead`).

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;

use crate::folders::{folders_in, name_of, root};
use crate::pipeline::{price, tree};

/// Fields by which an element of a list is called, the first that it has.
const NAMES: [&str; 9] = [
    "key",
    "name",
    "first_bed",
    "setting",
    "task",
    "material",
    "item",
    "vehicle",
    "site",
];

/// One checked line.
#[derive(Debug, PartialEq)]
struct Expected {
    path: String,
    how: How,
}

#[derive(Debug, PartialEq)]
enum How {
    Is(String),
    Rounds(String),
    Has(String),
}

/// The checked line that `line` is; nothing for prose.
fn expected(line: &str) -> Option<Result<Expected, String>> {
    let rest = line.strip_prefix("- `")?;
    Some(parsed(rest).ok_or_else(|| format!("cannot be understood: {line}")))
}

fn parsed(rest: &str) -> Option<Expected> {
    let (path, rest) = rest.split_once("` ")?;
    let (sign, rest) = rest.split_once(' ')?;
    let value = match rest.strip_prefix('"') {
        Some(text) => text.split_once('"')?.0,
        None => rest.split_once(": ").map_or(rest, |(value, _)| value),
    };
    let value = value.trim().to_owned();
    let how = match sign {
        "=" => How::Is(value),
        "~" => How::Rounds(value),
        "has" if rest.starts_with('"') => How::Has(value),
        _ => return None,
    };
    let path = path.to_owned();
    Some(Expected { path, how })
}

/// What stands at a path.
fn found<'v>(tree: &'v Value, path: &str) -> Result<&'v Value, String> {
    let mut here = tree;
    for part in path.split('.') {
        here = match here {
            Value::Object(fields) => fields.get(part),
            Value::Array(list) => match part.parse::<usize>() {
                Ok(place) => list.get(place),
                Err(_) => only(list, part)?,
            },
            _ => None,
        }
        .ok_or_else(|| format!("{path}: there is no {part}"))?;
    }
    Ok(here)
}

/// The only element of that name.
fn only<'v>(list: &'v [Value], name: &str) -> Result<Option<&'v Value>, String> {
    let mut called = list.iter().filter(|e| called(e) == Some(name));
    match (called.next(), called.next()) {
        (one, None) => Ok(one),
        _ => Err(format!("several are called {name}")),
    }
}

fn called(element: &Value) -> Option<&str> {
    NAMES.iter().find_map(|field| element.get(field)?.as_str())
}

/// A figure of the JSON in words: with its unit when it has one.
fn figure(value: &Value) -> Result<(String, &str), String> {
    let value = value.get("amount").unwrap_or(value);
    let (number, unit) = match (value.get("number"), value.get("unit")) {
        (Some(number), Some(unit)) => (number, unit.as_str().unwrap()),
        _ => (value, ""),
    };
    match number {
        Value::String(text) => Ok((text.clone(), unit)),
        Value::Number(count) => Ok((count.to_string(), unit)),
        Value::Bool(truth) => Ok((truth.to_string(), unit)),
        Value::Null => Ok(("nothing".to_owned(), unit)),
        other => Err(format!("is no figure: {other}")),
    }
}

fn check(tree: &Value, expected: &Expected) -> Result<(), String> {
    let value = found(tree, &expected.path)?;
    let path = &expected.path;
    let holds = match &expected.how {
        How::Has(text) => value.as_array().is_some_and(|list| {
            let told = list.iter().map(|e| e.get("sentence").unwrap_or(e));
            told.into_iter()
                .any(|t| t.as_str().is_some_and(|t| t.contains(text)))
        }),
        How::Is(wanted) => {
            let (text, unit) = figure(value)?;
            let (number, wanted_unit) = wanted.split_once(' ').unwrap_or((wanted, ""));
            let same_number = match (text.parse::<Decimal>(), number.parse::<Decimal>()) {
                (Ok(a), Ok(b)) => a == b && unit == wanted_unit,
                _ => false,
            };
            same_number || (text == *wanted && unit.is_empty())
        }
        How::Rounds(wanted) => {
            let (text, unit) = figure(value)?;
            let (number, wanted_unit) = wanted.split_once(' ').unwrap_or((wanted, ""));
            let exact: Decimal = text.parse().map_err(|e| format!("{path}: {text}: {e}"))?;
            let number: Decimal = number
                .parse()
                .map_err(|e| format!("{path}: {number}: {e}"))?;
            let half = RoundingStrategy::MidpointAwayFromZero;
            exact.round_dp_with_strategy(number.scale(), half) == number && unit == wanted_unit
        }
    };
    if holds {
        Ok(())
    } else {
        Err(format!("{path} is {value}, not {:?}", expected.how))
    }
}

/// Everything that is wrong with a case.
fn mistakes(folder: &Path) -> Vec<String> {
    let Ok(words) = fs::read_to_string(folder.join("expect.md")) else {
        return vec!["there is no expect.md".to_owned()];
    };
    let lines: Vec<_> = words.lines().filter_map(expected).collect();
    if lines.is_empty() {
        return vec!["expect.md checks nothing".to_owned()];
    }
    let tree = match price(&folder.join("job"), None) {
        Ok(estimate) => tree(&estimate),
        Err(problems) => return vec![format!("has no price: {problems:#?}")],
    };
    let checked = lines
        .into_iter()
        .map(|line| line.and_then(|l| check(&tree, &l)));
    checked.filter_map(Result::err).collect()
}

#[test]
fn every_worked_example_comes_out_as_by_hand() {
    let folders = folders_in(&root("tests/worked"));
    assert!(folders.len() > 20, "only {} worked examples", folders.len());
    let mut wrong = String::new();
    for folder in folders {
        for mistake in mistakes(&folder) {
            let _ = writeln!(wrong, "{}: {mistake}", name_of(&folder));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn a_wrong_expectation_is_found() {
    let tree: Value = serde_json::from_str(
        r#"{"lines": [{"key": "fee", "amount": "12.50"}, {"key": "tax", "amount": "0.00"}],
            "need": {"number": "1.40092", "unit": "yd3"}, "why": "least", "none": null,
            "twice": [{"name": "a"}, {"name": "a"}], "notices": [{"sentence": "it sinks 2 in"}]}"#,
    )
    .unwrap();
    let holds = |line: &str| {
        let line = expected(line).unwrap().unwrap();
        check(&tree, &line).is_ok()
    };
    for right in [
        "- `lines.fee` = 12.5: one trip",
        "- `lines.1` = 0.00",
        "- `need` ~ 1.4009 yd3: at 0.846",
        "- `why` = \"least\": of two",
        "- `none` = nothing",
        "- `notices` has \"sinks 2 in\"",
    ] {
        assert!(holds(right), "{right}");
    }
    for wrong in [
        "- `lines.fee` = 12.51",
        "- `lines.gone` = 0",
        "- `lines.2` = 0",
        "- `need` ~ 1.4009 m3",
        "- `need` ~ 1.4009",
        "- `need` = 1.4009 yd3",
        "- `why` = \"most\"",
        "- `why` = nothing",
        "- `none` = 0",
        "- `twice.a` = 1",
        "- `notices` has \"sinks 3 in\"",
        "- `lines` has \"fee\"",
    ] {
        assert!(!holds(wrong), "{wrong}");
    }
    assert!(expected("- `lines.fee` is 12.50").unwrap().is_err());
    assert!(expected("The fee is `12.50`.").is_none());
}
