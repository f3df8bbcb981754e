//! Walls of blocks: courses in running bond, their base, cells, bars, mortar, adhesive and caps.
//!
//! A course rises by the true height of the block, and by a joint when it is laid in mortar: three dry courses
//! of 8x8x16 are 22 7/8 in, in mortar 24 in. On falling ground the rim is level and the base steps down by
//! whole courses. A rectangle gets each extra course on its low end whole and along its sides from where the
//! ground has fallen so far; any other outline gets it all round.

mod bond;
mod inside;
mod ring;
mod steps;

use rust_decimal::Decimal;

use self::bond::{Bond, Course, Unit};
use self::inside::Caps;
use super::{cannot, caps, wall_base};
use crate::model::bed::{Along, Base, Measured};
use crate::model::block::{BlockMake, BlockSize};
use crate::model::frame::{BlockWall, Frame, Laid};
use crate::model::labour::Driver;
use crate::model::material::{MaterialId, Section};
use crate::problem::Problem;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::takeoff::faces::{Faces, eaten};
use crate::takeoff::geometry::{Figure, Run};
use crate::takeoff::heights::Heights;
use crate::takeoff::shared::Shared;
use crate::takeoff::sticks::Sticks;
use crate::takeoff::trace::Trace;
use crate::units::{Amount, Length, round};

/// A frame of blocks with all that its courses follow from.
pub(super) struct Stack<'a> {
    frame: &'a Frame,
    wall: &'a BlockWall,
    size: &'a BlockSize,
    unit: Unit,
}

/// What stands when all courses are laid.
#[derive(Clone, Copy, Debug, Default)]
struct Stood {
    /// One course all round.
    course: Course,
    /// All courses, buried ones and those of the low side too.
    all: Course,
    /// Courses all round.
    courses: u32,
    /// Courses where the ground is lowest.
    most_courses: u32,
    /// Whether it turns a corner where courses can overlap.
    turns: bool,
}

impl<'a> Stack<'a> {
    pub(super) fn of(frame: &'a Frame, wall: &'a BlockWall, size: &'a BlockSize) -> Self {
        Self {
            frame,
            wall,
            size,
            unit: Unit::of(size, wall),
        }
    }

    /// How much higher each course makes the wall.
    fn rise(&self) -> Length {
        self.size.height + self.unit.joint
    }

    /// Its courses as courses of boards are reckoned, for the heights of the wall.
    pub(super) fn as_section(&self) -> Section {
        Section {
            nominal: self.size.nominal.clone(),
            nominal_face: self.size.nominal_height,
            thickness: self.size.depth,
            face: self.rise(),
        }
    }
}

/// Everything that stands, lies and is poured in a wall of blocks.
pub(super) fn build(
    bill: &mut Bill<'_>,
    stack: &Stack<'_>,
    faces: &Faces,
    heights: &Heights,
    sticks: &Sticks,
    trace: &mut impl Trace,
) {
    let courses = heights.courses.saturating_add(stack.wall.buried.value);
    let Some(bond) = bond_of(bill, stack, faces, courses) else {
        return;
    };
    let below = below(bill, stack, &faces.outside, heights, &bond);
    let stood = Stood {
        course: bond.over(1),
        all: bond.over(courses).and(below),
        courses,
        most_courses: heights
            .low_courses
            .max(heights.courses)
            .saturating_add(stack.wall.buried.value),
        turns: runs_of(&faces.outside).any(|run| bond::is_square(run.start)),
    };
    show(&bond, &stood, below, trace);
    tell_unbedded(bill, stack);
    let base = stack.wall.base.as_ref();
    let buried = stack.rise().times(Decimal::from(stack.wall.buried.value));
    let trench = wall_base::dig(bill, base, buried, faces, trace);
    lay(bill, stack, &stood);
    tell_cut(bill, stack, &faces.outside, &stood);
    inside::cores(bill, stack, &stood);
    inside::bars(bill, stack, &stood, faces, sticks);
    let caps = cap(bill, stack, &faces.outside);
    inside::mortar(bill, stack, &stood, &caps);
    inside::adhesive(bill, stack, &stood, &caps);
    steps::note(bill, stack, &stood, trench, &caps);
}

/// Says that a wall on open ground has no base.
fn tell_unbedded(bill: &mut Bill<'_>, stack: &Stack<'_>) {
    if stack.wall.base.is_none() && bill.bed.base == Base::OpenGround {
        let words = format!(
            "frame {} has no base material: its first course is bedded on the ground as it is",
            stack.frame.name
        );
        bill.tell_frame(stack.frame, Problem::notice(words), "Base material");
    }
}

/// The straight runs of an outline; none of a curve.
fn runs_of(figure: &Figure) -> impl Iterator<Item = Run> {
    figure.runs().into_iter().flatten()
}

/// The bond of all runs, or of the ring; `None` after a problem was told.
fn bond_of(bill: &mut Bill<'_>, stack: &Stack<'_>, faces: &Faces, courses: u32) -> Option<Bond> {
    if let Figure::Curved(curved) = &faces.outside {
        return ring::bond(bill, stack, faces, *curved);
    }
    let runs = faces.outside.runs()?;
    let found = bond::bond(&stack.unit, &runs, courses);
    if found.is_none() {
        bill.tell_frame(stack.frame, eaten(), "Material");
    }
    if runs.iter().any(|run| !bond::is_square(run.start)) {
        let words = "where walls of blocks meet at another angle than a right one, both are cut and no course laps the corner: tie it, as with bars in filled cells";
        bill.tell(Problem::caution(words), "Shape");
    }
    found.map(|bond| bond.without(&bill.shared, &stack.unit))
}

/// The extra courses of the low side.
fn below(
    bill: &Bill<'_>,
    stack: &Stack<'_>,
    figure: &Figure,
    heights: &Heights,
    bond: &Bond,
) -> Course {
    let extra = heights.low_courses.saturating_sub(heights.courses);
    let (Some(slope), Figure::Rectangle { length, width }) = (bill.bed.slope, figure) else {
        return bond.over(extra);
    };
    let (low, side, sides) = match slope.along {
        Along::Length => (1, *length, [0, 2]),
        Along::Width => (2, *width, [1, 3]),
    };
    let own = sides.into_iter().filter(|run| !bill.shared.is_whole(*run));
    let own = u32::try_from(own.count()).unwrap_or(2);
    let mut all = Course::default();
    for course in 0..extra {
        let runs = if course % 2 == 0 {
            &bond.second
        } else {
            &bond.first
        };
        let end = runs.get(low).copied().unwrap_or_default();
        // The ground has fallen by so many courses after this length of a side.
        let fallen = stack.rise().times(Decimal::from(course)).split(slope.fall);
        let blocks = round::whole_up((side - fallen).ratio(stack.unit.module()));
        let along = Course {
            whole: u32::try_from(blocks.max(Decimal::ZERO)).unwrap_or(u32::MAX),
            ..Course::default()
        };
        all = all.and(end).and(along.times(own));
    }
    all
}

fn show(bond: &Bond, stood: &Stood, below: Course, trace: &mut impl Trace) {
    let parts = |all: &[Course]| {
        let sides = all.iter().map(|c| c.units().to_string());
        sides.collect::<Vec<_>>().join(" + ")
    };
    trace.step(
        "blocks laid",
        || {
            let (odd, even) = (stood.courses.div_ceil(2), stood.courses / 2);
            let mut words = format!("{odd} x ({})", parts(&bond.first));
            if even > 0 {
                words = format!("{words} + {even} x ({})", parts(&bond.second));
            }
            if below.units() > 0 {
                words = format!("{words} + {} below on the low side", below.units());
            }
            words
        },
        || stood.all.units().to_string(),
    );
}

/// Blocks and halves to buy, and the work of laying and cutting them.
fn lay(bill: &mut Bill<'_>, stack: &Stack<'_>, stood: &Stood) {
    let bought = if stack.wall.half.is_some() {
        stood.all
    } else {
        stood.all.without_halves()
    };
    count(
        bill,
        stack.wall.block,
        Part::Block,
        bought.whole.saturating_add(bought.cut),
    );
    if let Some(half) = stack.wall.half {
        count(bill, half, Part::HalfBlock, bought.half);
    }
    bill.work(Driver::BlockCut, Decimal::from(bought.saw));
    let first = stood.course.units();
    bill.work(Driver::BlockBase, Decimal::from(first));
    let others = stood.all.units().saturating_sub(first);
    let driver = match (stack.size.make, stack.wall.laid.value) {
        (BlockMake::Segmental, _) => Driver::BlockSegmental,
        (_, Laid::Dry) => Driver::BlockDry,
        (_, Laid::Mortared) => Driver::BlockMortared,
    };
    bill.work(driver, Decimal::from(others));
    if let Some(weight) = stack.size.weight {
        bill.weighs(weight.times(stood.all.bulk()));
    }
}

/// So many pieces, with what breaks.
fn count(bill: &mut Bill<'_>, material: MaterialId, part: Part, number: u32) {
    let net = Amount::Count(Decimal::from(number));
    bill.need(material, part, net, net.times(bill.with_waste(material)));
}

/// Says how many blocks are cut, and the nearest size of a rectangle for which none is.
fn tell_cut(bill: &mut Bill<'_>, stack: &Stack<'_>, figure: &Figure, stood: &Stood) {
    if stood.all.cut == 0 {
        return;
    }
    let blocks = if stood.all.cut == 1 {
        "block is"
    } else {
        "blocks are"
    };
    let mut words = format!("{} {blocks} cut for the walls", stood.all.cut);
    if let Some((length, width)) = uncut(stack, figure, stood.courses) {
        let inside = stack.unit.depth.times(Decimal::TWO);
        let (less, face) = match bill.bed.measured {
            Measured::Outside => (Length::ZERO, "outside"),
            Measured::Inside => (inside, "inside"),
        };
        let (l, w) = (
            bill.units.length(length - less),
            bill.units.length(width - less),
        );
        words = format!("{words}; make it {l} x {w} {face}, and no block is cut");
    }
    bill.tell(Problem::notice(words), "Length");
}

/// The size nearest to a rectangle that comes out in whole blocks and halves.
fn uncut(stack: &Stack<'_>, figure: &Figure, courses: u32) -> Option<(Length, Length)> {
    let Figure::Rectangle { length, width } = figure else {
        return None;
    };
    let mut sizes: Vec<(Length, Length)> = Vec::new();
    for l in stack.unit.near(*length) {
        sizes.extend(stack.unit.near(*width).into_iter().map(|w| (l, w)));
    }
    let off = |(l, w): &(Length, Length)| {
        let apart = |a: Length, b: Length| (a - b).in_metres().abs();
        apart(*l, *length).saturating_add(apart(*w, *width))
    };
    sizes.sort_by_key(off);
    sizes.into_iter().find(|(length, width)| {
        let (length, width) = (*length, *width);
        let runs = Figure::Rectangle { length, width }.runs();
        let bond = runs.and_then(|runs| bond::bond(&stack.unit, &runs, courses));
        bond.is_some_and(|bond| bond.over(2).cut == 0)
    })
}

/// Cap units flat on the rim, flush with the outside face: one course of their own bond.
fn cap(bill: &mut Bill<'_>, stack: &Stack<'_>, figure: &Figure) -> Caps {
    let none = Caps::default();
    let Some(id) = stack.wall.cap else {
        return none;
    };
    let Some(size) = bill.material(id).and_then(|m| m.block.as_ref()) else {
        return none;
    };
    let (size, width) = (&size.value, size.value.depth.max(size.value.height));
    if !caps::fits(bill, stack.frame, figure, width) {
        return none;
    }
    let unit = Unit::flat(size, width, stack.wall);
    let Some(laid) = rim(&unit, size.make, figure, &bill.shared) else {
        let why = "a run of the rim is shorter than any cap";
        cannot(bill, stack.frame, why, super::ROUND);
        return none;
    };
    let units = laid.without_halves();
    count(bill, id, Part::Cap, units.whole.saturating_add(units.cut));
    bill.work(Driver::BlockCap, Decimal::from(laid.units()));
    bill.work(Driver::BlockCut, Decimal::from(units.saw));
    if let Some(weight) = size.weight {
        bill.weighs(weight.times(laid.bulk()));
    }
    Caps {
        units: laid,
        length: figure.perimeter() - bill.shared.total(),
        width,
        joint: size.joint,
    }
}

/// One course of caps; on a curve straight ones are cut to a wedge at both ends.
fn rim(unit: &Unit, make: BlockMake, figure: &Figure, shared: &Shared) -> Option<Course> {
    let Some(runs) = figure.runs() else {
        let count = round::whole_up(figure.perimeter().ratio(unit.module()));
        let count = u32::try_from(count).ok()?;
        return Some(match make {
            BlockMake::Segmental => Course {
                whole: count,
                ..Course::default()
            },
            BlockMake::Hollow | BlockMake::Solid => Course {
                cut: count,
                saw: count.saturating_mul(2),
                ..Course::default()
            },
        });
    };
    let bond = bond::bond(unit, &runs, 1)?;
    Some(bond.without(shared, unit).over(1))
}
