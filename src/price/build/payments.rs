//! The stages in which the price is paid: shares of the total with tax, of which the last takes the cent.

use std::sync::Arc;

use super::super::estimate::{Due, Price};
use super::super::evaluate::Values;
use super::super::ledger::{Format, Ledger, Value};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::echo::Echo;
use super::inputs::Inputs;
use super::quote::{part_format, part_number};
use super::tail::Tail;
use crate::model::job::Job;
use crate::model::quote::{Part, Payment};
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::problem::Problem;
use crate::units::{Decimal, Money};

/// The `Payments` sheet in the estimate: the part that each stage is.
pub(super) struct PaymentCells {
    part: ColRef,
    rows: Vec<Option<usize>>,
}

/// The amounts of the stages.
pub(super) struct Stages {
    names: Vec<(Arc<str>, Option<Arc<str>>)>,
    amount: ColRef,
}

impl Stages {
    /// What is due at each stage.
    pub(super) fn due(&self, values: &Values) -> Vec<Due> {
        let stages = self.names.iter().enumerate();
        let due = stages.map(|(row, (stage, when))| Due {
            stage: Arc::clone(stage),
            when: when.clone(),
            amount: Money::of(values.at(self.amount, row)),
        });
        due.collect()
    }
}

/// The input sheet; `None` for a job without stages.
pub(super) fn inputs(ledger: &mut Ledger, job: &Job, sources: &Sources) -> Option<PaymentCells> {
    if job.payments.is_empty() {
        return None;
    }
    let mut echo = Echo::new(ledger, sources, Sheet::Payments, 0);
    let rows: Vec<Option<usize>> = job.payments.iter().map(|p| echo.row(p.at)).collect();
    let stages = job.payments.iter().zip(&rows);
    let number = |part: Part| (part != Part::Rest).then(|| part_number(part));
    let numbers: Vec<_> = stages
        .clone()
        .filter_map(|(stage, row)| Some(((*row)?, number(stage.part.value))))
        .collect();
    let titles = ("Share or amount", "Share or amount");
    let part = echo.given(ledger, titles, Format::Money, numbers);
    let mut formats = vec![Format::Money; ledger.rows(echo.block)];
    for (stage, row) in stages {
        if let Some(format) = row.and_then(|row| formats.get_mut(row)) {
            *format = part_format(&stage.part.value);
        }
    }
    if let Some(column) = ledger.column_mut(part) {
        column.row_formats = formats;
    }
    Some(PaymentCells { part, rows })
}

impl Setting<'_> {
    /// The block of stages.
    pub(super) fn payments(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        tail: &Tail,
    ) -> Option<Stages> {
        let cells = inputs.payments.as_ref()?;
        let stages = &self.job.payments;
        let block = ledger.block("Price", "What is due when", stages.len());
        let names = stages.iter().map(|p| Value::text(&p.stage));
        ledger.label(block, "Stage", names.collect());
        let when = |p: &Payment| p.when.as_deref().map_or(Value::Empty, Value::text);
        ledger.label(block, "When", stages.iter().map(when).collect());
        let amount = ColRef { block, column: 2 };
        let total = Term::Cell(tail.cell("total"));
        // One stage takes what the others leave: the rest where one is named, else the last.
        let is_rest = |p: &Payment| p.part.value == Part::Rest;
        let rest = stages.iter().position(is_rest);
        let rest = rest.unwrap_or(stages.len().saturating_sub(1));
        let own = |(row, stage): (usize, &Payment)| {
            let cell = cells.rows.get(row).copied().flatten();
            let part = cell.map_or(Term::whole(0), |row| Term::cell(cells.part, row));
            match stage.part.value {
                Part::Share(_) => (total.clone() * part).money(),
                Part::Sum(_) | Part::Rest => part.money(),
            }
        };
        let mut terms: Vec<Term> = stages.iter().enumerate().map(own).collect();
        let others = (0..stages.len()).filter(|row| *row != rest);
        let others = others.map(|row| Term::cell(amount, row));
        let left = others.fold(total.clone(), |left, other| left - other);
        if let Some(slot) = terms.get_mut(rest) {
            *slot = left.money();
        }
        // What takes the rest stands on the others, whichever row it is.
        let order = (0..stages.len()).filter(|row| *row != rest).chain([rest]);
        set_order(ledger, block, order);
        let role = super::super::ledger::Role::LiveRows(terms.into_iter().map(Some).collect());
        let amount = ledger.numbers(block, "Amount", Format::Money, role, Vec::new());
        ledger.note(
            amount,
            "Of the price with tax. One stage takes what the others leave, to the cent.",
        );
        let names = stages
            .iter()
            .map(|p| (Arc::clone(&p.stage), p.when.clone()));
        Some(Stages {
            names: names.collect(),
            amount,
        })
    }
}

fn set_order(ledger: &mut Ledger, block: u16, order: impl Iterator<Item = usize>) {
    if let Some(block) = ledger.blocks.get_mut(usize::from(block)) {
        block.order = order.map(super::inputs::row_u32).collect();
    }
}

/// What is wrong with the stages for this price: one that takes less than nothing, or a last one that says
/// something else than what is left. A price that leaves something out is no price to hold them against.
pub(super) fn messages(job: &Job, price: &Price) -> Vec<Problem> {
    if !price.missing.is_empty() || !job.left_out.is_empty() {
        return Vec::new();
    }
    let hint = "let the stages come to the price, or write rest for the last one";
    let mut stages = job.payments.iter().zip(&price.payments);
    let short = stages.clone().filter(|(_, due)| due.amount < Money::ZERO);
    let mut told: Vec<Problem> = short
        .map(|(stage, _)| {
            let sentence = format!(
                "the stages beside {} come to more than the price",
                stage.stage
            );
            let problem = Problem::error(sentence).hint(hint);
            problem.at(stage.at, "Share or amount")
        })
        .collect();
    let cents = Decimal::from(job.payments.len()) * job.settings.currency.value.smallest();
    if let Some((stage, due)) = stages.next_back().filter(|_| told.is_empty()) {
        let said = match stage.part.value {
            Part::Share(share) => price.total.amount().saturating_mul(share),
            Part::Sum(sum) => sum,
            Part::Rest => due.amount.amount(),
        };
        let has_rest = job.payments.iter().any(|p| p.part.value == Part::Rest);
        if !has_rest && (due.amount.amount() - said).abs() > cents {
            let sentence = format!(
                "the stages do not come to the price: {} would have to be {}",
                stage.stage,
                due.amount.amount()
            );
            let problem = Problem::error(sentence).hint(hint);
            told.push(problem.at(stage.at, "Share or amount"));
        }
    }
    told
}
