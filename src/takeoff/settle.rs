//! What is ordered so that the bed is full when it shall be full, and what the first season takes.
//!
//! For each material of a layer, with V its volume in the bed:
//!
//! ```text
//! order = (V + infill) / ((1 - wet-down) (1 - first season)) x (1 + waste)
//! ```
//!
//! where the first season counts only when the bed shall be full after it. Fill is wetted as it is
//! placed, so the filling day ends at the wetted height: what would then stand above rim and crown
//! is left out of the order, from the top down, and moves to the top-up. Measured dry instead, no bed
//! without a crown could ever be full once it is wetted down.

use rust_decimal::Decimal;

use super::bill::Bill;
use super::layers::{Placed, Share};
use super::room::Room;
use super::trace::Trace;
use super::{LayerTakeOff, Moment, Part};
use crate::model::labour::Driver;
use crate::model::material::{Category, Material};
use crate::model::settings::{FullAfter, TopUp};
use crate::problem::Problem;
use crate::units::{Amount, Length, Volume, Weight};

/// What became of a fill.
#[derive(Clone, Debug, Default)]
pub(super) struct Settled {
    pub(super) layers: Vec<LayerTakeOff>,
    pub(super) sink: Length,
    pub(super) stands_above: Length,
    pub(super) top_up: Volume,
    pub(super) saturated: Weight,
}

/// Share of the loose volume that is left after a loss.
fn kept(loss: Decimal) -> Decimal {
    Decimal::ONE.saturating_sub(loss)
}

fn over(number: Decimal, by: Decimal) -> Decimal {
    number.checked_div(by).unwrap_or_default()
}

/// How many times its settled height a layer has when it is wetted down.
fn wetted(placed: &Placed<'_>, full: FullAfter) -> Decimal {
    match full {
        FullAfter::WetDown => Decimal::ONE,
        FullAfter::FirstSeason => {
            placed.weighted(|m| over(Decimal::ONE, kept(m.first_season.value)))
        }
    }
}

/// Settles all layers, orders them, and finds the top-up.
pub(super) fn settle(
    bill: &mut Bill<'_>,
    placed: &[Placed<'_>],
    room: &Room,
    trace: &mut impl Trace,
) -> Settled {
    let full = bill.job.settings.full_after.value;
    let (left_out, stands_above) = above_rim(bill, placed, room, full, trace);
    let mut settled = Settled {
        stands_above,
        ..Settled::default()
    };
    for (layer, out) in placed.iter().zip(left_out) {
        let moved = layer.volume.times(out);
        let season_loss = match full {
            FullAfter::WetDown => layer.volume.times(layer.weighted(|m| m.first_season.value)),
            FullAfter::FirstSeason => Volume::ZERO,
        };
        settled.top_up += season_loss + moved;
        settled.sink += sink_of(layer, full, out);
        settled.saturated += soaked(layer, full, out);
        settled.layers.push(LayerTakeOff {
            name: layer.name.clone(),
            category: layer.category(),
            depth: layer.depth,
            volume: layer.volume,
            infill: layer.infill,
            order: order_layer(bill, layer, full, out, trace),
            season_loss,
            sheets: layer.sheets,
        });
    }
    show(bill, placed, &settled, trace);
    tell_weight_gaps(bill, placed);
    order_top_up(bill, placed, &mut settled, trace);
    settled
}

/// Which share of each layer is not placed now, because it would stand above rim and crown, and how
/// far what is placed stands above the rim.
fn above_rim(
    bill: &mut Bill<'_>,
    placed: &[Placed<'_>],
    room: &Room,
    full: FullAfter,
    trace: &mut impl Trace,
) -> (Vec<Decimal>, Length) {
    let mut out = vec![Decimal::ZERO; placed.len()];
    let Some(rim) = room.rim() else {
        return (out, Length::ZERO);
    };
    let heights: Vec<Length> = placed
        .iter()
        .map(|layer| layer.depth.times(wetted(layer, full)))
        .collect();
    let stands: Length = heights.iter().copied().sum();
    let crown = bill.job.settings.crown.value;
    let mut excess = (stands - rim - crown).max(Length::ZERO);
    let all = excess;
    for ((layer, height), share) in placed.iter().zip(&heights).zip(&mut out).rev() {
        if layer.sheets == 0 && layer.category() != Category::Wood && !excess.is_zero() {
            let cut = excess.min(*height);
            *share = cut.ratio(*height);
            excess = excess - cut;
        }
    }
    let above = (stands - (all - excess) - rim).max(Length::ZERO);
    if !all.is_zero() {
        tell_above(bill, all, above, excess);
    }
    let units = bill.units;
    trace.step(
        "height before it is wetted",
        || "depth of each layer / what is left of it after wetting, summed".to_owned(),
        || units.depth(loose_height(placed, full)),
    );
    trace.step(
        "stands above the rim on filling day",
        || {
            let (stands, rim) = (units.depth(stands), units.depth(rim));
            format!("{stands} wetted down - {rim} of wall, at most the crown")
        },
        || units.depth(above),
    );
    (out, above)
}

/// How high the fill would stand if it were heaped in dry and not wetted as it is placed.
fn loose_height(placed: &[Placed<'_>], full: FullAfter) -> Length {
    let one = Decimal::ONE;
    let heap = |layer: &Placed<'_>| {
        let share = layer.weighted(|m| {
            let wet = kept(m.wet_down.value);
            let left = match full {
                FullAfter::WetDown => wet,
                FullAfter::FirstSeason => wet.saturating_mul(kept(m.first_season.value)),
            };
            over(one, left)
        });
        layer.depth.times(share)
    };
    placed.iter().map(heap).sum()
}

fn tell_above(bill: &mut Bill<'_>, all: Length, above: Length, left: Length) {
    let units = bill.units;
    let words = format!(
        "{} of fill would stand above rim and crown on filling day: it is not ordered now and moves to the top-up; the fill stands {} above the wall",
        units.depth(all - left),
        units.depth(above)
    );
    let from = bill.job.settings.crown.from.clone();
    bill.tell_from(&from, Problem::notice(words), "Fill");
    if bill.job.settings.top_up.value == TopUp::None {
        let words =
            "this fill needs a top-up to be full after the first season, and Top-up is none";
        let from = bill.job.settings.top_up.from.clone();
        bill.tell_from(&from, Problem::caution(words), "Fill");
    }
}

fn sink_of(layer: &Placed<'_>, full: FullAfter, out: Decimal) -> Length {
    let share = match full {
        FullAfter::WetDown => layer.weighted(|m| m.first_season.value),
        FullAfter::FirstSeason => layer.weighted(|m| {
            let loss = m.first_season.value;
            over(loss, kept(loss))
        }),
    };
    layer.depth.times(share).times(kept(out))
}

/// Weight of what is placed when it is soaked, infill included.
fn soaked(layer: &Placed<'_>, full: FullAfter, out: Decimal) -> Weight {
    let of_share = |share: &Share<'_>| {
        let grown = match full {
            FullAfter::WetDown => Decimal::ONE,
            FullAfter::FirstSeason => over(Decimal::ONE, kept(share.material.first_season.value)),
        };
        let volume = (layer.volume.times(kept(out)) + layer.infill)
            .times(share.of_whole)
            .times(grown);
        let density = share.material.wet.as_ref();
        density.map_or(Weight::ZERO, |d| d.value.weigh(volume))
    };
    layer.shares.iter().map(of_share).sum()
}

/// The order of one layer, material by material, and the work and haul that it brings.
fn order_layer(
    bill: &mut Bill<'_>,
    layer: &Placed<'_>,
    full: FullAfter,
    out: Decimal,
    trace: &mut impl Trace,
) -> Volume {
    if layer.sheets > 0 {
        return Volume::ZERO;
    }
    let mut sum = Volume::ZERO;
    for share in &layer.shares {
        let net = layer.volume.times(kept(out)).times(share.of_whole);
        let with_infill = net + layer.infill.times(share.of_whole);
        let order = loose(share.material, with_infill, full);
        let part = Part::Layer(layer.index);
        bill.need(share.id, part, Amount::Volume(net), Amount::Volume(order));
        bill.haul(share.id, order);
        show_order(bill, share.material, with_infill, order, full, trace);
        sum += order;
    }
    let volume = sum.in_cubic_metres();
    match layer.category() {
        Category::Wood => bill.work(Driver::WoodVolume, volume),
        Category::Litter => bill.work(Driver::LitterVolume, volume),
        _ => bill.work(Driver::SpreadVolume, volume),
    }
    if layer.mixed {
        bill.work(Driver::MixVolume, volume);
    }
    sum
}

/// Loose volume, waste included, that ends as `volume` in the bed.
pub(super) fn loose(material: &Material, volume: Volume, full: FullAfter) -> Volume {
    let wetted = kept(material.wet_down.value);
    let left = match full {
        FullAfter::WetDown => wetted,
        FullAfter::FirstSeason => wetted.saturating_mul(kept(material.first_season.value)),
    };
    let waste = Decimal::ONE.saturating_add(material.waste.value);
    volume.split(left).times(waste)
}

fn show_order(
    bill: &Bill<'_>,
    material: &Material,
    volume: Volume,
    order: Volume,
    full: FullAfter,
    trace: &mut impl Trace,
) {
    let units = bill.units;
    trace.step(
        "loose volume to order",
        || {
            let wet = material.wet_down.value;
            let season = match full {
                FullAfter::WetDown => String::new(),
                FullAfter::FirstSeason => format!(" / (1 - {})", material.first_season.value),
            };
            let waste = material.waste.value;
            let net = units.volume(volume);
            format!(
                "{}: {net} / (1 - {wet}){season} x (1 + {waste})",
                material.name
            )
        },
        || units.volume(order),
    );
}

fn show(bill: &Bill<'_>, placed: &[Placed<'_>], settled: &Settled, trace: &mut impl Trace) {
    let units = bill.units;
    trace.step(
        "sink in the first season",
        || {
            let terms = placed.iter().filter(|l| l.sheets == 0).map(|l| {
                let share = l.weighted(|m| m.first_season.value);
                format!(
                    "{} x {}",
                    units.depth(l.depth),
                    share.round_dp(4).normalize()
                )
            });
            terms.collect::<Vec<_>>().join(" + ")
        },
        || units.depth(settled.sink),
    );
    trace.step(
        "weight when soaked",
        || "volume in the bed with infill x wet density, summed over the layers".to_owned(),
        || units.weight(settled.saturated),
    );
}

/// A load that somebody stands under must not be too small because a density is missing.
fn tell_weight_gaps(bill: &mut Bill<'_>, placed: &[Placed<'_>]) {
    use crate::model::bed::Base;
    if bill.bed.base == Base::OpenGround && bill.bed.underside_clear.is_none() {
        return;
    }
    let loose = placed.iter().filter(|l| l.sheets == 0);
    let gaps: Vec<&str> = loose
        .flat_map(|l| &l.shares)
        .filter(|s| s.material.wet.is_none())
        .map(|s| &*s.material.name)
        .collect();
    if !gaps.is_empty() {
        let words = format!(
            "the weight when soaked leaves out {}, whose wet density is not known",
            gaps.join(", ")
        );
        let problem = Problem::caution(words).hint("give its Wet density in Materials");
        bill.tell(problem, "Base");
    }
}

/// The top-up is bought as the topmost soil, loose by its own wet-down and waste.
fn order_top_up(
    bill: &mut Bill<'_>,
    placed: &[Placed<'_>],
    settled: &mut Settled,
    trace: &mut impl Trace,
) {
    if bill.job.settings.top_up.value == TopUp::None {
        settled.top_up = Volume::ZERO;
    }
    let units = bill.units;
    let top = top_soil(placed);
    trace.step(
        "top-up",
        || match top {
            Some(top) => format!("what all layers lose in the first season, as {}", top.name),
            None => "no layer that could be topped up".to_owned(),
        },
        || units.volume(settled.top_up),
    );
    let Some(top) = top else {
        return;
    };
    for share in &top.shares {
        let net = settled.top_up.times(share.of_whole);
        let order = loose(share.material, net, FullAfter::WetDown);
        let (net, order) = (Amount::Volume(net), Amount::Volume(order));
        bill.need_at(Moment::TopUp, share.id, Part::TopUp, net, order);
    }
}

/// The topmost layer of soil, or the topmost loose layer when there is no soil.
pub(super) fn top_soil<'p, 'a>(placed: &'p [Placed<'a>]) -> Option<&'p Placed<'a>> {
    let soil = placed.iter().rev().find(|l| l.is_soil());
    soil.or_else(|| placed.iter().rev().find(|l| l.sheets == 0))
}
