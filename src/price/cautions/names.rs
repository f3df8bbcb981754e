//! Finding words of a caution in what people call things.

use std::sync::Arc;

/// Whether one of `phrases` stands in `text` as whole words, and is not denied by the word before it.
///
/// `Untreated` and `not treated` do not speak of `treated`; `Pressure-treated 2x10` does.
pub(super) fn speaks_of(text: &str, phrases: &[Arc<str>]) -> bool {
    let text = words(text);
    phrases.iter().any(|phrase| {
        let phrase = words(phrase);
        !phrase.is_empty()
            && text
                .windows(phrase.len())
                .enumerate()
                .any(|(at, found)| found == phrase.as_slice() && !denied(&text, at))
    })
}

fn denied(text: &[String], at: usize) -> bool {
    const NO: [&str; 5] = ["no", "non", "not", "never", "without"];
    at.checked_sub(1)
        .and_then(|before| text.get(before))
        .is_some_and(|word| NO.contains(&word.as_str()))
}

fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_speaks(text: &str, phrase: &str, expected: bool) {
        assert_eq!(speaks_of(text, &[phrase.into()]), expected, "{text}");
    }

    #[test]
    fn whole_words_speak_and_denials_do_not() {
        check_speaks("Pressure-treated 2x10", "treated", true);
        check_speaks("Untreated 2x10", "treated", false);
        check_speaks("2x10, not treated", "treated", false);
        check_speaks("Old railroad ties", "railroad", true);
        check_speaks("Logistics", "log", false);
        check_speaks("TELEPHONE  pole", "telephone pole", true);
        check_speaks("telephone and pole", "telephone pole", false);
        check_speaks("Estiércol", "estiércol", true);
        check_speaks("", "log", false);
        check_speaks("log", "", false);
    }
}
