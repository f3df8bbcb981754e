//! One bed from its row to everything that it needs.

use rust_decimal::Decimal;

use super::bill::Bill;
use super::faces::{self, Faces};
use super::heights::{self, Heights};
use super::room::Room;
use super::settle::Settled;
use super::sticks::Sticks;
use super::trace::Trace;
use super::{
    Kinds, TakeOff, amendments, boards, layers, none, ready_made, settle, sheets, size, skins,
};
use crate::model::bed::Bed;
use crate::model::frame::{Frame, FrameKind};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::model::material::{MaterialId, Section};
use crate::problem::Problem;
use crate::units::{Area, Length};

/// Takes off one bed of a kind; problems are in the result, each at its cell.
///
/// After an error the figures that hang on it are zero, and nothing is priced until it is mended.
pub fn take_off(job: &Job, bed: &Bed, trace: &mut impl Trace) -> TakeOff {
    take_off_with(job, &Sticks::of(job), bed, trace)
}

/// Takes off the first bed of each kind, in the order of the kinds.
pub fn take_off_all(job: &Job, kinds: &Kinds) -> Vec<TakeOff> {
    let sticks = Sticks::of(job);
    let beds = kinds.kinds.iter();
    beds.filter_map(|kind| job.beds.get(kind.first.index()))
        .map(|bed| take_off_with(job, &sticks, bed, &mut ()))
        .collect()
}

/// As [`take_off`], with the longest sticks looked up once for many beds.
pub fn take_off_with(job: &Job, sticks: &Sticks, bed: &Bed, trace: &mut impl Trace) -> TakeOff {
    let mut bill = Bill::new(job, bed);
    let Some(frame) = job.frames.get(bed.frame.index()) else {
        bill.tell(Problem::bug("the frame of this bed is not known"), "Frame");
        return Parts::default().finish(bill, None, None);
    };
    let section = section_of(&mut bill, frame);
    let mut parts = Parts::default();
    if frame.kind == FrameKind::Boards && section.is_none() {
        return parts.finish(bill, Some(frame), None);
    }
    let thickness = match (frame.kind, section) {
        (FrameKind::Boards, Some(section)) => section.thickness,
        (FrameKind::ReadyMade, _) => frame.wall.value,
        _ => Length::ZERO,
    };
    parts.faces = faces::of(&mut bill, thickness, trace);
    if let Some(faces) = parts.faces.clone() {
        parts.wall(&mut bill, frame, section, &faces, sticks, trace);
        parts.fill(&mut bill, frame, &faces, trace);
    }
    parts.finish(bill, Some(frame), section)
}

/// The section of the boards; told when boards have none.
fn section_of<'a>(bill: &mut Bill<'a>, frame: &Frame) -> Option<&'a Section> {
    if frame.kind != FrameKind::Boards {
        return None;
    }
    let Some(id) = frame.material else {
        let words = format!("frame {} is of boards and names none", frame.name);
        let problem = Problem::error(words).hint("give its Material, as 2x10 cedar");
        bill.tell_frame(frame, problem, "Material");
        return None;
    };
    let material = bill.material(id)?;
    let section = material.section.as_ref().map(|s| &s.value);
    if section.is_none() {
        let words = format!(
            "{} has no section, so no wall can be built of it in courses",
            material.name
        );
        let problem = Problem::error(words).hint("give its Section in Materials, as 2x10");
        bill.tell_frame(frame, problem, "Material");
    }
    section
}

/// The parts of a take-off as they are found.
#[derive(Default)]
struct Parts {
    faces: Option<Faces>,
    heights: Option<Heights>,
    fill_height: Length,
    settled: Settled,
}

impl Parts {
    /// Heights, boards or unit, and what goes on the walls.
    fn wall(
        &mut self,
        bill: &mut Bill<'_>,
        frame: &Frame,
        section: Option<&Section>,
        faces: &Faces,
        sticks: &Sticks,
        trace: &mut impl Trace,
    ) {
        bill.work(Driver::Bed, Decimal::ONE);
        bill.work(Driver::Footprint, faces.outside.area().in_square_metres());
        bill.work(Driver::BedArea, faces.inside.area().in_square_metres());
        self.heights = match (frame.kind, section, frame.material) {
            (FrameKind::Boards, Some(section), Some(board)) => {
                let found = heights::of_boards(bill, section, faces.outside.extent(), trace);
                if let Some(heights) = &found {
                    boards::build(bill, frame, board, faces, heights, sticks, trace);
                    tell_unbalanced(bill, faces);
                }
                found
            }
            (FrameKind::ReadyMade, _, unit) => {
                ready_made::tell_unused(bill, frame);
                unit_of(bill, frame, unit);
                ready_made::heights(bill)
            }
            _ => {
                ready_made::tell_unused(bill, frame);
                None
            }
        };
        let level = Heights::default();
        let heights = self.heights.as_ref().unwrap_or(&level);
        skins::dress(bill, frame, faces, heights, trace);
    }

    /// The room, its layers, and what they need.
    fn fill(&mut self, bill: &mut Bill<'_>, frame: &Frame, faces: &Faces, trace: &mut impl Trace) {
        let room = match (frame.kind, &self.heights) {
            (FrameKind::None, _) => none::mound(bill, frame, faces),
            (_, Some(heights)) => walled(bill, faces, heights, trace),
            _ => None,
        };
        let Some(room) = room else {
            return;
        };
        self.fill_height = room.height();
        let Some(id) = bill.bed.fill else {
            return;
        };
        let Some(fill) = bill.job.fills.get(id.index()) else {
            bill.tell(Problem::bug("the fill of this bed is not known"), "Fill");
            return;
        };
        let Some(placed) = layers::place(bill, fill, &room, trace) else {
            return;
        };
        self.settled = settle::settle(bill, &placed, &room, trace);
        sheets::lay(bill, &placed, &faces.inside);
        amendments::work_in(bill, fill, &placed, room.area());
    }

    fn finish(
        self,
        mut bill: Bill<'_>,
        frame: Option<&Frame>,
        section: Option<&Section>,
    ) -> TakeOff {
        let kind = frame.map_or(FrameKind::None, |f| f.kind);
        let mound = Heights::level(self.fill_height);
        let shown = match kind {
            FrameKind::None if !self.fill_height.is_zero() => Some(&mound),
            _ => self.heights.as_ref(),
        };
        let nominal = section.map(|s| &*s.nominal);
        let size = size::in_words(bill.bed, kind, shown, nominal, bill.units);
        let (pieces, work) = bill.sorted();
        let heights = self.heights.unwrap_or_default();
        let area = |pick: fn(&Faces) -> Area| self.faces.as_ref().map_or(Area::ZERO, pick);
        TakeOff {
            size,
            outside_area: area(|f| f.outside.area()),
            outside_perimeter: self
                .faces
                .as_ref()
                .map_or(Length::ZERO, |f| f.outside.perimeter()),
            inside_area: area(|f| f.inside.area()),
            wall_height: heights.high,
            low_side_height: heights.low,
            courses: heights.courses,
            fill_height: self.fill_height,
            layers: self.settled.layers,
            needs: bill.needs,
            pieces,
            work,
            hauled: bill.hauled,
            saturated_weight: self.settled.saturated,
            sink: self.settled.sink,
            stands_above: self.settled.stands_above,
            top_up: self.settled.top_up,
            problems: bill.problems,
        }
    }
}

fn unit_of(bill: &mut Bill<'_>, frame: &Frame, unit: Option<MaterialId>) {
    if let Some(unit) = unit {
        ready_made::set(bill, unit);
        return;
    }
    let words = format!("frame {} is ready-made and names no unit", frame.name);
    let problem = Problem::error(words).hint("give its Material, the unit that is bought");
    bill.tell_frame(frame, problem, "Material");
}

/// The fill of a bed on falling ground is as deep as half way down, which is exact for outlines alike
/// from both ends.
fn tell_unbalanced(bill: &mut Bill<'_>, faces: &Faces) {
    let falls = bill.bed.slope.is_some_and(|s| !s.fall.is_zero());
    if falls && !faces.outside.is_balanced() {
        let words = "on falling ground the mean of the high and the low side is filled, which is not exact for this shape; every run gets the courses of the low side";
        bill.tell(Problem::notice(words), "Slope %");
    }
}

/// What stands between walls: the mean wall height less freeboard. Buried parts and caps never count.
fn walled(
    bill: &mut Bill<'_>,
    faces: &Faces,
    heights: &Heights,
    trace: &mut impl Trace,
) -> Option<Room> {
    let freeboard = &bill.job.settings.freeboard;
    let rim = heights.mean();
    let height = rim - freeboard.value;
    let units = bill.units;
    if height <= Length::ZERO {
        let words = format!(
            "a freeboard of {} leaves nothing to fill in bed {}, whose wall is {} high",
            units.length(freeboard.value),
            bill.bed.name,
            units.length(rim)
        );
        let from = freeboard.from.clone();
        bill.tell_from(&from, Problem::error(words), "Height");
        return None;
    }
    trace.step(
        "height to fill",
        || {
            let less = units.length(freeboard.value);
            if heights.low == heights.high {
                format!("{} - {less} freeboard", units.length(rim))
            } else {
                let (high, low) = (units.length(heights.high), units.length(heights.low));
                format!("({high} + {low}) / 2 - {less} freeboard")
            }
        },
        || units.length(height),
    );
    Some(Room::Walled {
        area: faces.inside.area(),
        height,
        rim,
    })
}
