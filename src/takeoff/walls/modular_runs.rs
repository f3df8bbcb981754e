//! How many modules go round a bed.

use rust_decimal::Decimal;

use super::modular::nearest;
use super::{ROUND, cannot};
use crate::model::frame::{Frame, FrameKind, ModularWall};
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::takeoff::angle::PI;
use crate::takeoff::bill::Bill;
use crate::takeoff::curved::Curved;
use crate::takeoff::faces::size_field;
use crate::takeoff::geometry::{Figure, Run};
use crate::units::{Length, round};

/// What does not come out by less than this is taken up by the play of the bolts: 1/8 in a run.
const PLAY: Length = Length::metres(Decimal::from_parts(3175, 0, 0, false, 6));
/// How far an arc may be from whole modules, which bend a little: 2%.
const BEND: Decimal = Decimal::from_parts(2, 0, 0, false, 2);

/// One tier of a bed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Ring {
    /// Straight modules.
    pub(super) straight: Decimal,
    /// Curved modules.
    pub(super) curved: Decimal,
    /// Of which material those are.
    pub(super) curve: MaterialId,
    /// Corner pieces.
    pub(super) corners: Decimal,
    /// Modules of each straight run, in the order of the runs.
    pub(super) of_runs: Vec<Decimal>,
}

impl Ring {
    /// Leaves out the whole modules of walls that a neighbour bears; returns at how many stretches the ring is
    /// opened, which are bolted to the neighbour at one end more than pieces in a ring.
    pub(super) fn leave(&mut self, bill: &mut Bill<'_>, module: MaterialId) -> Decimal {
        let length = bill.material(module).and_then(|m| m.panel.length.as_ref());
        let Some(length) = length.map(|known| known.value) else {
            return Decimal::ZERO;
        };
        let mut opened = Decimal::ZERO;
        for (i, number) in self.of_runs.iter_mut().enumerate() {
            let left = if bill.shared.is_whole(i) {
                *number
            } else {
                bill.shared.length(i).ratio(length).floor().min(*number)
            };
            if left > Decimal::ZERO {
                *number = number.saturating_sub(left);
                self.straight = self.straight.saturating_sub(left);
                opened = opened.saturating_add(Decimal::ONE);
            }
        }
        opened
    }

    /// All pieces.
    pub(super) fn pieces(&self) -> Decimal {
        let modules = self.straight.saturating_add(self.curved);
        modules.saturating_add(self.corners)
    }
}

/// The modules round an outline; `None` after a problem was told.
pub(super) fn ring(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &ModularWall),
    figure: &Figure,
) -> Option<Ring> {
    match (figure.runs(), figure) {
        (Some(runs), _) => straight(bill, (frame, wall), figure, &runs),
        (None, Figure::Curved(Curved::Circle { radius })) => {
            curved(bill, (frame, wall), *radius, Length::ZERO)
        }
        (None, Figure::Curved(Curved::RoundEnded { straight, radius })) => {
            curved(bill, (frame, wall), *radius, *straight)
        }
        _ => {
            let others = [FrameKind::ReadyMade, FrameKind::None];
            let why = "curved modules make circles and half-round ends only";
            cannot(bill, frame, why, &others);
            None
        }
    }
}

fn straight(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &ModularWall),
    figure: &Figure,
    runs: &[Run],
) -> Option<Ring> {
    let module = length_of(bill, frame, wall.module, "Material")?;
    let corner = wall.corner.and_then(|corner| bill.material(corner));
    let leg = corner
        .and_then(|m| m.panel.length.as_ref())
        .map_or(Length::ZERO, |known| known.value);
    tell_turns(bill, (frame, wall), runs);
    let mut of_runs = Vec::with_capacity(runs.len());
    let mut is_whole = true;
    for (i, run) in runs.iter().enumerate() {
        let legs = leg.times(Decimal::TWO);
        let Some(number) = whole(run.length - legs, module) else {
            is_whole = false;
            tell_length(bill, wall, figure, (i, run.length), (module, legs));
            continue;
        };
        of_runs.push(number);
    }
    is_whole.then(|| Ring {
        straight: of_runs
            .iter()
            .copied()
            .fold(Decimal::ZERO, Decimal::saturating_add),
        curved: Decimal::ZERO,
        curve: wall.module,
        corners: match wall.corner {
            Some(_) => Decimal::from(runs.len()),
            None => Decimal::ZERO,
        },
        of_runs,
    })
}

/// Whole modules in a length; `None` when it does not come out.
fn whole(length: Length, module: Length) -> Option<Decimal> {
    let number = round::half_away(length.ratio(module), 0);
    let off = length - module.times(number);
    let is_near = off <= PLAY && Length::ZERO - off <= PLAY;
    (is_near && number >= Decimal::ONE).then_some(number)
}

/// A run that is no whole number of modules, once for each column and length.
fn tell_length(
    bill: &mut Bill<'_>,
    wall: &ModularWall,
    figure: &Figure,
    (run, length): (usize, Length),
    (module, legs): (Length, Length),
) {
    let field = match figure {
        Figure::Rectangle { .. } if run.is_multiple_of(2) => "Length",
        Figure::Rectangle { .. } => "Width",
        _ => size_field(&bill.bed.shape),
    };
    let units = bill.units;
    let pieces = match wall.corner.map(|corner| bill.job.material_name(corner)) {
        Some(name) if legs > Length::ZERO => {
            format!(" between the corner pieces of {name}")
        }
        _ => String::new(),
    };
    let words = format!(
        "a wall of {} is no whole number of modules of {}, which are {} long{pieces}",
        units.length(length),
        bill.job.material_name(wall.module),
        units.length(module)
    );
    let below = (length - legs).ratio(module).floor();
    let lengths = nearest(bill, below, |n| module.times(n) + legs);
    let problem = Problem::error(words).hint(format!("make this side {lengths}, measured outside"));
    if !bill.problems.iter().any(|p| p.sentence == problem.sentence) {
        bill.tell(problem, field);
    }
}

/// Corner pieces are made for one angle: another one than the right one is to be ordered as such.
fn tell_turns(bill: &mut Bill<'_>, (frame, wall): (&Frame, &ModularWall), runs: &[Run]) {
    let Some(corner) = wall.corner else {
        return;
    };
    let is_square = |run: &&Run| (run.start.mitre - Decimal::ONE).abs() < Decimal::new(1, 6);
    let odd = runs.iter().filter(|run| !is_square(run)).count();
    if odd > 0 {
        let words = format!(
            "{odd} of the {} corners are no right angles: order the corner pieces of {} for their angles",
            runs.len(),
            bill.job.material_name(corner)
        );
        bill.tell_frame(frame, Problem::caution(words), "Corner piece");
    }
}

/// A circle, or half-round ends with `straight` sides between them.
fn curved(
    bill: &mut Bill<'_>,
    (frame, wall): (&Frame, &ModularWall),
    radius: Length,
    straight: Length,
) -> Option<Ring> {
    let id = wall.curved.unwrap_or(wall.module);
    let material = bill.material(id)?;
    let Some(bends) = material.panel.radius.as_ref().map(|known| known.value) else {
        let why = format!(
            "nothing says that modules of {} are curved (Bend radius in Materials)",
            material.name
        );
        let others: Vec<FrameKind> = ROUND
            .iter()
            .copied()
            .filter(|kind| *kind != FrameKind::Modular)
            .collect();
        cannot(bill, frame, &why, &others);
        return None;
    };
    if off_by(bends, radius) > BEND {
        let across = |r: Length| bill.units.length(r.times(Decimal::TWO));
        let words = format!(
            "curved modules of {} make a wall {} across, and this one is {} across",
            material.name,
            across(bends),
            across(radius)
        );
        let hint = format!("make it {} across, measured outside", across(bends));
        let field = size_field(&bill.bed.shape);
        bill.tell(Problem::error(words).hint(hint), field);
        return None;
    }
    let field = if wall.curved.is_some() {
        "Curved module"
    } else {
        "Material"
    };
    let arc_module = length_of(bill, frame, id, field)?;
    let half = arcs(bill, frame, radius, arc_module, straight.is_zero())?;
    let sides = if straight.is_zero() {
        Decimal::ZERO
    } else {
        let module = length_of(bill, frame, wall.module, "Material")?;
        let Some(number) = whole(straight, module) else {
            let both = radius.times(Decimal::TWO);
            tell_straight(bill, wall, (straight, module), both);
            return None;
        };
        number
    };
    Some(Ring {
        straight: sides.saturating_mul(Decimal::TWO),
        curved: half,
        curve: id,
        corners: Decimal::ZERO,
        of_runs: if straight.is_zero() {
            Vec::new()
        } else {
            vec![sides; 2]
        },
    })
}

/// Curved modules of a circle: together, or of two half circles that each take whole ones.
fn arcs(
    bill: &mut Bill<'_>,
    frame: &Frame,
    radius: Length,
    module: Length,
    is_circle: bool,
) -> Option<Decimal> {
    let times = if is_circle {
        Decimal::ONE
    } else {
        Decimal::TWO
    };
    let arc = radius.times(PI).times(Decimal::TWO).split(times);
    let number = round::half_away(arc.ratio(module), 0);
    if number < Decimal::ONE || off_by(module.times(number), arc) > BEND {
        let words = format!(
            "an arc of {} is no whole number of curved modules, which are {} long",
            bill.units.length(arc),
            bill.units.length(module)
        );
        let hint = "give the length that one curved module makes as its Panel length in Materials";
        bill.tell_frame(frame, Problem::error(words).hint(hint), "Material");
        return None;
    }
    Some(number.saturating_mul(times))
}

fn off_by(one: Length, other: Length) -> Decimal {
    (one - other).ratio(other).abs()
}

fn tell_straight(
    bill: &mut Bill<'_>,
    wall: &ModularWall,
    (straight, module): (Length, Length),
    ends: Length,
) {
    let words = format!(
        "the straight sides of {} are no whole number of modules of {}, which are {} long",
        bill.units.length(straight),
        bill.job.material_name(wall.module),
        bill.units.length(module)
    );
    let below = straight.ratio(module).floor();
    let lengths = nearest(bill, below, |n| module.times(n) + ends);
    let problem = Problem::error(words).hint(format!("make the bed {lengths} long outside"));
    bill.tell(problem, "Length");
}

/// Length of wall that a module makes; told when nothing says it.
fn length_of(
    bill: &mut Bill<'_>,
    frame: &Frame,
    id: MaterialId,
    field: &'static str,
) -> Option<Length> {
    let material = bill.material(id)?;
    let length = material.panel.length.as_ref().map(|known| known.value);
    if length.is_none() {
        let words = format!("nothing says how long a module of {} is", material.name);
        let problem = Problem::error(words).hint("give its Panel length in Materials, as 2 ft");
        bill.tell_frame(frame, problem, field);
    }
    length
}
