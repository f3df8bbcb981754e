//! Screws and bolts that hold the lumber of a wall.

use rust_decimal::Decimal;

use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::trace::Trace;
use crate::units::Amount;

/// Screws for each end of a cap piece.
const PER_CAP_END: u32 = 2;

/// The frame's number for everything that is `held`, and two for each end of a cap.
pub(super) fn fasten(
    bill: &mut Bill<'_>,
    (fastener, each): (Option<MaterialId>, &Known<u32>),
    (held, what): (Decimal, &str),
    trace: &mut impl Trace,
) {
    let Some(fastener) = fastener else {
        return;
    };
    let each = each.value;
    let cap_ends = bill.count_of(&["cap"]).saturating_mul(2);
    let count = held
        .saturating_mul(Decimal::from(each))
        .saturating_add(Decimal::from(cap_ends.saturating_mul(PER_CAP_END)));
    let waste = bill.with_waste(fastener);
    let order = count.saturating_mul(waste);
    trace.step(
        "fasteners",
        || format!("({held} {what} x {each} + {cap_ends} cap ends x {PER_CAP_END}) x {waste}"),
        || order.normalize().to_string(),
    );
    counted(bill, fastener, count);
}

/// So many of a fastener, with its waste.
pub(super) fn counted(bill: &mut Bill<'_>, fastener: MaterialId, count: Decimal) {
    let order = count.saturating_mul(bill.with_waste(fastener));
    bill.need(
        fastener,
        Part::Fastener,
        Amount::Count(count),
        Amount::Count(order),
    );
}
