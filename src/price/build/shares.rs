//! Cost to beds: each pool of cost is shared by its measure, one column a pool, one row a kind.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::super::estimate::Group;
use super::super::ledger::{Format, Ledger};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::hours::WorkedRow;
use super::inputs::Inputs;
use super::orders::moment_words;
use super::table::Table;
use super::tail::Costs;
use crate::buying::Trips;
use crate::model::job::SiteId;
use crate::model::labour::{Extra, Per};
use crate::model::settings::TopUp;
use crate::takeoff::{Bearer, BedKind, KindId, Moment, TakeOff};

/// A pool of cost and what it is shared by.
struct Pool {
    group: Group,
    title: String,
    /// Live cost of the pool that stands in the price.
    cost: Term,
    /// Measure of one bed of each kind.
    measures: BTreeMap<KindId, Decimal>,
}

/// Kinds with their live cost a bed.
pub(super) struct Kinds {
    pub block: u16,
    /// Cost of one bed, one column a group in the order of [`Group::ALL`].
    pub groups: Vec<ColRef>,
}

impl Setting<'_> {
    /// The blocks that share cost to kinds of bed.
    pub(super) fn shares(&self, ledger: &mut Ledger, inputs: &Inputs, costs: &Costs<'_>) -> Kinds {
        let pools = self.pools(inputs, costs);
        let mut head = Table::new(ledger, "Shares", "What one unit of measure costs", 1);
        head.words("Pool", ["a unit".to_owned()]);
        head.words("Beds", [String::new()]);
        let rate = |pool: &Pool| {
            pool.cost
                .clone()
                .ratio(Term::Number(self.total_measure(pool)))
        };
        let number = Format::Number(6);
        let heads: Vec<ColRef> = pools
            .iter()
            .map(|pool| head.rows(&pool.title, number, [rate(pool)]))
            .collect();
        let bearers: Vec<Bearer> = self.kinds.bearers().collect();
        let block = ledger.block("Shares", self.measure_title(), bearers.len());
        let mut table = Table::of(ledger, block);
        table.words(
            "Kind, by its first bed",
            bearers.iter().map(|b| self.bearer_words(b.id)),
        );
        table.fixed("Beds", 0, bearers.iter().map(|b| b.count));
        let measures = |pool: &Pool| {
            let of = |kind: usize| pool.measures.get(&KindId::of(kind)).copied();
            (0..bearers.len()).map(of).collect::<Vec<_>>()
        };
        let columns: Vec<ColRef> = pools
            .iter()
            .map(|pool| table.some(&pool.title, 4, measures(pool)))
            .collect();
        let groups = Group::ALL.map(|group| {
            let mut span = pools
                .iter()
                .zip(&columns)
                .zip(&heads)
                .filter(|((p, _), _)| p.group == group);
            let first = span.next();
            let last = span.next_back().or(first);
            let term = match (first, last) {
                (Some(((_, from), head)), Some(((_, to), _))) => Term::Dot {
                    from: *from,
                    to: *to,
                    head: *head,
                },
                _ => Term::whole(0),
            };
            table.live(&format!("{} a bed", group.title()), 4, term)
        });
        Kinds {
            block,
            groups: groups.to_vec(),
        }
    }

    fn measure_title(&self) -> &'static str {
        if self.job.areas.is_empty() {
            "Measure of one bed of each kind"
        } else {
            "Measure of one bed of each kind, and of each area"
        }
    }

    /// A kind by its first bed, an area by its own name.
    fn bearer_words(&self, id: KindId) -> String {
        let kind = self.kinds.kinds.get(id.index());
        let bed = kind.and_then(|k| self.job.beds.get(k.first.index()));
        let area = self
            .kinds
            .area(id)
            .and_then(|a| self.job.areas.get(a.index()));
        let name = bed.map(|b| &b.name).or_else(|| area.map(|a| &a.name));
        name.map_or_else(String::new, ToString::to_string)
    }

    fn total_measure(&self, pool: &Pool) -> Decimal {
        let total = pool.measures.iter().fold(Decimal::ZERO, |sum, (kind, m)| {
            sum.saturating_add(m.saturating_mul(self.kinds.count(*kind)))
        });
        crate::units::round::tidy15(total)
    }

    /// All pools with a cost in the price, by group.
    fn pools(&self, inputs: &Inputs, costs: &Costs<'_>) -> Vec<Pool> {
        let mut pools = self.order_pools(costs);
        pools.extend(self.trip_pools(costs));
        pools.extend(self.labour_pools(costs));
        pools.extend(self.hire_pools(costs));
        pools.extend(self.extra_pools(inputs, costs));
        for pool in &mut pools {
            if self.total_measure(pool).is_zero() {
                pool.measures = self.one_each(None);
            }
        }
        pools.sort_by_key(|p| p.group);
        pools
    }

    fn in_price(&self, moment: Moment) -> bool {
        moment == Moment::Build || self.job.settings.top_up.value == TopUp::Included
    }

    fn order_pools(&self, costs: &Costs<'_>) -> Vec<Pool> {
        let lines = self
            .bought
            .lines
            .iter()
            .enumerate()
            .filter(|(_, l)| self.in_price(l.moment) && !l.free);
        lines
            .map(|(row, line)| Pool {
                group: Group::Materials,
                title: format!(
                    "{}, {}",
                    self.job.material_name(line.material),
                    moment_words(line.moment)
                ),
                cost: Term::cell(costs.orders.cost, row) + Term::cell(costs.orders.tax, row),
                measures: line.measures.iter().copied().collect(),
            })
            .collect()
    }

    fn trip_pools(&self, costs: &Costs<'_>) -> Vec<Pool> {
        let trips = self
            .bought
            .trips
            .iter()
            .enumerate()
            .filter(|(_, t)| self.in_price(t.moment));
        trips
            .map(|(row, trip)| Pool {
                group: Group::Delivery,
                title: self.trip_words(trip),
                cost: Term::cell(costs.trips.cost, row),
                measures: trip.measures.iter().copied().collect(),
            })
            .collect()
    }

    /// What comes, where: `Trip with Compost, Front court`.
    fn trip_words(&self, trip: &Trips) -> String {
        let carried = trip.lines.iter().filter_map(|l| self.bought.lines.get(*l));
        let mut carried: Vec<&str> = carried
            .map(|line| self.job.material_name(line.material))
            .collect();
        carried.dedup();
        let place = self.place_words(trip.site, trip.phase);
        match carried.as_slice() {
            [] => format!("Trip, {place}"),
            [only] => format!("Trip with {only}, {place}"),
            [first, ..] => format!("Trip with {first} and more, {place}"),
        }
    }

    /// Labour of a site and moment is one pool, shared by the hours as estimated.
    fn labour_pools(&self, costs: &Costs<'_>) -> Vec<Pool> {
        let mut pools: BTreeMap<(SiteId, Moment), Pool> = BTreeMap::new();
        let rows = costs.hours.iter().flat_map(|worked| {
            let rows = worked.rows.iter().enumerate();
            rows.map(move |(row, of)| (row, &worked.cells, of))
        });
        for (
            row,
            cells,
            WorkedRow {
                site,
                moment,
                measures,
                ..
            },
        ) in rows
        {
            let (site, moment) = (*site, *moment);
            if !self.in_price(moment) {
                continue;
            }
            let pool = pools.entry((site, moment)).or_insert_with(|| Pool {
                group: Group::Labour,
                title: format!("Hours, {}, {}", self.site_words(site), moment_words(moment)),
                cost: Term::whole(0),
                measures: BTreeMap::new(),
            });
            let cost = Term::cell(cells.cost, row) + Term::cell(cells.charge, row);
            pool.cost = if pool.cost == Term::whole(0) {
                cost
            } else {
                std::mem::replace(&mut pool.cost, Term::whole(0)) + cost
            };
            for (kind, hours) in *measures {
                let sum = pool.measures.entry(*kind).or_default();
                *sum = sum.saturating_add(*hours);
            }
        }
        pools
            .into_iter()
            .map(|((site, _), pool)| self.or_site(pool, site))
            .collect()
    }

    fn hire_pools(&self, costs: &Costs<'_>) -> Vec<Pool> {
        let lines = self.labour.hire.iter().enumerate();
        lines
            .map(|(row, line)| {
                let item = self
                    .job
                    .equipment
                    .get(line.equipment)
                    .map_or_else(String::new, |e| e.name.to_string());
                let pool = Pool {
                    group: Group::Equipment,
                    title: format!("{item}, {}", self.site_words(line.site)),
                    cost: Term::cell(costs.hire.cost, row),
                    measures: line.measures.iter().copied().collect(),
                };
                self.or_site(pool, line.site)
            })
            .collect()
    }

    fn extra_pools(&self, inputs: &Inputs, costs: &Costs<'_>) -> Vec<Pool> {
        let mut pools = Vec::new();
        for (index, extra) in self.job.extras.iter().enumerate() {
            let row = inputs
                .extras
                .row(index)
                .and_then(|r| usize::try_from(r).ok());
            let Some(row) = row else { continue };
            if super::extras::Stand::of(extra) == super::extras::Stand::Nowhere {
                continue;
            }
            pools.push(Pool {
                group: Group::Other,
                title: extra.item.to_string(),
                cost: Term::cell(costs.extras.cost, row) + Term::cell(costs.extras.tax, row),
                measures: self.extra_measures(extra),
            });
        }
        pools
    }

    /// What comes for each bed or area goes by beds or area; what comes for a site goes to its own beds;
    /// what comes once for the job goes to all.
    fn extra_measures(&self, extra: &Extra) -> BTreeMap<KindId, Decimal> {
        let by_site: BTreeMap<SiteId, Decimal> = self.extra_times(extra).into_iter().collect();
        let has_it = |kind: &&BedKind| {
            let in_phase = extra.phase.is_none_or(|p| p == kind.phase);
            let at_site = extra.site.is_none_or(|s| s == kind.site);
            let comes = extra.per == Per::Job || by_site.contains_key(&kind.site);
            in_phase && at_site && comes
        };
        let beds_at = |site: SiteId| {
            let kinds = self.kinds.kinds.iter().filter(has_it);
            let there = kinds.filter(|k| k.site == site).map(|k| k.count);
            there.fold(Decimal::ZERO, Decimal::saturating_add)
        };
        let measure = |kind: &BedKind, takeoff: Option<&TakeOff>| match extra.per {
            Per::Bed | Per::Job => Some(Decimal::ONE),
            Per::Area => Some(takeoff?.inside_area.in_square_metres()),
            _ => by_site.get(&kind.site)?.checked_div(beds_at(kind.site)),
        };
        let kinds = self.kinds.kinds.iter().enumerate();
        kinds
            .filter(|(_, kind)| has_it(kind))
            .filter_map(|(index, kind)| {
                let measure = measure(kind, self.takeoffs.get(index))?;
                Some((KindId::of(index), measure))
            })
            .collect()
    }

    /// One measure for each bed, of a site or of the job; for each area where no bed stands.
    fn one_each(&self, site: Option<SiteId>) -> BTreeMap<KindId, Decimal> {
        let here = |b: &Bearer| site.is_none_or(|s| s == b.site);
        let mut found: Vec<Bearer> = self.kinds.bearers().filter(here).collect();
        let is_bed = |b: &Bearer| self.kinds.area(b.id).is_none();
        if found.iter().any(is_bed) {
            found.retain(is_bed);
        }
        found.into_iter().map(|b| (b.id, Decimal::ONE)).collect()
    }

    /// The pool itself, or shared equally by the beds of its site when it has no measure.
    fn or_site(&self, mut pool: Pool, site: SiteId) -> Pool {
        if self.total_measure(&pool).is_zero() {
            pool.measures = self.one_each(Some(site));
        }
        pool
    }
}
