//! The longest stick of each material that anybody sells, for deciding where runs are spliced.

use std::collections::HashMap;

use crate::model::job::Job;
use crate::model::material::MaterialId;
use crate::model::offer::Offer;
use crate::units::{Amount, Length};

/// Shorter goods are no lumber.
const SHORTEST: Length = Length::metres(rust_decimal::Decimal::from_parts(1, 0, 0, false, 2));

/// Longest stick by material. Prices, packs and stock are not looked at: that is buying.
#[derive(Clone, Debug, Default)]
pub struct Sticks {
    longest: HashMap<MaterialId, Length>,
}

impl Sticks {
    /// From the lengths in `Prices`. A material with a specification looks at offers of that one and at
    /// offers without any.
    pub fn of(job: &Job) -> Self {
        let mut longest: HashMap<MaterialId, Length> = HashMap::new();
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
        }
        Self { longest }
    }

    /// The longest stick of a material; `None` when no offer has a length, and then runs stay whole.
    pub fn longest(&self, material: MaterialId) -> Option<Length> {
        self.longest.get(&material).copied()
    }
}

fn stick_length(offer: &Offer) -> Option<Length> {
    match (offer.actual_length, offer.holds) {
        (Some(actual), _) => Some(actual),
        (None, Amount::Length(length)) => Some(length),
        _ => None,
    }
}
