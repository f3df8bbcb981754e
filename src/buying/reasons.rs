//! How each line came about, in plain words.

use super::choose::{Chosen, Plan, Want};
use super::demand::Demand;
use super::desk::Desk;
use super::lumber::{CutPlan, Sticks};
use super::supply::Supply;
use super::{Moment, Scope};
use crate::model::by_measure::PriceUnit;
use crate::model::material::Source;
use crate::model::offer::OfferId;
use crate::model::settings::Buying;
use crate::problem::Problem;
use crate::units::show::{grouped_plain, packs};
use crate::units::{Amount, Decimal};

/// Reasons of a line that is bought whole.
pub(super) fn of_line(
    desk: &Desk<'_>,
    want: &Want,
    plan: &Plan,
    supply: &Supply,
    chosen: &Chosen,
    on_hand: Decimal,
) -> String {
    let mut reasons = vec![choice(desk, want, plan, supply, chosen)];
    reasons.extend(no_fee(desk, chosen));
    reasons.extend(plan.loose_or_packed.clone());
    reasons.extend(stock(desk, &want.demand, on_hand));
    reasons.extend(conversion(desk, &want.demand, supply));
    reasons.push(rounding(supply, chosen));
    let bid = &chosen.quote.bid;
    reasons.extend(by_measure(desk, bid.offer, bid.quantity));
    if plan.sheets.is_some() {
        reasons.push("ripped and cut as the Cut list says".to_owned());
    }
    reasons.extend(extra(desk, chosen));
    reasons.join("; ")
}

fn choice(desk: &Desk<'_>, want: &Want, plan: &Plan, supply: &Supply, chosen: &Chosen) -> String {
    if let Some(rule) = by_rule(desk, supply) {
        return rule.to_owned();
    }
    if plan.sheets.is_some() && plan.lines.len() > 1 {
        return "least cost found, several sizes of sheet together".to_owned();
    }
    let landed = if chosen.quote.trip.is_some() {
        "least cost with delivery"
    } else {
        "least cost"
    };
    match &chosen.next {
        Some((words, more)) if !more.is_zero() => {
            format!("{landed}: {words} would cost {} more", desk.show(*more))
        }
        Some((words, _)) => format!("{landed}, as much as {words}, and first by name"),
        None if want.supplies.len() == 1 => "the only offer".to_owned(),
        None => "the only offer with every price and fee".to_owned(),
    }
}

fn by_rule(desk: &Desk<'_>, supply: &Supply) -> Option<&'static str> {
    if desk.held.is_some() {
        return Some("kept as chosen before");
    }
    match desk.job.settings.buying.value {
        Buying::AsMarked if supply.preferred => Some("marked as preferred"),
        Buying::OneSupplier => Some("one supplier for everything"),
        Buying::AsMarked | Buying::LeastCost => None,
    }
}

fn stock(desk: &Desk<'_>, demand: &Demand, on_hand: Decimal) -> Option<String> {
    (on_hand > Decimal::ZERO).then(|| {
        let amount = desk.system.amount(demand.amount(on_hand));
        format!("{amount} on hand taken off")
    })
}

fn conversion(desk: &Desk<'_>, demand: &Demand, supply: &Supply) -> Option<String> {
    let bridge = supply.bridge?;
    Some(format!(
        "a {} of {} counts as {} {}",
        supply.pack,
        desk.system.pack(supply.holds),
        desk.system.amount(demand.amount(supply.unit)),
        bridge.words(desk.system)
    ))
}

fn rounding(supply: &Supply, chosen: &Chosen) -> String {
    let bid = &chosen.quote.bid;
    let quantity = grouped_plain(bid.quantity, 3);
    if chosen.need_units == bid.quantity {
        return format!(
            "{} needed, and bought",
            packs(chosen.need_units, &supply.pack)
        );
    }
    let step = grouped_plain(bid.step, 3);
    let need = packs(chosen.need_units, &supply.pack);
    format!("{need} needed, {quantity} bought in steps of {step}")
}

/// What is bought beyond the next step up, and why.
fn extra(desk: &Desk<'_>, chosen: &Chosen) -> Option<String> {
    let bid = &chosen.quote.bid;
    let (fewest, cost) = chosen.fewest;
    if bid.quantity > fewest {
        let saved = cost - chosen.quote.landed;
        return Some(format!(
            "{} more than needed reach a lower price and save {}",
            grouped_plain(bid.quantity.saturating_sub(fewest), 3),
            desk.show(saved)
        ));
    }
    let rounded = crate::units::round::step_up(chosen.need_units, bid.step);
    (bid.quantity > rounded).then(|| {
        let least = grouped_plain(bid.quantity, 3);
        format!("the least that is sold is {least}")
    })
}

/// A notice when more is bought than needed because a price break makes it cheaper.
pub(super) fn bought_for_the_break(
    desk: &Desk<'_>,
    want: &Want,
    supply: &Supply,
    chosen: &Chosen,
) -> Option<Problem> {
    let bid = &chosen.quote.bid;
    let (fewest, cost) = chosen.fewest;
    let offer = desk.job.offers.get(bid.offer.index())?;
    (bid.quantity > fewest).then(|| {
        let sentence = format!(
            "{} of {}{}{} are bought where {} would do, which saves {}",
            packs(bid.quantity, &supply.pack),
            desk.job.material_name(want.demand.material),
            where_to(desk, chosen.scope),
            when(want.demand.moment),
            grouped_plain(fewest, 3),
            desk.show(cost - chosen.quote.landed)
        );
        Problem::notice(sentence).at(offer.at, "From quantity")
    })
}

/// A caution when what is taken costs more than something that lacks nothing but its delivery fee.
///
/// A price that holds needs the fee, so the dearer goods stand; but a cell may be all that it takes.
pub(super) fn passed_over_for_a_fee(desk: &Desk<'_>, want: &Want, plan: &Plan) -> Option<Problem> {
    let of_line = |line: &'_ Chosen| Some((line.without_fee?, line.quote.landed, line.scope));
    let of_plan = plan.without_fee.map(|found| (found, plan.cost, Scope::Job));
    let quantity = |line: &Chosen| line.quote.bid.quantity;
    let (taken, ((offer, goods), cost, scope)) = match of_plan {
        Some(found) => (plan.lines.first()?, found),
        None => plan
            .lines
            .iter()
            .find_map(|line| Some((line, of_line(line)?)))?,
    };
    let offer = desk.job.offers.get(offer.index())?;
    let supply = want.supplies.get(taken.quote.supply)?;
    let sentence = format!(
        "{}{}{}: loose from {} it costs {} and a delivery fee that nobody gave, so {}{} for {} are taken",
        desk.job.material_name(want.demand.material),
        where_to(desk, scope),
        when(want.demand.moment),
        desk.supplier_name(offer.supplier),
        desk.show(goods),
        packs(quantity(taken), &supply.pack),
        from(taken, supply),
        desk.show(cost)
    );
    let hint = "give the fee in a row of Deliveries, 0 when you collect";
    Some(Problem::caution(sentence).at(offer.at, "Price").hint(hint))
}

/// Whom loose goods come from: other loose goods are told from them by that.
fn from(taken: &Chosen, supply: &Supply) -> String {
    match taken.quote.trip {
        Some(_) => format!(" from {} with delivery", supply.supplier_name),
        None => String::new(),
    }
}

/// Whose delivery fee is not known, beside the reason of a line.
fn no_fee(desk: &Desk<'_>, chosen: &Chosen) -> Option<String> {
    let offer = desk.job.offers.get(chosen.without_fee?.0.index())?;
    let name = desk.supplier_name(offer.supplier);
    Some(format!("{name} not compared: no delivery fee is given"))
}

/// A drop in words after a material: ` for Site A`; nothing for the whole job.
pub(super) fn where_to(desk: &Desk<'_>, scope: Scope) -> String {
    match scope {
        Scope::Job => String::new(),
        Scope::Drop(site, phase) => format!(" for {}", desk.drop_words(site, phase)),
    }
}

/// The moment in words, when it is not the filling day.
pub(super) fn when(moment: Moment) -> &'static str {
    match moment {
        Moment::Build => "",
        Moment::TopUp => " (top-up)",
    }
}

/// Reasons of a line of sticks.
pub(super) fn of_sticks(
    desk: &Desk<'_>,
    want: &Want,
    plan: &Plan,
    supply: &Supply,
    sticks: &Sticks,
) -> String {
    let mut reasons = Vec::new();
    match (by_rule(desk, supply), plan.other_cut) {
        (Some(rule), _) => reasons.push(rule.to_owned()),
        (None, Some(other)) => reasons.push(format!(
            "least cost: all pieces from the next supplier would cost {} more",
            desk.show(other - plan.cost)
        )),
        (None, None) => reasons.push("the only supplier with sticks for every piece".to_owned()),
    }
    let count: Decimal = want
        .demand
        .pieces
        .iter()
        .fold(Decimal::ZERO, |sum, piece| sum.saturating_add(piece.count));
    reasons.push(format!(
        "{} sticks by the cut list for {} pieces",
        grouped_plain(Decimal::from(sticks.cut), 0),
        grouped_plain(count, 0)
    ));
    let bought = sticks
        .bid
        .quantity
        .saturating_sub(Decimal::from(sticks.culls));
    reasons.extend(by_measure(desk, sticks.bid.offer, bought));
    if bought > Decimal::from(sticks.cut) {
        reasons.push(format!(
            "{} bought for a step, a least order or a price break",
            grouped_plain(bought, 3)
        ));
    }
    reasons.join("; ")
}

/// How a price by a measure became a cost: `12 x 10' = 200 bf at 1.85 per bf`.
fn by_measure(desk: &Desk<'_>, offer: OfferId, quantity: Decimal) -> Option<String> {
    let offer = desk.job.offers.get(offer.index())?;
    let by = offer.by.as_ref()?;
    let piece = match (offer.sheet, offer.holds) {
        (_, Amount::Length(length)) => desk.system.length(length),
        (Some((length, width)), _) => {
            format!(
                "{} x {}",
                desk.system.length(length),
                desk.system.length(width)
            )
        }
        (None, other) => desk.system.amount(other),
    };
    let places = if by.unit == PriceUnit::CubicMetre {
        4
    } else {
        3
    };
    let total = grouped_plain(quantity.saturating_mul(by.in_one), places);
    let price = match &offer.price {
        Some(price) => format!(" at {} per {}", grouped_plain(price.value, 4), by.priced()),
        None => String::new(),
    };
    Some(format!(
        "{} of {piece} = {total} {}{price}",
        packs(quantity, &offer.pack),
        by.unit.symbol()
    ))
}

/// Reason of a line of culls.
pub(super) fn of_culls(desk: &Desk<'_>, cut: &CutPlan) -> String {
    let share = desk.job.settings.culls.value;
    let sticks: Decimal = cut.sticks.iter().map(|s| Decimal::from(s.cut)).sum();
    format!(
        "cull boards: {}% of {} sticks, as whole extra sticks of the longest length bought",
        grouped_plain(share.saturating_mul(Decimal::ONE_HUNDRED), 2),
        grouped_plain(sticks, 0)
    )
}

/// Reason of a line that costs nothing, or that nobody offers.
pub(super) fn without_price(
    desk: &Desk<'_>,
    demand: &Demand,
    free: bool,
    on_hand: Decimal,
) -> String {
    let source = desk.job.material(demand.material).map(|m| m.source.value);
    let mut reasons = Vec::new();
    match (free, source) {
        (false, _) if desk.offers_of(demand.material).is_empty() => {
            reasons.push("no price is given".to_owned());
        }
        (false, _) => reasons.push("no price given can be used".to_owned()),
        (true, Some(Source::OnSite)) => reasons.push("found on the site".to_owned()),
        (true, Some(Source::Donated)) => reasons.push("donated".to_owned()),
        (true, _) => {}
    }
    reasons.extend(stock(desk, demand, on_hand));
    reasons.join("; ")
}
