//! Suppliers side by side at landed cost: goods and the trips that bring them, before tax.
//!
//! Everybody is asked in earnest: the job is bought once from each supplier alone, once from all, and once
//! from each set of suppliers that could do with fewer. So packs, steps, least orders, loads by volume and
//! weight, fees and free delivery count as they do in the orders. What is compared is what was typed:
//! quality is not.

mod doubtful;
mod fewest;

use std::collections::BTreeMap;
use std::sync::Arc;

use super::Estimate;
use super::beside::beside_each_other;
use crate::buying::{Bought, BreakEven, OrderLine, break_evens, buy};
use crate::model::job::Job;
use crate::model::material::MaterialId;
use crate::model::naming::by_name;
use crate::model::offer::{OfferId, SupplierId};
use crate::model::settings::Buying;
use crate::problem::Severity;
use crate::takeoff::{Moment, take_off_all};
use crate::units::{Amount, Decimal, Money};
pub use doubtful::{Doubt, Why};
pub use fewest::Fewest;

/// Suppliers side by side.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Those who sell anything that the job needs, by name.
    pub suppliers: Vec<Arc<str>>,
    /// What is bought, by name.
    pub rows: Vec<Row>,
    /// Everything from one of them, in the order of the suppliers.
    pub singles: Vec<Single>,
    /// Everything as the job's rule buys it.
    pub as_ruled: Single,
    /// Everything at the least cost that is found.
    pub least: Single,
    /// As few suppliers as a cost so much above the least allows.
    pub fewest: Fewest,
    /// Loose materials that come in packs too.
    pub break_evens: Vec<BreakEven>,
    /// Prices that are old, missing or far from the others.
    pub doubts: Vec<Doubt>,
}

/// One material at one moment.
#[derive(Clone, Debug)]
pub struct Row {
    /// What.
    pub material: MaterialId,
    /// Its name.
    pub name: Arc<str>,
    /// When.
    pub moment: Moment,
    /// How much is needed.
    pub need: Amount,
    /// What it costs from each supplier alone, in the order of the suppliers; nothing where they do not have it all.
    pub landed: Vec<Option<Money>>,
    /// Who has it in the orders, by name, and at what cost with trips; no cost where a price is missing or there
    /// is too little of it.
    pub chosen: (Vec<Arc<str>>, Option<Money>),
    /// The price of a unit in the orders, and at which price another offer becomes the cheaper one.
    pub flip: Option<(Decimal, Decimal)>,
}

/// Everything bought in one way.
#[derive(Clone, Debug)]
pub struct Single {
    /// From whom, by name.
    pub from: Vec<Arc<str>>,
    /// Goods and trips.
    pub cost: Money,
    /// What has no price then or is not there in that number, by name.
    pub lacks: Vec<Arc<str>>,
}

/// One way of buying, as it came out.
pub(super) struct Run {
    pub(super) bought: Bought,
    pub(super) single: Single,
}

/// Compares the suppliers of a job; `within` is how much more than the least fewer suppliers may cost, as a
/// fraction. Nothing without a supplier.
pub fn compare(estimate: &Estimate, within: Decimal) -> Option<Comparison> {
    let job = &estimate.job;
    let sellers = sellers(estimate);
    if sellers.is_empty() {
        return None;
    }
    let mut asked: Vec<Vec<SupplierId>> = sellers.iter().map(|id| vec![*id]).collect();
    asked.push(sellers.clone());
    let runs = beside_each_other(asked, &|set: Vec<SupplierId>| run(estimate, &set));
    let mut runs: Vec<Run> = runs.into_iter().flatten().collect();
    let all = runs.pop()?;
    let ruled = single_of(job, &estimate.bought);
    // The rule of the job may itself be the cheaper one where choices hang together.
    let least = if ruled.lacks.len() <= all.single.lacks.len() && ruled.cost < all.single.cost {
        ruled.clone()
    } else {
        all.single.clone()
    };
    let rows = rows(estimate, &runs);
    Some(Comparison {
        suppliers: sellers.iter().map(|id| name_of(job, *id)).collect(),
        fewest: fewest::fewest(estimate, &sellers, (&runs, &all), (&least, within)),
        rows,
        singles: runs.into_iter().map(|run| run.single).collect(),
        as_ruled: ruled,
        least,
        break_evens: break_evens(job, &estimate.kinds, &estimate.takeoffs),
        doubts: doubtful::doubts(estimate),
    })
}

/// Suppliers of anything that is bought, by name.
fn sellers(estimate: &Estimate) -> Vec<SupplierId> {
    let job = &estimate.job;
    let wanted =
        |material: MaterialId| estimate.bought.lines.iter().any(|l| l.material == material);
    let offers = job.offers.iter().filter(|offer| wanted(offer.material));
    let mut sellers: Vec<SupplierId> = offers.map(|offer| offer.supplier).collect();
    sellers.sort_by(|a, b| by_name(&name_of(job, *a), &name_of(job, *b)).then(a.cmp(b)));
    sellers.dedup();
    sellers
}

fn name_of(job: &Job, id: SupplierId) -> Arc<str> {
    let supplier = job.suppliers.get(id.index());
    supplier.map_or_else(|| "?".into(), |s| Arc::clone(&s.name))
}

/// Buys everything from these suppliers at the least cost.
pub(super) fn run(estimate: &Estimate, from: &[SupplierId]) -> Run {
    let mut job = estimate.job.clone();
    job.offers.retain(|offer| from.contains(&offer.supplier));
    job.settings.buying.value = Buying::LeastCost;
    // Runs longer than the longest stick are spliced, so other sticks make other walls.
    let takeoffs = take_off_all(&job, &estimate.kinds);
    let bought = buy(&job, &estimate.kinds, &takeoffs, None);
    let mut single = single_of(&job, &bought);
    let in_takeoffs = takeoffs.iter().flat_map(|t| &t.problems);
    let problems = in_takeoffs.chain(&bought.problems);
    if problems.into_iter().any(|p| p.severity == Severity::Error) {
        single.lacks.push(CANNOT.into());
    }
    Run { bought, single }
}

/// Said where walls cannot be built of what is for sale.
const CANNOT: &str = "what the walls need";

fn single_of(job: &Job, bought: &Bought) -> Single {
    let goods: Money = bought.lines.iter().map(|line| line.cost).sum();
    let trips: Money = bought.trips.iter().map(|trips| trips.cost).sum();
    let offers = bought.lines.iter().filter_map(|line| line.offer);
    let mut from: Vec<Arc<str>> = offers.filter_map(|id| seller(job, id)).collect();
    let unpriced = bought.lines.iter().filter(|l| l.price.is_none() && !l.free);
    let too_few = bought.lines.iter().filter(|l| is_short(job, bought, l));
    let mut lacks: Vec<Arc<str>> = unpriced
        .chain(too_few)
        .map(|l| job.material_name(l.material).into())
        .collect();
    for names in [&mut from, &mut lacks] {
        names.sort_by(|a, b| by_name(a, b));
        names.dedup();
    }
    Single {
        from,
        cost: goods + trips,
        lacks,
    }
}

/// Whether its offer has fewer than all orders of it together.
fn is_short(job: &Job, bought: &Bought, line: &OrderLine) -> bool {
    let Some(id) = line.offer else { return false };
    let offer = job.offers.get(id.index());
    let Some(there) = offer.and_then(|offer| offer.available) else {
        return false;
    };
    let own = bought.lines.iter().filter(|other| other.offer == Some(id));
    let ordered = own.map(|other| other.quantity);
    ordered.fold(Decimal::ZERO, Decimal::saturating_add) > there
}

fn seller(job: &Job, offer: OfferId) -> Option<Arc<str>> {
    Some(name_of(job, job.offers.get(offer.index())?.supplier))
}

/// Goods and trips of one material at one moment; nothing when a part of it has no price or is not there.
fn landed(job: &Job, bought: &Bought, key: (MaterialId, Moment)) -> Option<Money> {
    let own = |line: &OrderLine| (line.material, line.moment) == key;
    let lines: Vec<usize> = (0..bought.lines.len())
        .filter(|place| bought.lines.get(*place).is_some_and(own))
        .collect();
    let mut cost = Money::ZERO;
    for place in &lines {
        let line = bought.lines.get(*place)?;
        if (line.price.is_none() && !line.free) || is_short(job, bought, line) {
            return None;
        }
        cost += line.cost;
    }
    // Several materials never share a load.
    let trips = bought.trips.iter();
    let trips = trips.filter(|trips| trips.lines.iter().any(|place| lines.contains(place)));
    cost += trips.map(|trips| trips.cost).sum();
    (!lines.is_empty()).then_some(cost)
}

fn rows(estimate: &Estimate, runs: &[Run]) -> Vec<Row> {
    let job = &estimate.job;
    let mut needs: BTreeMap<(MaterialId, Moment), Amount> = BTreeMap::new();
    for line in estimate
        .bought
        .lines
        .iter()
        .filter(|l| !l.free && l.offer.is_some())
    {
        let need = needs.entry((line.material, line.moment));
        need.and_modify(|sum| *sum = sum.plus(line.need).unwrap_or(*sum))
            .or_insert(line.need);
    }
    let rows = needs.into_iter().map(|((material, moment), need)| {
        let lines = estimate.bought.lines.iter();
        let own = lines.filter(|l| (l.material, l.moment) == (material, moment));
        let mut from: Vec<Arc<str>> = own
            .clone()
            .filter_map(|line| seller(job, line.offer?))
            .collect();
        from.sort();
        from.dedup();
        let flips = own.filter_map(|line| Some((line.price?, line.flip_price?)));
        let key = (material, moment);
        Row {
            material,
            name: job.material_name(material).into(),
            moment,
            need,
            landed: runs
                .iter()
                .map(|run| landed(job, &run.bought, key))
                .collect(),
            chosen: (from, landed(job, &estimate.bought, key)),
            flip: flips.min_by_key(|(_, flip)| *flip),
        }
    });
    let mut rows: Vec<Row> = rows.collect();
    rows.sort_by(|a, b| by_name(&a.name, &b.name).then(a.moment.cmp(&b.moment)));
    rows
}
