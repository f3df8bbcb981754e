//! The rows of a list that the job needs, and what is told of the rest.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::List;
use super::confirmed::Confirmed;
use super::goods::{Goods, goods};
use super::judge::{By, Verdict, judge, shown};
use super::likeness::{TAKEN, WORTH_A_LOOK, Wanted};
use super::words::Name;
use crate::model::price_list::{Standing, ToReview};
use crate::model::source::SourceTable;
use crate::problem::Problem;
use crate::read::header::repeats;
use crate::read::open::Way;
use crate::read::raw::{RawCell, RawRow};
use crate::units::parse::{Commas, Context};
use crate::units::{Dimension, System};

/// Pairs of names that one notice shows.
const MOST_SHOWN: usize = 8;
/// Columns that say what a thing is.
const NAME: &str = "Material";

/// What the rest of the job brings to a list.
pub(in crate::read) struct Surroundings<'a> {
    /// The job's system of units.
    pub(in crate::read) system: System,
    /// What commas mean in the job.
    pub(in crate::read) commas: Commas,
    /// The number that the table of a list will have among the job's tables.
    pub(in crate::read) index: u16,
    /// Materials that the job wants to buy.
    pub(in crate::read) wanted: &'a [Wanted],
    /// What the user said of names.
    pub(in crate::read) confirmed: &'a Confirmed,
    /// What a pack's word says that it holds, as the reader of prices understands it.
    pub(in crate::read) held: fn(Context, &str, System) -> Option<Dimension>,
    /// Whether a material at a place of `wanted` is measured so.
    pub(in crate::read) suits: fn(&Wanted, Dimension) -> bool,
}

/// What came of a list.
pub(in crate::read) struct Taken {
    /// A table of `Prices` and how it was written; `None` when nothing was taken.
    pub(in crate::read) table: Option<(SourceTable, Way)>,
    /// Rows for the user to look at.
    pub(in crate::read) review: Vec<ToReview>,
    /// What is to be told.
    pub(in crate::read) problems: Vec<Problem>,
}

/// A row that is taken.
pub(super) struct Use<'a> {
    /// The material that it is.
    pub(super) wanted: &'a Wanted,
    /// Pack and content.
    pub(super) goods: Goods,
    by: By,
    likeness: u32,
}

/// The rows by what becomes of them.
#[derive(Default)]
struct Sorted<'a> {
    rows: usize,
    used: BTreeMap<u32, Use<'a>>,
    review: Vec<ToReview>,
    /// Rows of materials that the job needs, without a price.
    unpriced: Vec<(u32, String)>,
}

impl List {
    /// The rows below the titles that are not passed over.
    pub(super) fn goods(&self) -> impl Iterator<Item = &RawRow> {
        let header = &self.columns.header;
        let below = self.raw.rows.iter().skip(header.used);
        below.filter(|row| !self.mapping.passes_over(row.row) && !repeats(header, row))
    }

    /// The text of a row under a field, numbers as a person would read them.
    pub(super) fn text(&self, row: &RawRow, field: &str) -> Option<String> {
        let mut columns = self.columns.header.columns.iter();
        let column = columns.find(|c| c.field == Some(field))?;
        match row.at(column.index)? {
            RawCell::Good(cell) => Some(cell.text()),
            RawCell::Error(text) | RawCell::TooLarge(text) => Some(text.to_string()),
            RawCell::Unevaluated => None,
        }
    }

    /// Judges every row and makes a table of those that the job needs.
    pub(in crate::read) fn take(self, around: &Surroundings<'_>) -> Taken {
        let sorted = self.sorted(around);
        let mut problems = self.told(&sorted);
        let table = self.table(&sorted.used, around, &mut problems);
        Taken {
            table,
            review: sorted.review,
            problems,
        }
    }

    fn sorted<'w>(&self, around: &Surroundings<'w>) -> Sorted<'w> {
        let mut sorted = Sorted::default();
        let comma = self.commas.is_decimal();
        for row in self.goods() {
            let Some(name) = self.text(row, NAME) else {
                continue;
            };
            sorted.rows = sorted.rows.saturating_add(1);
            let parsed = Name::of(&name, comma);
            let spec = Name::of(&self.text(row, "Spec").unwrap_or_default(), comma);
            let names = (&parsed, &spec);
            let supplier = &self.mapping.supplier;
            match judge(&name, names, around.wanted, around.confirmed, supplier) {
                Verdict::Never => {}
                // A heading, or goods whose price is asked for.
                verdict if !self.has_price(row) => {
                    if matches!(verdict, Verdict::Is(..)) {
                        sorted.unpriced.push((row.row, name));
                    }
                }
                Verdict::Unlike(most) => {
                    let why = match most {
                        Some(_) => format!("likeness is under {}", shown(WORTH_A_LOOK)),
                        None => "nothing that the job needs is like it".to_owned(),
                    };
                    let likes = Vec::from_iter(most);
                    let left = self.to_review(row, &name, &likes, why, around.wanted);
                    sorted.review.push(ToReview {
                        standing: Standing::Unlike,
                        ..left
                    });
                }
                Verdict::Perhaps(likes, why) => {
                    let review = self.to_review(row, &name, &likes, why, around.wanted);
                    sorted.review.push(review);
                }
                Verdict::Is(place, by, likeness) => {
                    let Some(wanted) = around.wanted.get(place) else {
                        continue;
                    };
                    match self.pack(row, &parsed, wanted, around) {
                        Ok(goods) => {
                            let taken = Use {
                                wanted,
                                goods,
                                by,
                                likeness,
                            };
                            sorted.used.insert(row.row, taken);
                        }
                        Err(why) => {
                            let likes = [(place, likeness)];
                            let review = self.to_review(row, &name, &likes, why, around.wanted);
                            sorted.review.push(review);
                        }
                    }
                }
            }
        }
        sorted
    }

    /// A price has a figure in it; `call` and `-` have none. What is broken is told when it is read.
    fn has_price(&self, row: &RawRow) -> bool {
        let mut columns = self.columns.header.columns.iter();
        let column = columns.find(|c| c.field == Some("Price"));
        column
            .and_then(|c| row.at(c.index))
            .is_some_and(|cell| match cell.as_text() {
                Some(text) => text.chars().any(|c| c.is_ascii_digit()),
                None => true,
            })
    }

    fn pack(
        &self,
        row: &RawRow,
        name: &Name,
        wanted: &Wanted,
        around: &Surroundings<'_>,
    ) -> Result<Goods, String> {
        let [pack, holds] = ["Pack", "Holds"].map(|field| self.text(row, field));
        let context = Context {
            bare: None,
            system: around.system,
            decimal_comma: self.commas,
        };
        goods(
            name,
            (pack.as_deref(), holds.as_deref()),
            wanted.category,
            around.system,
            |dimension| (around.suits)(wanted, dimension),
            |pack| (around.held)(context, pack, around.system),
        )
    }

    fn to_review(
        &self,
        row: &RawRow,
        name: &str,
        likes: &[(usize, u32)],
        why: String,
        wanted: &[Wanted],
    ) -> ToReview {
        let name_of = |(place, _): &(usize, u32)| wanted.get(*place).map(|w| Arc::clone(&w.name));
        let text = |field| Arc::from(self.text(row, field).unwrap_or_default());
        ToReview {
            standing: Standing::Doubtful,
            supplier: Arc::clone(&self.mapping.supplier),
            their_name: Arc::from(name),
            pack: text("Pack"),
            price: text("Price"),
            place: self.place(row.row, None),
            best: likes.first().and_then(name_of),
            likeness: likes.first().map_or(0, |(_, likeness)| *likeness),
            also: likes.iter().skip(1).filter_map(name_of).collect(),
            why,
        }
    }

    /// What is told of a list: how many rows became what, and what was taken under another name.
    fn told(&self, sorted: &Sorted<'_>) -> Vec<Problem> {
        let mut problems = vec![self.counted(sorted)];
        let mut renamed: Vec<String> = Vec::new();
        let mut all: Vec<(&u32, &Use<'_>)> = sorted.used.iter().collect();
        all.retain(|(_, taken)| taken.by == By::Likeness);
        for (row, taken) in all {
            let name = self.their_name(*row);
            let pair = format!(
                "\"{name}\" as {} ({})",
                taken.wanted.name,
                shown(taken.likeness)
            );
            if !renamed.contains(&pair) {
                renamed.push(pair);
            }
        }
        if !renamed.is_empty() {
            renamed.sort();
            let more = if renamed.len() > MOST_SHOWN {
                " …"
            } else {
                ""
            };
            renamed.truncate(MOST_SHOWN);
            let said = format!(
                "names of {} taken by likeness of at least {}: {}{more}",
                self.raw.file,
                shown(TAKEN),
                renamed.join("; ")
            );
            let notice = Problem::notice(said).at(self.at(), "File");
            problems.push(
                notice.hint(
                    "where one is wrong, write what it is, or no, beside it in Supplier names",
                ),
            );
        }
        if let Some((row, name)) = sorted.unpriced.first() {
            let said = match sorted.unpriced.len() {
                1 => format!("\"{name}\" has no price in the list"),
                n => format!(
                    "{n} rows that the job needs have no price in the list; the first is \"{name}\""
                ),
            };
            problems.push(Problem::notice(said).place(self.place(*row, Some("Price"))));
        }
        problems
    }

    fn counted(&self, sorted: &Sorted<'_>) -> Problem {
        let by = |by: By| sorted.used.values().filter(|taken| taken.by == by).count();
        let used = sorted.used.len();
        let doubtful = |row: &&ToReview| row.standing == Standing::Doubtful;
        let review = sorted.review.iter().filter(doubtful).count();
        let others = sorted.rows.saturating_sub(used).saturating_sub(review);
        let ways = [
            (by(By::Name), "by name"),
            (by(By::Word), "confirmed"),
            (by(By::Likeness), "by likeness"),
        ];
        let ways: Vec<String> = ways
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, way)| format!("{count} {way}"))
            .collect();
        let ways = if ways.is_empty() {
            String::new()
        } else {
            format!(" ({})", ways.join(", "))
        };
        let rows = match sorted.rows {
            1 => "1 row".to_owned(),
            n => format!("{n} rows"),
        };
        let said = format!(
            "{}: {rows}, {used} used{ways}, {review} to review, {others} not needed",
            self.raw.file
        );
        let notice = Problem::notice(said).at(self.at(), "File");
        match (review, sorted.review.len()) {
            (0, 0) => notice,
            (0, _) => notice.hint("an estimate lists in price-list-review.csv what was not used"),
            _ => notice.hint("an estimate writes price-list-review.csv: fill in Use there and put it into the job as Supplier names"),
        }
    }

    fn their_name(&self, row: u32) -> String {
        let found = self.raw.rows.iter().find(|r| r.row == row);
        found.and_then(|r| self.text(r, NAME)).unwrap_or_default()
    }
}
