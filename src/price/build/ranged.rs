//! The given cells that may come to more or less than they hold, for the ranges of cost and price.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::ledger::{Ledger, Ranged};
use super::super::term::ColRef;
use super::inputs::Inputs;
use crate::model::job::Job;
use crate::model::source::RowAt;
use crate::model::spread::Spread;

/// The cells in the order of the sheets and rows, each once.
pub(super) fn ranged(ledger: &Ledger, job: &Job, inputs: &Inputs) -> Box<[Ranged]> {
    let mut list = List {
        ledger,
        job,
        met: BTreeSet::new(),
        found: Vec::new(),
    };
    let supplier = |index: usize| job.suppliers.get(index).map_or("?", |s| &*s.name);
    for (index, offer) in job.offers.iter().enumerate() {
        let material = job.material_name(offer.material);
        let from = supplier(offer.supplier.index());
        let name = format!("price of {material}, {from}, {}", offer.pack);
        list.typed(
            offer.at,
            (inputs.prices.price, inputs.prices.row(index)),
            name,
        );
    }
    for (index, vehicle) in job.vehicles.iter().enumerate() {
        let name = format!(
            "fee of {}, {}",
            vehicle.name,
            supplier(vehicle.supplier.index())
        );
        list.typed(
            vehicle.at,
            (inputs.vehicles.price, inputs.vehicles.row(index)),
            name,
        );
    }
    for (index, worker) in job.workers.iter().enumerate() {
        let name = format!("pay of {}", worker.name);
        list.typed(
            worker.at,
            (inputs.workers.pay, inputs.workers.row(index)),
            name,
        );
    }
    for (index, task) in job.tasks.iter().enumerate() {
        let Some((low, high)) = task.range else {
            continue;
        };
        let name = format!("hours: {}", task.name);
        let at = (inputs.tasks.price, inputs.tasks.row(index));
        list.add(at, name, Spread { low, high }, !task.rate.is_given());
    }
    for (index, extra) in job.extras.iter().enumerate() {
        let name = format!("rate of {}", extra.item);
        list.typed(
            extra.at,
            (inputs.extras.rate, inputs.extras.row(index)),
            name,
        );
    }
    list.found.into_boxed_slice()
}

struct List<'a> {
    ledger: &'a Ledger,
    job: &'a Job,
    met: BTreeSet<(ColRef, usize)>,
    found: Vec<Ranged>,
}

impl List<'_> {
    /// A cell whose range stands in its row.
    fn typed(&mut self, row: RowAt, at: (ColRef, Option<u32>), name: String) {
        if let Some(spread) = self.job.spreads.get(&row) {
            self.add(at, name, *spread, false);
        }
    }

    fn add(
        &mut self,
        (column, row): (ColRef, Option<u32>),
        name: String,
        spread: Spread,
        typical: bool,
    ) {
        let Some(row) = row.and_then(|row| usize::try_from(row).ok()) else {
            return;
        };
        let value = self.ledger.get(column).and_then(|c| c.values.get(row));
        let likely = value.map(super::super::ledger::Value::as_number);
        if let Some(likely) = likely.filter(|_| self.met.insert((column, row))) {
            self.found.push(Ranged {
                cell: (column, row),
                name: Arc::from(name),
                likely,
                spread,
                typical,
            });
        }
    }
}
