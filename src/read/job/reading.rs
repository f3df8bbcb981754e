//! One row being read into something that is meant: typed cells, and the problems met on the way.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::foreign_words::words_for;
use crate::model::known::Known;
use crate::model::library::folded;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::names::did_you_mean;
use crate::read::row::Row;
use crate::units::{Amount, Density, Flow, Hours, Length, Pressure, Volume, Weight};

/// Words that a cell may hold and what they mean; the first word of each is the one shown in hints.
pub(super) type Words<T> = [(&'static [&'static str], T)];

/// A problem that has been told: what depends on the cell is left out and nothing more is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Told;

/// A row and everything to tell about it.
pub(super) struct Reading<'r, 'a> {
    /// The row.
    pub(super) row: &'r Row<'a>,
    /// What is wrong with it, in the order met.
    pub(super) problems: Vec<Problem>,
}

/// Typed access, plain and with the cell as its origin.
macro_rules! typed {
    ($(#[$doc:meta])* $plain:ident, $known:ident, $kind:ty) => {
        $(#[$doc])*
        pub(super) fn $plain(&mut self, field: &'static str) -> Option<$kind> {
            if !self.row.has(field) {
                return None;
            }
            self.row.$plain(field, &mut self.problems)
        }

        $(#[$doc])*
        pub(super) fn $known(&mut self, field: &'static str) -> Option<Known<$kind>> {
            let at = self.at();
            self.$plain(field).map(|value| Known::job(value, at, field))
        }
    };
}

#[allow(
    dead_code,
    reason = "the pairs are made by one macro; a few plain or known halves stand unused"
)]
impl<'r, 'a> Reading<'r, 'a> {
    /// Starts with a row.
    pub(super) fn of(row: &'r Row<'a>) -> Self {
        Self {
            row,
            problems: Vec::new(),
        }
    }

    /// Where it is.
    pub(super) fn at(&self) -> RowAt {
        self.row.at
    }

    /// Whether the cell holds anything.
    pub(super) fn has(&self, field: &'static str) -> bool {
        self.row.has(field)
    }

    /// The cell as text, numbers too.
    pub(super) fn text(&self, field: &'static str) -> Option<Arc<str>> {
        self.row.text(field)
    }

    /// The cell as text, or the problem that it is empty.
    pub(super) fn wanted(&mut self, field: &'static str, hint: &str) -> Option<Arc<str>> {
        let text = self.text(field);
        if text.is_none() {
            self.complain(field, format!("{field} is missing"), hint);
        }
        text
    }

    typed!(
        /// A length.
        length, known_length, Length
    );
    typed!(
        /// A distance.
        distance, known_distance, Length
    );
    typed!(
        /// A volume.
        volume, known_volume, Volume
    );
    typed!(
        /// A weight.
        weight, known_weight, Weight
    );
    typed!(
        /// A density.
        density, known_density, Density
    );
    typed!(
        /// A flow of water.
        flow, known_flow, Flow
    );
    typed!(
        /// A pressure of water.
        pressure, known_pressure, Pressure
    );
    typed!(
        /// An amount of any dimension.
        amount, known_amount, Amount
    );
    typed!(
        /// Hours.
        hours, known_hours, Hours
    );
    typed!(
        /// A percentage, as a fraction.
        percent, known_percent, Decimal
    );
    typed!(
        /// A sum of money.
        money, known_money, Decimal
    );
    typed!(
        /// A plain number.
        number, known_number, Decimal
    );
    typed!(
        /// A whole number.
        whole, known_whole, u32
    );
    typed!(
        /// A date.
        date, known_date, Date
    );
    typed!(
        /// Two or three lengths in one cell.
        size, known_size, Vec<Length>
    );
    typed!(
        /// Yes or no.
        yes_no, known_yes_no, bool
    );

    /// Money for an hour, where `28/h` and `28 per hour` are `28`.
    pub(super) fn known_hourly(&mut self, field: &'static str) -> Option<Known<Decimal>> {
        let typed = self.text(field)?;
        let endings = ["/h", "/hr", "/hour", " per hour", " an hour", " an hr"];
        match endings.iter().find_map(|e| typed.trim().strip_suffix(e)) {
            Some(money) => self.known_money_of(field, money),
            None => self.known_money(field),
        }
    }

    /// Money from a part of the cell, as `4.50` of `4.50/bag`.
    pub(super) fn known_money_of(
        &mut self,
        field: &'static str,
        part: &str,
    ) -> Option<Known<Decimal>> {
        let money = self.row.money_of(field, part, &mut self.problems)?;
        Some(Known::job(money, self.at(), field))
    }

    /// One of a few words, or the problem that names them.
    pub(super) fn choice<T: Copy>(&mut self, field: &'static str, words: &Words<T>) -> Option<T> {
        let typed = self.text(field)?;
        let found = meaning_in(field, &typed, words);
        if found.is_none() {
            let shown: Vec<&str> = words
                .iter()
                .filter_map(|(w, _)| w.first().copied())
                .collect();
            let all = words.iter().flat_map(|(w, _)| w.iter().copied());
            let hint = did_you_mean(&typed, all).map_or_else(
                || format!("write one of these words in {field}"),
                |near| format!("did you mean \"{near}\"?"),
            );
            let sentence = format!("{field} must be one of {}", shown.join(", "));
            self.complain(field, sentence, &hint);
        }
        found
    }

    /// As [`Reading::choice`], with the cell as its origin.
    pub(super) fn known_choice<T: Copy>(
        &mut self,
        field: &'static str,
        words: &Words<T>,
    ) -> Option<Known<T>> {
        let at = self.at();
        self.choice(field, words)
            .map(|value| Known::job(value, at, field))
    }

    /// Adds an error about a cell of this row; a cell that was reported when its file was opened
    /// is not reported again.
    pub(super) fn complain(
        &mut self,
        field: &'static str,
        sentence: impl Into<String>,
        hint: &str,
    ) {
        if self.row.spoilt(field) {
            return;
        }
        let problem = Problem::error(sentence).at(self.at(), field).hint(hint);
        self.problems.push(problem);
    }

    /// Adds a notice about a cell of this row.
    pub(super) fn notice(&mut self, field: &'static str, sentence: impl Into<String>) {
        self.problems
            .push(Problem::notice(sentence).at(self.at(), field));
    }
}

/// What a word means in a column, in English or in another language of the table of words.
pub(super) fn meaning_in<T: Copy>(column: &str, typed: &str, words: &Words<T>) -> Option<T> {
    let foreign = || {
        let mut names = words_for(column, typed).iter();
        names.find_map(|word| meaning(word, words))
    };
    meaning(typed, words).or_else(foreign)
}

/// What a word means, without regard to case, spaces, `_` and `-`.
pub(super) fn meaning<T: Copy>(typed: &str, words: &Words<T>) -> Option<T> {
    let wanted = folded(typed);
    words
        .iter()
        .find(|(spellings, _)| spellings.iter().any(|s| folded(s) == wanted))
        .map(|(_, meaning)| *meaning)
}
