//! A small job built in code: materials, offers, vehicles, and beds of which only the needs matter.
//!
//! Longer than 400 lines because every field of the model has to be named once to make a job by hand.

use std::sync::Arc;

use super::super::{Bought, Held, OrderLine, buy};
use crate::model::bed::{Base, Bed, BedId, Measured, Shape};
use crate::model::frame::{Corner, Frame, FrameId, FrameKind};
use crate::model::job::{HaulGround, Job, PhaseId, Site, SiteId};
use crate::model::known::Known;
use crate::model::material::{Category, Material, MaterialId, Source};
use crate::model::offer::{Handover, Offer, Supplier, SupplierId, Vehicle};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::model::source::RowAt;
use crate::takeoff::{BedKind, Kinds, Moment, Need, Part, Piece, TakeOff};
use crate::units::show::System;
use crate::units::{Amount, Area, Currency, Decimal, Density, Hours, Length, Volume, Weight};

pub(super) fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

pub(super) fn yards(number: &str) -> Amount {
    Amount::Volume(Volume::cubic_yards(d(number)))
}

pub(super) fn cubic_feet(number: &str) -> Amount {
    Amount::Volume(Volume::cubic_feet(d(number)))
}

pub(super) fn tons(number: &str) -> Amount {
    Amount::Weight(Weight::short_tons(d(number)))
}

pub(super) fn feet(number: &str) -> Amount {
    Amount::Length(Length::feet(d(number)))
}

pub(super) fn inches(number: &str) -> Length {
    Length::inches(d(number))
}

pub(super) fn row(row: u32) -> RowAt {
    RowAt { table: 0, row }
}

fn set<T>(value: T) -> Known<T> {
    Known::assumed(value, "for the test")
}

/// The job under test with its kinds and take-offs.
#[derive(Clone, Debug)]
pub(super) struct Sample {
    pub(super) job: Job,
    pub(super) kinds: Kinds,
    pub(super) takeoffs: Vec<TakeOff>,
}

impl Sample {
    pub(super) fn new() -> Self {
        Self {
            job: Job {
                settings: settings(),
                sites: Vec::new(),
                phases: vec![Arc::from("")],
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
            },
            kinds: Kinds::default(),
            takeoffs: Vec::new(),
        }
    }

    /// A job on one site with one soil of 2,200 lb/yd3, 3,000 after rain.
    pub(super) fn with_soil() -> (Self, MaterialId) {
        let mut sample = Self::new();
        sample.site("Site A");
        let soil = sample.soil("topsoil");
        (sample, soil)
    }

    pub(super) fn site(&mut self, name: &str) -> SiteId {
        self.job.sites.push(Site {
            at: None,
            name: Arc::from(name),
            address: None,
            travel: set(Hours::ZERO),
            haul: set(Length::ZERO),
            haul_ground: set(HaulGround::Firm),
            haul_slope: set(Decimal::ZERO),
            gate: None,
            tipping_place: None,
            ground: None,
            tax: None,
            drop_fee: None,
            allowed_hours: None,
            first_day: None,
        });
        SiteId::of(self.job.sites.len() - 1)
    }

    pub(super) fn material(&mut self, name: &str, category: Category) -> MaterialId {
        self.job.materials.push(Material {
            name: Arc::from(name),
            at: Some(row(900)),
            category,
            delivered: None,
            wet: None,
            wet_down: set(Decimal::ZERO),
            first_season: set(Decimal::ZERO),
            void: set(Decimal::ZERO),
            infill: set(Decimal::ZERO),
            waste: set(Decimal::ZERO),
            section: None,
            roll_width: None,
            lap: set(Length::ZERO),
            coverage: None,
            spec: None,
            source: set(Source::Buy),
            on_hand: None,
            value: None,
        });
        MaterialId::of(self.job.materials.len() - 1)
    }

    pub(super) fn soil(&mut self, name: &str) -> MaterialId {
        let id = self.material(name, Category::Soil);
        let soil = self.stuff(id);
        soil.delivered = Some(set(Density::pounds_per_cubic_yard(d("2200"))));
        soil.wet = Some(set(Density::pounds_per_cubic_yard(d("3000"))));
        id
    }

    pub(super) fn stuff(&mut self, id: MaterialId) -> &mut Material {
        &mut self.job.materials[id.index()]
    }

    pub(super) fn supplier(&mut self, name: &str) -> SupplierId {
        let found = self.job.suppliers.iter().position(|s| &*s.name == name);
        if let Some(index) = found {
            return SupplierId::of(index);
        }
        self.job.suppliers.push(Supplier {
            at: None,
            name: Arc::from(name),
            contact: None,
            account: None,
            terms: None,
        });
        SupplierId::of(self.job.suppliers.len() - 1)
    }

    /// A price row; bulk in half units, packs in whole ones.
    pub(super) fn offer(
        &mut self,
        supplier: &str,
        material: MaterialId,
        pack: &str,
        holds: Amount,
        price: &str,
    ) -> &mut Offer {
        let supplier = self.supplier(supplier);
        let bulk = pack == "yard" || pack == "ton";
        let at = row(u32::try_from(self.job.offers.len()).unwrap());
        self.job.offers.push(Offer {
            at,
            supplier,
            material,
            spec: None,
            pack: Arc::from(pack),
            handover: if bulk {
                Handover::Bulk
            } else {
                Handover::Packed
            },
            holds,
            price: (!price.is_empty()).then(|| set(d(price))),
            from_quantity: Decimal::ZERO,
            step: if bulk { d("0.5") } else { Decimal::ONE },
            least: Decimal::ZERO,
            available: None,
            actual_length: None,
            taxable: true,
            preferred: false,
            lead_days: None,
            price_date: None,
            note: None,
        });
        self.job.offers.last_mut().unwrap()
    }

    pub(super) fn truck(
        &mut self,
        supplier: &str,
        volume: Option<&str>,
        pounds: Option<&str>,
        fee: &str,
    ) -> &mut Vehicle {
        let supplier = self.supplier(supplier);
        self.job.vehicles.push(Vehicle {
            at: row(500),
            supplier,
            name: Arc::from("truck"),
            volume: volume.map(|v| set(Volume::cubic_yards(d(v)))),
            weight: pounds.map(|p| set(Weight::pounds(d(p)))),
            fee: (!fee.is_empty()).then(|| set(d(fee))),
            minimum_order: None,
            free_over: None,
            carries: Vec::new(),
        });
        self.job.vehicles.last_mut().unwrap()
    }

    /// `count` beds alike on a site.
    pub(super) fn beds(&mut self, site: SiteId, count: u32) -> &mut TakeOff {
        let bed = BedId::of(self.job.beds.len());
        self.job.beds.push(plain_bed(site, count));
        self.kinds.kinds.push(BedKind {
            first: bed,
            beds: vec![bed],
            count: Decimal::from(count),
            site,
            phase: PhaseId(0),
        });
        self.takeoffs.push(empty_takeoff());
        self.takeoffs.last_mut().unwrap()
    }

    pub(super) fn buy(&self) -> Bought {
        buy(&self.job, &self.kinds, &self.takeoffs, None)
    }

    pub(super) fn buy_again(&self, held: &Held) -> Bought {
        buy(&self.job, &self.kinds, &self.takeoffs, Some(held))
    }

    pub(super) fn buying(&mut self, rule: Buying) {
        self.job.settings.buying = set(rule);
    }
}

impl TakeOff {
    pub(super) fn needs(&mut self, material: MaterialId, order: Amount) -> &mut Self {
        self.needs_at(material, order, Moment::Build, Part::Layer(0))
    }

    pub(super) fn needs_at(
        &mut self,
        material: MaterialId,
        order: Amount,
        moment: Moment,
        part: Part,
    ) -> &mut Self {
        self.needs.push(Need {
            material,
            part,
            moment,
            net: order,
            order,
        });
        self
    }

    pub(super) fn cuts(&mut self, material: MaterialId, length: Length, count: u32) -> &mut Self {
        self.pieces.push(Piece {
            material,
            length,
            count,
            mark: Arc::from("long side"),
        });
        self
    }
}

/// Everything bought and brought, as one sum of printed lines.
pub(super) fn total(bought: &Bought) -> String {
    let goods = bought.lines.iter().map(|line| line.cost);
    let fees = bought.trips.iter().map(|trips| trips.cost);
    Currency::USD.show(goods.chain(fees).sum())
}

/// A line as text: quantity, price, cost.
pub(super) fn line_text(line: &OrderLine) -> String {
    format!(
        "{} x {} = {}",
        line.quantity.normalize(),
        line.price
            .map_or("?".to_owned(), |p| p.normalize().to_string()),
        Currency::USD.show(line.cost)
    )
}

pub(super) fn lines_text(bought: &Bought) -> Vec<String> {
    bought.lines.iter().map(line_text).collect()
}

pub(super) fn sentences(bought: &Bought) -> String {
    let all: Vec<&str> = bought
        .problems
        .iter()
        .map(|p| p.sentence.as_str())
        .collect();
    all.join("\n")
}

fn plain_bed(site: SiteId, count: u32) -> Bed {
    Bed {
        at: row(700),
        name: Arc::from("bed"),
        count,
        shape: Shape::Rectangle {
            length: inches("96"),
            width: inches("48"),
        },
        measured: Measured::Outside,
        height: None,
        courses: None,
        frame: FrameId(0),
        fill: None,
        crop: None,
        site,
        phase: PhaseId(0),
        base: Base::OpenGround,
        closed_bottom: false,
        underside_clear: None,
        ground: None,
        slope: None,
        priority: None,
        note: None,
    }
}

fn frame() -> Frame {
    Frame {
        at: Some(row(800)),
        name: Arc::from("boards"),
        kind: FrameKind::Boards,
        material: None,
        wall: set(Length::ZERO),
        posts: None,
        corner: set(Corner::Butt),
        cap: None,
        brace_every: None,
        brace: None,
        fastener: None,
        per_joint: set(0),
        liner: None,
        mesh: None,
        finish: None,
        coats: set(0),
        side_slope: set(Decimal::ONE),
    }
}

fn empty_takeoff() -> TakeOff {
    TakeOff {
        size: String::new(),
        outside_area: Area::ZERO,
        outside_perimeter: Length::ZERO,
        inside_area: Area::square_feet(d("29.0625")),
        wall_height: Length::ZERO,
        low_side_height: Length::ZERO,
        courses: 0,
        fill_height: Length::ZERO,
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

fn settings() -> Settings {
    Settings {
        job_name: Arc::from("test"),
        client: None,
        estimate_number: None,
        revision: None,
        prepared_by: None,
        date: None,
        valid_days: set(30),
        units: set(System::UsCustomary),
        currency: set(Currency::USD),
        paper: set(Paper::Letter),
        full_after: set(FullAfter::WetDown),
        crown: set(Length::ZERO),
        freeboard: set(Length::ZERO),
        top_up: set(TopUp::Offered),
        kerf: set(inches("0.125")),
        end_trim: set(Length::ZERO),
        culls: set(Decimal::ZERO),
        crew_size: set(1),
        hours_per_day: set(Hours::ZERO),
        setup_hours: set(Hours::ZERO),
        season_factor: set(Decimal::ONE),
        overhead: set(Decimal::ZERO),
        contingency: set(Decimal::ZERO),
        profit: set(Decimal::ZERO),
        profit_as: set(ProfitAs::Markup),
        tax_mode: set(TaxMode::None),
        tax: set(Decimal::ZERO),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: set(Decimal::ZERO),
        minimum_charge: set(Decimal::ZERO),
        buying: set(Buying::LeastCost),
        stale_days: set(90),
    }
}
