//! The settings of a job, one by one, each with where it came from.

use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::calendar::Calendar;
use super::funding::Budgeting;
use super::ground::GroundWork;
use super::known::Known;
use super::quote::Quote;
use crate::units::{Currency, Hours, Length, System};

/// The moment for which the bed shall be full.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FullAfter {
    /// Full once the fill is wetted down.
    WetDown,
    /// Still full when the first season is over.
    FirstSeason,
}

/// How the top-up after settling is dealt with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TopUp {
    /// Priced beside the total, for the client to choose.
    Offered,
    /// Part of the price.
    Included,
    /// Neither ordered nor priced.
    None,
}

/// Which ends of a stick are trimmed before it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TrimmedEnds {
    /// Both ends.
    Both,
    /// The end from which it is measured.
    One,
}

impl TrimmedEnds {
    /// As it is written in a job.
    pub fn words(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::One => "one",
        }
    }

    /// How many ends.
    pub fn number(self) -> Decimal {
        match self {
            Self::Both => Decimal::TWO,
            Self::One => Decimal::ONE,
        }
    }
}

/// What the profit percentage is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ProfitAs {
    /// Of cost, overhead and contingency.
    Markup,
    /// Of the price.
    Margin,
}

/// How sales tax is dealt with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TaxMode {
    /// No tax anywhere.
    None,
    /// Paid on purchases and built into cost.
    OnPurchases,
    /// Added on the materials part of the price.
    OnMaterials,
    /// Added on the whole price.
    OnPrice,
    /// Added on the categories named in `Taxed categories`.
    OnCategories,
}

/// How suppliers are chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Buying {
    /// The cheapest offer for each material.
    LeastCost,
    /// Everything from one supplier, the cheapest that has it all.
    OneSupplier,
    /// The offers marked `Preferred`.
    AsMarked,
}

/// Paper of the printed sheets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Paper {
    /// 8 1/2 x 11 in.
    Letter,
    /// 210 x 297 mm.
    A4,
}

/// What the job says of the ground.
#[derive(Clone, Debug)]
pub struct Ground {
    /// What is done under beds whose row and site say nothing.
    pub work: Known<GroundWork>,
    /// How far the work reaches beyond the outside of the walls.
    pub margin: Known<Length>,
    /// By which share ground grows when it is dug: 0.25 for a quarter.
    pub swell: Known<Decimal>,
    /// Share of the spoil that stays on the site, for topsoil or paths.
    pub spoil_kept: Known<Decimal>,
    /// Sheets of cardboard where ground is mown and covered.
    pub sheets: Known<Decimal>,
}

/// The `Job` sheet.
///
/// Percentages are fractions: 0.15 for 15%.
#[derive(Clone, Debug)]
pub struct Settings {
    /// Name of the job.
    pub job_name: Arc<str>,
    /// Whom it is for.
    pub client: Option<Arc<str>>,
    /// Number of the estimate.
    pub estimate_number: Option<Arc<str>>,
    /// Its revision.
    pub revision: Option<Arc<str>>,
    /// Who prepared it.
    pub prepared_by: Option<Arc<str>>,
    /// Date of the estimate; `None` until the command line fills it in.
    pub date: Option<Known<Date>>,
    /// Days for which the price is valid.
    pub valid_days: Known<u32>,
    /// Units of the outputs.
    pub units: Known<System>,
    /// Currency.
    pub currency: Known<Currency>,
    /// Paper.
    pub paper: Known<Paper>,
    /// For which moment beds shall be full.
    pub full_after: Known<FullAfter>,
    /// How far fill may stand above the rim on filling day.
    pub crown: Known<Length>,
    /// How far the surface shall stay below the rim.
    pub freeboard: Known<Length>,
    /// What happens about the top-up.
    pub top_up: Known<TopUp>,
    /// Width that a saw cut takes.
    pub kerf: Known<Length>,
    /// What a saw cut through timbers takes.
    pub timber_kerf: Known<Length>,
    /// Length cut off an end of a stick before use.
    pub end_trim: Known<Length>,
    /// Which ends are trimmed.
    pub trimmed_ends: Known<TrimmedEnds>,
    /// Offcuts of sticks from this length on are kept for other work.
    pub least_offcut: Known<Length>,
    /// How much shorter pieces may be tried, to tell what it would save; never done by itself.
    pub cut_tolerance: Known<Length>,
    /// Whole extra sticks for culls, as a share of the sticks of a section.
    pub culls: Known<Decimal>,
    /// The ground.
    pub ground: Ground,
    /// People on site.
    pub crew_size: Known<u32>,
    /// Hours of a working day, with set-up and travel.
    pub hours_per_day: Known<Hours>,
    /// Elapsed hours of set-up and packing a day.
    pub setup_hours: Known<Hours>,
    /// Factor on all hours for the season.
    pub season_factor: Known<Decimal>,
    /// Overhead as a fraction of direct cost.
    pub overhead: Known<Decimal>,
    /// Contingency as a fraction of direct cost.
    pub contingency: Known<Decimal>,
    /// Profit as a fraction; of what, says `profit_as`.
    pub profit: Known<Decimal>,
    /// What profit is a share of.
    pub profit_as: Known<ProfitAs>,
    /// How tax is dealt with.
    pub tax_mode: Known<TaxMode>,
    /// Tax rate as a fraction.
    pub tax: Known<Decimal>,
    /// Cost categories that carry tax when the mode is by category, as their titles.
    pub taxed_categories: Vec<Arc<str>>,
    /// Words about an exemption, which is recorded and printed.
    pub exemption: Option<Arc<str>>,
    /// The price is rounded up to a multiple of this; zero for none.
    pub round_to: Known<Decimal>,
    /// The least price.
    pub minimum_charge: Known<Decimal>,
    /// Whether the client reads contingency as a line of its own; else it is folded into the others.
    pub client_sees_contingency: Known<bool>,
    /// What a quote has beside these.
    pub quote: Quote,
    /// What a budget for funders has beside these.
    pub budgeting: Budgeting,
    /// How suppliers are chosen.
    pub buying: Known<Buying>,
    /// Prices older than this many days are called stale.
    pub stale_days: Known<u32>,
    /// On which days work is done, and what waits.
    pub calendar: Calendar,
}

impl Settings {
    /// The tax rate in force on a day.
    pub fn tax_on(&self, day: Date) -> &Known<Decimal> {
        self.quote.tax_on(day).unwrap_or(&self.tax)
    }
}
