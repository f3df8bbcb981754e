//! A bed cut across: walls, ground, and the layers with their heights up from the ground.
//!
//! Longer than most because all that stands in a section is placed by the same few levels.

use super::marks::{Anchor, Drawing, Line, Mark, Pattern, Spot};
use super::paper::{MM, Paper, Scale, half};
use super::plan::{across, upright};
use crate::units::{Decimal, Length, System};

/// Paper left of the bed.
const LEFT: Paper = 16 * MM;
/// Paper between the bed and the words at its right.
const GAP: Paper = 8 * MM;
/// The same where the lower ground has a measure of its own.
const WIDE_GAP: Paper = 14 * MM;
/// Paper above the rim.
const ABOVE: Paper = 6 * MM;
/// Ground that is drawn below the bed.
const GROUND: Paper = 4 * MM;
/// Paper below that, for the measure across.
const BELOW: Paper = 9 * MM;
/// From one line of words to the next.
const LINE: Paper = 4 * MM;
/// A bed wider than so many times its height is drawn with a break in it.
const WIDEST: u32 = 3;
/// More joints than this are not drawn one by one.
const MOST_JOINTS: usize = 60;

/// One layer.
#[derive(Clone, Debug)]
pub struct Band {
    /// What it is, with its depth.
    pub words: String,
    /// How deep it is; zero for sheets.
    pub depth: Length,
    /// How it is told apart.
    pub pattern: Pattern,
}

/// What is drawn.
#[derive(Clone, Debug)]
pub struct Across<'a> {
    /// What it is called, in words: `Bed A1`.
    pub name: &'a str,
    /// Clear width between the walls, or at the foot of a mound.
    pub clear: Length,
    /// Thickness of a wall; zero for a mound.
    pub wall: Length,
    /// Height of the rim above the ground at the left, which is the higher ground, and at the right.
    pub rim: (Length, Length),
    /// Height of a course, when the wall has courses of one height.
    pub course: Option<Length>,
    /// What the top course is high.
    pub top_course: Length,
    /// Run of a mound's sides for a rise of one; nothing between walls.
    pub side_slope: Option<Decimal>,
    /// Height that is filled, at the middle.
    pub fill: Length,
    /// Layers from the bottom up.
    pub bands: Vec<Band>,
    /// Height of the fill above the rim on filling day.
    pub stands_above: Length,
    /// How far the surface sinks in the first season.
    pub sink: Length,
    /// Units of its measures.
    pub system: System,
}

/// The section of a bed, which takes at most so much paper without words, and so much for words at its right.
pub fn section(of: &Across<'_>, room: (Paper, Paper), words: Paper) -> Drawing {
    let tallest = of.rim.0.max(of.rim.1).max(of.fill);
    let longest = tallest.times(Decimal::from(WIDEST));
    let is_broken = of.clear > longest && !tallest.is_zero() && of.side_slope.is_none();
    let drawn = if is_broken { longest } else { of.clear };
    let over = drawn + of.wall.times(Decimal::TWO);
    let stands = tallest + of.stands_above;
    let scale = Scale::that_fits((over, stands), room, of.system);
    let page = Page {
        of,
        scale,
        clear: scale.paper(drawn),
        wall: scale.paper(of.wall),
        rim: ABOVE + scale.paper(of.stands_above),
        is_broken,
    };
    let mut marks = page.ground();
    marks.extend(page.bands());
    marks.extend(page.walls());
    marks.extend(page.broken());
    marks.extend(page.surface());
    marks.extend(page.measures());
    marks.extend(page.words());
    Drawing {
        width: page.right() + page.gap() + words,
        height: page.bottom() + GROUND + BELOW,
        scale,
        alt: alt(of, scale),
        marks,
    }
}

fn alt(of: &Across<'_>, scale: Scale) -> String {
    let layers: Vec<&str> = of.bands.iter().map(|band| &*band.words).collect();
    let layers = if layers.is_empty() {
        "not filled".to_owned()
    } else {
        format!("from the bottom up {}", layers.join("; "))
    };
    let scale = scale.words();
    format!("Section of {}, drawn at {scale}: {layers}", of.name)
}

/// The paper and where the bed stands on it.
struct Page<'a, 'b> {
    of: &'a Across<'b>,
    scale: Scale,
    /// Clear width as drawn.
    clear: Paper,
    wall: Paper,
    /// Where the rim lies, down the page.
    rim: Paper,
    is_broken: bool,
}

impl Page<'_, '_> {
    /// Inside of both walls.
    fn inside(&self) -> (Paper, Paper) {
        let left = LEFT + self.wall;
        (left, left + self.clear)
    }

    /// Outside of the right wall.
    fn right(&self) -> Paper {
        self.inside().1 + self.wall
    }

    fn slopes(&self) -> bool {
        self.of.rim.0 != self.of.rim.1
    }

    fn gap(&self) -> Paper {
        if self.slopes() { WIDE_GAP } else { GAP }
    }

    /// Where the ground lies at the left and at the right; a mound has no rim and stands by its own height.
    fn feet(&self) -> (Paper, Paper) {
        let (left, right) = self.of.rim;
        let own = |height: Length| match self.of.side_slope {
            Some(_) => self.of.fill,
            None => height,
        };
        let down = |height| self.rim + self.scale.paper(own(height));
        (down(left), down(right))
    }

    fn bottom(&self) -> Paper {
        let (left, right) = self.feet();
        left.max(right)
    }

    /// Where a level lies at the left and at the right: so much of the fill is below it.
    fn level(&self, below: Length) -> (Spot, Spot) {
        let (left, right) = self.inside();
        let feet = self.feet();
        let mean = half(feet.0 + feet.1);
        let top = mean - self.scale.paper(self.of.fill);
        let part = below.ratio(self.of.fill);
        let up = |foot: Paper| {
            let whole = Decimal::from(foot - top).saturating_mul(part);
            let whole = rust_decimal::prelude::ToPrimitive::to_i64(&whole.round());
            foot - whole.unwrap_or_default()
        };
        let aside = self.of.side_slope.map_or(0, |slope| {
            self.scale.paper(below.times(slope)).min(half(self.clear))
        });
        ((left + aside, up(feet.0)), (right - aside, up(feet.1)))
    }

    fn ground(&self) -> Vec<Mark> {
        let (left, right) = self.feet();
        let (from, to) = (LEFT - 4 * MM, self.right() + 4 * MM);
        let bottom = self.bottom() + GROUND;
        let top = [
            (from, left),
            (self.inside().0, left),
            (self.inside().1, right),
            (to, right),
        ];
        let mut outline = top.to_vec();
        outline.extend([(to, bottom), (from, bottom)]);
        vec![
            Mark::Area {
                outlines: vec![outline],
                pattern: Some(Pattern::Ground),
                edge: Line::Thin,
            },
            Mark::path(top, Line::Edge),
        ]
    }

    /// Each layer between two levels; sheets are a heavy line.
    fn bands(&self) -> Vec<Mark> {
        let mut below = Length::ZERO;
        let mut marks = Vec::new();
        for band in &self.of.bands {
            let low = self.level(below);
            below += band.depth;
            let high = self.level(below);
            marks.push(if band.depth.is_zero() {
                Mark::path([low.0, low.1], Line::Edge)
            } else {
                Mark::Area {
                    outlines: vec![vec![low.0, low.1, high.1, high.0]],
                    pattern: Some(band.pattern),
                    edge: Line::Edge,
                }
            });
        }
        marks
    }

    fn walls(&self) -> Vec<Mark> {
        if self.wall == 0 {
            return Vec::new();
        }
        let (feet, inside) = (self.feet(), self.inside());
        let mut marks = Vec::new();
        for (from, foot) in [(LEFT, feet.0), (inside.1, feet.1)] {
            let to = from + self.wall;
            marks.push(Mark::Area {
                outlines: vec![vec![
                    (from, foot),
                    (to, foot),
                    (to, self.rim),
                    (from, self.rim),
                ]],
                pattern: Some(Pattern::Wall),
                edge: Line::Edge,
            });
            let joints = self.joints(foot).into_iter();
            marks.extend(joints.map(|y| Mark::path([(from, y), (to, y)], Line::Edge)));
        }
        marks
    }

    /// Where courses meet, from the rim down to the ground.
    fn joints(&self, foot: Paper) -> Vec<Paper> {
        let Some(course) = self.of.course.filter(|course| !course.is_zero()) else {
            return Vec::new();
        };
        let first = self.of.top_course;
        let depths = (0..MOST_JOINTS).scan(first, |depth, _| {
            let this = *depth;
            *depth += course;
            Some(this)
        });
        let joints = depths.map(|depth| self.rim + self.scale.paper(depth));
        joints.take_while(|y| *y < foot).collect()
    }

    /// Two strokes in the middle, where a bed much wider than high is shortened.
    fn broken(&self) -> Vec<Mark> {
        if !self.is_broken {
            return Vec::new();
        }
        let (left, right) = self.inside();
        let (top, low) = (self.rim, self.bottom() + GROUND);
        let stroke = |x: Paper| {
            let middle = half(top + low);
            [
                (x, top - MM),
                (x, middle - MM),
                (x - MM, middle - half(MM)),
                (x + MM, middle + half(MM)),
                (x, middle + MM),
                (x, low + MM),
            ]
        };
        let middle = half(left + right);
        let (a, b) = (stroke(middle - MM), stroke(middle + MM));
        let between = a.iter().chain(b.iter().rev()).copied().collect();
        vec![Mark::Area {
            outlines: vec![between],
            pattern: None,
            edge: Line::Thin,
        }]
    }

    /// What the fill is higher on filling day, and lower after a season.
    fn surface(&self) -> Vec<Mark> {
        let of = self.of;
        let mut marks = Vec::new();
        if !of.stands_above.is_zero() && self.wall > 0 {
            let (left, right) = self.inside();
            let up = self.rim - self.scale.paper(of.stands_above);
            let in_by = self.clear / 6;
            let heap = [(left, self.rim), (left + in_by, up), (right - in_by, up)];
            let heap = heap.into_iter().chain([(right, self.rim)]);
            marks.push(Mark::path(heap, Line::Dashed));
        }
        if self.sinks() {
            let (left, right) = self.level(of.fill - of.sink);
            marks.push(Mark::path([left, right], Line::Dashed));
        }
        marks
    }

    fn sinks(&self) -> bool {
        let of = self.of;
        !of.sink.is_zero() && of.sink < of.fill && !of.bands.is_empty()
    }

    fn measures(&self) -> Vec<Mark> {
        let of = self.of;
        let (left, right) = self.inside();
        let units = of.system;
        let low = self.bottom() + GROUND;
        let clear = units.length(of.clear);
        let mut marks = across((left, right), low, low + 5 * MM, &clear);
        let feet = self.feet();
        let high = if of.side_slope.is_some() {
            of.fill
        } else {
            of.rim.0
        };
        if !high.is_zero() {
            let words = units.length(high);
            marks.extend(upright(
                (self.rim, feet.0),
                LEFT - 4 * MM,
                LEFT - 8 * MM,
                &words,
            ));
        }
        if self.slopes() {
            let x = self.right() + 10 * MM;
            marks.extend(upright(
                (self.rim, feet.1),
                x + 2 * MM,
                x,
                &units.length(of.rim.1),
            ));
        }
        marks.extend(self.levels());
        marks
    }

    /// Heights up from the ground, on the inside of the left wall: where the crew draws its marks.
    fn levels(&self) -> Vec<Mark> {
        let mut below = Length::ZERO;
        let mut last = self.feet().0;
        let mut marks = Vec::new();
        for band in self.of.bands.iter().filter(|band| !band.depth.is_zero()) {
            below += band.depth;
            let ((x, y), _) = self.level(below);
            marks.push(Mark::path([(x, y), (x + 3 * MM, y)], Line::Edge));
            // Marks too near to each other keep their stroke and lose their number.
            if last - y >= LINE - MM {
                let at = (x + half(7 * MM), y + 3 * MM);
                let words = self.of.system.depth(below);
                marks.push(Mark::plated(at, words, Anchor::Start, false));
                last = y;
            }
        }
        marks
    }

    /// Words at the right, from the top down, each with a line to what it names.
    fn words(&self) -> Vec<Mark> {
        let of = self.of;
        let mut named: Vec<(Paper, String)> = Vec::new();
        let mut below = Length::ZERO;
        for band in &of.bands {
            let middle = below + band.depth.split(Decimal::TWO);
            below += band.depth;
            named.push((self.level(middle).1.1, band.words.clone()));
        }
        if self.sinks() {
            let words = format!("after a season: {} lower", of.system.depth(of.sink));
            named.push((self.level(of.fill - of.sink).1.1, words));
        }
        if !of.stands_above.is_zero() && self.wall > 0 {
            let up = self.rim - self.scale.paper(of.stands_above);
            let above = of.system.depth(of.stands_above);
            named.push((up, format!("when filled: {above} above the wall")));
        }
        named.sort_by_key(|(y, _)| *y);
        let x = self.right() + self.gap();
        let mut next = Paper::MIN;
        let mut marks = Vec::new();
        let lowest = self.bottom() + GROUND + BELOW - MM;
        let count = i64::try_from(named.len()).unwrap_or(0);
        for ((y, text), nth) in named.into_iter().zip(0_i64..) {
            // As near to its layer as the words above it and those still to come let it.
            let room = lowest - (count - 1 - nth) * LINE;
            let at = y.max(next).min(room);
            next = at + LINE;
            let edge = self.inside().1 - MM;
            let bend = self.right() + 2 * MM;
            marks.push(Mark::path([(edge, y), (bend, y), (x - MM, at)], Line::Thin));
            marks.push(Mark::words((x, at + MM), text, Anchor::Start));
        }
        marks
    }
}

#[cfg(test)]
#[path = "section_tests.rs"]
mod tests;
