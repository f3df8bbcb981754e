//! Choices of one run that a later run can keep, so that a changed price changes money only.

use std::collections::BTreeMap;

use super::sticks::{Bench, Cut, needed_nm};
use super::supply::Supply;
use super::{Bought, CutList, Held, OrderLine, Stick, Trips};

/// The choices of `bought`.
pub fn held(bought: &Bought) -> Held {
    let mut held = Held::default();
    for line in &bought.lines {
        let Some(offer) = line.offer else { continue };
        let key = (line.material, line.scope, line.moment);
        let offers = held.offers.entry(key).or_default();
        if !offers.contains(&offer) {
            offers.push(offer);
        }
    }
    for trips in &bought.trips {
        let Some(vehicle) = trips.vehicle else {
            continue;
        };
        for line in lines_of(bought, trips) {
            let key = (line.material, line.scope, line.moment);
            held.vehicles.insert(key, vehicle);
        }
    }
    for list in &bought.cut_lists {
        held.cut_lists.insert(list.material, list.clone());
    }
    held
}

fn lines_of<'b>(bought: &'b Bought, trips: &'b Trips) -> impl Iterator<Item = &'b OrderLine> {
    trips.lines.iter().filter_map(|i| bought.lines.get(*i))
}

/// The cuts of a list of an earlier run, when they yield exactly the pieces that are wanted now.
pub(super) fn cuts_of(
    list: &CutList,
    bench: &Bench<'_>,
    supplies: &[&(usize, Supply)],
) -> Option<Vec<Cut>> {
    let cuts: Option<Vec<Cut>> = list
        .sticks
        .iter()
        .map(|stick| cut_of(stick, bench, supplies))
        .collect();
    let cuts = cuts?;
    let mut made = vec![0_u64; bench.sizes.len()];
    for cut in &cuts {
        for (size, times) in &cut.takes {
            let count = made.get_mut(*size)?;
            *count = count.saturating_add(times.saturating_mul(cut.times));
        }
    }
    let wanted = bench.sizes.iter().map(|size| size.count);
    wanted.eq(made).then_some(cuts)
}

fn cut_of(cut: &Stick, bench: &Bench<'_>, supplies: &[&(usize, Supply)]) -> Option<Cut> {
    let stock = supplies.iter().position(|(_, supply)| {
        let mut offers = supply.tiers.iter().map(|tier| Some(tier.offer));
        offers.any(|offer| offer == cut.offer)
    })?;
    let mut takes: BTreeMap<usize, u64> = BTreeMap::new();
    for (length, _, number) in &cut.pieces {
        let length = needed_nm(*length);
        let size = bench.sizes.iter().position(|s| s.length == length)?;
        let count = takes.entry(size).or_default();
        *count = count.saturating_add(u64::from(*number));
    }
    let takes: Vec<(usize, u64)> = takes.into_iter().collect();
    bench
        .holds(bench.stocks.get(stock)?, &takes)
        .then_some(Cut {
            stock,
            takes,
            times: u64::from(cut.count),
        })
}
