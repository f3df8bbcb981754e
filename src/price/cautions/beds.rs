//! Cautions about how beds are built and used: walls, loads, reach, bottoms, depth of soil.

use super::super::naming::first_three;
use super::{Group, Look, Reason};
use crate::model::bed::{Base, Bed, Shape};
use crate::model::fill::{Depth, Layer, Stuff};
use crate::model::frame::{Laid, Wall};
use crate::model::library::LibraryCrop;
use crate::model::material::Category;
use crate::model::settings::FullAfter;
use crate::takeoff::{LayerTakeOff, TakeOff};
use crate::units::show::grouped;
use crate::units::{Decimal, Length, System};

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    let reasons = walls(look).into_iter().chain([
        footing(look),
        roof(look),
        reach(look),
        knee_room(look),
        shallow(look),
        over_wood(look),
        closed(look),
        wall_water(look),
    ]);
    reasons.flatten().collect()
}

fn walls(look: &Look) -> [Option<Reason>; 2] {
    let (mut tall, mut very_tall) = (Group::default(), Group::default());
    let above = |height: Length, key| look.mark(key).is_some_and(|mark| height.in_inches() > mark);
    for (kind, takeoff) in look.kinds() {
        let height = takeoff.low_side_height.max(takeoff.wall_height);
        let group = if above(height, "wall_engineer") {
            &mut very_tall
        } else if above(height, "wall_height") {
            &mut tall
        } else {
            continue;
        };
        let detail = format!("wall {} high", look.system().depth(height));
        for bed in look.beds(kind) {
            group.add(&bed.name, detail.clone(), Some((bed.at, "Height")));
        }
    }
    [
        tall.reason("wall_height"),
        very_tall.reason("wall_engineer"),
    ]
}

/// Walls of stone in mortar.
fn wall_water(look: &Look) -> Option<Reason> {
    let laid = |wall: &Wall| match wall {
        Wall::Stone(stone) => Some(stone.laid.value),
        _ => None,
    };
    in_mortar(look, laid).reason_of("wall_water", "Stone in mortar at ")
}

/// Walls of blocks in mortar.
fn footing(look: &Look) -> Option<Reason> {
    let laid = |wall: &Wall| match wall {
        Wall::Blocks(blocks) => Some(blocks.laid.value),
        _ => None,
    };
    in_mortar(look, laid).reason_of("footing", "Mortared walls of ")
}

/// The beds whose walls are laid in mortar, of one kind of wall.
fn in_mortar(look: &Look, laid: impl Fn(&Wall) -> Option<Laid>) -> Group {
    let mut group = Group::default();
    for bed in &look.job.beds {
        let frame = look.job.frames.get(bed.frame.index());
        if frame.and_then(|frame| laid(&frame.wall)) == Some(Laid::Mortared) {
            group.add(&bed.name, String::new(), Some((bed.at, "Frame")));
        }
    }
    group
}

fn roof(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        for bed in look.beds(kind).filter(|b| b.base == Base::RoofOrDeck) {
            let mut detail = load(look.system(), takeoff);
            if !takeoff.wall_weight.is_zero() {
                let walls = look.system().weight(takeoff.wall_weight);
                detail = format!("{detail}, and walls of {walls}");
            }
            let unknown = unweighed(look, takeoff);
            if !unknown.is_empty() {
                detail.push_str(" and the unknown weight of ");
                detail.push_str(&first_three(unknown.into_iter()));
            }
            group.add(&bed.name, detail, Some((bed.at, "Base")));
        }
    }
    group.reason_of("roof_load", "On a roof or deck, ")
}

/// The soaked fill on each square foot or metre inside the walls, rounded up.
fn load(system: System, takeoff: &TakeOff) -> String {
    let (weight, area, unit) = match system {
        System::UsCustomary => (
            takeoff.saturated_weight.in_pounds(),
            takeoff.inside_area.in_square_feet(),
            "lb/ft2",
        ),
        System::Metric => (
            takeoff.saturated_weight.in_kilograms(),
            takeoff.inside_area.in_square_metres(),
            "kg/m2",
        ),
    };
    let each = weight.checked_div(area).unwrap_or_default();
    format!("{} {unit} soaked", grouped(each.round_dp(6).ceil(), 0))
}

/// Fill without a wet density, which the soaked weight leaves out, and ready-made beds that do not say
/// what they weigh.
fn unweighed(look: &Look, takeoff: &TakeOff) -> Vec<String> {
    let materials = takeoff.needs.iter().map(|need| need.material);
    let mut names: Vec<String> = materials
        .filter_map(|id| look.job.material(id))
        .filter(|m| {
            (m.category.is_fill() && m.wet.is_none())
                || (m.category == Category::ReadyMade && m.panel.weight.is_none())
        })
        .map(|m| m.name.to_string())
        .collect();
    names.sort();
    names.dedup();
    names
}

fn reach(look: &Look) -> Option<Reason> {
    let mark = Length::inches(look.mark("reach")?);
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        for bed in look.beds(kind) {
            if let Some(across) = across(&bed.shape, takeoff).filter(|across| *across > mark) {
                let detail = format!("{} across", look.system().length(across));
                group.add(&bed.name, detail, Some((bed.at, "Width")));
            }
        }
    }
    group.reason("reach")
}

/// The narrowest way across a bed, as measured; `None` for outlines that have no single one.
fn across(shape: &Shape, takeoff: &TakeOff) -> Option<Length> {
    let two = Decimal::TWO;
    match shape {
        Shape::Rectangle { length, width }
        | Shape::Ellipse { length, width }
        | Shape::RoundEnded { length, width }
        | Shape::Trapezoid { length, width, .. } => Some(*length.min(width)),
        Shape::L {
            length,
            width,
            notch_length,
            notch_width,
        } => {
            let arms = (*length - *notch_length).max(*width - *notch_width);
            Some(arms.min(*length).min(*width))
        }
        Shape::U {
            length,
            width,
            notch_length,
            notch_width,
        } => {
            let arm = (*length - *notch_length).split(two);
            Some(arm.max(*width - *notch_width).min(*width))
        }
        Shape::Circle { diameter } => Some(*diameter),
        // Every side touches one circle; its diameter is four times the area over the outline.
        Shape::Regular { .. } | Shape::Triangle { .. } => {
            let area = takeoff.outside_area.in_square_metres();
            let outline = takeoff.outside_perimeter.in_metres();
            let across = area.saturating_mul(Decimal::from(4)).checked_div(outline)?;
            Some(Length::metres(across))
        }
        Shape::QuarterCircle { .. } | Shape::Keyhole { .. } | Shape::Polygon { .. } => None,
    }
}

fn knee_room(look: &Look) -> Option<Reason> {
    let mark = Length::inches(look.mark("knee_room")?);
    let mut group = Group::default();
    for bed in &look.job.beds {
        if let Some(clear) = bed.underside_clear.filter(|clear| *clear < mark) {
            let detail = format!("{} clear below", look.system().depth(clear));
            group.add(&bed.name, detail, Some((bed.at, "Underside clear")));
        }
    }
    group.reason("knee_room")
}

fn closed(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for bed in look.job.beds.iter().filter(|bed| bed.closed_bottom) {
        group.add(&bed.name, String::new(), Some((bed.at, "Closed bottom")));
    }
    group.reason_of("closed_bottom", "Closed bottom of ")
}

fn shallow(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        for bed in look.beds(kind) {
            let (Some(typed), Some(soil)) = (&bed.crop, soil(look, bed, takeoff)) else {
                continue;
            };
            let Some((crop, known)) = deepest_crop(look, bed, typed) else {
                continue;
            };
            let least = Length::inches(least(bed, crop));
            if soil.depth >= least {
                continue;
            }
            let detail = format!(
                "{} of soil; {}{} ask for {}",
                look.system().depth(soil.depth),
                if known {
                    ""
                } else {
                    "crop not known, taken as: "
                },
                crop.name,
                look.system().depth(least)
            );
            group.add(&bed.name, detail, Some((bed.at, "Crop")));
        }
    }
    group.reason("shallow_soil")
}

fn least(bed: &Bed, crop: &LibraryCrop) -> Decimal {
    if bed.closed_bottom || bed.base != Base::OpenGround {
        crop.closed
    } else {
        crop.open
    }
}

/// The crop of a bed that roots deepest, and whether the library knows any that was typed.
fn deepest_crop<'a>(look: &Look<'a>, bed: &Bed, typed: &str) -> Option<(&'a LibraryCrop, bool)> {
    let library = look.library;
    let known = library.crops_in(typed).into_iter();
    match known.max_by_key(|crop| least(bed, crop)) {
        Some(crop) => Some((crop, true)),
        None => library.crop("Mixed vegetables").map(|crop| (crop, false)),
    }
}

fn over_wood(look: &Look) -> Option<Reason> {
    let least = Length::inches(look.library.typical("clean_soil_over_wood_in"));
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        for bed in look.beds(kind) {
            let Some(soil) = soil(look, bed, takeoff) else {
                continue;
            };
            if soil.over_wood && soil.depth < least {
                let system = look.system();
                let (depth, least) = (system.depth(soil.depth), system.depth(least));
                let detail = format!("{depth} above wood, less than {least}");
                group.add(&bed.name, detail, Some((bed.at, "Fill")));
            }
        }
    }
    group.reason("soil_over_wood")
}

/// What roots find from the top down.
struct Soil {
    /// Soil after the first season, down to wood, gravel or the bottom.
    depth: Length,
    /// Whether wood ends it.
    over_wood: bool,
}

/// The soil of a bed; `None` when it has no fill.
fn soil(look: &Look, bed: &Bed, takeoff: &TakeOff) -> Option<Soil> {
    let fill = look.job.fills.get(bed.fill?.index())?;
    let mut soil = Soil {
        depth: Length::ZERO,
        over_wood: false,
    };
    let layers: Vec<(&Layer, &LayerTakeOff)> = fill.layers.iter().zip(&takeoff.layers).collect();
    for (layer, done) in layers.into_iter().rev() {
        if matches!(layer.depth, Depth::Sheets(_)) {
            continue;
        }
        match category(look, layer) {
            Some(Category::Soil | Category::Compost | Category::Medium) => {
                soil.depth += after_season(look, takeoff, done);
            }
            Some(Category::Wood) => {
                soil.over_wood = true;
                break;
            }
            Some(Category::Aggregate) => break,
            // Leaves, straw and mulch rot away: no depth, but no bar to roots either.
            _ => {}
        }
    }
    Some(soil)
}

/// A layer's depth when the first season is over.
fn after_season(look: &Look, takeoff: &TakeOff, layer: &LayerTakeOff) -> Length {
    if look.job.settings.full_after.value == FullAfter::FirstSeason {
        return layer.depth;
    }
    let loss = layer.season_loss.in_cubic_metres();
    let sinks = loss.checked_div(takeoff.inside_area.in_square_metres());
    layer.depth - Length::metres(sinks.unwrap_or_default())
}

/// The category of a layer; a mix is what most of it is.
fn category(look: &Look, layer: &Layer) -> Option<Category> {
    match layer.stuff {
        Stuff::Material(id) => look.job.material(id).map(|m| m.category),
        Stuff::Mix(id) => {
            let mix = look.job.mixes.get(id.index())?;
            let (most, _) = mix.parts.iter().max_by_key(|(_, parts)| *parts)?;
            look.job.material(*most).map(|m| m.category)
        }
    }
}
