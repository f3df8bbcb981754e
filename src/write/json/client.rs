//! What a client may see, in JSON: made from a [`ClientView`] and from nothing else.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use super::price::PaymentJson;
use crate::price::Due;
use crate::price::client::{Built, ClientView, Goods, Head, Line, LineKind};
use crate::units::{Currency, Money};

/// Layout of the file: a change that could break a reader changes this.
const LAYOUT: &str = "loamwright client 1";

/// What a client may see: no cost, markup, wage, overhead or supplier. Safe to hand on.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientJson {
    /// Name and version of this layout.
    pub schema: String,
    /// The job.
    pub job: String,
    /// Whom it is for.
    pub client: Option<String>,
    /// Number of the estimate.
    pub number: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Who prepared it.
    pub prepared_by: Option<String>,
    /// Its date.
    pub date: String,
    /// Last day on which the price holds.
    pub valid_until: String,
    /// The currency of all money, by its ISO 4217 code.
    pub currency: String,
    /// Where, by name.
    pub places: Vec<ClientPlaceJson>,
    /// Beds, by name.
    pub beds: Vec<BuiltJson>,
    /// Paths and surrounds, by name.
    pub areas: Vec<BuiltJson>,
    /// What is brought or found on the site, by name.
    pub goods: Vec<GoodsJson>,
    /// What is taken away, by name.
    pub taken_away: Vec<GoodsJson>,
    /// Lines of the price; they add up to `total`.
    pub lines: Vec<ClientLineJson>,
    /// What the client pays.
    pub total: Number,
    /// How sales tax is dealt with, in words.
    pub tax_words: String,
    /// What is in the price beside beds and paths.
    pub included: Vec<String>,
    /// What is not in the price.
    pub not_included: Vec<String>,
    /// Variations, by name. They do not add up: each is by itself.
    pub alternates: Vec<ClientAlternateJson>,
    /// What the top-up after the first season would add, when it is offered.
    pub top_up_adds: Option<Number>,
    /// What is due when.
    pub payments: Vec<PaymentJson>,
    /// How the fill settles, in words.
    pub settling: Option<String>,
    /// What to know to stay safe. Local code and licensed practice decide.
    pub cautions: Vec<String>,
}

/// A place.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientPlaceJson {
    /// What it is called.
    pub name: String,
    /// Its address.
    pub address: Option<String>,
}

/// A bed, several alike, or an area.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BuiltJson {
    /// What it is called.
    pub name: String,
    /// How many alike; nothing for an area.
    pub count: Option<u64>,
    /// Site and phase, when there are several.
    pub place: Option<String>,
    /// Its size in words.
    pub size: String,
    /// What its walls are.
    pub walls: Option<String>,
    /// What goes in, from the bottom up.
    pub filled_with: Vec<String>,
}

/// Goods that are brought, found on the site, or taken away.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GoodsJson {
    /// What.
    pub name: String,
    /// How much, in what it comes in.
    pub packs: Vec<String>,
}

/// One line of the price.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientLineJson {
    /// `beds`, `area`, `work`, `allowance`, `passed_on`, `contingency`, `discount` or `tax`.
    pub kind: String,
    /// What it is called.
    pub name: String,
    /// The amount; below zero for a discount.
    pub amount: Number,
}

/// A variation of the job.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ClientAlternateJson {
    /// What it is.
    pub name: String,
    /// What it adds to the price; below zero what it deducts.
    pub adds: Number,
}

/// The view as a JSON text that ends in a line end.
///
/// # Errors
/// Never in practice: all parts are text, whole numbers and lists.
pub fn client_json(view: &ClientView) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&client(view))?;
    text.push('\n');
    Ok(text)
}

pub(super) fn client(view: &ClientView) -> ClientJson {
    let Head {
        job,
        client,
        number,
        revision,
        prepared_by,
        date,
        valid_until,
        currency,
    } = &view.head;
    let currency = *currency;
    let words = |text: &Option<std::sync::Arc<str>>| text.as_ref().map(ToString::to_string);
    ClientJson {
        schema: LAYOUT.to_owned(),
        job: job.to_string(),
        client: words(client),
        number: words(number),
        revision: words(revision),
        prepared_by: words(prepared_by),
        date: date.to_string(),
        valid_until: valid_until.to_string(),
        currency: currency.as_str().to_owned(),
        places: places(view),
        beds: view.beds.iter().map(built).collect(),
        areas: view.areas.iter().map(built).collect(),
        goods: view.goods.iter().map(goods).collect(),
        taken_away: view.taken_away.iter().map(goods).collect(),
        lines: view.lines.iter().map(|l| line(l, currency)).collect(),
        total: Number::money(view.total, currency),
        tax_words: view.tax.clone(),
        included: view.included.iter().map(ToString::to_string).collect(),
        not_included: view.not_included.clone(),
        alternates: alternates(view),
        top_up_adds: view.top_up.map(|adds| Number::money(adds, currency)),
        payments: view.payments.iter().map(|d| due(d, currency)).collect(),
        settling: view.settling.clone(),
        cautions: view.cautions.clone(),
    }
}

fn places(view: &ClientView) -> Vec<ClientPlaceJson> {
    let places = view.places.iter();
    places
        .map(|place| ClientPlaceJson {
            name: place.name.to_string(),
            address: place.address.as_ref().map(ToString::to_string),
        })
        .collect()
}

fn built(of: &Built) -> BuiltJson {
    BuiltJson {
        name: of.name.clone(),
        count: of.count,
        place: of.place.as_ref().map(ToString::to_string),
        size: of.size.clone(),
        walls: of.walls.as_ref().map(ToString::to_string),
        filled_with: of.filled_with.clone(),
    }
}

fn goods(of: &Goods) -> GoodsJson {
    GoodsJson {
        name: of.name.clone(),
        packs: of.packs.clone(),
    }
}

fn line(of: &Line, currency: Currency) -> ClientLineJson {
    let kind = match of.kind {
        LineKind::Beds => "beds",
        LineKind::Area => "area",
        LineKind::Work => "work",
        LineKind::Allowance => "allowance",
        LineKind::PassedOn => "passed_on",
        LineKind::Contingency => "contingency",
        LineKind::Discount => "discount",
        LineKind::Tax => "tax",
    };
    ClientLineJson {
        kind: kind.to_owned(),
        name: of.name.clone(),
        amount: Number::money(of.amount, currency),
    }
}

fn alternates(view: &ClientView) -> Vec<ClientAlternateJson> {
    let currency = view.head.currency;
    let money = |money: Money| Number::money(money, currency);
    let alternates = view.alternates.iter();
    alternates
        .map(|alternate| ClientAlternateJson {
            name: alternate.name.to_string(),
            adds: money(alternate.adds),
        })
        .collect()
}

fn due(of: &Due, currency: Currency) -> PaymentJson {
    super::price::payment(of, currency)
}
