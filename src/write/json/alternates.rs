//! What the alternates come to, in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::changes::Moved;
use crate::price::{Alternate, Estimate, Outcome};
use crate::units::show;
use crate::write::names::by_name;

/// One alternate, priced as a whole job. Alternates do not add up: each is by itself.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AlternateJson {
    /// Its name.
    pub name: String,
    /// What the user says of it.
    pub note: Option<String>,
    /// What it changes in the job, in words.
    pub edits: Vec<String>,
    /// The price with it; nothing while prices are lacking.
    pub total: Option<Number>,
    /// What it adds to the price; below zero what it deducts.
    pub adds: Option<Number>,
    /// What it or the job lacks of a price, in words.
    pub not_complete: Option<String>,
    /// Beds that are others, or as many others.
    pub beds: Vec<MovedJson>,
    /// What is bought otherwise.
    pub orders: Vec<MovedJson>,
    /// Person-hours that move.
    pub hours: Vec<MovedJson>,
}

/// Something that an alternate moves.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MovedJson {
    /// What it is.
    pub name: String,
    /// Without the alternate, in words.
    pub before: Option<String>,
    /// With it, in words.
    pub after: Option<String>,
}

pub(super) fn alternates(estimate: &Estimate) -> Vec<AlternateJson> {
    let currency = estimate.job.settings.currency.value;
    let money = |money| Number::money(money, currency);
    let one = |alternate: &Alternate| {
        let (total, adds, not_complete) = match &alternate.outcome {
            Outcome::Priced { total, adds } => (Some(money(*total)), Some(money(*adds)), None),
            Outcome::NotComplete(words) => (None, None, Some(words.clone())),
        };
        let changes = &alternate.changes;
        AlternateJson {
            name: alternate.name.to_string(),
            note: alternate.note.as_ref().map(ToString::to_string),
            edits: alternate.edits.clone(),
            total,
            adds,
            not_complete,
            beds: moved(&changes.sizes, String::clone),
            orders: moved(&changes.orders, |bought| bought.packs.clone()),
            hours: moved(&changes.hours, |hours| show::plain(hours.in_hours(), 4)),
        }
    };
    let mut all: Vec<AlternateJson> = estimate.alternates.iter().map(one).collect();
    all.sort_by(|a, b| by_name(&a.name, &b.name));
    all
}

fn moved<T>(list: &[Moved<T>], words: impl Fn(&T) -> String) -> Vec<MovedJson> {
    let one = |moved: &Moved<T>| {
        let Moved {
            name,
            before,
            after,
        } = moved.in_words(&words);
        MovedJson {
            name,
            before,
            after,
        }
    };
    list.iter().map(one).collect()
}
