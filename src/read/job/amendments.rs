//! `Amendments`: what is worked into the top of a fill, by area, volume, bed or share.

use super::draft::Draft;
use super::measures::{halves, measured_by, one_of, suits};
use super::reading::Reading;
use super::roles::{Role, material_for};
use crate::model::fill::{Amendment, Rate};
use crate::model::library::folded;
use crate::model::sheet::Sheet;
use crate::model::source::Cell;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Amount, parse};

/// Reads what is worked into the top of fills.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Amendments) {
        let mut reading = Reading::of(&row);
        amendment(draft, &mut reading);
        draft.hear(reading);
    }
}

fn amendment(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) {
    let at = reading.at();
    let fill = reading.wanted("Fill", "name the fill that it goes into");
    let place = fill.and_then(|name| {
        let spot = (at, "Fill");
        let names = &draft.fill_names;
        names.resolve(&name, spot, "Fills", &mut reading.problems)
    });
    if !reading.has("Material") {
        reading.complain("Material", "Material is missing", "name what is worked in");
    }
    let material = material_for(draft, reading, "Material", Role::Amendment);
    let rate = rate(reading);
    let (Some(place), Some(material), Some(rate)) = (place, material, rate) else {
        return;
    };
    let category = draft.materials.get(material.index()).map(|m| m.category);
    let amount = match rate {
        Rate::PerArea(a) | Rate::PerVolume(a) | Rate::PerBed(a) => Some(a),
        Rate::Share(_) => None,
    };
    if let Some((category, amount)) = category.zip(amount)
        && !suits(category, amount.dimension())
    {
        let sentence = format!(
            "Rate of {} must be {}",
            category.word(),
            measured_by(category)
        );
        reading.complain("Rate", sentence, RATE_HINT);
        return;
    }
    if let Some(fill) = draft.fills.get_mut(place) {
        fill.amendments.push(Amendment {
            at: Some(at),
            material,
            rate,
        });
    }
}

const RATE_HINT: &str = "write 3 lb/100 ft2, 2 lb/yd3, 1 per bed or 5%";

fn rate(reading: &mut Reading<'_, '_>) -> Option<Rate> {
    let typed = reading.wanted("Rate", RATE_HINT)?;
    let percent = matches!(reading.row.raw("Rate"), Cell::Number { percent: true, .. });
    if percent || typed.trim_end().ends_with('%') {
        return reading.percent("Rate").map(Rate::Share);
    }
    let context = reading.row.context("Rate");
    let read = halves(&typed).and_then(|(amount, base)| {
        let amount = parse::amount(amount, &context).ok()?;
        if folded(base).trim_end_matches('s') == "bed" {
            return Some(Rate::PerBed(amount));
        }
        let base = parse::amount(&one_of(base), &context).ok()?;
        let one = amount.base().checked_div(base.base())?;
        match base {
            Amount::Area(_) => Some(Rate::PerArea(amount.with_base(one))),
            Amount::Volume(_) => Some(Rate::PerVolume(amount.with_base(one))),
            _ => None,
        }
    });
    if read.is_none() {
        reading.complain(
            "Rate",
            "Rate needs an amount for an area, a volume or a bed",
            RATE_HINT,
        );
    }
    read
}
