//! Hours, days and hire as ledger blocks: person-hours x rate, set-up and travel, machines.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::inputs::{Inputs, row_u32};
use super::orders::{STANDS, STANDS_NOTE, moment_words};
use super::table::Table;
use crate::labour::{HireLine, LabourLine, LineKind, SiteDays};
use crate::model::job::SiteId;
use crate::model::labour::{Pay, WorkerId};
use crate::takeoff::Moment;

/// Cost and charge columns of a block whose rows are worked by somebody.
pub(super) struct HourCells {
    pub stands: ColRef,
    pub cost: ColRef,
    pub charge: ColRef,
}

/// The block of tasks, with what the days are worked out from.
pub(super) struct WorkCells {
    pub cells: HourCells,
    pub hours: ColRef,
    pub group: ColRef,
}

/// The columns that the price reads from hire.
pub(super) struct HireCost {
    pub stands: ColRef,
    pub cost: ColRef,
}

impl Setting<'_> {
    fn worker_words(&self, worker: Option<WorkerId>) -> String {
        let worker = worker.and_then(|w| self.job.workers.get(w.index()));
        worker.map_or_else(|| "nobody named".to_owned(), |w| w.name.to_string())
    }

    pub(super) fn site_words(&self, site: SiteId) -> String {
        let site = self.job.sites.get(site.index());
        site.map_or_else(String::new, |s| s.name.to_string())
    }

    /// Whether the hours of a line fill the days of the paid crew.
    fn fills_days(&self, line: &LabourLine) -> bool {
        let worker = line.worker.and_then(|w| self.job.workers.get(w.index()));
        line.kind == LineKind::Work && worker.is_none_or(|w| w.pay == Pay::Paid)
    }

    /// The lines of the Work block: all but set-up and travel, which the Days block works out live.
    pub(super) fn work_lines(&self) -> Vec<&LabourLine> {
        let lines = self.labour.lines.iter();
        lines.filter(|l| l.kind != LineKind::SetUp).collect()
    }

    /// The block of tasks on sites.
    pub(super) fn hours(&self, ledger: &mut Ledger, inputs: &Inputs) -> WorkCells {
        let lines = self.work_lines();
        let mut table = Table::new(ledger, "Hours", "Work", lines.len());
        table.words("Site", lines.iter().map(|l| self.site_words(l.site)));
        table.words(
            "When",
            lines.iter().map(|l| moment_words(l.moment).to_owned()),
        );
        table.words("Task", lines.iter().map(|l| l.name.to_string()));
        let quantity = self.quantity_of_work(&mut table, inputs, &lines);
        table.words("Unit", lines.iter().map(|l| l.unit.to_string()));
        let rate = rate_column(&mut table, inputs, &lines);
        let factor = table.fixed("Factor", 4, lines.iter().map(|l| l.multiplier));
        let why = lines.iter().map(|l| l.multiplier_words.clone());
        let why = table.words("Why that factor", why);
        table.last(why);
        let hours = Term::Here(quantity) * Term::Here(rate) * Term::Here(factor);
        let hours = table.live("Person-hours", 2, hours);
        let group = table.label("Day row", 0, lines.iter().map(|l| self.day_group(l)));
        table.behind(group);
        table.note(
            group,
            "Which row of Days these hours fill; 0 for volunteers and supervision.",
        );
        let who: Vec<_> = lines.iter().map(|l| (l.worker, l.moment)).collect();
        table.words("Worker", who.iter().map(|(w, _)| self.worker_words(*w)));
        let cells = self.paid_columns(&mut table, inputs, hours, &who);
        table.words("From", lines.iter().map(|l| origin(l)));
        WorkCells {
            cells,
            hours,
            group,
        }
    }

    /// How much there is to do: what was counted, or the quantity of an extra as often as it comes.
    fn quantity_of_work(
        &self,
        table: &mut Table<'_>,
        inputs: &Inputs,
        lines: &[&LabourLine],
    ) -> ColRef {
        let extra = |l: &LabourLine| {
            let index = self.job.extras.iter().position(|e| Some(e.at) == l.extra)?;
            let typed = inputs.extras.typed.get(index).filter(|t| !t.is_zero())?;
            Some((inputs.extras.row(index)?, l.quantity.checked_div(*typed)?))
        };
        let found: Vec<_> = lines.iter().map(|l| extra(l)).collect();
        let counted = lines
            .iter()
            .zip(&found)
            .map(|(l, e)| e.is_none().then_some(l.quantity));
        let counted = table.some("Counted", 2, counted);
        let times = table.some(
            "Times the extra",
            4,
            found.iter().map(|e| e.map(|(_, times)| times)),
        );
        table.behind(counted);
        table.behind(times);
        let link = table.link(
            inputs.extras.block,
            found.iter().map(|e| e.map(|(row, _)| row)),
        );
        let extras = Term::Via(link, inputs.extras.quantity) * Term::Here(times);
        table.live("Quantity", 2, Term::Here(counted) + extras)
    }

    fn day_group(&self, line: &LabourLine) -> Decimal {
        let is_its = |d: &SiteDays| d.site == line.site && d.moment == line.moment;
        match self.labour.days.iter().position(is_its) {
            Some(index) if self.fills_days(line) => number(index),
            _ => Decimal::ZERO,
        }
    }

    fn paid_columns(
        &self,
        table: &mut Table<'_>,
        inputs: &Inputs,
        hours: ColRef,
        who: &[(Option<WorkerId>, Moment)],
    ) -> HourCells {
        let workers = &inputs.workers;
        let row = |(worker, _): &(Option<WorkerId>, Moment)| workers.row((*worker)?.index());
        let to_worker = table.link(workers.block, who.iter().map(row));
        let an_hour = table.unit_price("Cost an hour", Term::Via(to_worker, workers.cost));
        let cost = table.money("Cost", Term::Here(hours) * Term::Here(an_hour));
        let charged = Term::Via(to_worker, workers.charge);
        let charge = table.money("Charge", Term::Here(hours) * charged);
        let note = "Hours at a charge rate: outside the base of overhead, contingency and profit.";
        table.note(charge, note);
        let stands = table.label(STANDS, 0, who.iter().map(|(_, m)| self.stands(*m)));
        table.note(stands, STANDS_NOTE);
        table.behind(stands);
        HourCells {
            stands,
            cost,
            charge,
        }
    }

    /// The block of crew days: set-up and travel.
    pub(super) fn days(&self, ledger: &mut Ledger, inputs: &Inputs, work: &WorkCells) -> HourCells {
        let days = &self.labour.days;
        let mut table = Table::new(ledger, "Hours", "Days, set-up and travel", days.len());
        table.words("Site", days.iter().map(|d| self.site_words(d.site)));
        table.words(
            "When",
            days.iter().map(|d| moment_words(d.moment).to_owned()),
        );
        let who: Vec<_> = days.iter().map(|d| (d.worker, d.moment)).collect();
        table.words("Worker", who.iter().map(|(w, _)| self.worker_words(*w)));
        let index = table.label("Day row", 0, (0..days.len()).map(number));
        table.behind(index);
        let of_group = Term::SumIf {
            key: work.group,
            is: Box::new(Term::Here(index)),
            col: work.hours,
        };
        let filled = table.live("Work", 2, Term::Round(Box::new(of_group), 9));
        let crew = days.iter().map(|d| self.crew(d, inputs));
        let crew = table.rows("Crew", Format::Number(0), crew);
        let site = |d: &SiteDays| inputs.sites.row(d.site.index());
        let to_site = table.link(inputs.sites.block, days.iter().map(site));
        let settings = &inputs.settings;
        let lost = settings.setup_hours.clone() + Term::Via(to_site, inputs.sites.travel);
        let lost = table.live("Set-up and travel a day", 2, lost);
        let a_day = Term::Here(crew) * (settings.hours_per_day.clone() - Term::Here(lost));
        let holds = table.live("A day holds", 2, a_day);
        let count = Term::WholeUp(Box::new(Term::Here(filled).ratio(Term::Here(holds))));
        let count = table.live("Days", 0, count);
        let overhead = Term::Here(count) * Term::Here(lost) * Term::Here(crew);
        let overhead = table.live("Person-hours", 2, overhead);
        self.paid_columns(&mut table, inputs, overhead, &who)
    }

    /// Crew of a row: the setting's cell where it is that number, else the number itself.
    fn crew(&self, days: &SiteDays, inputs: &Inputs) -> Term {
        if days.crew == self.job.settings.crew_size.value {
            inputs.settings.crew_size.clone()
        } else {
            Term::whole(i64::from(days.crew))
        }
    }

    /// The block of machines.
    pub(super) fn hire(&self, ledger: &mut Ledger, inputs: &Inputs) -> HireCost {
        let lines = &self.labour.hire;
        let mut table = Table::new(ledger, "Hours", "Hire", lines.len());
        table.words("Site", lines.iter().map(|l| self.site_words(l.site)));
        table.words("Step", lines.iter().map(|l| l.step_words.to_owned()));
        table.words("Item", lines.iter().map(|l| self.item_words(l)));
        table.label("Hours", 2, lines.iter().map(|l| l.hours.in_hours()));
        let steps = table.fixed("Steps", 0, lines.iter().map(|l| l.steps));
        let row = |l: &HireLine| inputs.hire.row(l.equipment);
        let to_item = table.link(inputs.hire.block, lines.iter().map(row));
        let rate = table.unit_price("Rate", Term::Via(to_item, inputs.hire.rate));
        let delivery = table.unit_price("Delivery", Term::Via(to_item, inputs.hire.delivery));
        let cost = Term::Here(steps) * Term::Here(rate) + Term::Here(delivery);
        let cost = table.money("Cost", cost);
        let stands = table.label(STANDS, 0, lines.iter().map(|_| Decimal::ONE));
        table.behind(stands);
        HireCost { stands, cost }
    }

    pub(super) fn item_words(&self, line: &HireLine) -> String {
        let item = self.job.equipment.get(line.equipment);
        item.map_or_else(String::new, |e| e.name.to_string())
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
