//! The estimate as JSON: the same figures, and the same bytes in whatever form the job came.
//!
//! Decimals are strings, every figure carries its unit, and lists are in order of names and never in
//! that of the file. Places in files stay out: rows are named by sheet and by what they are called.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::price::Estimate;
use crate::price::client::ClientView;
use crate::problem::Severity;

mod alternates;
mod areas;
mod beds;
mod budget;
mod buying;
mod carried;
pub mod changed;
mod chosen_anew;
mod client;
mod cuts;
mod job;
pub mod messages;
pub(super) mod number;
mod price;
mod schedule;
mod shared_walls;
mod sheets;
mod suppliers;
mod watering;
mod work;

pub use changed::changes_json;
pub use client::client_json;
pub use messages::problems_json;
pub use suppliers::suppliers_json;

/// Layout of the file: a change that could break a reader changes this.
pub const LAYOUT: &str = "loamwright estimate 1";

/// A priced job: what is built, ordered, done and paid. Decimals are strings, figures carry their unit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[schemars(title = "Estimate of raised garden beds")]
#[serde(deny_unknown_fields)]
pub struct EstimateJson {
    /// Name and version of this layout.
    pub schema: String,
    /// What the estimate is of.
    pub job: job::JobJson,
    /// Settings, each with where it came from.
    pub settings: Vec<job::SettingJson>,
    /// Sites, by name.
    pub sites: Vec<job::SiteJson>,
    /// Rows of `Beds`, by name.
    pub beds: Vec<beds::BedJson>,
    /// Rows of `Areas`, by name.
    pub areas: Vec<areas::AreaJson>,
    /// Kinds of bed with their take-off, by the name of their first bed.
    pub kinds: Vec<beds::KindJson>,
    /// Order lines, by supplier, material and drop.
    pub orders: Vec<buying::OrderJson>,
    /// Trips, by supplier and drop.
    pub trips: Vec<buying::TripsJson>,
    /// Cut lists, by material.
    pub cut_list: Vec<cuts::CutListJson>,
    /// How sheets of wall panels are cut, by material; absent when there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sheet_list: Vec<sheets::SheetListJson>,
    /// Hours, by site, moment and task.
    pub hours: Vec<work::HoursJson>,
    /// Days, by site and moment.
    pub days: Vec<work::DaysJson>,
    /// Volunteers, by site and name.
    pub volunteers: Vec<work::VolunteersJson>,
    /// Hire, by site and item.
    pub hire: Vec<work::HireJson>,
    /// When everything happens; absent without hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub schedule: Option<schedule::ScheduleJson>,
    /// The price.
    pub price: price::PriceJson,
    /// Who pays for what, when the job has `Funding`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub budget: Option<budget::BudgetJson>,
    /// Rows that are left out since something in them is wrong, as asked by `--partial`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<job::LeftOutJson>,
    /// What the alternates come to, by name; absent when there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub alternates: Vec<alternates::AlternateJson>,
    /// What the client may see, the same as in `client.json`; absent while the price is not complete.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub client: Option<client::ClientJson>,
    /// What choosing anew changed, when the job was read back from an estimate and anything changed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub chosen_anew: Option<chosen_anew::ChosenAnewJson>,
    /// What the price does not hold, in words.
    pub not_priced: Vec<String>,
    /// Figures that the job did not give.
    pub assumptions: Vec<messages::AssumptionJson>,
    /// What can hurt somebody or the budget. Local code and licensed practice decide.
    pub cautions: Vec<messages::MessageJson>,
    /// What was done on the user's behalf.
    pub notices: Vec<messages::MessageJson>,
    /// Cells of columns that are not known, as typed; absent when there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub carried: Vec<carried::CarriedJson>,
}

/// The estimate as a JSON text that ends in a line end.
///
/// # Errors
/// Never in practice: all parts are text, whole numbers and lists.
pub fn json(estimate: &Estimate) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&tree(estimate))?;
    text.push('\n');
    Ok(text)
}

/// The schema of [`json`] (JSON Schema 2020-12), as published in `templates/estimate.schema.json`.
///
/// # Errors
/// Never in practice, as for [`json`].
pub fn schema() -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&schemars::schema_for!(EstimateJson))?;
    text.push('\n');
    Ok(text)
}

fn tree(estimate: &Estimate) -> EstimateJson {
    EstimateJson {
        schema: LAYOUT.to_owned(),
        job: job::job(estimate),
        settings: job::settings(&estimate.job.settings),
        sites: job::sites(&estimate.job),
        beds: beds::beds(estimate),
        areas: areas::areas(estimate),
        kinds: beds::kinds(estimate),
        orders: buying::orders(estimate),
        trips: buying::trips(estimate),
        cut_list: cuts::cut_lists(estimate),
        sheet_list: sheets::lists(estimate),
        hours: work::hours(estimate),
        days: work::days(estimate),
        volunteers: work::volunteers(estimate),
        hire: work::hire(estimate),
        schedule: schedule::schedule(estimate),
        price: price::price(estimate),
        budget: budget::budget(estimate),
        left_out: job::left_out(&estimate.job),
        alternates: alternates::alternates(estimate),
        client: ClientView::of(estimate).as_ref().map(client::client),
        chosen_anew: chosen_anew::chosen_anew(estimate),
        not_priced: estimate.not_priced.clone(),
        assumptions: messages::assumptions(estimate),
        cautions: messages::messages(estimate, Severity::Caution),
        notices: messages::messages(estimate, Severity::Notice),
        carried: carried::carried(&estimate.sources),
    }
}

#[cfg(test)]
#[path = "json_tests.rs"]
mod tests;
