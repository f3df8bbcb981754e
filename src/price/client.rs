//! What a client may see of a priced job: no cost, markup, wage, overhead or supplier has a place here.
//!
//! Whatever goes to a client is written from a [`ClientView`] and from nothing else, and a view is made
//! at one place, [`ClientView::of`]. A figure that is not a field here cannot reach a client.

mod beds;
mod kinds;
mod lines;
mod words;

use std::sync::Arc;

use jiff::civil::Date;

use super::{Due, Estimate, Outcome};
use crate::drawing::{Drawing, Drawings};
use crate::units::{Currency, Money};

/// What a client may see of an estimate with every price.
#[allow(
    clippy::manual_non_exhaustive,
    reason = "views are made at one place within the crate too, which non_exhaustive would not hold"
)]
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClientView {
    /// Who, what and when.
    pub head: Head,
    /// Where, by name.
    pub places: Vec<Place>,
    /// Beds, by name.
    pub beds: Vec<Built>,
    /// The same by kind, with drawings.
    pub kinds: Vec<Kind>,
    /// Paths and surrounds, by name.
    pub areas: Vec<Built>,
    /// What is brought or found on the site, by name.
    pub goods: Vec<Goods>,
    /// What is taken away, by name.
    pub taken_away: Vec<Goods>,
    /// Lines of the price; they add up to `total`.
    pub lines: Vec<Line>,
    /// What the client pays.
    pub total: Money,
    /// How sales tax is dealt with, in words.
    pub tax: String,
    /// What is in the price beside beds and paths, in the user's words.
    pub included: Vec<Arc<str>>,
    /// What is not in the price.
    pub not_included: Vec<String>,
    /// Variations, each by itself, by name.
    pub alternates: Vec<Alternate>,
    /// What the top-up after the first season would add, when it is offered.
    pub top_up: Option<Money>,
    /// What is due when; empty when nothing was agreed.
    pub payments: Vec<Due>,
    /// How the fill behaves, in words.
    pub settling: Option<String>,
    /// What a client has to know to stay safe.
    pub cautions: Vec<String>,
    /// Views are made here only.
    _made: (),
}

/// Who, what and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// The job.
    pub job: Arc<str>,
    /// Whom it is for.
    pub client: Option<Arc<str>>,
    /// Number of the estimate.
    pub number: Option<Arc<str>>,
    /// Its revision.
    pub revision: Option<Arc<str>>,
    /// Who prepared it.
    pub prepared_by: Option<Arc<str>>,
    /// Its date.
    pub date: Date,
    /// Last day on which the price holds.
    pub valid_until: Date,
    /// The currency of all money.
    pub currency: Currency,
}

/// A place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// What it is called.
    pub name: Arc<str>,
    /// Its address.
    pub address: Option<Arc<str>>,
}

/// Beds that are alike, drawn to scale.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kind {
    /// What they are.
    pub built: Built,
    /// From above, at the scale of all kinds; nothing in a job with very many.
    pub small: Option<Drawing>,
    /// With measures, for a kind that stands for others with its fill.
    pub whole: Option<Drawings>,
}

/// A bed, several alike, or an area.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Built {
    /// What it is called; several names of a job with very many beds.
    pub name: String,
    /// How many alike; nothing for an area.
    pub count: Option<u64>,
    /// Where.
    pub place: Option<Arc<str>>,
    /// Its size in words.
    pub size: String,
    /// What its walls are; nothing for an area.
    pub walls: Option<Arc<str>>,
    /// What goes in, from the bottom up: `5 in Seasoned logs`.
    pub filled_with: Vec<String>,
}

/// Goods that are brought, found on the site, or taken away.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Goods {
    /// What.
    pub name: String,
    /// How much, in what it comes in: `8 yards`.
    pub packs: Vec<String>,
}

/// What a line of the price is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// Beds: built and filled.
    Beds,
    /// A path or surround.
    Area,
    /// Work and goods of a job that has neither.
    Work,
    /// A sum set aside for something that is settled by what it really costs.
    Allowance,
    /// Something charged at what it costs, as a permit.
    PassedOn,
    /// For what nobody can foresee.
    Contingency,
    /// What is taken off; below zero.
    Discount,
    /// Sales tax.
    Tax,
}

/// One line of the price.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is for.
    pub kind: LineKind,
    /// What it is called.
    pub name: String,
    /// The amount.
    pub amount: Money,
}

impl Line {
    /// What it is called on a page: `Allowance: plants`.
    pub fn in_words(&self) -> String {
        match self.kind {
            LineKind::Allowance => format!("Allowance: {}", self.name),
            LineKind::PassedOn => format!("Passed on at cost: {}", self.name),
            _ => self.name.clone(),
        }
    }
}

/// A variation of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alternate {
    /// What it is.
    pub name: Arc<str>,
    /// What it adds to the price; below zero what it deducts.
    pub adds: Money,
}

impl ClientView {
    /// The view of an estimate; nothing while a price is missing or a part is left out, since no client
    /// shall hold a sum that will not stay.
    pub fn of(estimate: &Estimate) -> Option<Self> {
        if !estimate.is_complete() {
            return None;
        }
        let price = &estimate.price;
        Some(Self {
            head: head(estimate),
            places: beds::places(estimate),
            beds: beds::beds(estimate),
            kinds: kinds::kinds(estimate),
            areas: beds::areas(estimate),
            goods: beds::goods(estimate),
            taken_away: beds::taken_away(estimate),
            lines: lines::lines(estimate),
            total: price.total,
            tax: words::tax(estimate),
            included: words::included(estimate),
            not_included: super::assumptions::not_included(
                &estimate.job,
                &estimate.takeoffs,
                &estimate.bought,
            ),
            alternates: alternates(estimate),
            top_up: price.top_up.filter(|adds| !adds.is_zero()),
            payments: price.payments.clone(),
            settling: words::settling(estimate),
            cautions: words::cautions(estimate),
            _made: (),
        })
    }
}

fn head(estimate: &Estimate) -> Head {
    let settings = &estimate.job.settings;
    Head {
        job: Arc::clone(&settings.job_name),
        client: settings.client.clone(),
        number: settings.estimate_number.clone(),
        revision: settings.revision.clone(),
        prepared_by: settings.prepared_by.clone(),
        date: estimate.date,
        valid_until: estimate.price.valid_until,
        currency: settings.currency.value,
    }
}

/// An alternate without every price is not offered to anybody.
fn alternates(estimate: &Estimate) -> Vec<Alternate> {
    let offered = estimate.alternates.iter().filter_map(|a| match a.outcome {
        Outcome::Priced { adds, .. } => Some(Alternate {
            name: Arc::clone(&a.name),
            adds,
        }),
        Outcome::NotComplete(_) => None,
    });
    let mut offered: Vec<Alternate> = offered.collect();
    offered.sort_by(|a, b| crate::model::naming::by_name(&a.name, &b.name));
    offered
}
