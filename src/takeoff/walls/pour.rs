//! Loose goods that are built into a wall: base, mortar, filling of cells, hearting.

use rust_decimal::Decimal;

use crate::model::material::MaterialId;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::units::{Amount, Volume};

/// Goods for a volume in place: more by what they lose when they are tamped or wetted, and by waste.
pub(super) fn pour(bill: &mut Bill<'_>, material: MaterialId, part: Part, net: Volume) {
    let loss = bill.material(material).map(|m| m.wet_down.value);
    let kept = Decimal::ONE.saturating_sub(loss.unwrap_or_default());
    let order = net.split(kept).times(bill.with_waste(material));
    bill.need(material, part, Amount::Volume(net), Amount::Volume(order));
    bill.haul(material, order);
}

/// The same where it is part of what the wall weighs.
pub(super) fn pour_in(bill: &mut Bill<'_>, material: MaterialId, part: Part, net: Volume) {
    pour(bill, material, part, net);
    let density = bill.material(material).and_then(|m| m.delivered.as_ref());
    if let Some(density) = density {
        bill.weighs(density.value.weigh(net));
    }
}
