//! Hours, days and hire as ledger blocks: person-hours x rate, set-up and travel, machines.

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::inputs::{Inputs, row_u32};
use super::orders::moment_words;
use crate::labour::{LabourLine, LineKind, SiteDays};
use crate::model::labour::{Pay, WorkerId};

/// Cost and charge columns of a block whose rows are worked by somebody.
pub(super) struct HourCells {
    pub stands: ColRef,
    pub cost: ColRef,
    pub charge: ColRef,
}

/// The columns that the price reads from hire.
pub(super) struct HireLines {
    pub stands: ColRef,
    pub cost: ColRef,
}

fn words(values: impl Iterator<Item = String>) -> Vec<Value> {
    values.map(|v| Value::text(&v)).collect()
}

fn numbers(values: impl Iterator<Item = Decimal>) -> Vec<Value> {
    values.map(Value::number).collect()
}

impl Setting<'_> {
    pub(super) fn worker_words(&self, worker: Option<WorkerId>) -> String {
        worker
            .and_then(|w| self.job.workers.get(w.index()))
            .map_or_else(|| "nobody named".to_owned(), |w| w.name.to_string())
    }

    pub(super) fn site_words(&self, site: crate::model::job::SiteId) -> String {
        self.job
            .sites
            .get(site.index())
            .map_or_else(String::new, |s| s.name.to_string())
    }

    /// Whether the hours of a line fill the days of the paid crew.
    pub(super) fn fills_days(&self, line: &LabourLine) -> bool {
        let worker = line.worker.and_then(|w| self.job.workers.get(w.index()));
        line.kind == LineKind::Work && worker.is_none_or(|w| w.pay == Pay::Paid)
    }

    /// The lines of the Work block: all but set-up and travel, which the Days block works out live.
    pub(super) fn work_lines(&self) -> Vec<&LabourLine> {
        self.labour
            .lines
            .iter()
            .filter(|l| l.kind != LineKind::SetUp)
            .collect()
    }

    /// The block of tasks on sites.
    pub(super) fn hours(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
    ) -> (HourCells, ColRef, ColRef) {
        let lines = self.work_lines();
        let block = ledger.block("Hours", "Work", lines.len());
        ledger.label(
            block,
            "Site",
            words(lines.iter().map(|l| self.site_words(l.site))),
        );
        ledger.label(
            block,
            "When",
            words(lines.iter().map(|l| moment_words(l.moment).to_owned())),
        );
        ledger.label(
            block,
            "Task",
            words(lines.iter().map(|l| l.name.to_string())),
        );
        let quantity = ledger.numbers(
            block,
            "Quantity",
            Format::Number(3),
            Role::Fixed,
            numbers(lines.iter().map(|l| l.quantity)),
        );
        ledger.label(
            block,
            "Unit",
            words(lines.iter().map(|l| l.unit.to_string())),
        );
        let tasks = lines.iter().map(|l| {
            l.task
                .and_then(|t| inputs.tasks.rows.get(t.index()).copied().flatten())
        });
        let to_task = ledger.link(block, inputs.tasks.block, tasks.clone().collect());
        let own = lines.iter().zip(tasks).map(|(l, row)| {
            if row.is_some() {
                Value::Empty
            } else {
                Value::number(l.rate)
            }
        });
        let own = ledger.numbers(
            block,
            "Rate by the program",
            Format::Number(4),
            Role::Fixed,
            own.collect(),
        );
        ledger.note(
            own,
            "Hours a unit that are computed: the barrow cycle, hours of an extra.",
        );
        let rate = ledger.live(
            block,
            "Hours a unit",
            Format::Number(4),
            Term::Via(to_task, inputs.tasks.price) + Term::Here(own),
        );
        ledger.note(rate, "From the Labour sheet: change it there.");
        let factor = ledger.numbers(
            block,
            "Factor",
            Format::Number(4),
            Role::Fixed,
            numbers(lines.iter().map(|l| l.multiplier)),
        );
        ledger.label(
            block,
            "Why",
            words(lines.iter().map(|l| l.multiplier_words.clone())),
        );
        let hours = ledger.live(
            block,
            "Person-hours",
            Format::Number(2),
            Term::Here(quantity) * Term::Here(rate) * Term::Here(factor),
        );
        let group = ledger.numbers(
            block,
            "Day group",
            Format::Number(0),
            Role::Label,
            numbers(lines.iter().map(|l| self.day_group(l))),
        );
        ledger.note(
            group,
            "Which row of Days these hours fill; 0 for volunteers.",
        );
        let cells = self.paid_columns(
            ledger,
            inputs,
            block,
            hours,
            lines.iter().map(|l| l.worker).collect(),
            lines.iter().map(|l| l.moment).collect(),
        );
        let from = lines.iter().map(|l| {
            if l.typical {
                "typical, change it to your own".to_owned()
            } else {
                "yours".to_owned()
            }
        });
        ledger.label(block, "From", words(from));
        (cells, hours, group)
    }

    fn day_group(&self, line: &LabourLine) -> Decimal {
        let found = self
            .labour
            .days
            .iter()
            .position(|d| d.site == line.site && d.moment == line.moment);
        match found {
            Some(index) if self.fills_days(line) => Decimal::from(row_u32(index).saturating_add(1)),
            _ => Decimal::ZERO,
        }
    }

    fn paid_columns(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        block: u16,
        hours: ColRef,
        workers: Vec<Option<WorkerId>>,
        moments: Vec<crate::takeoff::Moment>,
    ) -> HourCells {
        ledger.label(
            block,
            "Worker",
            words(workers.iter().map(|w| self.worker_words(*w))),
        );
        let rows = workers
            .iter()
            .map(|w| w.and_then(|w| inputs.workers.rows.get(w.index()).copied().flatten()));
        let to_worker = ledger.link(block, inputs.workers.block, rows.collect());
        let an_hour = ledger.live(
            block,
            "Cost an hour",
            Format::UnitPrice,
            Term::Via(to_worker, inputs.workers.cost),
        );
        let cost = ledger.live(
            block,
            "Cost",
            Format::Money,
            (Term::Here(hours) * Term::Here(an_hour)).money(),
        );
        let charged = Term::Via(to_worker, inputs.workers.charge);
        let charge = ledger.live(
            block,
            "Charge",
            Format::Money,
            (Term::Here(hours) * charged).money(),
        );
        ledger.note(
            charge,
            "Hours at a charge rate: outside the base of overhead, contingency and profit.",
        );
        let stands = ledger.numbers(
            block,
            "In price",
            Format::Number(0),
            Role::Label,
            numbers(moments.iter().map(|m| self.stands(*m))),
        );
        HourCells {
            stands,
            cost,
            charge,
        }
    }

    /// The block of crew days: set-up and travel.
    pub(super) fn days(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        hours: ColRef,
        group: ColRef,
    ) -> HourCells {
        let days = &self.labour.days;
        let block = ledger.block("Hours", "Days, set-up and travel", days.len());
        ledger.label(
            block,
            "Site",
            words(days.iter().map(|d| self.site_words(d.site))),
        );
        ledger.label(
            block,
            "When",
            words(days.iter().map(|d| moment_words(d.moment).to_owned())),
        );
        let index = (1..=days.len()).map(|n| Decimal::from(row_u32(n)));
        let index = ledger.numbers(
            block,
            "Day group",
            Format::Number(0),
            Role::Label,
            numbers(index),
        );
        let in_group = Term::SumIf {
            key: group,
            is: Box::new(Term::Here(index)),
            col: hours,
        };
        let work = ledger.live(
            block,
            "Work",
            Format::Number(2),
            Term::Round(Box::new(in_group), 9),
        );
        let crew = ledger.numbers(
            block,
            "Crew",
            Format::Number(0),
            Role::LiveRows(self.crews(inputs)),
            Vec::new(),
        );
        let sites = days
            .iter()
            .map(|d| inputs.sites.rows.get(d.site.index()).copied().flatten());
        let to_site = ledger.link(block, inputs.sites.block, sites.collect());
        let lost = inputs.settings.setup_hours.clone() + Term::Via(to_site, inputs.sites.travel);
        let lost = ledger.live(block, "Set-up and travel a day", Format::Number(2), lost);
        let a_day = Term::Here(crew) * (inputs.settings.hours_per_day.clone() - Term::Here(lost));
        let holds = ledger.live(block, "A day holds", Format::Number(2), a_day);
        let count = Term::WholeUp(Box::new(Term::Here(work).ratio(Term::Here(holds))));
        let count = ledger.live(block, "Days", Format::Number(0), count);
        let overhead = Term::Here(count) * Term::Here(lost) * Term::Here(crew);
        let overhead = ledger.live(block, "Person-hours", Format::Number(2), overhead);
        let workers = days.iter().map(|d| d.worker).collect();
        self.paid_columns(
            ledger,
            inputs,
            block,
            overhead,
            workers,
            days.iter().map(|d| d.moment).collect(),
        )
    }

    /// Crew of each row: the setting's cell where it is that number, else the number itself.
    fn crews(&self, inputs: &Inputs) -> Vec<Option<Term>> {
        let setting = self.job.settings.crew_size.value;
        let crew = |d: &SiteDays| {
            if d.crew == setting {
                inputs.settings.crew_size.clone()
            } else {
                Term::whole(i64::from(d.crew))
            }
        };
        self.labour.days.iter().map(|d| Some(crew(d))).collect()
    }

    /// The block of machines.
    pub(super) fn hire(&self, ledger: &mut Ledger, inputs: &Inputs) -> HireLines {
        let lines = &self.labour.hire;
        let block = ledger.block("Hours", "Hire", lines.len());
        ledger.label(
            block,
            "Site",
            words(lines.iter().map(|l| self.site_words(l.site))),
        );
        let item = |index: usize| {
            self.job
                .equipment
                .get(index)
                .map_or_else(String::new, |e| e.name.to_string())
        };
        ledger.label(
            block,
            "Item",
            words(lines.iter().map(|l| item(l.equipment))),
        );
        ledger.numbers(
            block,
            "Hours",
            Format::Number(2),
            Role::Label,
            numbers(lines.iter().map(|l| l.hours.in_hours())),
        );
        let steps = ledger.numbers(
            block,
            "Steps",
            Format::Number(0),
            Role::Fixed,
            numbers(lines.iter().map(|l| l.steps)),
        );
        ledger.label(
            block,
            "Step",
            words(lines.iter().map(|l| l.step_words.to_owned())),
        );
        let rows = lines
            .iter()
            .map(|l| inputs.hire.rows.get(l.equipment).copied().flatten());
        let to_item = ledger.link(block, inputs.hire.block, rows.collect());
        let rate = ledger.live(
            block,
            "Rate",
            Format::Money,
            Term::Via(to_item, inputs.hire.rate),
        );
        let delivery = ledger.live(
            block,
            "Delivery",
            Format::Money,
            Term::Via(to_item, inputs.hire.delivery),
        );
        let cost = (Term::Here(steps) * Term::Here(rate) + Term::Here(delivery)).money();
        let cost = ledger.live(block, "Cost", Format::Money, cost);
        let stands = ledger.numbers(
            block,
            "In price",
            Format::Number(0),
            Role::Label,
            numbers(lines.iter().map(|_| Decimal::ONE)),
        );
        HireLines { stands, cost }
    }
}
