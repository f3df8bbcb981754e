//! Alternates as read: the same job again with some of its cells changed.

use std::sync::Arc;

use super::job::Job;
use super::source::{RowAt, Sources};

/// One alternate: a whole job of its own.
#[derive(Clone, Debug)]
pub struct Alternate {
    /// The first row that names it.
    pub at: RowAt,
    /// Its name.
    pub name: Arc<str>,
    /// What the user says of it.
    pub note: Option<Arc<str>>,
    /// What it changes, in words, a sentence a row: `Beds B2, Fill: Deep bed -> Compost only`.
    pub edits: Vec<String>,
    /// The changed job.
    pub job: Job,
    /// Its tables.
    pub sources: Sources,
}
