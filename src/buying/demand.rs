//! What the whole job needs of each material, by drop, with the stock on hand taken off.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::convert;
use super::desk::Desk;
use super::to_cut::ToCut;
use crate::model::job::{CutRow, Job, PhaseId, SiteId};
use crate::model::known::From;
use crate::model::material::{Material, MaterialId, Source};
use crate::problem::Problem;
use crate::takeoff::{KindId, Kinds, Moment, Part, TakeOff};
use crate::units::{Amount, Area, Decimal, Dimension, Length};

/// The need for one material at one moment.
#[derive(Clone, Debug)]
pub(super) struct Demand {
    /// What.
    pub(super) material: MaterialId,
    /// When.
    pub(super) moment: Moment,
    /// How it is measured.
    pub(super) dimension: Dimension,
    /// Where, by site name and phase name.
    pub(super) drops: Vec<DropNeed>,
    /// Lengths to cut, longest first; empty for what is not cut.
    pub(super) pieces: Vec<PieceNeed>,
    /// Rectangles to cut from sheets, largest first; empty for what is not.
    pub(super) sheets: Vec<SheetNeed>,
}

/// What one drop needs.
#[derive(Clone, Debug)]
pub(super) struct DropNeed {
    /// Its site.
    pub(super) site: SiteId,
    /// Its phase.
    pub(super) phase: PhaseId,
    /// Base units needed, stock on hand included.
    pub(super) gross: Decimal,
    /// Base units that are on hand.
    pub(super) on_hand: Decimal,
    /// Base units for one bed of each kind.
    pub(super) shares: Vec<(KindId, Decimal)>,
    /// Inside area of the beds in which it is a layer.
    pub(super) area: Area,
}

/// So many pieces of one length and mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct PieceNeed {
    /// How long.
    pub(super) length: Length,
    /// Where it goes.
    pub(super) mark: Arc<str>,
    /// How many.
    pub(super) count: Decimal,
}

/// So many rectangles of one size and mark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct SheetNeed {
    /// Along the ribs or the grain.
    pub(super) length: Length,
    /// Across them.
    pub(super) width: Length,
    /// Where it goes.
    pub(super) mark: Arc<str>,
    /// How many.
    pub(super) count: Decimal,
}

impl DropNeed {
    /// Base units to buy.
    pub(super) fn net(&self) -> Decimal {
        self.gross.saturating_sub(self.on_hand).max(Decimal::ZERO)
    }
}

impl Demand {
    /// Base units to buy for the whole job.
    pub(super) fn net(&self) -> Decimal {
        sum(self.drops.iter().map(DropNeed::net))
    }

    /// Base units on hand over the whole job.
    pub(super) fn on_hand(&self) -> Decimal {
        sum(self.drops.iter().map(|drop| drop.on_hand))
    }

    /// Base units for one bed of each kind, over all drops, in the order of kinds.
    pub(super) fn shares(&self) -> Vec<(KindId, Decimal)> {
        let mut shares: Vec<_> = self.drops.iter().flat_map(|d| d.shares.clone()).collect();
        shares.sort_by_key(|(kind, _)| *kind);
        shares
    }

    /// Inside area of all beds in which it is a layer.
    pub(super) fn area(&self) -> Area {
        self.drops.iter().map(|drop| drop.area).sum()
    }

    /// An amount of it.
    pub(super) fn amount(&self, base: Decimal) -> Amount {
        self.dimension.of_base(base)
    }
}

fn sum(numbers: impl Iterator<Item = Decimal>) -> Decimal {
    numbers.fold(Decimal::ZERO, Decimal::saturating_add)
}

type Key = (MaterialId, Moment, Dimension);

/// All demands, by material name and moment.
pub(super) fn demands(
    desk: &Desk<'_>,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    problems: &mut Vec<Problem>,
) -> Vec<Demand> {
    let mut gathered = gather(desk.job, kinds, takeoffs);
    gathered.sort_by(|a, b| {
        let name = |d: &Demand| desk.job.material_name(d.material);
        let key = |d: &Demand| (d.material, d.moment, d.dimension);
        name(a).cmp(name(b)).then(key(a).cmp(&key(b)))
    });
    for demand in &mut gathered {
        demand.drops.sort_by(|a, b| {
            desk.drop_key(a.site, a.phase)
                .cmp(&desk.drop_key(b.site, b.phase))
        });
    }
    take_off_stock(desk.job, &mut gathered, problems);
    gathered
}

type Drops = BTreeMap<Key, BTreeMap<(SiteId, PhaseId), DropNeed>>;

fn gather(job: &Job, kinds: &Kinds, takeoffs: &[TakeOff]) -> Vec<Demand> {
    let cut: BTreeSet<MaterialId> = takeoffs
        .iter()
        .flat_map(|t| t.pieces.iter().map(|p| p.material))
        .chain(job.pieces.iter().map(|row| row.material))
        .collect();
    let mut drops = Drops::new();
    let mut to_cut = ToCut::default();
    for (kind, takeoff) in kinds.bearers().zip(takeoffs) {
        for (key, one) in needs_of_one(job, takeoff, &cut) {
            let place = drops.entry(key).or_default();
            let drop = place
                .entry((kind.site, kind.phase))
                .or_insert_with(|| DropNeed::empty(kind.site, kind.phase));
            drop.add(kind.id, one, kind.count);
        }
        to_cut.take_off(takeoff, kind.count);
    }
    for row in job.pieces.iter().filter(|row| row.count > 0) {
        add_row(kinds, row, &mut drops);
        to_cut.row(row);
    }
    let mut demands: Vec<Demand> = drops.into_iter().map(demand_of).collect();
    to_cut.give_out(&mut demands);
    demands
}

/// Adds a row of `Pieces`; its bed's kind bears the cost, which is that bed's alone.
fn add_row(kinds: &Kinds, row: &CutRow, drops: &mut Drops) {
    let base = row.length.in_metres().saturating_mul(row.count.into());
    let key = (row.material, Moment::Build, Dimension::Length);
    let drop = drops
        .entry(key)
        .or_default()
        .entry((row.site, row.phase))
        .or_insert_with(|| DropNeed::empty(row.site, row.phase));
    drop.gross = drop.gross.saturating_add(base);
    let kind = row.bed.and_then(|bed| kinds.of_bed.get(bed.index()));
    if let Some(kind) = kind.copied() {
        drop.bear(kind, base.checked_div(kinds.count(kind)).unwrap_or(base));
    }
}

fn demand_of(
    ((material, moment, dimension), drops): (Key, BTreeMap<(SiteId, PhaseId), DropNeed>),
) -> Demand {
    Demand {
        material,
        moment,
        dimension,
        drops: drops.into_values().collect(),
        pieces: Vec::new(),
        sheets: Vec::new(),
    }
}

/// What one bed needs of one material, and the area that it covers as a layer.
#[derive(Clone, Copy, Default)]
struct OneBed {
    base: Decimal,
    area: Area,
}

impl DropNeed {
    fn empty(site: SiteId, phase: PhaseId) -> Self {
        Self {
            site,
            phase,
            gross: Decimal::ZERO,
            on_hand: Decimal::ZERO,
            shares: Vec::new(),
            area: Area::ZERO,
        }
    }

    /// Lets one bed of a kind bear so much more.
    fn bear(&mut self, kind: KindId, base: Decimal) {
        match self.shares.iter_mut().find(|(other, _)| *other == kind) {
            Some((_, share)) => *share = share.saturating_add(base),
            None => self.shares.push((kind, base)),
        }
    }

    fn add(&mut self, kind: KindId, one: OneBed, count: Decimal) {
        self.gross = self.gross.saturating_add(one.base.saturating_mul(count));
        self.area += one.area.times(count);
        self.shares.push((kind, one.base));
    }
}

/// The needs of one bed, one entry a material; lengths to cut stand for the needs of cut materials.
fn needs_of_one(job: &Job, takeoff: &TakeOff, cut: &BTreeSet<MaterialId>) -> BTreeMap<Key, OneBed> {
    let mut needs: BTreeMap<Key, OneBed> = BTreeMap::new();
    for need in &takeoff.needs {
        let amount = in_home_dimension(job.material(need.material), need.order);
        let key = (need.material, need.moment, amount.dimension());
        let told_by_pieces =
            cut.contains(&need.material) && (key.1, key.2) == (Moment::Build, Dimension::Length);
        if told_by_pieces || amount.base() <= Decimal::ZERO {
            continue;
        }
        let one = needs.entry(key).or_default();
        one.base = one.base.saturating_add(amount.base());
        if matches!(need.part, Part::Layer(_) | Part::TopUp) {
            one.area = takeoff.inside_area;
        }
    }
    for piece in &takeoff.pieces {
        let key = (piece.material, Moment::Build, Dimension::Length);
        let length = piece.length.times(Decimal::from(piece.count));
        let one = needs.entry(key).or_default();
        one.base = one.base.saturating_add(length.in_metres());
    }
    needs
}

/// Fill is measured by volume: an amendment of compost by weight and a layer of it are one order.
fn in_home_dimension(material: Option<&Material>, amount: Amount) -> Amount {
    let Some(material) = material.filter(|m| m.category.is_fill()) else {
        return amount;
    };
    convert::amount_in(Dimension::Volume, amount, material)
        .map_or(amount, |c| Dimension::Volume.of_base(c.base))
}

/// Takes the stock on hand off the needs: filling day before top-up, and drops in their order.
fn take_off_stock(job: &Job, demands: &mut [Demand], problems: &mut Vec<Problem>) {
    let mut left: BTreeMap<MaterialId, Decimal> = BTreeMap::new();
    for demand in demands {
        let Some(material) = job.material(demand.material) else {
            continue;
        };
        let Some(stock) = &material.on_hand else {
            continue;
        };
        if material.source.value != Source::Buy || stock.value.base() <= Decimal::ZERO {
            continue;
        }
        let at = |problem: Problem| match stock.from {
            From::Job(row, field) => problem.at(row, field),
            _ => problem,
        };
        if !demand.pieces.is_empty() {
            problems.push(at(lumber_on_hand(&material.name)));
            continue;
        }
        if !demand.sheets.is_empty() {
            problems.push(at(sheets_on_hand(&material.name)));
            continue;
        }
        let one = stock.value.with_base(Decimal::ONE);
        match convert::amount_in(demand.dimension, one, material) {
            Ok(converted) => {
                let left = left
                    .entry(demand.material)
                    .or_insert_with(|| stock.value.base());
                spend(demand, left, converted.base);
            }
            Err(gap) => problems.push(at(Problem::error(format!(
                "On hand of {} cannot be compared with what is needed",
                material.name
            ))
            .hint(gap.hint()))),
        }
    }
}

fn sheets_on_hand(name: &str) -> Problem {
    Problem::caution(format!(
        "On hand of {name} is not taken off, since nothing says which sizes those sheets have"
    ))
    .hint(
        "add a row to Prices with the size of a sheet, Price 0 and Available as many as there are",
    )
}

fn lumber_on_hand(name: &str) -> Problem {
    Problem::caution(format!(
        "On hand of {name} is not taken off, since nothing says how long its sticks are"
    ))
    .hint("write how many sticks of which length, as 3 x 8 ft, 2 x 10 ft")
}

/// Spends what is `left` of the stock; one base unit of it is `worth` base units of the demand.
fn spend(demand: &mut Demand, left: &mut Decimal, worth: Decimal) {
    for drop in &mut demand.drops {
        let usable = left.saturating_mul(worth);
        if usable <= drop.gross {
            drop.on_hand = usable;
            *left = Decimal::ZERO;
        } else {
            drop.on_hand = drop.gross;
            let spent = drop.gross.checked_div(worth).unwrap_or_default();
            *left = left.saturating_sub(spent).max(Decimal::ZERO);
        }
    }
}
