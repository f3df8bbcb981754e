//! The budget of a job that grants pay for, in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::Estimate;
use crate::price::budget::{Budget, BudgetLine, BudgetSum, FunderMoney, Matching};
use crate::units::{Currency, Decimal, Money};

/// A budget: who pays for what, under the classes of a form. All money is in the job's currency.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BudgetJson {
    /// `object classes` or `construction`.
    pub form: String,
    /// Whether each line is rounded to whole units of the currency.
    pub whole_units: bool,
    /// Who pays, in the order in which they pay.
    pub funders: Vec<FunderJson>,
    /// Lines with an amount, in the order of the form.
    pub lines: Vec<BudgetLineJson>,
    /// Sums by class, then direct cost, indirect cost and the total.
    pub by_class: Vec<BudgetSumJson>,
    /// The match, when a funder asks for one.
    pub matching: Option<MatchingJson>,
    /// What rounding each line adds to the cost.
    pub rounding: Number,
    /// What nobody pays.
    pub not_funded: Number,
    /// Everything: funders, match in kind, and what nobody pays.
    pub total: Number,
}

/// What a funder pays.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FunderJson {
    /// Who.
    pub funder: String,
    /// `award`, `cash match` or `in-kind match`.
    pub counts_as: String,
    /// The most that it pays.
    pub amount: Option<Number>,
    /// Direct cost that it pays.
    pub direct: Number,
    /// What of that is in the base of indirect cost.
    pub indirect_base: Number,
    /// Rate of indirect cost, as a fraction.
    pub indirect_rate: Number,
    /// Indirect cost that it pays.
    pub indirect: Number,
    /// Both.
    pub total: Number,
    /// Share that it asks for as match, as a fraction.
    pub match_share: Option<Number>,
    /// `total project` or `award`.
    pub match_base: Option<String>,
    /// Match that it asks for.
    pub match_asked: Option<Number>,
    /// The rules of its award.
    pub rules: String,
}

/// One line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BudgetLineJson {
    /// Letter or number of its class on the form.
    pub mark: String,
    /// Its class.
    pub class: String,
    /// What it is.
    pub name: String,
    /// Where it comes from: `wages`, `materials`, `volunteers`.
    pub kind: String,
    /// What it costs before it is rounded to the units of the budget.
    pub cost: Number,
    /// The amount of the budget.
    pub amount: Number,
    /// What each funder pays of it, in the order of `funders`.
    pub paid: Vec<Number>,
    /// Value of what is given.
    pub in_kind: Number,
    /// What nobody pays.
    pub not_funded: Number,
    /// Quantity, unit, rate and purpose, as text for a form.
    pub narrative: String,
    /// Its length in characters.
    pub narrative_characters: usize,
}

/// One row of the form.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BudgetSumJson {
    /// Letter or number on the form; empty for sums.
    pub mark: String,
    /// Its title.
    pub class: String,
    /// What each funder pays, in the order of `funders`.
    pub paid: Vec<Number>,
    /// Match in kind.
    pub in_kind: Number,
    /// What nobody pays.
    pub not_funded: Number,
    /// All of it.
    pub total: Number,
}

/// Match that is asked for, and what there is of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MatchingJson {
    /// What all funders ask for together.
    pub asked: Number,
    /// What there is in cash.
    pub cash: Number,
    /// What there is in kind.
    pub in_kind: Number,
    /// What is lacking.
    pub short: Number,
    /// The same in hours of volunteers at their stated value.
    pub short_hours: Option<Number>,
}

/// The budget, when there is one.
pub(super) fn budget(estimate: &Estimate) -> Option<BudgetJson> {
    let currency = estimate.job.settings.currency.value;
    estimate.price.budget.as_ref().map(|b| of(b, currency))
}

fn of(budget: &Budget, currency: Currency) -> BudgetJson {
    let money = |m: Money| Number::money(m, currency);
    BudgetJson {
        form: budget.form.word().to_owned(),
        whole_units: budget.whole_units,
        funders: budget.funders.iter().map(|f| funder(f, currency)).collect(),
        lines: budget.lines.iter().map(|l| line(l, currency)).collect(),
        by_class: budget.sums.iter().map(|s| sum(s, currency)).collect(),
        matching: budget.matching.as_ref().map(|m| matching(m, currency)),
        rounding: money(budget.rounding),
        not_funded: money(budget.unfunded),
        total: money(budget.total),
    }
}

fn number(number: Decimal) -> Number {
    Number::of(number.normalize())
}

fn funder(funder: &FunderMoney, currency: Currency) -> FunderJson {
    let money = |m: Money| Number::money(m, currency);
    FunderJson {
        funder: funder.name.to_string(),
        counts_as: funder.counts_as.word().to_owned(),
        amount: funder.amount.map(money),
        direct: money(funder.direct),
        indirect_base: money(funder.base),
        indirect_rate: number(funder.rate),
        indirect: money(funder.indirect),
        total: money(funder.total),
        match_share: funder.asks.map(|(share, _, _)| number(share)),
        match_base: funder.asks.map(|(_, base, _)| base.word().to_owned()),
        match_asked: funder.asks.map(|(_, _, asked)| money(asked)),
        rules: funder.rules.to_owned(),
    }
}

fn line(line: &BudgetLine, currency: Currency) -> BudgetLineJson {
    let money = |m: Money| Number::money(m, currency);
    BudgetLineJson {
        mark: line.mark.to_owned(),
        class: line.class.to_owned(),
        name: line.name.to_string(),
        kind: line.kind.word().to_owned(),
        cost: money(line.cost),
        amount: money(line.amount),
        paid: line.paid.iter().map(|m| money(*m)).collect(),
        in_kind: money(line.in_kind),
        not_funded: money(line.unfunded),
        narrative_characters: line.narrative.chars().count(),
        narrative: line.narrative.clone(),
    }
}

fn sum(sum: &BudgetSum, currency: Currency) -> BudgetSumJson {
    let money = |m: Money| Number::money(m, currency);
    BudgetSumJson {
        mark: sum.mark.to_owned(),
        class: sum.title.to_owned(),
        paid: sum.paid.iter().map(|m| money(*m)).collect(),
        in_kind: money(sum.in_kind),
        not_funded: money(sum.unfunded),
        total: money(sum.total),
    }
}

fn matching(matching: &Matching, currency: Currency) -> MatchingJson {
    let money = |m: Money| Number::money(m, currency);
    MatchingJson {
        asked: money(matching.asked),
        cash: money(matching.cash),
        in_kind: money(matching.in_kind),
        short: money(matching.short),
        short_hours: matching.short_hours.map(number),
    }
}
