//! Walls that serve two beds.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::beds::bed_name;
use super::number::Measure;
use crate::model::bed::{Bed, Join};
use crate::price::Estimate;
use crate::units::Amount;

/// A wall that serves two beds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SharedWallJson {
    /// The bed beside it.
    pub with: String,
    /// How long it is.
    pub length: Measure,
    /// Whether it is counted with this bed; else it is with the other.
    pub counted_here: bool,
}

/// Those of a bed, in the order of its neighbours' names.
pub(super) fn of(estimate: &Estimate, bed: &Bed) -> Vec<SharedWallJson> {
    let system = estimate.job.settings.units.value;
    let one = |join: &Join| SharedWallJson {
        with: bed_name(estimate, join.with),
        length: Measure::of(system, Amount::Length(join.length)),
        counted_here: join.bears,
    };
    bed.joins.iter().map(one).collect()
}
