//! What was found in suppliers' own price lists and not taken without a word of the user.

use std::sync::Arc;

/// Why a row of a supplier's list was left standing, what matters most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// It may well be a material of the job: the user's word is waited for.
    Doubtful,
    /// Too unlike everything that the job needs; listed so that no row is dropped unseen.
    Unlike,
}

/// A row of a supplier's list that was not taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToReview {
    /// How it stands.
    pub standing: Standing,
    /// Whose list it is.
    pub supplier: Arc<str>,
    /// What the list calls it.
    pub their_name: Arc<str>,
    /// The pack as the list has it, empty when it has none.
    pub pack: Arc<str>,
    /// The price as the list has it.
    pub price: Arc<str>,
    /// The row of the list: `yard-list.csv:14`.
    pub place: String,
    /// The material of the job that it is most like; `None` when each is another size or kind.
    pub best: Option<Arc<str>>,
    /// How like they are, in thousandths; equal names are 1,000, and 0 without a `best`.
    pub likeness: u32,
    /// Other materials of the job that it is like, most like first.
    pub also: Vec<Arc<str>>,
    /// Why it was not taken: `"screened" is not said of Topsoil`.
    pub why: String,
}
