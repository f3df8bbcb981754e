//! Drip lines of one bed, and the zones of a site.
//!
//! Lines run along the longer way of the inside, evenly about its middle, and are clipped to its outline, so
//! that any shape is watered and no line lies outside. Zones take a part of the flow that was measured at
//! the tap; what a zone or a site needs once is shared by its beds. Longer than most because a third of it is
//! worked examples of where lines lie.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::bill::Bill;
use super::faces::Faces;
use super::heights::Heights;
use super::outline::Point;
use super::trace::Trace;
use super::{Kinds, Part, TakeOff};
use crate::model::bed::Bed;
use crate::model::drip::{Drip, ZoneBy};
use crate::model::job::{Job, SiteId};
use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::problem::Problem;
use crate::units::{Amount, Area, Flow, Hours, Length, round};

/// More lines than any bed has.
const MOST_LINES: u32 = 1_000;
/// Fittings of a bed beside one tee for each line: a tee from the main and two elbows over the rim.
const FITTINGS: u32 = 3;

/// How one bed is watered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Watering {
    /// Lines, from wall to wall.
    pub lines: u32,
    /// All lines together.
    pub length: Length,
    /// The longest of them.
    pub longest: Length,
    /// Emitters on all lines.
    pub emitters: u32,
    /// What they give together.
    pub flow: Flow,
    /// Hours a week for what the bed needs in season.
    pub hours_a_week: Hours,
    /// Zones of its site; 0 until all beds are known.
    pub zones: u32,
}

/// Where lines lie in the inside of a bed: both ends of each piece of line, along the longer way.
pub fn lines(faces: &Faces, spacing: Length) -> Vec<(Point, Point)> {
    let corners = faces.inside.polygon();
    let (length, width) = extent(&corners);
    let upright = width > length;
    let turned: Vec<Point> = corners.into_iter().map(|p| turn(p, upright)).collect();
    let across = if upright { length } else { width };
    let low = turned.iter().map(|p| p.y).min().unwrap_or_default();
    let count = count_of(across, spacing);
    let taken = spacing.times(Decimal::from(count.saturating_sub(1)));
    let first = low + (across - taken).split(Decimal::TWO);
    let pieces = (0..count).flat_map(|n| {
        let y = first + spacing.times(Decimal::from(n));
        clipped(&turned, y)
    });
    pieces
        .map(|(from, to)| (turn(from, upright), turn(to, upright)))
        .collect()
}

/// Lines that fit with half a spacing to both walls, one at the least.
fn count_of(across: Length, spacing: Length) -> u32 {
    let exact = across.ratio(spacing).round_dp(9);
    let count = u32::try_from(exact.round()).unwrap_or(MOST_LINES);
    count.clamp(1, MOST_LINES)
}

fn extent(corners: &[Point]) -> (Length, Length) {
    let span = |pick: fn(&Point) -> Length| {
        let most = corners.iter().map(pick).max().unwrap_or_default();
        most - corners.iter().map(pick).min().unwrap_or_default()
    };
    (span(|p| p.x), span(|p| p.y))
}

/// With the length and the width changed for each other, when the longer way is the width.
fn turn(point: Point, upright: bool) -> Point {
    if upright {
        Point::new(point.y, point.x)
    } else {
        point
    }
}

/// The parts of a level line that lie within an outline: each crossing counts once, at its lower corner.
fn clipped(corners: &[Point], y: Length) -> Vec<(Point, Point)> {
    let next = corners.iter().cycle().skip(1);
    let mut crossings: Vec<Length> = corners
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.y <= y) != (b.y <= y))
        .map(|(a, b)| a.x + (b.x - a.x).times((y - a.y).ratio(b.y - a.y)))
        .collect();
    crossings.sort();
    let pairs = crossings.chunks_exact(2).filter_map(|pair| {
        let [from, to] = pair else { return None };
        (to > from).then(|| (Point::new(*from, y), Point::new(*to, y)))
    });
    pairs.collect()
}

/// What watering one bed takes; nothing for a bed that no row of `Irrigation` waters.
pub(super) fn water(
    bill: &mut Bill<'_>,
    faces: &Faces,
    heights: Option<&Heights>,
    trace: &mut impl Trace,
) -> Option<Watering> {
    let drip = bill.job.drips.get(bill.bed.drip?.index())?;
    let pieces = lines(faces, drip.line_spacing.value);
    let lengths: Vec<Length> = pieces
        .iter()
        .map(|(from, to)| (to.x - from.x) + (to.y - from.y))
        .collect();
    let length: Length = lengths.iter().copied().sum();
    let longest = lengths.iter().copied().max().unwrap_or_default();
    let count = u32::try_from(lengths.len()).unwrap_or(MOST_LINES);
    let emitters = lengths
        .iter()
        .map(|l| emitters_on(*l, drip.emitter_spacing.value));
    let emitters: u32 = emitters.fold(0, u32::saturating_add);
    let flow = drip.emitter_flow.value.times(Decimal::from(emitters));
    let watering = Watering {
        lines: count,
        length,
        longest,
        emitters,
        flow,
        hours_a_week: hours_a_week(drip, faces.inside.area(), flow),
        zones: 0,
    };
    tell_long(bill, drip, longest);
    order(bill, drip, &watering, heights);
    show(bill, drip, &watering, trace);
    Some(watering)
}

/// Emitters on a line: one for each spacing, the first half a spacing from its end.
fn emitters_on(length: Length, spacing: Length) -> u32 {
    let exact = length.ratio(spacing).round_dp(9).floor();
    u32::try_from(exact).unwrap_or(0).max(1)
}

/// Depth x area / (part that reaches the roots x flow), in hours.
fn hours_a_week(drip: &Drip, area: Area, flow: Flow) -> Hours {
    let litres = area
        .filled_to(drip.figures.need.value)
        .in_litres()
        .checked_div(drip.figures.efficiency)
        .unwrap_or_default();
    let hours = litres.checked_div(flow.in_litres_per_hour());
    Hours::of(hours.unwrap_or_default())
}

fn tell_long(bill: &mut Bill<'_>, drip: &Drip, longest: Length) {
    let Some(most) = drip.longest.filter(|most| longest > *most) else {
        return;
    };
    let units = bill.units;
    let words = format!(
        "a line of {} is longer than the {} that its emitters are fed over",
        units.length(longest),
        units.length(most)
    );
    let hint = "feed it from its middle or from both ends, or take emitters of less flow";
    bill.problems.push(
        Problem::caution(words)
            .hint(hint)
            .at(drip.at, "Emitter flow"),
    );
}

fn order(bill: &mut Bill<'_>, drip: &Drip, of: &Watering, heights: Option<&Heights>) {
    let parts = &drip.parts;
    let wall = heights.map_or(Length::ZERO, |h| h.high.max(h.low));
    let header = drip
        .line_spacing
        .value
        .times(Decimal::from(of.lines.saturating_sub(1)));
    let tube = header + wall + drip.figures.riser;
    length_of(bill, parts.line, of.length);
    length_of(bill, parts.tube, tube);
    let fittings = of.lines.saturating_add(FITTINGS);
    let stakes = round::whole_up(of.length.ratio(drip.figures.stake_every));
    for (material, count) in [
        (parts.fitting, Decimal::from(fittings)),
        (parts.end, Decimal::from(of.lines)),
        (parts.stake, stakes),
        (parts.valve, Decimal::ONE),
    ] {
        count_of_part(bill, material, count);
    }
    bill.work(Driver::DripLength, of.length.in_metres());
    bill.work(Driver::TubeLength, tube.in_metres());
    let all = fittings.saturating_add(of.lines).saturating_add(1);
    bill.work(Driver::DripFitting, Decimal::from(all));
}

fn length_of(bill: &mut Bill<'_>, material: MaterialId, net: Length) {
    let order = net.times(bill.with_waste(material));
    bill.need(
        material,
        Part::Watering,
        Amount::Length(net),
        Amount::Length(order),
    );
}

fn count_of_part(bill: &mut Bill<'_>, material: MaterialId, net: Decimal) {
    let order = net.saturating_mul(bill.with_waste(material));
    bill.need(
        material,
        Part::Watering,
        Amount::Count(net),
        Amount::Count(order),
    );
}

fn show(bill: &mut Bill<'_>, drip: &Drip, of: &Watering, trace: &mut impl Trace) {
    let units = bill.units;
    let spacing = units.length(drip.line_spacing.value);
    let apart = units.length(drip.emitter_spacing.value);
    let each = units.flow(drip.emitter_flow.value);
    trace.step(
        "drip line",
        || format!("{} lines {spacing} apart, clipped to the inside", of.lines),
        || units.length(of.length),
    );
    trace.step(
        "flow",
        || format!("{} emitters {apart} apart x {each}", of.emitters),
        || units.flow(of.flow),
    );
    let lines = if of.lines == 1 { "line" } else { "lines" };
    bill.crew_notes.push(format!(
        "lay {} drip {lines} {spacing} apart on the soil, {} in all, and stake them: {} emitters, {}; {} a week give \
         {} of water in season",
        of.lines,
        units.length(of.length),
        of.emitters,
        units.flow(of.flow),
        hours_words(of.hours_a_week),
        units.depth(drip.figures.need.value)
    ));
}

fn hours_words(hours: Hours) -> String {
    let minutes = hours.in_hours().saturating_mul(Decimal::from(60)).round();
    match u32::try_from(minutes).unwrap_or(0) {
        minutes if minutes < 120 => format!("{minutes} min"),
        minutes => format!("{} h {:02} min", minutes / 60, minutes % 60),
    }
}

/// Watered beds of one site.
#[derive(Default)]
struct Head<'a> {
    beds: Decimal,
    flow: Flow,
    largest: Flow,
    kinds: Vec<(usize, &'a Bed)>,
}

/// Sets the zones of each site, and orders what a site and a zone need once, shared by their beds.
pub(super) fn share_heads(job: &Job, kinds: &Kinds, takeoffs: &mut [TakeOff]) {
    let mut heads: BTreeMap<SiteId, Head<'_>> = BTreeMap::new();
    for (index, (kind, takeoff)) in kinds.kinds.iter().zip(takeoffs.iter()).enumerate() {
        let bed = job.beds.get(kind.first.index());
        let (Some(bed), Some(watering)) = (bed, &takeoff.watering) else {
            continue;
        };
        let head = heads.entry(kind.site).or_default();
        head.beds = head.beds.saturating_add(kind.count);
        head.flow += watering.flow.times(kind.count);
        head.largest = head.largest.max(watering.flow);
        head.kinds.push((index, bed));
    }
    for head in heads.values() {
        share_head(job, head, takeoffs);
    }
}

fn share_head(job: &Job, head: &Head<'_>, takeoffs: &mut [TakeOff]) {
    let first = head
        .kinds
        .iter()
        .find_map(|(_, bed)| job.drips.get(bed.drip?.index()));
    let Some(first) = first else {
        return;
    };
    let (zones, problem) = zones(job, first, head);
    let mut problems: Vec<Problem> = problem.into_iter().chain(pressure(job, first)).collect();
    for (index, bed) in &head.kinds {
        let drip = bed.drip.and_then(|id| job.drips.get(id.index()));
        let (Some(drip), Some(takeoff)) = (drip, takeoffs.get_mut(*index)) else {
            continue;
        };
        if let Some(watering) = &mut takeoff.watering {
            watering.zones = zones;
        }
        takeoff.problems.append(&mut problems);
        let parts = &drip.parts;
        let share = |n: Decimal| n.checked_div(head.beds).unwrap_or_default();
        let once = [parts.backflow, parts.filter, parts.regulator, parts.timer];
        let each_zone = [parts.adapter, parts.flush];
        let once = once.map(|material| (material, share(Decimal::ONE)));
        let each_zone = each_zone.map(|material| (material, share(Decimal::from(zones))));
        let mut bill = Bill::new(job, bed);
        for (material, count) in once.into_iter().chain(each_zone) {
            let amount = Amount::Count(count);
            bill.need(material, Part::Watering, amount, amount);
        }
        if let Some(main) = &drip.main {
            let own = main.value.split(watered_by(job, bed));
            length_of(&mut bill, parts.tube, own);
            takeoff.work.push((Driver::TubeLength, own.in_metres()));
        }
        takeoff.needs.append(&mut bill.needs);
        takeoff.work = added_up(std::mem::take(&mut takeoff.work));
    }
}

/// A caution where the tap has less pressure than emitters need.
fn pressure(job: &Job, drip: &Drip) -> Option<Problem> {
    let known = drip.pressure.as_ref()?;
    let least = drip.figures.least_pressure;
    (known.value < least).then(|| {
        let units = job.settings.units.value;
        let words = format!(
            "{} at the tap is less than the {} that emitters need",
            units.pressure(known.value),
            units.pressure(least)
        );
        let hint = "take drip tape or gravity emitters made for low pressure, or raise the tank";
        Problem::caution(words).hint(hint).at(drip.at, "Pressure")
    })
}

/// How many beds the row of a bed waters.
fn watered_by(job: &Job, bed: &Bed) -> Decimal {
    let beds = job.beds.iter().filter(|other| other.drip == bed.drip);
    beds.fold(Decimal::ZERO, |sum, bed| {
        sum.saturating_add(Decimal::from(bed.count))
    })
}

/// Work with each driver once, in the order of the drivers.
fn added_up(work: Vec<(Driver, Decimal)>) -> Vec<(Driver, Decimal)> {
    let mut sums: BTreeMap<Driver, Decimal> = BTreeMap::new();
    for (driver, amount) in work {
        let sum = sums.entry(driver).or_default();
        *sum = sum.saturating_add(amount);
    }
    sums.into_iter().collect()
}

/// Zones of a site, and what is wrong with its supply.
fn zones(job: &Job, drip: &Drip, head: &Head<'_>) -> (u32, Option<Problem>) {
    let units = job.settings.units.value;
    let beds = u32::try_from(head.beds).unwrap_or(u32::MAX);
    match (drip.zone_by.value, &drip.supply) {
        (ZoneBy::Bed, _) => (beds, None),
        (ZoneBy::Site, _) => (1, None),
        (ZoneBy::Supply, None) => {
            let words = "Supply flow is not measured: all beds of a site are taken as one zone, which it may not feed";
            let hint = "fill a 5 gal bucket at the tap: 300 divided by the seconds is gal/min";
            (
                1,
                Some(
                    Problem::caution(words)
                        .hint(hint)
                        .at(drip.at, "Supply flow"),
                ),
            )
        }
        (ZoneBy::Supply, Some(supply)) => {
            let most = supply.value.times(drip.figures.zone_share);
            let exact = round::whole_up(head.flow.ratio(most));
            let zones = u32::try_from(exact)
                .unwrap_or(u32::MAX)
                .clamp(1, beds.max(1));
            let problem = (head.largest > most).then(|| {
                let words = format!(
                    "one bed takes {} and a zone may take {}: the supply does not feed it",
                    units.flow(head.largest),
                    units.flow(most)
                );
                let hint = "take emitters of less flow or farther apart, or a supply of more flow";
                Problem::caution(words)
                    .hint(hint)
                    .at(drip.at, "Supply flow")
            });
            (zones, problem)
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::takeoff::geometry::Figure;
    use crate::takeoff::outline::Outline;

    fn ft(text: &str) -> Length {
        Length::feet(text.parse().unwrap())
    }

    fn faces_of(outside: Figure, wall: &str) -> Faces {
        let thickness = ft(wall);
        Faces {
            inside: outside.inward(thickness).unwrap(),
            outside,
            thickness,
        }
    }

    fn lengths(faces: &Faces, spacing: &str) -> Vec<Decimal> {
        let lines = lines(faces, ft(spacing)).into_iter();
        lines
            .map(|(a, b)| {
                ((b.x - a.x) + (b.y - a.y))
                    .in_feet()
                    .round_dp(6)
                    .normalize()
            })
            .collect()
    }

    fn d(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    #[test]
    fn lines_run_along_the_longer_way_half_a_spacing_from_the_walls() {
        // 8 x 4 ft outside, 0.125 ft walls: 7.75 x 3.75 ft. 3.75 / 1 is 4 lines of 7.75 ft.
        let bed = Figure::Rectangle {
            length: ft("8"),
            width: ft("4"),
        };
        assert_eq!(lengths(&faces_of(bed, "0.125"), "1"), vec![d("7.75"); 4]);
        // Turned round it is the same bed.
        let turned = Figure::Rectangle {
            length: ft("4"),
            width: ft("8"),
        };
        assert_eq!(lengths(&faces_of(turned, "0.125"), "1"), vec![d("7.75"); 4]);
    }

    #[test]
    fn lines_are_clipped_to_an_l_and_to_an_inlet() {
        let corner = |x, y| Point::new(ft(x), ft(y));
        // L of 10 x 4 ft less 6 x 2 ft at its far right corner: lines at 0.5, 1.5, 2.5 and 3.5 ft.
        let l = Outline::new(vec![
            corner("0", "0"),
            corner("10", "0"),
            corner("10", "2"),
            corner("4", "2"),
            corner("4", "4"),
            corner("0", "4"),
        ]);
        let l = faces_of(Figure::Straight(l.unwrap()), "0");
        assert_eq!(lengths(&l, "1"), [d("10"), d("10"), d("4"), d("4")]);
        // An inlet parts a line in two: 10 x 2 ft less 4 ft in the middle of the upper foot.
        let u = Outline::new(vec![
            corner("0", "0"),
            corner("10", "0"),
            corner("10", "2"),
            corner("7", "2"),
            corner("7", "1"),
            corner("3", "1"),
            corner("3", "2"),
            corner("0", "2"),
        ]);
        let u = faces_of(Figure::Straight(u.unwrap()), "0");
        assert_eq!(lengths(&u, "1"), [d("10"), d("3"), d("3")]);
    }

    #[test]
    fn emitters_stand_one_for_each_spacing() {
        assert_eq!(emitters_on(ft("7.75"), ft("1")), 7);
        assert_eq!(emitters_on(ft("8"), ft("1")), 8);
        assert_eq!(emitters_on(ft("0.5"), ft("1")), 1);
    }

    proptest! {
        #[test]
        fn no_line_is_longer_than_the_bed_and_finer_spacing_is_no_less_line(
            a in 3_u32..30, b in 3_u32..30, inches in 6_u32..30,
        ) {
            let bed = Figure::Rectangle { length: Length::feet(a.into()), width: Length::feet(b.into()) };
            let faces = faces_of(bed, "0.1");
            let (long, wide) = faces.inside.extent();
            let spacing = |n: u32| Length::inches(n.into());
            let sum = |n: u32| lines(&faces, spacing(n)).iter().map(|(p, q)| (q.x - p.x) + (q.y - p.y)).sum::<Length>();
            for (p, q) in lines(&faces, spacing(inches)) {
                let length = (q.x - p.x) + (q.y - p.y);
                prop_assert!(length <= long.max(wide) && length > Length::ZERO);
            }
            prop_assert!(sum(inches) <= sum(inches / 2));
        }
    }
}
