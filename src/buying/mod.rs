//! From needs to orders: packs, steps, breaks, minimums, loads, and which supplier.
//!
//! Loose goods round per drop (site and phase) and per load; packed goods round once per job.
//!
//! What is settled here, and what is left out on purpose:
//! - The choice is made for each material and drop by itself, by goods plus the trips that they cause;
//!   free delivery is then granted on all goods that a supplier brings to a drop.
//! - Each material travels in loads of its own, in one kind of vehicle a drop. Packed goods are collected.
//! - A price break counts the quantity of one order line. A least order and a break may raise a quantity.
//! - The sticks of one material come from one supplier, together with sticks that cost nothing; from
//!   several only when no single one can yield all pieces.

mod break_even;
#[cfg(test)]
pub(crate) mod by_hand;
mod choose;
mod convert;
mod cut_list;
pub mod cutting;
mod demand;
mod desk;
mod flip;
mod held;
mod loads;
mod lumber;
mod near_cut;
mod near_miss;
mod orders;
mod packs;
mod reach;
mod reasons;
mod recall;
mod requests;
mod rips;
mod rule;
mod sheets;
mod sticks;
mod supply;
#[cfg(test)]
mod tests;
mod to_cut;
mod trips;
mod whereabouts;

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::bed::BedId;
use crate::model::job::{PhaseId, SiteId};
use crate::model::material::MaterialId;
use crate::model::offer::{OfferId, SupplierId, VehicleId};
use crate::problem::Problem;
use crate::takeoff::{KindId, Moment};
use crate::units::{Amount, Length, Money, Volume, Weight};

pub use break_even::{BreakEven, break_evens};
pub use held::held;
pub use orders::buy;
pub use recall::{choices, recall};
pub use requests::{PriceRequest, RequestLine, price_requests};

/// For what an order is rounded up once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scope {
    /// What comes to one site in one phase.
    Drop(SiteId, PhaseId),
    /// The whole job.
    Job,
}

/// One line of an order.
#[derive(Clone, Debug)]
pub struct OrderLine {
    /// What.
    pub material: MaterialId,
    /// Rounded for what.
    pub scope: Scope,
    /// When.
    pub moment: Moment,
    /// What is needed, in the material's own dimension, on-hand stock already taken off.
    pub need: Amount,
    /// What is there already and was taken off.
    pub on_hand: Amount,
    /// The offer that was chosen; `None` when nothing is for sale or nothing need be bought.
    pub offer: Option<OfferId>,
    /// Whether it costs nothing because it is found on site, donated or all on hand.
    pub free: bool,
    /// The need as a number of priced units, before rounding.
    pub need_units: Decimal,
    /// Step of the quantity in priced units.
    pub step: Decimal,
    /// Priced units bought.
    pub quantity: Decimal,
    /// Whether only the program can redo the quantity (cut list, several loads, a minimum, a break);
    /// otherwise it is `need_units` rounded up to `step`.
    pub fixed: bool,
    /// Price of one priced unit; `None` when it is missing.
    pub price: Option<Decimal>,
    /// `quantity x price`, rounded once; zero when the price is missing.
    pub cost: Money,
    /// What is bought beyond the need.
    pub surplus: Amount,
    /// Measure by which the cost is shared: base units for one bed of each kind that needs it.
    pub measures: Vec<(KindId, Decimal)>,
    /// The price of a unit at which another offer becomes the cheaper one, when there is one.
    pub flip_price: Option<Decimal>,
    /// How the choice came about, in words.
    pub why: String,
}

/// What binds a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Bound {
    /// The body is full.
    Volume,
    /// The payload is reached.
    Weight,
    /// No vehicle limits are known.
    Nothing,
}

/// One load of one vehicle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Load {
    /// What it carries: order line and priced units.
    pub parts: Vec<(usize, Decimal)>,
    /// Volume.
    pub volume: Volume,
    /// Weight as delivered.
    pub weight: Weight,
}

/// The trips of one supplier's vehicle to one drop.
#[derive(Clone, Debug)]
pub struct Trips {
    /// Who drives.
    pub supplier: SupplierId,
    /// The vehicle; `None` when the job names none.
    pub vehicle: Option<VehicleId>,
    /// Site of the drop.
    pub site: SiteId,
    /// Phase of the drop.
    pub phase: PhaseId,
    /// Build or top-up.
    pub moment: Moment,
    /// Order lines that travel, as indices into [`Bought::lines`].
    pub lines: Vec<usize>,
    /// The loads.
    pub loads: Vec<Load>,
    /// What binds them.
    pub bound: Bound,
    /// How many loads it would take after rain, at wet density.
    pub after_rain: u32,
    /// Fee a trip; `None` when it is missing.
    pub fee: Option<Decimal>,
    /// Trips that are charged (fewer than the loads when delivery is free).
    pub charged: Decimal,
    /// `charged x fee`, rounded once.
    pub cost: Money,
    /// Measure by which the fee is shared: what bound the loads, for one bed of each kind.
    pub measures: Vec<(KindId, Decimal)>,
    /// In words: `12.5 yd3 of topsoil to Site A: 3 loads at 2,200 lb/yd3, after rain 4`.
    pub words: String,
}

/// One stick of a cut list, and how many are cut the same way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stick {
    /// The offer it is bought from; `None` without offers.
    pub offer: Option<OfferId>,
    /// Its length.
    pub length: Length,
    /// How many alike.
    pub count: u32,
    /// Pieces cut from one: length, mark, number.
    pub pieces: Vec<(Length, Arc<str>, u32)>,
    /// What remains of one.
    pub offcut: Length,
}

/// Which pieces come out of which sticks, for one material over the whole job.
#[derive(Clone, Debug)]
pub struct CutList {
    /// The material.
    pub material: MaterialId,
    /// Sticks, longest first.
    pub sticks: Vec<Stick>,
    /// Whole extra sticks for culls.
    pub culls: u32,
    /// Cost of the sticks without culls.
    pub cost: Money,
    /// A cost that no cutting can go below.
    pub lower_bound: Money,
    /// Whether no other cutting costs less.
    pub proven: bool,
    /// Where the pieces go, by bed, longest first.
    pub pieces: Vec<CutPiece>,
}

/// Pieces of one length for one side of a row of beds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CutPiece {
    /// How long.
    pub length: Length,
    /// Where it goes: `long side`, `post`.
    pub mark: Arc<str>,
    /// The row of beds.
    pub bed: BedId,
    /// How many beds of the row.
    pub beds: u32,
    /// The side, counted round the bed from 1; nothing for what has no side.
    pub side: Option<u16>,
    /// The courses, from the lowest ground up; empty for what has none.
    pub courses: Vec<u16>,
    /// How many for one bed.
    pub count: u32,
}

/// Sheets that are ripped alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetCut {
    /// The offer they are bought from.
    pub offer: Option<OfferId>,
    /// Along the ribs or the grain.
    pub length: Length,
    /// Across them.
    pub width: Length,
    /// How many alike.
    pub count: u32,
    /// Strips ripped from one, each as long as the sheet: width, number.
    pub strips: Vec<(Length, u32)>,
    /// Width that remains of one.
    pub left: Length,
}

/// All strips of one width, and what is cut from them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripList {
    /// Width of the strips, which is that of their pieces.
    pub width: Length,
    /// The strips as sticks.
    pub strips: Vec<Stick>,
}

/// How the sheets of one material are cut over the whole job: ripped into strips, and those cut to length.
#[derive(Clone, Debug)]
pub struct SheetList {
    /// The material.
    pub material: MaterialId,
    /// The sheets.
    pub sheets: Vec<SheetCut>,
    /// The strips, widest first.
    pub strips: Vec<StripList>,
    /// Cost of the sheets.
    pub cost: Money,
    /// A cost that no cutting in these two stages can go below.
    pub lower_bound: Money,
    /// Whether no cutting in these two stages costs less.
    pub is_proven: bool,
}

/// Everything that is ordered.
#[derive(Clone, Debug, Default)]
pub struct Bought {
    /// Order lines, by supplier name, scope, material name.
    pub lines: Vec<OrderLine>,
    /// Trips, by supplier name and drop.
    pub trips: Vec<Trips>,
    /// Cut lists, by material name.
    pub cut_lists: Vec<CutList>,
    /// How sheets are cut, by material name.
    pub sheet_lists: Vec<SheetList>,
    /// Everything to tell.
    pub problems: Vec<Problem>,
}

impl Bought {
    /// Whether loads take ground away and bring nothing; `spoil` is what the job takes away.
    pub fn is_taken_away(&self, trips: &Trips, spoil: Option<MaterialId>) -> bool {
        let lines = trips.lines.iter();
        let mut lines = lines.filter_map(|place| self.lines.get(*place));
        spoil.is_some() && lines.all(|line| Some(line.material) == spoil)
    }
}

/// Choices of one run that a later run keeps: then a changed price changes money and nothing else.
#[derive(Clone, Debug, Default)]
pub struct Held {
    /// Price rows by material, scope and moment.
    pub offers: BTreeMap<(MaterialId, Scope, Moment), Vec<OfferId>>,
    /// The vehicle in which a line of an order travels.
    pub vehicles: BTreeMap<(MaterialId, Scope, Moment), VehicleId>,
    /// Cut lists, which stay while they still yield the pieces that are needed.
    pub cut_lists: BTreeMap<MaterialId, CutList>,
}
