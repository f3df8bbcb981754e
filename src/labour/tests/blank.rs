//! The blank parts of the tests' small job: settings without effect, and the figures of the barrow and the way.

use super::yard::{d, given};
use crate::model::job::Job;
use crate::model::library::{Backing, Checked, Library, LibraryFigure};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::takeoff::TakeOff;
use crate::units::{Area, Currency, Decimal, Hours, Length, System, Volume, Weight};

pub(super) fn empty_takeoff() -> TakeOff {
    TakeOff {
        size: String::new(),
        outside_area: Area::ZERO,
        outside_perimeter: Length::ZERO,
        inside_area: Area::ZERO,
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

pub(super) fn empty_job() -> Job {
    Job {
        settings: settings(),
        sites: Vec::new(),
        phases: vec!["Spring".into(), "Summer".into()],
        beds: Vec::new(),
        frames: Vec::new(),
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

fn settings() -> Settings {
    let none = || given(Decimal::ZERO, "Value");
    let length = || given(Length::ZERO, "Value");
    Settings {
        job_name: "Trial".into(),
        client: None,
        estimate_number: None,
        revision: None,
        prepared_by: None,
        date: None,
        valid_days: given(30, "Value"),
        units: given(System::UsCustomary, "Value"),
        currency: given(Currency::USD, "Value"),
        paper: given(Paper::Letter, "Value"),
        full_after: given(FullAfter::WetDown, "Value"),
        crown: length(),
        freeboard: length(),
        top_up: given(TopUp::None, "Value"),
        kerf: length(),
        end_trim: length(),
        culls: none(),
        crew_size: given(4, "Value"),
        hours_per_day: given(Hours::of(d("8")), "Value"),
        setup_hours: given(Hours::ZERO, "Value"),
        season_factor: given(Decimal::ONE, "Value"),
        overhead: none(),
        contingency: none(),
        profit: none(),
        profit_as: given(ProfitAs::Markup, "Value"),
        tax_mode: given(TaxMode::None, "Value"),
        tax: none(),
        taxed_categories: Vec::new(),
        exemption: None,
        round_to: none(),
        minimum_charge: none(),
        buying: given(Buying::LeastCost, "Value"),
        stale_days: given(30, "Value"),
    }
}

/// The figures that labour asks for, low, typical and high.
pub(super) fn library() -> Library {
    let figure = |(key, low, typical, high): &(&str, &str, &str, &str)| LibraryFigure {
        key: (*key).into(),
        name: (*key).into(),
        value: (d(low), d(typical), d(high)),
        unit: "".into(),
        backing: Backing {
            source: "trial".into(),
            confidence: "assumption".into(),
            checked: Checked::Recalled,
        },
    };
    Library {
        figures: FIGURES.iter().map(figure).collect(),
        ..Library::default()
    }
}

const FIGURES: &[(&str, &str, &str, &str)] = &[
    ("barrow_volume_ft3", "4", "6", "6"),
    ("barrow_weight_lb", "150", "250", "330"),
    ("barrow_speed_loaded_ft_min", "120", "160", "200"),
    ("barrow_speed_empty_ft_min", "180", "220", "260"),
    ("barrow_dump_min", "0.3", "0.4", "0.8"),
    ("barrow_start_min", "0.2", "0.3", "0.5"),
    ("barrow_loading_yd3_h", "1.5", "2.2", "3"),
    ("barrow_rest_pct", "15", "20", "30"),
    ("haul_slope_5_10", "1.05", "1.12", "1.2"),
    ("haul_slope_10_15", "1.2", "1.3", "1.5"),
    ("haul_slope_over_15", "1.4", "1.6", "2"),
    ("haul_soft", "1.15", "1.3", "1.6"),
    ("haul_stairs", "1.8", "2.5", "3.5"),
    ("haul_gate_narrow", "1.05", "1.15", "1.3"),
    ("haul_gate_narrow_in", "32", "36", "36"),
    ("wood_carry_ft", "50", "50", "50"),
];
