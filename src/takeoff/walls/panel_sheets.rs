//! The sheets of a wall: what each run takes of them, and what holds them.

use rust_decimal::Decimal;

use super::boards::mark_of;
use super::corners::{Span, spans};
use super::panel_rows::{Widths, across, count, in_line, part_of};
use super::splices::{joints, near, parts};
use super::{fasteners, posts};
use crate::model::frame::{Frame, PanelWall, Ribs};
use crate::model::labour::Driver;
use crate::model::material::Material;
use crate::problem::Problem;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::{Figure, Run};
use crate::takeoff::heights::Heights;
use crate::takeoff::sticks::{Sheet, Sticks};
use crate::takeoff::{Part, SheetPiece};
use crate::units::{Amount, Area, Length};

/// A sheet shorter than this between its laps makes no wall: 4 in.
const SHORTEST: Length = Length::metres(Decimal::from_parts(1016, 0, 0, false, 4));

/// The sheets of a frame: their size, and how they lap.
pub(super) struct Sheeting<'w> {
    frame: &'w Frame,
    wall: &'w PanelWall,
    sheet: Sheet,
    lap: Length,
}

/// One run to be covered.
struct Stretch {
    span: Span,
    /// How long it is with what a neighbour's wall stands for.
    alone: Length,
    height: Length,
    stands: Vec<Length>,
    mark: &'static str,
}

/// What was counted while the sheets were laid.
#[derive(Default)]
struct Laid {
    panels: u32,
    screws: Decimal,
    loose: u32,
    added: usize,
}

/// How far sheets of a material lap side by side, at a width.
fn lap_of(material: &Material, width: Length) -> Length {
    match &material.panel.cover {
        Some(cover) => width - cover.value,
        None => material.lap.value,
    }
}

impl<'w> Sheeting<'w> {
    /// Size and laps of a frame's sheets; `None` after a problem was told.
    pub(super) fn of(
        bill: &mut Bill<'_>,
        (frame, wall): (&'w Frame, &'w PanelWall),
        sticks: &Sticks,
    ) -> Option<Self> {
        let material = bill.material(wall.panel)?;
        let Some(sheet) = sticks.sheet(wall.panel) else {
            let words = format!("the size of a sheet of {} is not known", material.name);
            let hint = "give its Panel length and Panel width in Materials, or sell it in Prices as sheet 4x8 ft";
            bill.tell_frame(frame, Problem::error(words).hint(hint), "Material");
            return None;
        };
        let lap = lap_of(material, sheet.width);
        if lap >= sheet.width || lap < Length::ZERO {
            let words = format!(
                "sheets of {} are {} wide, and their cover or lap does not fit to that",
                material.name,
                bill.units.length(sheet.width)
            );
            let hint = "give its Cover width in Materials, less than its Panel width";
            bill.tell_frame(frame, Problem::error(words).hint(hint), "Material");
            return None;
        }
        if sheet.length - wall.end_lap.value < SHORTEST {
            let words = format!("the end lap of {} eats its sheets", material.name);
            bill.tell_frame(frame, Problem::error(words), "End lap");
            return None;
        }
        Some(Self {
            frame,
            wall,
            sheet,
            lap,
        })
    }

    /// Lays sheets on all runs; returns each run with the places of its posts.
    pub(super) fn cover(
        &self,
        bill: &mut Bill<'_>,
        faces: &Faces,
        heights: &Heights,
        runs: &[Run],
    ) -> Option<Vec<(Run, Vec<Length>)>> {
        let figure = &faces.outside;
        let rule = self.wall.corner.value;
        let spans = spans(figure, runs, rule, faces.thickness, false);
        let mut laid = Laid::default();
        let mut posted = Vec::with_capacity(runs.len());
        for (i, (run, span)) in runs.iter().zip(spans).enumerate() {
            if span.length() <= Length::ZERO {
                bill.tell_frame(self.frame, eaten(), "Material");
                return None;
            }
            if bill.shared.is_whole(i) {
                posted.push((*run, Vec::new()));
                continue;
            }
            let own = bill.shared.length(i);
            let stretch = Stretch {
                span: span.after(own),
                alone: span.length(),
                height: tallest(bill, figure, heights, i, run.length),
                stands: match &self.wall.posts {
                    Some(posts) => posts::along(bill, self.frame, posts, run, own)?,
                    None => Vec::new(),
                },
                mark: mark_of(figure, run),
            };
            let places = match self.wall.ribs.value {
                Ribs::Along => self.along(bill, &stretch, &mut laid)?,
                Ribs::Upright => self.upright(bill, &stretch, &mut laid)?,
            };
            posted.push((*run, places));
        }
        self.count(bill, figure, &laid);
        Some(posted)
    }

    /// Rows of sheets along a run; returns the places of all its posts.
    fn along(
        &self,
        bill: &mut Bill<'_>,
        stretch: &Stretch,
        laid: &mut Laid,
    ) -> Option<Vec<Length>> {
        let rows = self.widths(bill, stretch.height)?;
        let joints = self.end_joints(stretch);
        let lap = self.wall.end_lap.value;
        let parts = parts(stretch.span, &joints);
        let last = parts.len().saturating_sub(1);
        for (width, number) in &rows {
            for (i, part) in parts.iter().enumerate() {
                let length = if i < last { *part + lap } else { *part };
                self.cut(bill, (length, *width), *number, stretch.mark, laid);
            }
        }
        let is_new = |joint: &&Length| !near(**joint, &stretch.stands);
        let added: Vec<Length> = joints.iter().filter(is_new).copied().collect();
        if self.wall.posts.is_some() {
            laid.added = laid.added.saturating_add(added.len());
        } else {
            let loose = u32::try_from(joints.len()).unwrap_or(u32::MAX);
            laid.loose = laid.loose.saturating_add(loose);
        }
        let mut places = stretch.stands.clone();
        places.extend(added);
        self.rails_screwed(stretch, places.len(), laid);
        let every = self.wall.screw_spacing.value;
        let ends = Decimal::from(joints.len()).saturating_mul(in_line(stretch.height, every));
        let laps = Decimal::from(count(&rows).saturating_sub(1))
            .saturating_mul(in_line(stretch.span.length(), every));
        laid.screws = laid.screws.saturating_add(ends).saturating_add(laps);
        Some(places)
    }

    /// Sheets side by side up a run; they need no posts of their own.
    fn upright(
        &self,
        bill: &mut Bill<'_>,
        stretch: &Stretch,
        laid: &mut Laid,
    ) -> Option<Vec<Length>> {
        if stretch.height > self.sheet.length {
            let (high, longest) = (stretch.height, self.sheet.length);
            let words = format!(
                "the wall is {} high, and the longest sheet is {}",
                bill.units.length(high),
                bill.units.length(longest)
            );
            let problem = Problem::error(words).hint("set Ribs to along, or make the wall lower");
            bill.tell(problem, "Height");
            return None;
        }
        let columns = self.columns(bill, stretch)?;
        for (width, number) in &columns {
            let size = (stretch.height, *width);
            self.cut(bill, size, *number, stretch.mark, laid);
        }
        self.rails_screwed(stretch, stretch.stands.len(), laid);
        let laps = Decimal::from(count(&columns).saturating_sub(1));
        let line = in_line(stretch.height, self.wall.screw_spacing.value);
        laid.screws = laid.screws.saturating_add(laps.saturating_mul(line));
        Some(stretch.stands.clone())
    }

    /// Sheets side by side. Those that lap are not ripped: the last one laps further.
    fn columns(&self, bill: &mut Bill<'_>, stretch: &Stretch) -> Option<Widths> {
        let (extent, alone) = (stretch.span.length(), self.widths(bill, stretch.alone)?);
        if self.lap > Length::ZERO && count(&alone) > 1 {
            let number = count(&self.widths(bill, extent)?);
            return Some(vec![(self.sheet.width, number)]);
        }
        Some(part_of(&alone, extent))
    }

    fn widths(&self, bill: &mut Bill<'_>, extent: Length) -> Option<Widths> {
        let widths = across(extent, self.sheet.width, self.lap);
        if widths.is_none() {
            let words = "this wall takes more sheets than can be counted";
            bill.tell_frame(self.frame, Problem::error(words), "Material");
        }
        widths
    }

    /// Where sheets join end to end: on posts as far as one stands in reach.
    fn end_joints(&self, stretch: &Stretch) -> Vec<Length> {
        if stretch.span.length().tidy() <= self.sheet.length.tidy() {
            return Vec::new();
        }
        let reach = self.sheet.length - self.wall.end_lap.value;
        joints(stretch.span, &stretch.stands, Some(reach), &[])
    }

    /// Screws along the rails; without rails along the posts, those at both ends among them.
    fn rails_screwed(&self, stretch: &Stretch, posts: usize, laid: &mut Laid) {
        let every = self.wall.screw_spacing.value;
        let screws = match &self.wall.rails {
            Some(rails) => in_line(stretch.span.length(), every)
                .saturating_mul(Decimal::from(rails.number.value)),
            None => in_line(stretch.height, every)
                .saturating_mul(Decimal::from(posts).saturating_add(Decimal::TWO)),
        };
        laid.screws = laid.screws.saturating_add(screws);
    }

    fn cut(
        &self,
        bill: &mut Bill<'_>,
        (length, width): (Length, Length),
        count: u32,
        mark: &'static str,
        laid: &mut Laid,
    ) {
        laid.panels = laid.panels.saturating_add(count);
        bill.cut_sheet(SheetPiece {
            material: self.wall.panel,
            length,
            width,
            count,
            mark: mark.into(),
        });
    }

    /// Needs, work, weight and words of what was laid.
    fn count(&self, bill: &mut Bill<'_>, figure: &Figure, laid: &Laid) {
        let net = area_of(bill);
        let amount = Amount::Area(net);
        bill.need(self.wall.panel, Part::Panel, amount, amount);
        let built = figure.perimeter() - bill.shared.total();
        bill.work(Driver::PanelWall, built.in_metres());
        bill.work(Driver::Panel, Decimal::from(laid.panels));
        if let Some(screw) = self.wall.screw {
            fasteners::counted(bill, screw, laid.screws);
        }
        let weight = bill.material(self.wall.panel);
        if let Some(weight) = weight.and_then(|m| m.panel.weight.as_ref()) {
            let sheet = self.sheet.length * self.sheet.width;
            bill.weighs(weight.value.times(net.ratio(sheet)));
        }
        self.tell(bill, laid);
    }

    fn tell(&self, bill: &mut Bill<'_>, laid: &Laid) {
        if laid.added > 0 {
            let words = format!(
                "runs longer than the longest sheet are joined on posts, and {} more {} for that",
                laid.added,
                if laid.added == 1 {
                    "post is set"
                } else {
                    "posts are set"
                },
            );
            bill.tell(Problem::notice(words), "Frame");
        }
        if laid.loose > 0 {
            let words = format!(
                "{} joints of sheets stand where no post holds them, because frame {} has no posts",
                laid.loose, self.frame.name
            );
            let problem =
                Problem::caution(words).hint("give the frame a post material, or longer sheets");
            bill.tell_frame(self.frame, problem, "Post material");
        }
    }
}

/// The taller end of a run.
fn tallest(
    bill: &Bill<'_>,
    figure: &Figure,
    heights: &Heights,
    run: usize,
    length: Length,
) -> Length {
    let at = |place| posts::wall_at(figure, bill.bed.slope, heights, run, place, length);
    at(Length::ZERO).max(at(length))
}

/// Area of all sheets on the bill.
pub(super) fn area_of(bill: &Bill<'_>) -> Area {
    let pieces = bill.sheet_pieces.iter();
    pieces
        .map(|p| (p.length * p.width).times(Decimal::from(p.count)))
        .sum()
}
