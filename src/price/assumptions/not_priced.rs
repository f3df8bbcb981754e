//! What nobody has put a price on, in plain phrases for the line below the total.

use std::collections::BTreeSet;

use super::super::naming::speaks_of;
use crate::buying::Bought;
use crate::model::job::Job;
use crate::model::labour::{Extra, ExtraKind};
use crate::model::settings::TopUp;
use crate::model::sheet::Sheet;
use crate::takeoff::TakeOff;
use crate::units::Decimal;
use crate::units::show::plain;

/// A part of many jobs, and the words by which a row of `Extras` shows that it is priced.
struct Part {
    phrase: &'static str,
    words: &'static [&'static str],
}

const GROUND: Part = Part {
    phrase: "ground preparation",
    words: &[
        "ground",
        "sod",
        "turf",
        "strip",
        "stripping",
        "clear",
        "clearing",
        "dig",
        "digging",
        "excavation",
        "weeding",
        "grading",
    ],
};
const PATHS: Part = Part {
    phrase: "paths and surrounds",
    words: &[
        "path",
        "paths",
        "surround",
        "surrounds",
        "edging",
        "paving",
        "walkway",
    ],
};
const SPOIL: Part = Part {
    phrase: "spoil",
    words: &["spoil", "disposal", "dump", "dumping", "haul away", "skip"],
};
const PERMITS: Part = Part {
    phrase: "permits and fees",
    words: &["permit", "permits", "inspection", "engineer", "survey"],
};
const IRRIGATION: Part = Part {
    phrase: "irrigation",
    words: &[
        "irrigation",
        "drip",
        "dripline",
        "watering",
        "soaker",
        "sprinklers",
    ],
};
const PLANTING: Part = Part {
    phrase: "planting",
    words: &[
        "plant",
        "plants",
        "planting",
        "seed",
        "seeds",
        "seedlings",
        "transplants",
    ],
};

/// What the job does not price, in plain phrases, for `Not priced: …`.
///
/// A part counts as priced when a row of `Extras` that is no exclusion names it. A sheet or column
/// that was filled in but reaches no price says so. Exclusions follow as they were typed.
pub fn not_priced(job: &Job, takeoffs: &[TakeOff], bought: &Bought) -> Vec<String> {
    let mut phrases = Vec::new();
    if takeoffs.iter().all(|t| t.ground_area.is_zero()) {
        phrases.extend(unpriced(job, &GROUND, None));
    }
    if job.areas.is_empty() {
        phrases.extend(unpriced(job, &PATHS, None));
    }
    phrases.extend(spoil(job, takeoffs));
    phrases.extend(deliveries(job, bought));
    phrases.extend(top_up(job, takeoffs));
    phrases.extend(unpriced(job, &PERMITS, None));
    phrases.extend(unpriced(job, &IRRIGATION, filled(job, Sheet::Irrigation)));
    phrases.extend(unpriced(job, &PLANTING, None));
    let excluded = job.extras.iter().filter(|extra| is_excluded(extra));
    for item in excluded.map(|extra| extra.item.to_string()) {
        if !phrases
            .iter()
            .any(|known| known.eq_ignore_ascii_case(&item))
        {
            phrases.push(item);
        }
    }
    phrases
}

/// Spoil that nobody is paid to take: there is none, or a part of it stays on the site.
fn spoil(job: &Job, takeoffs: &[TakeOff]) -> Option<String> {
    if takeoffs.iter().all(|t| t.spoil.is_zero()) {
        return unpriced(job, &SPOIL, None);
    }
    let kept = job.settings.ground.spoil_kept.value;
    if kept.is_zero() {
        return None;
    }
    let share = kept.saturating_mul(Decimal::ONE_HUNDRED);
    let stays = format!("{}% of it stays on the site", plain(share, 2));
    unpriced(job, &SPOIL, Some(stays))
}

/// Loose goods that no vehicle of Deliveries brings, by supplier.
fn deliveries(job: &Job, bought: &Bought) -> Vec<String> {
    let trips = bought.trips.iter().filter(|trips| trips.vehicle.is_none());
    let suppliers = trips.filter_map(|trips| job.suppliers.get(trips.supplier.index()));
    let names: BTreeSet<&str> = suppliers.map(|supplier| &*supplier.name).collect();
    let phrase = |name| format!("delivery by {name} (no vehicle in Deliveries)");
    names.into_iter().map(phrase).collect()
}

fn unpriced(job: &Job, part: &Part, typed: Option<String>) -> Option<String> {
    let mut extras = job.extras.iter().filter(|extra| !is_excluded(extra));
    if extras.any(|extra| speaks_of(&extra.item, part.words)) {
        return None;
    }
    let phrase = part.phrase;
    Some(typed.map_or_else(|| phrase.to_owned(), |why| format!("{phrase} ({why})")))
}

fn is_excluded(extra: &Extra) -> bool {
    extra.kind == ExtraKind::Exclusion
}

fn filled(job: &Job, sheet: Sheet) -> Option<String> {
    let used = job.sheets_used.contains(&sheet);
    used.then(|| format!("the sheet {} is filled in but not priced", sheet.title()))
}

fn top_up(job: &Job, takeoffs: &[TakeOff]) -> Option<String> {
    if takeoffs.iter().all(|takeoff| takeoff.top_up.is_zero()) {
        return None;
    }
    match job.settings.top_up.value {
        TopUp::Included => None,
        TopUp::Offered => Some("top-up visit (offered beside the price)".to_owned()),
        TopUp::None => Some("top-up visit".to_owned()),
    }
}
