//! How a figure came about, step by step, when somebody asks.
//!
//! The take-off runs the same way whether it is watched or not. Nobody watching is `()`, for which
//! no text is ever made; [`Steps`] keeps one line for each named figure.

/// Somebody who may watch the arithmetic.
pub trait Trace {
    /// One named figure: what it is, the arithmetic that leads to it, and its value in words.
    /// Both texts are made only when somebody watches.
    fn step(
        &mut self,
        what: &'static str,
        arithmetic: impl FnOnce() -> String,
        value: impl FnOnce() -> String,
    );
}

/// Nobody watches.
impl Trace for () {
    fn step(
        &mut self,
        _what: &'static str,
        _arithmetic: impl FnOnce() -> String,
        _value: impl FnOnce() -> String,
    ) {
    }
}

/// One named figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What it is: `inside length`.
    pub what: &'static str,
    /// How it was reckoned: `8' - 2 x 1 1/2"`.
    pub arithmetic: String,
    /// What came out: `7' 9"`.
    pub value: String,
}

impl std::fmt::Display for Step {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} = {} = {}", self.what, self.arithmetic, self.value)
    }
}

/// All named figures of one bed, in the order reckoned.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Steps(pub Vec<Step>);

impl Steps {
    /// The last step of that name.
    pub fn last(&self, what: &str) -> Option<&Step> {
        self.0.iter().rev().find(|step| step.what == what)
    }
}

impl Trace for Steps {
    fn step(
        &mut self,
        what: &'static str,
        arithmetic: impl FnOnce() -> String,
        value: impl FnOnce() -> String,
    ) {
        self.0.push(Step {
            what,
            arithmetic: arithmetic(),
            value: value(),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_reads_as_a_line_and_nobody_watching_makes_no_text() {
        let mut steps = Steps::default();
        steps.step(
            "inside length",
            || "8' - 2 x 1 1/2\"".to_owned(),
            || "7' 9\"".to_owned(),
        );
        assert_eq!(
            steps.0[0].to_string(),
            "inside length = 8' - 2 x 1 1/2\" = 7' 9\""
        );
        ().step("unseen", || panic!("made"), || panic!("made"));
    }
}
