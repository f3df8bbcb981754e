//! Prices to look at again before anybody rests on them: missing, old, or far from the others.

use rust_decimal::Decimal;

use super::super::Estimate;
use crate::model::material::MaterialId;
use crate::model::offer::Offer;
use crate::units::Dimension;
use crate::units::show::plain;

/// A price this many times another one of the same material, by what it holds, is most likely a slip.
const FAR: u32 = 10;

/// Why a price is doubtful.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// There is none.
    Missing,
    /// It is ten times another or a tenth of it.
    Far,
    /// It is older than the job calls fresh.
    Old,
}

/// A price to look at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Doubt {
    /// Why.
    pub why: Why,
    /// In words: `Yard, Topsoil: 385 for 1 yd3 is 10 times what Mill asks`.
    pub words: String,
    /// Its cell.
    pub place: String,
}

/// Doubtful prices of what is bought, the worst first, by cell.
pub(super) fn doubts(estimate: &Estimate) -> Vec<Doubt> {
    let job = &estimate.job;
    let wanted = |material: MaterialId| {
        let mut lines = estimate.bought.lines.iter();
        lines.any(|line| line.material == material && !line.free)
    };
    let offers: Vec<&Offer> = job.offers.iter().filter(|o| wanted(o.material)).collect();
    let mut doubts: Vec<Doubt> = offers
        .iter()
        .filter_map(|offer| doubt(estimate, &offers, offer))
        .collect();
    doubts.sort_by(|a, b| (a.why, &a.place).cmp(&(b.why, &b.place)));
    doubts
}

fn doubt(estimate: &Estimate, all: &[&Offer], offer: &Offer) -> Option<Doubt> {
    let name = named(estimate, offer);
    let (why, field, words) = if offer.price.is_none() {
        (Why::Missing, "Price", format!("{name} has no price"))
    } else if let Some(words) = far(estimate, all, offer) {
        (Why::Far, "Price", words)
    } else {
        let given = offer.price_date?;
        let age = i64::from((estimate.date - given).get_days());
        let most = estimate.job.settings.stale_days.value;
        if age <= i64::from(most) {
            return None;
        }
        let words = format!("{name}: the price is {age} days old, and {most} are fresh");
        (Why::Old, "Price date", words)
    };
    let place = estimate
        .sources
        .place_of(offer.at, field)
        .unwrap_or_default();
    Some(Doubt { why, words, place })
}

/// `Yard, Topsoil, bag`.
fn named(estimate: &Estimate, offer: &Offer) -> String {
    let job = &estimate.job;
    let supplier = job.suppliers.get(offer.supplier.index());
    let supplier = supplier.map_or("?", |s| &*s.name);
    let pack = match &*offer.pack {
        "" => String::new(),
        pack => format!(", {pack}"),
    };
    format!("{supplier}, {}{pack}", job.material_name(offer.material))
}

/// Price of one base unit of what it holds.
fn of_one(offer: &Offer) -> Option<(Dimension, Decimal)> {
    let price = offer.unit_price().filter(|price| !price.is_zero())?;
    let one = price.checked_div(offer.holds.base())?;
    Some((offer.holds.dimension(), one))
}

/// Against the nearest other price of the same material and measure: ten times it, or a tenth.
fn far(estimate: &Estimate, all: &[&Offer], offer: &Offer) -> Option<String> {
    let (dimension, own) = of_one(offer)?;
    let others = all
        .iter()
        .filter(|o| o.at != offer.at && o.material == offer.material);
    let others = others.filter_map(|other| {
        let (measure, one) = of_one(other)?;
        (measure == dimension).then_some((one, *other))
    });
    let ratio = |one: &Decimal| {
        let (high, low) = (own.max(*one), own.min(*one));
        high.checked_div(low).unwrap_or(Decimal::ONE)
    };
    let (one, nearest) = others.min_by_key(|(one, _)| ratio(one))?;
    let times = ratio(&one);
    // Small packs cost more by what they hold, but not ten times.
    if times < Decimal::from(FAR) {
        return None;
    }
    let (times, other) = (plain(times, 1), named(estimate, nearest));
    let name = named(estimate, offer);
    let side = if own > one {
        format!("is {times} times what {other} asks")
    } else {
        format!("is low, and {other} asks {times} times that")
    };
    Some(format!(
        "{name}: by what it holds the price {side}: check pack and unit"
    ))
}
