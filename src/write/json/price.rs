//! The price in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::{Due, Estimate, Figure, FigureKind, PlaceMoney, PriceLine};
use crate::units::Currency;
use crate::write::names::{Names, by_name};

/// The price and what belongs beside it. All money is in the job's currency.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriceJson {
    /// Lines from materials to the total.
    pub lines: Vec<PriceLineJson>,
    /// Direct cost.
    pub direct_cost: Number,
    /// Price before tax is added.
    pub before_tax: Number,
    /// What the client pays.
    pub total: Number,
    /// What the top-up would add to the total, when it is offered.
    pub top_up_adds: Option<Number>,
    /// For the owner alone: margin, break-even, price of a bed. Never for a client.
    pub owner: Vec<OwnerFigureJson>,
    /// What is due when; empty for a job without stages of payment.
    pub payments: Vec<PaymentJson>,
    /// Lines without a price, in words. Unless this is empty, the total is not the price of the job.
    pub without_price: Vec<String>,
    /// Day of the oldest price that was used.
    pub oldest_price_date: Option<String>,
    /// Its age in days at the date of the estimate.
    pub oldest_price_age_days: Option<i64>,
    /// How much of the hours rests on typical figures, in words.
    pub hours_words: String,
    /// Money by site and phase.
    pub places: Vec<PlaceJson>,
}

/// One line of the price.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriceLineJson {
    /// A key that stays the same from version to version: `overhead`.
    pub key: String,
    /// Its name for people.
    pub label: String,
    /// What it is computed from.
    pub words: String,
    /// The amount.
    pub amount: Number,
    /// The same with the top-up, when it is offered.
    pub amount_with_top_up: Option<Number>,
    /// Whether it is a sum of lines above it.
    pub is_total: bool,
}

/// A figure for the owner alone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OwnerFigureJson {
    /// A key that stays the same from version to version: `gross_margin`.
    pub key: String,
    /// Its name for people.
    pub label: String,
    /// What it is computed from.
    pub words: String,
    /// The figure: money, or a fraction for a share.
    pub value: Number,
    /// Whether it is a share, as a fraction.
    pub is_share: bool,
}

/// What is due at one stage of payment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PaymentJson {
    /// The stage.
    pub stage: String,
    /// When it is due, in the user's words.
    pub when: Option<String>,
    /// The amount.
    pub amount: Number,
}

/// Money of the beds of one site and phase.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PlaceJson {
    /// Where.
    pub site: String,
    /// When.
    pub phase: String,
    /// Beds there.
    pub beds: Number,
    /// Cost.
    pub cost: Number,
    /// Price with tax.
    pub price: Number,
}

/// The price of an estimate.
pub(super) fn price(estimate: &Estimate) -> PriceJson {
    let price = &estimate.price;
    let currency = estimate.job.settings.currency.value;
    let mut without_price = price.missing.clone();
    without_price.sort();
    PriceJson {
        lines: price.lines.iter().map(|l| line(estimate, l)).collect(),
        direct_cost: Number::money(price.direct_cost, currency),
        before_tax: Number::money(price.before_tax, currency),
        total: Number::money(price.total, currency),
        top_up_adds: price.top_up.map(|m| Number::money(m, currency)),
        owner: price.owner.iter().map(owner).collect(),
        payments: price
            .payments
            .iter()
            .map(|d| payment(d, currency))
            .collect(),
        without_price,
        oldest_price_date: price.oldest_price.map(|(date, _)| date.to_string()),
        oldest_price_age_days: price.oldest_price.map(|(_, age)| age),
        hours_words: price.hours_words.clone(),
        places: places(estimate),
    }
}

fn line(estimate: &Estimate, line: &PriceLine) -> PriceLineJson {
    let currency = estimate.job.settings.currency.value;
    PriceLineJson {
        key: line.key.to_owned(),
        label: line.label.to_string(),
        words: line.words.clone(),
        amount: Number::money(line.amount, currency),
        amount_with_top_up: line.with_top_up.map(|m| Number::money(m, currency)),
        is_total: line.is_total,
    }
}

fn owner(figure: &Figure) -> OwnerFigureJson {
    OwnerFigureJson {
        key: figure.key.to_owned(),
        label: figure.label.to_string(),
        words: figure.words.to_owned(),
        value: Number::of(figure.value),
        is_share: figure.kind == FigureKind::Share,
    }
}

pub(super) fn payment(due: &Due, currency: Currency) -> PaymentJson {
    PaymentJson {
        stage: due.stage.to_string(),
        when: due.when.as_ref().map(ToString::to_string),
        amount: Number::money(due.amount, currency),
    }
}

fn places(estimate: &Estimate) -> Vec<PlaceJson> {
    let names = Names(&estimate.job);
    let currency = estimate.job.settings.currency.value;
    let one = |place: &PlaceMoney| PlaceJson {
        site: names.site(place.site).to_owned(),
        phase: names.phase(place.phase).to_owned(),
        beds: Number::of(place.beds),
        cost: Number::money(place.cost, currency),
        price: Number::money(place.price, currency),
    };
    let mut places: Vec<PlaceJson> = estimate.price.places.iter().map(one).collect();
    places.sort_by(|a, b| by_name(&a.site, &b.site).then_with(|| by_name(&a.phase, &b.phase)));
    places
}
