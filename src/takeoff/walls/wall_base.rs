//! What a wall stands on: a trench below it, filled with base material and tamped.

use rust_decimal::Decimal;

use crate::model::bed::Base;
use crate::model::frame::{Frame, WallBase};
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Area};

/// The trench all round: as deep as the base, and on both sides half of `wider` wider than the wall.
///
/// It is ordered loose: tamping takes what wetting down takes of the material, and then its waste. On
/// falling ground the trench is stepped, which changes nothing of it. Paving and roofs get none.
pub(super) fn lay(
    bill: &mut Bill<'_>,
    frame: &Frame,
    base: &WallBase,
    faces: &Faces,
    trace: &mut impl Trace,
) {
    if bill.bed.base != Base::OpenGround {
        let words = format!(
            "bed {} does not stand on open ground: its walls get no base in a trench",
            bill.bed.name
        );
        bill.tell_frame(frame, Problem::notice(words), "Base material");
        return;
    }
    let side = base.wider.value.split(Decimal::TWO);
    let Some(outer) = faces.outside.inward(side.times(Decimal::NEGATIVE_ONE)) else {
        return;
    };
    // Trenches that meet in the middle of a narrow bed are one.
    let left = faces.inside.inward(side).map_or(Area::ZERO, |f| f.area());
    let area = outer.area() - left;
    let depth = base.depth.value;
    let volume = area.filled_to(depth);
    let units = bill.units;
    trace.step(
        "base below the walls",
        || format!("{} of trench x {}", units.area(area), units.length(depth)),
        || units.volume(volume),
    );
    let sinks = bill
        .material(base.material)
        .map_or(Decimal::ZERO, |m| m.wet_down.value);
    let loose = volume.split(Decimal::ONE.saturating_sub(sinks));
    let order = loose.times(bill.with_waste(base.material));
    bill.need(
        base.material,
        Part::WallBase,
        Amount::Volume(volume),
        Amount::Volume(order),
    );
    bill.haul(base.material, order);
    let round = faces.outside.perimeter();
    bill.work(Driver::TrenchLength, round.in_metres());
    let name = bill.job.material_name(base.material);
    bill.note(format!(
        "dig a trench {} deep and {} wide all round, about {} long, and tamp {} of {name} into it",
        units.length(depth),
        units.length(faces.thickness + base.wider.value),
        units.length(round),
        units.volume(volume),
    ));
}
