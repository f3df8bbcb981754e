//! What a wall stands on: a trench below it, its base, and the spoil out of it.

use rust_decimal::Decimal;

use super::pour::pour;
use crate::model::bed::Base;
use crate::model::frame::WallBase;
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::takeoff::trace::Trace;
use crate::units::{Area, Length};

/// A trench below a wall.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Trench {
    /// Along the middle of the wall.
    length: Length,
    width: Length,
    depth: Length,
}

/// The length of a bed's own wall along its middle: what it covers, by its thickness.
pub(super) fn middle(bill: &Bill<'_>, faces: &Faces) -> Length {
    let covered = faces.outside.area() - faces.inside.area();
    let length = covered
        .in_square_metres()
        .checked_div(faces.thickness.in_metres());
    let own = Length::metres(length.unwrap_or_default()) - bill.shared.total();
    own.max(Length::ZERO)
}

/// Digs the trench and tamps its base into it; `None` when there is nothing to dig.
///
/// It goes all round, a wall that a neighbour bears left out, as deep as the base and what of the wall is `buried`, on both sides half of `wider`
/// wider than the wall. On falling ground it is stepped, which changes nothing of it. Paving and roofs get none.
pub(super) fn dig(
    bill: &mut Bill<'_>,
    base: Option<&WallBase>,
    buried: Length,
    faces: &Faces,
    trace: &mut impl Trace,
) -> Option<Trench> {
    if base.is_none() && buried.is_zero() {
        return None;
    }
    if bill.bed.base != Base::OpenGround {
        let words = "the bed stands on no open ground, so its wall gets no trench and no base";
        bill.tell(Problem::notice(words), "Base");
        return None;
    }
    let wider = base.map_or(Length::ZERO, |b| b.wider.value);
    let deep = base.map_or(Length::ZERO, |b| b.depth.value);
    let width = faces.thickness + wider;
    let floor = (floor(faces, wider)? - bill.shared.total() * width).max(Area::ZERO);
    let trench = Trench {
        length: middle(bill, faces),
        width,
        depth: buried + deep,
    };
    bill.work(Driver::TrenchLength, trench.length.in_metres());
    bill.spoil(floor.filled_to(trench.depth));
    if let Some(base) = base {
        let net = floor.filled_to(deep);
        let units = bill.units;
        trace.step(
            "base below the walls",
            || format!("{} of trench x {}", units.area(floor), units.length(deep)),
            || units.volume(net),
        );
        pour(bill, base.material, Part::WallBase, net);
    }
    Some(trench)
}

/// The same for a wall that stands on its base and notes nothing else before it.
pub(super) fn dig_all(
    bill: &mut Bill<'_>,
    base: Option<&WallBase>,
    faces: &Faces,
    trace: &mut impl Trace,
) {
    if let Some(trench) = dig(bill, base, Length::ZERO, faces, trace) {
        note(bill, trench, base);
    }
}

/// The bottom of a trench; trenches that meet in the middle of a narrow bed are one.
fn floor(faces: &Faces, wider: Length) -> Option<Area> {
    let side = wider.split(Decimal::TWO);
    let outer = faces.outside.inward(side.times(Decimal::NEGATIVE_ONE))?;
    let left = faces.inside.inward(side).map_or(Area::ZERO, |f| f.area());
    Some(outer.area() - left)
}

/// Notes how the crew digs it.
pub(super) fn note(bill: &mut Bill<'_>, trench: Trench, base: Option<&WallBase>) {
    let units = bill.units;
    let dug = format!(
        "dig a trench {} wide and {} deep, {} along the middle of the wall",
        units.depth(trench.width),
        units.depth(trench.depth),
        units.length(trench.length)
    );
    bill.note(match base {
        Some(base) => format!(
            "{dug}; tamp {} of {} in it",
            units.depth(base.depth.value),
            bill.job.material_name(base.material)
        ),
        None => format!("{dug}, its bottom level and tamped"),
    });
}
