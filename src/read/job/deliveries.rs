//! `Deliveries`: vehicles, what they hold and what a trip costs.

use std::sync::Arc;

use super::draft::Draft;
use super::materials::{SizeIn, look_up};
use super::reading::Reading;
use super::resolve::{Found, unknown_hint};
use crate::model::library::folded;
use crate::model::material::Category;
use crate::model::offer::{SupplierId, Vehicle};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;

/// Reads every vehicle.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Deliveries) {
        let mut reading = Reading::of(&row);
        if let Some(vehicle) = vehicle(draft, &mut reading) {
            draft.vehicles.push(vehicle);
        }
        draft.hear(reading);
    }
}

fn vehicle(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Vehicle> {
    let supplier = reading.wanted("Supplier", "write whose vehicle it is");
    let volume = reading.known_volume("Volume limit");
    let weight = reading.known_weight("Weight limit");
    for (field, empty) in [
        (
            "Volume limit",
            volume.as_ref().is_some_and(|v| v.value.is_zero()),
        ),
        (
            "Weight limit",
            weight.as_ref().is_some_and(|w| w.value.is_zero()),
        ),
    ] {
        if empty {
            let sentence = format!("{field} must be more than 0");
            reading.complain(
                field,
                sentence,
                "leave the cell empty when there is no limit",
            );
            return None;
        }
    }
    let spot = (reading.at(), "Supplier");
    let names = &draft.supplier_names;
    let sheets = "Suppliers and Prices";
    let supplier = names.resolve(&supplier?, spot, sheets, &mut reading.problems)?;
    Some(Vehicle {
        at: reading.at(),
        supplier: SupplierId::of(supplier),
        name: reading
            .text("Vehicle")
            .unwrap_or_else(|| Arc::from("truck")),
        volume,
        weight,
        fee: reading.known_money("Fee"),
        minimum_order: reading.known_money("Minimum order"),
        free_over: reading.known_money("Free over"),
        carries: carries(draft, reading),
    })
}

/// Materials by the name that the job gives them, and categories by their word.
fn carries(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Vec<Arc<str>> {
    let Some(typed) = reading.text("Carries") else {
        return Vec::new();
    };
    let mut cargo: Vec<Arc<str>> = Vec::new();
    for part in typed
        .split([';', ','])
        .map(str::trim)
        .filter(|p| !p.is_empty())
    {
        let wanted = folded(part);
        if matches!(wanted.as_str(), "all" | "everything" | "anyloose" | "bulk") {
            return Vec::new();
        }
        if let Some(category) = Category::ALL.iter().find(|c| folded(c.word()) == wanted) {
            cargo.push(Arc::from(category.word()));
            continue;
        }
        match look_up(draft, &Arc::from(part), SizeIn::Lumber) {
            Found::Is(place) => {
                cargo.extend(draft.materials.get(place).map(|m| Arc::clone(&m.name)));
            }
            Found::Broken => {}
            Found::Unknown => {
                let hint = cargo_hint(draft, part);
                let sentence =
                    format!("Carries names \"{part}\", which is no material or category");
                reading.complain("Carries", sentence, &hint);
            }
        }
    }
    cargo
}

/// Names of everything that a vehicle may be said to carry.
fn cargo_hint(draft: &Draft<'_>, typed: &str) -> String {
    let names = draft.materials.iter().map(|m| &*m.name);
    let words = Category::ALL.iter().map(|c| c.word());
    let otherwise = "name materials or categories, as soil; compost";
    unknown_hint(typed, names.chain(words), otherwise)
}
