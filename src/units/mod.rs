//! Quantities and money: the unit is the type, the number inside is a decimal.
//!
//! Everything is stored in SI base units (metre, square metre, cubic metre, kilogram, hour), which
//! every customary unit converts to exactly. Nothing here rounds except the functions of [`round`].

#[cfg(test)]
pub(crate) mod by_hand;
mod flow;
pub mod length;
pub mod limit;
pub mod money;
pub mod parse;
mod quantity;
pub mod round;
pub mod share;
pub mod show;
pub mod time;
pub mod weight;

pub use flow::{Flow, Pressure};
pub use length::{Area, Length, Volume};
pub use limit::Limit;
pub use money::{Currency, Money};
pub use rust_decimal::Decimal;
pub use show::System;
pub use time::Hours;
pub use weight::{Density, Weight};

/// An amount of something that is measured, counted or weighed: what a need, a pack or a step holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Amount {
    /// Pieces.
    Count(Decimal),
    /// A running length.
    Length(Length),
    /// A covered area.
    Area(Area),
    /// A loose volume.
    Volume(Volume),
    /// A weight.
    Weight(Weight),
}

/// Which kind of [`Amount`] a thing is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Dimension {
    /// Pieces.
    Count,
    /// Metres.
    Length,
    /// Square metres.
    Area,
    /// Cubic metres.
    Volume,
    /// Kilograms.
    Weight,
}

impl Amount {
    /// The number in the base unit of its dimension (piece, m, m2, m3, kg).
    pub fn base(self) -> Decimal {
        match self {
            Self::Count(n) => n,
            Self::Length(l) => l.in_metres(),
            Self::Area(a) => a.in_square_metres(),
            Self::Volume(v) => v.in_cubic_metres(),
            Self::Weight(w) => w.in_kilograms(),
        }
    }

    /// The kind of amount.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Count(_) => Dimension::Count,
            Self::Length(_) => Dimension::Length,
            Self::Area(_) => Dimension::Area,
            Self::Volume(_) => Dimension::Volume,
            Self::Weight(_) => Dimension::Weight,
        }
    }

    /// The same dimension with another number of base units.
    #[must_use]
    pub fn with_base(self, base: Decimal) -> Self {
        self.dimension().of_base(base)
    }

    /// This amount `n` times over; saturates at the largest decimal instead of overflowing.
    #[must_use]
    pub fn times(self, n: Decimal) -> Self {
        self.with_base(self.base().saturating_mul(n))
    }

    /// The sum of two amounts of one dimension, `None` when the dimensions differ.
    pub fn plus(self, other: Self) -> Option<Self> {
        (self.dimension() == other.dimension())
            .then(|| self.with_base(self.base().saturating_add(other.base())))
    }
}

impl Dimension {
    /// An amount of this dimension from base units (piece, m, m2, m3, kg).
    pub fn of_base(self, base: Decimal) -> Amount {
        match self {
            Self::Count => Amount::Count(base),
            Self::Length => Amount::Length(Length::metres(base)),
            Self::Area => Amount::Area(Area::square_metres(base)),
            Self::Volume => Amount::Volume(Volume::cubic_metres(base)),
            Self::Weight => Amount::Weight(Weight::kilograms(base)),
        }
    }
}
