//! From direct cost to the price: overhead, contingency, profit, pass-through, minimum, rounding, tax.
//!
//! Longer than most because the price is one run of lines, each of which rests on those above it.

use std::sync::Arc;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{CellRef, ColRef, Cond, Term};
use super::Setting;
use super::extras::{ExtraLines, Stand};
use super::hours::{HireCost, HourCells, Worked};
use super::inputs::{Inputs, row_u32};
use super::orders::{OrderCells, TripCells};
use super::settings::tax_mode_words;
use crate::model::quote::{Marked, Part, Rounding};
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

    /// Paid person-hours over all blocks of hours.
    fn paid_hours(&self, column: Column) -> Term {
        let moments: &[i64] = match column {
            Column::Base => &[1],
            Column::WithTopUp => &[1, 2],
        };
        let blocks = self.hours.iter().map(|worked| &worked.cells);
        let sums = blocks.flat_map(|cells| {
            moments.iter().map(|stands| Term::SumIf {
                key: cells.stands,
                is: Box::new(Term::whole(*stands)),
                col: cells.paid,
            })
        });
        Term::Round(Box::new(Term::add_all(sums)), 9)
    }

    /// Paid person-hours of the price.
    pub(super) fn hours_in_price(&self) -> Term {
        self.paid_hours(Column::Base)
    }
}

/// Key, label and words of the line for a category's own markup.
const fn markup_words(category: Marked) -> (&'static str, &'static str, &'static str) {
    match category {
        Marked::Materials => (
            "markup_materials",
            "Markup on materials",
            "Materials markup % x materials",
        ),
        Marked::Delivery => (
            "markup_delivery",
            "Markup on delivery",
            "Delivery markup % x delivery",
        ),
        Marked::Labour => (
            "markup_labour",
            "Markup on labour",
            "Labour markup % x labour",
        ),
        Marked::Equipment => (
            "markup_equipment",
            "Markup on equipment",
            "Equipment markup % x equipment hire",
        ),
        Marked::Other => (
            "markup_other",
            "Markup on other costs",
            "Other markup % x other costs",
        ),
        Marked::Allowances => (
            "markup_allowances",
            "Markup on allowances",
            "Allowances markup % x allowances",
        ),
    }
}

/// A sum at its step, the sum itself when the step is nothing.
fn rounded(sum: &Term, step: &Term, way: Rounding) -> Term {
    let (sum, step) = (sum.clone(), step.clone());
    let up = Term::StepUp(Box::new(sum.clone()), Box::new(step.clone()));
    let has_step = Cond::Greater(step.clone(), Term::whole(0));
    let of = |stepped: Term| Term::If(Box::new(has_step), Box::new(stepped), Box::new(sum.clone()));
    match way {
        Rounding::Up => up,
        Rounding::Down => {
            let is_there = Cond::Equal(up.clone(), sum.clone());
            let below = up - step;
            of(Term::If(
                Box::new(is_there),
                Box::new(sum.clone()),
                Box::new(below),
            ))
        }
        Rounding::Nearest => {
            let steps = Term::Round(Box::new(sum.clone().ratio(step.clone())), 0);
            of(steps * step)
        }
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

    /// Whether the price has such a line.
    pub(super) fn has(&self, key: &str) -> bool {
        self.lines.iter().any(|l| l.key == key)
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
    /// The cell of a line above.
    fn cell(&self, key: &str) -> Term {
        let row = self.rows.iter().position(|l| l.key == key);
        Term::cell(self.at, row.unwrap_or(0))
    }

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
        let marked_up = self.markup_lines(&mut lines, inputs, (costs, column), &direct);
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

    fn markup_lines(
        &self,
        lines: &mut Lines,
        inputs: &Inputs,
        (costs, column): (&Costs<'_>, Column),
        direct: &Term,
    ) -> Term {
        let s = &inputs.settings;
        let of_direct = |rate: &Term| (direct.clone() * rate.clone()).money();
        let mut put_on = vec![lines.add(
            "overhead",
            "Overhead",
            "Overhead % x direct cost",
            of_direct(&s.overhead),
        )];
        if let Some(rate) = &s.overhead_per_hour {
            let by_hour = rate.clone() * costs.paid_hours(column);
            let words = "Overhead per hour x paid person-hours";
            put_on.push(lines.add(
                "overhead_hours",
                "Overhead by the hour",
                words,
                by_hour.money(),
            ));
        }
        put_on.push(lines.add(
            "contingency",
            "Contingency",
            "Contingency % x direct cost",
            of_direct(&s.contingency),
        ));
        let base = Term::add_all(std::iter::once(direct.clone()).chain(put_on));
        let own = Self::category_lines(lines, inputs);
        let apart = own.iter().map(|(cost, _)| cost.clone());
        let rest = apart.fold(base.clone(), |base, cost| base - cost);
        let but = if own.is_empty() {
            ""
        } else {
            " but categories with a markup of their own"
        };
        let (words, profit) = match self.job.settings.profit_as.value {
            ProfitAs::Markup => (
                format!("Profit % x (direct cost + overhead + contingency{but}): a markup"),
                rest * s.profit.clone(),
            ),
            ProfitAs::Margin => {
                let share = s.profit.clone().ratio(Term::whole(1) - s.profit.clone());
                (
                    format!(
                        "Profit % of the price: (direct cost + overhead + contingency{but}) x p / (1 - p)"
                    ),
                    rest * share,
                )
            }
        };
        let profit = lines.add("profit", "Profit", words, profit.money());
        let markups = own.into_iter().map(|(_, markup)| markup);
        let sum = Term::add_all([base, profit].into_iter().chain(markups));
        lines.total(
            "marked_up",
            "Cost with profit",
            "direct cost and the lines below it",
            sum.money(),
        )
    }

    /// Lines of markups of single categories: the cost of each, and what is put on it.
    fn category_lines(lines: &mut Lines, inputs: &Inputs) -> Vec<(Term, Term)> {
        let markups = &inputs.settings.markups;
        let line = |(category, markup): &(Marked, Term)| {
            let cost = lines.cell(category.line());
            let (key, label, words) = markup_words(*category);
            let markup = (cost.clone() * markup.clone()).money();
            (cost, lines.add(key, label, words, markup))
        };
        markups.iter().map(line).collect()
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
        let way = self.job.settings.quote.rounds();
        let stepped = rounded(&raw, &s.round_to, way);
        let rounding = lines.add(
            "rounding",
            "Rounding",
            match way {
                Rounding::Up => "up to a multiple of \"Round price to\"",
                Rounding::Nearest => "to the nearest multiple of \"Round price to\"",
                Rounding::Down => "down to a multiple of \"Round price to\"",
            },
            (stepped - raw.clone()).money(),
        );
        let before_tax = self.discounted(lines, inputs, raw + rounding);
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

    /// The price before tax, with the discount taken off as a line of its own when there is one.
    fn discounted(&self, lines: &mut Lines, inputs: &Inputs, full: Term) -> Term {
        let quote = &self.job.settings.quote;
        let (Some(cell), Some(discount)) = (&inputs.settings.discount, &quote.discount) else {
            let words = "with minimum charge and rounding";
            return lines.total("before_tax", "Price before tax", words, full.money());
        };
        let words = "with minimum charge and rounding";
        let full = lines.total(
            "before_discount",
            "Price before discount",
            words,
            full.money(),
        );
        let off = match discount.value {
            Part::Share(_) => (full.clone() * cell.clone()).money(),
            Part::Sum(_) | Part::Rest => cell.clone().money(),
        };
        let off = Term::whole(0) - Term::Min(Box::new(off), Box::new(full.clone()));
        let reason = quote.discount_for.as_ref();
        let words = reason.map_or_else(|| "Discount".to_owned(), |r| format!("Discount: {r}"));
        let off = lines.add("discount", "Discount", words, off);
        let words = "with the discount taken off";
        lines.total(
            "before_tax",
            "Price before tax",
            words,
            (full + off).money(),
        )
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
        let cell = |key: &str| lines.cell(key);
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
