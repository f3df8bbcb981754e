//! Choices by their names: those of an order, and the same ones found again in a job.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::held::held;
use super::{Bought, CutList, Held, Scope, Stick};
use crate::model::choices::{Choice, ChoiceFor, OfferName};
use crate::model::job::{Job, PhaseId, SiteId};
use crate::model::material::MaterialId;
use crate::model::offer::{Offer, OfferId, SupplierId, Vehicle, VehicleId};
use crate::takeoff::Moment;
use crate::units::{Amount, Length, Money};

/// The choices of an order, by names.
pub fn choices(job: &Job, bought: &Bought) -> Vec<Choice> {
    let names = OfferNames::of(job);
    let held = held(bought);
    let mut found = Vec::new();
    for ((material, scope, moment), offers) in &held.offers {
        let of = choice_for(job, *material, *scope, *moment);
        let offers = offers.iter().filter_map(|id| names.name(*id));
        found.extend(offers.map(|name| Choice::Offer(of.clone(), name)));
    }
    for ((material, scope, moment), vehicle) in &held.vehicles {
        let of = choice_for(job, *material, *scope, *moment);
        if let Some(vehicle) = job.vehicles.get(vehicle.index()) {
            let seller = seller(job, vehicle.supplier);
            found.push(Choice::Vehicle(of, seller, vehicle.name.clone()));
        }
    }
    found.sort();
    for list in &bought.cut_lists {
        found.extend(list.sticks.iter().filter_map(|stick| {
            let pieces = stick.pieces.iter();
            Some(Choice::Cut {
                material: job.material_name(list.material).into(),
                offer: names.name(stick.offer?)?,
                count: stick.count,
                pieces: pieces.map(|(l, _, n)| (l.in_metres(), *n)).collect(),
            })
        }));
    }
    found
}

/// The same choices in a job that may have changed since, and in words those that it no longer has.
pub fn recall(job: &Job, choices: &[Choice]) -> (Held, Vec<String>) {
    let book = Book::of(job);
    let mut held = Held::default();
    let mut lost = Vec::new();
    for choice in choices {
        if book.keep(choice, &mut held).is_none() {
            let words = lost_words(choice);
            if !lost.contains(&words) {
                lost.push(words);
            }
        }
    }
    (held, lost)
}

fn lost_words(choice: &Choice) -> String {
    match choice {
        Choice::Offer(of, offer) => {
            format!("{} from {}, {}", of.material, offer.supplier, offer.pack)
        }
        Choice::Vehicle(of, seller, vehicle) => {
            format!("{} by {vehicle} of {seller}", of.material)
        }
        Choice::Cut { material, .. } => format!("the cut list of {material}"),
    }
}

fn choice_for(job: &Job, material: MaterialId, scope: Scope, moment: Moment) -> ChoiceFor {
    let drop = match scope {
        Scope::Job => None,
        Scope::Drop(site, phase) => {
            let site = job.sites.get(site.index()).map(|s| s.name.clone());
            let phase = job.phases.get(phase.index()).cloned();
            site.zip(phase)
        }
    };
    ChoiceFor {
        material: job.material_name(material).into(),
        drop,
        is_top_up: moment == Moment::TopUp,
    }
}

fn seller(job: &Job, id: SupplierId) -> Arc<str> {
    let supplier = job.suppliers.get(id.index());
    supplier.map_or_else(|| Arc::from("?"), |s| s.name.clone())
}

/// `2.4384 m`: what a pack holds, in a form that only its own size has.
fn holds(offer: &Offer) -> Arc<str> {
    let unit = match offer.holds {
        Amount::Count(_) => "",
        Amount::Length(_) => " m",
        Amount::Area(_) => " m2",
        Amount::Volume(_) => " m3",
        Amount::Weight(_) => " kg",
    };
    let size = offer.holds.base().normalize();
    match offer.actual_length {
        Some(actual) => format!("{size}{unit}, truly {} m", actual.in_metres().normalize()).into(),
        None => format!("{size}{unit}").into(),
    }
}

/// Price rows by name; rows alike are told apart by their order.
struct OfferNames(Vec<(MaterialId, OfferName)>);

impl OfferNames {
    fn of(job: &Job) -> Self {
        let mut seen: BTreeMap<(MaterialId, OfferName), u32> = BTreeMap::new();
        let offers = job.offers.iter().map(|offer| {
            let mut name = OfferName {
                supplier: seller(job, offer.supplier),
                pack: offer.pack.clone(),
                spec: offer.spec.clone().unwrap_or_default(),
                holds: holds(offer),
                from_quantity: offer.from_quantity,
                alike: 0,
            };
            let alike = seen.entry((offer.material, name.clone())).or_default();
            name.alike = *alike;
            *alike += 1;
            (offer.material, name)
        });
        Self(offers.collect())
    }

    fn name(&self, id: OfferId) -> Option<OfferName> {
        self.0.get(id.index()).map(|(_, name)| name.clone())
    }
}

/// A job looked up by names.
struct Book<'a> {
    job: &'a Job,
    materials: BTreeMap<&'a str, MaterialId>,
    offers: BTreeMap<(MaterialId, OfferName), OfferId>,
}

impl<'a> Book<'a> {
    fn of(job: &'a Job) -> Self {
        let materials = job.materials.iter().enumerate();
        let offers = OfferNames::of(job).0.into_iter().enumerate();
        Self {
            job,
            materials: materials
                .map(|(n, m)| (&*m.name, MaterialId::of(n)))
                .collect(),
            offers: offers.map(|(n, key)| (key, OfferId::of(n))).collect(),
        }
    }

    /// Puts a choice among those held; `None` when the job does not have it any more.
    fn keep(&self, choice: &Choice, held: &mut Held) -> Option<()> {
        match choice {
            Choice::Offer(of, name) => {
                let key = self.key(of)?;
                let offer = *self.offers.get(&(key.0, name.clone()))?;
                held.offers.entry(key).or_default().push(offer);
            }
            Choice::Vehicle(of, seller, name) => {
                held.vehicles
                    .insert(self.key(of)?, self.vehicle(seller, name)?);
            }
            Choice::Cut {
                material,
                offer,
                count,
                pieces,
            } => {
                let material = *self.materials.get(&**material)?;
                let offer = *self.offers.get(&(material, offer.clone()))?;
                let stick = self.stick(offer, *count, pieces)?;
                let list = held.cut_lists.entry(material);
                let list = list.or_insert_with(|| CutList {
                    material,
                    sticks: Vec::new(),
                    culls: 0,
                    cost: Money::ZERO,
                    lower_bound: Money::ZERO,
                    proven: false,
                    pieces: Vec::new(),
                });
                list.sticks.push(stick);
            }
        }
        Some(())
    }

    fn key(&self, of: &ChoiceFor) -> Option<(MaterialId, Scope, Moment)> {
        let material = *self.materials.get(&*of.material)?;
        let scope = match &of.drop {
            None => Scope::Job,
            Some((site, phase)) => {
                let site = self.job.sites.iter().position(|s| s.name == *site)?;
                let phase = self.job.phases.iter().position(|p| p == phase)?;
                Scope::Drop(SiteId::of(site), PhaseId::of(phase))
            }
        };
        let moment = if of.is_top_up {
            Moment::TopUp
        } else {
            Moment::Build
        };
        Some((material, scope, moment))
    }

    fn vehicle(&self, seller: &str, name: &str) -> Option<VehicleId> {
        let is_it = |v: &Vehicle| {
            let owner = self.job.suppliers.get(v.supplier.index());
            &*v.name == name && owner.is_some_and(|s| &*s.name == seller)
        };
        let at = self.job.vehicles.iter().position(is_it)?;
        Some(VehicleId::of(at))
    }

    /// Marks and offcuts follow from the pieces; what is held needs neither.
    fn stick(
        &self,
        offer: OfferId,
        count: u32,
        pieces: &[(rust_decimal::Decimal, u32)],
    ) -> Option<Stick> {
        let row = self.job.offers.get(offer.index())?;
        let Amount::Length(nominal) = row.holds else {
            return None;
        };
        let pieces = pieces.iter();
        Some(Stick {
            offer: Some(offer),
            length: row.actual_length.unwrap_or(nominal),
            count,
            pieces: pieces
                .map(|(metres, n)| (Length::metres(*metres), Arc::from(""), *n))
                .collect(),
            offcut: Length::ZERO,
        })
    }
}
