//! Stays at the sites, one after the other.

use std::collections::BTreeSet;

use jiff::ToSpan as _;
use jiff::civil::Date;
use rust_decimal::prelude::ToPrimitive as _;

use super::{DAY_ONE, Visit};
use crate::labour::{Labour, LabourLine, LineKind};
use crate::model::job::{Job, SiteId};
use crate::model::labour::Driver;
use crate::model::naming::by_name;
use crate::takeoff::Moment;
use crate::units::{Decimal, Hours};

/// So many days later, weekends and all.
pub(super) fn after(day: Date, days: i64) -> Date {
    day.saturating_add(days.days())
}

/// Whether any site says when work begins.
pub(super) fn has_dates(job: &Job) -> bool {
    job.sites.iter().any(|site| site.first_day.is_some())
}

/// All visits by day.
pub(super) fn visits(job: &Job, labour: &Labour, notes: &mut Vec<String>) -> Vec<Visit> {
    let mut visits = build(job, labour, notes);
    let topping = top_up(job, labour, &visits);
    visits.extend(topping);
    visits.sort_by(|a, b| {
        let by_day = a.from.cmp(&b.from).then(a.moment.cmp(&b.moment));
        by_day.then_with(|| by_name(&a.name, &b.name))
    });
    visits
}

/// Sites with work at a moment: those with a first day by it, the others by name.
fn sites(job: &Job, labour: &Labour, moment: Moment) -> Vec<SiteId> {
    let crew = labour.days.iter().map(|d| (d.site, d.moment));
    let helpers = labour.volunteering.iter().map(|v| (v.site, v.moment));
    let at = crew.chain(helpers).filter(|(_, m)| *m == moment);
    let sites: BTreeSet<SiteId> = at.map(|(site, _)| site).collect();
    let mut sites: Vec<SiteId> = sites.into_iter().collect();
    let first = |id: &SiteId| job.sites.get(id.index()).and_then(|s| s.first_day);
    let name = |id: &SiteId| job.sites.get(id.index()).map_or("", |s| &*s.name);
    sites.sort_by(|a, b| {
        let late = |day: Option<Date>| (day.is_none(), day);
        let by_day = late(first(a)).cmp(&late(first(b)));
        by_day.then_with(|| by_name(name(a), name(b)))
    });
    sites
}

fn build(job: &Job, labour: &Labour, notes: &mut Vec<String>) -> Vec<Visit> {
    let calendar = &job.settings.calendar;
    let mut visits: Vec<Visit> = Vec::new();
    let mut free = DAY_ONE;
    for site in sites(job, labour, Moment::Build) {
        let asked = job.sites.get(site.index()).and_then(|s| s.first_day);
        let visit = visit(job, labour, (site, Moment::Build), asked.unwrap_or(free));
        if let Some(before) = visits.last()
            && visit.from <= before.to
        {
            notes.push(format!(
                "The crew would be at {} and at {} on the same days: move a First day, or bring a second crew",
                before.name, visit.name
            ));
        }
        if asked.is_some_and(|day| day != visit.from) {
            notes.push(format!(
                "{} begins on the next working day, {}",
                visit.name, visit.from
            ));
        }
        free = calendar.on_or_after(after(visit.to, 1)).max(free);
        visits.push(visit);
    }
    visits
}

/// Visits after the first season, each site behind its own build and behind the visit before.
fn top_up(job: &Job, labour: &Labour, built: &[Visit]) -> Vec<Visit> {
    let calendar = &job.settings.calendar;
    let season = i64::from(calendar.season.value);
    let mut free = DAY_ONE;
    let mut visits = Vec::new();
    for site in sites(job, labour, Moment::TopUp) {
        let own = built.iter().filter(|visit| visit.site == site);
        let last = own.map(|visit| visit.to).max().unwrap_or(DAY_ONE);
        let from = after(last, season).max(free);
        let visit = visit(job, labour, (site, Moment::TopUp), from);
        free = after(visit.to, 1);
        visits.push(visit);
    }
    visits
}

fn visit(job: &Job, labour: &Labour, (site, moment): (SiteId, Moment), from: Date) -> Visit {
    let here = |s: SiteId, m: Moment| s == site && m == moment;
    let crew = labour.days.iter().find(|d| here(d.site, d.moment));
    let helpers = labour
        .volunteering
        .iter()
        .filter(|v| here(v.site, v.moment));
    let stays = helpers.map(|v| v.days).chain(crew.map(|d| d.days));
    let days = stays.max().unwrap_or_default().ceil().to_u32();
    let days = days.unwrap_or(u32::MAX).max(1);
    let lines: Vec<&LabourLine> = labour
        .lines
        .iter()
        .filter(|line| here(line.site, line.moment) && line.kind == LineKind::Work)
        .collect();
    let calendar = &job.settings.calendar;
    let from = calendar.on_or_after(from);
    let name = job.sites.get(site.index()).map(|site| site.name.clone());
    Visit {
        site,
        name: name.unwrap_or_else(|| "the site".into()),
        moment,
        from,
        to: calendar.nth_from(from, days.saturating_sub(1)),
        days,
        filling: calendar.nth_from(from, before_filling(&lines, days)),
        crew: crew.map_or(0, |d| d.crew),
        work: lines.iter().map(|line| line.hours).sum(),
    }
}

/// Whole days of work that stand before the first line of fill, hours being spread evenly over the days.
fn before_filling(lines: &[&LabourLine], days: u32) -> u32 {
    let is_fill = |line: &&&LabourLine| {
        matches!(
            line.driver,
            Driver::HaulVolume
                | Driver::SpreadVolume
                | Driver::MixVolume
                | Driver::WoodVolume
                | Driver::LitterVolume
                | Driver::Bag
                | Driver::SheetArea
                | Driver::Load
        )
    };
    let whole: Hours = lines.iter().map(|line| line.hours).sum();
    let fill: Hours = lines.iter().filter(is_fill).map(|line| line.hours).sum();
    if whole.is_zero() || fill.is_zero() {
        return 0;
    }
    let part = (whole - fill).ratio(whole);
    let day = part.saturating_mul(Decimal::from(days)).floor().to_u32();
    day.unwrap_or(0).min(days.saturating_sub(1))
}
