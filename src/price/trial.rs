//! A small job made by hand, for the tests of cautions and assumptions.
//!
//! It says nothing that it need not say; each test changes what it is about. Beds stand on paving,
//! since open ground alone is reason for a caution.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::buying::by_hand::{order_line, trips};
use crate::buying::{Bought, Load, OrderLine, Trips};
use crate::labour::by_hand::line;
use crate::labour::{Labour, LabourLine};
use crate::model::bed::{Base, Bed, BedId};
use crate::model::by_hand;
use crate::model::fill::{Depth, FillId, Layer};
use crate::model::frame::Frame;
use crate::model::job::{Job, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Driver, Extra, ExtraKind, Task, TaskId};
use crate::model::library::Library;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::{Offer, OfferId, SupplierId, Vehicle, VehicleId};
use crate::model::settings::Settings;
use crate::model::source::RowAt;
use crate::takeoff::by_hand::{kind, layer, need, two_courses};
use crate::takeoff::{KindId, Kinds, LayerTakeOff, Part, TakeOff};
pub(super) use crate::units::by_hand::{d, feet, inches};
use crate::units::{Amount, Density, Money, Volume, Weight};

/// A row of a table; tables are numbered as the tests like.
pub(super) fn row(table: u16, row: u32) -> RowAt {
    RowAt { table, row }
}

fn assumed<T>(value: T, words: &'static str) -> Known<T> {
    Known::assumed(value, words)
}

/// A job with its results, all by hand.
pub(super) struct Trial {
    pub job: Job,
    pub kinds: Kinds,
    pub takeoffs: Vec<TakeOff>,
    pub bought: Bought,
    pub labour: Labour,
    pub library: Library,
    pub date: Date,
}

impl Trial {
    /// A site, a frame, and no bed.
    pub(super) fn new() -> Self {
        Self {
            job: job(),
            kinds: Kinds::default(),
            takeoffs: Vec::new(),
            bought: Bought::default(),
            labour: Labour::default(),
            // Only tests may read tables from here.
            library: crate::read::library::builtin(),
            date: Date::new(2026, 11, 24).unwrap(),
        }
    }

    /// A bed of 8 ft x 4 ft, of a kind of its own, on row 10 + its place.
    pub(super) fn bed(&mut self, name: &str) -> &mut Bed {
        let place = self.job.beds.len();
        self.job.beds.push(bed(name, place));
        self.kinds.of_bed.push(KindId::of(self.kinds.kinds.len()));
        let beds = kind(vec![BedId::of(place)], Decimal::ONE, SiteId(0));
        self.kinds.kinds.push(beds);
        self.takeoffs.push(two_courses());
        self.job.beds.last_mut().unwrap()
    }

    /// The take-off of the last bed.
    pub(super) fn takeoff(&mut self) -> &mut TakeOff {
        self.takeoffs.last_mut().unwrap()
    }

    /// A material of the library or, when `known` is unknown to it, one that only has a category.
    pub(super) fn material(&mut self, name: &str, category: Category) -> MaterialId {
        let id = MaterialId::of(self.job.materials.len());
        self.job
            .materials
            .push(material(&self.library, name, category));
        id
    }

    /// Gives the last bed a layer on top of its fill and the need for it.
    pub(super) fn layer(&mut self, material: MaterialId, depth: &str, season_loss: &str) {
        if self.job.beds.last().unwrap().fill.is_none() {
            let fill = FillId::of(self.job.fills.len());
            let name = format!("Fill {}", fill.0);
            self.job.fills.push(by_hand::fill(&name, Vec::new()));
            self.job.beds.last_mut().unwrap().fill = Some(fill);
        }
        let fill = self.job.beds.last().unwrap().fill.unwrap();
        let layers = &mut self.job.fills[fill.index()].layers;
        let place = layers.len();
        layers.push(Layer {
            at: Some(row(2, 1 + u32::try_from(place).unwrap())),
            ..by_hand::layer(material, Depth::Fixed(inches(depth)))
        });
        let name = Arc::clone(&self.job.materials[material.index()].name);
        let takeoff = self.takeoffs.last_mut().unwrap();
        let volume = takeoff.inside_area.filled_to(inches(depth));
        let season_loss = takeoff.inside_area.filled_to(inches(season_loss));
        takeoff.layers.push(LayerTakeOff {
            season_loss,
            ..layer(&name, inches(depth), volume)
        });
        let part = Part::Layer(u16::try_from(place).unwrap());
        self.need(material, part, Amount::Volume(volume));
    }

    /// Gives the last bed a need.
    pub(super) fn need(&mut self, material: MaterialId, part: Part, amount: Amount) {
        self.takeoff().needs.push(need(material, part, amount));
    }

    /// Buys one pack of a material from `supplier` at a price of 10.
    pub(super) fn buy(
        &mut self,
        supplier: &str,
        material: MaterialId,
        holds: Amount,
        dated: Option<Date>,
    ) -> OfferId {
        let supplier = self.supplier(supplier);
        let id = OfferId::of(self.job.offers.len());
        let at = row(5, 1 + id.0);
        self.job.offers.push(Offer {
            at,
            price: Some(Known::job(d("10"), at, "Price")),
            price_date: dated,
            ..by_hand::offer(supplier, material, "bag", holds)
        });
        self.bought.lines.push(OrderLine {
            offer: Some(id),
            price: Some(d("10")),
            cost: Money::of(d("10")),
            ..order_line(material, holds)
        });
        id
    }

    fn supplier(&mut self, name: &str) -> SupplierId {
        let known = self.job.suppliers.iter().position(|s| &*s.name == name);
        SupplierId::of(known.unwrap_or_else(|| {
            self.job.suppliers.push(by_hand::supplier(name));
            self.job.suppliers.len() - 1
        }))
    }

    /// Loads of some pounds each on a tipper with or without a weight limit in pounds.
    pub(super) fn trips(&mut self, loads: &[&str], limit: Option<&str>, after_rain: u32) {
        let supplier = self.supplier("Hill Yard");
        let at = row(6, 1);
        self.job.vehicles.push(Vehicle {
            at,
            weight: limit.map(|l| Known::job(Weight::pounds(d(l)), at, "Weight limit")),
            ..by_hand::vehicle(supplier, "Tipper")
        });
        let loads = loads.iter().map(|pounds| Load {
            parts: Vec::new(),
            volume: Volume::cubic_yards(Decimal::ONE),
            weight: Weight::pounds(d(pounds)),
        });
        self.bought.trips.push(Trips {
            vehicle: Some(VehicleId::of(self.job.vehicles.len() - 1)),
            loads: loads.collect(),
            after_rain,
            ..trips(supplier)
        });
    }

    /// An extra.
    pub(super) fn extra(&mut self, item: &str, kind: ExtraKind) -> &mut Extra {
        let at = row(7, 1 + u32::try_from(self.job.extras.len()).unwrap());
        self.job.extras.push(Extra {
            at,
            quantity: Known::job(Decimal::ONE, at, "Quantity"),
            kind,
            ..by_hand::extra(item)
        });
        self.job.extras.last_mut().unwrap()
    }

    /// Hours of a task of the library at its typical rate.
    pub(super) fn work(&mut self, key: &str, hours: &str) {
        let task = self.library.task(key).unwrap();
        let id = TaskId::of(self.job.tasks.len());
        let rate = Known::library(task.hours.1, "tasks", Arc::clone(&task.key), "typical_h");
        self.job.tasks.push(Task {
            key: Arc::clone(&task.key),
            range: Some((task.hours.0, task.hours.2)),
            per: task.per,
            per_words: Arc::clone(&task.per_words),
            haul: task.haul,
            ..by_hand::task(&task.name, task.driver, rate)
        });
        self.labour.lines.push(LabourLine {
            task: Some(id),
            ..line(&task.name, task.driver, hours)
        });
    }

    /// Hours of hauling by barrow.
    pub(super) fn haul(&mut self, hours: &str) {
        let barrow = line("Barrow", Driver::HaulVolume, hours);
        self.labour.lines.push(barrow);
    }
}

fn material(library: &Library, name: &str, category: Category) -> Material {
    let known = library.material(name);
    let share = |value: Option<Decimal>, column: &'static str| match (known, value) {
        (Some(known), Some(value)) => {
            let fraction = value / Decimal::ONE_HUNDRED;
            Known::library(fraction, "materials", Arc::clone(&known.key), column)
        }
        _ => by_hand::no_share(),
    };
    let density = |value: Option<Decimal>, column: &'static str| {
        let density = Density::pounds_per_cubic_yard(value?);
        Some(Known::library(
            density,
            "materials",
            Arc::clone(&known?.key),
            column,
        ))
    };
    Material {
        delivered: density(known.and_then(|k| k.delivered), "delivered_lb_yd3"),
        wet: density(known.and_then(|k| k.wet), "wet_lb_yd3"),
        wet_down: share(known.map(|k| k.wet_down), "wet_down_pct"),
        first_season: share(known.map(|k| k.first_season), "first_season_pct"),
        void: share(known.map(|k| k.void), "void_pct"),
        infill: share(known.map(|k| k.infill), "infill_pct"),
        waste: share(known.map(|k| k.waste), "waste_pct"),
        ..by_hand::material(name, known.map_or(category, |known| known.category))
    }
}

fn bed(name: &str, place: usize) -> Bed {
    Bed {
        at: row(1, 10 + u32::try_from(place).unwrap()),
        height: Some(inches("18")),
        base: Base::Paved,
        ..by_hand::bed(name)
    }
}

/// A school at 50 ft, boards that are oiled twice, and no bed yet.
fn job() -> Job {
    let site = Site {
        at: Some(row(3, 1)),
        haul: assumed(feet("50"), "not set, taken as 50 ft"),
        ..by_hand::site("School")
    };
    let frame = Frame {
        coats: assumed(2, "not set, taken as 2 coats"),
        ..by_hand::frame("Boards", by_hand::boards(MaterialId(0)))
    };
    Job {
        sites: vec![site],
        phases: vec!["Build".into()],
        frames: vec![frame],
        ..by_hand::job(settings())
    }
}

fn settings() -> Settings {
    let setup = crate::units::by_hand::hours("0.75");
    Settings {
        kerf: Known::library(inches("0.125"), "figures", "kerf_in".into(), "typical"),
        setup_hours: Known::library(setup, "figures", "setup_h".into(), "typical"),
        stale_days: assumed(30, "not set, taken as 30 days"),
        ..by_hand::settings("Trial")
    }
}
