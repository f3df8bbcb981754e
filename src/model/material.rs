//! Materials: what things weigh, how they settle, how big their section is.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::block::BlockSize;
use super::id;
use super::known::Known;
use super::source::RowAt;
use crate::units::{Amount, Density, Length, Weight};

id!(
    /// A material of the job, by its place in [`crate::model::job::Job::materials`].
    MaterialId
);

/// What a material is for; this decides how it is measured and which tasks it brings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Category {
    /// Soil and soil blends, by volume.
    Soil,
    /// Compost, by volume.
    Compost,
    /// Coarse woody fill: logs, brush, chips; by volume, and with voids.
    Wood,
    /// Leaves, straw and the like, by volume.
    Litter,
    /// Mulch on top or on paths, by volume.
    Mulch,
    /// Gravel, sand, stone, by volume.
    Aggregate,
    /// Peat, coir, perlite and other parts of blends, by volume.
    Medium,
    /// Fertiliser, lime, meal; by weight or by the piece.
    Amendment,
    /// Protective sheets under fill, by area.
    Sheet,
    /// Liners of walls, by area.
    Liner,
    /// Burrow mesh, by area.
    Mesh,
    /// Boards, posts, caps and timbers of a section, by length.
    Lumber,
    /// Screws, bolts and other fasteners, by the piece.
    Fastener,
    /// Blocks, bricks, caps and segmental units, by the piece.
    Block,
    /// Reinforcing bars, by length.
    Bar,
    /// Stone for walls and their caps, by weight, or by length for caps.
    Stone,
    /// Beds bought whole, by the piece.
    ReadyMade,
    /// Panels of which walls are made: sheets by area, modules by the piece.
    Panel,
    /// Trims that cover corners and edges, by length.
    Trim,
    /// Dripline and other tube of watering, by length.
    Tube,
    /// Fittings of watering, by the piece.
    Fitting,
    /// Oil, stain, end-cut preservative; by covered area.
    Finish,
    /// Anything else.
    Other,
}

impl Category {
    /// Every category, in the order of the filling and building.
    pub const ALL: [Self; 23] = [
        Self::Soil,
        Self::Compost,
        Self::Wood,
        Self::Litter,
        Self::Mulch,
        Self::Aggregate,
        Self::Medium,
        Self::Amendment,
        Self::Sheet,
        Self::Liner,
        Self::Mesh,
        Self::Lumber,
        Self::Fastener,
        Self::Block,
        Self::Bar,
        Self::Stone,
        Self::ReadyMade,
        Self::Panel,
        Self::Trim,
        Self::Tube,
        Self::Fitting,
        Self::Finish,
        Self::Other,
    ];

    /// The category's word in files and outputs.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Soil => "soil",
            Self::Compost => "compost",
            Self::Wood => "wood",
            Self::Litter => "litter",
            Self::Mulch => "mulch",
            Self::Aggregate => "aggregate",
            Self::Medium => "medium",
            Self::Amendment => "amendment",
            Self::Sheet => "sheet",
            Self::Liner => "liner",
            Self::Mesh => "mesh",
            Self::Lumber => "lumber",
            Self::Fastener => "fastener",
            Self::Block => "block",
            Self::Bar => "bar",
            Self::Stone => "stone",
            Self::ReadyMade => "ready-made",
            Self::Panel => "panel",
            Self::Trim => "trim",
            Self::Tube => "tube",
            Self::Fitting => "fitting",
            Self::Finish => "finish",
            Self::Other => "other",
        }
    }

    /// Whether it is placed by volume as a layer of fill.
    pub const fn is_fill(self) -> bool {
        matches!(
            self,
            Self::Soil
                | Self::Compost
                | Self::Wood
                | Self::Litter
                | Self::Mulch
                | Self::Aggregate
                | Self::Medium
        )
    }
}

/// Where a material comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Source {
    /// Bought; needs a price.
    Buy,
    /// Found on the site; costs only work.
    OnSite,
    /// Given; costs only work, and counts at its stated value as in-kind.
    Donated,
}

/// Dressed cross-section of a board, post or timber.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Section {
    /// The name the trade calls it, as `2x10`.
    pub nominal: Arc<str>,
    /// Nominal face width (10 in of a 2x10), for recognising heights given as nominal courses.
    pub nominal_face: Length,
    /// Dressed thickness.
    pub thickness: Length,
    /// Dressed face width.
    pub face: Length,
}

/// The size of a wall panel, as far as the job gives it.
#[derive(Clone, Debug, Default)]
pub struct PanelSize {
    /// Along its ribs or grain; of a module, the length of wall that it makes.
    pub length: Option<Known<Length>>,
    /// Across its ribs or grain; of a module, its height.
    pub width: Option<Known<Length>>,
    /// What it covers beside its neighbour: its width less the lap.
    pub cover: Option<Known<Length>>,
    /// Radius of the wall that a curved module makes, on its outside.
    pub radius: Option<Known<Length>>,
    /// What one sheet, module or ready-made bed weighs.
    pub weight: Option<Known<Weight>>,
}

/// One material, the job's overrides already laid over the trade library.
///
/// Shares are fractions: 0.15 for 15%. Figures that neither the job nor the library has are `None`
/// (densities) or zero by an assumption that says so.
#[derive(Clone, Debug)]
pub struct Material {
    /// Name as the job writes it, or the library's.
    pub name: Arc<str>,
    /// Row of the `Materials` sheet, when there is one.
    pub at: Option<RowAt>,
    /// What it is for.
    pub category: Category,
    /// Bulk density as delivered.
    pub delivered: Option<Known<Density>>,
    /// Bulk density when soaked.
    pub wet: Option<Known<Density>>,
    /// Share of its volume lost when wetted down.
    pub wet_down: Known<Decimal>,
    /// Share of the wetted volume lost in the first season.
    pub first_season: Known<Decimal>,
    /// Air share of its bulk volume.
    pub void: Known<Decimal>,
    /// Share of that air which the soil above fills.
    pub infill: Known<Decimal>,
    /// Share added to the take-off for spills, laps of small goods, breakage.
    pub waste: Known<Decimal>,
    /// Cross-section, for lumber.
    pub section: Option<Known<Section>>,
    /// Size of a panel.
    pub panel: PanelSize,
    /// Size, for blocks.
    pub block: Option<Known<BlockSize>>,
    /// Width of a roll, for sheets, liners and mesh.
    pub roll_width: Option<Known<Length>>,
    /// Lap between neighbouring strips, for sheets, liners and mesh; of panels, side by side.
    pub lap: Known<Length>,
    /// Area that one unit covers per coat, for finishes (m2 per litre is an area per volume: kept as m2 per m3).
    pub coverage: Option<Known<Decimal>>,
    /// Face of wall that a weight of stone builds, in m2 per kg.
    pub face: Option<Known<Decimal>>,
    /// Grade or other specification; a choice never crosses it silently.
    pub spec: Option<Arc<str>>,
    /// Where it comes from.
    pub source: Known<Source>,
    /// What is already there and free.
    pub on_hand: Option<Known<Amount>>,
    /// Stated value of a donation, in currency a base unit of its amount.
    pub value: Option<Known<Decimal>>,
}
