//! What to ask suppliers for when prices are missing.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{Bought, OrderLine};
use crate::model::job::Job;
use crate::model::material::MaterialId;
use crate::model::offer::SupplierId;
use crate::units::{Amount, Decimal, Dimension, Length};

/// A list of prices to ask one supplier for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PriceRequest {
    /// Whom to ask; `None` when the job names no supplier.
    pub supplier: Option<SupplierId>,
    /// Their name, or `Any supplier`.
    pub name: Arc<str>,
    /// What to ask for, by material name.
    pub lines: Vec<RequestLine>,
}

/// One thing to ask for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RequestLine {
    /// What.
    pub material: MaterialId,
    /// Of which specification, when one is asked.
    pub spec: Option<Arc<str>>,
    /// What is needed over the whole job, filling day and top-up.
    pub need: Amount,
    /// The same as a number of `unit`.
    pub quantity: Decimal,
    /// Unit of the quantity; empty for pieces.
    pub unit: &'static str,
    /// The longest piece, for what is cut to length.
    pub longest: Option<Length>,
}

/// One request a supplier for everything that has no price, or one for any supplier when none is named.
pub fn price_requests(job: &Job, bought: &Bought) -> Vec<PriceRequest> {
    let lines = lines_of(job, bought);
    if lines.is_empty() {
        return Vec::new();
    }
    let mut suppliers: Vec<(Arc<str>, SupplierId)> = job
        .suppliers
        .iter()
        .enumerate()
        .map(|(index, supplier)| (supplier.name.clone(), SupplierId::of(index)))
        .collect();
    suppliers.sort();
    if suppliers.is_empty() {
        return vec![PriceRequest {
            supplier: None,
            name: Arc::from("Any supplier"),
            lines,
        }];
    }
    let request = |(name, id): (Arc<str>, SupplierId)| PriceRequest {
        supplier: Some(id),
        name,
        lines: lines.clone(),
    };
    suppliers.into_iter().map(request).collect()
}

fn lines_of(job: &Job, bought: &Bought) -> Vec<RequestLine> {
    let mut needs: BTreeMap<(&str, MaterialId, Dimension), Decimal> = BTreeMap::new();
    let missing = |line: &&OrderLine| line.price.is_none() && !line.free;
    for line in bought.lines.iter().filter(missing) {
        let name = job.material_name(line.material);
        let sum = needs
            .entry((name, line.material, line.need.dimension()))
            .or_default();
        *sum = sum.saturating_add(line.need.base());
    }
    let system = job.settings.units.value;
    needs
        .into_iter()
        .filter(|(_, base)| !base.is_zero())
        .map(|((_, material, dimension), base)| {
            let need = dimension.of_base(base);
            RequestLine {
                material,
                spec: job.material(material).and_then(|m| m.spec.clone()),
                need,
                quantity: crate::units::round::tidy15(system.number(need)),
                unit: system.unit(dimension),
                longest: longest(bought, material),
            }
        })
        .collect()
}

fn longest(bought: &Bought, material: MaterialId) -> Option<Length> {
    let lists = bought.cut_lists.iter().filter(|l| l.material == material);
    lists
        .flat_map(|list| list.sticks.iter())
        .flat_map(|stick| stick.pieces.iter().map(|(length, _, _)| *length))
        .max()
}
