//! Crew days on a site, and the set-up and travel that each of them costs.

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::hours::Draft;
use super::multiplier::Multiplier;
use super::workload::{Workload, over};
use super::{Basis, LabourLine, SiteDays};
use crate::model::job::SiteId;
use crate::model::known::From;
use crate::model::labour::{Driver, Pay, WorkerId};
use crate::problem::Problem;
use crate::takeoff::Moment;
use crate::units::{Hours, round};

/// A working day of a crew. Set-up and travel are elapsed hours, so the whole crew spends them.
#[derive(Clone, Copy, Debug)]
pub struct CrewDay {
    /// People who come.
    pub crew: u32,
    /// Hours of the day, with set-up and travel.
    pub hours: Hours,
    /// Elapsed hours of set-up and packing.
    pub setup: Hours,
    /// Elapsed hours of travel there and back.
    pub travel: Hours,
}

impl CrewDay {
    /// The day of the job's crew on a site.
    pub(super) fn on(basis: &Basis, site: SiteId) -> Self {
        let settings = &basis.job.settings;
        let site = basis.job.sites.get(site.index());
        Self {
            crew: settings.crew_size.value,
            hours: settings.hours_per_day.value,
            setup: settings.setup_hours.value,
            travel: site.map_or(Hours::ZERO, |s| s.travel.value),
        }
    }

    fn lost(&self) -> Hours {
        self.setup + self.travel
    }

    /// Person-hours of work that a day holds; nothing when set-up and travel eat it.
    ///
    /// # Examples
    /// A crew of 4 for 8 h with 0.75 h of set-up and 0.7 h of travel: 4 x 6.55 = 26.2.
    pub fn holds(&self) -> Hours {
        let left = self.hours - self.lost();
        left.max(Hours::ZERO).times(self.crew.into())
    }

    /// Started days for `work`, when each of them also brings `each` more person-hours. No days at all
    /// when a day holds nothing: `messages` says so.
    pub fn days(&self, work: Hours, each: Hours) -> Decimal {
        let room = self.holds() - each;
        if room <= Hours::ZERO {
            return Decimal::ZERO;
        }
        round::whole_up(work.ratio(room))
    }

    /// Person-hours of set-up and travel on one day.
    pub fn overhead_a_day(&self) -> Hours {
        self.lost().times(self.crew.into())
    }
}

/// Days of one visit for the lines so far; `each` is what every day brings besides. Volunteers come to
/// sessions of their own and fill no crew days.
pub(super) fn reckon(
    basis: &Basis,
    visit: &Workload,
    lines: &[LabourLine],
    each: Hours,
) -> Option<SiteDays> {
    let paid = lines.iter().filter(|l| basis.is_paid(l.worker));
    let work: Hours = paid.map(|l| l.hours).sum();
    if work.is_zero() {
        return None;
    }
    let day = CrewDay::on(basis, visit.site);
    let days = day.days(work, each);
    Some(SiteDays {
        site: visit.site,
        moment: visit.moment,
        work: (work + each.times(days)).tidy(),
        crew: day.crew,
        day_holds: day.holds().tidy(),
        days,
        overhead: day.overhead_a_day().times(days).tidy(),
        worker: most_hours(basis, lines),
    })
}

/// Set-up and travel are paid to the paid worker with the most hours of the visit.
fn most_hours(basis: &Basis, lines: &[LabourLine]) -> Option<WorkerId> {
    let mut hours: BTreeMap<WorkerId, Hours> = BTreeMap::new();
    for line in lines {
        if let Some(worker) = line.worker.filter(|w| basis.is_paid(Some(*w))) {
            *hours.entry(worker).or_default() += line.hours;
        }
    }
    // The name decides between equals, so that the order of rows does not.
    let best = hours.into_iter().max_by(|(a, x), (b, y)| {
        let name = |id: &WorkerId| basis.worker(Some(*id)).map(|w| &w.name);
        x.cmp(y).then_with(|| name(b).cmp(&name(a)))
    });
    best.map(|(worker, _)| worker)
}

/// The line of set-up and travel: started crew days x what a day of it takes.
pub(super) fn overhead_line(basis: &Basis, days: &SiteDays) -> Option<LabourLine> {
    let rate = over(days.overhead.in_hours(), days.days);
    if rate.is_zero() {
        return None;
    }
    let site = basis.job.sites.get(days.site.index());
    let typical = !basis.job.settings.setup_hours.is_given()
        || site.is_some_and(|s| !s.travel.is_given() && !s.travel.value.is_zero());
    let draft = Draft {
        kind: super::LineKind::SetUp,
        extra: None,
        task: None,
        name: "Set-up and travel".into(),
        site: days.site,
        moment: days.moment,
        driver: Driver::Hour,
        quantity: days.days,
        per_bed: Vec::new(),
        unit: "crew day".into(),
        rate,
        range: None,
        typical,
        worker: days.worker,
        multiplier: Multiplier::one(),
    };
    Some(draft.line())
}

/// A problem for every site on which a day holds no work.
pub(super) fn messages(basis: &Basis, days: &[SiteDays]) -> Vec<Problem> {
    let empty = days
        .iter()
        .filter(|d| d.moment == Moment::Build && d.days.is_zero());
    empty.map(|d| no_room(basis, d.site)).collect()
}

fn no_room(basis: &Basis, id: SiteId) -> Problem {
    let settings = &basis.job.settings;
    let day = CrewDay::on(basis, id);
    if day.crew == 0 {
        let none = Problem::error("a crew of nobody does no work").hint("write how many come");
        return at_setting(none, &settings.crew_size.from);
    }
    let plain = |hours: Hours| crate::units::show::plain(hours.in_hours(), 2);
    let words = format!(
        "a day of {} h at {} holds no work after {} h of set-up, {} h of travel and what every day brings",
        plain(day.hours),
        basis.site_name(id),
        plain(day.setup),
        plain(day.travel),
    );
    let full = Problem::error(words).hint("raise Hours per day, or lower Travel time or set-up");
    let site = basis.job.sites.get(id.index());
    match site.and_then(|s| s.at).filter(|_| !day.travel.is_zero()) {
        Some(row) => full.at(row, "Travel time"),
        None => at_setting(full, &settings.hours_per_day.from),
    }
}

fn at_setting(problem: Problem, from: &From) -> Problem {
    match from {
        From::Job(row, field) => problem.at(*row, field),
        _ => problem,
    }
}

/// Whether hours of this worker fill crew days; hours without a worker do.
impl Basis<'_> {
    pub(super) fn is_paid(&self, worker: Option<WorkerId>) -> bool {
        self.worker(worker).is_none_or(|w| w.pay == Pay::Paid)
    }
}
