//! What nobody has put a price on, in plain phrases for the line below the total.

use std::collections::BTreeSet;

use super::super::naming::speaks_of;
use crate::buying::Bought;
use crate::model::job::Job;
use crate::model::labour::{Extra, ExtraKind};
use crate::model::settings::TopUp;
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

/// Something that has no price.
struct Unpriced {
    phrase: String,
    /// Why, for the owner alone: it may name a supplier or a sheet.
    why: Option<String>,
    /// What a client reads; nothing for what a client is not told.
    to_client: Option<String>,
}

impl Unpriced {
    /// Told to both in the same words, but the reason to the owner alone.
    fn told(phrase: &str, why: Option<String>) -> Self {
        Self {
            phrase: phrase.to_owned(),
            why,
            to_client: Some(phrase.to_owned()),
        }
    }
}

/// What the job does not price, in plain phrases, for `Not priced: …`.
///
/// A part counts as priced when a row of `Extras` that is no exclusion names it. A sheet or column
/// that was filled in but reaches no price says so. Exclusions follow as they were typed.
pub fn not_priced(job: &Job, takeoffs: &[TakeOff], bought: &Bought) -> Vec<String> {
    let all = unpriced_parts(job, takeoffs, bought).into_iter();
    all.map(|part| match part.why {
        Some(why) => format!("{} ({why})", part.phrase),
        None => part.phrase,
    })
    .collect()
}

/// The same for a client: no supplier, no sheet of the job, and no exclusion that the client shall not see.
pub fn not_included(job: &Job, takeoffs: &[TakeOff], bought: &Bought) -> Vec<String> {
    let all = unpriced_parts(job, takeoffs, bought).into_iter();
    let mut told: Vec<String> = Vec::new();
    for phrase in all.filter_map(|part| part.to_client) {
        if !told.contains(&phrase) {
            told.push(phrase);
        }
    }
    told
}

fn unpriced_parts(job: &Job, takeoffs: &[TakeOff], bought: &Bought) -> Vec<Unpriced> {
    let mut parts = Vec::new();
    if takeoffs.iter().all(|t| t.ground_area.is_zero()) {
        parts.extend(unpriced(job, &GROUND, None));
    }
    if job.areas.is_empty() {
        parts.extend(unpriced(job, &PATHS, None));
    }
    parts.extend(spoil(job, takeoffs));
    parts.extend(deliveries(job, bought));
    parts.extend(top_up(job, takeoffs));
    parts.extend(unpriced(job, &PERMITS, None));
    if takeoffs.iter().all(|t| t.watering.is_none()) {
        parts.extend(unpriced(job, &IRRIGATION, None));
    }
    parts.extend(unpriced(job, &PLANTING, None));
    for extra in job.extras.iter().filter(|extra| is_excluded(extra)) {
        let is_same = |part: &Unpriced| part.phrase.eq_ignore_ascii_case(&extra.item);
        if !parts.iter().any(is_same) {
            parts.push(Unpriced {
                phrase: extra.item.to_string(),
                why: None,
                to_client: extra.client_sees.then(|| extra.item.to_string()),
            });
        }
    }
    parts
}

/// Spoil that nobody is paid to take: there is none, or a part of it stays on the site.
fn spoil(job: &Job, takeoffs: &[TakeOff]) -> Option<Unpriced> {
    if takeoffs.iter().all(|t| t.spoil.is_zero()) {
        return unpriced(job, &SPOIL, None);
    }
    let kept = job.settings.ground.spoil_kept.value;
    if kept.is_zero() {
        return None;
    }
    let share = kept.saturating_mul(Decimal::ONE_HUNDRED);
    let stays = format!("{}% of it stays on the site", plain(share, 2));
    let unpriced = unpriced(job, &SPOIL, Some(stays.clone()))?;
    let to_client = Some(format!("spoil: {stays}"));
    Some(Unpriced {
        to_client,
        ..unpriced
    })
}

/// Loose goods that no vehicle of Deliveries brings, by supplier.
fn deliveries(job: &Job, bought: &Bought) -> Vec<Unpriced> {
    let trips = bought.trips.iter().filter(|trips| trips.vehicle.is_none());
    let suppliers = trips.filter_map(|trips| job.suppliers.get(trips.supplier.index()));
    let names: BTreeSet<&str> = suppliers.map(|supplier| &*supplier.name).collect();
    let one = |name| Unpriced {
        phrase: format!("delivery by {name} (no vehicle in Deliveries)"),
        why: None,
        to_client: Some("delivery of a part of the goods".to_owned()),
    };
    names.into_iter().map(one).collect()
}

fn unpriced(job: &Job, part: &Part, why: Option<String>) -> Option<Unpriced> {
    let mut extras = job.extras.iter().filter(|extra| !is_excluded(extra));
    if extras.any(|extra| speaks_of(&extra.item, part.words)) {
        return None;
    }
    Some(Unpriced::told(part.phrase, why))
}

fn is_excluded(extra: &Extra) -> bool {
    extra.kind == ExtraKind::Exclusion
}

fn top_up(job: &Job, takeoffs: &[TakeOff]) -> Option<Unpriced> {
    if takeoffs.iter().all(|takeoff| takeoff.top_up.is_zero()) {
        return None;
    }
    let visit = "top-up visit";
    let after = "topping up after the first season";
    match job.settings.top_up.value {
        TopUp::Included => None,
        TopUp::Offered => Some(Unpriced {
            phrase: visit.to_owned(),
            why: Some("offered beside the price".to_owned()),
            to_client: Some(format!("{after} (offered beside the price)")),
        }),
        TopUp::None => Some(Unpriced {
            phrase: visit.to_owned(),
            why: None,
            to_client: Some(after.to_owned()),
        }),
    }
}
