//! Sticks on hand: `3 x 8 ft, 2 x 10 ft` in `Materials` are sticks that cost nothing, as many as there
//! are.

use std::sync::Arc;

use super::draft::Draft;
use super::reading::Reading;
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::model::offer::{Handover, Offer, Supplier, SupplierId};
use crate::model::source::RowAt;
use crate::units::{Amount, Decimal, Length, parse};

/// Sticks of one length that are there.
#[derive(Clone, Debug)]
pub(super) struct OnHand {
    pub(super) at: RowAt,
    pub(super) material: usize,
    count: u32,
    length: Length,
}

/// The sticks in a cell by counts and lengths; none when any part says something else: a length alone
/// may be one stick or the sum of many.
pub(super) fn of_cell(reading: &Reading<'_, '_>, material: usize) -> Vec<OnHand> {
    all_of(reading, material).unwrap_or_default()
}

fn all_of(reading: &Reading<'_, '_>, material: usize) -> Option<Vec<OnHand>> {
    let typed = reading.text("On hand")?;
    let at = reading.at();
    let one = |part: &str| {
        let (count, length) = counted(part)?;
        let length = parse::length(length, &reading.row.context("On hand")).ok()?;
        (length > Length::ZERO).then_some(OnHand {
            at,
            material,
            count,
            length,
        })
    };
    let separators = [';', '+', '\n'];
    let parts: Vec<&str> = if typed.contains(separators) {
        typed.split(separators).collect()
    } else {
        typed.split(", ").collect()
    };
    parts
        .into_iter()
        .map(str::trim)
        .filter(|p| !p.is_empty())
        .map(one)
        .collect()
}

/// `3 x 8 ft` as 3 and `8 ft`.
fn counted(part: &str) -> Option<(u32, &str)> {
    let (count, length) = part.split_once(['x', 'X', '×'])?;
    Some((count.trim().parse().ok()?, length.trim()))
}

/// Makes offers without a price of the sticks on hand, from a supplier of that name.
pub(super) fn offer_all(draft: &mut Draft<'_>) {
    let sticks = std::mem::take(&mut draft.on_hand);
    if sticks.is_empty() {
        return;
    }
    let supplier = own_yard(draft);
    for stick in sticks {
        let free = Known::job(Decimal::ZERO, stick.at, "On hand");
        draft.offers.push(Offer {
            at: stick.at,
            supplier,
            material: MaterialId::of(stick.material),
            spec: None,
            pack: Arc::from("stick"),
            handover: Handover::Packed,
            holds: Amount::Length(stick.length),
            price: Some(free),
            by: None,
            from_quantity: Decimal::ZERO,
            step: Decimal::ONE,
            least: Decimal::ZERO,
            available: Some(Decimal::from(stick.count)),
            sheet: None,
            actual_length: None,
            taxable: false,
            preferred: false,
            lead_days: None,
            price_date: None,
            note: None,
        });
    }
}

fn own_yard(draft: &mut Draft<'_>) -> SupplierId {
    let name: Arc<str> = Arc::from("On hand");
    if let super::resolve::Found::Is(place) = draft.supplier_names.find(&name) {
        return SupplierId::of(place);
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
    SupplierId::of(place)
}
