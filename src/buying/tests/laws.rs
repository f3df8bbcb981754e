//! Laws of buying, tried on jobs made at random.

use std::collections::BTreeMap;

use proptest::prelude::*;

use super::super::Bought;
use super::sample::{Sample, cubic_feet, d, feet, inches, line_text, yards};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::material::Category;
use crate::model::offer::SupplierId;
use crate::units::round::step_up;
use crate::units::{Decimal, Length, Money, Volume, Weight};

/// Offers as (supplier, loose, price in cents, from, least), trucks as (supplier, yd3, lb, fee).
type Market = (Vec<(u8, bool, u32, u8, u8)>, Vec<(u8, u8, u32, u8)>);

fn market() -> impl Strategy<Value = Market> {
    let offer = (0..4_u8, any::<bool>(), 1..9000_u32, 0..3_u8, 0..4_u8);
    let truck = (0..4_u8, 3..15_u8, 4000..30_000_u32, 20..150_u8);
    (
        prop::collection::vec(offer, 1..10),
        prop::collection::vec(truck, 1..6),
    )
}

fn sample_of((offers, trucks): &Market, needs: &[u32]) -> Sample {
    let (mut sample, soil) = Sample::with_soil();
    let names = ["Ash", "Birch", "Cedar", "Dogwood"];
    for name in names {
        sample.supplier(name);
    }
    for (supplier, loose, cents, from, least) in offers {
        let price = Decimal::new(i64::from(*cents), 2).to_string();
        let (pack, holds) = if *loose {
            ("yard", yards("1"))
        } else {
            ("bag", cubic_feet("1.5"))
        };
        let offer = sample.offer(names[usize::from(*supplier)], soil, pack, holds, &price);
        offer.from_quantity = Decimal::from(*from) * d("10");
        offer.least = Decimal::from(*least);
    }
    for (supplier, volume, pounds, fee) in trucks {
        let name = names[usize::from(*supplier)];
        let (volume, pounds) = (volume.to_string(), pounds.to_string());
        sample.truck(name, Some(&volume), Some(&pounds), &fee.to_string());
    }
    for (index, need) in needs.iter().enumerate() {
        let site = if index == 0 {
            SiteId(0)
        } else {
            sample.site(&format!("Site {index}"))
        };
        let hundredths = Decimal::new(i64::from(*need), 2);
        let amount = yards(&hundredths.to_string());
        sample.beds(site, 1).needs(soil, amount);
    }
    sample
}

/// Everything that a reader sees, without the ids that stand for rows.
fn told(bought: &Bought) -> Vec<String> {
    let lines = bought.lines.iter().map(|l| {
        format!(
            "{} {:?} {:?} {}",
            line_text(l),
            l.scope,
            l.flip_price,
            l.why
        )
    });
    let trips = bought
        .trips
        .iter()
        .map(|t| format!("{} {:?}", t.words, t.cost));
    let sticks = bought.cut_lists.iter().flat_map(|c| {
        let text = |s: &super::super::Stick| format!("{} {:?} {:?}", s.count, s.length, s.pieces);
        c.sticks.iter().map(text).collect::<Vec<_>>()
    });
    lines.chain(trips).chain(sticks).collect()
}

/// The same job with its offers, vehicles and suppliers in the opposite order.
fn turned(sample: &Sample) -> Sample {
    let mut turned = sample.clone();
    let last = u32::try_from(sample.job.suppliers.len()).unwrap() - 1;
    turned.job.suppliers.reverse();
    turned.job.offers.reverse();
    turned.job.vehicles.reverse();
    for offer in &mut turned.job.offers {
        offer.supplier = SupplierId(last - offer.supplier.0);
    }
    for vehicle in &mut turned.job.vehicles {
        vehicle.supplier = SupplierId(last - vehicle.supplier.0);
    }
    turned
}

/// Sticks that longest-first fills, one at a time, from sticks of one length; no trim.
fn longest_first(stick: i64, kerf: i64, pieces: &[i64]) -> u64 {
    let mut sorted = pieces.to_vec();
    sorted.sort_unstable_by(|a, b| b.cmp(a));
    let mut rooms: Vec<i64> = Vec::new();
    for piece in sorted {
        match rooms.iter_mut().find(|room| **room >= piece + kerf) {
            Some(room) => *room -= piece + kerf,
            None => rooms.push(stick + kerf - piece - kerf),
        }
    }
    u64::try_from(rooms.len()).unwrap()
}

/// Least cost by trying every way to put each piece on every stick.
fn by_trying(
    pieces: &[i64],
    kerf: i64,
    sticks: &[(i64, i64)],
    open: &mut Vec<(usize, i64)>,
) -> i64 {
    let Some((first, rest)) = pieces.split_first() else {
        return open.iter().map(|(stick, _)| sticks[*stick].1).sum();
    };
    let mut best = i64::MAX;
    for at in 0..open.len() {
        if open[at].1 >= first + kerf {
            open[at].1 -= first + kerf;
            best = best.min(by_trying(rest, kerf, sticks, open));
            open[at].1 += first + kerf;
        }
    }
    for (index, (length, _)) in sticks.iter().enumerate() {
        if length >= first {
            open.push((index, length + kerf - first - kerf));
            best = best.min(by_trying(rest, kerf, sticks, open));
            open.pop();
        }
    }
    best
}

/// Boards from sticks of (inches, dollars), to pieces of so many eighths of an inch.
fn boards(sticks: &[(i64, i64)], eighths: &[i64]) -> Sample {
    let mut sample = Sample::new();
    sample.site("Site A");
    let boards = sample.material("2x10", Category::Lumber);
    for (length, price) in sticks {
        let length = (Decimal::from(*length) / d("12")).to_string();
        sample.offer(
            "Lumber Yard",
            boards,
            "board",
            feet(&length),
            &price.to_string(),
        );
    }
    let bed = sample.beds(SiteId(0), 1);
    for piece in eighths {
        let inch = Decimal::new(*piece * 125, 3).to_string();
        bed.cuts(boards, inches(&inch), 1);
    }
    sample
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_rows_changes_nothing(
        market in market(),
        needs in prop::collection::vec(1..4000_u32, 1..4),
    ) {
        let sample = sample_of(&market, &needs);
        prop_assert_eq!(told(&sample.buy()), told(&turned(&sample).buy()));
    }

    #[test]
    fn no_truck_is_overloaded_and_all_goods_travel(
        market in market(),
        needs in prop::collection::vec(1..4000_u32, 1..4),
    ) {
        let sample = sample_of(&market, &needs);
        let bought = sample.buy();
        for trips in &bought.trips {
            let line = &bought.lines[trips.lines[0]];
            let brought: Decimal = trips.loads.iter().map(|load| load.parts[0].1).sum();
            prop_assert_eq!(brought, line.quantity);
            let Some(vehicle) = trips.vehicle.map(|id| &sample.job.vehicles[id.index()]) else {
                continue;
            };
            for load in &trips.loads {
                let hair = Volume::cubic_metres(d("0.000001"));
                let grain = Weight::kilograms(d("0.000001"));
                prop_assert!(load.volume <= vehicle.volume.as_ref().unwrap().value + hair);
                prop_assert!(load.weight <= vehicle.weight.as_ref().unwrap().value + grain);
                prop_assert_eq!(step_up(load.parts[0].1, line.step), load.parts[0].1);
            }
        }
    }

    #[test]
    fn enough_is_bought_and_no_step_more_unless_it_is_said(
        market in market(),
        needs in prop::collection::vec(1..4000_u32, 1..4),
    ) {
        let sample = sample_of(&market, &needs);
        let bought = sample.buy();
        for line in &bought.lines {
            prop_assert!(line.quantity >= line.need_units - d("0.000000001"));
            let said = line.why.contains("more than needed") || line.why.contains("the least that is sold");
            prop_assert!(said || line.quantity - line.step < line.need_units, "{}", line.why);
            prop_assert_eq!(line.fixed, line.quantity != step_up(line.need_units, line.step));
        }
    }

    #[test]
    fn held_choices_give_the_same_order_again(
        market in market(),
        needs in prop::collection::vec(1..4000_u32, 1..4),
    ) {
        let sample = sample_of(&market, &needs);
        let bought = sample.buy();
        let again = sample.buy_again(&super::super::held(&bought));
        let plain = |b: &Bought| -> Vec<String> { b.lines.iter().map(line_text).collect() };
        prop_assert_eq!(plain(&bought), plain(&again));
        let fees = |b: &Bought| -> Money { b.trips.iter().map(|t| t.cost).sum() };
        prop_assert_eq!(fees(&bought), fees(&again));
    }

    #[test]
    fn small_cut_lists_cost_the_least_that_trying_everything_finds(
        eighths in prop::collection::vec(100..760_i64, 1..7),
    ) {
        let sticks = [(96, 9), (144, 13), (192, 20)];
        let bought = boards(&sticks, &eighths).buy();
        let scaled = sticks.map(|(length, price)| (length * 8, price));
        let least = by_trying(&eighths, 1, &scaled, &mut Vec::new());
        prop_assert_eq!(bought.cut_lists[0].cost, Money::of(Decimal::from(least)));
        prop_assert!(bought.cut_lists[0].lower_bound <= bought.cut_lists[0].cost);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_piece_is_cut_once_and_no_stick_is_over_filled(
        eighths in prop::collection::vec(40..760_i64, 1..16),
        copies in 1..50_u32,
    ) {
        let mut sample = boards(&[(96, 9), (144, 13), (192, 20)], &eighths);
        sample.kinds.kinds[0].count = Decimal::from(copies);
        sample.job.settings.end_trim = Known::assumed(inches("0.25"), "test");
        let bought = sample.buy();
        let list = &bought.cut_lists[0];
        let mut made: BTreeMap<Length, u32> = BTreeMap::new();
        for stick in &list.sticks {
            let pieces: u32 = stick.pieces.iter().map(|(_, _, n)| n).sum();
            let cuts = inches("0.125").times(Decimal::from(pieces - 1));
            let used: Length = stick.pieces.iter().map(|(l, _, n)| l.times(Decimal::from(*n))).sum();
            prop_assert!(used + cuts + stick.offcut <= stick.length - inches("0.5"));
            for (length, _, number) in &stick.pieces {
                *made.entry(*length).or_default() += number * stick.count;
            }
        }
        let mut wanted: BTreeMap<Length, u32> = BTreeMap::new();
        for piece in &sample.takeoffs[0].pieces {
            *wanted.entry(piece.length).or_default() += copies;
        }
        prop_assert_eq!(made, wanted);
        prop_assert!(list.lower_bound <= list.cost);
    }

    #[test]
    fn a_cut_list_is_never_worse_than_longest_first(
        eighths in prop::collection::vec(40..760_i64, 1..16),
    ) {
        let sticks = [(96, 9), (144, 13), (192, 20)];
        let bought = boards(&sticks, &eighths).buy();
        for (length, price) in sticks {
            if eighths.iter().all(|piece| *piece <= length * 8) {
                let plain = longest_first(length * 8, 1, &eighths);
                let cost = Money::of(Decimal::from(plain) * Decimal::from(price));
                prop_assert!(bought.cut_lists[0].cost <= cost);
            }
        }
    }
}
