//! A material, who sells it, and what brings it.

use rust_decimal::Decimal;

use super::{no_share, row};
use crate::model::known::Known;
use crate::model::material::{Category, Material, MaterialId, PanelSize, Source};
use crate::model::offer::{Handover, Offer, Supplier, SupplierId, Vehicle};
use crate::units::by_hand::d;
use crate::units::{Amount, Length};

/// A material that is bought, loses nothing, and whose weight is not known.
pub(crate) fn material(name: &str, category: Category) -> Material {
    Material {
        name: name.into(),
        at: None,
        category,
        delivered: None,
        wet: None,
        wet_down: no_share(),
        first_season: no_share(),
        void: no_share(),
        infill: no_share(),
        waste: no_share(),
        section: None,
        panel: PanelSize::default(),
        block: None,
        roll_width: None,
        lap: Known::assumed(Length::ZERO, "not set, taken as 0"),
        coverage: None,
        face: None,
        spec: None,
        source: Known::assumed(Source::Buy, "not set, taken as bought"),
        on_hand: None,
        value: None,
    }
}

/// A supplier of whom only the name is known.
pub(crate) fn supplier(name: &str) -> Supplier {
    Supplier {
        at: None,
        name: name.into(),
        contact: None,
        account: None,
        terms: None,
    }
}

/// Whole packs without a price.
pub(crate) fn offer(
    supplier: SupplierId,
    material: MaterialId,
    pack: &str,
    holds: Amount,
) -> Offer {
    Offer {
        at: row(1),
        supplier,
        material,
        spec: None,
        pack: pack.into(),
        handover: Handover::Packed,
        holds,
        price: None,
        by: None,
        from_quantity: Decimal::ZERO,
        step: Decimal::ONE,
        least: Decimal::ZERO,
        available: None,
        actual_length: None,
        sheet: None,
        taxable: true,
        preferred: false,
        lead_days: None,
        price_date: None,
        note: None,
    }
}

/// The same offer tipped loose, by halves of its unit.
pub(crate) fn loose(offer: Offer) -> Offer {
    Offer {
        handover: Handover::Bulk,
        step: d("0.5"),
        ..offer
    }
}

/// A vehicle without limits or fee that carries everything.
pub(crate) fn vehicle(supplier: SupplierId, name: &str) -> Vehicle {
    Vehicle {
        at: row(1),
        supplier,
        name: name.into(),
        volume: None,
        weight: None,
        fee: None,
        minimum_order: None,
        free_over: None,
        carries: Vec::new(),
    }
}
