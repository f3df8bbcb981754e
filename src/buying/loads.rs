//! Loads: how many trips a quantity takes, by volume and by weight.
//!
//! Every load is a whole number of steps, since a loader sells half yards: a truck that by weight
//! could take 5.909 yd3 takes 5.5. Each material travels in loads of its own, even when one supplier
//! brings several to one drop: loose goods are not mixed on a body without dividers.

use super::desk::Desk;
use super::{Bound, Scope};
use crate::model::library::folded;
use crate::model::material::{Material, MaterialId};
use crate::model::offer::{SupplierId, Vehicle, VehicleId};
use crate::takeoff::Moment;
use crate::units::round::{step_down, whole_up};
use crate::units::{Decimal, Money, Volume, Weight};

/// What travels: one material of one supplier to one drop.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cargo<'a> {
    /// Who brings it.
    pub(super) supplier: SupplierId,
    /// What.
    pub(super) material: &'a Material,
    /// Its id.
    pub(super) id: MaterialId,
    /// Where.
    pub(super) scope: Scope,
    /// When.
    pub(super) moment: Moment,
    /// Volume of one priced unit, when it is known.
    pub(super) volume: Option<Volume>,
    /// Weight of one priced unit as delivered, when it is known.
    pub(super) weight: Option<Weight>,
    /// Weight of one priced unit after rain, when it is known.
    pub(super) wet: Option<Weight>,
    /// Step in which it is loaded.
    pub(super) step: Decimal,
}

/// How a quantity travels.
#[derive(Clone, Debug)]
pub(super) struct TripPlan {
    /// In which vehicle; `None` when the job names none that would do.
    pub(super) vehicle: Option<VehicleId>,
    /// Priced units of a full load.
    pub(super) full: Decimal,
    /// Number of loads, the last one perhaps not full.
    pub(super) loads: Decimal,
    /// What binds a load.
    pub(super) bound: Bound,
    /// Number of loads at wet density.
    pub(super) after_rain: Decimal,
    /// Fee a trip; `None` when it is missing.
    pub(super) fee: Option<Decimal>,
    /// Trips that are charged.
    pub(super) charged: Decimal,
    /// `charged x fee`, rounded once.
    pub(super) cost: Money,
    /// Whether the supplier's fee is waived.
    pub(super) free: bool,
}

/// Vehicles of the supplier that carry the cargo at all, limits aside.
pub(super) fn carriers<'a>(desk: &Desk<'a>, cargo: &Cargo<'_>) -> Vec<(VehicleId, &'a Vehicle)> {
    let mut fitting = desk.vehicles_of(cargo.supplier);
    fitting.retain(|(_, vehicle)| carries(vehicle, cargo.material));
    fitting
}

/// Whether a vehicle carries a loose material: by name or category, or everything loose.
pub(super) fn carries(vehicle: &Vehicle, material: &Material) -> bool {
    vehicle.carries.is_empty() || names(vehicle, material)
}

/// Whether a vehicle names a material or its category.
pub(super) fn names(vehicle: &Vehicle, material: &Material) -> bool {
    let (name, category) = (folded(&material.name), folded(material.category.word()));
    vehicle
        .carries
        .iter()
        .map(|word| folded(word))
        .any(|word| word == name || word == category)
}

/// The cheapest way to bring `quantity`; `goods` is the value of all that the supplier brings to the drop.
pub(super) fn plan(
    desk: &Desk<'_>,
    cargo: &Cargo<'_>,
    quantity: Decimal,
    goods: Money,
) -> TripPlan {
    let mut vehicles = carriers(desk, cargo);
    let kept = held_vehicle(desk, cargo);
    if vehicles.iter().any(|(id, _)| Some(*id) == kept) {
        vehicles.retain(|(id, _)| Some(*id) == kept);
    }
    let plans = vehicles
        .into_iter()
        .filter_map(|(id, vehicle)| plan_with(desk, cargo, quantity, goods, id, vehicle));
    let rank = |plan: &TripPlan| (plan.fee.is_none(), plan.cost, plan.loads);
    plans
        .min_by_key(rank)
        .unwrap_or_else(|| unplanned(quantity))
}

fn held_vehicle(desk: &Desk<'_>, cargo: &Cargo<'_>) -> Option<VehicleId> {
    let key = (cargo.id, cargo.scope, cargo.moment);
    desk.held?.vehicles.get(&key).copied()
}

/// Everything in one load of an unknown vehicle, at a fee that is missing.
fn unplanned(quantity: Decimal) -> TripPlan {
    TripPlan {
        vehicle: None,
        full: quantity,
        loads: Decimal::ONE,
        bound: Bound::Nothing,
        after_rain: Decimal::ONE,
        fee: None,
        charged: Decimal::ONE,
        cost: Money::ZERO,
        free: false,
    }
}

fn plan_with(
    desk: &Desk<'_>,
    cargo: &Cargo<'_>,
    quantity: Decimal,
    goods: Money,
    id: VehicleId,
    vehicle: &Vehicle,
) -> Option<TripPlan> {
    let (full, bound) = full_load(cargo, cargo.weight, vehicle)?;
    let loads = full.map_or(Decimal::ONE, |full| loads_of(quantity, full));
    let wet = cargo.wet.or(cargo.weight);
    // A wet step that no load may hold is no plan for rain; the dry number stands, and words say so.
    let after_rain = match full_load(cargo, wet, vehicle) {
        Some((Some(full), _)) => loads_of(quantity, full).max(loads),
        _ => loads,
    };
    let free = (vehicle.free_over.as_ref()).is_some_and(|over| goods.amount() >= over.value);
    let drop_fee = match cargo.scope {
        Scope::Drop(site, _) => desk.drop_fee(site),
        Scope::Job => Decimal::ZERO,
    };
    let own = vehicle.fee.as_ref().map(|fee| fee.value);
    let (asked, charged) = match (free, drop_fee.is_zero()) {
        // The site asks its fee of every load, whether or not the supplier does.
        (true, false) => (Some(drop_fee), loads),
        (true, true) => (own.or(Some(Decimal::ZERO)), Decimal::ZERO),
        (false, _) => (own.map(|fee| fee.saturating_add(drop_fee)), loads),
    };
    let money = charged.saturating_mul(asked.unwrap_or_default());
    Some(TripPlan {
        vehicle: Some(id),
        full: full.unwrap_or(quantity),
        loads,
        bound,
        after_rain,
        fee: asked,
        charged,
        cost: desk.currency.round_line(money),
        free,
    })
}

/// Priced units of a full load and what binds it: `(None, Nothing)` without limits, `None` when not
/// even one step may travel.
pub(super) fn full_load(
    cargo: &Cargo<'_>,
    weight: Option<Weight>,
    vehicle: &Vehicle,
) -> Option<(Option<Decimal>, Bound)> {
    let by_volume = (vehicle.volume.as_ref().zip(cargo.volume))
        .filter(|(_, unit)| !unit.is_zero())
        .map(|(limit, unit)| limit.value.ratio(unit));
    let by_weight = (vehicle.weight.as_ref().zip(weight))
        .filter(|(_, unit)| !unit.is_zero())
        .map(|(limit, unit)| limit.value.ratio(unit));
    let (most, bound) = match (by_volume, by_weight) {
        (None, None) => return Some((None, Bound::Nothing)),
        (None, Some(weight)) => (weight, Bound::Weight),
        (Some(volume), Some(weight)) if weight < volume => (weight, Bound::Weight),
        (Some(volume), _) => (volume, Bound::Volume),
    };
    let full = step_down(most, cargo.step);
    (full > Decimal::ZERO).then_some((Some(full), bound))
}

fn loads_of(quantity: Decimal, full: Decimal) -> Decimal {
    quantity
        .checked_div(full)
        .map_or(Decimal::ONE, whole_up)
        .max(Decimal::ONE)
}

impl TripPlan {
    /// Priced units of each load, full ones first; `None` past `most` loads.
    pub(super) fn parts(&self, quantity: Decimal, most: usize) -> Option<Vec<Decimal>> {
        let count: usize = self.loads.try_into().ok().filter(|n| *n <= most)?;
        let mut left = quantity;
        let mut parts = Vec::with_capacity(count);
        for _ in 0..count {
            let part = left.min(self.full);
            left = left.saturating_sub(part);
            parts.push(part);
        }
        Some(parts)
    }
}
