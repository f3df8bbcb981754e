//! How many beds a sum of money builds, in the order of their priority.
//!
//! Every step is the whole job priced with one bed more: trucks, packs, sticks and crew days are shared, so
//! what a bed adds is known only from both prices. Nothing is taken for granted between steps. A larger
//! number of beds can cost no more than a smaller one (a price break, free delivery), so all steps are
//! priced, and the last one that the money reaches is the answer.

mod order;
mod ways;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Estimate;
use super::beside::beside_each_other;
use crate::model::alternate::Alternate;
use crate::model::job::Job;
use crate::model::source::Sources;
use crate::problem::{Problem, Staged};
use crate::units::show::plain;
use crate::units::{Decimal, Money};
use order::Steps;
pub use ways::Way;

/// More single beds than are priced one by one.
pub const MOST_BEDS: usize = 400;

/// How far a sum of money goes.
#[derive(Clone, Debug)]
pub struct Stretch {
    /// The sum.
    pub budget: Money,
    /// Each bed in the order of priority, with what the job costs up to it.
    pub steps: Vec<Step>,
    /// How many of the steps the money builds.
    pub built: usize,
    /// What is left of the sum then; all of it when it builds nothing.
    pub left: Money,
    /// Beds without a priority, which come after those with one, by name.
    pub without_priority: usize,
    /// Beds that have one.
    pub with_priority: usize,
    /// Single changes that get the next bed in, that which changes the price least first.
    pub ways: Vec<Way>,
    /// The change that comes nearest, when none gets the next bed in.
    pub nearest: Option<Way>,
    /// How many changes were tried.
    pub tried: usize,
}

/// One bed more.
#[derive(Clone, Debug)]
pub struct Step {
    /// Its row.
    pub bed: Arc<str>,
    /// Which of the beds of its row it is, from 1, and how many there are.
    pub of_row: (u32, u32),
    /// Its priority.
    pub priority: Option<u32>,
    /// Price with tax of the job up to it; `None` when a price is missing then.
    pub total: Option<Money>,
    /// What it adds to the step before; for the first bed with all that belongs to no bed.
    pub adds: Option<Money>,
    /// What it makes jump, in words: `1 load more from Kiln Lane`.
    pub because: Vec<String>,
    /// Whether the money reaches so far.
    pub fits: bool,
}

impl Stretch {
    /// The step that the money does not reach, when there is one.
    pub fn next(&self) -> Option<&Step> {
        self.steps.get(self.built)
    }

    /// What is lacking for it.
    pub fn lacking(&self) -> Option<Money> {
        self.next()?.total.map(|total| total - self.budget)
    }
}

/// Prices a job bed by bed.
///
/// # Errors
/// Too many beds, no bed, or a step whose price has an error.
pub fn stretch(
    (job, sources): (&Job, &Sources),
    alternates: &[Alternate],
    budget: Money,
    price: &(impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync),
) -> Result<Stretch, Vec<Problem>> {
    let steps = Steps::of(job);
    if steps.len() > MOST_BEDS {
        let words = format!(
            "the job has {} beds, and at most {MOST_BEDS} are priced one by one",
            steps.len()
        );
        let problem = Problem::error(words).hint("price one site or one phase at a time");
        return Err(vec![problem]);
    }
    if steps.len() == 0 {
        return Err(vec![Problem::error("the job has no bed to build")]);
    }
    let asks = (1..=steps.len()).map(|n| (steps.first(job, n), sources.clone()));
    let run = |(job, sources): (Job, Sources)| price(job, sources);
    let priced = beside_each_other(asks.collect(), &run);
    let mut estimates = Vec::with_capacity(priced.len());
    for staged in priced {
        estimates.push(whole(staged)?);
    }
    let told = told(&steps, &estimates, budget);
    let built = told.iter().rposition(|step| step.fits);
    let built = built.map_or(0, |place| place.saturating_add(1));
    let reached = built.checked_sub(1).and_then(|place| told.get(place));
    let left = reached
        .and_then(|step| step.total)
        .map_or(budget, |t| budget - t);
    let changes = ways::ways(
        &ways::Question {
            job,
            sources,
            alternates,
            steps: &steps,
            built,
            budget,
        },
        price,
    );
    let with_priority = job.beds.iter().filter(|bed| bed.priority.is_some()).count();
    Ok(Stretch {
        budget,
        steps: told,
        built,
        left,
        without_priority: job.beds.len().saturating_sub(with_priority),
        with_priority,
        ways: changes.ways,
        nearest: changes.nearest,
        tried: changes.count,
    })
}

/// The estimate of a step, or what is wrong with it.
fn whole(staged: Option<Staged<Option<Estimate>>>) -> Result<Estimate, Vec<Problem>> {
    let lost = || vec![Problem::bug("a step was lost while it was priced")];
    let staged = staged.ok_or_else(lost)?;
    staged.output.ok_or(staged.problems)
}

fn told(steps: &Steps, estimates: &[Estimate], budget: Money) -> Vec<Step> {
    let total = |estimate: &Estimate| estimate.is_complete().then_some(estimate.price.total);
    let mut before: Option<&Estimate> = None;
    let mut told = Vec::with_capacity(estimates.len());
    for (bed, estimate) in steps.beds().zip(estimates) {
        let now = total(estimate);
        let then = before.map_or(Some(Money::ZERO), total);
        told.push(Step {
            bed: Arc::clone(&bed.name),
            of_row: bed.of_row,
            priority: bed.priority,
            total: now,
            adds: now.zip(then).map(|(now, then)| now - then),
            because: before.map_or_else(Vec::new, |before| jumps(before, estimate)),
            fits: now.is_some_and(|now| now <= budget),
        });
        before = Some(estimate);
    }
    told
}

/// What a bed makes jump: loads that are paid for, crew days; and that it makes the job cheaper, where it does.
fn jumps(before: &Estimate, after: &Estimate) -> Vec<String> {
    let mut jumps = Vec::new();
    let (then, now) = (trips(before), trips(after));
    for (supplier, charged) in &now {
        let known = then.get(supplier).copied().unwrap_or_default();
        let more = charged.saturating_sub(known);
        if more > Decimal::ZERO {
            let loads = if more == Decimal::ONE {
                "load"
            } else {
                "loads"
            };
            jumps.push(format!("{} {loads} more from {supplier}", plain(more, 2)));
        }
    }
    let days = |estimate: &Estimate| {
        let days = estimate.labour.days.iter().map(|days| days.days);
        days.fold(Decimal::ZERO, Decimal::saturating_add)
    };
    let more = days(after).saturating_sub(days(before));
    if more > Decimal::ZERO {
        let days = if more == Decimal::ONE { "day" } else { "days" };
        jumps.push(format!("{} crew {days} more", plain(more, 0)));
    }
    let (then, now) = (before.price.total, after.price.total);
    if before.is_complete() && after.is_complete() && now < then {
        jumps.push(
            "the job is cheaper with it: a price break, free delivery or another offer".to_owned(),
        );
    }
    jumps
}

/// Trips that are charged, by the supplier's name.
fn trips(estimate: &Estimate) -> BTreeMap<Arc<str>, Decimal> {
    let mut trips: BTreeMap<Arc<str>, Decimal> = BTreeMap::new();
    for one in &estimate.bought.trips {
        if let Some(supplier) = estimate.job.suppliers.get(one.supplier.index()) {
            let sum = trips.entry(Arc::clone(&supplier.name)).or_default();
            *sum = sum.saturating_add(one.charged);
        }
    }
    trips
}
