//! Pieces that only just need a stick more: cut a hair shorter they would come out of fewer.

use super::choose::Want;
use super::cut_list;
use super::desk::Desk;
use super::lumber::{self, CutPlan};
use super::sticks::{self, Bench, Cut, Size, Stock};
use super::supply::Supply;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::units::{Decimal, Money};

/// Sticks that are told one by one; more are counted.
const TOLD: usize = 3;

/// A notice such as `2x10 fir: pieces cut up to 1/8" shorter would save 20.00: 2 x 8' of one 16'
/// 1/16" shorter each (1 such)`; nothing when no money is saved.
pub(super) fn notice(desk: &Desk<'_>, want: &Want, plan: &CutPlan) -> Option<Problem> {
    let tolerance = sticks::given_nm(desk.job.settings.cut_tolerance.value);
    if tolerance <= 0 || plan.gaps > 0 || desk.held.is_some() {
        return None;
    }
    let supplies = same_supplies(want, plan);
    if supplies.iter().any(|supply| supply.tiers.len() > 1) {
        return None;
    }
    let stocks: Vec<Stock> = supplies.iter().map(|s| lumber::stock(desk, s)).collect();
    let sizes = sticks::sizes_of(&want.demand.pieces);
    let shorter: Vec<Size> = sizes
        .iter()
        .map(|size| Size {
            length: size.length.saturating_sub(tolerance).max(1),
            ..*size
        })
        .collect();
    let kerf = sticks::needed_nm(desk.job.settings.kerf.value);
    let bench = |sizes| Bench {
        stocks: &stocks,
        sizes,
        kerf,
    };
    let cuts = cut_list::quick(&bench(&shorter))?;
    let cost = lumber::money_of(cut_list::cost_of(&bench(&shorter), &cuts));
    let saved = plan.cost_of_cut - cost;
    if saved <= Money::ZERO {
        return None;
    }
    let told: Vec<String> = cuts
        .iter()
        .filter_map(|cut| shortened(desk, &bench(&sizes), cut))
        .collect();
    let at = row_of(desk, want)?;
    let problem = Problem::notice(sentence(desk, want, saved, &told)).at(at, "Material");
    Some(problem.hint("nothing is cut shorter by itself: Cut tolerance in Job says how much may be tried, 0 for nothing"))
}

fn sentence(desk: &Desk<'_>, want: &Want, saved: Money, told: &[String]) -> String {
    let more = match told.len().saturating_sub(TOLD) {
        0 => String::new(),
        n => format!("; and {n} patterns more"),
    };
    let first: Vec<&str> = told.iter().take(TOLD).map(String::as_str).collect();
    format!(
        "{}: pieces cut up to {} shorter would save {}: {}{more}",
        desk.job.material_name(want.demand.material),
        desk.system.length(desk.job.settings.cut_tolerance.value),
        desk.show(saved),
        first.join("; "),
    )
}

/// The supplies of the suppliers that the plan buys from, and what costs nothing.
fn same_supplies<'w>(want: &'w Want, plan: &CutPlan) -> Vec<&'w Supply> {
    let bought = |supply: &&Supply| {
        let mut of_plan = plan
            .sticks
            .iter()
            .filter_map(|s| want.supplies.get(s.supply));
        of_plan.any(|other| other.supplier == supply.supplier)
    };
    want.supplies
        .iter()
        .filter(|supply| supply.stick.is_some() && supply.is_priced())
        .filter(|supply| supply.is_free() || bought(supply))
        .collect()
}

/// What has to be shorter on a stick that true lengths would over-fill.
fn shortened(desk: &Desk<'_>, bench: &Bench<'_>, cut: &Cut) -> Option<String> {
    let stock = bench.stocks.get(cut.stock)?;
    if bench.holds(stock, &cut.takes) {
        return None;
    }
    let pieces: u64 = cut.takes.iter().map(|(_, each)| each).sum();
    let over = bench.taken(&cut.takes).saturating_sub(stock.usable);
    let each = Decimal::from(over).checked_div(Decimal::from(pieces))?;
    // Rounded up to a sixty-fourth of an inch or a tenth of a millimetre.
    let each = sticks::shown_up(desk.system, each);
    let words: Vec<String> = cut
        .takes
        .iter()
        .map(|(size, n)| {
            format!(
                "{n} x {}",
                desk.system.length(sticks::length_of(bench.length(*size)))
            )
        })
        .collect();
    Some(format!(
        "{} of one {} {} shorter each ({} such)",
        words.join(" + "),
        desk.system.length(sticks::length_of(stock.full)),
        desk.system.length(each),
        cut.times,
    ))
}

/// A row that names the material: its price.
fn row_of(desk: &Desk<'_>, want: &Want) -> Option<RowAt> {
    let tier = want.supplies.first()?.tiers.first()?;
    desk.job
        .offers
        .get(tier.offer.index())
        .map(|offer| offer.at)
}
