//! An empty job, its settings, and a site that nothing is known of.

use rust_decimal::Decimal;

use super::no_share;
use crate::model::calendar::{Calendar, WorkWeek};
use crate::model::funding::{Budgeting, Funding};
use crate::model::ground::GroundWork;
use crate::model::job::{HaulGround, Job, Site};
use crate::model::known::Known;
use crate::model::quote::Quote;
use crate::model::settings::{
    Buying, FullAfter, Ground, Paper, ProfitAs, Settings, TaxMode, TopUp, TrimmedEnds,
};
use crate::units::by_hand::{hours, inches};
use crate::units::{Currency, Hours, Length, System};

/// A job of one unnamed phase and nothing else.
pub(crate) fn job(settings: Settings) -> Job {
    Job {
        settings,
        sites: Vec::new(),
        phases: vec!["".into()],
        beds: Vec::new(),
        areas: Vec::new(),
        frames: Vec::new(),
        fills: Vec::new(),
        mixes: Vec::new(),
        materials: Vec::new(),
        spoil: None,
        ground_cover: None,
        suppliers: Vec::new(),
        offers: Vec::new(),
        vehicles: Vec::new(),
        tasks: Vec::new(),
        workers: Vec::new(),
        equipment: Vec::new(),
        extras: Vec::new(),
        payments: Vec::new(),
        funding: Funding::default(),
        drips: Vec::new(),
        pieces: Vec::new(),
        to_review: Vec::new(),
        spreads: std::collections::BTreeMap::new(),
        sheets_used: Vec::new(),
        left_out: Vec::new(),
    }
}

/// No overhead, profit or tax; two people for eight hours a day; a saw that takes 1/8 in.
pub(crate) fn settings(job_name: &str) -> Settings {
    let no_length = || Known::assumed(Length::ZERO, "not set, taken as 0");
    let no_sum = || Known::assumed(Decimal::ZERO, "not set, taken as 0");
    Settings {
        job_name: job_name.into(),
        client: None,
        estimate_number: None,
        revision: None,
        prepared_by: None,
        date: None,
        valid_days: Known::assumed(30, "not set, taken as 30 days"),
        units: Known::assumed(System::UsCustomary, "not set, taken as US"),
        currency: Known::assumed(Currency::USD, "not set, taken as USD"),
        paper: Known::assumed(Paper::Letter, "not set, taken as Letter"),
        full_after: Known::assumed(FullAfter::WetDown, "not set, taken as wet-down"),
        crown: no_length(),
        freeboard: no_length(),
        top_up: Known::assumed(TopUp::Offered, "not set, taken as offered"),
        kerf: Known::assumed(inches("0.125"), "not set, taken as 1/8 in"),
        timber_kerf: Known::assumed(inches("0.375"), "not set, taken as 3/8 in"),
        end_trim: no_length(),
        trimmed_ends: Known::assumed(TrimmedEnds::Both, "not set, taken as both"),
        least_offcut: Known::assumed(inches("12"), "not set, taken as 1 ft"),
        cut_tolerance: no_length(),
        culls: no_share(),
        ground: ground(),
        crew_size: Known::assumed(2, "not set, taken as 2 people"),
        hours_per_day: Known::assumed(hours("8"), "not set, taken as 8 h"),
        setup_hours: Known::assumed(Hours::ZERO, "not set, taken as no set-up"),
        season_factor: Known::assumed(Decimal::ONE, "not set, taken as 1"),
        overhead: no_share(),
        contingency: no_share(),
        profit: no_share(),
        profit_as: Known::assumed(ProfitAs::Markup, "not set, taken as markup"),
        tax_mode: Known::assumed(TaxMode::None, "not set, taken as none"),
        tax: no_share(),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: no_sum(),
        minimum_charge: no_sum(),
        client_sees_contingency: Known::assumed(false, "not set, taken as no"),
        quote: Quote::default(),
        budgeting: Budgeting::default(),
        buying: Known::assumed(Buying::LeastCost, "not set, taken as least cost"),
        stale_days: Known::assumed(90, "not set, taken as 90 days"),
        calendar: calendar(),
    }
}

/// Work from Monday to Friday without days off.
pub(crate) fn calendar() -> Calendar {
    Calendar {
        week: Known::assumed(WorkWeek::USUAL, "not set, taken as Mon-Fri"),
        days_off: Vec::new(),
        settling: Known::assumed(14, "not set, taken as 14 days"),
        season: Known::assumed(180, "not set, taken as 180 days"),
    }
}

/// Ground that is left as it is.
fn ground() -> Ground {
    Ground {
        work: Known::assumed(GroundWork::Leave, "not set, taken as leave"),
        margin: Known::assumed(Length::ZERO, "not set, taken as 0"),
        swell: Known::assumed(Decimal::new(25, 2), "not set, taken as 25%"),
        spoil_kept: no_share(),
        sheets: Known::assumed(Decimal::TWO, "not set, taken as 2"),
    }
}

/// A site on firm, level ground, at no distance.
pub(crate) fn site(name: &str) -> Site {
    Site {
        at: None,
        name: name.into(),
        address: None,
        travel: Known::assumed(Hours::ZERO, "not set, taken as no travel"),
        haul: Known::assumed(Length::ZERO, "not set, taken as no way"),
        haul_ground: Known::assumed(HaulGround::Firm, "not set, taken as firm"),
        haul_slope: Known::assumed(Decimal::ZERO, "not set, taken as level"),
        gate: None,
        tipping_place: None,
        ground: None,
        cover: None,
        ground_work: None,
        tax: None,
        drop_fee: None,
        allowed_hours: None,
        first_day: None,
    }
}
