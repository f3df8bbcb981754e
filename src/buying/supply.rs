//! Ways to buy one material: price rows of one specification, grouped into packs with their breaks.

use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::convert::{self, Bridge};
use super::demand::Demand;
use super::desk::Desk;
use super::packs::{self, Tier};
use crate::model::library::folded;
use crate::model::material::Material;
use crate::model::offer::{Handover, Offer, OfferId, SupplierId};
use crate::problem::Problem;
use crate::units::{Amount, Decimal, Length};

/// One pack of one supplier; its price rows differ only in the quantity from which they apply.
#[derive(Clone, Debug)]
pub(super) struct Supply {
    /// Who sells it.
    pub(super) supplier: SupplierId,
    /// Their name.
    pub(super) supplier_name: Arc<str>,
    /// The pack in the seller's word.
    pub(super) pack: Arc<str>,
    /// Loose or packed.
    pub(super) handover: Handover,
    /// What one priced unit holds.
    pub(super) holds: Amount,
    /// Base units of the need in one priced unit, above zero.
    pub(super) unit: Decimal,
    /// The figure that leads from pack to need, when they differ in dimension.
    pub(super) bridge: Option<Bridge>,
    /// True length of one stick, for what is cut.
    pub(super) stick: Option<Length>,
    /// Length and width of one sheet, for what is cut from sheets.
    pub(super) sheet: Option<(Length, Length)>,
    /// Whether a row of it is marked.
    pub(super) preferred: bool,
    /// Its prices, by the quantity from which they apply.
    pub(super) tiers: Vec<Tier>,
}

impl Supply {
    /// The supply with only the rows in `kept`; `None` when none of them is its own.
    pub(super) fn only(&self, kept: &[OfferId]) -> Option<Self> {
        let mut held = self.clone();
        held.tiers.retain(|tier| kept.contains(&tier.offer));
        (!held.tiers.is_empty()).then_some(held)
    }

    /// Whether any row has a price.
    pub(super) fn is_priced(&self) -> bool {
        self.tiers.iter().any(|tier| tier.price.is_some())
    }

    /// Whether it costs nothing.
    pub(super) fn is_free(&self) -> bool {
        self.tiers
            .iter()
            .all(|tier| tier.price == Some(Decimal::ZERO))
    }

    /// Supplier and pack in words: `Hill Yard, yard`.
    pub(super) fn words(&self) -> String {
        format!("{}, {}", self.supplier_name, self.pack)
    }

    /// An order of supplies that no order of rows can change.
    fn in_order(&self, other: &Self) -> Ordering {
        let values = |s: &Self| -> Vec<_> {
            let tier = |t: &Tier| (t.from, t.price, t.step, t.least, t.available);
            s.tiers.iter().map(tier).collect()
        };
        (self.supplier_name.cmp(&other.supplier_name))
            .then_with(|| self.pack.cmp(&other.pack))
            .then_with(|| self.holds.cmp(&other.holds))
            .then_with(|| self.stick.cmp(&other.stick))
            .then_with(|| self.sheet.cmp(&other.sheet))
            .then_with(|| {
                (self.handover == Handover::Packed).cmp(&(other.handover == Handover::Packed))
            })
            .then_with(|| values(self).cmp(&values(other)))
    }
}

/// Everything for sale that answers a demand, in an order of its own.
pub(super) fn supplies(
    desk: &Desk<'_>,
    demand: &Demand,
    problems: &mut Vec<Problem>,
) -> Vec<Supply> {
    let Some(material) = desk.job.material(demand.material) else {
        return Vec::new();
    };
    let rows = desk.offers_of(demand.material);
    let held = desk.held_anywhere(demand.material, demand.moment);
    let chosen: Vec<(OfferId, &Offer)> = rows
        .iter()
        .filter(|id| held.is_empty() || held.contains(id))
        .filter_map(|id| Some((*id, desk.job.offers.get(id.index())?)))
        .collect();
    let one_spec = if held.is_empty() {
        of_one_spec(desk, material, chosen, problems)
    } else {
        chosen
    };
    let mut groups: BTreeMap<GroupKey, Vec<Supply>> = BTreeMap::new();
    for (id, offer) in one_spec {
        if let Some(one) = supply_of(desk, demand, material, id, offer, problems) {
            groups.entry(group_key(offer)).or_default().push(one);
        }
    }
    let mut all: Vec<Supply> = groups.into_values().flat_map(with_breaks).collect();
    all.sort_by(Supply::in_order);
    all
}

type GroupKey = (
    SupplierId,
    String,
    bool,
    Amount,
    Option<Length>,
    Option<(Length, Length)>,
);

fn group_key(offer: &Offer) -> GroupKey {
    (
        offer.supplier,
        folded(&offer.pack),
        offer.handover == Handover::Bulk,
        offer.holds,
        offer.actual_length,
        offer.sheet,
    )
}

/// Joins rows that differ in the quantity from which they apply. Rows that start at one quantity are
/// no breaks of each other, as boards in stock beside boards to buy: the dearest row of each quantity
/// makes one supply, the next another.
fn with_breaks(mut rows: Vec<Supply>) -> Vec<Supply> {
    rows.sort_by(|a, b| packs::in_order(a.tiers.iter(), b.tiers.iter()));
    let mut joined: Vec<Supply> = Vec::new();
    for row in rows {
        let from = row.tiers.first().map(|tier| tier.from);
        let free = |supply: &&mut Supply| supply.tiers.iter().all(|t| Some(t.from) != from);
        match joined.iter_mut().find(free) {
            Some(supply) => {
                supply.preferred |= row.preferred;
                // Spellings of one pack may differ in case; the first by alphabet names them all.
                supply.pack = supply.pack.clone().min(row.pack);
                supply.tiers.extend(row.tiers);
            }
            None => joined.push(row),
        }
    }
    joined
}

fn supply_of(
    desk: &Desk<'_>,
    demand: &Demand,
    material: &Material,
    id: OfferId,
    offer: &Offer,
    problems: &mut Vec<Problem>,
) -> Option<Supply> {
    let (unit, bridge) = unit_of(desk, demand, material, offer)
        .map_err(|problem| problems.push(problem.at(offer.at, "Holds")))
        .ok()?;
    if offer.price.is_none() {
        let sentence = format!("{} has no price in this row", material.name);
        problems.push(Problem::notice(sentence).at(offer.at, "Price"));
    }
    Some(Supply {
        supplier: offer.supplier,
        supplier_name: desk.supplier_name(offer.supplier),
        pack: offer.pack.clone(),
        handover: offer.handover,
        holds: offer.holds,
        unit,
        bridge,
        stick: stick_of(demand, offer),
        sheet: sheet_of(demand, material, offer),
        preferred: offer.preferred,
        tiers: vec![Tier {
            offer: id,
            from: offer.from_quantity,
            step: offer.step,
            least: offer.least,
            available: offer.available,
            price: offer.unit_price(),
        }],
    })
}

fn stick_of(demand: &Demand, offer: &Offer) -> Option<Length> {
    if demand.pieces.is_empty() {
        return None;
    }
    match (offer.actual_length, offer.holds) {
        (Some(length), _) | (None, Amount::Length(length)) => Some(length),
        _ => None,
    }
}

/// Size of a sheet by its price row, else by `Materials`.
fn sheet_of(demand: &Demand, material: &Material, offer: &Offer) -> Option<(Length, Length)> {
    if demand.sheets.is_empty() {
        return None;
    }
    let panel = &material.panel;
    let known = || Some((panel.length.as_ref()?.value, panel.width.as_ref()?.value));
    offer.sheet.or_else(known)
}

/// Base units of the need in one priced unit.
fn unit_of(
    desk: &Desk<'_>,
    demand: &Demand,
    material: &Material,
    offer: &Offer,
) -> Result<(Decimal, Option<Bridge>), Box<Problem>> {
    if !demand.sheets.is_empty() {
        let sheet = sheet_of(demand, material, offer);
        let area = sheet.map(|(length, width)| (length * width).in_square_metres());
        return match area {
            Some(area) => Ok((area, None)),
            None => Err(Box::new(sheet_without_size(material))),
        };
    }
    let lumber = !demand.pieces.is_empty();
    let holds = match (offer.holds, offer.actual_length) {
        // A board priced by the piece is as long as it is said to be.
        (Amount::Count(_), Some(length)) if lumber => Amount::Length(length),
        (Amount::Count(_), None) if lumber => return Err(Box::new(each_without_length(material))),
        (holds, _) => holds,
    };
    let converted = convert::amount_in(demand.dimension, holds, material).map_err(|gap| {
        let needed = demand.amount(Decimal::ONE).dimension();
        let sentence = format!(
            "a {} of {} holds {}, which cannot be turned into {}",
            offer.pack,
            material.name,
            desk.system.amount(holds),
            unit_word(desk, needed),
        );
        Box::new(Problem::error(sentence).hint(gap.hint()))
    })?;
    if converted.base <= Decimal::ZERO {
        let sentence = format!("a {} of {} holds nothing", offer.pack, material.name);
        let problem = Problem::error(sentence).hint("write what one pack holds, above zero");
        return Err(Box::new(problem));
    }
    Ok((converted.base, converted.by))
}

fn unit_word(desk: &Desk<'_>, dimension: crate::units::Dimension) -> &'static str {
    match desk.system.unit(dimension) {
        "" => "pieces",
        unit => unit,
    }
}

fn sheet_without_size(material: &Material) -> Problem {
    Problem::error(format!(
        "{} is cut from sheets, and this row does not say how large a sheet is",
        material.name
    ))
    .hint("write the size of one sheet in Pack or Holds, as 4 ft x 8 ft")
}

fn each_without_length(material: &Material) -> Problem {
    Problem::error(format!(
        "{} is cut to length, and this row does not say how long a stick is",
        material.name
    ))
    .hint("write the length of one stick in Holds, as 12 ft or 3.6 m")
}

/// The rows of the one specification that may be bought; no choice crosses specifications by itself.
fn of_one_spec<'o>(
    desk: &Desk<'_>,
    material: &Material,
    rows: Vec<(OfferId, &'o Offer)>,
    problems: &mut Vec<Problem>,
) -> Vec<(OfferId, &'o Offer)> {
    let spec_of = |offer: &Offer| offer.spec.as_ref().map_or(String::new(), |s| folded(s));
    let asked = match &material.spec {
        Some(spec) => Some(folded(spec)),
        None => marked_spec(desk, &rows, spec_of),
    };
    if let Some(asked) = asked {
        let (fitting, others): (Vec<_>, Vec<_>) =
            rows.into_iter().partition(|(_, o)| spec_of(o) == asked);
        if fitting.is_empty() && !others.is_empty() {
            problems.push(no_such_spec(material, &others));
        }
        return fitting;
    }
    let mut specs: Vec<String> = rows.iter().map(|(_, offer)| spec_of(offer)).collect();
    specs.sort();
    specs.dedup();
    if specs.len() > 1 {
        problems.push(ask_spec(material, &rows));
        return Vec::new();
    }
    rows
}

/// When choices are as marked, the mark names the specification, if all marks agree.
fn marked_spec(
    desk: &Desk<'_>,
    rows: &[(OfferId, &Offer)],
    spec_of: impl Fn(&Offer) -> String,
) -> Option<String> {
    use crate::model::settings::Buying;
    if desk.job.settings.buying.value != Buying::AsMarked {
        return None;
    }
    let mut marked = rows.iter().filter(|(_, offer)| offer.preferred);
    let first = spec_of(marked.next()?.1);
    marked.all(|(_, o)| spec_of(o) == first).then_some(first)
}

fn no_such_spec(material: &Material, others: &[(OfferId, &Offer)]) -> Problem {
    let asked = material.spec.as_deref().unwrap_or_default();
    let sentence = format!(
        "{} is asked for as {asked}, and prices are given only for {}",
        material.name,
        specs_in_words(others)
    );
    at_spec(Problem::error(sentence), material, others)
        .hint("add a price of that Spec, or name the substitute as the material's Spec")
}

fn ask_spec(material: &Material, rows: &[(OfferId, &Offer)]) -> Problem {
    let sentence = format!(
        "{} is offered in several specifications: {}",
        material.name,
        specs_in_words(rows)
    );
    at_spec(Problem::error(sentence), material, rows)
        .hint("set the material's Spec in Materials to the one to buy")
}

fn at_spec(problem: Problem, material: &Material, rows: &[(OfferId, &Offer)]) -> Problem {
    let first_row = rows.iter().map(|(_, offer)| offer.at).min();
    match material.at.or(first_row) {
        Some(row) => problem.at(row, "Spec"),
        None => problem,
    }
}

fn specs_in_words(rows: &[(OfferId, &Offer)]) -> String {
    let word = |offer: &Offer| match &offer.spec {
        Some(spec) => spec.to_string(),
        None => "no spec given".to_owned(),
    };
    let mut words: Vec<String> = rows.iter().map(|(_, offer)| word(offer)).collect();
    words.sort();
    words.dedup();
    words.join("; ")
}
