//! From direct cost to the price: overhead, contingency, profit, pass-through, minimum, rounding, tax.
//!
//! Longer than most because the price is one run of lines, each of which rests on those above it.

use std::sync::Arc;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{CellRef, ColRef, Term};
use super::Setting;
use super::extras::{ExtraLines, Stand};
use super::hours::{HireCost, HourCells, Worked};
use super::inputs::{Inputs, row_u32};
use super::orders::{OrderCells, TripCells};
use super::settings::tax_mode_words;
use crate::model::settings::{ProfitAs, TaxMode, TopUp};

/// One line of the price before it has an amount.
pub(super) struct TailLine {
    pub key: &'static str,
    pub label: Arc<str>,
    pub words: String,
    pub is_total: bool,
}

/// The price block.
pub(super) struct Tail {
    pub lines: Vec<TailLine>,
    pub base: ColRef,
    /// The same with the top-up, when it is offered.
    pub with_top_up: Option<ColRef>,
}

/// Everything that costs, by column.
pub(super) struct Costs<'a> {
    pub orders: OrderCells,
    pub trips: TripCells,
    pub hours: Vec<Worked<'a>>,
    pub hire: HireCost,
    pub extras: ExtraLines,
}

impl Costs<'_> {
    /// The sum of one column over all blocks of hours.
    fn standing_hours(&self, of: impl Fn(&HourCells) -> ColRef, column: Column) -> Term {
        let blocks = self.hours.iter().map(|worked| &worked.cells);
        Term::add_all(blocks.map(|cells| standing(cells.stands, of(cells), column)))
    }
}

/// Which column of the price a line is computed for.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Base,
    WithTopUp,
}

impl Tail {
    /// The cell of a line.
    pub(super) fn cell(&self, key: &str) -> CellRef {
        CellRef {
            col: self.base,
            row: row_u32(self.row(key)),
        }
    }

    fn row(&self, key: &str) -> usize {
        self.lines.iter().position(|l| l.key == key).unwrap_or(0)
    }
}

/// Collects lines with their terms, and knows which row each key got.
struct Lines {
    rows: Vec<TailLine>,
    terms: Vec<Term>,
    at: ColRef,
}

impl Lines {
    fn add(
        &mut self,
        key: &'static str,
        label: &str,
        words: impl Into<String>,
        term: Term,
    ) -> Term {
        self.push(key, label, words.into(), term, false)
    }

    fn total(
        &mut self,
        key: &'static str,
        label: &str,
        words: impl Into<String>,
        term: Term,
    ) -> Term {
        self.push(key, label, words.into(), term, true)
    }

    fn push(
        &mut self,
        key: &'static str,
        label: &str,
        words: String,
        term: Term,
        is_total: bool,
    ) -> Term {
        self.rows.push(TailLine {
            key,
            label: label.into(),
            words,
            is_total,
        });
        self.terms.push(term);
        Term::cell(self.at, self.rows.len() - 1)
    }
}

impl Setting<'_> {
    /// The price block, with a second column for the price with the top-up when that is offered.
    pub(super) fn tail(&self, ledger: &mut Ledger, inputs: &Inputs, costs: &Costs<'_>) -> Tail {
        let offered = self.job.settings.top_up.value == TopUp::Offered && self.has_top_up();
        let rows = self
            .tail_lines(
                inputs,
                costs,
                ColRef {
                    block: 0,
                    column: 0,
                },
                Column::Base,
            )
            .rows
            .len();
        let block = ledger.block("Price", "From cost to price", rows);
        let column = |n: u16| ColRef { block, column: n };
        let base = self.tail_lines(inputs, costs, column(2), Column::Base);
        let labels = base
            .rows
            .iter()
            .map(|l| Value::Text(l.label.clone()))
            .collect();
        ledger.label(block, "Line", labels);
        ledger.label(
            block,
            "Worked out from",
            base.rows.iter().map(|l| Value::text(&l.words)).collect(),
        );
        let amounts = |terms: Vec<Term>| Role::LiveRows(terms.into_iter().map(Some).collect());
        let at = ledger.numbers(
            block,
            "Amount",
            Format::Money,
            amounts(base.terms),
            Vec::new(),
        );
        let with_top_up = offered.then(|| {
            let lines = self.tail_lines(inputs, costs, column(3), Column::WithTopUp);
            ledger.numbers(
                block,
                "With the top-up",
                Format::Money,
                amounts(lines.terms),
                Vec::new(),
            )
        });
        Tail {
            lines: base.rows,
            base: at,
            with_top_up,
        }
    }

    fn tail_lines(&self, inputs: &Inputs, costs: &Costs<'_>, at: ColRef, column: Column) -> Lines {
        let mut lines = Lines {
            rows: Vec::new(),
            terms: Vec::new(),
            at,
        };
        let direct = self.direct_lines(&mut lines, costs, column);
        let marked_up = self.markup_lines(&mut lines, inputs, &direct);
        let before_rounding = Self::outside_lines(&mut lines, costs, column, marked_up);
        self.price_lines(&mut lines, inputs, costs, &direct, before_rounding, column);
        lines
    }

    fn direct_lines(&self, lines: &mut Lines, costs: &Costs<'_>, column: Column) -> Term {
        let extra = |stand: Stand, col| Term::total_if(costs.extras.stands, stand.number(), col);
        let materials = lines.add(
            "materials",
            "Materials",
            "sum of order lines",
            standing(costs.orders.stands, costs.orders.cost, column),
        );
        let tax = standing(costs.orders.stands, costs.orders.tax, column)
            + extra(Stand::Cost, costs.extras.tax)
            + extra(Stand::Allowance, costs.extras.tax);
        let tax = lines.add(
            "tax_paid",
            "Tax paid on purchases",
            self.tax_paid_words(),
            tax.money(),
        );
        let delivery = lines.add(
            "delivery",
            "Delivery",
            "sum of trips and site fees",
            standing(costs.trips.stands, costs.trips.cost, column),
        );
        let hours = costs.standing_hours(|cells| cells.cost, column);
        let labour = lines.add(
            "labour",
            "Labour",
            "person-hours x cost an hour, with set-up and travel",
            hours.money(),
        );
        let equipment = lines.add(
            "equipment",
            "Equipment hire",
            "steps of hire x rate, and delivery",
            standing(costs.hire.stands, costs.hire.cost, column),
        );
        let other = lines.add(
            "other",
            "Other costs",
            "extras that are costs",
            extra(Stand::Cost, costs.extras.cost),
        );
        let allowances = lines.add(
            "allowances",
            "Allowances",
            "extras that are allowances",
            extra(Stand::Allowance, costs.extras.cost),
        );
        let sum = Term::add_all([
            materials, tax, delivery, labour, equipment, other, allowances,
        ]);
        lines.total(
            "direct_cost",
            "Direct cost",
            "sum of the lines above",
            sum.money(),
        )
    }

    fn tax_paid_words(&self) -> &'static str {
        if self.job.settings.tax_mode.value == TaxMode::OnPurchases {
            "tax rate x taxable purchases"
        } else {
            "none: tax is not paid on purchases here"
        }
    }

    fn markup_lines(&self, lines: &mut Lines, inputs: &Inputs, direct: &Term) -> Term {
        let s = &inputs.settings;
        let of_direct = |rate: &Term| (direct.clone() * rate.clone()).money();
        let overhead = lines.add(
            "overhead",
            "Overhead",
            "Overhead % x direct cost",
            of_direct(&s.overhead),
        );
        let contingency = lines.add(
            "contingency",
            "Contingency",
            "Contingency % x direct cost",
            of_direct(&s.contingency),
        );
        let base = Term::add_all([direct.clone(), overhead, contingency]);
        let (words, profit) = match self.job.settings.profit_as.value {
            ProfitAs::Markup => (
                "Profit % x (direct cost + overhead + contingency): a markup",
                base.clone() * s.profit.clone(),
            ),
            ProfitAs::Margin => {
                let share = s.profit.clone().ratio(Term::whole(1) - s.profit.clone());
                (
                    "Profit % of the price: (direct cost + overhead + contingency) x p / (1 - p)",
                    base.clone() * share,
                )
            }
        };
        let profit = lines.add("profit", "Profit", words, profit.money());
        lines.total(
            "marked_up",
            "Cost with profit",
            "direct cost + overhead + contingency + profit",
            (base + profit).money(),
        )
    }

    fn outside_lines(
        lines: &mut Lines,
        costs: &Costs<'_>,
        column: Column,
        marked_up: Term,
    ) -> Term {
        let charged = costs.standing_hours(|cells| cells.charge, column);
        let charged = lines.add(
            "labour_charged",
            "Labour at charge rates",
            "person-hours x charge rate; outside all bases",
            charged.money(),
        );
        let passed = Term::total_if(
            costs.extras.stands,
            Stand::PassThrough.number(),
            costs.extras.cost,
        ) + Term::total_if(
            costs.extras.stands,
            Stand::PassThrough.number(),
            costs.extras.tax,
        );
        let passed = lines.add(
            "pass_through",
            "Passed on at cost",
            "extras passed through; outside all bases",
            passed.money(),
        );
        let sum = Term::add_all([marked_up, charged, passed]);
        lines.total(
            "before_rounding",
            "Before minimum and rounding",
            "cost with profit + labour at charge rates + passed on",
            sum.money(),
        )
    }

    fn price_lines(
        &self,
        lines: &mut Lines,
        inputs: &Inputs,
        costs: &Costs<'_>,
        direct: &Term,
        sum: Term,
        column: Column,
    ) {
        let s = &inputs.settings;
        let least = (s.minimum_charge.clone() - sum.clone())
            .max(Term::whole(0))
            .money();
        let least = lines.add(
            "minimum",
            "Up to the minimum charge",
            "minimum charge less the line above, when it is more",
            least,
        );
        let raw = (sum + least).money();
        let stepped = Term::StepUp(Box::new(raw.clone()), Box::new(s.round_to.clone()));
        let rounding = lines.add(
            "rounding",
            "Rounding",
            "up to a multiple of \"Round price to\"",
            (stepped - raw.clone()).money(),
        );
        let before_tax = lines.total(
            "before_tax",
            "Price before tax",
            "with minimum charge and rounding",
            (raw + rounding).money(),
        );
        let base = self.tax_base(lines, costs, direct, &before_tax, column);
        let words = format!(
            "tax mode: {}",
            tax_mode_words(self.job.settings.tax_mode.value)
        );
        let tax = lines.add(
            "tax",
            "Sales tax added",
            words,
            (base * s.tax.clone()).money(),
        );
        lines.total(
            "total",
            "Price",
            "price before tax + sales tax added",
            (before_tax + tax).money(),
        );
    }

    /// What sales tax is added on: nothing, the whole price, or the part of it that the taxed lines bear.
    fn tax_base(
        &self,
        lines: &Lines,
        costs: &Costs<'_>,
        direct: &Term,
        before_tax: &Term,
        column: Column,
    ) -> Term {
        let cell = |key: &str| {
            Term::cell(
                lines.at,
                lines.rows.iter().position(|l| l.key == key).unwrap_or(0),
            )
        };
        let share_of_price = |part: Term| {
            let whole =
                Term::add_all([direct.clone(), cell("labour_charged"), cell("pass_through")]);
            (before_tax.clone() * part).ratio(whole).money()
        };
        match self.job.settings.tax_mode.value {
            TaxMode::None | TaxMode::OnPurchases => Term::whole(0),
            TaxMode::OnPrice => before_tax.clone(),
            TaxMode::OnMaterials => {
                share_of_price(standing(costs.orders.stands, costs.orders.cost, column))
            }
            TaxMode::OnCategories => share_of_price(Term::add_all(
                super::taxed::CATEGORIES
                    .iter()
                    .filter(|(_, category)| super::taxed::is_taxed(self.job, category))
                    .map(|(key, _)| cell(key)),
            )),
        }
    }
}

/// The sum of `col` over the lines that stand in the price, or in the price with the top-up.
fn standing(stands: ColRef, col: ColRef, column: Column) -> Term {
    let base = Term::total_if(stands, 1, col);
    match column {
        Column::Base => base,
        Column::WithTopUp => (base + Term::total_if(stands, 2, col)).money(),
    }
}
