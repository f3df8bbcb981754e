//! Walls of stone, dry or in mortar: face, volume, weight, hearting, mortar and cap.
//!
//! The bed is measured where the wall stands. There it is as thick as its frame says; the inside face
//! goes straight up, and the outside face leans in by the batter. So the room for fill is the same at
//! every height, and the wall between the faces is a prismatoid. On falling ground the rim is level and
//! the wall is reckoned at half way down the fall.

use rust_decimal::Decimal;

use super::pour::pour_in;
use super::{stone_steps, wall_base};
use crate::model::frame::{Frame, Laid, StoneWall};
use crate::model::labour::Driver;
use crate::model::material::{Category, MaterialId};
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::Figure;
use crate::takeoff::heights::{self, Heights};
use crate::takeoff::solids::prismatoid;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Area, Length, Volume, Weight};

/// Heights of a wall that rises as high as it is asked to, without courses.
pub(super) fn heights(
    bill: &mut Bill<'_>,
    faces: &Faces,
    trace: &mut impl Trace,
) -> Option<Heights> {
    let Some(high) = bill.bed.height.filter(|h| *h > Length::ZERO) else {
        let problem = Problem::error("a bed with walls needs its height").hint("write 20 in");
        bill.tell(problem, "Height");
        return None;
    };
    let low = heights::low_side(bill, high, faces.outside.extent(), trace)?;
    Some(Heights {
        low,
        ..Heights::level(high)
    })
}

/// What one wall measures.
#[derive(Clone, Copy, Debug)]
pub(super) struct Measures {
    /// Its outside face: the outline where it stands, times its mean height.
    pub(super) face: Area,
    /// All of it between its faces.
    pub(super) volume: Volume,
    /// How thick it is at the rim.
    pub(super) top: Length,
    /// Length of its outside at the rim.
    pub(super) rim: Length,
    /// Its stone, hearting of stone included.
    pub(super) stone: Weight,
}

/// Everything that a wall of stone takes.
pub(super) fn build(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &StoneWall),
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) {
    wall_base::dig_all(bill, wall.base.as_ref(), faces, trace);
    let Some(measures) = measure(bill, (frame, wall), faces, heights, trace) else {
        return;
    };
    let face = measures.face.in_square_metres();
    bill.work(
        match wall.laid.value {
            Laid::Dry => Driver::StoneDry,
            Laid::Mortared => Driver::StoneMortared,
        },
        face,
    );
    order_stone(bill, wall, &measures);
    order_mortar(bill, wall, &measures, trace);
    stone_steps::note(bill, wall, faces, heights, &measures);
    if let Some(cap) = wall.cap {
        let net = Amount::Length(measures.rim);
        let order = net.times(bill.with_waste(cap));
        bill.need(cap, Part::Cap, net, order);
        bill.work(Driver::CapStone, measures.rim.in_metres());
    }
}

/// How far the outside face has leaned in at a height.
fn lean(wall: &StoneWall, height: Length) -> Length {
    let rise = wall.batter_rise.value;
    if rise.is_zero() {
        Length::ZERO
    } else {
        height.split(rise)
    }
}

fn measure(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &StoneWall),
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) -> Option<Measures> {
    let mean = heights.mean();
    let top = faces.thickness - lean(wall, heights.low);
    if !stands(bill, frame, wall, heights, top) {
        return None;
    }
    let at = |height: Length| faces.outside.inward(lean(wall, height));
    let (Some(middle), Some(rim)) = (at(mean.split(Decimal::TWO)), at(mean)) else {
        bill.tell_frame(frame, eaten(), "Batter");
        return None;
    };
    let ring = |figure: &Figure, height: Length| own(bill, faces, figure, lean(wall, height));
    let rings = [
        ring(&faces.outside, Length::ZERO),
        ring(&middle, mean.split(Decimal::TWO)),
        ring(&rim, mean),
    ];
    let [foot, half, head] = rings;
    let volume = prismatoid(foot, half, head, mean);
    let around = faces.outside.perimeter() - bill.shared.total();
    let face = around * mean;
    let units = bill.units;
    trace.step(
        "face of the walls",
        || format!("{} x {}", units.length(around), units.length(mean)),
        || units.area(face),
    );
    trace.step(
        "volume of the walls",
        || {
            let [foot, half, head] = rings.map(|ring| units.area(ring));
            format!(
                "({foot} + 4 x {half} + {head}) / 6 x {}",
                units.length(mean)
            )
        },
        || units.volume(volume),
    );
    let stone = weight(bill, wall, face, volume, trace)?;
    Some(Measures {
        face,
        volume,
        top,
        rim: rim.perimeter() - bill.shared.leaning(&faces.outside, &rim).0,
        stone,
    })
}

/// The bed's own wall in plan at a height at which its outside has leaned in by so much.
///
/// What a neighbour bears is left out, and what is borne for one stands upright: its outside leans nowhere.
fn own(bill: &Bill<'_>, faces: &Faces, outside: &Figure, lean: Length) -> Area {
    let (left, borne) = bill.shared.leaning(&faces.outside, outside);
    let all = outside.area() - faces.inside.area();
    all - left * (faces.thickness - lean) + borne * lean
}

/// Whether a wall that leans in is thick enough for its height; told when it is not.
fn stands(
    bill: &mut Bill<'_>,
    frame: &Frame,
    wall: &StoneWall,
    heights: &Heights,
    top: Length,
) -> bool {
    let units = bill.units;
    let foot = wall.thickness.value;
    if foot <= Length::ZERO || top <= Length::ZERO {
        let words = format!(
            "a wall {} thick where it stands leans in by {} over its height of {}: nothing of it reaches the rim",
            units.length(foot),
            units.length(lean(wall, heights.low)),
            units.length(heights.low)
        );
        let problem = Problem::error(words).hint("make it thicker, or its batter steeper, as 1:8");
        bill.tell_frame(frame, problem, "Thickness");
        return false;
    }
    if top < foot.split(Decimal::TWO) {
        let words = format!(
            "the wall of bed {} is {} thick where it stands and {} at the rim, less than half of it",
            bill.bed.name,
            units.length(foot),
            units.length(top)
        );
        let problem = Problem::caution(words).hint("make it thicker, or its batter steeper");
        bill.tell_frame(frame, problem, "Thickness");
    }
    true
}

/// The stone in a wall: by the face that a weight of it builds where the job says so, else what the wall
/// holds of solid stone, at its density.
fn weight(
    bill: &mut Bill<'_>,
    wall: &StoneWall,
    face: Area,
    volume: Volume,
    trace: &mut impl Trace,
) -> Option<Weight> {
    let material = bill.material(wall.stone)?;
    let units = bill.units;
    if let Some(per_weight) = material.face.as_ref().map(|f| f.value) {
        let weight = face.in_square_metres().checked_div(per_weight);
        let weight = Weight::kilograms(weight.unwrap_or_default());
        trace.step(
            "stone",
            || {
                format!(
                    "{} at the face that {} covers",
                    units.area(face),
                    material.name
                )
            },
            || units.weight(weight),
        );
        return Some(weight);
    }
    let empty = match wall.laid.value {
        Laid::Dry => material.void.value,
        Laid::Mortared => wall.mortar_share.value,
    };
    let share = Decimal::ONE.saturating_sub(empty);
    let weight = wall.solid.value.weigh(volume.times(share));
    trace.step(
        "stone",
        || {
            let percent = share.saturating_mul(Decimal::ONE_HUNDRED).normalize();
            let (volume, solid) = (units.volume(volume), units.density(wall.solid.value));
            format!("{volume} x {percent}% stone x {solid}")
        },
        || units.weight(weight),
    );
    Some(weight)
}

/// Stone by weight. Hearting that is bought apart takes its share: stone by weight, gravel by volume.
fn order_stone(bill: &mut Bill<'_>, wall: &StoneWall, measures: &Measures) {
    let mut rest = Decimal::ONE;
    if let Some(hearting) = &wall.hearting {
        let (material, share) = (hearting.material, hearting.share.value);
        rest = rest.saturating_sub(share);
        let category = bill.job.material(material).map(|m| m.category);
        if category == Some(Category::Stone) {
            by_weight(bill, material, Part::Hearting, measures.stone.times(share));
        } else {
            pour_in(bill, material, Part::Hearting, measures.volume.times(share));
        }
    }
    by_weight(bill, wall.stone, Part::Stone, measures.stone.times(rest));
}

fn by_weight(bill: &mut Bill<'_>, material: MaterialId, part: Part, net: Weight) {
    let order = net.times(bill.with_waste(material));
    bill.need(material, part, Amount::Weight(net), Amount::Weight(order));
    bill.weighs(net);
    let delivered = bill.material(material).and_then(|m| m.delivered.as_ref());
    if let Some(density) = delivered.map(|d| d.value) {
        bill.haul(material, order.volume_at(density));
    }
}

/// Mortar by the volume that it fills in the wall.
fn order_mortar(
    bill: &mut Bill<'_>,
    wall: &StoneWall,
    measures: &Measures,
    trace: &mut impl Trace,
) {
    let Some(mortar) = wall.mortar else {
        return;
    };
    let share = wall.mortar_share.value;
    let net = measures.volume.times(share);
    let units = bill.units;
    trace.step(
        "mortar",
        || {
            let percent = share.saturating_mul(Decimal::ONE_HUNDRED).normalize();
            format!("{} x {percent}%", units.volume(measures.volume))
        },
        || units.volume(net),
    );
    pour_in(bill, mortar, Part::Mortar, net);
}
