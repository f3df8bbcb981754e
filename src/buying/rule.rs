//! The rule by which a job buys: least cost, one supplier, or as marked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::choose::{Plan, Want, best};
use super::desk::Desk;
use super::supply::Supply;
use crate::model::known::From;
use crate::model::offer::SupplierId;
use crate::model::settings::Buying;
use crate::problem::Problem;
use crate::units::Money;

/// A plan for each want, `None` where nothing is for sale.
pub(super) fn plans(
    desk: &Desk<'_>,
    wants: &[Want],
    problems: &mut Vec<Problem>,
) -> Vec<Option<Plan>> {
    match desk.job.settings.buying.value {
        Buying::LeastCost => by_least_cost(desk, wants),
        Buying::AsMarked => all_as_marked(desk, wants, problems),
        // Choices that are held have already passed this rule.
        Buying::OneSupplier if desk.held.is_some() => by_least_cost(desk, wants),
        Buying::OneSupplier => from_one(desk, wants, problems),
    }
}

fn by_least_cost(desk: &Desk<'_>, wants: &[Want]) -> Vec<Option<Plan>> {
    wants
        .iter()
        .map(|want| best(desk, want, |_| true))
        .collect()
}

fn all_as_marked(
    desk: &Desk<'_>,
    wants: &[Want],
    problems: &mut Vec<Problem>,
) -> Vec<Option<Plan>> {
    if desk.held.is_some() {
        return by_least_cost(desk, wants);
    }
    let mut plans = Vec::with_capacity(wants.len());
    // Materials bought at the cheapest offer, by the reason for it.
    let mut cheapest: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for want in wants {
        let marked = best(desk, want, |supply| supply.preferred);
        if marked.is_none() && !want.supplies.is_empty() {
            let reason = if want.supplies.iter().any(|s| s.preferred) {
                "the marked offers cannot meet the need"
            } else {
                "no offer is marked"
            };
            let names = cheapest.entry(reason).or_default();
            let name = desk.job.material_name(want.demand.material);
            if !names.contains(&name) {
                names.push(name);
            }
        }
        plans.push(marked.or_else(|| best(desk, want, |_| true)));
    }
    for (reason, names) in cheapest {
        let words = format!("{}: {reason}, so the cheapest was taken", some_of(&names));
        problems.push(Problem::notice(words));
    }
    plans
}

/// At most three names, and how many more there are.
fn some_of(names: &[&str]) -> String {
    match names {
        [a, b, c, rest @ ..] if rest.len() > 1 => format!("{a}, {b}, {c} and {} more", rest.len()),
        _ => names.join(", "),
    }
}

/// One supplier and what they would charge for everything, or what they lack.
struct Candidate {
    name: Arc<str>,
    plans: Vec<Option<Plan>>,
    lacks: Vec<String>,
}

fn from_one(desk: &Desk<'_>, wants: &[Want], problems: &mut Vec<Problem>) -> Vec<Option<Plan>> {
    let sellers: BTreeSet<(Arc<str>, SupplierId)> = wants
        .iter()
        .flat_map(|want| want.supplies.iter().map(seller))
        .collect();
    let mut candidates: Vec<Candidate> = sellers
        .into_iter()
        .map(|(name, id)| candidate(desk, wants, name, id))
        .collect();
    if candidates.is_empty() {
        return by_least_cost(desk, wants);
    }
    let cost = |c: &Candidate| -> (u32, Money) {
        let plans = || c.plans.iter().flatten();
        (
            plans().map(|plan| plan.gaps).sum(),
            plans().map(|plan| plan.cost).sum(),
        )
    };
    let complete = candidates
        .iter()
        .enumerate()
        .filter(|(_, c)| c.lacks.is_empty())
        .min_by_key(|(_, c)| cost(c))
        .map(|(index, _)| index);
    if let Some(index) = complete {
        return candidates.swap_remove(index).plans;
    }
    problems.push(nobody_has_all(desk, &candidates));
    by_least_cost(desk, wants)
}

fn seller(supply: &Supply) -> (Arc<str>, SupplierId) {
    (supply.supplier_name.clone(), supply.supplier)
}

fn candidate(desk: &Desk<'_>, wants: &[Want], name: Arc<str>, id: SupplierId) -> Candidate {
    let mut lacks = Vec::new();
    let plans = wants
        .iter()
        .map(|want| {
            let own = |supply: &Supply| supply.supplier == id;
            let priced = want.supplies.iter().any(|s| own(s) && s.is_priced());
            let plan = best(desk, want, own).filter(|plan| priced && !plan.short);
            // What nobody sells is no reason against one of them.
            if plan.is_none() && !want.supplies.is_empty() {
                lacks.push(desk.job.material_name(want.demand.material).to_owned());
            }
            plan
        })
        .collect();
    lacks.dedup();
    Candidate { name, plans, lacks }
}

fn nobody_has_all(desk: &Desk<'_>, candidates: &[Candidate]) -> Problem {
    let each: Vec<String> = candidates
        .iter()
        .map(|c| format!("{} lacks {}", c.name, c.lacks.join(", ")))
        .collect();
    let sentence = format!(
        "no single supplier has everything that is bought: {}",
        each.join("; ")
    );
    let problem =
        Problem::error(sentence).hint("add the missing prices, or set Buying to least cost");
    match desk.job.settings.buying.from {
        From::Job(row, field) => problem.at(row, field),
        _ => problem,
    }
}
