//! A small job made by hand, for the tests of cautions and assumptions.
//!
//! It says nothing that it need not say; each test changes what it is about. Beds stand on paving,
//! since open ground alone is reason for a caution. Longer than most because every field of a job
//! has to be written out once.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::buying::{Bought, Bound, Load, OrderLine, Scope, Trips};
use crate::labour::{Labour, LabourLine};
use crate::model::bed::{Base, Bed, BedId, Measured, Shape};
use crate::model::fill::{Depth, Fill, FillId, Layer, Stuff};
use crate::model::frame::{Corner, Frame, FrameId, FrameKind};
use crate::model::job::{HaulGround, Job, PhaseId, Site, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Driver, Extra, ExtraKind, Per, Task, TaskId};
use crate::model::library::Library;
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer, OfferId, Supplier, SupplierId, Vehicle, VehicleId};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::model::source::RowAt;
use crate::takeoff::{BedKind, KindId, Kinds, LayerTakeOff, Moment, Need, Part, TakeOff};
use crate::units::{Amount, Area, Currency, Density, Hours, Length, Money, System, Volume, Weight};

pub(super) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn inches(text: &str) -> Length {
    Length::inches(d(text))
}

pub(super) fn feet(text: &str) -> Length {
    Length::feet(d(text))
}

/// A row of a table; tables are numbered as the tests like.
pub(super) fn row(table: u16, row: u32) -> RowAt {
    RowAt { table, row }
}

fn assumed<T>(value: T, words: &'static str) -> Known<T> {
    Known::assumed(value, words)
}

fn nothing() -> Known<Decimal> {
    assumed(Decimal::ZERO, "not set, taken as 0%")
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
        self.kinds.kinds.push(BedKind {
            first: BedId::of(place),
            beds: vec![BedId::of(place)],
            count: Decimal::ONE,
            site: SiteId(0),
            phase: PhaseId(0),
        });
        self.takeoffs.push(takeoff());
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
            self.job.fills.push(Fill {
                name: format!("Fill {}", fill.0).into(),
                layers: Vec::new(),
                amendments: Vec::new(),
            });
            self.job.beds.last_mut().unwrap().fill = Some(fill);
        }
        let fill = self.job.beds.last().unwrap().fill.unwrap();
        let layers = &mut self.job.fills[fill.index()].layers;
        let place = layers.len();
        layers.push(Layer {
            at: Some(row(2, 1 + u32::try_from(place).unwrap())),
            stuff: Stuff::Material(material),
            depth: Depth::Fixed(inches(depth)),
            note: None,
        });
        let name = Arc::clone(&self.job.materials[material.index()].name);
        let takeoff = self.takeoffs.last_mut().unwrap();
        let volume = takeoff.inside_area.filled_to(inches(depth));
        let season_loss = takeoff.inside_area.filled_to(inches(season_loss));
        takeoff.layers.push(LayerTakeOff {
            name,
            depth: inches(depth),
            volume,
            infill: Volume::ZERO,
            order: volume,
            season_loss,
            sheets: 0,
        });
        let part = Part::Layer(u16::try_from(place).unwrap());
        self.need(material, part, Amount::Volume(volume));
    }

    /// Gives the last bed a need.
    pub(super) fn need(&mut self, material: MaterialId, part: Part, amount: Amount) {
        self.takeoff().needs.push(Need {
            material,
            part,
            moment: Moment::Build,
            net: amount,
            order: amount,
        });
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
            supplier,
            material,
            spec: None,
            pack: "bag".into(),
            handover: Handover::Packed,
            holds,
            price: Some(Known::job(d("10"), at, "Price")),
            from_quantity: Decimal::ZERO,
            step: Decimal::ONE,
            least: Decimal::ZERO,
            available: None,
            actual_length: None,
            taxable: true,
            preferred: false,
            lead_days: None,
            price_date: dated,
            note: None,
        });
        self.bought.lines.push(order_line(material, id, holds));
        id
    }

    fn supplier(&mut self, name: &str) -> SupplierId {
        let known = self.job.suppliers.iter().position(|s| &*s.name == name);
        SupplierId::of(known.unwrap_or_else(|| {
            self.job.suppliers.push(Supplier {
                at: None,
                name: name.into(),
                contact: None,
                account: None,
                terms: None,
            });
            self.job.suppliers.len() - 1
        }))
    }

    /// Loads of some pounds each on a tipper with or without a weight limit in pounds.
    pub(super) fn trips(&mut self, loads: &[&str], limit: Option<&str>, after_rain: u32) {
        let supplier = self.supplier("Hill Yard");
        let at = row(6, 1);
        self.job.vehicles.push(Vehicle {
            at,
            supplier,
            name: "Tipper".into(),
            volume: None,
            weight: limit.map(|l| Known::job(Weight::pounds(d(l)), at, "Weight limit")),
            fee: None,
            minimum_order: None,
            free_over: None,
            carries: Vec::new(),
        });
        let loads = loads.iter().map(|pounds| Load {
            parts: Vec::new(),
            volume: Volume::cubic_yards(Decimal::ONE),
            weight: Weight::pounds(d(pounds)),
        });
        self.bought.trips.push(Trips {
            supplier,
            vehicle: Some(VehicleId::of(self.job.vehicles.len() - 1)),
            site: SiteId(0),
            phase: PhaseId(0),
            moment: Moment::Build,
            lines: Vec::new(),
            loads: loads.collect(),
            bound: Bound::Weight,
            after_rain,
            fee: None,
            charged: Decimal::ZERO,
            cost: Money::ZERO,
            measures: Vec::new(),
            words: String::new(),
        });
    }

    /// An extra.
    pub(super) fn extra(&mut self, item: &str, kind: ExtraKind) -> &mut Extra {
        let at = row(7, 1 + u32::try_from(self.job.extras.len()).unwrap());
        self.job.extras.push(Extra {
            at,
            item: item.into(),
            quantity: Known::job(Decimal::ONE, at, "Quantity"),
            unit: None,
            rate: None,
            per: Per::Job,
            hours: None,
            worker: None,
            site: None,
            phase: None,
            kind,
            marked_up: true,
            client_sees: true,
            taxable: false,
        });
        self.job.extras.last_mut().unwrap()
    }

    /// Hours of a task of the library at its typical rate.
    pub(super) fn work(&mut self, key: &str, hours: &str) {
        let task = self.library.task(key).unwrap();
        let id = TaskId::of(self.job.tasks.len());
        let rate = Known::library(task.hours.1, "tasks", Arc::clone(&task.key), "typical_h");
        self.job.tasks.push(Task {
            at: None,
            key: Arc::clone(&task.key),
            name: Arc::clone(&task.name),
            driver: task.driver,
            rate,
            range: Some((task.hours.0, task.hours.2)),
            per: task.per,
            per_words: Arc::clone(&task.per_words),
            haul: task.haul,
            worker: None,
        });
        let line = labour_line(Some(id), &task.name, task.driver, hours);
        self.labour.lines.push(line);
    }

    /// Hours of hauling by barrow.
    pub(super) fn haul(&mut self, hours: &str) {
        let line = labour_line(None, "Barrow", Driver::HaulVolume, hours);
        self.labour.lines.push(line);
    }
}

fn labour_line(task: Option<TaskId>, name: &str, driver: Driver, hours: &str) -> LabourLine {
    LabourLine {
        kind: crate::labour::LineKind::Work,
        extra: None,
        task,
        name: name.into(),
        site: SiteId(0),
        moment: Moment::Build,
        driver,
        quantity: Decimal::ONE,
        unit: "each".into(),
        rate: d(hours),
        multiplier: Decimal::ONE,
        multiplier_words: String::new(),
        hours: Hours::of(d(hours)),
        range: None,
        typical: true,
        worker: None,
        measures: Vec::new(),
    }
}

fn order_line(material: MaterialId, offer: OfferId, need: Amount) -> OrderLine {
    OrderLine {
        material,
        scope: Scope::Job,
        moment: Moment::Build,
        need,
        on_hand: need.with_base(Decimal::ZERO),
        offer: Some(offer),
        free: false,
        need_units: Decimal::ONE,
        step: Decimal::ONE,
        quantity: Decimal::ONE,
        fixed: false,
        price: Some(d("10")),
        cost: Money::of(d("10")),
        surplus: need.with_base(Decimal::ZERO),
        measures: Vec::new(),
        flip_price: None,
        why: String::new(),
    }
}

fn material(library: &Library, name: &str, category: Category) -> Material {
    let known = library.material(name);
    let share = |value: Option<Decimal>, column: &'static str| match (known, value) {
        (Some(known), Some(value)) => {
            let fraction = value / Decimal::ONE_HUNDRED;
            Known::library(fraction, "materials", Arc::clone(&known.key), column)
        }
        _ => nothing(),
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
        name: name.into(),
        at: None,
        category: known.map_or(category, |known| known.category),
        delivered: density(known.and_then(|k| k.delivered), "delivered_lb_yd3"),
        wet: density(known.and_then(|k| k.wet), "wet_lb_yd3"),
        wet_down: share(known.map(|k| k.wet_down), "wet_down_pct"),
        first_season: share(known.map(|k| k.first_season), "first_season_pct"),
        void: share(known.map(|k| k.void), "void_pct"),
        infill: share(known.map(|k| k.infill), "infill_pct"),
        waste: share(known.map(|k| k.waste), "waste_pct"),
        section: None,
        roll_width: None,
        lap: assumed(Length::ZERO, "not set, taken as 0"),
        coverage: None,
        spec: None,
        source: assumed(Source::Buy, "not set, taken as bought"),
        on_hand: None,
        value: None,
    }
}

fn bed(name: &str, place: usize) -> Bed {
    Bed {
        at: row(1, 10 + u32::try_from(place).unwrap()),
        name: name.into(),
        count: 1,
        shape: Shape::Rectangle {
            length: feet("8"),
            width: feet("4"),
        },
        measured: Measured::Outside,
        height: Some(inches("18")),
        courses: None,
        frame: FrameId(0),
        fill: None,
        crop: None,
        site: SiteId(0),
        phase: PhaseId(0),
        base: Base::Paved,
        closed_bottom: false,
        underside_clear: None,
        ground: None,
        slope: None,
        priority: None,
        note: None,
    }
}

/// 93 x 45 in inside, 18.5 in high.
fn takeoff() -> TakeOff {
    TakeOff {
        size: String::new(),
        outside_area: Area::square_feet(d("32")),
        outside_perimeter: feet("24"),
        inside_area: Area::square_feet(d("29.0625")),
        wall_height: inches("18.5"),
        low_side_height: inches("18.5"),
        courses: 2,
        fill_height: inches("18.5"),
        layers: Vec::new(),
        needs: Vec::new(),
        pieces: Vec::new(),
        work: Vec::new(),
        hauled: Vec::new(),
        saturated_weight: Weight::ZERO,
        sink: Length::ZERO,
        stands_above: Length::ZERO,
        top_up: Volume::ZERO,
        problems: Vec::new(),
    }
}

fn job() -> Job {
    Job {
        settings: settings(),
        sites: vec![site()],
        phases: vec!["Build".into()],
        beds: Vec::new(),
        frames: vec![frame()],
        fills: Vec::new(),
        mixes: Vec::new(),
        materials: Vec::new(),
        suppliers: Vec::new(),
        offers: Vec::new(),
        vehicles: Vec::new(),
        tasks: Vec::new(),
        workers: Vec::new(),
        equipment: Vec::new(),
        extras: Vec::new(),
        sheets_used: Vec::new(),
    }
}

fn site() -> Site {
    Site {
        at: Some(row(3, 1)),
        name: "School".into(),
        address: None,
        travel: assumed(Hours::ZERO, "not set, taken as no travel"),
        haul: assumed(feet("50"), "not set, taken as 50 ft"),
        haul_ground: assumed(HaulGround::Firm, "not set, taken as firm"),
        haul_slope: assumed(Decimal::ZERO, "not set, taken as level"),
        gate: None,
        tipping_place: None,
        ground: None,
        tax: None,
        drop_fee: None,
        allowed_hours: None,
        first_day: None,
    }
}

fn frame() -> Frame {
    Frame {
        at: None,
        name: "Boards".into(),
        kind: FrameKind::Boards,
        material: None,
        wall: assumed(Length::ZERO, "not set, taken as no thickness"),
        posts: None,
        corner: assumed(Corner::Butt, "not set, taken as butt"),
        cap: None,
        brace_every: None,
        brace: None,
        fastener: None,
        per_joint: assumed(3, "not set, taken as 3"),
        liner: None,
        mesh: None,
        finish: None,
        coats: assumed(2, "not set, taken as 2 coats"),
        side_slope: assumed(d("1.5"), "not set, taken as 1.5 run for 1 rise"),
    }
}

fn settings() -> Settings {
    let none = || assumed(Length::ZERO, "not set, taken as 0");
    Settings {
        job_name: "Trial".into(),
        client: None,
        estimate_number: None,
        revision: None,
        prepared_by: None,
        date: None,
        valid_days: assumed(30, "not set, taken as 30 days"),
        units: assumed(System::UsCustomary, "not set, taken as US"),
        currency: assumed(Currency::USD, "not set, taken as USD"),
        paper: assumed(Paper::Letter, "not set, taken as Letter"),
        full_after: assumed(FullAfter::WetDown, "not set, taken as wet-down"),
        crown: none(),
        freeboard: none(),
        top_up: assumed(TopUp::Offered, "not set, taken as offered"),
        kerf: Known::library(inches("0.125"), "figures", "kerf_in".into(), "typical"),
        end_trim: none(),
        culls: nothing(),
        crew_size: assumed(2, "not set, taken as 2 people"),
        hours_per_day: assumed(Hours::of(d("8")), "not set, taken as 8 h"),
        setup_hours: Known::library(Hours::of(d("0.75")), "figures", "setup_h".into(), "typical"),
        season_factor: assumed(Decimal::ONE, "not set, taken as 1"),
        overhead: nothing(),
        contingency: nothing(),
        profit: nothing(),
        profit_as: assumed(ProfitAs::Markup, "not set, taken as markup"),
        tax_mode: assumed(TaxMode::None, "not set, taken as none"),
        tax: nothing(),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: assumed(Decimal::ZERO, "not set, taken as 0"),
        minimum_charge: assumed(Decimal::ZERO, "not set, taken as 0"),
        buying: assumed(Buying::LeastCost, "not set, taken as least cost"),
        stale_days: assumed(30, "not set, taken as 30 days"),
    }
}
