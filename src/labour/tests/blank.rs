//! The ground of the tests' small job: a crew of four, and the figures of the barrow and the way.

use super::yard::given;
use crate::model::by_hand;
use crate::model::job::Job;
use crate::model::library::{Backing, Checked, Library, LibraryFigure};
use crate::model::settings::{Settings, TopUp};
use crate::units::by_hand::{d, hours};
use crate::units::{Hours, Length};

/// Two phases and nothing in them; days of 8 h without set-up.
pub(super) fn empty_job() -> Job {
    let settings = Settings {
        top_up: given(TopUp::None, "Value"),
        kerf: given(Length::ZERO, "Value"),
        crew_size: given(4, "Value"),
        hours_per_day: given(hours("8"), "Value"),
        setup_hours: given(Hours::ZERO, "Value"),
        ..by_hand::settings("Trial")
    };
    Job {
        phases: vec!["Spring".into(), "Summer".into()],
        ..by_hand::job(settings)
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
