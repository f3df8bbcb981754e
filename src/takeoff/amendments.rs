//! What is worked into the top of a fill, by rate.

use super::Part;
use super::bill::Bill;
use super::layers::Placed;
use super::settle::top_soil;
use crate::model::fill::{Amendment, Fill, Rate};
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::units::{Amount, Area, Volume};

/// Amendments of one bed. They add no depth; what is ordered beyond the rate is their waste.
pub(super) fn work_in(bill: &mut Bill<'_>, fill: &Fill, placed: &[Placed<'_>], area: Area) {
    let top = top_soil(placed).map(|l| l.volume);
    for (i, amendment) in fill.amendments.iter().enumerate() {
        let Some(net) = amount_of(bill, amendment, area, top) else {
            continue;
        };
        let order = net.times(bill.with_waste(amendment.material));
        let part = Part::Amendment(u16::try_from(i).unwrap_or(u16::MAX));
        bill.need(amendment.material, part, net, order);
        haul_loose(bill, amendment, order);
    }
    if !fill.amendments.is_empty() {
        bill.work(Driver::AmendArea, area.in_square_metres());
    }
}

fn amount_of(
    bill: &mut Bill<'_>,
    amendment: &Amendment,
    area: Area,
    top: Option<Volume>,
) -> Option<Amount> {
    match (amendment.rate, top) {
        (Rate::PerBed(amount), _) => Some(amount),
        (Rate::PerArea(amount), _) => Some(amount.times(area.in_square_metres())),
        (Rate::PerVolume(amount), Some(volume)) => Some(amount.times(volume.in_cubic_metres())),
        (Rate::Share(share), Some(volume)) => Some(Amount::Volume(volume.times(share))),
        (_, None) => {
            let words = "this rate is of the top layer of soil, and the fill has none";
            let problem = Problem::error(words).hint("give a rate by area or by bed");
            bill.problems.push(match amendment.at {
                Some(row) => problem.at(row, "Rate"),
                None => problem.at(bill.bed.at, "Fill"),
            });
            None
        }
    }
}

/// Loose goods that come by the yard are hauled like any other fill.
fn haul_loose(bill: &mut Bill<'_>, amendment: &Amendment, order: Amount) {
    let category = bill.job.material(amendment.material).map(|m| m.category);
    if let (Some(category), Amount::Volume(volume)) = (category, order)
        && category.is_fill()
    {
        bill.haul(amendment.material, volume);
    }
}
