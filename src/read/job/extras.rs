//! `Extras`: everything else that costs, and what is named as not included.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::measures::one_of;
use super::reading::{Reading, Told, Words, meaning_in};
use super::workers::worker_of;
use crate::model::job::{PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Extra, ExtraKind, Per};
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Amount, Area, System, parse};

/// Words for what an extra is counted by.
pub(super) const PERS: &Words<Per> = &[
    (&["bed", "beds", "each bed"], Per::Bed),
    (&["area", "bed area"], Per::Area),
    (&["site"], Per::Site),
    (&["visit"], Per::Visit),
    (&["day", "crew day"], Per::Day),
    (&["session"], Per::Session),
    (&["job", "once", "lump sum"], Per::Job),
];
/// Words for kinds of extra.
pub(super) const KINDS: &Words<ExtraKind> = &[
    (&["cost"], ExtraKind::Cost),
    (&["allowance", "unit-price allowance"], ExtraKind::Allowance),
    (&["pass-through", "at cost"], ExtraKind::PassThrough),
    (
        &["exclusion", "excluded", "not included"],
        ExtraKind::Exclusion,
    ),
];

/// Reads every extra.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    let mut untold_tax = 0_usize;
    for row in rows(opened, Sheet::Extras) {
        let mut reading = Reading::of(&row);
        if let Some(item) = reading.wanted("Item", "write what it is, as permit")
            && let Some(extra) = extra(draft, &mut reading, item)
        {
            let counts = !matches!(extra.kind, ExtraKind::Exclusion | ExtraKind::PassThrough);
            if counts && !reading.has("Taxable") {
                untold_tax = untold_tax.saturating_add(1);
            }
            draft.extras.push(extra);
        }
        draft.hear(reading);
    }
    if draft.taxed && untold_tax > 0 {
        let said = format!("Taxable is not set for {untold_tax} of Extras, taken as no");
        draft.problems.push(Problem::notice(said));
    }
}

fn extra(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, item: Arc<str>) -> Option<Extra> {
    let kind = if reading.has("Kind of extra") {
        reading.choice("Kind of extra", KINDS)?
    } else {
        ExtraKind::Cost
    };
    let (per, share) = per(draft, reading)?;
    let quantity = reading
        .known_number("Quantity")
        .unwrap_or_else(|| Known::assumed(Decimal::ONE, "not set, taken as 1"));
    let worker = worker_of(draft, reading);
    let rate = reading.known_money("Rate");
    let hours = reading.known_number("Person-hours each");
    let priced = rate.is_some() || hours.is_some();
    if !priced && kind != ExtraKind::Exclusion && !reading.has("Rate") {
        reading.notice(
            "Item",
            format!("\"{item}\" has no Rate and no Person-hours each: it costs nothing"),
        );
    }
    let at = reading.at();
    Some(Extra {
        at,
        item,
        quantity: quantity.map(|n| n.saturating_mul(share)),
        unit: reading.text("Unit"),
        rate,
        per,
        hours,
        worker,
        site: site(draft, reading).ok()?,
        phase: phase(draft, reading).ok()?,
        kind,
        marked_up: reading.yes_no("Marked up").unwrap_or(!matches!(
            kind,
            ExtraKind::PassThrough | ExtraKind::Exclusion
        )),
        client_sees: reading.yes_no("Client sees").unwrap_or(true),
        taxable: reading.yes_no("Taxable").unwrap_or(false),
        // Set once the funders are known.
        funder: None,
        budget_class: None,
    })
}

/// What an extra is for each of, and how many of its unit a base unit is: an extra for each
/// square foot comes 10.76 times in a square metre.
fn per(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<(Per, Decimal)> {
    let Some(typed) = reading.text("Per") else {
        reading.notice("Item", "Per is not set, taken as once for the job");
        return Some((Per::Job, Decimal::ONE));
    };
    if let Some(per) = meaning_in("Per", &typed, PERS) {
        let unit = match draft.system {
            System::UsCustomary => Area::square_feet(Decimal::ONE),
            System::Metric => Area::square_metres(Decimal::ONE),
        };
        let share = if per == Per::Area {
            in_metres(unit)
        } else {
            Decimal::ONE
        };
        return Some((per, share));
    }
    let context = reading.row.context("Per");
    if let Ok(Amount::Area(area)) = parse::amount(&one_of(&typed), &context)
        && !area.is_zero()
    {
        return Some((Per::Area, in_metres(area)));
    }
    reading.choice("Per", PERS).map(|per| (per, Decimal::ONE))
}

fn in_metres(area: Area) -> Decimal {
    let square = area.in_square_metres();
    Decimal::ONE.checked_div(square).unwrap_or_default()
}

/// `None` for all sites.
fn site(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Result<Option<SiteId>, Told> {
    let Some(name) = reading.text("Site") else {
        return Ok(None);
    };
    let spot = (reading.at(), "Site");
    let names = &draft.site_names;
    let found = names.resolve(&name, spot, "Sites", &mut reading.problems);
    found.map(|place| Some(SiteId::of(place))).ok_or(Told)
}

/// `None` for all phases.
fn phase(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Result<Option<PhaseId>, Told> {
    let Some(name) = reading.text("Phase") else {
        return Ok(None);
    };
    let spot = (reading.at(), "Phase");
    let names = &draft.phase_names;
    let sheet = "the phases of Beds";
    let found = names.resolve(&name, spot, sheet, &mut reading.problems);
    found.map(|place| Some(PhaseId::of(place))).ok_or(Told)
}
