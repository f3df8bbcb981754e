//! A small job for the tests of labour, made by hand: sites, beds by what they bring, and people.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::super::{Labour, LabourLine, extra_times, work};
use super::blank::{empty_job, empty_takeoff, library};
use crate::buying::{Bought, OrderLine, Scope};
use crate::model::bed::BedId;
use crate::model::job::{HaulGround, Job, PhaseId, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::{
    Driver, Equipment, Extra, ExtraKind, HireStep, Pay, Per, Task, TaskId, Worker, WorkerId,
};
use crate::model::library::Library;
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer, OfferId, SupplierId};
use crate::model::source::RowAt;
use crate::takeoff::{BedKind, KindId, Kinds, Moment, TakeOff};
use crate::units::{Amount, Density, Hours, Length, Money, Volume};

pub(super) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn row(row: u32) -> RowAt {
    RowAt { table: 0, row }
}

/// A value of the job's row 1, column `field`.
pub(super) fn given<T>(value: T, field: &'static str) -> Known<T> {
    Known::job(value, row(1), field)
}

pub(super) fn yards(text: &str) -> Volume {
    Volume::cubic_yards(d(text))
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
            name: name.into(),
            address: None,
            travel: given(Hours::ZERO, "Travel time"),
            haul: given(Length::feet(d("100")), "Haul distance"),
            haul_ground: given(HaulGround::Firm, "Haul ground"),
            haul_slope: given(Decimal::ZERO, "Haul slope"),
            gate: None,
            tipping_place: None,
            ground: None,
            tax: None,
            drop_fee: None,
            allowed_hours: None,
            first_day: None,
        });
        id
    }

    /// Beds of one kind in the first phase, by what one of them brings.
    pub(super) fn beds(&mut self, site: SiteId, count: u32, work: &[(Driver, &str)]) -> KindId {
        let id = KindId::of(self.kinds.kinds.len());
        self.kinds.kinds.push(BedKind {
            first: BedId(id.0),
            beds: vec![BedId(id.0)],
            count: count.into(),
            site,
            phase: PhaseId(0),
        });
        self.kinds.of_bed.push(id);
        let work = work.iter().map(|(driver, n)| (*driver, d(n))).collect();
        self.takeoffs.push(TakeOff {
            work,
            ..empty_takeoff()
        });
        id
    }

    pub(super) fn take_off(&mut self, kind: KindId) -> &mut TakeOff {
        &mut self.takeoffs[kind.index()]
    }

    /// A task of the job's own, by the single base unit.
    pub(super) fn task(&mut self, name: &str, driver: Driver, rate: &str) -> TaskId {
        let id = TaskId::of(self.job.tasks.len());
        self.job.tasks.push(Task {
            at: Some(row(20 + id.0)),
            key: "".into(),
            name: name.into(),
            driver,
            rate: given(d(rate), "Person-hours"),
            range: None,
            per: Decimal::ONE,
            per_words: "each".into(),
            haul: false,
            worker: None,
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
        let factor = if pay == Pay::Paid { "1" } else { "1.65" };
        self.job.workers.push(Worker {
            at: row(30 + id.0),
            name: name.into(),
            pay,
            pay_rate: None,
            burden: given(Decimal::ZERO, "Burden %"),
            charge_rate: None,
            in_kind: None,
            headcount: None,
            session: given(Hours::of(d("3")), "Session length"),
            no_show: given(d("0.2"), "No-show %"),
            per_supervisor: given(9, "Per supervisor"),
            factor: given(d(factor), "Paid or volunteer"),
            briefing: given(Hours::of(d("0.33")), "Session length"),
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
        let nothing = || given(Decimal::ZERO, "Waste %");
        self.job.materials.push(Material {
            name: name.into(),
            at: Some(row(40 + id.0)),
            category,
            delivered: pounds_a_yard.map(density),
            wet: None,
            wet_down: nothing(),
            first_season: nothing(),
            void: nothing(),
            infill: nothing(),
            waste: nothing(),
            section: None,
            roll_width: None,
            lap: given(Length::ZERO, "Lap"),
            coverage: None,
            spec: None,
            source: given(Source::Buy, "Source"),
            on_hand: None,
            value: None,
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
            supplier: SupplierId(0),
            material,
            spec: None,
            pack: "pack".into(),
            handover,
            holds: Amount::Volume(holds),
            price: None,
            from_quantity: Decimal::ZERO,
            step: Decimal::ONE,
            least: Decimal::ZERO,
            available: None,
            actual_length: None,
            taxable: true,
            preferred: false,
            lead_days: None,
            price_date: None,
            note: None,
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
            material: sold.material,
            scope,
            moment: Moment::Build,
            need: Amount::Volume(need),
            on_hand: Amount::Volume(Volume::ZERO),
            offer: Some(offer),
            free: false,
            need_units,
            step: Decimal::ONE,
            quantity,
            fixed: false,
            price: None,
            cost: Money::ZERO,
            surplus: Amount::Volume(holds.times(quantity) - need),
            measures: measures.collect(),
            flip_price: None,
            why: String::new(),
        });
        self.bought.lines.last_mut().unwrap()
    }

    pub(super) fn equipment(&mut self, name: &str, step: HireStep) -> &mut Equipment {
        let at = row(60 + u32::try_from(self.job.equipment.len()).unwrap());
        self.job.equipment.push(Equipment {
            at,
            name: name.into(),
            step,
            rate: None,
            does: None,
            output: None,
            delivery: None,
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
            item: item.into(),
            quantity: given(d(quantity), "Quantity"),
            unit: None,
            rate: None,
            per,
            hours: Some(given(d(hours), "Person-hours each")).filter(|h| !h.value.is_zero()),
            worker: None,
            site: None,
            phase: None,
            kind: ExtraKind::Cost,
            marked_up: true,
            client_sees: true,
            taxable: false,
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
