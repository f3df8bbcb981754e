//! Packs: the seller's words, what they hold, and amounts turned into priced units.

use rust_decimal::Decimal;

use super::reading::Reading;
use crate::model::library::folded;
use crate::model::material::Category;
use crate::model::offer::Handover;
use crate::units::parse;
use crate::units::{Amount, System, Volume, Weight};

/// Words for goods that come loose.
const LOOSE: &[&str] = &[
    "bulk",
    "loose",
    "yard",
    "yards",
    "halfyard",
    "cubicyard",
    "yd",
    "yd3",
    "cuyd",
    "cy",
    "m3",
    "cubicmetre",
    "cubicmeter",
    "ton",
    "tonne",
    "shortton",
    "scoop",
    "bucket",
    "truckload",
    "load",
];
/// Words for goods in packs, which a step does not make loose.
const PACKS: &[&str] = &[
    "bag", "bags", "sack", "bale", "bigbag", "bulkbag", "roll", "box", "board", "stick", "post",
    "length", "each", "piece", "unit", "kit", "tub", "bottle", "can", "pallet",
];

/// Whether goods are handed over loose.
pub(super) fn handover(pack: &str, step_given: bool, category: Category) -> Handover {
    let word = folded(pack);
    let loose = LOOSE.contains(&word.as_str());
    let packed = PACKS.iter().any(|p| word.ends_with(p));
    let stepped = step_given && category.is_fill() && !packed;
    if loose || stepped {
        Handover::Bulk
    } else {
        Handover::Packed
    }
}

/// What a pack holds by its own word: `yard`, `half yard`, `ton`, `40 lb bag`, `each`.
pub(super) fn held_by_word(context: parse::Context, pack: &str, system: System) -> Option<Amount> {
    let half = Decimal::new(5, 1);
    let yard = Volume::cubic_yards(Decimal::ONE);
    let held = match folded(pack).as_str() {
        "yard" | "yards" | "cubicyard" | "yd" | "yd3" | "cuyd" | "cy" => Amount::Volume(yard),
        "halfyard" => Amount::Volume(yard.times(half)),
        "m3" | "cubicmetre" | "cubicmeter" => Amount::Volume(Volume::cubic_metres(Decimal::ONE)),
        "ton" if system == System::UsCustomary => Amount::Weight(Weight::short_tons(Decimal::ONE)),
        "shortton" => Amount::Weight(Weight::short_tons(Decimal::ONE)),
        "tonne" | "metricton" => Amount::Weight(Weight::tonnes(Decimal::ONE)),
        "each" | "piece" | "unit" | "kit" | "ea" => Amount::Count(Decimal::ONE),
        _ => return amount_in_front(context, pack),
    };
    Some(held)
}

/// `40 lb` of `40 lb bag`, `12 ft` of `12 ft board`.
fn amount_in_front(context: parse::Context, pack: &str) -> Option<Amount> {
    let (front, _) = pack.trim().rsplit_once(' ')?;
    if !front.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let context = parse::Context {
        bare: None,
        ..context
    };
    let amount = parse::amount(front, &context).ok()?;
    (!matches!(amount, Amount::Count(_))).then_some(amount)
}

/// A number of priced units: typed as such, as packs (`3 bags`), or as an amount (`0.5 yd3`).
pub(super) fn priced_units(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    holds: Amount,
    pack: &str,
) -> Option<Decimal> {
    let typed = reading.text(field)?;
    let context = reading.row.context(field);
    if context.bare.is_none()
        && let Ok(number) = parse::number(without_pack(&typed, pack), context.decimal_comma)
    {
        return not_negative(reading, field, number);
    }
    let amount = match held_by_word(context, &typed, context.system) {
        Some(held) if !matches!(held, Amount::Count(_)) => held,
        _ => reading.amount(field)?,
    };
    let units = match amount {
        Amount::Count(number) => Some(number),
        amount if amount.dimension() == holds.dimension() => {
            amount.base().checked_div(holds.base())
        }
        _ => None,
    };
    if units.is_none() {
        let sentence = format!("{field} is not measured as Holds is");
        reading.complain(
            field,
            sentence,
            "write a number of packs, or an amount in the unit of Holds",
        );
    }
    not_negative(reading, field, crate::units::round::tidy15(units?))
}

fn not_negative(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    number: Decimal,
) -> Option<Decimal> {
    if crate::units::limit::NUMBER.holds(number) {
        return Some(number);
    }
    let sentence = format!("{field} must be from 0 to 1,000,000,000");
    reading.complain(field, sentence, "write a number of packs");
    None
}

/// `3` of `3 bags` when the pack is a bag.
fn without_pack<'t>(typed: &'t str, pack: &str) -> &'t str {
    let Some((number, word)) = typed.trim().rsplit_once(' ') else {
        return typed;
    };
    let (word, pack) = (folded(word), folded(pack));
    let same = word.trim_end_matches('s') == pack.trim_end_matches('s');
    if same { number } else { typed }
}
