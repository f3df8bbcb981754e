//! What suppliers sell and how it comes.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::by_measure::ByMeasure;
use super::id;
use super::known::Known;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::round::tidy15;
use crate::units::{Amount, Length, Volume, Weight};

id!(
    /// A supplier of the job, by its place in [`crate::model::job::Job::suppliers`].
    SupplierId
);
id!(
    /// A price row, by its place in [`crate::model::job::Job::offers`].
    OfferId
);
id!(
    /// A vehicle row, by its place in [`crate::model::job::Job::vehicles`].
    VehicleId
);

/// One row of `Suppliers`, or a name met in `Prices`.
#[derive(Clone, Debug)]
pub struct Supplier {
    /// The row, when there is one.
    pub at: Option<RowAt>,
    /// Name.
    pub name: Arc<str>,
    /// Whom to call.
    pub contact: Option<Arc<str>>,
    /// Account number with them.
    pub account: Option<Arc<str>>,
    /// Terms of payment.
    pub terms: Option<Arc<str>>,
}

/// How goods are handed over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Handover {
    /// Loose, measured by the step, on a truck: rounds per drop and per load.
    Bulk,
    /// By the whole pack (bag, board, roll, box, each): rounds per job.
    Packed,
}

/// One row of `Prices`.
#[derive(Clone, Debug)]
pub struct Offer {
    /// The row.
    pub at: RowAt,
    /// Who sells it.
    pub supplier: SupplierId,
    /// What.
    pub material: MaterialId,
    /// Of which specification.
    pub spec: Option<Arc<str>>,
    /// The pack in the seller's word: bag, board, yard.
    pub pack: Arc<str>,
    /// Loose or packed.
    pub handover: Handover,
    /// What one priced unit holds: 1 yd3, 1.5 ft3, 12 ft, 50 pieces.
    pub holds: Amount,
    /// Price as its cell has it, of one priced unit unless it is by a measure; `None` when the cell is empty.
    pub price: Option<Known<Decimal>>,
    /// The measure that the price is for, when it is not for the piece.
    pub by: Option<ByMeasure>,
    /// Priced units from which this price applies; 0 for always.
    pub from_quantity: Decimal,
    /// Sold in multiples of this many priced units: 0.5 for half yards, 1 for packs.
    pub step: Decimal,
    /// Least order in priced units.
    pub least: Decimal,
    /// How many priced units the seller has.
    pub available: Option<Decimal>,
    /// True length of a stick, where boards come over-long.
    pub actual_length: Option<Length>,
    /// Size of one sheet, for panels: along its ribs or grain, then across.
    pub sheet: Option<(Length, Length)>,
    /// Whether tax is paid on it.
    pub taxable: bool,
    /// Whether the user marked it.
    pub preferred: bool,
    /// Days from order to delivery.
    pub lead_days: Option<u32>,
    /// Day on which the price was given.
    pub price_date: Option<Date>,
    /// Free words.
    pub note: Option<Arc<str>>,
}

impl Offer {
    /// Price of one priced unit, exact: 16.6666666666667 bf at 1.85 make 30.8333333333334 a stick.
    ///
    /// Money is rounded where an order line is, and nowhere before.
    pub fn unit_price(&self) -> Option<Decimal> {
        let asked = self.price.as_ref()?.value;
        Some(match &self.by {
            Some(by) => tidy15(asked.saturating_mul(by.times())),
            None => asked,
        })
    }
}

/// One row of `Deliveries`.
#[derive(Clone, Debug)]
pub struct Vehicle {
    /// The row.
    pub at: RowAt,
    /// Whose it is.
    pub supplier: SupplierId,
    /// What the supplier calls it.
    pub name: Arc<str>,
    /// Most volume a trip; `None` for no limit given.
    pub volume: Option<Known<Volume>>,
    /// Most weight a trip; `None` for no limit given.
    pub weight: Option<Known<Weight>>,
    /// Fee a trip.
    pub fee: Option<Known<Decimal>>,
    /// Least value of goods on one drop.
    pub minimum_order: Option<Known<Decimal>>,
    /// Value of goods on one drop from which there is no fee.
    pub free_over: Option<Known<Decimal>>,
    /// Materials or categories that it carries; empty for everything loose.
    pub carries: Vec<Arc<str>>,
}
