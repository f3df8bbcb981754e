//! What people call things: finding words in names, and listing names in a sentence.

/// Whether one of `phrases` stands in `text` as whole words, and is not denied by the word before it.
///
/// `Untreated` and `not treated` do not speak of `treated`; `Pressure-treated 2x10` does.
pub(super) fn speaks_of(text: &str, phrases: &[impl AsRef<str>]) -> bool {
    let text = words(text);
    phrases.iter().any(|phrase| {
        let phrase = words(phrase.as_ref());
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

/// `A`, `A and B`, `A, B and C`, `A, B, C and 4 more`.
pub(super) fn first_three(names: impl Iterator<Item = String>) -> String {
    const SHOWN: usize = 3;
    let names: Vec<String> = names.collect();
    let more = names.len().saturating_sub(SHOWN);
    let mut shown: Vec<String> = names.into_iter().take(SHOWN).collect();
    let last = if more > 0 {
        Some(format!("{more} more"))
    } else {
        shown.pop()
    };
    match (shown.is_empty(), last) {
        (true, last) => last.unwrap_or_default(),
        (false, Some(last)) => format!("{} and {last}", shown.join(", ")),
        (false, None) => shown.join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check_speaks(text: &str, phrase: &str, expected: bool) {
        assert_eq!(speaks_of(text, &[phrase]), expected, "{text}");
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

    #[test]
    fn three_names_are_said_and_the_others_counted() {
        let listed = |n: usize| {
            first_three(
                ["A", "B", "C", "D", "E"]
                    .iter()
                    .take(n)
                    .map(|s| (*s).to_owned()),
            )
        };
        assert_eq!(listed(0), "");
        assert_eq!(listed(1), "A");
        assert_eq!(listed(2), "A and B");
        assert_eq!(listed(3), "A, B and C");
        assert_eq!(listed(5), "A, B, C and 2 more");
    }
}
