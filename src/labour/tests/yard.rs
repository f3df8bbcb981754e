//! A small job for the tests of labour, made by hand: sites, beds by what they bring, and people.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::super::{Labour, LabourLine, extra_times, work};
use super::blank::{empty_job, library};
use crate::buying::by_hand::order_line;
use crate::buying::{Bought, OrderLine, Scope};
use crate::model::bed::BedId;
use crate::model::by_hand;
pub(super) use crate::model::by_hand::row;
use crate::model::job::{Job, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::{
    Driver, Equipment, Extra, HireStep, Pay, Per, Task, TaskId, Worker, WorkerId,
};
use crate::model::library::Library;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::{Handover, Offer, OfferId, SupplierId};
use crate::takeoff::by_hand::{kind, nothing};
use crate::takeoff::{KindId, Kinds, TakeOff};
pub(super) use crate::units::by_hand::{d, yards};
use crate::units::by_hand::{feet, hours};
use crate::units::{Amount, Density, Hours, Volume};

/// A value of the job's row 1, column `field`.
pub(super) fn given<T>(value: T, field: &'static str) -> Known<T> {
    Known::job(value, row(1), field)
}

/// A job in the making.
#[derive(Clone)]
pub(super) struct Yard {
    pub(super) job: Job,
    pub(super) kinds: Kinds,
    pub(super) takeoffs: Vec<TakeOff>,
    pub(super) bought: Bought,
    pub(super) library: Library,
}

impl Yard {
    /// A job with one site, no beds, a crew of 4 and days of 8 h without set-up or travel.
    pub(super) fn new() -> Self {
        let mut yard = Self {
            job: empty_job(),
            kinds: Kinds::default(),
            takeoffs: Vec::new(),
            bought: Bought::default(),
            library: library(),
        };
        yard.site("Meadow");
        yard
    }

    pub(super) fn work(&self) -> Labour {
        work(
            &self.job,
            &self.kinds,
            &self.takeoffs,
            &self.bought,
            &self.library,
        )
    }

    pub(super) fn extra_comes(&self, extra: usize) -> Vec<(SiteId, String)> {
        let labour = self.work();
        let extra = &self.job.extras[extra];
        let found = extra_times(&self.job, &self.kinds, &self.takeoffs, &labour, extra);
        let words = |(site, n): (SiteId, Decimal)| (site, n.normalize().to_string());
        found.into_iter().map(words).collect()
    }

    pub(super) fn site(&mut self, name: &str) -> SiteId {
        let id = SiteId::of(self.job.sites.len());
        self.job.sites.push(Site {
            at: Some(row(10 + id.0)),
            travel: given(Hours::ZERO, "Travel time"),
            haul: given(feet("100"), "Haul distance"),
            ..by_hand::site(name)
        });
        id
    }

    /// Beds of one kind in the first phase, by what one of them brings.
    pub(super) fn beds(&mut self, site: SiteId, count: u32, work: &[(Driver, &str)]) -> KindId {
        let id = KindId::of(self.kinds.kinds.len());
        let beds = kind(vec![BedId(id.0)], count.into(), site);
        self.kinds.kinds.push(beds);
        self.kinds.of_bed.push(id);
        let work = work.iter().map(|(driver, n)| (*driver, d(n))).collect();
        self.takeoffs.push(TakeOff { work, ..nothing() });
        id
    }

    pub(super) fn take_off(&mut self, kind: KindId) -> &mut TakeOff {
        &mut self.takeoffs[kind.index()]
    }

    /// A task of the job's own, by the single base unit.
    pub(super) fn task(&mut self, name: &str, driver: Driver, rate: &str) -> TaskId {
        let id = TaskId::of(self.job.tasks.len());
        let rate = given(d(rate), "Person-hours");
        self.job.tasks.push(Task {
            at: Some(row(20 + id.0)),
            ..by_hand::task(name, driver, rate)
        });
        id
    }

    /// A task at the library's rate: low, typical, high.
    pub(super) fn typical_task(&mut self, name: &str, driver: Driver, hours: [&str; 3]) -> TaskId {
        let id = self.task(name, driver, hours[1]);
        let task = &mut self.job.tasks[id.index()];
        task.at = None;
        task.rate = Known::library(d(hours[1]), "tasks", name.into(), "typical_h");
        task.range = Some((d(hours[0]), d(hours[2])));
        id
    }

    pub(super) fn worker(&mut self, name: &str, pay: Pay) -> WorkerId {
        let id = WorkerId::of(self.job.workers.len());
        self.job.workers.push(Worker {
            at: row(30 + id.0),
            session: given(hours("3"), "Session length"),
            per_supervisor: given(9, "Per supervisor"),
            briefing: given(hours("0.33"), "Session length"),
            ..by_hand::worker(name, pay)
        });
        id
    }

    pub(super) fn material(
        &mut self,
        name: &str,
        category: Category,
        pounds_a_yard: Option<&str>,
    ) -> MaterialId {
        let id = MaterialId::of(self.job.materials.len());
        let density = |text| given(Density::pounds_per_cubic_yard(d(text)), "Delivered density");
        self.job.materials.push(Material {
            at: Some(row(40 + id.0)),
            delivered: pounds_a_yard.map(density),
            ..by_hand::material(name, category)
        });
        id
    }

    /// Something for sale by volume.
    pub(super) fn offer(
        &mut self,
        material: MaterialId,
        handover: Handover,
        holds: Volume,
    ) -> OfferId {
        let id = OfferId::of(self.job.offers.len());
        self.job.offers.push(Offer {
            at: row(50 + id.0),
            handover,
            ..by_hand::offer(SupplierId(0), material, "pack", Amount::Volume(holds))
        });
        id
    }

    /// An order line of an offer; the measures are base units for one bed of each kind.
    pub(super) fn order(
        &mut self,
        offer: OfferId,
        scope: Scope,
        need: Volume,
        measures: &[(KindId, Volume)],
    ) -> &mut OrderLine {
        let sold = &self.job.offers[offer.index()];
        let Amount::Volume(holds) = sold.holds else {
            unreachable!("offers of this yard are by volume")
        };
        let need_units = need.ratio(holds);
        let quantity = crate::units::round::whole_up(need_units);
        let measures = measures.iter().map(|(k, v)| (*k, v.in_cubic_metres()));
        self.bought.lines.push(OrderLine {
            scope,
            offer: Some(offer),
            need_units,
            quantity,
            surplus: Amount::Volume(holds.times(quantity) - need),
            measures: measures.collect(),
            ..order_line(sold.material, Amount::Volume(need))
        });
        self.bought.lines.last_mut().unwrap()
    }

    pub(super) fn equipment(&mut self, name: &str, step: HireStep) -> &mut Equipment {
        let at = row(60 + u32::try_from(self.job.equipment.len()).unwrap());
        self.job.equipment.push(Equipment {
            at,
            ..by_hand::equipment(name, step)
        });
        self.job.equipment.last_mut().unwrap()
    }

    pub(super) fn extra(
        &mut self,
        item: &str,
        per: Per,
        quantity: &str,
        hours: &str,
    ) -> &mut Extra {
        let at = row(70 + u32::try_from(self.job.extras.len()).unwrap());
        self.job.extras.push(Extra {
            at,
            quantity: given(d(quantity), "Quantity"),
            per,
            hours: Some(given(d(hours), "Person-hours each")).filter(|h| !h.value.is_zero()),
            ..by_hand::extra(item)
        });
        self.job.extras.last_mut().unwrap()
    }
}

/// The line of a name, which must be there once.
#[track_caller]
pub(super) fn named<'a>(labour: &'a Labour, name: &str) -> &'a LabourLine {
    let mut found = labour.lines.iter().filter(|l| &*l.name == name);
    let line = found.next();
    let names: Vec<&Arc<str>> = labour.lines.iter().map(|l| &l.name).collect();
    assert!(line.is_some(), "no line {name} among {names:?}");
    assert!(found.next().is_none(), "{name} stands there twice");
    line.unwrap()
}

/// Hours of the line of a name.
#[track_caller]
pub(super) fn check_hours(labour: &Labour, name: &str, hours: &str) {
    let found = named(labour, name).hours.in_hours();
    assert_eq!(found, d(hours), "hours of {name}");
}

/// The first line of every message, with its row and column.
pub(super) fn told(labour: &Labour) -> Vec<String> {
    let problems = labour.problems.iter();
    problems
        .map(|p| {
            let spot = p.spot.map(|s| format!(" @{}:{}", s.row.row, s.field));
            format!(
                "{:?}: {}{}",
                p.severity,
                p.sentence,
                spot.unwrap_or_default()
            )
        })
        .collect()
}
