//! Drip lines: how beds are watered.

use rust_decimal::Decimal;

use super::id;
use super::known::Known;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::{Flow, Length, Pressure};

id!(
    /// A row of `Irrigation`, by its place in [`crate::model::job::Job::drips`].
    DripId
);

/// What makes a zone, which runs at one time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ZoneBy {
    /// As many beds as the supply feeds.
    Supply,
    /// Each bed by itself.
    Bed,
    /// All beds of a site together.
    Site,
}

impl ZoneBy {
    /// Its word in files and outputs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Supply => "supply",
            Self::Bed => "bed",
            Self::Site => "site",
        }
    }
}

/// The parts of a drip system, as materials.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct DripParts {
    /// Line with emitters, by length.
    pub line: MaterialId,
    /// Tube without emitters, by length.
    pub tube: MaterialId,
    /// Tees and elbows.
    pub fitting: MaterialId,
    /// What closes the end of a line.
    pub end: MaterialId,
    /// What holds lines down.
    pub stake: MaterialId,
    /// One for each bed.
    pub valve: MaterialId,
    /// Keeps water of the beds out of the house supply; one for each site.
    pub backflow: MaterialId,
    /// One for each site.
    pub filter: MaterialId,
    /// One for each site.
    pub regulator: MaterialId,
    /// One for each site.
    pub timer: MaterialId,
    /// Where a zone begins; one for each zone.
    pub adapter: MaterialId,
    /// Where a zone is flushed; one for each zone.
    pub flush: MaterialId,
}

/// One row of `Irrigation`.
#[derive(Clone, Debug)]
pub struct Drip {
    /// The row.
    pub at: RowAt,
    /// Between lines.
    pub line_spacing: Known<Length>,
    /// Between emitters of a line.
    pub emitter_spacing: Known<Length>,
    /// Of one emitter.
    pub emitter_flow: Known<Flow>,
    /// What the tap gives, as measured.
    pub supply: Option<Known<Flow>>,
    /// What the tap has, as measured.
    pub pressure: Option<Known<Pressure>>,
    /// What makes a zone.
    pub zone_by: Known<ZoneBy>,
    /// Tube from the tap to the beds of the row, all of it.
    pub main: Option<Known<Length>>,
    /// The longest that one line may be, where the emitters are of a class that is known.
    pub longest: Option<Length>,
    /// Its parts.
    pub parts: DripParts,
    /// Figures that the trade library gives.
    pub figures: DripFigures,
}

/// Figures of drip systems.
#[derive(Clone, Debug)]
pub struct DripFigures {
    /// Water that beds need in a week of the season, as a depth.
    pub need: Known<Length>,
    /// Part of the water that reaches the roots.
    pub efficiency: Decimal,
    /// What emitters need at the least.
    pub least_pressure: Pressure,
    /// Part of the measured flow that a zone may take.
    pub zone_share: Decimal,
    /// Tube from the ground over the rim into a bed, beside the height of its wall.
    pub riser: Length,
    /// Between stakes along a line.
    pub stake_every: Length,
}
