//! What the kinds of quantities are called, and what to write for one.

use super::unit::Measures;
use crate::units::System;

impl Measures {
    /// What it is, with its article.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Length => "a length",
            Self::Area => "an area",
            Self::Volume => "a volume",
            Self::Weight => "a weight",
            Self::Density => "a density",
            Self::Flow => "a flow",
            Self::Pressure => "a pressure",
            Self::Count => "a count",
            Self::Share => "a percentage",
            Self::Time => "a time",
        }
    }

    /// Examples to write, in a system of units.
    pub(crate) const fn examples(self, system: System) -> &'static str {
        match (self, system) {
            (Self::Length, System::UsCustomary) => "8 ft, 7' 10 1/2\" or 96 in",
            (Self::Length, System::Metric) => "2.4 m or 2400 mm",
            (Self::Area, System::UsCustomary) => "32 ft2 or 4 ft x 8 ft",
            (Self::Area, System::Metric) => "3 m2 or 1.2 m x 2.4 m",
            (Self::Volume, System::UsCustomary) => "1.5 ft3 or 2 yd3",
            (Self::Volume, System::Metric) => "40 L or 1.5 m3",
            (Self::Weight, System::UsCustomary) => "40 lb or 6.5 short tons",
            (Self::Weight, System::Metric) => "25 kg or 6 t",
            (Self::Density, System::UsCustomary) => "2200 lb/yd3",
            (Self::Density, System::Metric) => "1300 kg/m3",
            (Self::Flow, System::UsCustomary) => "0.6 gal/h",
            (Self::Flow, System::Metric) => "2.3 L/h",
            (Self::Pressure, System::UsCustomary) => "30 psi",
            (Self::Pressure, System::Metric) => "2 bar",
            (Self::Count, _) => "12",
            (Self::Share, _) => "15%",
            (Self::Time, _) => "1.5 h or 90 min",
        }
    }

    /// The unit that people most likely left out.
    pub(crate) const fn usual_unit(self, system: System) -> &'static str {
        match (self, system) {
            (Self::Length, System::UsCustomary) => "ft",
            (Self::Length, System::Metric) => "m",
            (Self::Area, System::UsCustomary) => "ft2",
            (Self::Area, System::Metric) => "m2",
            (Self::Volume, System::UsCustomary) => "yd3",
            (Self::Volume, System::Metric) => "m3",
            (Self::Weight, System::UsCustomary) => "lb",
            (Self::Weight, System::Metric) => "kg",
            (Self::Density, System::UsCustomary) => "lb/yd3",
            (Self::Density, System::Metric) => "kg/m3",
            (Self::Flow, System::UsCustomary) => "gal/h",
            (Self::Flow, System::Metric) => "L/h",
            (Self::Pressure, System::UsCustomary) => "psi",
            (Self::Pressure, System::Metric) => "bar",
            (Self::Count, _) => "each",
            (Self::Share, _) => "%",
            (Self::Time, _) => "h",
        }
    }
}
