//! Paths and surrounds from their row to everything that they need.

use rust_decimal::Decimal;

use super::bill::Bill;
use super::ground::{self, Patch, lapped};
use super::sticks::Sticks;
use super::{Kinds, Part, TakeOff};
use crate::model::ground::{Area, Edging, GroundWork, Plan, Surface};
use crate::model::job::{Job, SiteId};
use crate::model::labour::Driver;
use crate::model::material::Category;
use crate::problem::Problem;
use crate::units::{Amount, Area as Extent, Length, Volume, round};

/// The depth that the hours of a gravel path are for: 3 in.
const PATH_DEPTH: Length = Length::metres(Decimal::from_parts(762, 0, 0, false, 4));

/// Takes off every area, in the order of `kinds.areas`; `beds` are the take-offs of the kinds.
pub(super) fn take_off_all(
    job: &Job,
    sticks: &Sticks,
    kinds: &Kinds,
    beds: &[TakeOff],
) -> Vec<TakeOff> {
    let footprints = |site: SiteId| -> Extent {
        let here = kinds.kinds.iter().zip(beds).filter(|(k, _)| k.site == site);
        here.map(|(k, t)| t.outside_area.times(k.count)).sum()
    };
    let areas = kinds.areas.iter();
    areas
        .filter_map(|kind| job.areas.get(kind.area.index()))
        .map(|area| take_off(job, sticks, area, footprints(area.site)))
        .collect()
}

/// Takes off one area; `footprints` is what the beds of its site stand on.
fn take_off(job: &Job, sticks: &Sticks, area: &Area, footprints: Extent) -> TakeOff {
    let mut bill = Bill::of(job, (), area.at);
    let whole = area.plan.area();
    let net = if area.less_beds {
        whole - footprints
    } else {
        whole
    };
    let net = left(&mut bill, area, (whole, net), footprints);
    let extent = match area.plan {
        Plan::Rectangle { length, width } if !area.less_beds => Some((length, width)),
        _ => None,
    };
    let patch = Patch {
        area: net,
        extent,
        site: area.site,
    };
    ground::prepare(&mut bill, &area.ground, patch);
    if let Some(under) = area.under {
        let order = lapped(&mut bill, under, net, extent);
        let (net, order) = (Amount::Area(net), Amount::Area(order));
        bill.need(under, Part::Under, net, order);
        bill.work(Driver::FabricArea, net.base());
    }
    if let Some(edging) = &area.edging {
        edge(&mut bill, sticks, edging);
    }
    if let Some(surface) = &area.surface {
        spread(&mut bill, surface, net);
    }
    finish(bill, area, net)
}

/// What the beds leave of an area; nothing, after a problem, when they leave none of it.
fn left(
    bill: &mut Bill<'_, ()>,
    area: &Area,
    (whole, net): (Extent, Extent),
    footprints: Extent,
) -> Extent {
    if net > Extent::ZERO {
        return net;
    }
    let units = bill.units;
    let words = format!(
        "the beds of this site stand on {}, which leaves nothing of {}",
        units.area(footprints),
        units.area(whole)
    );
    let none = Problem::error(words).hint(format!(
        "write the whole yard with its beds as the size of {}, or no in Less beds",
        area.name
    ));
    bill.tell(none, "Less beds");
    Extent::ZERO
}

/// Loose goods over an area: what is in place, made up for what tamping or treading takes.
fn spread(bill: &mut Bill<'_, ()>, surface: &Surface, net: Extent) {
    let placed = net.filled_to(surface.depth.value);
    let kept = Decimal::ONE.saturating_sub(surface.compaction.value);
    let loose = placed.split(kept).times(bill.with_waste(surface.material));
    let (net_amount, order) = (Amount::Volume(placed), Amount::Volume(loose));
    bill.need(surface.material, Part::Surface, net_amount, order);
    bill.haul(surface.material, loose);
    let material = bill.job.material(surface.material);
    if material.is_some_and(|m| m.category == Category::Aggregate) {
        let times = surface.depth.value.ratio(PATH_DEPTH);
        let area = net.in_square_metres().saturating_mul(times);
        bill.work(Driver::PathArea, area);
    } else {
        bill.work(Driver::PathVolume, loose.in_cubic_metres());
    }
    let units = bill.units;
    let name = bill.job.material_name(surface.material);
    let step = format!(
        "{} of {name} over {}, {} deep",
        units.volume(placed),
        units.area(net),
        units.depth(surface.depth.value)
    );
    bill.note(step);
}

/// Edging of a section is cut from sticks: whole ones as far as they go, and the rest.
fn edge(bill: &mut Bill<'_, ()>, sticks: &Sticks, edging: &Edging) {
    let length = edging.length.value;
    bill.work(Driver::EdgingLength, length.in_metres());
    let material = bill.job.material(edging.material);
    if material.is_some_and(|m| m.section.is_some()) {
        let stick = sticks.longest(edging.material).unwrap_or(length);
        let whole = round::step_down(length.ratio(stick), Decimal::ONE);
        let number = u32::try_from(whole).unwrap_or(u32::MAX);
        bill.cut(edging.material, stick, "edging", number);
        bill.cut(edging.material, length - stick.times(whole), "edging", 1);
    }
    let net = Amount::Length(length);
    let order = net.times(bill.with_waste(edging.material));
    bill.need(edging.material, Part::Edging, net, order);
    let step = format!("{} of edging", bill.units.length(length));
    bill.note(step);
}

fn finish(mut bill: Bill<'_, ()>, area: &Area, net: Extent) -> TakeOff {
    let spoil = ground::carry_away(&mut bill);
    let (pieces, work) = bill.sorted();
    let worked = area.ground.value != GroundWork::Leave;
    TakeOff {
        size: in_words(&bill, area, net),
        outside_area: net,
        outside_perimeter: area.plan.perimeter().unwrap_or(Length::ZERO),
        inside_area: Extent::ZERO,
        watering: None,
        wall_height: Length::ZERO,
        low_side_height: Length::ZERO,
        courses: 0,
        fill_height: Length::ZERO,
        layers: Vec::new(),
        needs: bill.needs,
        pieces,
        sheet_pieces: Vec::new(),
        work,
        hauled: bill.hauled,
        ground_area: if worked { net } else { Extent::ZERO },
        spoil,
        saturated_weight: crate::units::Weight::ZERO,
        wall_weight: crate::units::Weight::ZERO,
        sink: Length::ZERO,
        stands_above: Length::ZERO,
        top_up: Volume::ZERO,
        crew_notes: bill.crew_notes,
        problems: bill.problems,
    }
}

/// `30' x 20' less 96 ft2 of beds, 3 in of Wood chips`.
fn in_words(bill: &Bill<'_, ()>, area: &Area, net: Extent) -> String {
    let units = bill.units;
    let plan = match area.plan {
        Plan::Rectangle { length, width } => {
            format!("{} x {}", units.length(length), units.length(width))
        }
        Plan::Measured(area) => units.area(area),
    };
    let less = if area.less_beds {
        format!(" less {} of beds", units.area(area.plan.area() - net))
    } else {
        String::new()
    };
    let top = area.surface.as_ref().map_or_else(String::new, |s| {
        let name = bill.job.material_name(s.material);
        format!(", {} of {name}", units.depth(s.depth.value))
    });
    format!("{plan}{less}{top}")
}
