//! A small job built in code: materials, offers, vehicles, and beds of which only the needs matter.

use std::sync::Arc;

use super::super::{Bought, Held, OrderLine, buy};
use crate::model::bed::{Bed, BedId};
use crate::model::by_hand;
pub(super) use crate::model::by_hand::row;
use crate::model::frame::Frame;
use crate::model::job::{Job, SiteId};
use crate::model::known::Known;
use crate::model::material::{Category, Material, MaterialId};
use crate::model::offer::{Offer, SupplierId, Vehicle};
use crate::model::settings::{Buying, Settings};
use crate::takeoff::by_hand::{kind, need, nothing};
use crate::takeoff::{Kinds, Moment, Need, Part, Piece, TakeOff};
pub(super) use crate::units::by_hand::{d, inches};
use crate::units::{Amount, Area, Currency, Decimal, Density, Hours, Length, Volume, Weight};

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
            job: job(),
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
        self.job.sites.push(by_hand::site(name));
        SiteId::of(self.job.sites.len() - 1)
    }

    pub(super) fn material(&mut self, name: &str, category: Category) -> MaterialId {
        self.job.materials.push(Material {
            at: Some(row(900)),
            ..by_hand::material(name, category)
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
        self.job.suppliers.push(by_hand::supplier(name));
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
        let packed = by_hand::offer(supplier, material, pack, holds);
        let sold = match pack {
            "yard" | "ton" => by_hand::loose(packed),
            _ => packed,
        };
        let at = row(u32::try_from(self.job.offers.len()).unwrap());
        self.job.offers.push(Offer {
            at,
            price: (!price.is_empty()).then(|| set(d(price))),
            ..sold
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
            volume: volume.map(|v| set(Volume::cubic_yards(d(v)))),
            weight: pounds.map(|p| set(Weight::pounds(d(p)))),
            fee: (!fee.is_empty()).then(|| set(d(fee))),
            ..by_hand::vehicle(supplier, "truck")
        });
        self.job.vehicles.last_mut().unwrap()
    }

    /// `count` beds alike on a site.
    pub(super) fn beds(&mut self, site: SiteId, count: u32) -> &mut TakeOff {
        let bed = BedId::of(self.job.beds.len());
        self.job.beds.push(Bed {
            at: row(700),
            count,
            site,
            ..by_hand::bed("bed")
        });
        let beds = kind(vec![bed], Decimal::from(count), site);
        self.kinds.kinds.push(beds);
        self.takeoffs.push(TakeOff {
            inside_area: Area::square_feet(d("29.0625")),
            ..nothing()
        });
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
            moment,
            ..need(material, part, order)
        });
        self
    }

    pub(super) fn cuts(&mut self, material: MaterialId, length: Length, count: u32) -> &mut Self {
        self.pieces.push(Piece {
            material,
            length,
            count,
            mark: Arc::from("long side"),
            places: Vec::new(),
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

/// One frame of nothing; one person whose day holds no hours, since nothing here is worked.
fn job() -> Job {
    let settings = Settings {
        crew_size: set(1),
        hours_per_day: set(Hours::ZERO),
        ..by_hand::settings("test")
    };
    let frame = Frame {
        at: Some(row(800)),
        coats: set(0),
        ..by_hand::frame("boards", by_hand::boards(MaterialId(0)))
    };
    Job {
        frames: vec![frame],
        ..by_hand::job(settings)
    }
}
