//! The longest stick of each material that anybody sells, and the size of sheets, for deciding where runs
//! are joined.

use std::collections::HashMap;

use crate::model::job::Job;
use crate::model::known::Known;
use crate::model::material::{Category, MaterialId};
use crate::model::offer::Offer;
use crate::units::{Amount, Length};

/// Shorter goods are no lumber.
const SHORTEST: Length = Length::metres(rust_decimal::Decimal::from_parts(1, 0, 0, false, 2));

/// Longest stick by material. Prices, packs and stock are not looked at: that is buying.
#[derive(Clone, Debug, Default)]
pub struct Sticks {
    longest: HashMap<MaterialId, Length>,
    sheets: HashMap<MaterialId, Sheet>,
}

/// Size of the sheets of a material: the longest and the widest that anybody sells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sheet {
    /// Along the ribs or the grain.
    pub length: Length,
    /// Across them.
    pub width: Length,
}

impl Sticks {
    /// From the lengths in `Prices`. A material with a specification looks at offers of that one and at
    /// offers without any.
    pub fn of(job: &Job) -> Self {
        let mut longest: HashMap<MaterialId, Length> = HashMap::new();
        let mut sheets = sizes_given(job);
        for offer in &job.offers {
            let wanted = job.material(offer.material).and_then(|m| m.spec.as_ref());
            let fits = match (wanted, &offer.spec) {
                (Some(wanted), Some(has)) => wanted == has,
                _ => true,
            };
            if let Some(length) = stick_length(offer).filter(|l| fits && *l >= SHORTEST) {
                let known = longest.entry(offer.material).or_default();
                *known = length.max(*known);
            }
            if let Some((length, width)) = offer.sheet.filter(|_| fits) {
                let known = sheets.entry(offer.material).or_default();
                known.length = length.max(known.length);
                known.width = width.max(known.width);
            }
        }
        Self { longest, sheets }
    }

    /// The size of a material's sheets; `None` when neither `Materials` nor any offer tells it.
    pub fn sheet(&self, material: MaterialId) -> Option<Sheet> {
        let sheet = self.sheets.get(&material).copied()?;
        (sheet.length > Length::ZERO && sheet.width > Length::ZERO).then_some(sheet)
    }

    /// The longest stick of a material; `None` when no offer has a length, and then runs stay whole.
    pub fn longest(&self, material: MaterialId) -> Option<Length> {
        self.longest.get(&material).copied()
    }
}

/// Sizes from `Materials`.
fn sizes_given(job: &Job) -> HashMap<MaterialId, Sheet> {
    let side = |known: &Option<Known<Length>>| known.as_ref().map_or(Length::ZERO, |k| k.value);
    let materials = job.materials.iter().enumerate();
    materials
        .filter(|(_, material)| material.category == Category::Panel)
        .map(|(index, material)| {
            let sheet = Sheet {
                length: side(&material.panel.length),
                width: side(&material.panel.width),
            };
            (MaterialId::of(index), sheet)
        })
        .collect()
}

fn stick_length(offer: &Offer) -> Option<Length> {
    match (offer.actual_length, offer.holds) {
        (Some(actual), _) => Some(actual),
        (None, Amount::Length(length)) => Some(length),
        _ => None,
    }
}
