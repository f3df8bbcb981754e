//! How deep each layer of a fill is in one bed, and what volume it takes there.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::bill::Bill;
use super::room::Room;
use super::trace::Trace;
use crate::model::fill::{Depth, Fill, Layer, Stuff};
use crate::model::material::{Category, Material, MaterialId};
use crate::problem::Problem;
use crate::units::{Length, Volume};

/// A material of a layer and its share of the layer's volume.
#[derive(Clone, Copy)]
pub(super) struct Share<'a> {
    pub(super) id: MaterialId,
    pub(super) material: &'a Material,
    pub(super) of_whole: Decimal,
}

/// One layer in one bed.
pub(super) struct Placed<'a> {
    /// The row.
    pub(super) layer: &'a Layer,
    /// Its place from the bottom, from 0.
    pub(super) index: u16,
    /// Name of its material or mix.
    pub(super) name: Arc<str>,
    /// Whether it is blended on site.
    pub(super) mixed: bool,
    /// What it is made of; shares sum to one.
    pub(super) shares: Vec<Share<'a>>,
    /// How deep it is; zero for sheets.
    pub(super) depth: Length,
    /// How many sheets; zero for other layers.
    pub(super) sheets: u32,
    /// What it takes in the bed.
    pub(super) volume: Volume,
    /// What runs from it into the voids of wood below.
    pub(super) infill: Volume,
}

impl Placed<'_> {
    /// The category of a layer of one material; a mix counts as soil.
    pub(super) fn category(&self) -> Category {
        match self.shares.as_slice() {
            [one] if !self.mixed => one.material.category,
            _ => Category::Soil,
        }
    }

    /// A figure of its materials, weighted by volume.
    pub(super) fn weighted(&self, figure: impl Fn(&Material) -> Decimal) -> Decimal {
        self.shares.iter().fold(Decimal::ZERO, |sum, s| {
            sum.saturating_add(s.of_whole.saturating_mul(figure(s.material)))
        })
    }

    /// Whether plants root in it: the layer that a top-up and amendments go to.
    pub(super) fn is_soil(&self) -> bool {
        let soil = matches!(
            self.category(),
            Category::Soil | Category::Compost | Category::Medium
        );
        self.sheets == 0 && soil
    }
}

/// Tells about a cell of a layer's row, or of the bed when the fill is the library's.
pub(super) fn tell(bill: &mut Bill<'_>, layer: &Layer, problem: Problem, field: &'static str) {
    bill.problems.push(match layer.at {
        Some(row) => problem.at(row, field),
        None => problem.at(bill.bed.at, "Fill"),
    });
}

/// The layers of a fill in a room, bottom first; `None` after an error was told.
pub(super) fn place<'a>(
    bill: &mut Bill<'a>,
    fill: &'a Fill,
    room: &Room,
    trace: &mut impl Trace,
) -> Option<Vec<Placed<'a>>> {
    let mut stuffs = Vec::with_capacity(fill.layers.len());
    for layer in &fill.layers {
        stuffs.push(stuff(bill, layer)?);
    }
    let depths = depths(bill, fill, room.height())?;
    let mut placed: Vec<Placed<'a>> = Vec::with_capacity(stuffs.len());
    let mut level = Length::ZERO;
    for (i, (mut one, depth)) in stuffs.into_iter().zip(depths).enumerate() {
        one.index = u16::try_from(i).unwrap_or(u16::MAX);
        one.depth = depth;
        one.volume = room.volume(level, level + depth);
        one.infill = infill(&one, placed.last());
        level += depth;
        show(bill, &one, room, placed.last(), trace);
        placed.push(one);
    }
    Some(placed)
}

/// Depth of each layer: fixed ones and shares first, then what is left is parted among the rests.
fn depths(bill: &mut Bill<'_>, fill: &Fill, height: Length) -> Option<Vec<Length>> {
    let mut sum = Length::ZERO;
    let mut rests = 0_u32;
    for layer in &fill.layers {
        match layer.depth {
            Depth::Rest => rests = rests.saturating_add(1),
            other => sum += own_depth(other, height),
        }
        if (sum - height).in_metres().round_dp(9) > Decimal::ZERO {
            tell_too_deep(bill, fill, layer, sum, height);
            return None;
        }
    }
    let left = height - sum;
    if rests > 0 && left.in_metres().round_dp(9) <= Decimal::ZERO {
        tell_no_rest(bill, fill, height);
        return None;
    }
    if rests == 0 && left.in_metres().round_dp(9) > Decimal::ZERO {
        tell_not_full(bill, fill, sum, height);
    }
    let rest = left.split(Decimal::from(rests));
    let depth = |layer: &Layer| match layer.depth {
        Depth::Rest => rest,
        other => own_depth(other, height),
    };
    Some(fill.layers.iter().map(depth).collect())
}

fn own_depth(depth: Depth, height: Length) -> Length {
    match depth {
        Depth::Fixed(length) => length,
        Depth::Share(share) => height.times(share),
        Depth::Rest | Depth::Sheets(_) => Length::ZERO,
    }
}

fn tell_too_deep(bill: &mut Bill<'_>, fill: &Fill, layer: &Layer, sum: Length, height: Length) {
    let units = bill.units;
    let words = format!(
        "the layers of fill {} up to this one are {} deep, and bed {} is filled {} high",
        fill.name,
        units.depth(sum),
        bill.bed.name,
        units.depth(height)
    );
    let problem = Problem::error(words).hint("make layers thinner, write rest, or raise the wall");
    tell(bill, layer, problem, "Depth");
}

fn tell_no_rest(bill: &mut Bill<'_>, fill: &Fill, height: Length) {
    let words = format!(
        "the other layers of fill {} take all {} of bed {}, so nothing is left for the rest",
        fill.name,
        bill.units.depth(height),
        bill.bed.name
    );
    let problem = Problem::error(words).hint("make another layer thinner, or raise the wall");
    if let Some(layer) = fill.layers.iter().find(|l| l.depth == Depth::Rest) {
        tell(bill, layer, problem, "Depth");
    }
}

fn tell_not_full(bill: &mut Bill<'_>, fill: &Fill, sum: Length, height: Length) {
    let units = bill.units;
    let words = format!(
        "the layers of fill {} are {} deep, so bed {} stays {} below the height to fill",
        fill.name,
        units.depth(sum),
        bill.bed.name,
        units.depth(height - sum)
    );
    if let Some(layer) = fill.layers.last() {
        let problem = Problem::notice(words).hint("write rest for a layer that fills the bed up");
        tell(bill, layer, problem, "Depth");
    }
}

/// A layer without its depth: what it is made of, checked.
fn stuff<'a>(bill: &mut Bill<'a>, layer: &'a Layer) -> Option<Placed<'a>> {
    let (name, mixed, shares) = match layer.stuff {
        Stuff::Material(id) => {
            let material = bill.material(id)?;
            let only = Share {
                id,
                material,
                of_whole: Decimal::ONE,
            };
            (material.name.clone(), false, vec![only])
        }
        Stuff::Mix(id) => {
            let Some(mix) = bill.job.mixes.get(id.index()) else {
                tell(
                    bill,
                    layer,
                    Problem::bug("the mix is not known"),
                    "Material",
                );
                return None;
            };
            (mix.name.clone(), true, mix_shares(bill, layer, &mix.parts)?)
        }
    };
    let sheets = match layer.depth {
        Depth::Sheets(n) => n,
        _ => 0,
    };
    let placed = Placed {
        layer,
        index: 0,
        name,
        mixed,
        shares,
        depth: Length::ZERO,
        sheets,
        volume: Volume::ZERO,
        infill: Volume::ZERO,
    };
    fits(bill, &placed).then_some(placed)
}

fn mix_shares<'a>(
    bill: &mut Bill<'a>,
    layer: &Layer,
    parts: &[(MaterialId, Decimal)],
) -> Option<Vec<Share<'a>>> {
    let sum = |sum: Decimal, part: &(MaterialId, Decimal)| sum.saturating_add(part.1);
    let whole = parts.iter().fold(Decimal::ZERO, sum);
    let mut shares = Vec::with_capacity(parts.len());
    for (id, part) in parts {
        let material = bill.material(*id)?;
        let Some(share) = part.checked_div(whole).filter(|s| *s > Decimal::ZERO) else {
            let words = "every part of a mix must be greater than zero";
            tell(bill, layer, Problem::error(words), "Material");
            return None;
        };
        shares.push(Share {
            id: *id,
            material,
            of_whole: share,
        });
    }
    if shares.is_empty() {
        tell(
            bill,
            layer,
            Problem::error("this mix has no parts"),
            "Material",
        );
        return None;
    }
    Some(shares)
}

/// Whether a layer can be placed as its depth says: sheets by number, loose goods by depth.
fn fits(bill: &mut Bill<'_>, placed: &Placed<'_>) -> bool {
    let by_number = matches!(placed.layer.depth, Depth::Sheets(_));
    let sheet = placed.category() == Category::Sheet;
    let problem = match (by_number, sheet) {
        (true, true) => None,
        (true, false) => Some(format!("{} is loose and needs a depth", placed.name)),
        (false, true) => Some(format!(
            "{} comes in sheets and needs their number",
            placed.name
        )),
        (false, false) => not_fill(placed),
    };
    let hint = if by_number {
        "write a length, a %, or rest"
    } else {
        "write 2 sheets"
    };
    match problem {
        Some(words) => {
            tell(
                bill,
                placed.layer,
                Problem::error(words).hint(hint),
                "Depth",
            );
            false
        }
        None => settles_in_reason(bill, placed),
    }
}

fn not_fill(placed: &Placed<'_>) -> Option<String> {
    let wrong = placed.shares.iter().find(|s| {
        let category = s.material.category;
        !category.is_fill() && category != Category::Other
    })?;
    Some(format!(
        "{} is {}, which is not placed as a layer",
        wrong.material.name,
        wrong.material.category.word()
    ))
}

/// A material that would settle to nothing cannot be ordered in any amount.
fn settles_in_reason(bill: &mut Bill<'_>, placed: &Placed<'_>) -> bool {
    for share in &placed.shares {
        let material = share.material;
        for (loss, what) in [
            (&material.wet_down, "when wetted down"),
            (&material.first_season, "in the first season"),
        ] {
            if loss.value < Decimal::ZERO || loss.value >= Decimal::ONE {
                let words = format!(
                    "{} cannot lose {}% {what}",
                    material.name,
                    loss.value.saturating_mul(Decimal::ONE_HUNDRED).normalize()
                );
                let problem = Problem::error(words).hint("write from 0% to less than 100%");
                bill.tell_from(&loss.from, problem, "Fill");
                return false;
            }
        }
    }
    true
}

/// What the layer above wood loses into it: wood volume x void x infill share.
///
/// Only loose goods run, and only into the layer directly below; a sheet between keeps them out.
fn infill(layer: &Placed<'_>, below: Option<&Placed<'_>>) -> Volume {
    let runs = layer.sheets == 0 && layer.category() != Category::Wood;
    match below {
        Some(wood) if runs && wood.category() == Category::Wood => {
            let share = wood.weighted(|m| m.void.value.saturating_mul(m.infill.value));
            wood.volume.times(share)
        }
        _ => Volume::ZERO,
    }
}

fn show(
    bill: &Bill<'_>,
    one: &Placed<'_>,
    room: &Room,
    below: Option<&Placed<'_>>,
    trace: &mut impl Trace,
) {
    if one.sheets > 0 {
        return;
    }
    let units = bill.units;
    trace.step(
        "layer volume",
        || {
            let (area, depth) = (units.area(room.area()), units.depth(one.depth));
            match room {
                Room::Walled { .. } => format!("{}: {area} x {depth}", one.name),
                Room::Mound { .. } => {
                    format!("{}: {depth} within the slopes of the mound", one.name)
                }
            }
        },
        || units.volume(one.volume),
    );
    if !one.infill.is_zero() {
        let wood = below.map_or_else(String::new, |wood| {
            let percent = |f: fn(&Material) -> Decimal| {
                let share = wood.weighted(f).saturating_mul(Decimal::ONE_HUNDRED);
                format!("{}%", share.round_dp(1).normalize())
            };
            let (void, share) = (percent(|m| m.void.value), percent(|m| m.infill.value));
            format!(
                "{} x {void} void x {share} of it",
                units.volume(wood.volume)
            )
        });
        trace.step(
            "infill",
            || format!("{} into the wood below: {wood}", one.name),
            || units.volume(one.infill),
        );
    }
}
