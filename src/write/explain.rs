//! How a figure came about, for the terminal and as JSON.

use serde::Serialize;

use super::columns::{clean, fit, wrap};
use super::screen::Screen;
use crate::price::explain::{Found, Step};
use crate::units::Decimal;

/// Everything that was found, each line ended.
pub fn explain_text(found: &[Found], screen: Screen) -> String {
    let mut lines = Vec::new();
    for one in found {
        if !lines.is_empty() {
            lines.push(String::new());
        }
        lines.push(screen.paint.heading(&fit(&one.title, screen.width)));
        for step in &one.steps {
            lines.extend(step_lines(step, screen.width));
        }
    }
    lines.into_iter().map(|line| line + "\n").collect()
}

/// `  Overhead = 12% x 9,927.75 = 1,191.33  [job.xlsx!Job!B14]`
fn step_lines(step: &Step, width: usize) -> Vec<String> {
    let indent = "  ".repeat(step.depth.saturating_add(1));
    let mut words = clean(&step.what);
    // A figure that is one other figure needs no arithmetic.
    if !step.arithmetic.is_empty() && !is_same(&step.arithmetic, &step.value) {
        words = format!("{words} = {}", clean(&step.arithmetic));
    }
    if !step.value.is_empty() {
        words = format!("{words} = {}", clean(&step.value));
    }
    if !step.from.is_empty() {
        words = format!("{words}  [{}]", clean(&step.from));
    }
    wrap(&format!("{indent}{words}"), width, &format!("{indent}    "))
}

/// Whether two texts are one figure: `15.00` and `15`.
fn is_same(a: &str, b: &str) -> bool {
    let number = |text: &str| text.replace(',', "").parse::<Decimal>().ok();
    a == b || number(a).is_some_and(|a| Some(a) == number(b))
}

#[derive(Serialize)]
struct FoundJson<'a> {
    title: &'a str,
    steps: Vec<StepJson<'a>>,
}

#[derive(Serialize)]
struct StepJson<'a> {
    depth: usize,
    what: &'a str,
    arithmetic: &'a str,
    value: &'a str,
    from: &'a str,
}

#[derive(Serialize)]
struct ExplainJson<'a> {
    schema: &'static str,
    found: Vec<FoundJson<'a>>,
}

/// The same as JSON.
///
/// # Errors
/// Never in practice: all parts are plain text.
pub fn explain_json(found: &[Found]) -> Result<String, serde_json::Error> {
    let step = |step| {
        let step: &Step = step;
        StepJson {
            depth: step.depth,
            what: &step.what,
            arithmetic: &step.arithmetic,
            value: &step.value,
            from: &step.from,
        }
    };
    let found = found.iter().map(|one| FoundJson {
        title: &one.title,
        steps: one.steps.iter().map(step).collect(),
    });
    let tree = ExplainJson {
        schema: "loamwright explain 1",
        found: found.collect(),
    };
    serde_json::to_string_pretty(&tree).map(|text| text + "\n")
}
