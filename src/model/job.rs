//! Everything that one job file describes.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::bed::{Bed, BedId};
use super::drip::Drip;
use super::fill::{Fill, Mix};
use super::frame::{Frame, Wall};
use super::funding::Funding;
use super::ground::{Area, Cover, GroundWork};
use super::id;
use super::known::Known;
use super::labour::{Equipment, Extra, Task, Worker};
use super::material::{Material, MaterialId};
use super::offer::{Offer, Supplier, Vehicle};
use super::price_list::ToReview;
use super::quote::Payment;
use super::settings::Settings;
use super::sheet::Sheet;
use super::source::RowAt;
use super::spread::Spread;
use crate::units::{Hours, Length};

id!(
    /// A site of the job, by its place in [`Job::sites`].
    SiteId
);
id!(
    /// A phase of the job, by its place in [`Job::phases`].
    PhaseId
);

/// What is walked on between tipping place and bed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HaulGround {
    /// Firm ground.
    Firm,
    /// Soft ground, sand, loose gravel.
    Soft,
    /// Stairs, or carrying only.
    Stairs,
}

/// One row of `Sites`.
#[derive(Clone, Debug)]
pub struct Site {
    /// The row; `None` when the job names no site.
    pub at: Option<RowAt>,
    /// Name.
    pub name: Arc<str>,
    /// Address.
    pub address: Option<Arc<str>>,
    /// Elapsed travel there and back, a day.
    pub travel: Known<Hours>,
    /// One-way distance from the tipping place to the beds.
    pub haul: Known<Length>,
    /// What the way is like.
    pub haul_ground: Known<HaulGround>,
    /// Fall of the way as a fraction.
    pub haul_slope: Known<Decimal>,
    /// Narrowest gate.
    pub gate: Option<Known<Length>>,
    /// Where bulk goods are tipped.
    pub tipping_place: Option<Arc<str>>,
    /// What is there now, as typed.
    pub ground: Option<Arc<str>>,
    /// The same as the ground work understands it; `None` when the words name none of it.
    pub cover: Option<Known<Cover>>,
    /// What is done to the ground under its beds.
    pub ground_work: Option<Known<GroundWork>>,
    /// Tax rate that wins over the job's, as a fraction.
    pub tax: Option<Known<Decimal>>,
    /// Fee for each drop on this site, beside the supplier's.
    pub drop_fee: Option<Known<Decimal>>,
    /// Hours in which work is allowed, in words.
    pub allowed_hours: Option<Arc<str>>,
    /// First day of work.
    pub first_day: Option<jiff::civil::Date>,
}

/// One row of `Pieces`: lengths to cut beside those of frames.
#[derive(Clone, Debug)]
pub struct CutRow {
    /// The row.
    pub at: RowAt,
    /// What they are cut from.
    pub material: MaterialId,
    /// How long one is.
    pub length: Length,
    /// How many.
    pub count: u32,
    /// The bed that they are for, which bears their cost.
    pub bed: Option<BedId>,
    /// What is written on a piece: its bed and note.
    pub mark: Arc<str>,
    /// Where they are needed.
    pub site: SiteId,
    /// When.
    pub phase: PhaseId,
}

/// A row that is left out of a job since something in it, or in what it uses, is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The row.
    pub at: RowAt,
    /// Its sheet.
    pub sheet: Sheet,
    /// What it is called: the bed, or the material of a price.
    pub name: String,
    /// What is wrong, one sentence for each thing.
    pub why: Vec<String>,
}

impl LeftOut {
    /// `Bed C1 is left out: Length needs a unit`.
    pub fn words(&self) -> String {
        let title = self.sheet.title();
        let what = match (self.sheet, self.name.as_str()) {
            (_, "") => format!("{title} row {}", u64::from(self.at.row) + 1),
            (Sheet::Beds, name) => format!("Bed {name}"),
            (_, name) => format!("{title} row {name}"),
        };
        format!("{what} is left out: {}", self.why.join("; "))
    }
}

/// One job, all names resolved. Lists keep the order of the files; nothing that is computed depends on it.
#[derive(Clone, Debug)]
pub struct Job {
    /// Settings.
    pub settings: Settings,
    /// Sites; at least one.
    pub sites: Vec<Site>,
    /// Names of phases; at least one.
    pub phases: Vec<Arc<str>>,
    /// Beds; names are unlike.
    pub beds: Vec<Bed>,
    /// Paths and surrounds; names are unlike.
    pub areas: Vec<Area>,
    /// Frames in use or defined.
    pub frames: Vec<Frame>,
    /// Fills in use or defined.
    pub fills: Vec<Fill>,
    /// Mixes.
    pub mixes: Vec<Mix>,
    /// Materials in use or defined.
    pub materials: Vec<Material>,
    /// The ground that leaves its place, as a material that is taken away.
    pub spoil: Option<MaterialId>,
    /// What ground is covered with where it is mown and covered.
    pub ground_cover: Option<MaterialId>,
    /// Suppliers.
    pub suppliers: Vec<Supplier>,
    /// Prices.
    pub offers: Vec<Offer>,
    /// Vehicles.
    pub vehicles: Vec<Vehicle>,
    /// Tasks: the library's with the job's overrides, and the job's own.
    pub tasks: Vec<Task>,
    /// Workers, the one first who does every task that names nobody; empty when the job names none.
    pub workers: Vec<Worker>,
    /// Machines.
    pub equipment: Vec<Equipment>,
    /// Extras.
    pub extras: Vec<Extra>,
    /// Stages in which the price is paid, in the order of the rows.
    pub payments: Vec<Payment>,
    /// Who pays for it, when grants do.
    pub funding: Funding,
    /// Rows of `Irrigation`, in their order.
    pub drips: Vec<Drip>,
    /// Lengths to cut beside those of frames.
    pub pieces: Vec<CutRow>,
    /// Rows of suppliers' lists that wait for a word of the user.
    pub to_review: Vec<ToReview>,
    /// How far prices, fees, pay and rates of extras may lie from what is typed, by their rows. Those of
    /// tasks stand with the tasks.
    pub spreads: BTreeMap<RowAt, Spread>,
    /// Sheets that the job fills with at least one row.
    pub sheets_used: Vec<Sheet>,
    /// Rows that are left out, in file order; empty unless that was asked for.
    pub left_out: Vec<LeftOut>,
}

impl Job {
    /// The material of an id. Ids are made by `read` only, so a miss is a bug of ours.
    pub fn material(&self, id: MaterialId) -> Option<&Material> {
        self.materials.get(id.index())
    }

    /// What a saw cut through a material takes: more where walls of timbers are built of it.
    pub fn kerf(&self, id: MaterialId) -> &Known<Length> {
        let is_stacked =
            |frame: &Frame| matches!(&frame.wall, Wall::Timbers(wall) if wall.timber == id);
        if self.frames.iter().any(is_stacked) {
            &self.settings.timber_kerf
        } else {
            &self.settings.kerf
        }
    }

    /// The name of a material, for messages.
    pub fn material_name(&self, id: MaterialId) -> &str {
        self.material(id).map_or("?", |m| &m.name)
    }
}
