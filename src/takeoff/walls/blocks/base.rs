//! What a wall of blocks stands on: a levelling trench, its base, and the spoil out of it.

use rust_decimal::Decimal;

use super::Stack;
use crate::model::bed::Base;
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::Faces;
use crate::units::{Amount, Length, Volume};

/// A trench below a wall.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Trench {
    /// Along the middle of the wall.
    pub(super) length: Length,
    pub(super) width: Length,
    pub(super) depth: Length,
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

/// Digs the trench and fills its base; `None` when there is none.
pub(super) fn dig(bill: &mut Bill<'_>, stack: &Stack<'_>, faces: &Faces) -> Option<Trench> {
    let base = stack.wall.base.as_ref();
    let buried = stack.rise().times(Decimal::from(stack.wall.buried.value));
    if bill.bed.base != Base::OpenGround {
        if base.is_some() || !buried.is_zero() {
            let words = "the bed stands on no open ground, so its wall gets no trench and no base";
            bill.tell(Problem::notice(words), "Base");
        }
        return None;
    }
    if base.is_none() {
        let words = format!(
            "frame {} has no base material: its first course is bedded on the ground as it is",
            stack.frame.name
        );
        bill.tell_frame(stack.frame, Problem::notice(words), "Base material");
        if buried.is_zero() {
            return None;
        }
    }
    let trench = Trench {
        length: middle(bill, faces),
        width: faces.thickness + base.map_or(Length::ZERO, |b| b.wider.value),
        depth: buried + base.map_or(Length::ZERO, |b| b.depth.value),
    };
    let floor = trench.length * trench.width;
    bill.work(Driver::TrenchLength, trench.length.in_metres());
    bill.spoil(floor.filled_to(trench.depth));
    if let Some(base) = base {
        let net = floor.filled_to(base.depth.value);
        pour(bill, base.material, Part::WallBase, net);
    }
    Some(trench)
}

/// Loose goods for a volume in place: more by what they lose when they are tamped or wetted, and by waste.
pub(super) fn pour(
    bill: &mut Bill<'_>,
    material: crate::model::material::MaterialId,
    part: Part,
    net: Volume,
) {
    let loss = bill.material(material).map(|m| m.wet_down.value);
    let kept = Decimal::ONE.saturating_sub(loss.unwrap_or_default());
    let order = net.split(kept).times(bill.with_waste(material));
    bill.need(material, part, Amount::Volume(net), Amount::Volume(order));
    bill.haul(material, order);
}
