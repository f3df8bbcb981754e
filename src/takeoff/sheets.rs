//! Protective sheets in a fill, by number.

use rust_decimal::Decimal;

use super::Part;
use super::bill::Bill;
use super::geometry::Figure;
use super::layers::Placed;
use super::rolls::{SHEET_TURN_UP, cover};
use super::skins::order_of;
use crate::model::labour::Driver;
use crate::units::Amount;

/// Sheets that cover the bed inside its walls, turned up all round.
///
/// Net is the covered area with turn-ups; from rolls the order is whole strips over the rectangle
/// round the bed, otherwise the net area with waste; both once for each sheet.
pub(super) fn lay(bill: &mut Bill<'_>, placed: &[Placed<'_>], inside: &Figure) {
    for layer in placed.iter().filter(|l| l.sheets > 0) {
        let Some(share) = layer.shares.first() else {
            continue;
        };
        let number = Decimal::from(layer.sheets);
        let net = inside.area() + inside.perimeter() * SHEET_TURN_UP;
        let (length, width) = inside.extent();
        let both = SHEET_TURN_UP.times(Decimal::TWO);
        let order = order_of(bill, share.id, net, |roll, lap| {
            cover(length + both, width + both, roll, lap).map(|s| s.area)
        });
        let amount = |area: crate::units::Area| Amount::Area(area.times(number));
        let part = Part::Layer(layer.index);
        bill.need(share.id, part, amount(net), amount(order));
        let covered = inside.area().times(number);
        bill.work(Driver::SheetArea, covered.in_square_metres());
    }
}
