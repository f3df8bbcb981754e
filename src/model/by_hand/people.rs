//! Who works, at what, with which machine; and what is charged beside.

use rust_decimal::Decimal;

use super::{no_share, row};
use crate::model::known::Known;
use crate::model::labour::{Driver, Equipment, Extra, ExtraKind, HireStep, Pay, Per, Task, Worker};
use crate::units::Hours;
use crate::units::by_hand::{d, hours};

/// A task at a rate for one base unit of its driver.
pub(crate) fn task(name: &str, driver: Driver, rate: Known<Decimal>) -> Task {
    Task {
        at: None,
        key: "".into(),
        name: name.into(),
        driver,
        rate,
        range: None,
        per: Decimal::ONE,
        per_words: "each".into(),
        haul: false,
        worker: None,
    }
}

/// A worker without a rate; volunteers come for three hours, and are slower than a crew.
pub(crate) fn worker(name: &str, pay: Pay) -> Worker {
    let factor = match pay {
        Pay::Paid => Known::assumed(Decimal::ONE, "not set, taken as 1"),
        Pay::Volunteer => Known::assumed(d("1.65"), "not set, taken as 1.65"),
    };
    Worker {
        at: row(1),
        name: name.into(),
        pay,
        pay_rate: None,
        burden: no_share(),
        charge_rate: None,
        in_kind: None,
        headcount: None,
        session: Known::assumed(hours("3"), "not set, taken as 3 h"),
        no_show: Known::assumed(d("0.2"), "not set, taken as 20%"),
        per_supervisor: Known::assumed(9, "not set, taken as 9"),
        factor,
        briefing: Known::assumed(Hours::ZERO, "not set, taken as none"),
    }
}

/// A machine without a rate.
pub(crate) fn equipment(name: &str, step: HireStep) -> Equipment {
    Equipment {
        at: row(1),
        name: name.into(),
        step,
        rate: None,
        does: None,
        output: None,
        delivery: None,
    }
}

/// One of something for the job, without a rate.
pub(crate) fn extra(item: &str) -> Extra {
    Extra {
        at: row(1),
        item: item.into(),
        quantity: Known::assumed(Decimal::ONE, "not set, taken as 1"),
        unit: None,
        rate: None,
        per: Per::Job,
        hours: None,
        worker: None,
        site: None,
        phase: None,
        kind: ExtraKind::Cost,
        marked_up: true,
        client_sees: true,
        taxable: false,
        funder: None,
        budget_class: None,
    }
}
