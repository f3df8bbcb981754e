//! Paths and surrounds in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::beds::{GroupsJson, NeedJson, groups, needs};
use super::number::{Measure, Number};
use crate::model::ground::{Area, AreaId};
use crate::price::Estimate;
use crate::units::{Amount, Money};
use crate::write::names::{Names, by_name};

/// One row of `Areas`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AreaJson {
    /// Name.
    pub name: String,
    /// Where.
    pub site: String,
    /// When.
    pub phase: String,
    /// Its size in words.
    pub size: String,
    /// What it covers, less the beds in it where they are taken off.
    pub covered: Measure,
    /// What is done to the ground first.
    pub ground: String,
    /// Undisturbed ground that becomes spoil.
    pub spoil: Measure,
    /// What it needs.
    pub needs: Vec<NeedJson>,
    /// What the crew does, in order.
    pub crew_notes: Vec<String>,
    /// Shares of cost.
    pub cost_by_group: GroupsJson,
    /// Cost.
    pub cost: Number,
    /// Share of the price with tax.
    pub price: Number,
}

/// All rows of `Areas`, by name.
pub(super) fn areas(estimate: &Estimate) -> Vec<AreaJson> {
    let rows = estimate.job.areas.iter().enumerate();
    let mut areas: Vec<AreaJson> = rows
        .filter_map(|(index, row)| area(estimate, row, AreaId::of(index)))
        .collect();
    areas.sort_by(|a, b| by_name(&a.name, &b.name));
    areas
}

fn area(estimate: &Estimate, row: &Area, id: AreaId) -> Option<AreaJson> {
    let job = &estimate.job;
    let kind = estimate.kinds.of_area(id)?;
    let takeoff = estimate.takeoffs.get(kind.index())?;
    let money = estimate.price.areas.iter().find(|m| m.area == id);
    let system = job.settings.units.value;
    let currency = job.settings.currency.value;
    let show = |m: Option<Money>| Number::money(m.unwrap_or_default(), currency);
    Some(AreaJson {
        name: row.name.to_string(),
        site: Names(job).site(row.site).to_owned(),
        phase: Names(job).phase(row.phase).to_owned(),
        size: takeoff.size.clone(),
        covered: Measure::of(system, Amount::Area(takeoff.outside_area)),
        ground: row.ground.value.words(system),
        spoil: Measure::of(system, Amount::Volume(takeoff.spoil)),
        needs: needs(estimate, &takeoff.needs),
        crew_notes: takeoff.crew_notes.clone(),
        cost_by_group: groups(estimate, money.map(|m| &m.groups)),
        cost: show(money.map(|m| m.cost)),
        price: show(money.map(|m| m.price)),
    })
}
