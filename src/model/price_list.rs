//! What was found in suppliers' own price lists and not taken without a word of the user.

use std::sync::Arc;

/// A row of a supplier's list that may be a material of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToReview {
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
    /// The material of the job that it is most like.
    pub best: Arc<str>,
    /// How like they are, in thousandths; equal names are 1,000.
    pub likeness: u32,
    /// Other materials of the job that it is like, most like first.
    pub also: Vec<Arc<str>>,
    /// Why it was not taken: `"screened" is not said of Topsoil`.
    pub why: String,
}
