//! `Suppliers` and `Prices`: who sells what, in which pack, for how much.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::by_measure;
use super::draft::Draft;
use super::materials::{SizeIn, add, look_up, plain};
use super::measured;
use super::measures::{measured_by, suits};
use super::packs::{handover, held_by_word, price_of, priced_units};
use super::panel_size;
use super::reading::Reading;
use super::resolve::Found;
use super::spreads;
use super::strangers;
use crate::model::library::folded;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::{Handover, Offer, Supplier, SupplierId};
use crate::model::sheet::Sheet;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::lists::List;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Amount, Dimension};

/// Notes which names are for sale, before frames and fills are read.
pub(super) fn note_priced(draft: &mut Draft<'_>, opened: &Opened, lists: &[List]) {
    let listed = lists.iter().flat_map(List::names);
    draft.priced.extend(listed.map(|name| folded(&name)));
    for row in rows(opened, Sheet::Prices) {
        if let Some(name) = row.text("Material") {
            draft.priced.insert(folded(&name));
        }
    }
}

/// Reads every supplier.
pub(super) fn read_suppliers(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Suppliers) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Supplier", "write the supplier's name") {
            if draft.supplier_names.has(&name) {
                let hint = "keep one row for each supplier";
                reading.complain("Supplier", "Supplier is listed twice", hint);
            } else {
                draft.supplier_names.add(&name, draft.suppliers.len());
                draft.suppliers.push(Supplier {
                    at: Some(reading.at()),
                    name,
                    contact: reading.text("Contact"),
                    account: reading.text("Account"),
                    terms: reading.text("Terms"),
                });
            }
        }
        draft.hear(reading);
    }
}

/// What was taken for empty cells, to be told once and not for each price.
#[derive(Default)]
pub(super) struct Taken {
    taxable: usize,
    step: usize,
}

/// Reads every price.
pub(super) fn read_prices(draft: &mut Draft<'_>, opened: &Opened) {
    let listed = !draft.suppliers.is_empty();
    let mut taken = Taken::default();
    let mut strangers: Vec<(RowAt, Arc<str>)> = Vec::new();
    for row in rows(opened, Sheet::Prices) {
        let mut reading = Reading::of(&row);
        let supplier = supplier(draft, &mut reading, listed);
        let material = material(draft, &mut reading, &mut strangers);
        if let Some((supplier, material)) = supplier.zip(material)
            && let Some(offers) = offers(draft, &mut reading, supplier, material, &mut taken)
        {
            let price = offers.first().and_then(|offer| offer.price.as_ref());
            spreads::note(draft, &mut reading, "Price", price);
            draft.offers.extend(offers);
        }
        draft.hear(reading);
    }
    strangers::say(draft, &strangers);
    say_taken(draft, &taken);
}

fn supplier(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    listed: bool,
) -> Option<SupplierId> {
    let name = reading.wanted("Supplier", "write who sells it")?;
    if listed || draft.supplier_names.has(&name) {
        let spot = (reading.at(), "Supplier");
        let names = &draft.supplier_names;
        let found = names.resolve(&name, spot, "Suppliers", &mut reading.problems);
        return found.map(SupplierId::of);
    }
    let place = draft.suppliers.len();
    draft.supplier_names.add(&name, place);
    draft.suppliers.push(Supplier {
        at: None,
        name,
        contact: None,
        account: None,
        terms: None,
    });
    Some(SupplierId::of(place))
}

/// The material sold; a stranger that no sheet uses is kept as `other` and told of.
fn material(
    draft: &mut Draft<'_>,
    reading: &mut Reading<'_, '_>,
    strangers: &mut Vec<(RowAt, Arc<str>)>,
) -> Option<MaterialId> {
    let name = reading.wanted("Material", "write what is sold, as other sheets name it")?;
    let is_new = draft.material_names.find(&name) == Found::Unknown;
    match look_up(draft, &name, SizeIn::Lumber) {
        Found::Is(place) => {
            if is_new && let Some(near) = strangers::slip_of_lumber(draft, place) {
                let said = "Material is sold here but nothing uses it";
                let hint = format!("did you mean \"{near}\"?");
                reading.problems.push(
                    Problem::notice(said)
                        .at(reading.at(), "Material")
                        .hint(hint),
                );
            }
            Some(MaterialId::of(place))
        }
        Found::Broken => None,
        Found::Unknown => {
            strangers.push((reading.at(), Arc::clone(&name)));
            let place = add(draft, plain(name, Category::Other));
            Some(MaterialId::of(place))
        }
    }
}

fn say_taken(draft: &mut Draft<'_>, taken: &Taken) {
    if draft.taxed && taken.taxable > 0 {
        let said = format!(
            "Taxable is not set for {} of Prices, taken as yes",
            prices(taken.taxable)
        );
        draft.problems.push(Problem::notice(said));
    }
    if taken.step > 0 {
        let said = format!(
            "Step is not set for {} of loose goods, taken as 1 of the pack",
            prices(taken.step)
        );
        draft.problems.push(Problem::notice(said));
    }
}

fn prices(number: usize) -> String {
    match number {
        1 => "1 price".to_owned(),
        n => format!("{n} prices"),
    }
}

/// The offers of a row: one, or one for each length that is sold at a price by a measure.
fn offers(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    supplier: SupplierId,
    material: MaterialId,
    taken: &mut Taken,
) -> Option<Vec<Offer>> {
    let category = draft.materials.get(material.index())?.category;
    match by_measure::of_row(reading, category) {
        Some(measure) => measured::offers(draft, reading, (supplier, material), &measure, taken),
        None => offer(draft, reading, supplier, material, taken).map(|offer| vec![offer]),
    }
}

fn offer(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    supplier: SupplierId,
    material: MaterialId,
    taken: &mut Taken,
) -> Option<Offer> {
    let category = draft.materials.get(material.index())?.category;
    let pack = pack(reading, category);
    let price = price_of(reading, pack.as_deref(), draft.system);
    let holds = holds(draft, reading, material, pack.as_deref());
    let (pack, holds) = pack.zip(holds)?;
    let sheet = panel_size::of_pack(reading, draft.materials.get(material.index())?, &pack);
    let handover = handover(&pack, reading.has("Step"), category);
    let step = step(reading, handover, holds, &pack, taken)?;
    let from_quantity = priced_units(reading, "From quantity", holds, &pack);
    let least = priced_units(reading, "Least quantity", holds, &pack);
    let available = priced_units(reading, "Available", holds, &pack);
    Some(Offer {
        handover,
        holds,
        price,
        from_quantity: from_quantity.unwrap_or_default(),
        step,
        least: least.unwrap_or_default(),
        available,
        actual_length: reading.length("Actual length"),
        sheet,
        pack,
        ..said(reading, supplier, material, taken)
    })
}

/// What a row says of its offer whatever it sells; pack and price are still to come.
pub(super) fn said(
    reading: &mut Reading<'_, '_>,
    supplier: SupplierId,
    material: MaterialId,
    taken: &mut Taken,
) -> Offer {
    if !reading.has("Taxable") {
        taken.taxable = taken.taxable.saturating_add(1);
    }
    Offer {
        at: reading.at(),
        supplier,
        material,
        spec: reading.text("Spec"),
        handover: Handover::Packed,
        holds: Amount::Count(Decimal::ONE),
        price: None,
        by: None,
        from_quantity: Decimal::ZERO,
        step: Decimal::ONE,
        least: Decimal::ZERO,
        available: None,
        actual_length: None,
        sheet: None,
        pack: Arc::from(""),
        taxable: reading.yes_no("Taxable").unwrap_or(true),
        preferred: reading.yes_no("Preferred").unwrap_or(false),
        lead_days: reading.whole("Lead days"),
        price_date: reading.date("Price date"),
        note: reading.text("Note"),
    }
}

/// The seller's word for the pack; fill must say whether it comes loose or in bags.
fn pack(reading: &mut Reading<'_, '_>, category: Category) -> Option<Arc<str>> {
    if let Some(pack) = reading.text("Pack") {
        return Some(pack);
    }
    if category.is_fill() {
        let hint = "write yard, half yard, m3 or ton for loose goods, or bag";
        reading.complain("Pack", "Pack is missing", hint);
        return None;
    }
    Some(Arc::from(match category {
        Category::Lumber | Category::Bar | Category::Trim => "length",
        Category::Panel => "sheet",
        Category::Sheet | Category::Liner | Category::Mesh | Category::Tube => "roll",
        _ => "each",
    }))
}

/// What one priced unit holds, in a dimension that the material is measured in.
fn holds(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    material: MaterialId,
    pack: Option<&str>,
) -> Option<Amount> {
    let material = draft.materials.get(material.index())?;
    let category = material.category;
    let sheet = pack.and_then(|pack| panel_size::of_pack(reading, material, pack));
    let holds = if let Some((length, width)) = sheet {
        Amount::Area(length * width)
    } else if reading.has("Holds") {
        let typed = reading.amount("Holds")?;
        counted_in_packs(draft, reading, typed, pack)
    } else {
        match held_by_word(reading.row.context("Holds"), pack?, draft.system) {
            Some(held) => held,
            None => return missing_holds(reading, pack?, category),
        }
    };
    let holds = rolled(draft, reading, holds, material);
    if holds.base().is_zero() {
        reading.complain(
            "Holds",
            "Holds must be more than 0",
            "write what one pack holds, as 1.5 ft3",
        );
        return None;
    }
    if !suits(category, holds.dimension()) {
        let field = if reading.has("Holds") {
            "Holds"
        } else {
            "Pack"
        };
        let sentence = format!(
            "{field} of {} must be {}",
            category.word(),
            measured_by(category)
        );
        let hint = match holds.dimension() {
            Dimension::Count => "write what one pack holds, with its unit",
            _ => "write what one pack holds, in a unit of that kind",
        };
        reading.complain(field, sentence, hint);
        return None;
    }
    Some(holds)
}

/// A length of sheet goods as an area by the roll width that the material is known to have.
fn rolled(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    holds: Amount,
    material: &Material,
) -> Amount {
    let sheet = suits(material.category, Dimension::Area) && material.category != Category::Finish;
    match (holds, &material.roll_width) {
        (Amount::Length(length), Some(width)) if sheet => {
            let (name, wide) = (&material.name, draft.system.length(width.value));
            let said = format!("Holds of {name} is a length, taken as a roll {wide} wide");
            reading.notice("Holds", said);
            Amount::Area(length * width.value)
        }
        _ => holds,
    }
}

/// `1` beside `yard` is one yard: a bare number counts what the pack's own word measures.
fn counted_in_packs(
    draft: &Draft<'_>,
    reading: &Reading<'_, '_>,
    typed: Amount,
    pack: Option<&str>,
) -> Amount {
    let Amount::Count(number) = typed else {
        return typed;
    };
    let held = pack.and_then(|p| held_by_word(reading.row.context("Holds"), p, draft.system));
    held.map_or(typed, |held| held.times(number))
}

fn missing_holds(reading: &mut Reading<'_, '_>, pack: &str, category: Category) -> Option<Amount> {
    if folded(pack) == "ton" {
        let hint = "write 1 tonne, or 2,000 lb, in Holds";
        reading.complain(
            "Pack",
            "Pack is a ton, which differs from country to country",
            hint,
        );
        return None;
    }
    let sentence = format!("Holds is missing, and \"{pack}\" does not say how much that is");
    let hint = format!("write {}", measured_by(category));
    reading.complain("Holds", sentence, &hint);
    None
}

pub(super) fn step(
    reading: &mut Reading<'_, '_>,
    handover: Handover,
    holds: Amount,
    pack: &str,
    taken: &mut Taken,
) -> Option<Decimal> {
    if !reading.has("Step") {
        if handover == Handover::Bulk {
            taken.step = taken.step.saturating_add(1);
        }
        return Some(Decimal::ONE);
    }
    let step = priced_units(reading, "Step", holds, pack)?;
    if step.is_zero() {
        reading.complain(
            "Step",
            "Step must be more than 0",
            "write 0.5 for half yards, 1 for whole packs",
        );
        return None;
    }
    if handover == Handover::Packed && !step.fract().is_zero() {
        let hint = "packs are sold whole: write 1";
        reading.complain("Step", "Step of packed goods must be a whole number", hint);
        return None;
    }
    Some(step)
}
