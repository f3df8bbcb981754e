//! The drawings of a kind of bed, from its row, its frame and its take-off.

use super::marks::{Drawing, Pattern};
use super::paper::{Paper, Scale};
use super::plan::{Above, outline, plan};
use super::section::{Across, Band, section};
use crate::model::bed::{Along, Bed};
use crate::model::frame::{Frame, Wall};
use crate::model::job::Job;
use crate::takeoff::{Faces, LayerTakeOff, TakeOff, faces};
use crate::units::{Decimal, Length, System};

/// How much paper there is for each drawing, without its measures.
#[derive(Clone, Copy, Debug)]
pub struct Room {
    /// For the bed in plan.
    pub plan: (Paper, Paper),
    /// For the bed in section.
    pub section: (Paper, Paper),
    /// For words beside the section.
    pub words: Paper,
    /// The most letters of a line of them.
    pub letters: usize,
}

/// Both drawings of a bed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawings {
    /// From above.
    pub plan: Drawing,
    /// Cut across, or along where the ground falls that way.
    pub section: Drawing,
}

/// The drawings of a bed with its take-off; `None` where the take-off had no walls to go by.
pub fn drawings(job: &Job, bed: &Bed, takeoff: &TakeOff, room: &Room) -> Option<Drawings> {
    let faces = faces(job, bed)?;
    let frame = job.frames.get(bed.frame.index())?;
    let name = called(bed);
    let walled = Walled {
        job,
        bed,
        frame,
        faces: &faces,
        takeoff,
    };
    let across = walled.across(&name, room.letters);
    Some(Drawings {
        plan: plan(&above(job, bed, takeoff, &faces, &name), room.plan),
        section: section(&across, room.section, room.words),
    })
}

/// The plan of a bed without measures, at a scale that others share.
pub fn small_plan(job: &Job, bed: &Bed, takeoff: &TakeOff, scale: Scale) -> Option<Drawing> {
    let faces = faces(job, bed)?;
    Some(outline(
        &above(job, bed, takeoff, &faces, &called(bed)),
        scale,
    ))
}

/// The largest usual scale at which each of these beds fits into so much paper.
pub fn common_scale<'a>(
    job: &Job,
    beds: impl IntoIterator<Item = &'a Bed>,
    room: (Paper, Paper),
) -> Option<Scale> {
    let extents = beds.into_iter().filter_map(|bed| {
        let faces = faces(job, bed)?;
        Some(faces.outside.extent())
    });
    let largest = extents.reduce(|a, b| (a.0.max(b.0), a.1.max(b.1)))?;
    Some(Scale::that_fits(largest, room, job.settings.units.value))
}

fn called(bed: &Bed) -> String {
    format!("bed {}", bed.name)
}

fn above<'a>(
    job: &Job,
    bed: &Bed,
    takeoff: &TakeOff,
    faces: &'a Faces,
    name: &'a str,
) -> Above<'a> {
    let top = takeoff.layers.iter().rev().find(|layer| layer.sheets == 0);
    let drip = bed.drip.and_then(|id| job.drips.get(id.index()));
    Above {
        faces,
        top: top.map(|layer| Pattern::of(layer.category)),
        slope: bed.slope,
        drip: drip.map(|drip| drip.line_spacing.value),
        system: job.settings.units.value,
        name,
    }
}

struct Walled<'a> {
    job: &'a Job,
    bed: &'a Bed,
    frame: &'a Frame,
    faces: &'a Faces,
    takeoff: &'a TakeOff,
}

impl Walled<'_> {
    fn across<'n>(&self, name: &'n str, letters: usize) -> Across<'n> {
        let takeoff = self.takeoff;
        let system = self.job.settings.units.value;
        let side_slope = match &self.frame.wall {
            Wall::Mound(mound) => Some(mound.side_slope.value),
            _ => None,
        };
        let (course, top_course) = self.courses();
        let layers = takeoff.layers.iter();
        Across {
            name,
            clear: self.clear(),
            wall: self.faces.thickness,
            rim: (takeoff.wall_height, takeoff.low_side_height),
            course,
            top_course,
            side_slope,
            fill: takeoff.fill_height,
            bands: layers.map(|layer| band(layer, system, letters)).collect(),
            stands_above: takeoff.stands_above,
            sink: takeoff.sink,
            system,
        }
    }

    /// Across the bed, or along it where the ground falls that way.
    fn clear(&self) -> Length {
        let (length, width) = self.faces.inside.extent();
        let falls = self.bed.slope.filter(|slope| !slope.fall.is_zero());
        match falls.map(|slope| slope.along) {
            Some(Along::Length) => length,
            _ => width,
        }
    }

    /// Height of a course, and of the top one, which may be ripped.
    fn courses(&self) -> (Option<Length>, Length) {
        let (courses, height) = (self.takeoff.courses, self.takeoff.wall_height);
        if courses == 0 {
            return (None, Length::ZERO);
        }
        let face = match &self.frame.wall {
            Wall::Boards(wall) => self
                .job
                .material(wall.board)
                .and_then(|m| m.section.as_ref()),
            _ => None,
        };
        let even = height.split(Decimal::from(courses));
        let course = face.map_or(even, |section| section.value.face);
        let below = course.times(Decimal::from(courses.saturating_sub(1)));
        (Some(course), (height - below).max(Length::ZERO))
    }
}

fn band(layer: &LayerTakeOff, system: System, letters: usize) -> Band {
    let words = match layer.sheets {
        0 => format!("{}, {}", system.depth(layer.depth), layer.name),
        1 => format!("1 sheet {}", layer.name),
        n => format!("{n} sheets {}", layer.name),
    };
    Band {
        words: cut_short(&words, letters),
        depth: layer.depth,
        pattern: Pattern::of(layer.category),
    }
}

/// So many letters at most, with an ellipsis where something is left out.
fn cut_short(words: &str, letters: usize) -> String {
    if words.chars().count() <= letters {
        return words.to_owned();
    }
    let kept: String = words.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}
