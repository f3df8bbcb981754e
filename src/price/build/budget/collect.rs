//! The budget read back from the evaluated ledger.

use super::super::super::budget::{Budget, BudgetLine, BudgetSum, FunderMoney, Matching};
use super::super::super::evaluate::Values;
use super::super::super::ledger::Ledger;
use super::super::Setting;
use super::lines::Line;
use super::sums::{ASKED, CASH, HOURS, KIND, SHORT};
use super::{BudgetCells, narrative};
use crate::model::funding::CLASSES;
use crate::units::{Decimal, Money};

impl Setting<'_> {
    /// The budget with its numbers; lines that come to nothing are left out.
    pub(in super::super) fn budget_of(
        &self,
        (ledger, values): (&Ledger, &Values),
        cells: &BudgetCells,
    ) -> Budget {
        let money = |col, row| Money::of(values.at(col, row));
        let funders = self.funders_of(values, cells);
        let mut lines: Vec<BudgetLine> = Vec::new();
        for (row, line) in cells.lines.iter().enumerate() {
            let mut own = BudgetLine {
                kind: line.kind,
                name: line.name.clone(),
                mark: line.class.mark,
                class: line.class.title,
                cost: money(cells.cells.cost, row),
                amount: money(cells.cells.amount, row),
                paid: cells
                    .cells
                    .pays
                    .iter()
                    .map(|p| money(p.amount, row))
                    .collect(),
                in_kind: money(cells.cells.given, row),
                unfunded: money(cells.cells.unfunded, row),
                narrative: String::new(),
            };
            if own.cost == Money::ZERO && own.in_kind == Money::ZERO {
                continue;
            }
            own.narrative = narrative::of(self, (ledger, values), line, &own, &funders);
            lines.push(own);
        }
        let place = |line: &BudgetLine| CLASSES.iter().position(|c| c.title == line.class);
        lines.sort_by_key(place);
        let sums = sums_of(values, cells);
        let last = sums.last();
        let sum = |of: fn(&BudgetLine) -> Money| lines.iter().map(of).sum::<Money>();
        Budget {
            form: self.job.settings.budgeting.form(),
            whole_units: self.job.funding.whole_units.value,
            matching: matching(values, cells),
            rounding: sum(|l| l.amount) - sum(|l| l.cost),
            total: last.map_or(Money::ZERO, |s| s.total),
            unfunded: last.map_or(Money::ZERO, |s| s.unfunded),
            funders,
            lines,
            sums,
        }
    }

    fn funders_of(&self, values: &Values, cells: &BudgetCells) -> Vec<FunderMoney> {
        let of = &cells.funders;
        let all = self.job.funding.funders.iter().enumerate();
        let funder = |(row, funder): (usize, &crate::model::funding::Funder)| {
            let money = |col| Money::of(values.at(col, row));
            let asks = funder.match_share.as_ref();
            FunderMoney {
                name: funder.name.clone(),
                counts_as: funder.counts_as.value,
                amount: funder.amount.as_ref().map(|a| Money::of(a.value)),
                direct: money(of.direct),
                base: money(of.base),
                rate: values.at(of.rate, row),
                indirect: money(of.indirect),
                total: money(of.total),
                asks: asks.map(|m| (m.value, funder.match_base.value, money(of.asked))),
                rules: funder.rules.words,
            }
        };
        all.map(funder).collect()
    }
}

fn sums_of(values: &Values, cells: &BudgetCells) -> Vec<BudgetSum> {
    let of = &cells.sums;
    let rows = of.rows.iter().enumerate();
    let sum = |(row, (mark, title)): (usize, &(&'static str, &'static str))| {
        let money = |col| Money::of(values.at(col, row));
        BudgetSum {
            mark,
            title,
            paid: of.funders.iter().map(|col| money(*col)).collect(),
            in_kind: money(of.given),
            unfunded: money(of.unfunded),
            total: money(of.total),
        }
    };
    // Classes that come to nothing are no rows of the form.
    rows.map(sum)
        .filter(|sum| sum.mark.is_empty() || sum.total != Money::ZERO)
        .collect()
}

fn matching(values: &Values, cells: &BudgetCells) -> Option<Matching> {
    let of = cells.matching.as_ref()?;
    let money = |row| Money::of(values.at(of.amount, row));
    let hours: Option<Decimal> = of.has_hours.then(|| values.at(of.amount, HOURS));
    Some(Matching {
        asked: money(ASKED),
        cash: money(CASH),
        in_kind: money(KIND),
        short: money(SHORT),
        short_hours: hours,
    })
}

/// A line's parts with numbers: quantity, rate and cost.
pub(super) struct Figures<'l> {
    pub(super) quantity: Option<Decimal>,
    pub(super) rate: Option<Decimal>,
    pub(super) times: Option<Decimal>,
    pub(super) unit: &'l str,
    pub(super) from: &'l str,
}

/// The parts of a line; parts with one unit, rate and source are one.
pub(super) fn figures<'l>(
    (ledger, values): (&Ledger, &Values),
    line: &'l Line,
) -> Vec<Figures<'l>> {
    let number = |at: super::super::super::term::CellRef| {
        let row = usize::try_from(at.row).unwrap_or(usize::MAX);
        match values.column(at.col) {
            Some(column) => column.get(row).copied().unwrap_or_default(),
            None => ledger
                .get(at.col)
                .and_then(|c| c.values.get(row))
                .map_or(Decimal::ZERO, super::super::super::ledger::Value::as_number),
        }
    };
    let mut all: Vec<Figures<'l>> = Vec::new();
    for part in &line.parts {
        let next = Figures {
            quantity: part.quantity.map(number),
            rate: part.rate.map(number),
            times: part.times.map(number),
            unit: &part.unit,
            from: &part.from,
        };
        let alike = all.iter_mut().find(|f| {
            (f.rate, f.unit, f.from) == (next.rate, next.unit, next.from)
                && f.quantity.is_some()
                && next.quantity.is_some()
        });
        match (alike, next.quantity) {
            (Some(same), Some(more)) => {
                same.quantity = same.quantity.map(|q| q.saturating_add(more));
            }
            _ => all.push(next),
        }
    }
    all.retain(|f| f.quantity.is_none_or(|q| !q.is_zero()));
    all
}
