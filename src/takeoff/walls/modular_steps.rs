//! What the crew does to set up a bed of modules, in order, with the counts of the bed.

use rust_decimal::Decimal;

use super::board_steps::{note_cap_and_braces, set_out};
use super::modular_runs::Ring;
use crate::model::frame::ModularWall;
use crate::takeoff::bill::Bill;
use crate::takeoff::geometry::Figure;

/// Notes the steps of one bed, whose pieces are all counted.
pub(super) fn note(
    bill: &mut Bill<'_>,
    wall: &ModularWall,
    figure: &Figure,
    ring: &Ring,
    (tiers, lines): (Decimal, Decimal),
) {
    bill.note(set_out(bill, figure));
    bill.note("unpack the modules, take any film off and lay them out round the bed");
    let job = bill.job;
    if !ring.of_runs.is_empty() {
        let runs: Vec<String> = ring.of_runs.iter().map(ToString::to_string).collect();
        let name = job.material_name(wall.module);
        bill.note(format!(
            "modules of {name} along the sides: {}{}",
            runs.join(" + "),
            above(tiers)
        ));
    }
    if !ring.curved.is_zero() {
        let name = job.material_name(ring.curve);
        bill.note(format!(
            "{} curved modules of {name}{}",
            ring.curved,
            above(tiers)
        ));
    }
    if let Some(corner) = wall.corner.filter(|_| !ring.corners.is_zero()) {
        let name = job.material_name(corner);
        bill.note(format!(
            "a corner piece of {name} at each of {} corners",
            ring.corners
        ));
    }
    if let Some(bolt) = wall.fastener {
        let name = job.material_name(bolt);
        bill.note(format!(
            "{} of {name} in each of {lines} lines; tighten them when the bed stands square and level",
            wall.per_joint.value
        ));
    }
    note_cap_and_braces(bill, wall.cap, wall.braces.as_ref());
}

fn above(tiers: Decimal) -> String {
    if tiers > Decimal::ONE {
        format!(", {tiers} above each other")
    } else {
        String::new()
    }
}
