//! What each column means, what it holds and what may be chosen in it, from `templates/start/notes.csv`.

use std::sync::LazyLock;

use crate::model::sheet::Sheet;

const TABLE: &str = include_str!("../../../templates/start/notes.csv");

/// What the cells of a column hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Holds {
    /// Words, or sizes with their units.
    Words,
    /// Numbers.
    Number,
    /// Sums of money.
    Money,
    /// Shares.
    Percent,
    /// Days.
    Date,
    /// Words, numbers and shares.
    Any,
}

/// What may be chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Choices {
    /// Nothing is offered.
    None,
    /// Fixed words.
    Words(Vec<String>),
    /// A list that grows with the job, by its name.
    List(String),
}

/// What is said of one column, or of one setting of the sheet Job.
#[derive(Debug)]
pub(super) struct ColumnNote {
    sheet: String,
    column: String,
    /// What it holds.
    pub(super) holds: Holds,
    /// What may be chosen.
    pub(super) choices: Choices,
    /// In plain words.
    pub(super) words: String,
}

static NOTES: LazyLock<Vec<ColumnNote>> = LazyLock::new(|| {
    let rows = records(TABLE).into_iter().skip(1);
    rows.filter_map(|row| {
        let [sheet, column, holds, choices, words] = <[String; 5]>::try_from(row).ok()?;
        Some(ColumnNote {
            holds: held(&holds),
            choices: choices_of(&choices),
            sheet,
            column,
            words,
        })
    })
    .collect()
});

/// What is said of a column of a sheet, or of a setting of the sheet Job.
pub(super) fn of(sheet: Sheet, column: &str) -> Option<&'static ColumnNote> {
    let mut notes = NOTES.iter();
    notes.find(|n| n.sheet == sheet.title() && n.column == column)
}

/// Every name of a sheet and a column of which something is said.
#[cfg(test)]
pub(super) fn all() -> impl Iterator<Item = (&'static str, &'static str)> {
    NOTES.iter().map(|n| (&*n.sheet, &*n.column))
}

fn held(word: &str) -> Holds {
    match word {
        "number" => Holds::Number,
        "money" => Holds::Money,
        "percent" => Holds::Percent,
        "date" => Holds::Date,
        "any" | "setting" => Holds::Any,
        _ => Holds::Words,
    }
}

fn choices_of(text: &str) -> Choices {
    match text.strip_prefix('@') {
        Some(list) => Choices::List(list.to_owned()),
        None if text.is_empty() => Choices::None,
        None => Choices::Words(text.split("; ").map(str::to_owned).collect()),
    }
}

/// The rows of an embedded table, its titles too.
pub(super) fn records(text: &str) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .from_reader(text.as_bytes());
    let records = reader.records().filter_map(Result::ok);
    records
        .map(|record| record.iter().map(str::to_owned).collect())
        .collect()
}
