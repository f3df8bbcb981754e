//! The budget of a job that grants pay for, as the outputs show it.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::funding::{CountsAs, Form, LineKind, MatchBase};
use crate::units::Money;

/// A budget with its numbers.
#[derive(Clone, Debug)]
pub struct Budget {
    /// The form whose classes it has.
    pub form: Form,
    /// Whether each line is rounded to whole units of the currency.
    pub whole_units: bool,
    /// Who pays, in the order in which they pay.
    pub funders: Vec<FunderMoney>,
    /// Lines with an amount, in the order of the form.
    pub lines: Vec<BudgetLine>,
    /// Sums by class, then direct cost, indirect cost and the total.
    pub sums: Vec<BudgetSum>,
    /// The match, when a funder asks for one.
    pub matching: Option<Matching>,
    /// What rounding each line adds to the cost.
    pub rounding: Money,
    /// Everything: funders, match in kind, and what nobody pays.
    pub total: Money,
    /// What nobody pays.
    pub unfunded: Money,
}

/// What a funder pays.
#[derive(Clone, Debug)]
pub struct FunderMoney {
    /// Who.
    pub name: Arc<str>,
    /// As what it counts.
    pub counts_as: CountsAs,
    /// The most that it pays, when that is limited.
    pub amount: Option<Money>,
    /// Direct cost that it pays.
    pub direct: Money,
    /// What of that is in the base of indirect cost.
    pub base: Money,
    /// Rate of indirect cost, as a fraction.
    pub rate: Decimal,
    /// Indirect cost that it pays.
    pub indirect: Money,
    /// Both.
    pub total: Money,
    /// Match that it asks for: the share, what it is a share of, and the sum.
    pub asks: Option<(Decimal, MatchBase, Money)>,
    /// The rules of its award, in words.
    pub rules: &'static str,
}

/// One line.
#[derive(Clone, Debug)]
pub struct BudgetLine {
    /// Where it comes from.
    pub kind: LineKind,
    /// What it is.
    pub name: Arc<str>,
    /// Letter or number of its class.
    pub mark: &'static str,
    /// Title of its class.
    pub class: &'static str,
    /// What it costs, before it is rounded to the units of the budget.
    pub cost: Money,
    /// The amount of the budget; nothing for what is given.
    pub amount: Money,
    /// What each funder pays of it, in the order of [`Budget::funders`].
    pub paid: Vec<Money>,
    /// Value of what is given.
    pub in_kind: Money,
    /// What nobody pays.
    pub unfunded: Money,
    /// Quantity, unit, rate and purpose, as text for a form.
    pub narrative: String,
}

/// One row of the form.
#[derive(Clone, Debug)]
pub struct BudgetSum {
    /// Letter or number on the form; empty for sums.
    pub mark: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What each funder pays, in the order of [`Budget::funders`].
    pub paid: Vec<Money>,
    /// Match in kind.
    pub in_kind: Money,
    /// What nobody pays.
    pub unfunded: Money,
    /// All of it.
    pub total: Money,
}

/// Match that is asked for, and what there is of it.
#[derive(Clone, Debug)]
pub struct Matching {
    /// What all funders ask for together.
    pub asked: Money,
    /// What there is in cash.
    pub cash: Money,
    /// What there is in kind.
    pub in_kind: Money,
    /// What is lacking.
    pub short: Money,
    /// The same in hours of volunteers, at their stated value; `None` without one.
    pub short_hours: Option<Decimal>,
}
