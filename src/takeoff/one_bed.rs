//! One bed from its row to everything that it needs.

use rust_decimal::Decimal;

use super::bill::Bill;
use super::drip::{self, Watering};
use super::faces::{self as of_walls, Faces};
use super::heights::Heights;
use super::settle::Settled;
use super::shared::{self, Shared};
use super::sticks::Sticks;
use super::trace::Trace;
use super::walls::Build;
use super::{Kinds, TakeOff, amendments, areas, ground, layers, settle, sheets, size, skins};
use crate::model::bed::Bed;
use crate::model::frame::{Frame, FrameKind};
use crate::model::job::Job;
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::units::{Area, Length};

/// Takes off one bed of a kind; problems are in the result, each at its cell.
///
/// After an error the figures that hang on it are zero, and nothing is priced until it is mended.
pub fn take_off(job: &Job, bed: &Bed, trace: &mut impl Trace) -> TakeOff {
    take_off_with(job, &Sticks::of(job), bed, trace)
}

/// Takes off the first bed of each kind in the order of the kinds, then the areas.
pub fn take_off_all(job: &Job, kinds: &Kinds) -> Vec<TakeOff> {
    let sticks = Sticks::of(job);
    let beds = kinds.kinds.iter();
    let mut takeoffs: Vec<TakeOff> = beds
        .filter_map(|kind| job.beds.get(kind.first.index()))
        .map(|bed| take_off_with(job, &sticks, bed, &mut ()))
        .collect();
    drip::share_heads(job, kinds, &mut takeoffs);
    takeoffs.extend(areas::take_off_all(job, &sticks, kinds, &takeoffs));
    takeoffs
}

/// As [`take_off`], with the longest sticks looked up once for many beds.
pub fn take_off_with(job: &Job, sticks: &Sticks, bed: &Bed, trace: &mut impl Trace) -> TakeOff {
    let mut bill = Bill::new(job, bed);
    let mut parts = Parts::default();
    let Some(frame) = job.frames.get(bed.frame.index()) else {
        bill.tell(Problem::bug("the frame of this bed is not known"), "Frame");
        return parts.finish(bill, None, None);
    };
    let Some(build) = Build::of(&mut bill, frame) else {
        return parts.finish(bill, Some(frame), None);
    };
    parts.faces = of_walls::of(&mut bill, build.thickness(), trace);
    if let Some(faces) = parts.faces.clone() {
        bill.shared = Shared::of(&mut bill, &faces);
        parts.wall(&mut bill, (frame, &build), &faces, sticks, trace);
        parts.fill(&mut bill, &build, &faces, trace);
        parts.watering = drip::water(&mut bill, &faces, parts.heights.as_ref(), trace);
    }
    parts.finish(bill, Some(frame), build.course())
}

/// Both faces of the walls of a bed, from which it is taken off and drawn; `None` where a take-off has an error.
pub fn faces(job: &Job, bed: &Bed) -> Option<Faces> {
    let mut bill = Bill::new(job, bed);
    let frame = job.frames.get(bed.frame.index())?;
    let build = Build::of(&mut bill, frame)?;
    of_walls::of(&mut bill, build.thickness(), &mut ())
}

/// The parts of a take-off as they are found.
#[derive(Default)]
struct Parts {
    faces: Option<Faces>,
    heights: Option<Heights>,
    fill_height: Length,
    ground_area: Area,
    settled: Settled,
    /// Walls in common, in words.
    joined: String,
    watering: Option<Watering>,
}

impl Parts {
    /// Heights and walls, and what goes on them.
    fn wall(
        &mut self,
        bill: &mut Bill<'_>,
        (frame, build): (&Frame, &Build<'_>),
        faces: &Faces,
        sticks: &Sticks,
        trace: &mut impl Trace,
    ) {
        bill.work(Driver::Bed, Decimal::ONE);
        bill.work(Driver::Footprint, faces.outside.area().in_square_metres());
        bill.work(Driver::BedArea, faces.inside.area().in_square_metres());
        self.ground_area = ground::below(bill, faces, trace);
        self.heights = build.walls(bill, faces, sticks, trace);
        let level = Heights::default();
        let heights = self.heights.as_ref().unwrap_or(&level);
        skins::dress(bill, (frame, build), faces, heights, trace);
        self.joined = shared::note(bill);
    }

    /// The room, its layers, and what they need.
    fn fill(
        &mut self,
        bill: &mut Bill<'_>,
        build: &Build<'_>,
        faces: &Faces,
        trace: &mut impl Trace,
    ) {
        let Some(room) = build.room(bill, faces, self.heights.as_ref(), trace) else {
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

    fn finish(self, mut bill: Bill<'_>, frame: Option<&Frame>, course: Option<&str>) -> TakeOff {
        let kind = frame.map_or(FrameKind::None, Frame::kind);
        let mound = Heights::level(self.fill_height);
        let shown = match kind {
            FrameKind::None if !self.fill_height.is_zero() => Some(&mound),
            _ => self.heights.as_ref(),
        };
        let mut size = size::in_words(bill.bed, kind, shown, course, bill.units);
        size.push_str(&self.joined);
        let spoil = ground::carry_away(&mut bill);
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
            sheet_pieces: bill.sheet_pieces,
            work,
            hauled: bill.hauled,
            ground_area: self.ground_area,
            spoil,
            saturated_weight: self.settled.saturated,
            wall_weight: bill.wall_weight,
            sink: self.settled.sink,
            stands_above: self.settled.stands_above,
            top_up: self.settled.top_up,
            watering: self.watering,
            crew_notes: bill.crew_notes,
            problems: bill.problems,
        }
    }
}
