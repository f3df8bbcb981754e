//! The values of the client's summary: made from a [`ClientView`] and from nothing else.

use std::cmp::Ordering;

use serde::Serialize;

use super::page::{Draft, Picture};
use crate::price::client::{Built, ClientView, Head, Kind, LineKind};
use crate::units::Money;

/// File name of the summary.
pub const FILE: &str = "client-summary.pdf";
/// Its template.
pub(super) const TEMPLATE: &str = "client-summary.typ";
/// Rows beyond which a summary is none, and the page of text has to do.
pub(super) const MOST_ROWS: usize = 1_000;

/// What the heading of the cautions says of them all.
const DECIDE: &str = "local code and licensed practice decide";

#[derive(Debug, Serialize)]
pub(super) struct ClientPage {
    head: HeadOf,
    kinds: Vec<KindRow>,
    small_plans: bool,
    plan_scale: Option<String>,
    areas: Vec<AreaRow>,
    drawn: Vec<Drawn>,
    currency: String,
    lines: Vec<LineRow>,
    total: String,
    tax: String,
    has_allowance: bool,
    choices: Vec<Choice>,
    payments: Vec<Payment>,
    included: Vec<String>,
    not_included: Vec<String>,
    settling: Option<String>,
    cautions: Vec<String>,
}

#[derive(Debug, Serialize)]
struct HeadOf {
    job: String,
    beside: Vec<String>,
    facts: Vec<Fact>,
    valid_until: String,
}

#[derive(Debug, Serialize)]
struct Fact {
    name: &'static str,
    value: String,
}

#[derive(Debug, Serialize)]
struct KindRow {
    count: String,
    name: String,
    place: Option<String>,
    size: String,
    walls: Option<String>,
    filled: Vec<String>,
    plan: Option<Picture>,
}

#[derive(Debug, Serialize)]
struct AreaRow {
    name: String,
    size: String,
    place: Option<String>,
}

#[derive(Debug, Serialize)]
struct Drawn {
    title: String,
    plan: Picture,
    section: Picture,
}

#[derive(Debug, Serialize)]
struct LineRow {
    name: String,
    amount: String,
}

#[derive(Debug, Serialize)]
struct Choice {
    name: String,
    words: String,
}

#[derive(Debug, Serialize)]
struct Payment {
    stage: String,
    when: String,
    amount: String,
}

/// Title of the document: `Terrace allotments: quote T-31 of 2026-02-16`.
pub(super) fn title(view: &ClientView) -> String {
    format!("{}: {}", view.head.job, quote(&view.head))
}

fn quote(head: &Head) -> String {
    let number = head.number.as_ref();
    let number = number.map_or_else(String::new, |number| format!(" {number}"));
    let revision = head.revision.as_ref();
    let revision = revision.map_or_else(String::new, |r| format!(", revision {r},"));
    format!("quote{number}{revision} of {}", head.date)
}

/// The values, with drawings put beside the template.
pub(super) fn page(view: &ClientView, draft: &mut Draft<'_>) -> ClientPage {
    let scale = view.kinds.iter().find_map(|kind| kind.small.as_ref());
    let scale = scale.map(|drawing| drawing.scale.words());
    ClientPage {
        head: head(view),
        kinds: view.kinds.iter().map(|k| kind_row(k, draft)).collect(),
        small_plans: scale.is_some(),
        plan_scale: scale,
        areas: view.areas.iter().map(area_row).collect(),
        drawn: view.kinds.iter().filter_map(|k| drawn(k, draft)).collect(),
        currency: format!("In {}", view.head.currency.as_str()),
        lines: lines(view),
        total: money(view, view.total),
        tax: view.tax.clone(),
        has_allowance: view.lines.iter().any(|l| l.kind == LineKind::Allowance),
        choices: choices(view),
        payments: payments(view),
        included: view.included.iter().map(ToString::to_string).collect(),
        not_included: view.not_included.clone(),
        settling: view.settling.clone(),
        cautions: view.cautions.iter().map(|c| once(c)).collect(),
    }
}

fn money(view: &ClientView, money: Money) -> String {
    view.head.currency.show(money)
}

fn head(view: &ClientView) -> HeadOf {
    let head = &view.head;
    let fact = |name, value: Option<String>| value.map(|value| Fact { name, value });
    let places = view.places.iter().map(|place| match &place.address {
        Some(address) => format!("{}, {address}", place.name),
        None => place.name.to_string(),
    });
    let places: Vec<String> = places.collect();
    let facts = [
        fact("For", head.client.as_ref().map(ToString::to_string)),
        fact("Where", (!places.is_empty()).then(|| places.join("; "))),
        fact(
            "Prepared by",
            head.prepared_by.as_ref().map(ToString::to_string),
        ),
        fact("Holds until", Some(head.valid_until.to_string())),
    ];
    let quote = quote(head);
    let mut letters = quote.chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string());
    HeadOf {
        job: head.job.to_string(),
        beside: vec![format!("{}{}", first.unwrap_or_default(), letters.as_str())],
        facts: facts.into_iter().flatten().collect(),
        valid_until: head.valid_until.to_string(),
    }
}

fn kind_row(kind: &Kind, draft: &mut Draft<'_>) -> KindRow {
    let built = &kind.built;
    KindRow {
        count: times(built),
        name: built.name.clone(),
        place: built.place.as_ref().map(ToString::to_string),
        size: built.size.clone(),
        walls: built.walls.as_ref().map(ToString::to_string),
        filled: built.filled_with.clone(),
        plan: kind.small.as_ref().map(|drawing| draft.picture(drawing)),
    }
}

/// A caution without the words that stand above all of them.
fn once(caution: &str) -> String {
    caution.replace(&format!("; {DECIDE}"), "")
}

/// `4 x` for four beds, nothing for one.
fn times(built: &Built) -> String {
    match built.count {
        None | Some(1) => String::new(),
        Some(n) => format!("{n} x"),
    }
}

fn area_row(area: &Built) -> AreaRow {
    AreaRow {
        name: area.name.clone(),
        size: area.size.clone(),
        place: area.place.as_ref().map(ToString::to_string),
    }
}

fn drawn(kind: &Kind, draft: &mut Draft<'_>) -> Option<Drawn> {
    let whole = kind.whole.as_ref()?;
    let (plan, section) = (whole.plan.scale.words(), whole.section.scale.words());
    let scale = if plan == section {
        format!("drawn at {plan}")
    } else {
        format!("plan at {plan}, section at {section}")
    };
    Some(Drawn {
        title: format!("{}, {scale}", kind.built.name),
        plan: draft.picture(&whole.plan),
        section: draft.picture(&whole.section),
    })
}

fn lines(view: &ClientView) -> Vec<LineRow> {
    let mut rows = Vec::new();
    for line in &view.lines {
        if line.kind == LineKind::Tax {
            rows.push(LineRow {
                name: "Before sales tax".to_owned(),
                amount: money(view, view.total - line.amount),
            });
        }
        rows.push(LineRow {
            name: line.in_words(),
            amount: money(view, line.amount),
        });
    }
    rows
}

fn choices(view: &ClientView) -> Vec<Choice> {
    let top_up = view.top_up;
    let top_up = top_up.map(|adds| ("Top-up after the first season", adds));
    let alternates = view.alternates.iter().map(|a| (&*a.name, a.adds));
    let all = top_up.into_iter().chain(alternates);
    all.map(|(name, adds)| Choice {
        name: name.to_owned(),
        words: match adds.cmp(&Money::ZERO) {
            Ordering::Greater => format!("add {}", money(view, adds)),
            Ordering::Less => format!("deduct {}", money(view, Money::ZERO - adds)),
            Ordering::Equal => "the same price".to_owned(),
        },
    })
    .collect()
}

fn payments(view: &ClientView) -> Vec<Payment> {
    let payments = view.payments.iter();
    payments
        .map(|due| Payment {
            stage: due.stage.to_string(),
            when: due
                .when
                .as_ref()
                .map_or_else(String::new, ToString::to_string),
            amount: money(view, due.amount),
        })
        .collect()
}
