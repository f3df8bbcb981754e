//! Extras as ledger columns: times x quantity x rate, sorted into costs, allowances and pass-through.

use rust_decimal::Decimal;

use super::super::evaluate::Values;
use super::super::ledger::{Format, Ledger, Rank, Role, Value};
use super::super::term::{ColRef, Term};
use super::Setting;
use super::hours::Visits;
use super::inputs::Inputs;
use crate::model::labour::{Extra, ExtraKind, Per};
use crate::model::settings::TaxMode;
use crate::units::Money;

/// Where an extra stands in the price.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stand {
    /// Not priced: an exclusion.
    Nowhere = 0,
    /// A cost with overhead and profit.
    Cost = 1,
    /// An allowance.
    Allowance = 2,
    /// Passed on at cost.
    PassThrough = 3,
}

impl Stand {
    /// Of an extra: a cost that is not marked up is passed on as it is.
    pub(super) fn of(extra: &Extra) -> Self {
        match extra.kind {
            ExtraKind::Exclusion => Self::Nowhere,
            ExtraKind::PassThrough => Self::PassThrough,
            _ if !extra.marked_up => Self::PassThrough,
            ExtraKind::Allowance => Self::Allowance,
            ExtraKind::Cost => Self::Cost,
        }
    }

    /// The number that stands for it in the sheet.
    pub(super) fn number(self) -> i64 {
        match self {
            Self::Nowhere => 0,
            Self::Cost => 1,
            Self::Allowance => 2,
            Self::PassThrough => 3,
        }
    }
}

/// The columns that the price reads from the extras.
pub(super) struct ExtraLines {
    pub stands: ColRef,
    pub times: ColRef,
    pub cost: ColRef,
    pub tax: ColRef,
    /// Row of each extra.
    pub rows: Vec<Option<usize>>,
}

impl ExtraLines {
    /// What each extra costs with the tax paid on it, in the job's order.
    pub(super) fn costs(&self, values: &Values) -> Vec<Money> {
        let cost = |row: usize| {
            values
                .at(self.cost, row)
                .saturating_add(values.at(self.tax, row))
        };
        let rows = self.rows.iter();
        rows.map(|row| row.map_or(Money::ZERO, |row| Money::of(cost(row))))
            .collect()
    }
}

impl Setting<'_> {
    /// Computed columns at the right of the `Extras` sheet.
    pub(super) fn extras(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        visits: &Visits,
    ) -> ExtraLines {
        let block = inputs.extras.block;
        let rows = ledger.rows(block);
        let mut times = vec![Value::Empty; rows];
        let mut stands = vec![Value::Empty; rows];
        let mut taxed = vec![Value::Empty; rows];
        let mut often = vec![None; rows];
        let paid = self.job.settings.tax_mode.value == TaxMode::OnPurchases;
        for (index, extra) in self.job.extras.iter().enumerate() {
            let Some(row) = row_of(inputs, index) else {
                continue;
            };
            let count = self.counted_apart(extra, index, inputs);
            if let Some(slot) = often.get_mut(row) {
                *slot = self.as_often(extra, visits);
            }
            let slots = [
                (&mut times, count),
                (&mut stands, Decimal::from(Stand::of(extra).number())),
                (&mut taxed, Decimal::from(u8::from(paid && extra.taxable))),
            ];
            for (column, number) in slots {
                if let Some(value) = column.get_mut(row) {
                    *value = Value::number(number);
                }
            }
        }
        let times = times_column(ledger, block, times, often);
        let stands = ledger.numbers(block, "Stands as", Format::Number(0), Role::Label, stands);
        ledger.note(
            stands,
            "1: cost; 2: allowance; 3: passed on at cost; 0: not included.",
        );
        let taxed = ledger.numbers(block, "Taxed", Format::Number(0), Role::Label, taxed);
        for column in [stands, taxed] {
            if let Some(column) = ledger.column_mut(column) {
                column.rank = Rank::Behind;
            }
        }
        let each = Term::Here(inputs.extras.quantity) * Term::Here(inputs.extras.rate);
        let cost = ledger.live(
            block,
            "Cost",
            Format::Money,
            (Term::Here(times) * each).money(),
        );
        let tax = Term::Here(cost) * Term::Here(taxed) * inputs.settings.tax.clone();
        let tax = ledger.live(block, "Tax paid", Format::Money, tax.money());
        ExtraLines {
            stands,
            times,
            cost,
            tax,
            rows: (0..self.job.extras.len())
                .map(|index| row_of(inputs, index))
                .collect(),
        }
    }

    /// How often an extra comes by what the program counts: all but sessions and crew days.
    fn counted_apart(&self, extra: &Extra, index: usize, inputs: &Inputs) -> Decimal {
        if matches!(extra.per, Per::Session | Per::Day) {
            return Decimal::ZERO;
        }
        let each = self.extra_times(extra).into_iter().map(|(_, n)| n);
        let times = each.fold(Decimal::ZERO, Decimal::saturating_add);
        let factor = inputs.extras.factors.get(index).copied();
        times.saturating_mul(factor.unwrap_or(Decimal::ONE))
    }

    /// How often it comes by sessions or crew days, which follow the hours live; `None` for other extras.
    fn as_often(&self, extra: &Extra, visits: &Visits) -> Option<Term> {
        if !matches!(extra.per, Per::Session | Per::Day) {
            return None;
        }
        let shares = self.extra_shares(extra).into_iter();
        Some(Term::add_all(shares.map(|(site, moment, share)| {
            let times = visits.times(extra.per, (site, moment));
            if share == Decimal::ONE {
                times
            } else {
                times * Term::Number(share)
            }
        })))
    }
}

/// The row of an extra in its block.
fn row_of(inputs: &Inputs, index: usize) -> Option<usize> {
    let row = inputs.extras.row(index)?;
    usize::try_from(row).ok()
}

/// The column of how often extras come. `often` holds what sessions and days count live, by row.
fn times_column(
    ledger: &mut Ledger,
    block: u16,
    counted: Vec<Value>,
    often: Vec<Option<Term>>,
) -> ColRef {
    let note = "How often it comes: beds, area, sites, visits, days or sessions of this job.";
    let format = Format::Number(3);
    let times = if often.iter().all(Option::is_none) {
        ledger.numbers(block, "Times", format, Role::Label, counted)
    } else {
        let counted = ledger.numbers(block, "Times counted", format, Role::Label, counted);
        let role = Role::LiveRows(often);
        let often = ledger.numbers(block, "Times by hours", format, role, Vec::new());
        for column in [counted, often] {
            if let Some(column) = ledger.column_mut(column) {
                column.rank = Rank::Behind;
            }
        }
        let both = Term::Here(counted) + Term::Here(often);
        ledger.live(block, "Times", format, both)
    };
    ledger.note(times, note);
    times
}
