//! Machines as a ledger block: hours that they work or stand by, started steps of hire, and their cost.

use super::super::super::ledger::{Format, Ledger};
use super::super::super::term::{ColRef, Term};
use super::super::Setting;
use super::super::inputs::Inputs;
use super::super::orders::STANDS;
use super::super::table::Table;
use super::WorkCells;
use super::repeated::Visits;
use crate::labour::hire::{HALF_DAY, WEEK_DAYS};
use crate::labour::{HireLine, LabourLine, hire};
use crate::model::labour::HireStep;
use crate::takeoff::Moment;
use crate::units::Decimal;

/// The columns that the price reads from hire.
pub(in super::super) struct HireCost {
    pub stands: ColRef,
    pub steps: ColRef,
    pub rate: ColRef,
    pub cost: ColRef,
}

impl Setting<'_> {
    /// The block of machines; `lines` are those of `work`.
    pub(super) fn hire(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (lines, work): (&[&LabourLine], &WorkCells),
        visits: &Visits,
    ) -> HireCost {
        let hired = &self.labour.hire;
        let mut table = Table::new(ledger, "Hours", "Hire", hired.len());
        table.words("Site", hired.iter().map(|l| self.site_words(l.site)));
        table.words("Step", hired.iter().map(|l| l.step_words.to_owned()));
        table.words("Item", hired.iter().map(|l| self.item_words(l)));
        let hours = hired.iter().map(|hire| {
            let runs = self.operates(hire, lines);
            let stay = || visits.stay_of((hire.site, Moment::Build));
            let stands_by = || inputs.settings.hours_per_day.clone() * stay();
            runs.map_or_else(stands_by, |row| Term::cell(work.hours, row))
        });
        let hours = table.rows("Hours", Format::Number(2), hours);
        let steps = hired
            .iter()
            .map(|hire| self.steps(hire, inputs, Term::Here(hours)));
        let steps = table.rows("Steps", Format::Number(0), steps);
        let row = |l: &HireLine| inputs.hire.row(l.equipment);
        let to_item = table.link(inputs.hire.block, hired.iter().map(row));
        let rate = table.unit_price("Rate", Term::Via(to_item, inputs.hire.rate));
        let delivery = table.unit_price("Delivery", Term::Via(to_item, inputs.hire.delivery));
        let cost = Term::Here(steps) * Term::Here(rate) + Term::Here(delivery);
        let cost = table.money("Cost", cost);
        let stands = table.label(STANDS, 0, hired.iter().map(|_| Decimal::ONE));
        table.behind(stands);
        HireCost {
            stands,
            steps,
            rate,
            cost,
        }
    }

    /// The row of the operator, for as long as whom the machine runs.
    fn operates(&self, hire: &HireLine, lines: &[&LabourLine]) -> Option<usize> {
        let machine = self.job.equipment.get(hire.equipment)?;
        let name = hire::operator_name(machine);
        lines.iter().position(|line| {
            let is_its = line.task.is_none() && line.extra.is_none() && *line.name == name;
            is_its && line.site == hire.site && line.moment == Moment::Build
        })
    }

    /// Started steps of hire.
    fn steps(&self, line: &HireLine, inputs: &Inputs, hours: Term) -> Term {
        let started = |length: Term| Term::WholeUp(Box::new(hours.ratio(length)));
        let day = inputs.settings.hours_per_day.clone();
        let machine = self.job.equipment.get(line.equipment);
        match machine.map_or(HireStep::Job, |machine| machine.step) {
            HireStep::Hour => started(Term::whole(1)),
            HireStep::HalfDay => started(Term::Number(HALF_DAY)),
            HireStep::Day => started(day),
            HireStep::Week => started(day * Term::Number(WEEK_DAYS)),
            HireStep::Job => Term::whole(1),
        }
    }

    pub(in super::super) fn item_words(&self, line: &HireLine) -> String {
        let item = self.job.equipment.get(line.equipment);
        item.map_or_else(String::new, |e| e.name.to_string())
    }
}
