//! What goes on the faces of a wall and under the bed: liner, mesh and finish.

use rust_decimal::Decimal;

use super::Part;
use super::bill::Bill;
use super::faces::Faces;
use super::heights::Heights;
use super::rolls::{MESH_TURN_UP, cover, line, roll_of};
use super::trace::Trace;
use super::walls::Build;
use crate::model::frame::Frame;
use crate::model::labour::Driver;
use crate::model::material::{Material, MaterialId};
use crate::problem::Problem;
use crate::units::{Amount, Area, Length};

/// Liner, mesh and finish of one bed, as far as its frame names them.
pub(super) fn dress(
    bill: &mut Bill<'_>,
    (frame, build): (&Frame, &Build<'_>),
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) {
    // A wall whose height is not known, or a mound, has no faces to dress.
    let stands = heights.low > Length::ZERO;
    if let Some(liner) = frame.liner.filter(|_| stands) {
        line_walls(bill, liner, faces, heights, trace);
    }
    if let Some(mesh) = frame.mesh {
        lay_mesh(bill, mesh, faces, trace);
    }
    if let Some(finish) = frame.finish.filter(|_| stands) {
        let net = face_of(bill, build, faces, heights).times(Decimal::from(frame.coats.value));
        coat(bill, finish, net);
    }
}

/// Inside length of the walls times their mean height.
fn line_walls(
    bill: &mut Bill<'_>,
    liner: MaterialId,
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) {
    let round = faces.inside.perimeter();
    let net = round * heights.mean();
    let units = bill.units;
    trace.step(
        "liner area",
        || format!("{} x {}", units.length(round), units.length(heights.mean())),
        || units.area(net),
    );
    let order = order_of(bill, liner, net, |roll, lap| {
        line(round, heights.low, roll, lap)
    });
    bill.need(liner, Part::Liner, Amount::Area(net), Amount::Area(order));
    bill.work(Driver::LinerArea, net.in_square_metres());
}

/// The outline outside the walls, turned up all round.
fn lay_mesh(bill: &mut Bill<'_>, mesh: MaterialId, faces: &Faces, trace: &mut impl Trace) {
    let turned = faces.outside.perimeter() * MESH_TURN_UP;
    let net = faces.outside.area() + turned;
    let units = bill.units;
    trace.step(
        "mesh area",
        || {
            let (area, round) = (faces.outside.area(), faces.outside.perimeter());
            let (area, round) = (units.area(area), units.length(round));
            format!(
                "{area} + {round} x {} turned up",
                units.length(MESH_TURN_UP)
            )
        },
        || units.area(net),
    );
    let (length, width) = faces.outside.extent();
    let both = MESH_TURN_UP.times(Decimal::TWO);
    let order = order_of(bill, mesh, net, |roll, lap| {
        cover(length + both, width + both, roll, lap).map(|s| s.area)
    });
    bill.need(mesh, Part::Mesh, Amount::Area(net), Amount::Area(order));
    bill.work(Driver::MeshArea, net.in_square_metres());
}

/// The area to order: by its layout when it comes from rolls, with waste when it does not.
pub(super) fn order_of<B>(
    bill: &mut Bill<'_, B>,
    id: MaterialId,
    net: Area,
    layout: impl FnOnce(Length, Length) -> Option<Area>,
) -> Area {
    let Some(material) = bill.material(id) else {
        return net;
    };
    let Some((roll, lap)) = roll_of(material) else {
        return net.times(bill.with_waste(id));
    };
    layout(roll, lap).unwrap_or_else(|| {
        tell_lap(bill, material);
        net
    })
}

fn tell_lap<B>(bill: &mut Bill<'_, B>, material: &Material) {
    let words = format!(
        "the lap of {} is as wide as its roll, so strips of it cover nothing",
        material.name
    );
    let from = &material.lap.from;
    bill.tell_from(from, Problem::error(words), "Frame");
}

/// Outside face of the bed's own walls and top of the cap.
fn face_of(bill: &Bill<'_>, build: &Build<'_>, faces: &Faces, heights: &Heights) -> Area {
    let own = faces.outside.perimeter() - bill.shared.total();
    own * heights.mean() + build.cap_top(bill, faces)
}

/// A finish over an area, each coat counted.
///
/// A finish with a stated coverage is needed by volume, any other by coated area.
fn coat(bill: &mut Bill<'_>, finish: MaterialId, net: Area) {
    bill.work(Driver::CoatArea, net.in_square_metres());
    let net = bill.spread(finish, net);
    bill.need(
        finish,
        Part::Finish,
        net,
        net.times(bill.with_waste(finish)),
    );
}
