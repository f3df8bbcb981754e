//! What was bought, by hand, for the tests of what comes after.

use super::{Bound, OrderLine, Scope, Trips};
use crate::model::job::{PhaseId, SiteId};
use crate::model::material::MaterialId;
use crate::model::offer::SupplierId;
use crate::takeoff::Moment;
use crate::units::{Amount, Decimal, Money};

/// One pack for a need that it meets to the last bit, without offer or price.
pub(crate) fn order_line(material: MaterialId, need: Amount) -> OrderLine {
    let none = need.with_base(Decimal::ZERO);
    OrderLine {
        material,
        scope: Scope::Job,
        moment: Moment::Build,
        need,
        on_hand: none,
        offer: None,
        free: false,
        need_units: Decimal::ONE,
        step: Decimal::ONE,
        quantity: Decimal::ONE,
        fixed: false,
        price: None,
        cost: Money::ZERO,
        surplus: none,
        measures: Vec::new(),
        flip_price: None,
        why: String::new(),
    }
}

/// No load yet from a supplier to the first site in the first phase.
pub(crate) fn trips(supplier: SupplierId) -> Trips {
    Trips {
        supplier,
        vehicle: None,
        site: SiteId(0),
        phase: PhaseId(0),
        moment: Moment::Build,
        lines: Vec::new(),
        loads: Vec::new(),
        bound: Bound::Weight,
        after_rain: 0,
        fee: None,
        charged: Decimal::ZERO,
        cost: Money::ZERO,
        measures: Vec::new(),
        words: String::new(),
    }
}
