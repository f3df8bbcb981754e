//! A step that only just had to be bought: finishing a layer a little lower would save it.

use super::choose::{self, Chosen, Want};
use super::demand::Demand;
use super::desk::Desk;
use super::reasons;
use super::supply::Supply;
use super::{Problem, Scope};
use crate::model::material::Material;
use crate::model::settings::FullAfter;
use crate::units::show::{System, grouped_plain, packs, plain};
use crate::units::{Area, Decimal, Dimension, Length, Money};

/// Depths up to a quarter of an inch count as a near miss.
const SMALL: Decimal = Decimal::from_parts(635, 0, 0, false, 5);

/// A notice such as `Topsoil for Site A: 7.5 yards in place of 8 would finish 0.03 in lower and save 21.00`.
pub(super) fn notice(
    desk: &Desk<'_>,
    want: &Want,
    supply: &Supply,
    chosen: &Chosen,
) -> Option<Problem> {
    let material = desk.job.material(want.demand.material)?;
    if want.demand.dimension != Dimension::Volume || !material.category.is_fill() {
        return None;
    }
    let bid = &chosen.quote.bid;
    let fewer = bid.quantity.saturating_sub(bid.step);
    let missing = chosen.need_units.saturating_sub(fewer);
    if bid.step <= Decimal::ZERO || fewer <= Decimal::ZERO || missing <= Decimal::ZERO {
        return None;
    }
    let lower = depth_of(
        desk,
        &want.demand,
        material,
        chosen.scope,
        missing.saturating_mul(supply.unit),
    )?;
    let saved = saving(desk, want, supply, chosen, fewer)?;
    let offer = desk.job.offers.get(bid.offer.index())?;
    let sentence = format!(
        "{}{}{}: {} in place of {} would finish {} lower and save {}",
        material.name,
        reasons::where_to(desk, chosen.scope),
        reasons::when(want.demand.moment),
        packs(fewer, &supply.pack),
        grouped_plain(bid.quantity, 3),
        depth_words(desk.system, lower),
        desk.show(saved)
    );
    Some(Problem::notice(sentence).at(offer.at, "Step"))
}

/// How much lower the layer would end, when that is little.
fn depth_of(
    desk: &Desk<'_>,
    demand: &Demand,
    material: &Material,
    scope: Scope,
    missing: Decimal,
) -> Option<Length> {
    let area = match scope {
        Scope::Job => demand.area(),
        Scope::Drop(site, phase) => demand
            .drops
            .iter()
            .find(|drop| (drop.site, drop.phase) == (site, phase))
            .map_or(Area::ZERO, |drop| drop.area),
    };
    let placed = missing.saturating_mul(placed_share(desk, material));
    let depth = placed.checked_div(area.in_square_metres())?;
    (depth <= SMALL).then(|| Length::metres(depth))
}

/// What one volume ordered fills in the bed: the rest is waste and settlement.
fn placed_share(desk: &Desk<'_>, material: &Material) -> Decimal {
    let rest = |share: Decimal| Decimal::ONE.saturating_sub(share);
    let mut kept = rest(material.wet_down.value);
    if desk.job.settings.full_after.value == FullAfter::FirstSeason {
        kept = kept.saturating_mul(rest(material.first_season.value));
    }
    let with_waste = Decimal::ONE.saturating_add(material.waste.value);
    kept.checked_div(with_waste).unwrap_or(kept)
}

/// What the same supply costs less with its trips when a step fewer is needed.
fn saving(
    desk: &Desk<'_>,
    want: &Want,
    supply: &Supply,
    chosen: &Chosen,
    fewer: Decimal,
) -> Option<Money> {
    let need = fewer.saturating_mul(supply.unit);
    let index = chosen.quote.supply;
    let quotes = choose::quotes(desk, &want.demand, index, supply, chosen.scope, need);
    let fewest = quotes.iter().map(|quote| quote.landed).min()?;
    let saved = chosen.quote.landed - fewest;
    (saved > Money::ZERO && chosen.quote.gaps == 0).then_some(saved)
}

fn depth_words(system: System, depth: Length) -> String {
    let (number, unit) = match system {
        System::UsCustomary => (depth.in_inches(), "in"),
        System::Metric => (depth.in_millimetres(), "mm"),
    };
    // Two decimals, rounded up, so that a hair never reads as nothing.
    let hundredths = crate::units::round::step_up(number, Decimal::new(1, 2));
    format!("{} {unit}", plain(hundredths, 2))
}
