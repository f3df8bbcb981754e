//! What hours cost: by the worker of each line, or by whoever a formula finds.

use super::super::super::ledger::Format;
use super::super::super::term::{ColRef, Cond, Term};
use super::super::Setting;
use super::super::inputs::Inputs;
use super::super::orders::{STANDS, STANDS_NOTE};
use super::super::table::Table;
use super::{HourCells, is_paid};
use crate::model::labour::WorkerId;
use crate::takeoff::Moment;

const CHARGE_NOTE: &str =
    "Hours at a charge rate: outside the base of overhead, contingency and profit.";

/// What one hour costs, and what is charged for it.
#[derive(Clone)]
pub(super) struct Wage {
    cost: Term,
    charge: Term,
    /// Pay without burden; 0 where no budget asks for it.
    bare: Term,
}

impl Wage {
    /// Of the worker on a row of Workers; nothing without one.
    pub(super) fn of(inputs: &Inputs, row: Option<u32>) -> Self {
        let row = row.and_then(|r| usize::try_from(r).ok());
        let cell = |col| row.map_or(Term::whole(0), |row| Term::cell(col, row));
        Self {
            cost: cell(inputs.workers.cost),
            charge: cell(inputs.workers.charge),
            bare: inputs.workers.wage.map_or(Term::whole(0), cell),
        }
    }

    /// Of whoever has the most hours; the first of equals.
    pub(super) fn of_most(all: Vec<(Term, Self)>) -> Self {
        let best = all.into_iter().reduce(|(most, best), (hours, wage)| {
            let more = Cond::Greater(hours.clone(), most.clone());
            let pick = |yes, no| Term::If(Box::new(more.clone()), Box::new(yes), Box::new(no));
            let best = Self {
                cost: pick(wage.cost, best.cost),
                charge: pick(wage.charge, best.charge),
                bare: pick(wage.bare, best.bare),
            };
            (most.max(hours), best)
        });
        best.map_or_else(
            || Self {
                cost: Term::whole(0),
                charge: Term::whole(0),
                bare: Term::whole(0),
            },
            |(_, wage)| wage,
        )
    }
}

impl Setting<'_> {
    /// Cost and charge of hours that the worker of each line does.
    pub(super) fn paid_by_line(
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
        let paid = who.iter().map(|(worker, _)| is_paid(self, *worker));
        let paid = paid_hours(table, hours, paid);
        let wages = workers.wage.map(|wage| {
            let wages = Term::Here(hours) * Term::Via(to_worker, wage);
            let rows = std::iter::repeat_n(wages.money(), who.len());
            bare(table, rows)
        });
        let moments = who.iter().map(|(_, moment)| *moment);
        self.standing(table, (cost, charge, paid, wages), moments)
    }

    /// Cost and charge of hours with a wage of its own in each row.
    pub(super) fn paid_by_row(
        &self,
        table: &mut Table<'_>,
        hours: ColRef,
        wages: Vec<Wage>,
        moments: impl Iterator<Item = Moment>,
    ) -> HourCells {
        let rows = wages.len();
        let bares: Vec<Term> = wages.iter().map(|w| w.bare.clone()).collect();
        let (costs, wages): (Vec<Term>, Vec<Term>) =
            wages.into_iter().map(|w| (w.cost, w.charge)).unzip();
        let an_hour = table.rows("Cost an hour", Format::UnitPrice, costs);
        let cost = table.money("Cost", Term::Here(hours) * Term::Here(an_hour));
        let charged = wages
            .into_iter()
            .map(|charge| (Term::Here(hours) * charge).money());
        let charge = table.rows("Charge", Format::Money, charged);
        let paid = paid_hours(table, hours, std::iter::repeat_n(true, rows));
        let wages = (!self.job.funding.is_empty()).then(|| {
            let each = bares.into_iter().map(|w| (Term::Here(hours) * w).money());
            bare(table, each)
        });
        self.standing(table, (cost, charge, paid, wages), moments)
    }

    fn standing(
        &self,
        table: &mut Table<'_>,
        (cost, charge, paid, wages): (ColRef, ColRef, ColRef, Option<ColRef>),
        moments: impl Iterator<Item = Moment>,
    ) -> HourCells {
        table.note(charge, CHARGE_NOTE);
        let stands = table.label(STANDS, 0, moments.map(|m| self.stands(m)));
        table.note(stands, STANDS_NOTE);
        table.behind(stands);
        HourCells {
            stands,
            cost,
            charge,
            paid,
            wages,
        }
    }
}

/// Pay without burden, for the budget.
fn bare(table: &mut Table<'_>, wages: impl IntoIterator<Item = Term>) -> ColRef {
    let wages = table.rows("Of it wages", Format::Money, wages);
    table.behind(wages);
    wages
}

/// The hours again where somebody is paid for them.
fn paid_hours(table: &mut Table<'_>, hours: ColRef, paid: impl Iterator<Item = bool>) -> ColRef {
    let share = |paid: bool| Term::Here(hours) * Term::whole(i64::from(paid));
    let paid = table.rows("Paid hours", Format::Number(2), paid.map(share));
    table.behind(paid);
    paid
}
