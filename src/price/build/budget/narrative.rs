//! The sentence that a form asks for beside each amount: quantity, unit, rate, what it is for, who pays.

use super::super::super::budget::{BudgetLine, FunderMoney};
use super::super::super::evaluate::Values;
use super::super::super::ledger::Ledger;
use super::super::Setting;
use super::collect::{Figures, figures};
use super::lines::Line;
use crate::model::funding::LineKind;
use crate::model::material::Category;
use crate::units::show::{grouped, grouped_plain, packs};
use crate::units::{Decimal, Money};

/// The narrative of one line; amounts in it are those of the budget.
pub(super) fn of(
    setting: &Setting<'_>,
    numbers: (&Ledger, &Values),
    line: &Line,
    own: &BudgetLine,
    funders: &[FunderMoney],
) -> String {
    let currency = setting.job.settings.currency.value;
    let show = |money: Money| {
        if setting.job.funding.whole_units.value {
            grouped_plain(money.amount(), 0)
        } else {
            currency.show(money)
        }
    };
    let mut parts = figures(numbers, line);
    if let [only] = parts.as_mut_slice() {
        only.rate = only
            .rate
            .or_else(|| even_rate(only.quantity?, own.cost, currency.minor));
    }
    let parts: Vec<String> = parts.iter().map(|f| part(setting, f)).collect();
    let parts: Vec<String> = parts.into_iter().filter(|p| !p.is_empty()).collect();
    let worked = if parts.is_empty() {
        String::new()
    } else {
        format!(": {}", parts.join("; "))
    };
    let worth = if line.kind.is_in_kind() {
        own.in_kind
    } else {
        own.amount
    };
    let mut text = format!(
        "{}{worked} = {}. {}",
        line.name,
        show(worth),
        purpose(setting, line)
    );
    let paid = funders.iter().zip(&own.paid);
    let mut shares: Vec<String> = paid
        .filter(|(_, money)| **money != Money::ZERO)
        .map(|(funder, money)| format!("{} {}", funder.name, show(*money)))
        .collect();
    if own.in_kind != Money::ZERO {
        shares.push(format!("in-kind match {}", show(own.in_kind)));
    }
    if own.unfunded != Money::ZERO {
        shares.push(format!("not funded yet {}", show(own.unfunded)));
    }
    text.push_str(" Paid by: ");
    text.push_str(&shares.join(", "));
    text.push('.');
    text
}

fn part(setting: &Setting<'_>, figures: &Figures<'_>) -> String {
    let currency = setting.job.settings.currency.value;
    let mut words = Vec::new();
    let is_told = !figures.unit.is_empty() || figures.rate.is_some_and(|r| !r.is_zero());
    let is_counted = |q: &Decimal| is_told || *q != Decimal::ONE;
    if let Some(quantity) = figures.quantity.filter(is_counted) {
        words.push(packs(quantity, figures.unit).trim().to_owned());
    }
    if figures.quantity.is_none() && !figures.unit.is_empty() {
        words.push(figures.unit.to_owned());
    }
    if let Some(rate) = figures.rate.filter(|r| !r.is_zero()) {
        let places = currency.minor.max(rate.normalize().scale().min(4));
        words.push(format!("at {}", grouped(rate, places)));
    }
    if let Some(times) = figures.times.filter(|t| *t != Decimal::ONE) {
        words.push(format!("x {}", grouped_plain(times, 2)));
    }
    if !figures.from.is_empty() {
        words.push(format!("({})", figures.from));
    }
    words.join(" ")
}

/// Cost for one, where that is a sum of money that can be paid.
fn even_rate(quantity: Decimal, cost: Money, minor: u32) -> Option<Decimal> {
    let rate = cost.amount().checked_div(quantity)?.normalize();
    (rate.scale() <= minor).then_some(rate)
}

/// What it is for, in a sentence.
fn purpose(setting: &Setting<'_>, line: &Line) -> String {
    let beds = setting.kinds.kinds.iter().map(|k| k.count);
    let beds = beds.fold(Decimal::ZERO, Decimal::saturating_add);
    let beds = match beds.normalize().to_string().as_str() {
        "1" => "1 raised bed".to_owned(),
        n => format!("{n} raised beds"),
    };
    match line.kind {
        LineKind::Wages => format!("Builds and fills {beds}."),
        LineKind::Fringe => "Payroll taxes, insurance and benefits on these wages.".to_owned(),
        LineKind::Charged => format!("Builds and fills {beds}, at the contractor's rate."),
        LineKind::Goods | LineKind::Donated => goods(setting, &line.name, &beds),
        LineKind::Tax => "Sales tax on purchases that is not given back.".to_owned(),
        LineKind::Delivery => "Brings the materials to the site.".to_owned(),
        LineKind::Hire => "Hired for the work on the site.".to_owned(),
        LineKind::Extra => extra(setting, &line.name),
        LineKind::Allowance => "A sum set aside; its quote is to come.".to_owned(),
        LineKind::Contingency => "For costs that cannot be foreseen.".to_owned(),
        LineKind::Volunteers => {
            format!("Volunteers build and fill {beds}; hours by sign-in sheets.")
        }
    }
}

fn extra(setting: &Setting<'_>, name: &str) -> String {
    let hours = setting
        .job
        .extras
        .iter()
        .any(|e| *e.item == *name && e.hours.is_some());
    if hours {
        "Needed for the work; its hours stand under wages.".to_owned()
    } else {
        "Needed for the work.".to_owned()
    }
}

fn goods(setting: &Setting<'_>, name: &str, beds: &str) -> String {
    let material = setting.job.materials.iter().find(|m| *m.name == *name);
    let Some(material) = material else {
        return format!("For {beds}.");
    };
    match material.category {
        Category::Soil
        | Category::Compost
        | Category::Wood
        | Category::Litter
        | Category::Medium => format!("Fills {beds}."),
        Category::Amendment => format!("Feeds the soil of {beds}."),
        Category::Lumber
        | Category::Block
        | Category::Stone
        | Category::Panel
        | Category::Bar
        | Category::Trim
        | Category::Fastener
        | Category::Finish => {
            format!("For the walls of {beds}.")
        }
        Category::Sheet | Category::Liner | Category::Mesh => {
            format!("Protects {beds} from below and along the walls.")
        }
        Category::Tube | Category::Fitting => format!("Waters {beds}."),
        Category::ReadyMade => format!("Comes ready-made for {beds}."),
        Category::Mulch | Category::Aggregate | Category::Other => {
            format!("For {beds} and the ground around them.")
        }
    }
}
