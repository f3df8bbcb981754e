//! Single changes of the job that get the next bed into the money.

use super::super::Estimate;
use super::super::beside::beside_each_other;
use super::order::Steps;
use crate::model::alternate::Alternate;
use crate::model::job::Job;
use crate::model::known::Known;
use crate::model::settings::{Buying, TopUp};
use crate::model::source::Sources;
use crate::problem::Staged;
use crate::units::{Decimal, Money};

/// Beds out of turn that are tried.
const MOST_OUT_OF_TURN: usize = 40;

/// A change, and what the job with one bed more costs with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Way {
    /// The change in words: `without the contingency of 5%`.
    pub words: String,
    /// Price with tax.
    pub total: Money,
    /// What it takes off the price of the job with one bed more; for a bed out of turn nothing.
    pub saves: Option<Money>,
    /// Whether it builds another bed than the next.
    pub out_of_turn: bool,
}

/// What is asked.
pub(super) struct Question<'a> {
    pub(super) job: &'a Job,
    pub(super) sources: &'a Sources,
    pub(super) alternates: &'a [Alternate],
    pub(super) steps: &'a Steps,
    pub(super) built: usize,
    pub(super) budget: Money,
}

/// A change that is tried.
struct Try {
    words: String,
    out_of_turn: bool,
    job: Job,
    sources: Sources,
}

/// What came of the changes that were tried.
#[derive(Debug, Default)]
pub(super) struct Tried {
    /// Those that fit into the money, the smallest change of the price first; beds out of turn last.
    pub(super) ways: Vec<Way>,
    /// The one that comes nearest, when none fits.
    pub(super) nearest: Option<Way>,
    /// How many were tried.
    pub(super) count: usize,
}

/// Tries every change with one bed more.
pub(super) fn ways(
    of: &Question<'_>,
    price: &(impl Fn(Job, Sources) -> Staged<Option<Estimate>> + Sync),
) -> Tried {
    let next = of.built.saturating_add(1);
    if next > of.steps.len() {
        return Tried::default();
    }
    let plain = Try {
        words: String::new(),
        out_of_turn: false,
        job: of.steps.first(of.job, next),
        sources: of.sources.clone(),
    };
    let mut tries = settings(of, &plain.job);
    tries.extend(alternates(of, next));
    tries.extend(out_of_turn(of));
    let count = tries.len();
    let mut all = vec![plain];
    all.extend(tries);
    let words: Vec<(String, bool)> = all
        .iter()
        .map(|t| (t.words.clone(), t.out_of_turn))
        .collect();
    let totals = beside_each_other(all, &|one: Try| {
        let estimate = price(one.job, one.sources).output?;
        estimate.is_complete().then_some(estimate.price.total)
    });
    let totals: Vec<Option<Money>> = totals.into_iter().map(Option::flatten).collect();
    let whole = totals.first().copied().flatten();
    let ways = words.into_iter().zip(totals).skip(1);
    let ways = ways.filter_map(|((words, out_of_turn), total)| {
        let total = total?;
        let saves = whole.map(|whole| whole - total).filter(|_| !out_of_turn);
        Some(Way {
            words,
            total,
            saves,
            out_of_turn,
        })
    });
    let (mut ways, short): (Vec<Way>, Vec<Way>) = ways.partition(|way| way.total <= of.budget);
    let nearest = short.into_iter().min_by_key(|way| way.total);
    // What changes least comes first; beds out of turn last, the most built for the money first.
    ways.sort_by(|a, b| {
        let by_turn = a.out_of_turn.cmp(&b.out_of_turn);
        by_turn
            .then(b.total.cmp(&a.total))
            .then_with(|| a.words.cmp(&b.words))
    });
    Tried {
        nearest: nearest.filter(|_| ways.is_empty()),
        ways,
        count,
    }
}

/// Settings that the owner may change with a word.
fn settings(of: &Question<'_>, next: &Job) -> Vec<Try> {
    let mut tries = Vec::new();
    let mut add = |words: String, change: &dyn Fn(&mut Job)| {
        let mut job = next.clone();
        change(&mut job);
        tries.push(Try {
            words,
            out_of_turn: false,
            job,
            sources: of.sources.clone(),
        });
    };
    let settings = &of.job.settings;
    if settings.top_up.value == TopUp::Included {
        add(
            "the top-up offered beside the price, not in it".to_owned(),
            &|job| {
                job.settings.top_up = tried(TopUp::Offered);
            },
        );
    }
    if !settings.contingency.value.is_zero() {
        let percent = settings
            .contingency
            .value
            .saturating_mul(Decimal::ONE_HUNDRED);
        let words = format!("without the contingency of {}%", percent.normalize());
        add(words, &|job| {
            job.settings.contingency = tried(Decimal::ZERO);
        });
    }
    if settings.buying.value != Buying::LeastCost {
        add(
            "each material from the cheapest supplier".to_owned(),
            &|job| {
                job.settings.buying = tried(Buying::LeastCost);
            },
        );
    }
    tries
}

fn tried<T>(value: T) -> Known<T> {
    Known::assumed(value, "tried to see how far the money goes")
}

/// The job's own alternates, each with one bed more.
fn alternates(of: &Question<'_>, next: usize) -> Vec<Try> {
    let tries = of.alternates.iter().filter_map(|one| {
        let order = Steps::of(&one.job);
        // An alternate that leaves out chosen beds saves money and builds no bed more.
        of.steps.is_kept_by(&order, next).then(|| Try {
            words: format!("with the alternate \"{}\"", one.name),
            out_of_turn: false,
            job: order.first(&one.job, next),
            sources: one.sources.clone(),
        })
    });
    tries.collect()
}

/// Beds behind the next one in its place, one of each row.
fn out_of_turn(of: &Question<'_>) -> Vec<Try> {
    let next = of.steps.beds().nth(of.built).map(|one| one.at);
    let mut seen = Vec::new();
    let mut tries = Vec::new();
    for one in of
        .steps
        .beds()
        .skip(of.built)
        .filter(|one| Some(one.at) != next)
    {
        if seen.contains(&one.at) || tries.len() >= MOST_OUT_OF_TURN {
            continue;
        }
        seen.push(one.at);
        tries.push(Try {
            words: format!("{} in place of the next bed", one.name),
            out_of_turn: true,
            job: of.steps.first_and(of.job, of.built, one),
            sources: of.sources.clone(),
        });
    }
    tries
}
