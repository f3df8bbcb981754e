//! Small betterments of a complete cutting that never make it worse.

use super::core::{Core, Plan};

/// Gives every stick's pieces to the cheapest stick that holds them and is still to be had; among
/// equal prices to the longest, whose offcut is longer.
pub(super) fn traded_down(core: &Core, plans: Vec<Plan>) -> Vec<Plan> {
    let mut free: Vec<i64> = core.racks.iter().map(|rack| rack.most).collect();
    for plan in &plans {
        free[plan.rack] -= plan.times;
    }
    let mut by_price: Vec<usize> = (0..core.racks.len()).collect();
    by_price.sort_by_key(|rack| (core.racks[*rack].price, *rack));
    let mut traded = Vec::with_capacity(plans.len());
    for mut plan in merged(plans) {
        let price = core.racks[plan.rack].price;
        for rack in by_price.iter().copied() {
            let better = (core.racks[rack].price, rack) < (price, plan.rack);
            if !better || plan.times == 0 || free[rack] <= 0 || !core.holds(rack, &plan.takes) {
                continue;
            }
            let moved = free[rack].min(plan.times);
            free[rack] -= moved;
            free[plan.rack] += moved;
            plan.times -= moved;
            traded.push(Plan {
                rack,
                takes: plan.takes.clone(),
                times: moved,
            });
        }
        if plan.times > 0 {
            traded.push(plan);
        }
    }
    merged(traded)
}

/// Joins sticks that are cut alike, in a fixed order.
fn merged(mut plans: Vec<Plan>) -> Vec<Plan> {
    plans.retain(|plan| plan.times > 0 && !plan.takes.is_empty());
    plans.sort();
    let mut joined: Vec<Plan> = Vec::with_capacity(plans.len());
    for plan in plans {
        match joined.last_mut() {
            Some(last) if last.rack == plan.rack && last.takes == plan.takes => {
                last.times += plan.times;
            }
            _ => joined.push(plan),
        }
    }
    joined
}

/// Moves pieces out of the stick with the longest offcut while other sticks have room for them: what
/// is left over should be one long piece. A stick that ends up empty is not cut at all.
pub(super) fn gathered(core: &Core, plans: &[Plan]) -> Vec<Plan> {
    let Some(emptiest) = (0..plans.len()).max_by_key(|at| (core.offcut(&plans[*at]), *at)) else {
        return Vec::new();
    };
    let mut out = plans.to_vec();
    let mut target = out[emptiest].clone();
    target.times = 1;
    out[emptiest].times -= 1;
    for (size, times) in target.takes.iter_mut().rev() {
        while *times > 0 && moved_in(core, &mut out, *size) {
            *times -= 1;
        }
    }
    target.takes.retain(|(_, times)| *times > 0);
    out.push(target);
    merged(out)
}

/// Puts one more piece of a size on the first stick that has room for it.
fn moved_in(core: &Core, plans: &mut Vec<Plan>, size: usize) -> bool {
    let fits = |plan: &Plan| plan.times > 0 && core.rest(plan) >= core.steps[size];
    let Some(at) = plans.iter().position(fits) else {
        return false;
    };
    let mut plan = plans[at].clone();
    plans[at].times -= 1;
    plan.times = 1;
    add(&mut plan.takes, size);
    plans.push(plan);
    true
}

fn add(takes: &mut Vec<(usize, i64)>, size: usize) {
    match takes.binary_search_by_key(&size, |(s, _)| *s) {
        Ok(at) => takes[at].1 += 1,
        Err(at) => takes.insert(at, (size, 1)),
    }
}
