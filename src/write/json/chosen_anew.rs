//! What choosing anew changed in an estimate that was read back, in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::Estimate;
use crate::price::changes::{Met, Moved};

/// The choices that moved since the estimate that the job was read from, and what they do to the price.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChosenAnewJson {
    /// The price with the earlier choices kept.
    pub price_as_chosen_before: Number,
    /// The price of this estimate.
    pub price_now: Number,
    /// The choices, by what they are for.
    pub choices: Vec<ChoiceJson>,
}

/// One choice that moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChoiceJson {
    /// What it is for.
    pub what: String,
    /// The earlier choice.
    pub before: WayJson,
    /// The choice of this estimate.
    pub now: WayJson,
}

/// One way to meet a need.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WayJson {
    /// Supplier, pack, vehicle, sticks, in words.
    pub words: String,
    /// Goods and trips.
    pub cost: Number,
}

pub(super) fn chosen_anew(estimate: &Estimate) -> Option<ChosenAnewJson> {
    let rechosen = estimate.rechosen.as_ref()?;
    let currency = estimate.job.settings.currency.value;
    let way = |met: &Met| WayJson {
        words: met.words.clone(),
        cost: Number::money(met.landed, currency),
    };
    let choice = |moved: &Moved<Met>| {
        Some(ChoiceJson {
            what: moved.name.clone(),
            before: way(moved.before.as_ref()?),
            now: way(moved.after.as_ref()?),
        })
    };
    Some(ChosenAnewJson {
        price_as_chosen_before: Number::money(rechosen.kept, currency),
        price_now: Number::money(rechosen.now, currency),
        choices: rechosen.choices.iter().filter_map(choice).collect(),
    })
}
