//! A bed from above: both faces of its walls, its measures, the numbers of its sides.

use super::marks::{Anchor, Drawing, Line, Mark, Pattern, Spot};
use super::paper::{MM, Paper, Scale, half};
use crate::model::bed::{Along, Slope};
use crate::takeoff::Faces;
use crate::takeoff::drip::lines;
use crate::takeoff::geometry::Figure;
use crate::takeoff::outline::Point;
use crate::units::show::plain;
use crate::units::{Decimal, Length, System};

/// Paper left of the bed, for measures that run up the page and for words.
const LEFT: Paper = 16 * MM;
/// Paper right of it, for words.
const RIGHT: Paper = 16 * MM;
/// Paper above it.
const ABOVE: Paper = 7 * MM;
/// Paper below it, for measures.
const BELOW: Paper = 16 * MM;
/// How far a line of measure stands off what it measures.
const OFF: Paper = 6 * MM;
/// How far words stand off a side.
const WORDS_OFF: Paper = 4 * MM;
/// Sides beyond which only the greatest measures are written.
const MOST_SIDES: usize = 12;
/// A side shorter than this on paper gets no words.
const SHORTEST: Paper = 6 * MM;

/// What is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Above<'a> {
    /// Faces of its walls.
    pub faces: &'a Faces,
    /// What lies on top, when it is filled.
    pub top: Option<Pattern>,
    /// How the ground falls.
    pub slope: Option<Slope>,
    /// Between drip lines, when it is watered.
    pub drip: Option<Length>,
    /// Units of its measures.
    pub system: System,
    /// What it is called, in words: `Bed A1`.
    pub name: &'a str,
}

/// The plan of a bed, which takes at most so much paper without its measures.
pub fn plan(of: &Above<'_>, room: (Paper, Paper)) -> Drawing {
    let outside = of.faces.outside.polygon();
    let scale = Scale::that_fits(extent(&outside), room, of.system);
    let sheet = Sheet::of(&outside, scale);
    let (mut marks, outer) = sheet.shape(of, &outside);
    marks.extend(sheet.measures(of, &outer));
    marks.extend(sheet.words_below(of));
    sheet.drawing(of, marks)
}

/// The plan of a bed without measures, at a scale that others share.
pub fn outline(of: &Above<'_>, scale: Scale) -> Drawing {
    let outside = of.faces.outside.polygon();
    let sheet = Sheet::bare(&outside, scale);
    let (marks, _) = sheet.shape(of, &outside);
    sheet.drawing(of, marks)
}

/// The outside of the walls as it is drawn at a scale, its lowest left corner at the origin and up the page
/// counted up: what a rule on the paper would measure.
pub fn outline_on_paper(faces: &Faces, scale: Scale) -> Vec<Spot> {
    let corners = faces.outside.polygon();
    let (x, y) = lowest(&corners);
    let on_paper = corners.iter();
    on_paper
        .map(|p| (scale.paper(p.x - x), scale.paper(p.y - y)))
        .collect()
}

fn alt(of: &Above<'_>, scale: Scale) -> String {
    let (length, width) = of.faces.outside.extent();
    let units = of.system;
    format!(
        "Plan of {}, {} by {} over the walls, drawn at {}",
        of.name,
        units.length(length),
        units.length(width),
        scale.words()
    )
}

fn lowest(corners: &[Point]) -> (Length, Length) {
    let least = |pick: fn(&Point) -> Length| corners.iter().map(pick).min().unwrap_or_default();
    (least(|p| p.x), least(|p| p.y))
}

fn extent(corners: &[Point]) -> (Length, Length) {
    let most = |pick: fn(&Point) -> Length| corners.iter().map(pick).max().unwrap_or_default();
    let (x, y) = lowest(corners);
    (most(|p| p.x) - x, most(|p| p.y) - y)
}

/// The paper, and where the bed lies on it.
struct Sheet {
    scale: Scale,
    origin: (Length, Length),
    /// Paper left of the bed and above it.
    corner: (Paper, Paper),
    /// Width and height of the bed on paper.
    bed: (Paper, Paper),
    size: (Paper, Paper),
}

impl Sheet {
    /// With paper for measures all round.
    fn of(outside: &[Point], scale: Scale) -> Self {
        Self::with(outside, scale, (LEFT, ABOVE), (RIGHT, BELOW))
    }

    /// With no more paper than lines need.
    fn bare(outside: &[Point], scale: Scale) -> Self {
        let rim = (half(MM), half(MM));
        Self::with(outside, scale, rim, rim)
    }

    fn with(
        outside: &[Point],
        scale: Scale,
        before: (Paper, Paper),
        after: (Paper, Paper),
    ) -> Self {
        let (length, width) = extent(outside);
        let bed = (scale.paper(length), scale.paper(width));
        Self {
            scale,
            origin: lowest(outside),
            corner: before,
            bed,
            size: (before.0 + bed.0 + after.0, before.1 + bed.1 + after.1),
        }
    }

    fn drawing(&self, of: &Above<'_>, marks: Vec<Mark>) -> Drawing {
        Drawing {
            width: self.size.0,
            height: self.size.1,
            scale: self.scale,
            alt: alt(of, self.scale),
            marks,
        }
    }

    fn spot(&self, point: Point) -> Spot {
        let up = self.scale.paper(point.y - self.origin.1);
        let right = self.scale.paper(point.x - self.origin.0);
        (self.corner.0 + right, self.corner.1 + self.bed.1 - up)
    }

    /// What is built, and the outside of its walls.
    fn shape(&self, of: &Above<'_>, outside: &[Point]) -> (Vec<Mark>, Vec<Spot>) {
        let outer = self.outline(outside);
        let area = |outlines, pattern| Mark::Area {
            outlines,
            pattern,
            edge: Line::Edge,
        };
        if of.faces.thickness.is_zero() {
            let mut marks = vec![area(vec![outer.clone()], of.top)];
            marks.extend(self.drip_lines(of));
            return (marks, outer);
        }
        let inner = self.outline(&of.faces.inside.polygon());
        let mut marks = vec![area(vec![inner.clone()], of.top)];
        marks.extend(self.drip_lines(of));
        marks.push(area(vec![outer.clone(), inner], Some(Pattern::Wall)));
        (marks, outer)
    }

    /// Drip lines, dashed; they are seen from above.
    fn drip_lines(&self, of: &Above<'_>) -> Vec<Mark> {
        let lines = of.drip.map(|spacing| lines(of.faces, spacing));
        let lines = lines.into_iter().flatten();
        lines
            .map(|(from, to)| Mark::path([self.spot(from), self.spot(to)], Line::Dashed))
            .collect()
    }

    fn outline(&self, corners: &[Point]) -> Vec<Spot> {
        corners.iter().map(|corner| self.spot(*corner)).collect()
    }

    /// Measures along the outside, and the numbers of sides.
    fn measures(&self, of: &Above<'_>, outer: &[Spot]) -> Vec<Mark> {
        let mut marks = Vec::new();
        let few = outer.len() <= MOST_SIDES;
        match &of.faces.outside {
            Figure::Straight(_) | Figure::Regular { .. } if few => {
                let runs = of.faces.outside.runs().unwrap_or_default();
                let lengths = runs.iter().map(|run| run.length);
                let sides = sides(outer).zip(lengths);
                marks.extend(sides.filter_map(|(side, l)| side_words(side, &of.system.length(l))));
            }
            _ => marks.extend(self.overall(of)),
        }
        if few && !matches!(of.faces.outside, Figure::Curved(_)) {
            let numbered = sides(outer).zip(1_u32..);
            marks.extend(numbered.filter_map(|(side, n)| number(side, n)));
        }
        marks
    }

    /// The greatest length below, the greatest width at the left.
    fn overall(&self, of: &Above<'_>) -> Vec<Mark> {
        let (length, width) = of.faces.outside.extent();
        let units = of.system;
        let (right, low) = (LEFT + self.bed.0, ABOVE + self.bed.1);
        let mut marks = across((LEFT, right), low, low + OFF, &units.length(length));
        marks.extend(upright(
            (ABOVE, low),
            LEFT,
            LEFT - OFF,
            &units.length(width),
        ));
        marks
    }

    /// Below: the measures inside, and how the ground falls.
    fn words_below(&self, of: &Above<'_>) -> Vec<Mark> {
        let (middle, below) = (LEFT + half(self.bed.0), ABOVE + self.bed.1 + OFF + 5 * MM);
        let mut lines = Vec::new();
        if let Figure::Rectangle { length, width } = &of.faces.inside
            && !of.faces.thickness.is_zero()
        {
            let units = of.system;
            let words = format!(
                "inside {} x {}",
                units.length(*length),
                units.length(*width)
            );
            lines.push(words);
        }
        if let Some(slope) = of.slope.filter(|slope| !slope.fall.is_zero()) {
            let along = match slope.along {
                Along::Length => "length",
                Along::Width => "width",
            };
            let fall = plain(slope.fall.saturating_mul(Decimal::ONE_HUNDRED), 1);
            lines.push(format!("ground falls {fall}% along the {along}"));
        }
        let lines = lines.into_iter().zip(0_i64..);
        lines
            .map(|(text, line)| Mark::words((middle, below + line * 4 * MM), text, Anchor::Middle))
            .collect()
    }
}

/// Each side of an outline on paper.
fn sides(outline: &[Spot]) -> impl Iterator<Item = (Spot, Spot)> + '_ {
    let next = outline.iter().cycle().skip(1);
    outline.iter().copied().zip(next.copied())
}

/// The middle of a side moved off it, outward when positive; nothing for a side too short to speak of.
fn off((from, to): (Spot, Spot), by: Paper) -> Option<(Spot, Spot)> {
    let (dx, dy) = (to.0 - from.0, to.1 - from.1);
    let length = (dx * dx + dy * dy).isqrt();
    if length < SHORTEST {
        return None;
    }
    // Counter-clockwise on the ground is so on paper too: outward lies to the right of the way.
    let outward = (-dy * by / length, dx * by / length);
    let middle = (half(from.0 + to.0), half(from.1 + to.1));
    Some(((middle.0 + outward.0, middle.1 + outward.1), outward))
}

fn side_words(side: (Spot, Spot), words: &str) -> Option<Mark> {
    let ((x, y), outward) = off(side, WORDS_OFF)?;
    let anchor = match outward.0 {
        right if right > WORDS_OFF / 3 => Anchor::Start,
        left if left < -WORDS_OFF / 3 => Anchor::End,
        _ => Anchor::Middle,
    };
    Some(Mark::words((x, y + MM), words, anchor))
}

fn number(side: (Spot, Spot), number: u32) -> Option<Mark> {
    let ((x, y), _) = off(side, -WORDS_OFF)?;
    let at = (x, y + MM);
    Some(Mark::plated(at, number.to_string(), Anchor::Middle, true))
}

/// A line of measure across the page at `y`, between two lines that come down from `edge`.
pub(super) fn across((from, to): (Paper, Paper), edge: Paper, y: Paper, words: &str) -> Vec<Mark> {
    let tick = MM;
    let mut marks = vec![
        Mark::path([(from, edge + MM), (from, y + tick)], Line::Thin),
        Mark::path([(to, edge + MM), (to, y + tick)], Line::Thin),
        Mark::path([(from, y), (to, y)], Line::Thin),
    ];
    for x in [from, to] {
        marks.push(Mark::path(
            [(x - tick, y + tick), (x + tick, y - tick)],
            Line::Edge,
        ));
    }
    let at = (half(from + to), y - MM);
    marks.push(Mark::words(at, words, Anchor::Middle));
    marks
}

/// A line of measure up the page at `x`, between two lines that come from `edge`.
pub(super) fn upright((top, low): (Paper, Paper), edge: Paper, x: Paper, words: &str) -> Vec<Mark> {
    let tick = MM;
    let mut marks = vec![
        Mark::path([(edge - MM, top), (x - tick, top)], Line::Thin),
        Mark::path([(edge - MM, low), (x - tick, low)], Line::Thin),
        Mark::path([(x, top), (x, low)], Line::Thin),
    ];
    for y in [top, low] {
        marks.push(Mark::path(
            [(x - tick, y + tick), (x + tick, y - tick)],
            Line::Edge,
        ));
    }
    marks.push(Mark::Words {
        at: (x - MM, half(top + low)),
        text: words.to_owned(),
        anchor: Anchor::Middle,
        upright: true,
        strong: false,
        plate: false,
    });
    marks
}

#[cfg(test)]
#[path = "plan_tests.rs"]
mod tests;
