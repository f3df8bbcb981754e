//! Hours, days and hire as ledger blocks: person-hours x rate, what sessions and days bring, set-up and
//! travel, machines. All of it is live: hours changed in the workbook bring their sessions, days and hire.

mod days;
mod groups;
mod hire;
mod repeated;
mod volunteers;
mod wages;

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::inputs::{Inputs, row_u32};
use super::orders::moment_words;
use super::table::Table;
use crate::labour::{Labour, LabourLine, LineKind};
use crate::model::job::{Job, SiteId};
use crate::model::labour::{Pay, Per, TaskId, WorkerId};
use crate::takeoff::{KindId, Moment};

pub(super) use hire::HireCost;
pub(super) use repeated::Visits;

use groups::Groups;

/// Cost and charge columns of a block whose rows are worked by somebody.
pub(super) struct HourCells {
    pub stands: ColRef,
    pub cost: ColRef,
    pub charge: ColRef,
    /// Person-hours that are paid.
    pub paid: ColRef,
    /// The part of the cost that is pay without burden, for jobs with a budget.
    pub wages: Option<ColRef>,
}

/// A block that costs hours.
pub(super) struct Worked<'a> {
    /// What the work is, where nobody is named for it.
    pub what: &'static str,
    pub cells: HourCells,
    pub rows: Vec<WorkedRow<'a>>,
}

/// Where and when the hours of a row are, and its measure for one bed of each kind.
pub(super) struct WorkedRow<'a> {
    pub site: SiteId,
    pub moment: Moment,
    pub measures: &'a [(KindId, Decimal)],
    /// Who works them, where the job says it.
    pub worker: Option<WorkerId>,
}

/// Hours of a block of tasks, and the groups whose they are.
struct WorkCells {
    hours: ColRef,
    group: ColRef,
}

/// All blocks of the sheet.
pub(super) struct HoursCells<'a> {
    pub worked: Vec<Worked<'a>>,
    pub hire: HireCost,
    pub visits: Visits,
    /// Hours that each band of volunteers is there.
    pub present: Option<ColRef>,
}

impl WorkedRow<'_> {
    /// Hours that no bed brings: shared by all hours of the visit.
    fn shared((site, moment): (SiteId, Moment)) -> Self {
        Self {
            site,
            moment,
            measures: &[],
            worker: None,
        }
    }
}

/// Whether a line is work of itself, not what follows from days and sessions.
fn works_itself(line: &LabourLine) -> bool {
    line.kind == LineKind::Work
}

fn is_paid(setting: &Setting<'_>, worker: Option<WorkerId>) -> bool {
    let worker = worker.and_then(|w| setting.job.workers.get(w.index()));
    worker.is_none_or(|w| w.pay == Pay::Paid)
}

impl<'a> Setting<'a> {
    fn worker_words(&self, worker: Option<WorkerId>) -> String {
        let worker = worker.and_then(|w| self.job.workers.get(w.index()));
        worker.map_or_else(|| "nobody named".to_owned(), |w| w.name.to_string())
    }

    pub(super) fn site_words(&self, site: SiteId) -> String {
        let site = self.job.sites.get(site.index());
        site.map_or_else(String::new, |s| s.name.to_string())
    }

    /// The blocks of the Hours sheet, in the order in which one rests on another: tasks, the sessions of
    /// volunteers for them, what sessions bring, the crew's days for all that, what days bring, machines.
    pub(super) fn hours(&self, ledger: &mut Ledger, inputs: &Inputs) -> HoursCells<'a> {
        let lines = || self.labour.lines.iter().filter(|l| works_itself(l));
        let groups = Groups::of(&self.labour.lines);
        let mut visits = Visits::default();
        let with = |per: Option<Per>| -> Vec<&'a LabourLine> {
            lines().filter(|l| self.comes_with(l) == per).collect()
        };
        let counted = with(None);
        let (work, worked) = self.work(ledger, inputs, ("Work", &counted), (&groups, &visits));
        let mut all = vec![worked];
        let mut present = None;
        if !self.labour.volunteering.is_empty() {
            let (there, worked) = self.volunteers(ledger, inputs, (&groups, &work), &mut visits);
            present = Some(there);
            all.push(worked);
        }
        let mut fill = vec![&work];
        let by_session = with(Some(Per::Session));
        let sessions = (!by_session.is_empty()).then(|| {
            let titled = ("What sessions bring", &by_session[..]);
            self.work(ledger, inputs, titled, (&groups, &visits))
        });
        let (sessions, worked) = sessions.unzip();
        fill.extend(&sessions);
        all.extend(worked);
        all.push(self.days(ledger, inputs, (&groups, &fill), &mut visits));
        let by_day = with(Some(Per::Day));
        if !by_day.is_empty() {
            let titled = ("What days bring", &by_day[..]);
            let (_, worked) = self.work(ledger, inputs, titled, (&groups, &visits));
            all.push(worked);
        }
        let hire = self.hire(ledger, inputs, (&counted, &work), &visits);
        HoursCells {
            worked: all,
            hire,
            visits,
            present,
        }
    }

    /// A block of tasks on sites.
    fn work(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (title, lines): (&str, &[&'a LabourLine]),
        (groups, visits): (&Groups, &Visits),
    ) -> (WorkCells, Worked<'a>) {
        let mut table = Table::new(ledger, "Hours", title, lines.len());
        table.words("Site", lines.iter().map(|l| self.site_words(l.site)));
        table.words(
            "When",
            lines.iter().map(|l| moment_words(l.moment).to_owned()),
        );
        table.words("Task", lines.iter().map(|l| l.name.to_string()));
        let quantity = self.quantity_of_work(&mut table, inputs, lines, visits);
        table.words("Unit", lines.iter().map(|l| l.unit.to_string()));
        let rate = rate_column(&mut table, inputs, lines);
        let factor = table.fixed("Factor", 4, lines.iter().map(|l| l.multiplier));
        let why = lines.iter().map(|l| l.multiplier_words.clone());
        let why = table.words("Why that factor", why);
        table.last(why);
        let hours = Term::Here(quantity) * Term::Here(rate) * Term::Here(factor);
        let hours = table.live("Person-hours", 2, hours);
        let group = table.label("Group", 0, lines.iter().map(|l| groups.number(l)));
        table.behind(group);
        table.note(
            group,
            "One worker on one visit: the hours of a group fill its days or sessions.",
        );
        let who: Vec<_> = lines.iter().map(|l| (l.worker, l.moment)).collect();
        table.words("Worker", who.iter().map(|(w, _)| self.worker_words(*w)));
        let cells = self.paid_by_line(&mut table, inputs, hours, &who);
        table.words("From", lines.iter().map(|l| origin(l)));
        let rows = lines.iter().map(|l| WorkedRow {
            site: l.site,
            moment: l.moment,
            measures: &l.measures,
            worker: l.worker,
        });
        let rows = rows.collect();
        let what = "Work of nobody named";
        (WorkCells { hours, group }, Worked { what, cells, rows })
    }

    /// How much there is to do: what was counted, or the quantity of an extra as often as it comes.
    fn quantity_of_work(
        &self,
        table: &mut Table<'_>,
        inputs: &Inputs,
        lines: &[&LabourLine],
        visits: &Visits,
    ) -> ColRef {
        let found: Vec<_> = lines.iter().map(|l| self.each_time(inputs, l)).collect();
        let counted = lines
            .iter()
            .zip(&found)
            .map(|(l, e)| e.is_none().then_some(l.quantity));
        let counted = table.some("Counted", 2, counted);
        table.behind(counted);
        let share = found.iter().map(|e| e.map(|(_, share)| share));
        let share = table.some("Times the extra", 4, share);
        table.behind(share);
        let link = table.link(
            inputs.extras.block,
            found.iter().map(|e| e.map(|(row, _)| row)),
        );
        let extras = Term::Via(link, inputs.extras.quantity) * Term::Here(share);
        let visit = |l: &&&LabourLine| (l.site, l.moment);
        let as_often = lines
            .iter()
            .map(|l| Some(visits.times(self.comes_with(l)?, visit(&l))));
        let as_often: Option<Vec<Term>> = as_often.collect();
        match as_often.filter(|terms| !terms.is_empty()) {
            Some(terms) => {
                let often = table.rows("Times", Format::Number(0), terms);
                table.live("Quantity", 2, extras * Term::Here(often))
            }
            None => table.live("Quantity", 2, Term::Here(counted) + extras),
        }
    }
}

/// Hours a unit: the Labour sheet's where the task stands there, else what the program works out.
fn rate_column(table: &mut Table<'_>, inputs: &Inputs, lines: &[&LabourLine]) -> ColRef {
    let row = |l: &LabourLine| inputs.tasks.row(l.task?.index());
    let to_task = table.link(inputs.tasks.block, lines.iter().map(|l| row(l)));
    let own = |l: &LabourLine| row(l).is_none().then_some(l.rate);
    let own = table.some("Rate by the program", 4, lines.iter().map(|l| own(l)));
    let note = "Hours a unit that are computed: the barrow cycle, hours of an extra.";
    table.note(own, note);
    table.behind(own);
    let rate = Term::Via(to_task, inputs.tasks.price) + Term::Here(own);
    let rate = table.live("Hours a unit", 4, rate);
    table.note(rate, "From the Labour sheet: change it there.");
    rate
}

fn origin(line: &LabourLine) -> String {
    let words = if line.typical {
        "typical, change it to your own"
    } else {
        "yours"
    };
    words.to_owned()
}

/// The number of a row, from 1.
fn number(index: usize) -> Decimal {
    Decimal::from(row_u32(index).saturating_add(1))
}

/// Tasks whose hours decide what the program alone can redo: in what part a session or a day of some extra
/// belongs to a phase, and the first day of a crew that has nothing to do yet.
pub(super) fn rested_on(job: &Job, labour: &Labour) -> BTreeSet<TaskId> {
    let by_phase = |site: SiteId| {
        job.extras.iter().any(|extra| {
            let repeated = matches!(extra.per, Per::Day | Per::Session);
            repeated && extra.phase.is_some() && extra.site.is_none_or(|only| only == site)
        })
    };
    let phases = |site: SiteId| {
        let beds = job.beds.iter().filter(|b| b.site == site);
        beds.map(|b| b.phase).collect::<BTreeSet<_>>().len()
    };
    let is_paid = |line: &LabourLine| {
        let worker = line.worker.and_then(|id| job.workers.get(id.index()));
        worker.is_none_or(|w| w.pay == Pay::Paid)
    };
    let no_day = |line: &LabourLine| {
        let mut days = labour.days.iter();
        is_paid(line) && !days.any(|d| (d.site, d.moment) == (line.site, line.moment))
    };
    let lines = labour.lines.iter();
    let decide = lines.filter(|l| no_day(l) || (by_phase(l.site) && phases(l.site) > 1));
    decide.filter_map(|line| line.task).collect()
}
