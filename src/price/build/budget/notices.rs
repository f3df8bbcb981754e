//! What is to be said of a budget: match that is short, lines that a funder may not pay, what to ask.

use super::super::super::budget::{Budget, BudgetLine};
use crate::model::funding::{CountsAs, Funder, LineKind};
use crate::model::job::Job;
use crate::model::labour::Pay;
use crate::model::library::Library;
use crate::model::settings::TaxMode;
use crate::problem::Problem;
use crate::units::Money;

/// Cautions and notices about a budget.
pub(in super::super) fn messages(job: &Job, budget: &Budget, library: &Library) -> Vec<Problem> {
    let mut told = Vec::new();
    told.extend(short_match(job, budget));
    told.extend(unfunded(job, budget));
    told.extend(no_date(job));
    told.extend(budget.lines.iter().filter_map(|line| of_line(job, line)));
    told.extend(exempt(job, budget));
    told.extend(tax_on_price(job));
    told.extend(without_value(job));
    told.extend(many_quotes(job, budget, library));
    told
}

fn first(job: &Job) -> Option<&Funder> {
    job.funding.funders.first()
}

fn show(job: &Job, money: Money) -> String {
    job.settings.currency.value.show(money)
}

fn short_match(job: &Job, budget: &Budget) -> Option<Problem> {
    let matching = budget.matching.as_ref()?;
    if matching.short == Money::ZERO {
        return None;
    }
    let asking = job
        .funding
        .funders
        .iter()
        .find(|f| f.match_share.is_some())?;
    let there = matching.cash + matching.in_kind;
    let hours = matching.short_hours.map_or_else(String::new, |hours| {
        format!(
            ", or {} hours of volunteers at their stated value",
            hours.normalize()
        )
    });
    let said = format!(
        "match of {} is asked for and {} is there: {} is lacking{hours}",
        show(job, matching.asked),
        show(job, there),
        show(job, matching.short)
    );
    let hint = "ask the funder what counts as match, and of what the share is";
    Some(Problem::caution(said).at(asking.at, "Match %").hint(hint))
}

fn unfunded(job: &Job, budget: &Budget) -> Option<Problem> {
    if budget.unfunded == Money::ZERO {
        return None;
    }
    let names: Vec<&str> = budget
        .lines
        .iter()
        .filter(|l| l.unfunded != Money::ZERO)
        .map(|l| &*l.name)
        .collect();
    let (some, more) = names.split_at(names.len().min(3));
    let more = if more.is_empty() {
        String::new()
    } else {
        format!(" and {} more", more.len())
    };
    let said = format!(
        "{} of the budget is not funded: {}{more}",
        show(job, budget.unfunded),
        some.join(", ")
    );
    let problem = Problem::caution(said);
    let hint = "raise an Amount, widen Pays for, or add a row to Funding that counts as cash match";
    Some(
        first(job)
            .map_or(problem.clone(), |f| problem.at(f.at, "Amount"))
            .hint(hint),
    )
}

fn no_date(job: &Job) -> Option<Problem> {
    let award = |f: &&Funder| f.counts_as.value == CountsAs::Award;
    let funder = job
        .funding
        .funders
        .iter()
        .filter(award)
        .find(|f| f.award_date.is_none())?;
    let said = format!("Award date is not set, {} are taken", funder.rules.words);
    let hint = "write the day of the award, or the day when it is expected";
    Some(Problem::notice(said).at(funder.at, "Funder").hint(hint))
}

/// Lines that are not allowed without more words, or that a funder wants to see more of.
fn of_line(job: &Job, line: &BudgetLine) -> Option<Problem> {
    let awards = job.funding.funders.iter().zip(&line.paid);
    let mut awards =
        awards.filter(|(f, paid)| f.counts_as.value == CountsAs::Award && **paid != Money::ZERO);
    let (funder, _) = awards.next()?;
    let name = &line.name;
    let said = match line.kind {
        LineKind::Allowance => format!("{name} is an allowance: a funder asks for a quote"),
        LineKind::Contingency => {
            "contingency is in the budget: many funders refuse it, and none pays it as a reserve"
                .to_owned()
        }
        LineKind::Charged if is_own(job, name) => {
            format!(
                "{name} goes in at a charge rate: own work earns no profit, so pay with burden is what counts"
            )
        }
        _ => return None,
    };
    let said = Problem::caution(format!("unclear in a budget: {said}"));
    Some(
        said.at(funder.at, "Funder")
            .hint("ask the funder before it is sent"),
    )
}

/// Whether the worker has a wage too, and so is not a contractor alone.
fn is_own(job: &Job, name: &str) -> bool {
    let mut workers = job.workers.iter();
    workers.any(|w| *w.name == *name && w.pay_rate.is_some())
}

/// Tax of a buyer who is exempt is not allowable (2 CFR 200.470).
fn exempt(job: &Job, budget: &Budget) -> Option<Problem> {
    let taxed = budget.lines.iter().any(|l| l.kind == LineKind::Tax);
    job.settings.exemption.as_ref().filter(|_| taxed)?;
    let said = "an exemption is recorded and tax is in the budget: tax that need not be paid is not allowable";
    let at = first(job)?.at;
    Some(
        Problem::caution(said)
            .at(at, "Funder")
            .hint("set Tax mode to none"),
    )
}

/// Volunteers and gifts that count as nothing, since nobody says what they are worth.
fn without_value(job: &Job) -> Option<Problem> {
    let worker = job
        .workers
        .iter()
        .find(|w| w.pay == Pay::Volunteer && w.in_kind.is_none())?;
    let said = format!(
        "hours of {} count as no match without an In-kind value",
        worker.name
    );
    let hint = "write what similar work is paid in your organisation or your local market";
    Some(Problem::notice(said).at(worker.at, "Worker").hint(hint))
}

/// Purchases from one supplier above the usual limit for buying without several quotes.
fn many_quotes(job: &Job, budget: &Budget, library: &Library) -> Option<Problem> {
    let limit = Money::of(library.typical("micro_purchase"));
    let is_dollars = job.settings.currency.value.as_str() == "USD";
    let large = budget.lines.iter().find(|l| {
        matches!(
            l.kind,
            LineKind::Goods | LineKind::Extra | LineKind::Charged
        ) && l.amount > limit
    });
    let large = large.filter(|_| is_dollars)?;
    let said = format!(
        "{} comes to {}: federal awards usually want several quotes above {}",
        large.name,
        show(job, large.amount),
        show(job, limit)
    );
    let at = first(job)?.at;
    Some(
        Problem::notice(said)
            .at(at, "Funder")
            .hint("your own written policy may be lower"),
    )
}

/// Sales tax that is put on a price and not paid on purchases is none of the budget's lines.
fn tax_on_price(job: &Job) -> Option<Problem> {
    let on_price = matches!(
        job.settings.tax_mode.value,
        TaxMode::OnMaterials | TaxMode::OnPrice | TaxMode::OnCategories
    );
    let at = first(job).filter(|_| on_price)?.at;
    let said = "Tax mode adds tax to the price: the budget has the cost without it";
    let hint = "set Tax mode to on purchases when you buy the goods yourself";
    Some(Problem::notice(said).at(at, "Funder").hint(hint))
}
