//! How much there is to do: the amounts of every driver on one site at one visit.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::Basis;
use super::bags::Bags;
use crate::buying::{OrderLine, Scope};
use crate::model::job::SiteId;
use crate::model::labour::Driver;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::Handover;
use crate::takeoff::{Bearer, KindId, Moment, Part, TakeOff};
use crate::units::{Amount, Volume};

/// `number / by`, nothing when `by` is zero.
pub(super) fn over(number: Decimal, by: Decimal) -> Decimal {
    number.checked_div(by).unwrap_or_default()
}

/// An amount in base units: the whole of a site, and the part of one bed of each kind.
#[derive(Clone, Debug, Default)]
pub(super) struct Todo {
    /// All beds of the site, and what belongs to no bed.
    pub(super) whole: Decimal,
    /// For one bed of each kind that needs it, in kind order.
    pub(super) per_bed: Vec<(KindId, Decimal)>,
}

impl Todo {
    /// Adds `amount` for each of the `count` beds of a kind.
    pub(super) fn add_bed(&mut self, kind: KindId, amount: Decimal, count: Decimal) {
        if amount.is_zero() {
            return;
        }
        self.whole = self.whole.saturating_add(amount.saturating_mul(count));
        match self.per_bed.last_mut() {
            Some((last, sum)) if *last == kind => *sum = sum.saturating_add(amount),
            _ => self.per_bed.push((kind, amount)),
        }
    }

    fn add(&mut self, other: &Self) {
        self.whole = self.whole.saturating_add(other.whole);
        let mut merged: BTreeMap<KindId, Decimal> = self.per_bed.iter().copied().collect();
        for (kind, amount) in &other.per_bed {
            let sum = merged.entry(*kind).or_default();
            *sum = sum.saturating_add(*amount);
        }
        self.per_bed = merged.into_iter().collect();
    }
}

/// All work of one visit to one site.
#[derive(Clone, Debug)]
pub(super) struct Workload {
    /// Where.
    pub(super) site: SiteId,
    /// Build or top-up visit.
    pub(super) moment: Moment,
    /// Amounts by driver, in base units. Hauling stands in `hauled`.
    pub(super) todo: BTreeMap<Driver, Todo>,
    /// Loose volume hauled from the tipping place, in cubic metres, by material.
    pub(super) hauled: BTreeMap<MaterialId, Todo>,
    /// Loose wood that the task of placing it carries by hand, in cubic metres, by material.
    pub(super) carried: BTreeMap<MaterialId, Todo>,
    /// Loose volume bought beyond the need, in cubic metres, by material.
    pub(super) surplus: BTreeMap<MaterialId, Decimal>,
}

impl Workload {
    fn new(site: SiteId, moment: Moment) -> Self {
        Self {
            site,
            moment,
            todo: BTreeMap::new(),
            hauled: BTreeMap::new(),
            carried: BTreeMap::new(),
            surplus: BTreeMap::new(),
        }
    }

    /// The amount of one driver; hauling is the sum over materials, with the surplus of steps.
    pub(super) fn amount(&self, driver: Driver) -> Todo {
        if driver != Driver::HaulVolume {
            return self.todo.get(&driver).cloned().unwrap_or_default();
        }
        let mut all = Todo::default();
        for todo in self.hauled.values() {
            all.add(todo);
        }
        for material in self.hauled.keys() {
            let surplus = self.surplus.get(material).copied().unwrap_or_default();
            all.whole = all.whole.saturating_add(surplus);
        }
        all
    }

    fn add_bed(&mut self, driver: Driver, kind: KindId, amount: Decimal, count: Decimal) {
        let todo = self.todo.entry(driver).or_default();
        todo.add_bed(kind, amount, count);
    }

    fn add_whole(&mut self, driver: Driver, amount: Decimal) {
        let todo = self.todo.entry(driver).or_default();
        todo.whole = todo.whole.saturating_add(amount);
    }

    /// Loose goods for one bed of a kind, of which `by_hand` is carried by those who place it.
    fn add_loose(
        &mut self,
        material: MaterialId,
        kind: KindId,
        (loose, by_hand): (Decimal, Decimal),
        count: Decimal,
    ) {
        let wheeled = loose.saturating_sub(by_hand);
        for (ways, amount) in [(&mut self.hauled, wheeled), (&mut self.carried, by_hand)] {
            if !amount.is_zero() {
                let todo = ways.entry(material).or_default();
                todo.add_bed(kind, amount, count);
            }
        }
    }
}

/// The task by which a material of this category is placed in the bed.
pub(super) fn placing(category: Category) -> Driver {
    match category {
        Category::Wood => Driver::WoodVolume,
        Category::Litter => Driver::LitterVolume,
        _ => Driver::SpreadVolume,
    }
}

/// The loose volume of an amount; a weight needs the delivered density, other amounts have none.
pub(super) fn loose(amount: Amount, material: Option<&Material>) -> Option<Volume> {
    match amount {
        Amount::Volume(volume) => Some(volume),
        Amount::Weight(weight) => {
            let density = material?.delivered.as_ref()?.value;
            Some(weight.volume_at(density))
        }
        _ => None,
    }
}

/// Every visit with work in it, by site name and moment.
pub(super) fn visits(basis: &Basis) -> Vec<Workload> {
    let bags = Bags::of(basis);
    let mut found: BTreeMap<(SiteId, Moment), Workload> = BTreeMap::new();
    for (kind, takeoff) in basis.kinds.bearers().zip(basis.takeoffs) {
        let build = entry(&mut found, kind.site, Moment::Build);
        building(basis, build, kind, takeoff, &bags);
        if basis.has_top_up() {
            topping_up(basis, &mut found, kind, takeoff, &bags);
        }
    }
    for load in found.values_mut().filter(|l| l.moment == Moment::Build) {
        load.add_whole(Driver::Site, Decimal::ONE);
    }
    bought(basis, &mut found);
    let mut visits: Vec<Workload> = found.into_values().collect();
    visits.sort_by(|a, b| {
        let key = |w: &Workload| (basis.site_name(w.site), w.moment, w.site);
        key(a).cmp(&key(b))
    });
    typed_hours(basis, &mut visits);
    visits
}

fn entry(
    found: &mut BTreeMap<(SiteId, Moment), Workload>,
    site: SiteId,
    moment: Moment,
) -> &mut Workload {
    let fresh = || Workload::new(site, moment);
    found.entry((site, moment)).or_insert_with(fresh)
}

fn building(basis: &Basis, load: &mut Workload, kind: Bearer, takeoff: &TakeOff, bags: &Bags) {
    let id = kind.id;
    for (driver, amount) in &takeoff.work {
        // Hauling comes from `hauled`, by material; bags, loads and sites are counted elsewhere.
        if !matches!(
            driver,
            Driver::HaulVolume | Driver::Bag | Driver::Load | Driver::Site
        ) {
            load.add_bed(*driver, id, *amount, kind.count);
        }
    }
    load.add_bed(Driver::Bag, id, bags.of_bed(Moment::Build, id), kind.count);
    for (material, volume) in &takeoff.hauled {
        let share = bags.loose_share(Moment::Build, *material, id);
        let by_hand = placed_wood(basis, takeoff, *material).min(*volume);
        let loose = |volume: Volume| volume.in_cubic_metres().saturating_mul(share);
        let amounts = (loose(*volume), loose(by_hand));
        load.add_loose(*material, id, amounts, kind.count);
    }
}

/// What of a material lies in layers of nothing but wood: the task that places wood carries it there,
/// so no barrow takes it as well. Wood blended into a mix is wheeled and spread with the mix.
fn placed_wood(basis: &Basis, takeoff: &TakeOff, material: MaterialId) -> Volume {
    if !is_carried(basis, material) {
        return Volume::ZERO;
    }
    let layers = || {
        let needs = takeoff.needs.iter();
        needs.filter(|n| n.moment == Moment::Build && matches!(n.part, Part::Layer(_)))
    };
    let pure = |part: Part| layers().filter(|n| n.part == part).count() == 1;
    layers()
        .filter(|need| need.material == material && pure(need.part))
        .filter_map(|need| loose(need.order, basis.job.material(material)))
        .sum()
}

/// Whether a material is wood and a task carries and places wood.
fn is_carried(basis: &Basis, material: MaterialId) -> bool {
    let material = basis.job.material(material);
    material.is_some_and(|m| placing(m.category) == Driver::WoodVolume)
        && basis
            .job
            .tasks
            .iter()
            .any(|t| t.driver == Driver::WoodVolume)
}

/// The top-up visit hauls and places its own material and nothing else.
fn topping_up(
    basis: &Basis,
    found: &mut BTreeMap<(SiteId, Moment), Workload>,
    kind: Bearer,
    takeoff: &TakeOff,
    bags: &Bags,
) {
    let id = kind.id;
    let needs = || takeoff.needs.iter().filter(|n| n.moment == Moment::TopUp);
    // More than one material is a mix, which is blended on this visit too.
    let mixed = needs().count() > 1;
    for need in needs() {
        let material = basis.job.material(need.material);
        let volume = loose(need.order, material).unwrap_or_default();
        if volume.is_zero() {
            continue;
        }
        let load = entry(found, kind.site, Moment::TopUp);
        let volume = volume.in_cubic_metres();
        let place = material.map_or(Driver::SpreadVolume, |m| placing(m.category));
        load.add_bed(place, id, volume, kind.count);
        if mixed {
            load.add_bed(Driver::MixVolume, id, volume, kind.count);
        }
        let share = bags.loose_share(Moment::TopUp, need.material, id);
        let volume = volume.saturating_mul(share);
        let by_hand = if is_carried(basis, need.material) {
            volume
        } else {
            Decimal::ZERO
        };
        load.add_loose(need.material, id, (volume, by_hand), kind.count);
    }
    let carried = bags.of_bed(Moment::TopUp, id);
    if !carried.is_zero() {
        entry(found, kind.site, Moment::TopUp).add_bed(Driver::Bag, id, carried, kind.count);
    }
}

/// Loads to receive and surplus of steps, on visits that have work.
fn bought(basis: &Basis, found: &mut BTreeMap<(SiteId, Moment), Workload>) {
    // What is carried away is loaded, which hauling counts; nobody receives it.
    let leaves = |line: &OrderLine| basis.job.spoil == Some(line.material);
    for trips in &basis.bought.trips {
        let mut lines = trips.lines.iter();
        if lines.any(|l| basis.bought.lines.get(*l).is_some_and(leaves)) {
            continue;
        }
        if let Some(load) = found.get_mut(&(trips.site, trips.moment)) {
            load.add_whole(Driver::Load, Decimal::from(trips.loads.len()));
        }
    }
    let lines = basis.bought.lines.iter();
    for line in lines.filter(|line| !leaves(line)) {
        if let Some((site, surplus)) = bulk_surplus(basis, line)
            && let Some(load) = found.get_mut(&(site, line.moment))
        {
            let sum = load.surplus.entry(line.material).or_default();
            *sum = sum.saturating_add(surplus.in_cubic_metres());
        }
    }
}

fn bulk_surplus(basis: &Basis, line: &OrderLine) -> Option<(SiteId, Volume)> {
    let Scope::Drop(site, _) = line.scope else {
        return None;
    };
    let offer = basis.job.offers.get(line.offer?.index())?;
    let surplus = loose(line.surplus, basis.job.material(line.material))?;
    let counts = offer.handover == Handover::Bulk && surplus > Volume::ZERO;
    counts.then_some((site, surplus))
}

/// Hours typed as such are for the whole job, once: they stand on the first site by name.
fn typed_hours(basis: &Basis, visits: &mut [Workload]) {
    let typed = basis.job.tasks.iter().any(|t| t.driver == Driver::Hour);
    if let Some(first) = visits.first_mut().filter(|_| typed) {
        first.add_whole(Driver::Hour, Decimal::ONE);
    }
}
