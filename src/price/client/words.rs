//! Sentences that belong beside the price in a client's hands.

use std::sync::Arc;

use super::super::{Estimate, Outcome};
use crate::model::labour::ExtraKind;
use crate::model::settings::TaxMode;
use crate::problem::{Problem, Severity, of_alternate};
use crate::units::Length;

/// Cautions of the library that concern who owns and uses the beds. The others are for who builds them
/// and buys for them, and may name suppliers and prices.
pub(super) const FOR_CLIENTS: [&str; 21] = [
    "wall_height",
    "wall_engineer",
    "footing",
    "roof_load",
    "utilities",
    "soil_lead",
    "path_access",
    "herbicide",
    "salvage_wood",
    "treated_wood",
    "buried_wood",
    "walnut",
    "wall_water",
    "zinc",
    "backflow",
    "reach",
    "knee_room",
    "clear_width",
    "shallow_soil",
    "soil_over_wood",
    "closed_bottom",
];

/// How sales tax stands to the price.
pub(super) fn tax(estimate: &Estimate) -> String {
    let settings = &estimate.job.settings;
    if let Some(words) = &settings.exemption {
        return format!("Sales tax: {words}");
    }
    let words = match settings.tax_mode.value {
        TaxMode::None | TaxMode::OnPurchases => "No sales tax is added to this price",
        TaxMode::OnPrice => "Sales tax is added on the whole price",
        TaxMode::OnMaterials => "Sales tax is added on materials",
        TaxMode::OnCategories => "Sales tax is added on what it applies to",
    };
    words.to_owned()
}

/// Extras that are costs and that the client may see named.
pub(super) fn included(estimate: &Estimate) -> Vec<Arc<str>> {
    let extras = estimate.job.extras.iter();
    let seen = extras.filter(|extra| {
        extra.client_sees && extra.kind == ExtraKind::Cost && !extra.quantity.value.is_zero()
    });
    let mut items: Vec<Arc<str>> = seen.map(|extra| Arc::clone(&extra.item)).collect();
    items.sort();
    items.dedup();
    items
}

/// `The fill settles: its surface will sink about 47 to 80 mm by autumn`.
pub(super) fn settling(estimate: &Estimate) -> Option<String> {
    let sinks = estimate.takeoffs.iter().map(|t| t.sink);
    let sinks: Vec<Length> = sinks.filter(|sink| !sink.is_zero()).collect();
    let (least, most) = (sinks.iter().min()?, sinks.iter().max()?);
    let system = estimate.job.settings.units.value;
    let (least, most) = (system.depth(*least), system.depth(*most));
    let depth = if least == most {
        most
    } else {
        format!("{least} to {most}")
    };
    Some(format!(
        "Fill settles: its surface will sink about {depth} by autumn"
    ))
}

/// Cautions in the order of the estimate, without those of alternates that cannot be offered.
pub(super) fn cautions(estimate: &Estimate) -> Vec<String> {
    let is_for_clients = |problem: &&Problem| {
        let concern = problem.caution.as_ref();
        let is_known = concern.is_some_and(|c| FOR_CLIENTS.contains(&c.key));
        problem.severity == Severity::Caution && is_known
    };
    let cautions = estimate.problems.iter().filter(is_for_clients);
    let mut told: Vec<String> = cautions.map(|caution| caution.sentence.clone()).collect();
    let alternates = estimate.alternates.iter();
    for one in alternates.filter(|a| matches!(a.outcome, Outcome::NotComplete(_))) {
        let begins = of_alternate(&one.name);
        told.retain(|sentence| !sentence.starts_with(&begins));
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::library;

    #[test]
    fn every_caution_for_clients_is_one_of_the_library() {
        let library = library::builtin();
        for key in FOR_CLIENTS {
            assert!(library.caution(key).is_some(), "{key}");
        }
    }
}
