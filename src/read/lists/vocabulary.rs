//! What single words of a supplier's list mean to the trade.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// `kind,word,means`: `short` for another spelling, `pack` for how something is sold, `idle` for a word
/// that says nothing; every other kind is a property, of which a material has one word or none said.
const TABLE: &str = include_str!("../../../templates/list-words.csv");

static KNOWN: LazyLock<Known> = LazyLock::new(Known::new);

#[derive(Default)]
struct Known {
    short: BTreeMap<String, &'static str>,
    meant: BTreeMap<&'static str, Meaning>,
}

/// What a word is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Meaning {
    /// A pack, in the word that the job's prices use: `bag`.
    Pack(&'static str),
    /// It says nothing.
    Idle,
    /// A property that makes another material: which one, and the word for it.
    Telling(&'static str, &'static str),
}

impl Known {
    fn new() -> Self {
        let mut known = Self::default();
        for line in TABLE.lines().skip(1) {
            let mut cells = line.split(',');
            let (Some(kind), Some(word), Some(means)) = (cells.next(), cells.next(), cells.next())
            else {
                continue;
            };
            let meaning = match kind {
                "short" => {
                    known.short.insert(word.to_owned(), means);
                    continue;
                }
                "pack" => Meaning::Pack(means),
                "idle" => Meaning::Idle,
                property => Meaning::Telling(property, means),
            };
            known.meant.insert(word, meaning);
        }
        known
    }
}

/// The usual spelling of a word: in full, without a plural `s`.
pub(super) fn in_full(word: &str) -> String {
    let short = |w: &str| KNOWN.short.get(w).copied();
    if let Some(full) = short(word) {
        return full.to_owned();
    }
    let plural = word.chars().count() > 3 && !word.ends_with("ss");
    let single = word.strip_suffix('s').filter(|_| plural).unwrap_or(word);
    short(single).unwrap_or(single).to_owned()
}

/// What a word in its usual spelling means beyond itself.
pub(super) fn meaning(word: &str) -> Option<Meaning> {
    KNOWN.meant.get(word).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_table_is_whole_and_no_word_stands_twice() {
        let mut seen = std::collections::BTreeSet::new();
        for line in TABLE.lines().skip(1) {
            assert_eq!(line.split(',').count(), 3, "{line}");
            let word = line.split(',').nth(1).unwrap();
            assert!(seen.insert(word), "{word} stands twice");
        }
        // What a short form stands for is in its final spelling.
        for full in KNOWN.short.values() {
            assert_eq!(in_full(full), *full);
        }
    }

    #[test]
    fn words_are_written_in_full() {
        assert_eq!(in_full("scrnd"), "screened");
        assert_eq!(in_full("boards"), "board");
        assert_eq!(in_full("brds"), "board");
        assert_eq!(in_full("moss"), "moss");
        assert_eq!(meaning("bag"), Some(Meaning::Pack("bag")));
        assert_eq!(meaning("cedar"), Some(Meaning::Telling("species", "cedar")));
        assert_eq!(meaning("topsoil"), None);
    }
}
