//! Alternates priced, each as a whole job, and what they add to or take off the price.

use std::sync::Arc;

use super::Estimate;
use super::beside::beside_each_other;
use super::changes::{Changes, Moved, changes};
use crate::model::alternate;
use crate::model::job::Job;
use crate::model::source::{RowAt, Sources};
use crate::problem::{Concern, Problem, Severity, Staged};
use crate::units::{Hours, Money, show};

/// What an alternate comes to.
#[derive(Clone, Debug)]
pub struct Alternate {
    /// Its name.
    pub name: Arc<str>,
    /// What the user says of it.
    pub note: Option<Arc<str>>,
    /// What it changes in the job, in words.
    pub edits: Vec<String>,
    /// Its price, or what it lacks of one.
    pub outcome: Outcome,
    /// What moves in quantities, hours and money.
    pub changes: Changes,
}

/// The price of an alternate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It can be offered.
    Priced {
        /// The price of the job with it, rounded as the price is.
        total: Money,
        /// That price less the price without it: what it adds, or below zero what it deducts.
        adds: Money,
    },
    /// The job with it, or the job itself, has no complete price: what is lacking, in words.
    NotComplete(String),
}

impl Alternate {
    /// Beds, goods and person-hours that it moves, in words.
    pub fn moved(&self) -> [Vec<Moved<String>>; 3] {
        let moved = &self.changes;
        let beds = moved.sizes.iter().map(|m| m.in_words(String::clone));
        let goods = moved.orders.iter().map(|m| m.in_words(|b| b.packs.clone()));
        let hours = moved.hours.iter().map(|m| m.in_words(hours_words));
        [beds.collect(), goods.collect(), hours.collect()]
    }
}

fn hours_words(hours: &Hours) -> String {
    format!("{} h", show::grouped_plain(hours.in_hours(), 2))
}

/// The estimate `base` with its alternates, each priced by `price`.
///
/// They are priced beside each other, and stand in the order of the job whichever is done first.
pub fn with_alternates(
    mut base: Staged<Option<Estimate>>,
    alternates: Vec<alternate::Alternate>,
    price: impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync,
) -> Staged<Option<Estimate>> {
    let Some(estimate) = &mut base.output else {
        return base;
    };
    let known = Known(&base.problems);
    let mut told = Vec::new();
    for (asked, priced) in priced(alternates, &price) {
        told.extend(known.beside(&asked, &priced.problems));
        let Some(other) = priced.output else {
            continue;
        };
        estimate.alternates.push(Alternate {
            outcome: outcome(estimate, &other),
            changes: changes(estimate, &other),
            name: asked.name,
            note: asked.note,
            edits: asked.edits,
        });
    }
    estimate.problems.extend(told.iter().cloned());
    let is_wrong = told.iter().any(|p| p.severity == Severity::Error);
    base.problems.extend(told);
    if is_wrong {
        base.output = None;
    }
    base
}

fn outcome(base: &Estimate, other: &Estimate) -> Outcome {
    match other.not_complete().or_else(|| base.not_complete()) {
        Some(words) => Outcome::NotComplete(words),
        None => Outcome::Priced {
            total: other.price.total,
            adds: other.price.total - base.price.total,
        },
    }
}

/// What was asked, without the job, which is used up in pricing it.
struct Asked {
    at: RowAt,
    name: Arc<str>,
    note: Option<Arc<str>>,
    edits: Vec<String>,
}

/// Each with what came of it, in their order.
fn priced(
    alternates: Vec<alternate::Alternate>,
    price: &(impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync),
) -> Vec<(Asked, Staged<Option<Estimate>>)> {
    let apart = alternates.into_iter().map(|one| {
        let asked = Asked {
            at: one.at,
            name: one.name,
            note: one.note,
            edits: one.edits,
        };
        (asked, (one.job, one.sources))
    });
    let (asked, jobs): (Vec<Asked>, Vec<(Job, Sources)>) = apart.unzip();
    let runs = beside_each_other(jobs, &|(job, sources)| price(job, sources));
    let lost = || Staged {
        output: None,
        problems: vec![Problem::bug("an alternate was lost while it was priced")],
    };
    let runs = runs.into_iter().map(|run| run.unwrap_or_else(lost));
    asked.into_iter().zip(runs).collect()
}

/// What the job itself was told: an alternate repeats none of it.
struct Known<'p>(&'p [Problem]);

impl Known<'_> {
    /// Errors and cautions that come up with an alternate only.
    fn beside(&self, asked: &Asked, problems: &[Problem]) -> Vec<Problem> {
        let is_new = |p: &&Problem| match (p.severity, &p.caution) {
            (Severity::Error, _) => true,
            (Severity::Caution, Some(concern)) => self.is_new(concern),
            (Severity::Caution, None) => self.0.iter().all(|known| known.sentence != p.sentence),
            (Severity::Notice, _) => false,
        };
        let told = problems.iter().filter(is_new);
        told.map(|p| p.of_alternate(&asked.name).at(asked.at, "Value"))
            .collect()
    }

    /// Whether a caution concerns anything that the same caution of the job does not. Its sentence tells
    /// nothing of that: it holds loads and sizes, which an alternate moves.
    fn is_new(&self, concern: &Concern) -> bool {
        let concerns = self.0.iter().filter_map(|known| known.caution.as_ref());
        let mut same = concerns.filter(|known| known.key == concern.key);
        match same.next() {
            Some(known) => concern.about.iter().any(|name| !known.about.contains(name)),
            None => true,
        }
    }
}
