//! The values of the crew's sheets. No sum of money has a place here.

mod arriving;
mod bed;
mod cutting;
mod parts;
mod tools;

use serde::Serialize;

pub(super) use arriving::{LoadRow, load_rows, packs};

use super::page::{Draft, Picture};
use crate::labour::{LabourLine, SiteDays, Volunteering};
use crate::model::job::{Site, SiteId};
use crate::price::Estimate;
use crate::problem::{Problem, Severity};
use crate::units::Decimal;
use crate::units::show::plain;
use crate::write::days::day_rows;
use crate::write::names::{Names, moment_word};

/// File name of the sheets.
pub const FILE: &str = "crew-sheets.pdf";
/// Their template.
pub(super) const TEMPLATE: &str = "crew-sheets.typ";
/// Kinds of bed that have a page of their own; nobody carries more paper to a site.
pub(super) const MOST_KINDS: usize = 250;

#[derive(Debug, Serialize)]
pub(super) struct CrewPage {
    job: String,
    beside: Vec<String>,
    cautions: Vec<String>,
    sites: Vec<SiteRow>,
    visits: Vec<Visit>,
    tools: Vec<String>,
    drops: Vec<arriving::DropRow>,
    collected: Vec<arriving::Seller>,
    cuts: Vec<cutting::List>,
    kinds: Vec<bed::KindPage>,
    other: Vec<OtherTask>,
    areas: Vec<parts::AreaPage>,
}

#[derive(Debug, Serialize)]
struct SiteRow {
    title: String,
    facts: Vec<Fact>,
    days: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Fact {
    name: &'static str,
    value: String,
}

#[derive(Debug, Serialize)]
struct Visit {
    from: String,
    to: String,
    what: String,
}

#[derive(Debug, Serialize)]
struct OtherTask {
    name: String,
    place: String,
    hours: String,
}

/// Title of the document.
pub(super) fn title(estimate: &Estimate) -> String {
    format!("{}: crew sheets", estimate.job.settings.job_name)
}

/// The values, with drawings put beside the template.
pub(super) fn page(estimate: &Estimate, draft: &mut Draft<'_>) -> CrewPage {
    let settings = &estimate.job.settings;
    let number = settings.estimate_number.as_ref();
    let number = number.map(|number| format!("Job {number}"));
    let by = settings.prepared_by.as_ref();
    let by = by.map(|by| format!("Prepared by {by}"));
    let beside = [number, by, Some(format!("Estimate of {}", estimate.date))];
    CrewPage {
        job: settings.job_name.to_string(),
        beside: beside.into_iter().flatten().collect(),
        cautions: cautions(estimate).map(|c| c.sentence.clone()).collect(),
        sites: sites(estimate),
        visits: visits(estimate),
        tools: tools::tools(estimate),
        drops: arriving::drops(estimate),
        collected: arriving::collected(estimate),
        cuts: cutting::lists(estimate),
        kinds: bed::kinds(estimate, draft),
        other: other(estimate),
        areas: parts::areas(estimate),
    }
}

/// What can hurt somebody or stop the work. None is left out: a crew that does not know cannot take care.
fn cautions(estimate: &Estimate) -> impl Iterator<Item = &Problem> {
    let told = estimate.problems.iter();
    told.filter(|p| p.severity == Severity::Caution && p.caution.is_some())
}

/// Hours as a crew says them: `3.25 h`.
fn hours(number: Decimal) -> String {
    format!("{} h", plain(number, 2))
}

fn sites(estimate: &Estimate) -> Vec<SiteRow> {
    let used = |id: &SiteId| estimate.kinds.bearers().any(|b| b.site == *id);
    let ids = (0..estimate.job.sites.len()).map(SiteId::of);
    let mut ids: Vec<SiteId> = ids.filter(used).collect();
    let names = Names(&estimate.job);
    ids.sort_by(|a, b| crate::write::names::by_name(names.site(*a), names.site(*b)));
    let rows = ids.into_iter().filter_map(|id| {
        let site = estimate.job.sites.get(id.index())?;
        let is_named = site.at.is_some();
        Some(SiteRow {
            title: if is_named {
                site.name.to_string()
            } else {
                "The site".to_owned()
            },
            facts: facts(estimate, site),
            days: days(estimate, id),
        })
    });
    rows.collect()
}

/// Everything by day, as the sheet Schedule has it.
fn visits(estimate: &Estimate) -> Vec<Visit> {
    let Some(schedule) = estimate.schedule() else {
        return Vec::new();
    };
    let rows = day_rows(&schedule).into_iter();
    rows.map(|row| Visit {
        from: schedule.day_words(row.from),
        to: schedule.day_words(row.to),
        what: match &row.site {
            Some(site) if !row.what.contains(site.as_str()) => {
                format!("{}, to {site}: {}", row.what, row.more)
            }
            _ => format!("{}: {}", row.what, row.more),
        },
    })
    .collect()
}

fn facts(estimate: &Estimate, site: &Site) -> Vec<Fact> {
    let units = estimate.job.settings.units.value;
    let text = |text: &Option<std::sync::Arc<str>>| text.as_ref().map(ToString::to_string);
    let haul = (!site.haul.value.is_zero()).then(|| units.length(site.haul.value));
    let facts = [
        ("Address", text(&site.address)),
        ("First day", site.first_day.map(|day| day.to_string())),
        ("Hours allowed", text(&site.allowed_hours)),
        ("Goods are tipped", text(&site.tipping_place)),
        ("From there to the beds", haul),
        (
            "Narrowest gate",
            site.gate.as_ref().map(|gate| units.length(gate.value)),
        ),
        ("Ground now", text(&site.ground)),
    ];
    let known = facts.into_iter();
    known
        .filter_map(|(name, value)| value.map(|value| Fact { name, value }))
        .collect()
}

fn days(estimate: &Estimate, site: SiteId) -> Vec<String> {
    let labour = &estimate.labour;
    let crew = labour.days.iter().filter(|d| d.site == site);
    let helpers = labour.volunteering.iter().filter(|v| v.site == site);
    let names = Names(&estimate.job);
    let helpers = helpers.map(|v| volunteers(v, names.worker(v.worker)));
    crew.map(crew_days).chain(helpers).collect()
}

/// `Build: 3 days with a crew of 2, 41.2 h of work; a day holds 13 h`.
fn crew_days(days: &SiteDays) -> String {
    let count = plain(days.days, 0);
    let counted = if days.days == Decimal::ONE {
        "day"
    } else {
        "days"
    };
    format!(
        "{}: {count} {counted} with a crew of {}, {} of work; a day holds {}",
        capital(moment_word(days.moment)),
        days.crew,
        hours(days.work.in_hours()),
        hours(days.day_holds.in_hours())
    )
}

fn volunteers(group: &Volunteering, name: &str) -> String {
    let supervisors = match group.supervisors {
        none if none.is_zero() => String::new(),
        n => format!(", {} to look after them", plain(n, 0)),
    };
    format!(
        "{}: {} comes for {} of work in {} sessions on {} days; invite {}{supervisors}",
        capital(moment_word(group.moment)),
        name,
        hours(group.work.in_hours()),
        plain(group.sessions, 0),
        plain(group.days, 0),
        plain(group.invite, 0)
    )
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    format!("{}{}", first.unwrap_or_default(), letters.as_str())
}

/// Hours that no bed and no area bears by itself: set-up and travel, supervision, extras of a site.
fn other(estimate: &Estimate) -> Vec<OtherTask> {
    let names = Names(&estimate.job);
    let lines = estimate.labour.lines.iter();
    let lines = lines.filter(|line| line.measures.is_empty() && !line.hours.is_zero());
    lines
        .map(|line: &LabourLine| OtherTask {
            name: line.name.to_string(),
            place: format!("{}, {}", names.site(line.site), moment_word(line.moment)),
            hours: hours(line.hours.in_hours()),
        })
        .collect()
}

/// Used by the pages of beds.
type Drawn = (Option<Picture>, Option<Picture>, Option<String>);
