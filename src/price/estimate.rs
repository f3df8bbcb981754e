//! The estimate as a whole: everything that the outputs show.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::alternates::Alternate;
use super::assumptions::Assumption;
use super::budget::Budget;
use super::evaluate::Values;
use super::ledger::{Format, Ledger};
use super::rechosen::Rechosen;
use super::term::CellRef;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::bed::BedId;
use crate::model::ground::AreaId;
use crate::model::job::{Job, LeftOut, PhaseId, SiteId};
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::problem::Problem;
use crate::schedule::{Schedule, schedule};
use crate::takeoff::{KindId, Kinds, TakeOff};
use crate::units::Money;

/// A priced job.
#[derive(Debug)]
pub struct Estimate {
    /// The job.
    pub job: Job,
    /// Its tables as read.
    pub sources: Sources,
    /// The date of the estimate.
    pub date: Date,
    /// Kinds of bed.
    pub kinds: Kinds,
    /// One take-off a kind, for one bed of it.
    pub takeoffs: Vec<TakeOff>,
    /// Orders, trips, cut lists.
    pub bought: Bought,
    /// Hours, days, hire.
    pub labour: Labour,
    /// The arithmetic from quantities to the price.
    pub ledger: Ledger,
    /// Its numbers.
    pub values: Values,
    /// The price, named.
    pub price: Price,
    /// What was taken from the library or assumed.
    pub assumptions: Vec<Assumption>,
    /// What the price does not hold, in words.
    pub not_priced: Vec<String>,
    /// Cautions and notices, most important first.
    pub problems: Vec<Problem>,
    /// What choosing anew changed, when the job was read back from an estimate and anything changed.
    pub rechosen: Option<Rechosen>,
    /// What the alternates come to, in the order of the job.
    pub alternates: Vec<Alternate>,
}

impl Estimate {
    /// Whether every line has a price and nothing of the job is left out.
    pub fn is_complete(&self) -> bool {
        self.price.missing.is_empty() && self.job.left_out.is_empty()
    }

    /// When everything happens; nothing without hours.
    pub fn schedule(&self) -> Option<Schedule> {
        schedule(&self.job, &self.bought, &self.labour, self.date)
    }

    /// What is not complete, loudly: `PRICE NOT COMPLETE: 1 bed is left out; 2 lines have no price`.
    pub fn not_complete(&self) -> Option<String> {
        let counted = |n: usize, one: &str, more: &str| match n {
            0 => None,
            1 => Some(format!("1 {one}")),
            n => Some(format!("{n} {more}")),
        };
        let beds = self.job.left_out.iter().filter(|l| l.sheet == Sheet::Beds);
        let beds = beds.count();
        let rows = self.job.left_out.len().saturating_sub(beds);
        let parts = [
            counted(beds, "bed is left out", "beds are left out"),
            counted(rows, "other row is left out", "other rows are left out"),
            counted(
                self.price.missing.len(),
                "line has no price",
                "lines have no price",
            ),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        (!parts.is_empty()).then(|| format!("PRICE NOT COMPLETE: {}", parts.join("; ")))
    }

    /// Everything that the price lacks, in words: beds first, then other rows, then prices.
    pub fn lacking(&self) -> Vec<String> {
        let mut left: Vec<&LeftOut> = self.job.left_out.iter().collect();
        left.sort_by_key(|left| left.sheet != Sheet::Beds);
        let left = left.into_iter().map(LeftOut::words);
        left.chain(self.price.missing.iter().cloned()).collect()
    }
}

/// One line of the price, from direct cost to the total.
#[derive(Clone, Debug)]
pub struct PriceLine {
    /// Its key in files: `overhead`.
    pub key: &'static str,
    /// Its name for people.
    pub label: Arc<str>,
    /// What it is computed from, in words: `12% of direct cost 9,927.75`.
    pub words: String,
    /// The amount.
    pub amount: Money,
    /// The same with the top-up, when it is offered beside the price.
    pub with_top_up: Option<Money>,
    /// Where the amount stands in the ledger.
    pub at: CellRef,
    /// Where the amount with the top-up stands.
    pub at_with_top_up: Option<CellRef>,
    /// Whether it is a sum of lines above it.
    pub is_total: bool,
}

/// Categories by which cost is shown and shared to beds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Group {
    /// Goods, with the tax paid on them.
    Materials,
    /// Trips.
    Delivery,
    /// Hours.
    Labour,
    /// Hire.
    Equipment,
    /// Extras, allowances, pass-through.
    Other,
}

impl Group {
    /// All groups in the order of the price.
    pub const ALL: [Self; 5] = [
        Self::Materials,
        Self::Delivery,
        Self::Labour,
        Self::Equipment,
        Self::Other,
    ];

    /// Its title.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Materials => "Materials",
            Self::Delivery => "Delivery",
            Self::Labour => "Labour",
            Self::Equipment => "Equipment",
            Self::Other => "Other",
        }
    }
}

/// What one row of `Beds` costs and is priced at, for all beds of the row.
#[derive(Clone, Debug)]
pub struct BedMoney {
    /// The row.
    pub bed: BedId,
    /// Shares of cost, in the order of [`Group::ALL`].
    pub groups: [Money; 5],
    /// Their sum.
    pub cost: Money,
    /// Share of the price with tax.
    pub price: Money,
}

/// What one area costs and is priced at.
#[derive(Clone, Debug)]
pub struct AreaMoney {
    /// The area.
    pub area: AreaId,
    /// Its row of the block of areas, from 0.
    pub row: u32,
    /// Shares of cost, in the order of [`Group::ALL`].
    pub groups: [Money; 5],
    /// Their sum.
    pub cost: Money,
    /// Share of the price with tax.
    pub price: Money,
}

/// Money of beds and areas together.
#[derive(Clone, Debug)]
pub struct PlaceMoney {
    /// The site.
    pub site: SiteId,
    /// The phase.
    pub phase: PhaseId,
    /// Beds there.
    pub beds: Decimal,
    /// Cost.
    pub cost: Money,
    /// Price with tax.
    pub price: Money,
}

/// Money of a kind of bed.
#[derive(Clone, Debug)]
pub struct KindMoney {
    /// The kind.
    pub kind: KindId,
    /// Cost of all its beds.
    pub cost: Money,
    /// Price with tax of all its beds.
    pub price: Money,
}

/// What a figure of the owner is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FigureKind {
    /// A sum of money.
    Money,
    /// Money for one of something.
    Rate,
    /// A share, as a fraction.
    Share,
}

impl FigureKind {
    /// How it is shown.
    pub fn format(self) -> Format {
        match self {
            Self::Money => Format::Money,
            Self::Rate => Format::UnitPrice,
            Self::Share => Format::Percent,
        }
    }
}

/// A figure for the owner alone.
#[derive(Clone, Debug)]
pub struct Figure {
    /// Its key in files: `gross_margin`.
    pub key: &'static str,
    /// Its name for people.
    pub label: Arc<str>,
    /// What it is computed from, in words.
    pub words: &'static str,
    /// What it is.
    pub kind: FigureKind,
    /// The figure.
    pub value: Decimal,
}

/// What is due at one stage of payment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// The stage, in the user's words.
    pub stage: Arc<str>,
    /// When, in the user's words.
    pub when: Option<Arc<str>>,
    /// How much of the price with tax.
    pub amount: Money,
}

/// The price and what belongs beside it.
#[derive(Clone, Debug)]
pub struct Price {
    /// Lines from materials to the total, in printed order.
    pub lines: Vec<PriceLine>,
    /// Direct cost.
    pub direct_cost: Money,
    /// Price before tax is added.
    pub before_tax: Money,
    /// Price with tax: what the client pays.
    pub total: Money,
    /// What the top-up would add to the total, when it is offered.
    pub top_up: Option<Money>,
    /// What the owner wants to know of it; no client sees these.
    pub owner: Vec<Figure>,
    /// Stages of payment, in the job's order; they come to the total.
    pub payments: Vec<Due>,
    /// The budget of a job that grants pay for.
    pub budget: Option<Budget>,
    /// Beds, in the job's order.
    pub beds: Vec<BedMoney>,
    /// What each row of `Extras` costs with the tax paid on it, in the job's order.
    pub extras: Vec<Money>,
    /// Areas, in the job's order.
    pub areas: Vec<AreaMoney>,
    /// Sites and phases, by name.
    pub places: Vec<PlaceMoney>,
    /// Kinds, in the order of [`Kinds::kinds`].
    pub kinds: Vec<KindMoney>,
    /// What has no price, in words, one for each line: `Compost: no price at any supplier`.
    pub missing: Vec<String>,
    /// Day of the oldest price that was used, and its age in days at the estimate's date.
    pub oldest_price: Option<(Date, i64)>,
    /// Last day on which the price holds.
    pub valid_until: Date,
    /// `119.2 hours, of which 84.0 rest on typical figures, not yours; low 90.1, high 160.4`.
    pub hours_words: String,
}

impl Price {
    /// A line by its key.
    pub fn line(&self, key: &str) -> Option<&PriceLine> {
        self.lines.iter().find(|line| line.key == key)
    }
}
