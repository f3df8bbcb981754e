//! `Sites`: places with their own access, haul and tax.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::draft::Draft;
use super::ground::{cover, ground_work};
use super::reading::{Reading, Words};
use crate::model::job::{HaulGround, Site, SiteId};
use crate::model::known::Known;
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Hours, Length, System};

/// Words for the ground of the way.
pub(super) const GROUNDS: &Words<HaulGround> = &[
    (
        &["firm", "firm ground", "paved", "lawn", "hard"],
        HaulGround::Firm,
    ),
    (
        &["soft", "soft ground", "sand", "loose gravel", "mud"],
        HaulGround::Soft,
    ),
    (
        &["stairs", "steps", "carry only", "carry"],
        HaulGround::Stairs,
    ),
];

/// Reads every site.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    for row in rows(opened, Sheet::Sites) {
        let mut reading = Reading::of(&row);
        if let Some(name) = reading.wanted("Site", "write a name that the beds can point at") {
            if draft.site_names.has(&name) {
                reading.complain("Site", "Site is named twice", "give each site its own name");
            } else {
                draft.site_names.add(&name, draft.sites.len());
                let site = site(&mut reading, name, draft.system);
                draft.sites.push(site);
            }
        }
        draft.hear(reading);
    }
}

fn site(reading: &mut Reading<'_, '_>, name: Arc<str>, system: System) -> Site {
    let given = bare_site(name, system);
    Site {
        at: Some(reading.at()),
        address: reading.text("Address"),
        travel: reading.known_hours("Travel time").unwrap_or(given.travel),
        haul: reading
            .known_distance("Haul distance")
            .unwrap_or(given.haul),
        haul_ground: reading
            .known_choice("Haul ground", GROUNDS)
            .unwrap_or(given.haul_ground),
        haul_slope: reading
            .known_percent("Haul slope %")
            .unwrap_or(given.haul_slope),
        gate: reading.known_length("Gate width"),
        tipping_place: reading.text("Tipping place"),
        ground: reading.text("Ground"),
        cover: cover(reading),
        ground_work: ground_work(reading, "Ground work")
            .map(|work| Known::job(work, reading.at(), "Ground work")),
        tax: reading.known_percent("Tax %"),
        drop_fee: reading.known_money("Drop fee"),
        allowed_hours: reading.text("Allowed hours"),
        first_day: reading.date("First day"),
        name: given.name,
    }
}

/// A site of which nothing is known but its name.
fn bare_site(name: Arc<str>, system: System) -> Site {
    let haul = match system {
        System::UsCustomary => {
            Known::assumed(Length::feet(Decimal::from(50)), "not set, taken as 50 ft")
        }
        System::Metric => {
            Known::assumed(Length::metres(Decimal::from(15)), "not set, taken as 15 m")
        }
    };
    Site {
        at: None,
        name,
        address: None,
        travel: Known::assumed(Hours::ZERO, "not set, taken as no travel"),
        haul,
        haul_ground: Known::assumed(HaulGround::Firm, "not set, taken as firm"),
        haul_slope: Known::assumed(Decimal::ZERO, "not set, taken as level"),
        gate: None,
        tipping_place: None,
        ground: None,
        cover: None,
        ground_work: None,
        tax: None,
        drop_fee: None,
        allowed_hours: None,
        first_day: None,
    }
}

/// The site of a bed or an extra that may name one.
///
/// Without a `Sites` sheet a name makes its site; a bed without a name stands on the only site.
pub(super) fn site_of(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<SiteId> {
    if let Some(name) = reading.text("Site") {
        if !draft.sites_given && !draft.site_names.has(&name) {
            let said = format!(
                "there is no Sites sheet: \"{name}\" is taken as a site with assumed haul and travel"
            );
            reading.notice("Site", said);
            draft.site_names.add(&name, draft.sites.len());
            draft.sites.push(bare_site(name, draft.system));
            return Some(SiteId::of(draft.sites.len().saturating_sub(1)));
        }
        let spot = (reading.at(), "Site");
        let found = draft
            .site_names
            .resolve(&name, spot, "Sites", &mut reading.problems);
        return found.map(SiteId::of);
    }
    match draft.sites.len() {
        1 if draft.sites_given => Some(SiteId::of(0)),
        2.. if draft.sites_given => {
            let known: Vec<&str> = draft.site_names.all().collect();
            let hint = format!("the sites are: {}", known.join(", "));
            reading.complain("Site", "Site is missing, and the job has several", &hint);
            None
        }
        _ => Some(unnamed_site(draft)),
    }
}

/// The site of everything that names none in a job without a `Sites` sheet.
pub(super) fn unnamed_site(draft: &mut Draft<'_>) -> SiteId {
    if let Some(place) = draft.unnamed_site {
        return SiteId::of(place);
    }
    let place = draft.sites.len();
    let name: Arc<str> = Arc::from("Site");
    draft.site_names.add(&name, place);
    draft.sites.push(bare_site(name, draft.system));
    draft.unnamed_site = Some(place);
    let said = "the job has no Sites sheet: one site is assumed, with its haul and travel";
    draft.problems.push(Problem::notice(said));
    SiteId::of(place)
}
