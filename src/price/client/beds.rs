//! Where, what is built, what goes in and what is brought, in words that a client reads.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::super::naming::first_three;
use super::super::{Estimate, Group};
use super::{Built, Goods, LineKind, Place};
use crate::buying::OrderLine;
use crate::model::bed::{Bed, BedId};
use crate::model::frame::Wall;
use crate::model::job::{PhaseId, SiteId};
use crate::model::naming::by_name;
use crate::model::settings::TopUp;
use crate::takeoff::{BedKind, Moment, TakeOff};
use crate::units::{Amount, Decimal, Money, System, show};

/// Rows of `Beds` that stand one by one. In a larger job beds that are alike stand together, since
/// nobody reads thousands of lines.
const MOST_ROWS: usize = 200;

/// A bed or area among which the price is divided.
pub(super) struct Bearing {
    pub(super) kind: LineKind,
    pub(super) name: String,
    groups: [Money; 5],
}

impl Bearing {
    /// Materials, delivery, labour and hire; extras have lines of their own or follow these.
    pub(super) fn weight(&self) -> Decimal {
        let groups = Group::ALL.iter().zip(&self.groups);
        let own = groups.filter(|(group, _)| **group != Group::Other);
        let own: Money = own.map(|(_, money)| *money).sum();
        own.amount()
    }
}

/// Names in the order in which people look for them.
pub(super) fn order(a: &str, b: &str) -> Ordering {
    by_name(a, b)
}

/// Rows of beds that stand together, in the order in which they are read.
struct Together {
    name: String,
    rows: Vec<BedId>,
}

fn together(estimate: &Estimate) -> Vec<Together> {
    let beds = &estimate.job.beds;
    let name = |id: BedId| named(estimate, id);
    let mut all: Vec<Together> = if beds.len() <= MOST_ROWS {
        let rows = (0..beds.len()).map(BedId::of);
        rows.map(|id| Together {
            name: name(id).to_owned(),
            rows: vec![id],
        })
        .collect()
    } else {
        let kinds = estimate.kinds.kinds.iter();
        kinds
            .map(|kind| {
                let mut rows = kind.beds.clone();
                rows.sort_by(|a, b| by_name(name(*a), name(*b)));
                let names = rows.iter().map(|id| name(*id).to_owned());
                Together {
                    name: first_three(names),
                    rows,
                }
            })
            .collect()
    };
    all.sort_by(|a, b| by_name(&a.name, &b.name));
    all
}

/// Beds, then areas.
pub(super) fn bearers(estimate: &Estimate) -> Vec<Bearing> {
    let money: BTreeMap<BedId, &[Money; 5]> = {
        let beds = estimate.price.beds.iter();
        beds.map(|m| (m.bed, &m.groups)).collect()
    };
    let beds = together(estimate).into_iter().map(|together| {
        let mut groups = [Money::ZERO; 5];
        for own in together.rows.iter().filter_map(|id| money.get(id)) {
            for (sum, part) in groups.iter_mut().zip(own.iter()) {
                *sum += *part;
            }
        }
        Bearing {
            kind: LineKind::Beds,
            name: counted(estimate, &together),
            groups,
        }
    });
    let areas = estimate.price.areas.iter().filter_map(|money| {
        let area = estimate.job.areas.get(money.area.index())?;
        Some(Bearing {
            kind: LineKind::Area,
            name: area.name.to_string(),
            groups: money.groups,
        })
    });
    let mut areas: Vec<Bearing> = areas.collect();
    areas.sort_by(|a, b| by_name(&a.name, &b.name));
    beds.chain(areas).collect()
}

fn count(estimate: &Estimate, together: &Together) -> u64 {
    let beds = together.rows.iter();
    let beds = beds.filter_map(|id| estimate.job.beds.get(id.index()));
    beds.map(|bed| u64::from(bed.count)).sum()
}

/// `A1 Herb walk`, or `A1 Herb walk, 2 beds` for beds alike.
fn counted(estimate: &Estimate, together: &Together) -> String {
    match count(estimate, together) {
        1 => together.name.clone(),
        n => format!("{}, {n} beds", together.name),
    }
}

/// Sites that have beds or areas, by name; nothing for a single one without an address, which says no more
/// than the name of the job.
pub(super) fn places(estimate: &Estimate) -> Vec<Place> {
    let used: BTreeSet<SiteId> = estimate.kinds.bearers().map(|b| b.site).collect();
    let sites = used.into_iter();
    let sites = sites.filter_map(|id| estimate.job.sites.get(id.index()));
    let mut places: Vec<Place> = sites
        .map(|site| Place {
            name: Arc::clone(&site.name),
            address: site.address.clone(),
        })
        .collect();
    if let [only] = places.as_slice()
        && only.address.is_none()
    {
        places.clear();
    }
    places.sort_by(|a, b| by_name(&a.name, &b.name));
    places
}

/// Site and phase, as far as the job has more than one.
fn place(estimate: &Estimate, site: SiteId, phase: PhaseId) -> Option<Arc<str>> {
    let job = &estimate.job;
    let site = job.sites.get(site.index()).map(|site| &*site.name);
    let phase = job.phases.get(phase.index()).map(|phase| &**phase);
    let parts = [
        site.filter(|_| job.sites.len() > 1),
        phase.filter(|_| job.phases.len() > 1),
    ];
    let parts: Vec<&str> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| parts.join(", ").into())
}

/// Beds, one by one or with those alike.
pub(super) fn beds(estimate: &Estimate) -> Vec<Built> {
    let built = together(estimate).into_iter().filter_map(|together| {
        let first = together.rows.first()?;
        let (kind, takeoff) = kind_of(estimate, *first)?;
        Some(Built {
            count: Some(count(estimate, &together)),
            ..built_of(estimate, together.name, kind, takeoff)
        })
    });
    built.collect()
}

/// All beds of a kind under one name.
pub(super) fn built_of(
    estimate: &Estimate,
    name: String,
    kind: &BedKind,
    takeoff: &TakeOff,
) -> Built {
    let bed = estimate.job.beds.get(kind.first.index());
    Built {
        name,
        count: kind.count.try_into().ok(),
        place: place(estimate, kind.site, kind.phase),
        size: takeoff.size.clone(),
        walls: bed.and_then(|bed| walls(estimate, bed)),
        filled_with: filled_with(takeoff, estimate.job.settings.units.value),
    }
}

/// What a row of beds is called.
pub(super) fn named(estimate: &Estimate, id: BedId) -> &str {
    estimate
        .job
        .beds
        .get(id.index())
        .map_or("", |bed| &bed.name)
}

fn kind_of(estimate: &Estimate, bed: BedId) -> Option<(&BedKind, &TakeOff)> {
    let kind = estimate.kinds.of_bed.get(bed.index())?.index();
    let kinds = &estimate.kinds.kinds;
    Some((kinds.get(kind)?, estimate.takeoffs.get(kind)?))
}

fn walls(estimate: &Estimate, bed: &Bed) -> Option<Arc<str>> {
    let frame = estimate.job.frames.get(bed.frame.index())?;
    let has_walls = !matches!(frame.wall, Wall::Mound(_));
    has_walls.then(|| Arc::clone(&frame.name))
}

fn filled_with(takeoff: &TakeOff, system: System) -> Vec<String> {
    let layers = takeoff.layers.iter();
    let words = layers.map(|layer| match layer.sheets {
        0 => format!("{} {}", system.depth(layer.depth), layer.name),
        1 => format!("1 sheet {}", layer.name),
        n => format!("{n} sheets {}", layer.name),
    });
    words.collect()
}

/// Paths and surrounds.
pub(super) fn areas(estimate: &Estimate) -> Vec<Built> {
    let first = estimate.kinds.kinds.len();
    let takeoffs = estimate.takeoffs.iter().skip(first);
    let areas = estimate.kinds.areas.iter().zip(takeoffs);
    let built = areas.filter_map(|(kind, takeoff)| {
        let area = estimate.job.areas.get(kind.area.index())?;
        Some(Built {
            name: area.name.to_string(),
            count: None,
            place: place(estimate, area.site, area.phase),
            size: takeoff.size.clone(),
            walls: None,
            filled_with: Vec::new(),
        })
    });
    let mut built: Vec<Built> = built.collect();
    built.sort_by(|a, b| by_name(&a.name, &b.name));
    built
}

/// Goods that the price brings to the site, whoever brings them.
pub(super) fn goods(estimate: &Estimate) -> Vec<Goods> {
    moved(estimate, |line| Some(line.material) != estimate.job.spoil)
}

/// What is taken away.
pub(super) fn taken_away(estimate: &Estimate) -> Vec<Goods> {
    moved(estimate, |line| Some(line.material) == estimate.job.spoil)
}

fn moved(estimate: &Estimate, counts: impl Fn(&OrderLine) -> bool) -> Vec<Goods> {
    let job = &estimate.job;
    let has_top_up = job.settings.top_up.value == TopUp::Included;
    let in_price = |line: &&OrderLine| line.moment == Moment::Build || has_top_up;
    let lines = estimate.bought.lines.iter().filter(in_price);
    let mut packs: BTreeMap<&str, BTreeMap<String, Decimal>> = BTreeMap::new();
    for line in lines.filter(|line| counts(line)) {
        let (pack, quantity) = pack(estimate, line);
        if quantity.is_zero() {
            continue;
        }
        let goods = packs.entry(job.material_name(line.material)).or_default();
        let sum = goods.entry(pack).or_default();
        *sum = sum.saturating_add(quantity);
    }
    let told = packs.into_iter().map(|(name, packs)| Goods {
        name: name.to_owned(),
        packs: packs
            .into_iter()
            .map(|(pack, n)| show::packs(n.round_dp(2), &pack))
            .collect(),
    });
    let mut goods: Vec<Goods> = told.collect();
    goods.sort_by(|a, b| by_name(&a.name, &b.name));
    goods
}

/// What a line comes in, and how many of it; what nobody sells, in the units of the job.
fn pack(estimate: &Estimate, line: &OrderLine) -> (String, Decimal) {
    let job = &estimate.job;
    let system = job.settings.units.value;
    let Some(offer) = line.offer.and_then(|id| job.offers.get(id.index())) else {
        let unit = system.unit(line.need.dimension());
        return (unit.to_owned(), system.number(line.need));
    };
    let pack = match offer.holds {
        Amount::Length(length) => format!("{} {}", offer.pack, system.length(length)),
        _ => offer.pack.to_string(),
    };
    (pack, line.quantity)
}
