//! What every part of the buying looks up: the job by material and by supplier, names, and held choices.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Held, Scope};
use crate::model::job::{Job, PhaseId, Site, SiteId};
use crate::model::material::MaterialId;
use crate::model::offer::{OfferId, SupplierId, Vehicle, VehicleId};
use crate::takeoff::Moment;
use crate::units::show::System;
use crate::units::{Currency, Decimal, Money};

/// The job, indexed for buying.
#[derive(Debug)]
pub(super) struct Desk<'a> {
    /// The job.
    pub(super) job: &'a Job,
    /// Choices of an earlier run, to be kept.
    pub(super) held: Option<&'a Held>,
    /// Currency of the job.
    pub(super) currency: Currency,
    /// Units in which reasons are told.
    pub(super) system: System,
    offers: BTreeMap<MaterialId, Vec<OfferId>>,
    vehicles: BTreeMap<SupplierId, Vec<VehicleId>>,
}

impl<'a> Desk<'a> {
    /// Indexes a job.
    pub(super) fn new(job: &'a Job, held: Option<&'a Held>) -> Self {
        let mut offers: BTreeMap<MaterialId, Vec<OfferId>> = BTreeMap::new();
        for (index, offer) in job.offers.iter().enumerate() {
            let list = offers.entry(offer.material).or_default();
            list.push(OfferId::of(index));
        }
        let mut vehicles: BTreeMap<SupplierId, Vec<VehicleId>> = BTreeMap::new();
        for (index, vehicle) in job.vehicles.iter().enumerate() {
            let list = vehicles.entry(vehicle.supplier).or_default();
            list.push(VehicleId::of(index));
        }
        Self {
            job,
            held,
            currency: job.settings.currency.value,
            system: job.settings.units.value,
            offers,
            vehicles,
        }
    }

    /// All price rows of a material.
    pub(super) fn offers_of(&self, material: MaterialId) -> &[OfferId] {
        self.offers.get(&material).map_or(&[], Vec::as_slice)
    }

    /// All vehicles of a supplier, by name and then by what they carry and ask.
    pub(super) fn vehicles_of(&self, supplier: SupplierId) -> Vec<(VehicleId, &'a Vehicle)> {
        let ids = self.vehicles.get(&supplier).map_or(&[][..], Vec::as_slice);
        let mut found: Vec<_> = ids
            .iter()
            .filter_map(|id| Some((*id, self.job.vehicles.get(id.index())?)))
            .collect();
        found.sort_by(|(_, a), (_, b)| vehicle_key(a).cmp(&vehicle_key(b)));
        found
    }

    /// A supplier's name.
    pub(super) fn supplier_name(&self, id: SupplierId) -> Arc<str> {
        let supplier = self.job.suppliers.get(id.index());
        supplier.map_or_else(|| Arc::from("?"), |s| s.name.clone())
    }

    /// A site.
    pub(super) fn site(&self, id: SiteId) -> Option<&'a Site> {
        self.job.sites.get(id.index())
    }

    /// The order of drops: by site name, then phase name.
    pub(super) fn drop_key(&self, site: SiteId, phase: PhaseId) -> (Arc<str>, Arc<str>) {
        let none = || Arc::from("");
        let site = self.site(site).map_or_else(none, |s| s.name.clone());
        let phases = &self.job.phases;
        let phase = phases.get(phase.index()).cloned().unwrap_or_else(none);
        (site, phase)
    }

    /// A drop in words, without the phase when the job has only one: `Site A, phase 1`.
    pub(super) fn drop_words(&self, site: SiteId, phase: PhaseId) -> String {
        let (site, phase) = self.drop_key(site, phase);
        if self.job.phases.len() > 1 && !phase.is_empty() {
            format!("{site}, {phase}")
        } else {
            site.to_string()
        }
    }

    /// Fee of a site for each load, beside the supplier's.
    pub(super) fn drop_fee(&self, site: SiteId) -> Decimal {
        let fee = self.site(site).and_then(|s| s.drop_fee.as_ref());
        fee.map_or(Decimal::ZERO, |known| known.value)
    }

    /// Offers that were chosen before for one scope, when choices are held.
    pub(super) fn held_for(
        &self,
        material: MaterialId,
        scope: Scope,
        moment: Moment,
    ) -> Option<&'a [OfferId]> {
        let held = self.held?;
        let offers = held.offers.get(&(material, scope, moment))?;
        Some(offers.as_slice())
    }

    /// Offers that were chosen before for any scope of a material and moment.
    pub(super) fn held_anywhere(&self, material: MaterialId, moment: Moment) -> Vec<OfferId> {
        let Some(held) = self.held else {
            return Vec::new();
        };
        let entries = held
            .offers
            .iter()
            .filter(|((m, _, at), _)| (*m, *at) == (material, moment));
        entries.flat_map(|(_, offers)| offers.clone()).collect()
    }

    /// Money as the job's currency shows it, without its code.
    pub(super) fn show(&self, money: Money) -> String {
        self.currency.show(money)
    }
}

type VehicleKey<'v> = (
    &'v str,
    Option<Decimal>,
    Option<Decimal>,
    Option<Decimal>,
    &'v [Arc<str>],
);

fn vehicle_key(vehicle: &Vehicle) -> VehicleKey<'_> {
    (
        &vehicle.name,
        vehicle.fee.as_ref().map(|k| k.value),
        vehicle.volume.as_ref().map(|k| k.value.in_cubic_metres()),
        vehicle.weight.as_ref().map(|k| k.value.in_kilograms()),
        &vehicle.carries,
    )
}
