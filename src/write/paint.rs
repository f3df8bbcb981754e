//! Colour for headings and warnings. What is coloured is also said in words.

/// Whether text is coloured.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paint {
    /// No colour.
    #[default]
    Plain,
    /// ANSI colours.
    Coloured,
}

impl Paint {
    /// A heading.
    pub fn heading(self, text: &str) -> String {
        self.wrapped("1", text)
    }

    /// Something that must not be missed.
    pub fn warning(self, text: &str) -> String {
        self.wrapped("1;31", text)
    }

    /// A message of `severity`'s weight: its first word in colour.
    pub fn message(self, severity: crate::problem::Severity, text: &str) -> String {
        use crate::problem::Severity;
        let code = match severity {
            Severity::Error => "1;31",
            Severity::Caution => "1;33",
            Severity::Notice => "1;36",
        };
        match text.split_once(':') {
            Some((word, rest)) => format!("{}:{rest}", self.wrapped(code, word)),
            None => text.to_owned(),
        }
    }

    fn wrapped(self, code: &str, text: &str) -> String {
        match self {
            Self::Plain => text.to_owned(),
            Self::Coloured => format!("\u{1b}[{code}m{text}\u{1b}[0m"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Severity;

    #[test]
    fn colour_adds_no_words_and_takes_none() {
        assert_eq!(Paint::Plain.heading("Orders"), "Orders");
        assert_eq!(
            Paint::Coloured.heading("Orders"),
            "\u{1b}[1mOrders\u{1b}[0m"
        );
        assert_eq!(
            Paint::Coloured.message(Severity::Error, "error: no height"),
            "\u{1b}[1;31merror\u{1b}[0m: no height"
        );
    }
}
