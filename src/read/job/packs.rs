//! Packs: the seller's words, what they hold, and amounts turned into priced units.

use rust_decimal::Decimal;

use super::measures::halves;
use super::reading::Reading;
use crate::model::known::Known;
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
    "cubicyards",
    "yd",
    "yds",
    "yd3",
    "cuyd",
    "cuyds",
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
    let word = folded(pack).replace('.', "");
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
    let held = match folded(pack).replace('.', "").as_str() {
        "yard" | "yards" | "cubicyard" | "cubicyards" | "yd" | "yds" | "yd3" | "cuyd" | "cuyds"
        | "cy" => Amount::Volume(yard),
        "halfyard" => Amount::Volume(yard.times(half)),
        "m3" | "cubicmetre" | "cubicmeter" => Amount::Volume(Volume::cubic_metres(Decimal::ONE)),
        "ton" if system == System::UsCustomary => Amount::Weight(Weight::short_tons(Decimal::ONE)),
        "shortton" => Amount::Weight(Weight::short_tons(Decimal::ONE)),
        "tonne" | "metricton" => Amount::Weight(Weight::tonnes(Decimal::ONE)),
        "each" | "piece" | "unit" | "kit" | "ea" => Amount::Count(Decimal::ONE),
        _ => return pieces_behind(context, pack).or_else(|| amount_in_front(context, pack)),
    };
    Some(held)
}

/// 90 pieces of `pallet of 90`, 350 of `caja de 350`.
fn pieces_behind(context: parse::Context, pack: &str) -> Option<Amount> {
    let (word, number) = [" of ", " de "].iter().find_map(|of| pack.split_once(of))?;
    let word = folded(word);
    if !OF_MANY
        .iter()
        .chain(&OF_MANY_IN_SPANISH)
        .any(|many| word.ends_with(many))
    {
        return None;
    }
    let number = parse::number(number.trim(), context.decimal_comma).ok()?;
    Some(Amount::Count(number))
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

/// Packs of many pieces, of which a price "each" may be that of one piece.
const OF_MANY: &[&str] = &["box", "pallet", "carton", "case", "bundle", "kit", "roll"];

/// The same in Spanish.
const OF_MANY_IN_SPANISH: [&str; 8] = [
    "caja", "palé", "pale", "palet", "tarima", "paquete", "atado", "juego",
];

/// The unit behind a price: `bf` of `1.85/bf`.
pub(super) fn per_unit(typed: &str) -> Option<&str> {
    priced_for(typed).map(|(_, unit)| unit)
}

/// A price for a measure, which the unit behind it may repeat: `1.85/bf` and `1.85`.
pub(super) fn price_by_measure(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let typed = given(reading)?;
    match priced_for(&typed) {
        Some((money, _)) => reading.known_money_of("Price", money),
        None => reading.known_money("Price"),
    }
}

/// The price of one pack. What it is for may stand behind it, as in `4.50/bag`, and must be the pack
/// then; of a price that is not known yet (`TBD`) only that is told.
pub(super) fn price_of(
    reading: &mut Reading<'_, '_>,
    pack: Option<&str>,
    system: System,
) -> Option<Known<Decimal>> {
    let typed = given(reading)?;
    let (Some((money, unit)), Some(pack)) = (priced_for(&typed), pack) else {
        return reading.known_money("Price");
    };
    if is_for_pack(reading, unit, pack, system) {
        return reading.known_money_of("Price", money);
    }
    let sentence = format!("Price is for \"{unit}\", but Pack is \"{pack}\"");
    let hint = format!("write the price of one {pack}, or change Pack and Holds");
    reading.complain("Price", sentence, &hint);
    None
}

/// What the cell of the price holds, unless it is still open.
fn given(reading: &mut Reading<'_, '_>) -> Option<std::sync::Arc<str>> {
    let typed = reading.text("Price")?;
    if parse::is_open(&typed) {
        reading.notice("Price", "Price is not known yet, taken as an empty cell");
        return None;
    }
    Some(typed)
}

/// `4.50` and `bag` of `4.50/bag`, `4.50 per bag` and `@ 4.50 a bag`; `each` for `ea`.
fn priced_for(typed: &str) -> Option<(&str, &str)> {
    let typed = typed.trim().trim_start_matches('@').trim_start();
    let (money, unit) = halves(typed)
        .or_else(|| typed.split_once(" a "))
        .or_else(|| {
            let (money, word) = typed.rsplit_once(' ')?;
            let each = matches!(folded(word).trim_end_matches('.'), "ea" | "each");
            each.then_some((money, "each"))
        })?;
    let (money, unit) = (money.trim(), unit.trim());
    let is_money = money.contains(|c: char| c.is_ascii_digit());
    (is_money && !unit.is_empty()).then_some((money, unit))
}

/// Whether a word says the same as the pack: `bag` for `40 lb bag`, `yd` for `yard`, `each` for one piece.
fn is_for_pack(reading: &Reading<'_, '_>, unit: &str, pack: &str, system: System) -> bool {
    let plain = |word: &str| {
        folded(word)
            .replace('.', "")
            .trim_end_matches('s')
            .to_owned()
    };
    let (word, of) = (plain(unit), plain(pack));
    if matches!(word.as_str(), "ea" | "each" | "pc" | "piece" | "unit") {
        return !OF_MANY.iter().any(|many| of.ends_with(many));
    }
    let named = !word.is_empty() && (word == of || (word.len() > 2 && of.ends_with(&word)));
    let held = |word: &str| held_by_word(reading.row.context("Holds"), word, system);
    named || held(unit).is_some_and(|unit| held(pack) == Some(unit))
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
