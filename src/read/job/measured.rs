//! Rows of Prices by a measure, as offers of the pieces that they sell.

use super::by_measure::{Measure, Piece};
use super::draft::Draft;
use super::packs::price_by_measure;
use super::prices::{Taken, said, step};
use super::reading::Reading;
use crate::model::material::MaterialId;
use crate::model::offer::{Handover, Offer, SupplierId};
use crate::units::Length;

/// Offers of the pieces that a row sells at a price by a measure.
pub(super) fn offers(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    (supplier, material): (SupplierId, MaterialId),
    measure: &Measure,
    taken: &mut Taken,
) -> Option<Vec<Offer>> {
    let price = price_by_measure(reading);
    let pieces = measure.pieces(draft, reading, draft.materials.get(material.index())?)?;
    let first = pieces.first()?;
    let step = step(reading, Handover::Packed, first.holds, &first.pack, taken)?;
    let mut number = |field| {
        let number = measure.pieces_in(reading, field, &pieces);
        (number, number.is_none() && reading.has(field))
    };
    let (from, least, there) = (
        number("From quantity"),
        number("Least quantity"),
        number("Available"),
    );
    if from.1 || least.1 || there.1 {
        return None;
    }
    let actual_length = actual_length(reading, &pieces);
    let row = Offer {
        from_quantity: from.0.unwrap_or_default(),
        least: least.0.unwrap_or_default(),
        available: there.0,
        actual_length,
        step,
        price,
        ..said(reading, supplier, material, taken)
    };
    let one = |piece: Piece| Offer {
        pack: piece.pack,
        holds: piece.holds,
        sheet: piece.sheet,
        by: piece.by,
        ..row.clone()
    };
    Some(pieces.into_iter().map(one).collect())
}

/// True length of the one length that a row sells.
fn actual_length(reading: &mut Reading<'_, '_>, pieces: &[Piece]) -> Option<Length> {
    let length = reading.length("Actual length")?;
    if pieces.len() > 1 {
        let sentence = "Actual length is that of one length, and this row sells several";
        let hint = "write a row of Prices for each length";
        reading.complain("Actual length", sentence, hint);
    }
    Some(length)
}
