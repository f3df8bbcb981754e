//! Fills: stacks of layers, bottom first, with mixes and amendments.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::id;
use super::material::MaterialId;
use super::source::RowAt;
use crate::units::{Amount, Length};

id!(
    /// A fill of the job, by its place in [`crate::model::job::Job::fills`].
    FillId
);
id!(
    /// A mix of the job, by its place in [`crate::model::job::Job::mixes`].
    MixId
);

/// What a layer is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stuff {
    /// One material.
    Material(MaterialId),
    /// A recipe, blended on site.
    Mix(MixId),
}

/// How deep a layer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Depth {
    /// A length.
    Fixed(Length),
    /// What the other layers leave.
    Rest,
    /// A fraction of the height to fill.
    Share(Decimal),
    /// So many sheets on top of each other; takes no height.
    Sheets(u32),
}

/// One row of `Fills`.
#[derive(Clone, Debug)]
pub struct Layer {
    /// The row; `None` for a fill of the trade library.
    pub at: Option<RowAt>,
    /// What it is made of.
    pub stuff: Stuff,
    /// How deep it is when placed and settled to the chosen moment.
    pub depth: Depth,
    /// Free words.
    pub note: Option<Arc<str>>,
}

/// A named stack of layers.
#[derive(Clone, Debug)]
pub struct Fill {
    /// Its name.
    pub name: Arc<str>,
    /// Layers from the bottom up.
    pub layers: Vec<Layer>,
    /// What is worked into the top.
    pub amendments: Vec<Amendment>,
}

/// A recipe in parts by volume.
#[derive(Clone, Debug)]
pub struct Mix {
    /// Its name.
    pub name: Arc<str>,
    /// Materials and their parts, greater than zero.
    pub parts: Vec<(MaterialId, Decimal)>,
}

/// How much of an amendment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rate {
    /// An amount for each square metre of bed (already divided).
    PerArea(Amount),
    /// An amount for each cubic metre of the top soil layer.
    PerVolume(Amount),
    /// An amount for each bed.
    PerBed(Amount),
    /// A fraction of the top layer's volume.
    Share(Decimal),
}

/// One row of `Amendments`.
#[derive(Clone, Debug)]
pub struct Amendment {
    /// The row.
    pub at: Option<RowAt>,
    /// What is added.
    pub material: MaterialId,
    /// How much.
    pub rate: Rate,
}
