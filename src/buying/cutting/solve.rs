//! The order of work: fillings, bound, dives, searches, splits; each ends everything when the best
//! cutting costs no more than the bound.

use super::best::Best;
use super::bound::Worth;
use super::branch;
use super::core::{Core, Plan};
use super::dive::{self, Way};
use super::greedy::{self, Left};
use super::master::{Master, Span};
use super::number::count;
use super::sums;
use super::work::{Effort, Work};
use super::{Answer, Task, bound, exact, polish};

/// Sizes up to which the linear program is worth its table.
const SIZES: usize = 600;
/// Steps for the square of the pieces of a short list, so that a few pieces never take long.
const STEPS_A_PAIR: i64 = 500_000;

/// The best cutting that the effort finds; `None` when the sticks cannot yield all pieces, or none was
/// found that keeps to the limits of sticks.
///
/// Cost grows with the number of different lengths, hardly with counts: a step of the linear program
/// takes the square of the lengths, a search for a pattern lengths times the room of the longest stick.
pub fn solve(task: &Task, effort: Effort) -> Option<Answer> {
    let core = Core::of(task)?;
    let (plans, bound) = solved(&core, effort, None)?;
    let cost: i128 = plans
        .iter()
        .map(|plan| i128::from(core.racks[plan.rack].price) * i128::from(plan.times))
        .sum();
    Some(Answer {
        cost: core.money(cost),
        lower_bound: core.money(bound.min(cost)),
        cuts: core.cuts(&plans),
    })
}

/// A price below which no cutting of the task can go, from the linear program alone.
pub fn lower_bound(task: &Task, effort: Effort) -> i128 {
    let Some(core) = Core::of(task) else { return 0 };
    let mut work = Work::of(effort.steps);
    let mut bound = bound::by_length(&core).money();
    if core.sizes() <= SIZES {
        let mut root = Master::new(&core, &Span::all(&core), false);
        root.solve(&mut work);
        bound = bound.max(root.worth.money());
    }
    core.money(bound.max(0))
}

/// The best cutting and a bound. With `enough`, a bound as high as that ends the search.
fn solved(core: &Core, effort: Effort, enough: Option<i128>) -> Option<(Vec<Plan>, i128)> {
    let mut work = Work::of(steps_for(core, effort));
    let mut best = Best::new(core).until(enough);
    for plans in greedy::fillings(core, &Left::all(core), &mut work) {
        best.offer(plans);
    }
    let mut worth = bound::by_length(core);
    let mut lowest = worth.money();
    if core.pieces <= exact::ALL {
        if exact::every(core, &worth, &mut best, &mut work) {
            let plans = best.plans()?.to_vec();
            return Some((plans, best.money()?));
        }
    } else if !best.reaches(lowest) && core.sizes() <= SIZES {
        lowest = improved(core, effort, &mut worth, &mut best, &mut work).max(lowest);
    }
    if !best.reaches(lowest) {
        doubled(core, effort, &mut best);
    }
    gathered(core, &mut best);
    let plans = best.plans()?.to_vec();
    Some((plans, lowest))
}

/// The effort that a list is worth: alike pieces beyond a few add nothing to what there is to choose.
fn steps_for(core: &Core, effort: Effort) -> i64 {
    let choices = core.pieces.min(count(core.sizes()).saturating_mul(6));
    let pairs = choices.saturating_mul(choices);
    pairs.saturating_mul(STEPS_A_PAIR).min(effort.steps)
}

/// Everything that rests on the linear program. Gives the bound.
fn improved(
    core: &Core,
    effort: Effort,
    worth: &mut Worth,
    best: &mut Best<'_>,
    work: &mut Work,
) -> i128 {
    let mut root = Master::new(core, &Span::all(core), false);
    if let Some(plans) = best.plans() {
        root.add_plans(plans);
    }
    let is_solved = root.solve(work);
    if root.worth.money() > worth.money() {
        *worth = root.worth.clone();
    }
    let mut lowest = worth.money();
    if let Some(goal) = best.goal() {
        lowest = sums::next(core, &Span::all(core), lowest, goal, work);
    }
    if !is_solved || best.reaches(lowest) {
        return lowest;
    }
    if !core.has_one_price() {
        root.tilted();
        root.solve(work);
    }
    let first = if core.has_one_price() { 6 } else { 2 };
    if dives(&root, 0..first.min(effort.dives), lowest, best, work) {
        return lowest;
    }
    if core.has_one_price() {
        let mut part = work.part(5);
        let before = part.left();
        if exact::cheaper(core, worth, best, &mut part) {
            return best.money().unwrap_or(lowest);
        }
        work.spend(before - part.left());
    } else {
        let known: Vec<Plan> = root
            .shares()
            .into_iter()
            .map(|share| Plan {
                rack: share.rack,
                takes: share.takes,
                times: 1,
            })
            .collect();
        let mut part = work.part(80);
        let before = part.left();
        lowest = branch::split(core, &known, lowest, best, &mut part).max(lowest);
        work.spend(before - part.left());
    }
    if best.is_near(lowest) {
        return lowest;
    }
    if dives(&root, first..effort.dives, lowest, best, work) {
        return lowest;
    }
    if exact::cheaper(core, worth, best, work) {
        return best.money().unwrap_or(lowest);
    }
    lowest
}

fn dives(
    root: &Master<'_>,
    numbers: std::ops::Range<u32>,
    bound: i128,
    best: &mut Best<'_>,
    work: &mut Work,
) -> bool {
    for number in numbers {
        if best.reaches(bound) || work.is_over() {
            break;
        }
        let turns = if number % 2 == 0 { 0 } else { 40 };
        dive::dive(root, best, Way { number, turns }, work);
    }
    best.reaches(bound)
}

/// Twice the cutting of half the task, so that twice the pieces never cost more than twice the money.
fn doubled(core: &Core, effort: Effort, best: &mut Best<'_>) {
    let Some(half) = core.half() else { return };
    // Where half the task is known to cost half of what was found, it cannot help.
    let enough = best.money().map(|money| (money + 1).div_euclid(2));
    if let Some((plans, _)) = solved(&half, effort, enough) {
        let twice = plans.into_iter().map(|plan| Plan {
            times: plan.times * 2,
            ..plan
        });
        best.offer(twice.collect());
    }
}

/// Offcuts gathered into one, while that is better.
fn gathered(core: &Core, best: &mut Best<'_>) {
    for _ in 0..20 {
        let Some(plans) = best.plans() else { return };
        let before = plans.to_vec();
        best.offer(polish::gathered(core, &before));
        if best.plans() == Some(before.as_slice()) {
            return;
        }
    }
}
