//! What the crew does to build a wall of blocks, in order, with the measures of the bed.

use super::inside::Caps;
use super::{Stack, Stood};
use crate::model::block::BlockMake;
use crate::model::frame::Laid;
use crate::takeoff::bill::Bill;
use crate::takeoff::walls::wall_base::{self, Trench};

/// Notes the steps of one bed.
pub(super) fn note(
    bill: &mut Bill<'_>,
    stack: &Stack<'_>,
    stood: &Stood,
    trench: Option<Trench>,
    caps: &Caps,
) {
    if let Some(trench) = trench {
        wall_base::note(bill, trench, stack.wall.base.as_ref());
    }
    let first = first_course(bill, stack, stood);
    bill.note(first);
    if stood.most_courses > 1 {
        let step = courses(bill, stack, stood);
        bill.note(step);
    }
    if stood.all.cut > 0 || stood.all.half > 0 {
        let step = cuts(bill, stack, stood);
        bill.note(step);
    }
    hold(bill, stack, caps);
    if let Some(cap) = stack.wall.cap.filter(|_| caps.units.units() > 0) {
        let name = bill.job.material_name(cap);
        let cut = match caps.units.without_halves().saw {
            0 => String::new(),
            n => format!(", {n} cuts"),
        };
        bill.note(format!(
            "set {} of {name} on the rim{cut}",
            caps.units.units()
        ));
    }
}

fn first_course(bill: &Bill<'_>, stack: &Stack<'_>, stood: &Stood) -> String {
    let buried = match stack.wall.buried.value {
        0 => "",
        1 => ", below the ground",
        _ => ", the lowest below the ground",
    };
    format!(
        "bed the first course of {} {} dead level{buried}: the whole wall follows it",
        stood.course.units(),
        bill.job.material_name(stack.wall.block)
    )
}

fn courses(bill: &Bill<'_>, stack: &Stack<'_>, stood: &Stood) -> String {
    let how = match (stack.size.make, stack.wall.laid.value) {
        (BlockMake::Segmental, _) => "set back against their lips or pins".to_owned(),
        (_, Laid::Dry) => "dry, tight end to end".to_owned(),
        (_, Laid::Mortared) => format!("in joints of {}", bill.units.length(stack.unit.joint)),
    };
    let number = if stood.most_courses > stood.courses {
        format!("{} to {}", stood.courses, stood.most_courses)
    } else {
        stood.courses.to_string()
    };
    let turn = if stood.turns {
        "; at square corners the side that runs through changes with each course"
    } else {
        ""
    };
    format!(
        "lay {number} courses in all, each {} high, {how}{turn}",
        bill.units.length(stack.rise())
    )
}

fn cuts(bill: &Bill<'_>, stack: &Stack<'_>, stood: &Stood) -> String {
    let mut parts = Vec::new();
    if stood.all.half > 0 {
        parts.push(match stack.wall.half {
            Some(half) => format!("{} of {}", stood.all.half, bill.job.material_name(half)),
            None => format!("{} halves cut from whole blocks", stood.all.half),
        });
    }
    if stood.all.cut > 0 {
        parts.push(format!("{} cut pieces, cut wet", stood.all.cut));
    }
    format!("among them are {}", parts.join(" and "))
}

/// What holds the courses together, and where water gets out.
fn hold(bill: &mut Bill<'_>, stack: &Stack<'_>, caps: &Caps) {
    let wall = stack.wall;
    if wall.bars.is_some() {
        let upright = bill.terms(&["upright bar"]);
        let along = bill.terms(&["bar along"]);
        let terms = [(upright, "upright"), (along, "along the courses")];
        let said = terms.into_iter().filter(|(terms, _)| !terms.is_empty());
        let said: Vec<String> = said.map(|(terms, how)| format!("{terms} {how}")).collect();
        bill.note(format!("place bars: {}", said.join(", ")));
    }
    if let Some(core) = wall.core {
        let name = bill.job.material_name(core);
        bill.note(format!("fill the cells with {name}, course by course"));
    }
    if wall.laid.value == Laid::Mortared {
        bill.note("leave upright joints open in the lowest course above the ground, so that water gets out");
    }
    if let Some(adhesive) = &wall.adhesive {
        let name = bill.job.material_name(adhesive.material);
        let below = match (wall.laid.value, caps.units.units()) {
            (Laid::Dry, 0) => "each block above the first course",
            (Laid::Dry, _) => "each block above the first course and each cap",
            (Laid::Mortared, _) => "each cap",
        };
        bill.note(format!("two beads of {name} under {below}"));
    }
}
