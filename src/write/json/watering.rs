//! How beds are watered, in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::{Measure, Number};
use crate::takeoff::drip::Watering;
use crate::units::{Amount, System};

/// Drip lines of one bed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WateringJson {
    /// Lines, from wall to wall.
    pub lines: u32,
    /// All lines together.
    pub length: Measure,
    /// The longest of them.
    pub longest: Measure,
    /// Emitters on all lines.
    pub emitters: u32,
    /// What they give together, in litres an hour.
    pub litres_an_hour: Number,
    /// Hours a week for what the bed needs in season.
    pub hours_a_week: Number,
    /// Zones of its site.
    pub zones: u32,
}

pub(super) fn watering(system: System, of: &Watering) -> WateringJson {
    WateringJson {
        lines: of.lines,
        length: Measure::of(system, Amount::Length(of.length)),
        longest: Measure::of(system, Amount::Length(of.longest)),
        emitters: of.emitters,
        litres_an_hour: Number::of(of.flow.in_litres_per_hour()),
        hours_a_week: Number::of(of.hours_a_week.in_hours().round_dp(4)),
        zones: of.zones,
    }
}
