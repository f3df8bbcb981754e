//! From the dimension in which something is needed to the one in which it is sold.

use crate::model::material::Material;
use crate::units::show::{System, grouped_plain};
use crate::units::{Amount, Area, Decimal, Density, Dimension, Length, Volume, Weight};

/// The figure of a material that leads from one dimension to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bridge {
    /// Volume and weight, by the density as delivered.
    Density(Density),
    /// Length and area, by the width of the roll.
    RollWidth(Length),
    /// Area and volume, by the area that a volume covers, in m2 per m3.
    Coverage(Decimal),
    /// Weight of stone and face of wall, by the face that a weight builds (in m2 per kg).
    Face(Decimal),
}

/// Pounds in the ton that stone is sold by in the US.
const TON: Decimal = Decimal::from_parts(2000, 0, 0, false, 0);

/// Why an amount cannot be told in another dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Gap {
    /// The material has no delivered density.
    Density,
    /// The material has no roll width.
    RollWidth,
    /// The material has no coverage.
    Coverage,
    /// No figure of a material leads from one to the other.
    Unlike,
}

/// An amount in another dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Converted {
    /// Base units of the dimension asked for.
    pub(super) base: Decimal,
    /// The figure used; `None` when the dimensions are the same.
    pub(super) by: Option<Bridge>,
}

/// `amount` in base units of `dimension`.
pub(super) fn amount_in(
    dimension: Dimension,
    amount: Amount,
    material: &Material,
) -> Result<Converted, Gap> {
    if amount.dimension() == dimension {
        return Ok(Converted {
            base: amount.base(),
            by: None,
        });
    }
    let (base, by) = match (dimension, amount) {
        (Dimension::Volume, Amount::Weight(weight)) => {
            let density = density_of(material)?;
            let volume = weight.volume_at(density);
            (volume.in_cubic_metres(), Bridge::Density(density))
        }
        (Dimension::Weight, Amount::Volume(volume)) => {
            let density = density_of(material)?;
            let weight = density.weigh(volume);
            (weight.in_kilograms(), Bridge::Density(density))
        }
        (Dimension::Area, Amount::Length(length)) => {
            let width = roll_width_of(material)?;
            let area = length * width;
            (area.in_square_metres(), Bridge::RollWidth(width))
        }
        (Dimension::Length, Amount::Area(area)) => {
            let width = roll_width_of(material)?;
            let length = strip_of(area, width);
            (length, Bridge::RollWidth(width))
        }
        (Dimension::Area, Amount::Weight(weight)) => {
            let face = face_of(material)?;
            let area = face.saturating_mul(weight.in_kilograms());
            (area, Bridge::Face(face))
        }
        (Dimension::Area, Amount::Volume(volume)) => {
            let coverage = coverage_of(material)?;
            let area = coverage.saturating_mul(volume.in_cubic_metres());
            (area, Bridge::Coverage(coverage))
        }
        _ => return Err(Gap::Unlike),
    };
    Ok(Converted { base, by: Some(by) })
}

/// Volume of an amount, when it has one.
pub(super) fn volume_of(amount: Amount, material: &Material) -> Option<Volume> {
    let converted = amount_in(Dimension::Volume, amount, material).ok()?;
    Some(Volume::cubic_metres(converted.base))
}

/// Weight of an amount as delivered, when it is known.
pub(super) fn weight_of(amount: Amount, material: &Material) -> Option<Weight> {
    let converted = amount_in(Dimension::Weight, amount, material).ok()?;
    Some(Weight::kilograms(converted.base))
}

fn density_of(material: &Material) -> Result<Density, Gap> {
    let density = material.delivered.as_ref().map(|known| known.value);
    density.filter(|d| !d.is_zero()).ok_or(Gap::Density)
}

fn roll_width_of(material: &Material) -> Result<Length, Gap> {
    let width = material.roll_width.as_ref().map(|known| known.value);
    width.filter(|w| !w.is_zero()).ok_or(Gap::RollWidth)
}

fn coverage_of(material: &Material) -> Result<Decimal, Gap> {
    let coverage = material.coverage.as_ref().map(|known| known.value);
    coverage.filter(|c| !c.is_zero()).ok_or(Gap::Coverage)
}

fn face_of(material: &Material) -> Result<Decimal, Gap> {
    let face = material.face.as_ref().map(|known| known.value);
    face.filter(|f| !f.is_zero()).ok_or(Gap::Coverage)
}

fn strip_of(area: Area, width: Length) -> Decimal {
    area.in_square_metres()
        .checked_div(width.in_metres())
        .unwrap_or_default()
}

impl Bridge {
    /// The figure in words, as part of a reason: `at 2,200 lb/yd3 as delivered`.
    pub(super) fn words(self, system: System) -> String {
        match self {
            Self::Density(density) => format!("at {} as delivered", system.density(density)),
            Self::RollWidth(width) => format!("on a roll {} wide", system.length(width)),
            Self::Face(face) => {
                let (area, weight, unit) = match system {
                    System::UsCustomary => {
                        (Area::square_metres(face), Weight::pounds(TON), "2,000 lb")
                    }
                    System::Metric => {
                        (Area::square_metres(face), Weight::tonnes(Decimal::ONE), "t")
                    }
                };
                let area = area.times(weight.in_kilograms());
                format!("at {} of face for each {unit}", system.area(area))
            }
            Self::Coverage(coverage) => {
                // Square metres per cubic metre are a thousand times square metres per litre.
                let per_litre = coverage.saturating_mul(Decimal::new(1, 3));
                format!("at {} m2 per litre", grouped_plain(per_litre, 2))
            }
        }
    }
}

impl Gap {
    /// What is missing, and what to write instead.
    pub(super) fn hint(self) -> &'static str {
        match self {
            Self::Density => {
                "give the material a Delivered density in Materials, or price it in the unit it is needed in"
            }
            Self::RollWidth => {
                "give the material a Roll width in Materials, or price it in the unit it is needed in"
            }
            Self::Coverage => {
                "give the material a Coverage in Materials, or price it in the unit it is needed in"
            }
            Self::Unlike => "write what one pack holds in the unit it is needed in",
        }
    }
}
