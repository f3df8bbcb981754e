//! Words of other languages for what a cell may choose from.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::read::names::key;

/// `column,word,spanish`: what the word of the choice is called in Spanish. The column `Value` is that of
/// the `Job` sheet, whose settings share it.
const TABLE: &str = include_str!("../../../templates/words.csv");

/// The words of the choices by column and by what else they are called.
static WORDS: LazyLock<HashMap<(String, String), Vec<String>>> = LazyLock::new(|| {
    let mut words: HashMap<_, Vec<String>> = HashMap::new();
    let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
    for record in reader.records().filter_map(Result::ok) {
        let (Some(column), Some(word), Some(also)) = (record.get(0), record.get(1), record.get(2))
        else {
            continue;
        };
        for name in also.split(';') {
            let known = words.entry((column.to_owned(), key(name))).or_default();
            known.push(word.to_owned());
        }
    }
    words
});

/// The words of the choices of `column` that `typed` is another name for.
pub(super) fn words_for(column: &str, typed: &str) -> &'static [String] {
    let found = WORDS.get(&(column.to_owned(), key(typed)));
    found.map_or(&[], Vec::as_slice)
}

/// Every row of the table: column, word, other names.
#[cfg(test)]
pub(super) fn all() -> Vec<(String, String, Vec<String>)> {
    let mut reader = csv::Reader::from_reader(TABLE.as_bytes());
    let rows = reader.records().map(Result::unwrap);
    rows.map(|r| {
        let names = r[2].split(';').map(str::to_owned).collect();
        (r[0].to_owned(), r[1].to_owned(), names)
    })
    .collect()
}
