//! Extras: how many units of each a site takes, and the hours that come with them.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::hours::Draft;
use super::multiplier::Multiplier;
use super::workload::{Workload, over};
use super::{Basis, Labour, LabourLine};
use crate::model::job::{Job, PhaseId, SiteId};
use crate::model::known::Known;
use crate::model::labour::{Driver, Extra, ExtraKind, Per, WorkerId};
use crate::model::settings::TopUp;
use crate::problem::Problem;
use crate::takeoff::{KindId, Kinds, Moment, TakeOff};
use crate::units::Hours;

/// Beds of one phase on one site: kind, number of beds, inside area of one in square metres.
type Stand = Vec<(KindId, Decimal, Decimal)>;

/// What stands where, so that an extra can be counted.
#[derive(Debug, Default)]
pub(super) struct Census {
    /// Sites with beds, by name.
    sites: Vec<SiteId>,
    stands: BTreeMap<SiteId, BTreeMap<PhaseId, Stand>>,
}

impl Census {
    /// Of all kinds of bed.
    pub(super) fn of(job: &Job, kinds: &Kinds, takeoffs: &[TakeOff]) -> Self {
        let mut census = Self::default();
        for (index, (kind, takeoff)) in kinds.kinds.iter().zip(takeoffs).enumerate() {
            let phases = census.stands.entry(kind.site).or_default();
            let area = takeoff.inside_area.in_square_metres();
            let stand = phases.entry(kind.phase).or_default();
            stand.push((KindId::of(index), kind.count, area));
        }
        census.sites = census.stands.keys().copied().collect();
        census
            .sites
            .sort_by_key(|id| (job.sites.get(id.index()).map(|s| &s.name), *id));
        census
    }

    /// Beds on a site to which an extra applies, by phase.
    fn stands<'a>(&'a self, extra: &Extra, site: SiteId) -> impl Iterator<Item = &'a Stand> {
        let (only_site, only_phase) = (extra.site, extra.phase);
        let phases = self.stands.get(&site).into_iter().flatten();
        phases
            .filter(move |(phase, _)| {
                only_site.is_none_or(|s| s == site) && only_phase.is_none_or(|p| p == **phase)
            })
            .map(|(_, stand)| stand)
    }

    /// How often an extra applies on a visit. Crew days and volunteer sessions are counted later: `None`.
    fn times(&self, extra: &Extra, site: SiteId, moment: Moment) -> Option<Decimal> {
        let phases = self.stands(extra, site).count();
        let beds = || self.stands(extra, site).flatten();
        let count = match (extra.per, moment) {
            (Per::Day | Per::Session, _) => return None,
            (Per::Visit, Moment::TopUp) if phases > 0 && extra.phase.is_none() => Decimal::ONE,
            (_, Moment::TopUp) => Decimal::ZERO,
            (Per::Bed, _) => beds().fold(Decimal::ZERO, |sum, (_, n, _)| sum.saturating_add(*n)),
            (Per::Area, _) => beds().fold(Decimal::ZERO, |sum, (_, n, area)| {
                sum.saturating_add(n.saturating_mul(*area))
            }),
            (Per::Visit, _) => Decimal::from(phases),
            (Per::Site, _) => Decimal::from(phases.min(1)),
            (Per::Job, _) if self.first(extra) == Some(site) => Decimal::ONE,
            (Per::Job, _) => Decimal::ZERO,
        };
        Some(count)
    }

    /// The site that carries what comes once for the job: the first by name that the extra applies to.
    fn first(&self, extra: &Extra) -> Option<SiteId> {
        let mut sites = self.sites.iter().copied();
        sites.find(|site| self.stands(extra, *site).next().is_some())
    }

    /// Units for one bed of each kind, when the extra is counted by beds or their area.
    fn per_bed(&self, extra: &Extra, site: SiteId) -> Vec<(KindId, Decimal)> {
        let beds = self.stands(extra, site).flatten();
        let one = |area: Decimal| match extra.per {
            Per::Bed => Some(extra.quantity.value),
            Per::Area => Some(extra.quantity.value.saturating_mul(area)),
            _ => None,
        };
        beds.filter_map(|(kind, _, area)| Some((*kind, one(*area)?)))
            .collect()
    }

    /// The part of a site's hours that belongs to the extra's phase; all of them without a phase.
    fn phase_share(
        &self,
        kinds: &Kinds,
        extra: &Extra,
        site: SiteId,
        lines: &[&LabourLine],
    ) -> Decimal {
        let Some(phase) = extra.phase else {
            return Decimal::ONE;
        };
        let all_phases = self.stands.get(&site);
        match all_phases.map_or(0, BTreeMap::len) {
            1 if all_phases.is_some_and(|p| p.contains_key(&phase)) => return Decimal::ONE,
            0 | 1 => return Decimal::ZERO,
            _ => {}
        }
        let (mut here, mut all) = (Decimal::ZERO, Decimal::ZERO);
        for (id, hours) in lines.iter().flat_map(|line| &line.measures) {
            if let Some(kind) = kinds.bearers().nth(id.index()) {
                let hours = hours.saturating_mul(kind.count);
                all = all.saturating_add(hours);
                if kind.phase == phase {
                    here = here.saturating_add(hours);
                }
            }
        }
        over(here, all)
    }
}

/// How often an extra comes on each site, by site name: the beds, square metres, sites, visits, crew days
/// or person-sessions of volunteers there, or once for the job. Each time brings its quantity. The top-up
/// visit counts when the price includes it. Sites where it never comes are left out, and an exclusion
/// comes nowhere.
pub fn extra_times(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    labour: &Labour,
    extra: &Extra,
) -> Vec<(SiteId, Decimal)> {
    let census = Census::of(job, kinds, takeoffs);
    let found = Reckoned::of(labour, extra);
    let included = job.settings.top_up.value == TopUp::Included;
    let sites = census
        .sites
        .iter()
        .filter(|_| extra.kind != ExtraKind::Exclusion);
    sites
        .filter_map(|site| {
            let mut times = found.times(&census, kinds, extra, *site, Moment::Build);
            if included && found.visits.contains(&(*site, Moment::TopUp)) {
                let again = found.times(&census, kinds, extra, *site, Moment::TopUp);
                times = times.saturating_add(again);
            }
            let times = crate::units::round::tidy15(times);
            (!times.is_zero()).then_some((*site, times))
        })
        .collect()
}

/// The part of each visit's crew days or sessions with which an extra comes, where it comes by these: its
/// phase's part of the hours. The top-up visit counts when the price includes it.
pub fn extra_shares(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    labour: &Labour,
    extra: &Extra,
) -> Vec<(SiteId, Moment, Decimal)> {
    let census = Census::of(job, kinds, takeoffs);
    let found = Reckoned::of(labour, extra);
    let included = job.settings.top_up.value == TopUp::Included;
    let counted = |moment: Moment| moment == Moment::Build || included;
    let visits = found.visits.iter().filter(|(site, moment)| {
        counted(*moment)
            && extra.kind != ExtraKind::Exclusion
            && extra.site.is_none_or(|only| only == *site)
    });
    let share = |(site, moment): &(SiteId, Moment)| {
        let share = found.share(&census, kinds, extra, (*site, *moment));
        (*site, *moment, share)
    };
    visits
        .map(share)
        .filter(|(_, _, share)| !share.is_zero())
        .collect()
}

/// What the finished labour says about days and sessions, by visit.
struct Reckoned<'a> {
    visits: BTreeSet<(SiteId, Moment)>,
    counts: BTreeMap<(SiteId, Moment), Decimal>,
    lines: BTreeMap<(SiteId, Moment), Vec<&'a LabourLine>>,
}

impl<'a> Reckoned<'a> {
    fn of(labour: &'a Labour, extra: &Extra) -> Self {
        let mut counts: BTreeMap<(SiteId, Moment), Decimal> = BTreeMap::new();
        let mut add = |site, moment, n: Decimal| {
            let sum = counts.entry((site, moment)).or_default();
            *sum = sum.saturating_add(n);
        };
        match extra.per {
            Per::Day => labour
                .days
                .iter()
                .for_each(|d| add(d.site, d.moment, d.days)),
            Per::Session => {
                let groups = labour.volunteering.iter();
                groups.for_each(|v| add(v.site, v.moment, v.sessions));
            }
            _ => {}
        }
        let mut lines: BTreeMap<_, Vec<&LabourLine>> = BTreeMap::new();
        if extra.phase.is_some() {
            for line in &labour.lines {
                lines
                    .entry((line.site, line.moment))
                    .or_default()
                    .push(line);
            }
        }
        let visits = labour.lines.iter().map(|l| (l.site, l.moment)).collect();
        Self {
            visits,
            counts,
            lines,
        }
    }

    fn times(
        &self,
        census: &Census,
        kinds: &Kinds,
        extra: &Extra,
        site: SiteId,
        moment: Moment,
    ) -> Decimal {
        if let Some(times) = census.times(extra, site, moment) {
            return times;
        }
        if extra.site.is_some_and(|only| only != site) {
            return Decimal::ZERO;
        }
        let key = (site, moment);
        let count = self.counts.get(&key).copied().unwrap_or_default();
        count.saturating_mul(self.share(census, kinds, extra, key))
    }

    /// The part of a visit that belongs to the extra's phase.
    fn share(
        &self,
        census: &Census,
        kinds: &Kinds,
        extra: &Extra,
        visit: (SiteId, Moment),
    ) -> Decimal {
        let lines = self.lines.get(&visit).map_or(&[][..], Vec::as_slice);
        census.phase_share(kinds, extra, visit.0, lines)
    }
}

/// Extras with hours, on one visit.
pub(super) struct Working<'a> {
    basis: &'a Basis<'a>,
    census: &'a Census,
    site: SiteId,
    moment: Moment,
}

impl<'a> Working<'a> {
    pub(super) fn on(basis: &'a Basis<'a>, census: &'a Census, visit: &Workload) -> Self {
        Self {
            basis,
            census,
            site: visit.site,
            moment: visit.moment,
        }
    }

    fn extras(&self, per: impl Fn(Per) -> bool) -> impl Iterator<Item = (&'a Extra, Decimal)> {
        let site = self.site;
        let extras = self.basis.job.extras.iter();
        extras
            .filter(move |e| e.kind != ExtraKind::Exclusion && per(e.per))
            .filter(move |e| e.site.is_none_or(|only| only == site))
            .filter_map(|e| Some((e, e.hours.as_ref()?.value)))
    }

    /// Lines of extras that beds, areas, sites, visits and the job bring.
    pub(super) fn counted(&self) -> Vec<LabourLine> {
        self.extras(|per| !matches!(per, Per::Day | Per::Session))
            .filter_map(|(extra, hours)| {
                let times = self.census.times(extra, self.site, self.moment)?;
                self.line(extra, hours, times)
            })
            .collect()
    }

    /// Lines of extras that every one of `count` crew days or person-sessions brings.
    pub(super) fn repeated(
        &self,
        per: Per,
        count: Decimal,
        lines: &[LabourLine],
    ) -> Vec<LabourLine> {
        let lines: Vec<&LabourLine> = lines.iter().collect();
        self.extras(|other| other == per)
            .filter_map(|(extra, hours)| {
                let share = self.share(extra, &lines);
                self.line(extra, hours, count.saturating_mul(share))
            })
            .collect()
    }

    /// Hours that one crew day, or one session of `worker`, brings by itself. Paid people do what days
    /// bring whoever of them it is; sessions are filled by their own volunteers only.
    pub(super) fn each(&self, per: Per, worker: Option<WorkerId>, lines: &[LabourLine]) -> Hours {
        let lines: Vec<&LabourLine> = lines.iter().collect();
        let mine = |extra: &Extra| {
            let who = self.basis.worker_or_first(extra.worker);
            match per {
                Per::Session => who == worker,
                _ => self.basis.is_paid(who),
            }
        };
        self.extras(|other| other == per)
            .filter(|(extra, _)| mine(extra))
            .filter_map(|(extra, hours)| {
                let one = self.share(extra, &lines);
                Some(self.line(extra, hours, one)?.hours)
            })
            .sum()
    }

    fn share(&self, extra: &Extra, lines: &[&LabourLine]) -> Decimal {
        let kinds = self.basis.kinds;
        self.census.phase_share(kinds, extra, self.site, lines)
    }

    fn line(&self, extra: &Extra, hours: Decimal, times: Decimal) -> Option<LabourLine> {
        let quantity = times.saturating_mul(extra.quantity.value);
        if quantity.is_zero() || hours.is_zero() {
            return None;
        }
        let worker = self.basis.worker_or_first(extra.worker);
        let draft = Draft {
            kind: super::LineKind::Work,
            extra: Some(extra.at),
            task: None,
            name: Arc::clone(&extra.item),
            site: self.site,
            moment: self.moment,
            driver: driver(extra.per),
            quantity,
            per_bed: self.census.per_bed(extra, self.site),
            unit: extra.unit.clone().unwrap_or_else(|| "each".into()),
            rate: hours,
            range: None,
            typical: !extra.hours.as_ref().is_some_and(Known::is_given),
            worker,
            multiplier: Multiplier::on(self.basis, self.site, false, worker),
        };
        Some(draft.line())
    }
}

fn driver(per: Per) -> Driver {
    match per {
        Per::Bed => Driver::Bed,
        Per::Area => Driver::BedArea,
        Per::Site | Per::Visit => Driver::Site,
        Per::Day | Per::Session | Per::Job => Driver::Hour,
    }
}

/// A notice for every extra that comes to nothing because nothing stands where it points.
pub(super) fn messages(basis: &Basis, census: &Census) -> Vec<Problem> {
    let extras = basis.job.extras.iter();
    extras
        .filter(|e| e.kind != ExtraKind::Exclusion && census.first(e).is_none())
        .map(|extra| {
            let words = format!("{} comes to nothing: no bed stands there", extra.item);
            let field = if extra.phase.is_some() {
                "Phase"
            } else {
                "Site"
            };
            Problem::notice(words)
                .at(extra.at, field)
                .hint("name a site and phase that have beds, or leave them empty")
        })
        .collect()
}
