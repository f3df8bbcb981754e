//! Buying what is cut from sheets: which sizes, from whom, and how they are ripped and cut.

use std::collections::BTreeMap;

use super::choose::{Chosen, Plan, Quote, by_supplier};
use super::demand::{Demand, PieceNeed, SheetNeed};
use super::desk::Desk;
use super::flip::flip_price;
use super::lumber::millionths;
use super::packs::{self, Bid};
use super::rips::{self, Cutting, Sheet, Wanted};
use super::sticks::{self, Bench, Stock, given_nm, length_of, needed_nm};
use super::supply::Supply;
use super::{OfferId, Scope, SheetCut, SheetList, StripList};
use crate::problem::Problem;
use crate::units::{Area, Decimal, Money};

/// Square nanometres in a square metre.
const SQUARE: Decimal = Decimal::from_parts(2_808_348_672, 232_830_643, 0, false, 0);

/// A priced way to cut everything.
struct Way {
    plan: Plan,
    sheets: u64,
}

/// The cheapest sheets for all rectangles: of one supplier, in one size or in several; `None` when no
/// supplier's sheets yield every piece.
pub(super) fn best(desk: &Desk<'_>, demand: &Demand, from: &[(usize, Supply)]) -> Option<Plan> {
    let wanted = wanted(&demand.sheets);
    let mut found: Vec<Way> = Vec::new();
    for own in by_supplier(from) {
        let sized: Vec<_> = own.iter().filter(|(_, s)| s.sheet.is_some()).collect();
        for one in &sized {
            found.extend(cut_from(desk, demand, &[one], &wanted));
        }
        if sized.len() > 1 {
            found.extend(cut_from(desk, demand, &sized, &wanted));
        }
    }
    // A stable sort keeps the order of suppliers' names among equals.
    found.sort_by_key(|o| (o.plan.short, o.plan.gaps, o.plan.cost, o.sheets));
    let mut found = found.into_iter().map(|o| o.plan);
    let mut plan = found.next()?;
    let bound = bound(desk, demand, from).min(plan.cost);
    let is_only = from.iter().filter(|(_, s)| s.sheet.is_some()).count() == 1;
    if let Some(list) = &mut plan.sheets {
        list.is_proven = (list.is_proven && is_only) || (plan.cost <= bound && plan.gaps == 0);
        list.lower_bound = if list.is_proven { plan.cost } else { bound };
    }
    if let Some(other) = found.find(|other| other.gaps == 0 && !other.short) {
        let more = other.cost - plan.cost;
        let words = other_words(from, &other);
        if let [line] = plan.lines.as_mut_slice() {
            line.next = words.map(|words| (words, more));
            line.flip = flip_price(&line.quote.bid, other.cost);
        }
    }
    Some(plan)
}

fn other_words(from: &[(usize, Supply)], plan: &Plan) -> Option<String> {
    let line = plan.lines.first()?;
    let supply = from.iter().find(|(i, _)| *i == line.quote.supply);
    Some(supply?.1.words())
}

/// What is told when nothing for sale yields all pieces.
pub(super) fn too_small(desk: &Desk<'_>, demand: &Demand) -> Problem {
    let largest = demand.sheets.first();
    let size = largest.map_or_else(String::new, |piece| {
        let (length, width) = (piece.length, piece.width);
        let (length, width) = (desk.system.length(length), desk.system.length(width));
        format!(", such as {length} along the ribs and {width} across")
    });
    let name = desk.job.material_name(demand.material);
    let words =
        format!("no size of sheet of {name} for sale yields all pieces that are needed{size}");
    let hint = "add a sheet to Prices that is long and wide enough";
    let problem = Problem::error(words).hint(hint);
    match desk.offers_of(demand.material).first() {
        Some(id) => match desk.job.offers.get(id.index()) {
            Some(offer) => problem.at(offer.at, "Pack"),
            None => problem,
        },
        None => problem,
    }
}

/// Pieces by width, widest first.
fn wanted(needs: &[SheetNeed]) -> Vec<Wanted> {
    let mut widths: BTreeMap<i64, Vec<PieceNeed>> = BTreeMap::new();
    for need in needs {
        let pieces = widths.entry(needed_nm(need.width)).or_default();
        pieces.push(need.as_piece());
    }
    let widest_first = widths.into_iter().rev();
    widest_first
        .map(|(width, pieces)| Wanted {
            width,
            sizes: sticks::sizes_of(&pieces),
        })
        .collect()
}

fn cut_from(
    desk: &Desk<'_>,
    demand: &Demand,
    supplies: &[&(usize, Supply)],
    wanted: &[Wanted],
) -> Option<Way> {
    let sheets: Vec<Sheet> = supplies.iter().filter_map(|(_, s)| sheet_of(s)).collect();
    let kerf = needed_nm(desk.job.settings.kerf.value);
    let cutting = rips::cut(kerf, &sheets, wanted)?;
    let mut lines = Vec::new();
    let mut offers: Vec<Option<OfferId>> = Vec::new();
    for (size, (place, supply)) in supplies.iter().enumerate() {
        let count = cutting.count(size);
        if count == 0 {
            offers.push(None);
            continue;
        }
        let number = Decimal::from(count);
        let bids = packs::bids(&supply.tiers, number, desk.currency);
        let bid = packs::cheapest(&bids)?.clone();
        offers.push(Some(bid.offer));
        lines.push(chosen(
            *place,
            area_from(&cutting, size, wanted),
            number,
            bid,
        ));
    }
    if let [only] = lines.as_mut_slice() {
        only.need = demand.net();
    }
    let cost: Money = lines.iter().map(|line| line.quote.bid.cost).sum();
    let list = list(demand, (&sheets, &offers), wanted, &cutting, cost, kerf);
    let counted = (0..sheets.len()).map(|size| cutting.count(size));
    let mut plan = Plan::of(lines);
    plan.sheets = Some(list);
    Some(Way {
        sheets: counted.fold(0, u64::saturating_add),
        plan,
    })
}

fn chosen(supply: usize, area: Decimal, sheets: Decimal, bid: Bid) -> Chosen {
    Chosen {
        scope: Scope::Job,
        need: area,
        need_units: sheets,
        fewest: (bid.quantity, bid.cost),
        next: None,
        flip: None,
        without_fee: None,
        quote: Quote {
            supply,
            landed: bid.cost,
            gaps: u32::from(bid.price.is_none()),
            trip: None,
            bid,
        },
    }
}

fn sheet_of(supply: &Supply) -> Option<Sheet> {
    let (length, width) = supply.sheet?;
    let price = supply.tiers.iter().find_map(|tier| tier.price);
    let (length, width) = (given_nm(length), given_nm(width));
    Some(Sheet {
        length,
        width,
        stock: Stock {
            nominal: width,
            full: width,
            usable: width,
            price: price.map_or(1, millionths).max(1),
            most: None,
        },
    })
}

/// Area of the pieces that come from one size, in m2.
fn area_from(cutting: &Cutting, size: usize, wanted: &[Wanted]) -> Decimal {
    let mut area = Decimal::ZERO;
    for (group, cuts) in wanted.iter().zip(&cutting.strips) {
        for cut in cuts.iter().filter(|cut| cut.stock == size) {
            for (piece, number) in &cut.takes {
                let length = group.sizes.get(*piece).map_or(0, |s| s.length);
                let each = Decimal::from(length).saturating_mul(Decimal::from(group.width));
                let count = Decimal::from(number.saturating_mul(cut.times));
                area = area.saturating_add(each.saturating_mul(count));
            }
        }
    }
    area.checked_div(SQUARE).unwrap_or_default()
}

/// A cost that no cutting can go below: all area at the best price of an area for sale, without any waste.
fn bound(desk: &Desk<'_>, demand: &Demand, from: &[(usize, Supply)]) -> Money {
    let rate = |(_, supply): &(usize, Supply)| {
        let (length, width) = supply.sheet?;
        let price = supply.tiers.iter().filter_map(|tier| tier.price).min()?;
        price.checked_div((length * width).in_square_metres())
    };
    let least = from.iter().filter_map(rate).min().unwrap_or_default();
    let area: Area = demand
        .sheets
        .iter()
        .map(|s| (s.length * s.width).times(s.count))
        .sum();
    let exact = least.saturating_mul(area.in_square_metres());
    let minor = desk.currency.minor;
    Money::of(exact.round_dp_with_strategy(minor, rust_decimal::RoundingStrategy::ToZero))
}

fn list(
    demand: &Demand,
    (sheets, offers): (&[Sheet], &[Option<OfferId>]),
    wanted: &[Wanted],
    cutting: &Cutting,
    cost: Money,
    kerf: i64,
) -> SheetList {
    SheetList {
        material: demand.material,
        sheets: ripped((sheets, offers), wanted, cutting, kerf),
        strips: strips(demand, (sheets, offers), wanted, cutting, kerf),
        cost,
        lower_bound: cost,
        is_proven: cutting.is_proven,
    }
}

fn ripped(
    (sheets, offers): (&[Sheet], &[Option<OfferId>]),
    wanted: &[Wanted],
    cutting: &Cutting,
    kerf: i64,
) -> Vec<SheetCut> {
    let one = |cut: &sticks::Cut| {
        let sheet = sheets.get(cut.stock)?;
        let strips: Vec<(i64, u64)> = cut
            .takes
            .iter()
            .filter_map(|(place, number)| Some((wanted.get(*place)?.width, *number)))
            .collect();
        let taken = strips.iter().map(|(width, number)| {
            let step = width.saturating_add(kerf);
            step.saturating_mul(i64::try_from(*number).unwrap_or(i64::MAX))
        });
        let left = sheet.width.saturating_sub(taken.sum());
        Some(SheetCut {
            offer: offers.get(cut.stock).copied().flatten(),
            length: length_of(sheet.length),
            width: length_of(sheet.width),
            count: u32::try_from(cut.times).unwrap_or(u32::MAX),
            strips: strips
                .into_iter()
                .map(|(w, n)| (length_of(w), u32::try_from(n).unwrap_or(u32::MAX)))
                .collect(),
            left: length_of(left.max(0)),
        })
    };
    cutting.sheets.iter().filter_map(one).collect()
}

fn strips(
    demand: &Demand,
    (sheets, offers): (&[Sheet], &[Option<OfferId>]),
    wanted: &[Wanted],
    cutting: &Cutting,
    kerf: i64,
) -> Vec<StripList> {
    let stocks: Vec<Stock> = sheets
        .iter()
        .map(|sheet| Stock {
            nominal: sheet.length,
            full: sheet.length,
            usable: sheet.length,
            ..sheet.stock.clone()
        })
        .collect();
    let of_width = |(group, cuts): (&Wanted, &Vec<sticks::Cut>)| {
        let bench = Bench {
            stocks: &stocks,
            sizes: &group.sizes,
            kerf,
        };
        let own = demand.sheets.iter();
        let own = own.filter(|need| needed_nm(need.width) == group.width);
        let pieces: Vec<PieceNeed> = own.map(SheetNeed::as_piece).collect();
        StripList {
            width: length_of(group.width),
            strips: sticks::marked(&bench, cuts, offers, &pieces),
        }
    };
    wanted.iter().zip(&cutting.strips).map(of_width).collect()
}

impl SheetNeed {
    /// Along the ribs only, for the strips of its width.
    fn as_piece(&self) -> PieceNeed {
        PieceNeed {
            length: self.length,
            mark: self.mark.clone(),
            count: self.count,
        }
    }
}
