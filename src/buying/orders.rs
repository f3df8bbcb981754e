//! From demands to order lines, trips and cut lists, in an order that no order of rows can change.

use std::cmp::Reverse;
use std::collections::BTreeSet;
use std::sync::Arc;

use super::choose::{Chosen, Plan, Want};
use super::demand::{self, Demand, DropNeed};
use super::desk::Desk;
use super::flip::flip_price;
use super::lumber::{self, CutPlan, Sticks};
use super::supply::Supply;
use super::{
    Bought, CutList, Held, OrderLine, Scope, near_cut, near_miss, reach, reasons, rule, sheets,
    supply, trips, whereabouts,
};
use crate::model::job::Job;
use crate::model::material::{Material, Source};
use crate::problem::Problem;
use crate::takeoff::{Kinds, TakeOff};
use crate::units::{Decimal, Dimension, Length, Money};

/// Buys what the beds need: packs and steps, the supplier of each, loads and cut lists.
///
/// `takeoffs` stand in the order of `kinds.kinds` and are for one bed each. With `held` choices the
/// offers, vehicles and cuttings of an earlier run are kept wherever they still do.
pub fn buy(job: &Job, kinds: &Kinds, takeoffs: &[TakeOff], held: Option<&Held>) -> Bought {
    let desk = Desk::new(job, held);
    let mut problems = Vec::new();
    let demands = demand::demands(&desk, kinds, takeoffs, &mut problems);
    let (bought, free): (Vec<Demand>, Vec<Demand>) =
        demands.into_iter().partition(|d| is_bought(job, d));
    let mut wants: Vec<Want> = bought
        .into_iter()
        .map(|demand| Want {
            supplies: supply::supplies(&desk, &demand, &mut problems),
            demand,
        })
        .collect();
    for want in &mut wants {
        reach::within_reach(&desk, kinds, takeoffs, want, &mut problems);
    }
    let plans = rule::plans(&desk, &wants, &mut problems);
    let mut drafts = Vec::new();
    for demand in &free {
        drafts.extend(without_price(&desk, demand, true));
    }
    let mut cut_lists = Vec::new();
    let mut sheet_lists = Vec::new();
    for (index, (want, plan)) in wants.iter().zip(&plans).enumerate() {
        if let Some(plan) = plan {
            drafts.extend(drafts_of(&desk, index, want, plan, &mut problems));
        } else {
            if !want.demand.sheets.is_empty() && !want.supplies.is_empty() {
                problems.push(sheets::too_small(&desk, &want.demand));
            }
            drafts.extend(without_price(&desk, &want.demand, false));
        }
        sheet_lists.extend(plan.as_ref().and_then(|plan| plan.sheets.clone()));
        if let Some(cut) = plan.as_ref().and_then(|plan| plan.cut.as_ref()) {
            cut_lists.push(cut_list_of(&want.demand, cut));
        }
    }
    whereabouts::tell(job, kinds, takeoffs, &mut cut_lists);
    sort(&desk, &mut drafts);
    trips::tell_shortages(&desk, &drafts, &mut problems);
    trips::tell_collected(&desk, &drafts, &mut problems);
    let trips = trips::trips(&desk, &wants, &drafts, &mut problems);
    Bought {
        lines: drafts.into_iter().map(|draft| draft.line).collect(),
        trips,
        cut_lists,
        sheet_lists,
        problems: once_each(problems),
    }
}

/// One line, with what is needed to sort it and to bring it.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    /// The line.
    pub(super) line: OrderLine,
    /// Supplier and pack; empty without an offer.
    names: (Arc<str>, Arc<str>),
    /// Length of the stick, for what is cut.
    stick: Length,
    /// Whether it is the line of culls.
    culls: bool,
    /// The want and the supply, for what travels loose.
    pub(super) cargo: Option<(usize, usize)>,
}

fn is_bought(job: &Job, demand: &Demand) -> bool {
    let bought = |m: &Material| m.source.value == Source::Buy;
    job.material(demand.material).is_some_and(bought) && !demand.net().is_zero()
}

/// By supplier name, drop and material name; lines without an offer come last.
fn sort(desk: &Desk<'_>, drafts: &mut [Draft]) {
    drafts.sort_by_cached_key(|draft| {
        let line = &draft.line;
        let place = match line.scope {
            Scope::Job => None,
            Scope::Drop(site, phase) => Some((desk.drop_key(site, phase), site, phase)),
        };
        let (supplier, pack) = draft.names.clone();
        let name: Arc<str> = Arc::from(desk.job.material_name(line.material));
        let what = (name, line.material, line.moment, line.need.dimension());
        (
            (line.offer.is_none(), supplier),
            (place, what),
            (Reverse(draft.stick), draft.culls, pack, line.offer),
        )
    });
}

/// Lines for what is free, or for what nobody sells: fill by drop, everything else for the job.
fn without_price(desk: &Desk<'_>, demand: &Demand, free: bool) -> Vec<Draft> {
    let fill = desk
        .job
        .material(demand.material)
        .is_some_and(|m| m.category.is_fill());
    if !fill {
        let amounts = (demand.net(), demand.on_hand());
        let line = unpriced(desk, demand, Scope::Job, amounts, demand.shares(), free);
        return vec![line];
    }
    let of_drop = |drop: &DropNeed| {
        let scope = Scope::Drop(drop.site, drop.phase);
        let amounts = (drop.net(), drop.on_hand);
        unpriced(desk, demand, scope, amounts, drop.shares.clone(), free)
    };
    demand.drops.iter().map(of_drop).collect()
}

fn unpriced(
    desk: &Desk<'_>,
    demand: &Demand,
    scope: Scope,
    (net, on_hand): (Decimal, Decimal),
    measures: Vec<(crate::takeoff::KindId, Decimal)>,
    free: bool,
) -> Draft {
    let need = demand.amount(net);
    let number = crate::units::round::tidy15(desk.system.number(need));
    let line = OrderLine {
        material: demand.material,
        scope,
        moment: demand.moment,
        need,
        on_hand: demand.amount(on_hand),
        offer: None,
        free,
        need_units: number,
        step: Decimal::ZERO,
        quantity: number,
        fixed: true,
        price: free.then_some(Decimal::ZERO),
        cost: Money::ZERO,
        surplus: demand.amount(Decimal::ZERO),
        measures,
        flip_price: None,
        why: reasons::without_price(desk, demand, free, on_hand),
    };
    Draft {
        line,
        names: (Arc::from(""), Arc::from("")),
        stick: Length::ZERO,
        culls: false,
        cargo: None,
    }
}

fn drafts_of(
    desk: &Desk<'_>,
    index: usize,
    want: &Want,
    plan: &Plan,
    problems: &mut Vec<Problem>,
) -> Vec<Draft> {
    if let Some(cut) = &plan.cut {
        problems.extend(near_cut::notice(desk, want, cut));
        let line = |sticks| cut_drafts(desk, want, plan, cut, sticks);
        return cut.sticks.iter().flat_map(line).collect();
    }
    problems.extend(reasons::passed_over_for_a_fee(desk, want, plan));
    let mut drafts = Vec::new();
    for chosen in &plan.lines {
        let Some(supply) = want.supplies.get(chosen.quote.supply) else {
            continue;
        };
        problems.extend(reasons::bought_for_the_break(desk, want, supply, chosen));
        if plan.sheets.is_none() {
            problems.extend(near_miss::notice(desk, want, supply, chosen));
        }
        let loose = chosen.quote.trip.is_some();
        drafts.push(Draft {
            line: line_of(desk, want, plan, supply, chosen),
            names: (supply.supplier_name.clone(), supply.pack.clone()),
            stick: Length::ZERO,
            culls: false,
            cargo: loose.then_some((index, chosen.quote.supply)),
        });
    }
    drafts
}

fn line_of(
    desk: &Desk<'_>,
    want: &Want,
    plan: &Plan,
    supply: &Supply,
    chosen: &Chosen,
) -> OrderLine {
    let demand = &want.demand;
    let (on_hand, measures) = of_scope(demand, chosen.scope);
    let bid = &chosen.quote.bid;
    let held = bid.quantity.saturating_mul(supply.unit);
    let rounded = crate::units::round::step_up(chosen.need_units, bid.step);
    OrderLine {
        material: demand.material,
        scope: chosen.scope,
        moment: demand.moment,
        need: demand.amount(chosen.need),
        on_hand: demand.amount(on_hand),
        offer: Some(bid.offer),
        free: false,
        need_units: chosen.need_units,
        step: bid.step,
        quantity: bid.quantity,
        // A least order or a price break raised it, or sheets are cut; the workbook could only redo the step.
        fixed: bid.quantity != rounded || plan.sheets.is_some(),
        price: bid.price,
        cost: bid.cost,
        surplus: demand.amount(held.saturating_sub(chosen.need).max(Decimal::ZERO)),
        measures,
        flip_price: chosen.flip,
        why: reasons::of_line(desk, want, plan, supply, chosen, on_hand),
    }
}

fn of_scope(demand: &Demand, scope: Scope) -> (Decimal, Vec<(crate::takeoff::KindId, Decimal)>) {
    match scope {
        Scope::Job => (demand.on_hand(), demand.shares()),
        Scope::Drop(site, phase) => demand
            .drops
            .iter()
            .find(|drop| (drop.site, drop.phase) == (site, phase))
            .map_or_else(Default::default, |drop| (drop.on_hand, drop.shares.clone())),
    }
}

/// The line of one kind of stick, and a line of its own for culls.
fn cut_drafts(
    desk: &Desk<'_>,
    want: &Want,
    plan: &Plan,
    cut: &CutPlan,
    sticks: &Sticks,
) -> Vec<Draft> {
    let Some(supply) = want.supplies.get(sticks.supply) else {
        return Vec::new();
    };
    let stick = supply.stick.unwrap_or_default();
    let culls = Decimal::from(sticks.culls);
    let (cost, cull_cost) = lumber::costs_of(desk, sticks);
    let quantity = sticks.bid.quantity.saturating_sub(culls);
    let length = Dimension::Length.of_base(stick.times(quantity).in_metres());
    let surplus = length.base().saturating_sub(sticks.pieces.in_metres());
    let line = OrderLine {
        material: want.demand.material,
        scope: Scope::Job,
        moment: want.demand.moment,
        need: Dimension::Length.of_base(sticks.pieces.in_metres()),
        on_hand: Dimension::Length.of_base(Decimal::ZERO),
        offer: Some(sticks.bid.offer),
        free: false,
        need_units: Decimal::from(sticks.cut),
        step: sticks.bid.step,
        quantity,
        fixed: true,
        price: sticks.bid.price,
        cost,
        surplus: Dimension::Length.of_base(surplus),
        measures: want.demand.shares(),
        flip_price: plan
            .other_cut
            .and_then(|other| flip_price(&sticks.bid, other - (cut.cost - sticks.bid.cost))),
        why: reasons::of_sticks(desk, want, plan, supply, sticks),
    };
    let draft = Draft {
        line,
        names: (supply.supplier_name.clone(), supply.pack.clone()),
        stick,
        culls: false,
        cargo: None,
    };
    if sticks.culls == 0 {
        return vec![draft];
    }
    let mut extra = draft.clone();
    extra.culls = true;
    extra.line.need = Dimension::Length.of_base(Decimal::ZERO);
    extra.line.need_units = culls;
    extra.line.quantity = culls;
    extra.line.cost = cull_cost;
    extra.line.surplus = Dimension::Length.of_base(stick.times(culls).in_metres());
    extra.line.why = reasons::of_culls(desk, cut);
    vec![draft, extra]
}

fn cut_list_of(demand: &Demand, cut: &CutPlan) -> CutList {
    CutList {
        material: demand.material,
        sticks: cut.list.clone(),
        culls: u32::try_from(cut.culls).unwrap_or(u32::MAX),
        cost: cut.cost_of_cut,
        lower_bound: cut.lower_bound,
        proven: cut.proven,
        pieces: Vec::new(),
    }
}

/// Every message once, in the order met: build and top-up of one material look at the same rows.
fn once_each(problems: Vec<Problem>) -> Vec<Problem> {
    let mut seen = BTreeSet::new();
    let mut kept = problems;
    kept.retain(|problem| {
        let spot = problem.spot.map(|spot| (spot.row, spot.field));
        seen.insert((problem.sentence.clone(), spot))
    });
    kept
}
