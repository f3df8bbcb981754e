//! Cautions about walls of thin sheet.

use super::{Group, Look, Reason};
use crate::model::frame::Wall;
use crate::units::Length;

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    thin(look).into_iter().collect()
}

/// Walls of sheets, taller than the mark, that lack posts, rails or ties.
fn thin(look: &Look) -> Option<Reason> {
    let mark = Length::inches(look.mark("thin_sheet")?);
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        let height = takeoff.low_side_height.max(takeoff.wall_height);
        for bed in look.beds(kind) {
            let frame = look.job.frames.get(bed.frame.index());
            let Some(Wall::Panels(wall)) = frame.map(|frame| &frame.wall) else {
                continue;
            };
            let lacks = [
                ("no posts", wall.posts.is_none()),
                ("no rails", wall.rails.is_none()),
                ("no braces", wall.braces.is_none()),
            ];
            let lacks: Vec<&str> = lacks.iter().filter(|l| l.1).map(|l| l.0).collect();
            if height > mark && !lacks.is_empty() {
                let high = look.system().depth(height);
                let detail = format!("wall {high} high, {}", lacks.join(", "));
                group.add(&bed.name, detail, Some((bed.at, "Height")));
            }
        }
    }
    group.reason("thin_sheet")
}
