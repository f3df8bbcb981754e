//! Volunteers: their pace, sessions, briefings, no-shows and supervisors.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::hours::Draft;
use super::multiplier::Multiplier;
use super::workload::{Workload, over};
use super::{Basis, LabourLine, Volunteering};
use crate::model::labour::{Driver, Worker, WorkerId};
use crate::problem::Problem;
use crate::units::{Hours, round};

/// What one group of volunteers comes to, before it is put on a site.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sessions {
    /// Person-sessions.
    pub sessions: Decimal,
    /// Hours that they are there, briefings included.
    pub present: Hours,
    /// How many to invite so that enough come.
    pub invite: Decimal,
    /// Days on which they come.
    pub days: Decimal,
    /// Supervisors on each day.
    pub supervisors: Decimal,
    /// Paid hours of supervisors.
    pub supervision: Hours,
}

/// Sessions for `work` hours at the volunteers' own pace, when each session brings `each` hours more.
/// Without a headcount all of them come on one day. A session that its briefing fills holds no work and
/// gives no sessions; `messages` says so.
///
/// # Examples
/// 99 h in sessions of 3 h less 0.33 h of briefing: 99 / 2.67 = 37.08, so 38 person-sessions.
pub fn sessions(worker: &Worker, work: Hours, each: Hours) -> Sessions {
    let length = worker.session.value;
    let room = length - worker.briefing.value - each;
    let sessions = if room > Hours::ZERO {
        round::whole_up(work.ratio(room))
    } else {
        Decimal::ZERO
    };
    let coming = Decimal::ONE.saturating_sub(worker.no_show.value);
    let headcount = worker.headcount.filter(|n| *n > 0);
    let days = match headcount {
        Some(most) => round::whole_up(over(sessions, most.into())),
        None => sessions.min(Decimal::ONE),
    };
    let a_day = round::whole_up(over(sessions, days));
    let group = Decimal::from(worker.per_supervisor.value);
    let supervisors = round::whole_up(over(a_day, group));
    Sessions {
        sessions,
        present: length.times(sessions),
        invite: round::whole_up(over(sessions, coming.max(Decimal::ZERO))),
        days,
        supervisors,
        supervision: length.times(supervisors.saturating_mul(days)),
    }
}

/// All volunteers of one visit, by worker name. `each` tells what a session of a worker brings besides.
pub(super) fn reckon(
    basis: &Basis,
    visit: &Workload,
    lines: &[LabourLine],
    each: impl Fn(WorkerId) -> Hours,
) -> Vec<Volunteering> {
    let mut hours: BTreeMap<WorkerId, Hours> = BTreeMap::new();
    for line in lines {
        if let Some(worker) = line.worker.filter(|w| !basis.is_paid(Some(*w))) {
            *hours.entry(worker).or_default() += line.hours;
        }
    }
    let mut found: Vec<Volunteering> = hours
        .into_iter()
        .filter_map(|(id, work)| {
            let worker = basis.worker(Some(id))?;
            let come = sessions(worker, work, each(id));
            Some(Volunteering {
                site: visit.site,
                moment: visit.moment,
                worker: id,
                work: (work + each(id).times(come.sessions)).tidy(),
                sessions: come.sessions,
                present: come.present,
                invite: come.invite,
                days: come.days,
                supervisors: come.supervisors,
                supervision: come.supervision,
            })
        })
        .collect();
    found.sort_by_key(|v| (basis.worker(Some(v.worker)).map(|w| &w.name), v.worker));
    found
}

/// Supervision as a line: supervisors x days, each for a whole session, by the first paid worker.
pub(super) fn supervision_line(basis: &Basis, group: &Volunteering) -> Option<LabourLine> {
    let worker = basis.worker(Some(group.worker))?;
    let draft = Draft {
        kind: super::LineKind::Supervision,
        extra: None,
        task: None,
        name: format!("Supervision of {}", worker.name).into(),
        site: group.site,
        moment: group.moment,
        driver: Driver::Hour,
        quantity: group.supervisors.saturating_mul(group.days),
        per_bed: Vec::new(),
        unit: "supervisor session".into(),
        rate: worker.session.value.in_hours(),
        range: None,
        typical: !(worker.per_supervisor.is_given() && worker.session.is_given()),
        worker: basis.first_paid(),
        multiplier: Multiplier::one(),
    };
    Some(draft.line()).filter(|line| !line.hours.is_zero())
}

/// What is to be said about the volunteers who are asked to work, once for each kind of them.
pub(super) fn messages(basis: &Basis, groups: &[Volunteering]) -> Vec<Problem> {
    let asked: BTreeSet<WorkerId> = groups.iter().map(|g| g.worker).collect();
    let mut workers: Vec<&Worker> = asked
        .into_iter()
        .filter_map(|id| basis.worker(Some(id)))
        .collect();
    workers.sort_by(|a, b| a.name.cmp(&b.name));
    let first = workers.first().copied();
    let mut told = Vec::new();
    for worker in workers {
        let idle = groups.iter().any(|g| {
            g.sessions.is_zero()
                && g.work > Hours::ZERO
                && basis
                    .worker(Some(g.worker))
                    .is_some_and(|w| w.at == worker.at)
        });
        told.extend(of_worker(worker, idle));
    }
    if let Some(first) = first {
        told.extend(of_supervisors(basis, first));
    }
    told
}

fn of_worker(worker: &Worker, idle: bool) -> Vec<Problem> {
    let mut told = Vec::new();
    let name = &worker.name;
    if idle {
        let words =
            format!("briefing and what every session brings leave no time to work for {name}");
        let hint = "make the session longer";
        told.push(
            Problem::error(words)
                .at(worker.at, "Session length")
                .hint(hint),
        );
    }
    if worker.no_show.value >= Decimal::ONE {
        let words = format!("when no {name} comes, no number of invitations is enough");
        let hint = "write a share below 100%";
        told.push(Problem::error(words).at(worker.at, "No-show %").hint(hint));
    }
    if worker.per_supervisor.value == 0 {
        let words = format!("{name} cannot work 0 to a supervisor");
        let hint = "write how many volunteers one supervisor looks after";
        told.push(
            Problem::error(words)
                .at(worker.at, "Per supervisor")
                .hint(hint),
        );
    }
    if worker.headcount.is_none_or(|n| n == 0) {
        let words = format!("{name} has no headcount: all sessions of a site are put on one day");
        let hint = "write how many can come on a day";
        told.push(
            Problem::caution(words)
                .at(worker.at, "Headcount")
                .hint(hint),
        );
    }
    told
}

/// What is true of all who supervise, whomever: told once, at the first of the volunteers.
fn of_supervisors(basis: &Basis, volunteers: &Worker) -> Vec<Problem> {
    let words = "the supervisors' own set-up and travel on volunteer days are not counted";
    let hint = "add them under Extras, per session or per job";
    let notice = Problem::notice(words).at(volunteers.at, "Per supervisor");
    let mut told = vec![notice.hint(hint)];
    if basis.first_paid().is_none() {
        let nobody = "nobody in Workers is paid, so the supervision of volunteers has no wage";
        told.push(Problem::caution(nobody).at(volunteers.at, "Paid or volunteer"));
    }
    told
}
