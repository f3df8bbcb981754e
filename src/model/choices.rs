//! What an estimate chose, by names and sizes, so that it can be kept with the estimate and found again
//! in the job that is read back from it, whatever rows were moved or prices changed.

use std::sync::Arc;

use rust_decimal::Decimal;

/// The line of an order that a choice is for.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ChoiceFor {
    /// The material.
    pub material: Arc<str>,
    /// Site and phase of the drop; `None` for what is bought once for the job.
    pub drop: Option<(Arc<str>, Arc<str>)>,
    /// Whether it is for the top-up.
    pub is_top_up: bool,
}

/// A price row, by what stands in it other than the price.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct OfferName {
    /// Who sells it.
    pub supplier: Arc<str>,
    /// The pack in the seller's word.
    pub pack: Arc<str>,
    /// The specification; empty for none.
    pub spec: Arc<str>,
    /// What it holds, in base units of its dimension, with the true length of a stick behind it.
    pub holds: Arc<str>,
    /// Priced units from which it applies.
    pub from_quantity: Decimal,
    /// Which of the rows alike in all this, from 0, in the order of their rows.
    pub alike: u32,
}

/// One choice.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Choice {
    /// What is bought comes by this price row.
    Offer(ChoiceFor, OfferName),
    /// It travels in this vehicle of this supplier.
    Vehicle(ChoiceFor, Arc<str>, Arc<str>),
    /// So many sticks of one price row are cut into these pieces: lengths in metres and their numbers.
    Cut {
        /// The material.
        material: Arc<str>,
        /// The stick.
        offer: OfferName,
        /// How many are cut alike.
        count: u32,
        /// Length in metres, and how many.
        pieces: Vec<(Decimal, u32)>,
    },
}

/// Columns in which choices are kept.
pub const COLUMNS: [&str; 13] = [
    "Choice",
    "Material",
    "Site",
    "Phase",
    "When",
    "Supplier",
    "Pack",
    "Spec",
    "Holds",
    "From",
    "Alike",
    "Vehicle or count",
    "Pieces",
];

const OFFER: &str = "bought as";
const VEHICLE: &str = "comes by";
const CUT: &str = "cut from";
const BUILD: &str = "build";
const TOP_UP: &str = "top-up";

impl Choice {
    /// The choice as texts under [`COLUMNS`].
    pub fn row(&self) -> [String; COLUMNS.len()] {
        let mut row: [String; COLUMNS.len()] = Default::default();
        let [kind, material, site, phase, when, supplier, rest @ ..] = &mut row;
        let mut says_for = |of: &ChoiceFor| {
            *material = of.material.to_string();
            if let Some((s, p)) = &of.drop {
                (*site, *phase) = (s.to_string(), p.to_string());
            }
            *when = String::from(if of.is_top_up { TOP_UP } else { BUILD });
        };
        let [pack, spec, holds, from, alike, which, cut] = rest;
        let mut says_offer = |offer: &OfferName| {
            *supplier = offer.supplier.to_string();
            *pack = offer.pack.to_string();
            *spec = offer.spec.to_string();
            *holds = offer.holds.to_string();
            *from = offer.from_quantity.normalize().to_string();
            *alike = offer.alike.to_string();
        };
        match self {
            Self::Offer(of, offer) => {
                OFFER.clone_into(kind);
                says_for(of);
                says_offer(offer);
            }
            Self::Vehicle(of, seller, vehicle) => {
                VEHICLE.clone_into(kind);
                says_for(of);
                *supplier = seller.to_string();
                *which = vehicle.to_string();
            }
            Self::Cut {
                material: of,
                offer,
                count,
                pieces,
            } => {
                CUT.clone_into(kind);
                *material = of.to_string();
                says_offer(offer);
                *which = count.to_string();
                let pieces = pieces.iter();
                let pieces = pieces.map(|(length, n)| format!("{} x {n}", length.normalize()));
                *cut = pieces.collect::<Vec<_>>().join("; ");
            }
        }
        row
    }

    /// The choice that a row of texts under [`COLUMNS`] stands for; `None` for any other row.
    pub fn of_row(row: [&str; COLUMNS.len()]) -> Option<Self> {
        let [
            kind,
            material,
            site,
            phase,
            when,
            supplier,
            pack,
            spec,
            holds,
            from,
            alike,
            which,
            cut,
        ] = row;
        let of = || ChoiceFor {
            material: material.into(),
            drop: (!site.is_empty()).then(|| (site.into(), phase.into())),
            is_top_up: when == TOP_UP,
        };
        let offer = || {
            Some(OfferName {
                supplier: supplier.into(),
                pack: pack.into(),
                spec: spec.into(),
                holds: holds.into(),
                from_quantity: from.parse().ok()?,
                alike: alike.parse().ok()?,
            })
        };
        match kind {
            OFFER => Some(Self::Offer(of(), offer()?)),
            VEHICLE => Some(Self::Vehicle(of(), supplier.into(), which.into())),
            CUT => Some(Self::Cut {
                material: material.into(),
                offer: offer()?,
                count: which.parse().ok()?,
                pieces: cut.split("; ").map(piece).collect::<Option<_>>()?,
            }),
            _ => None,
        }
    }
}

fn piece(text: &str) -> Option<(Decimal, u32)> {
    let (length, number) = text.split_once(" x ")?;
    Some((length.parse().ok()?, number.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(choice: &Choice, expected: &str) {
        let row = choice.row();
        assert_eq!(row.join("|"), expected);
        let texts: [&str; COLUMNS.len()] = std::array::from_fn(|i| row[i].as_str());
        assert_eq!(Choice::of_row(texts).as_ref(), Some(choice));
    }

    #[test]
    fn choices_come_back_from_their_rows() {
        let yard = OfferName {
            supplier: "Hill Yard".into(),
            pack: "board".into(),
            holds: "2.4384 m".into(),
            from_quantity: Decimal::TEN,
            alike: 1,
            ..OfferName::default()
        };
        let soil = ChoiceFor {
            material: "Topsoil".into(),
            drop: Some(("Front".into(), "spring".into())),
            is_top_up: true,
        };
        check(
            &Choice::Offer(soil.clone(), yard.clone()),
            "bought as|Topsoil|Front|spring|top-up|Hill Yard|board||2.4384 m|10|1||",
        );
        check(
            &Choice::Vehicle(soil, "Hill Yard".into(), "tipper".into()),
            "comes by|Topsoil|Front|spring|top-up|Hill Yard||||||tipper|",
        );
        check(
            &Choice::Cut {
                material: "2x10".into(),
                offer: yard,
                count: 3,
                pieces: vec![(Decimal::new(12_192, 4), 2)],
            },
            "cut from|2x10||||Hill Yard|board||2.4384 m|10|1|3|1.2192 x 2",
        );
    }
}
