//! What differs between two estimates, in JSON.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::Number;
use crate::price::Estimate;
use crate::price::changes::{Changes, Moved};
use crate::units::Money;

/// What the layout is called.
const LAYOUT: &str = "loamwright changes 1";

/// Everything that differs; what is equal stands nowhere. All money is in `currency`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ChangesJson {
    /// The layout of this file.
    pub schema: String,
    /// ISO 4217.
    pub currency: String,
    /// The first.
    pub before: SideJson,
    /// The second.
    pub after: SideJson,
    /// Price after less price before.
    pub difference: Number,
    /// Rows of beds whose number or size differs, in words.
    pub beds: Vec<WordsJson>,
    /// Shares of the price with tax that beds bear.
    pub bed_prices: Vec<MoneyJson>,
    /// What is bought: packs in words, and their cost.
    pub orders: Vec<OrderedJson>,
    /// How needs are met otherwise.
    pub choices: Vec<WordsJson>,
    /// Person-hours by task.
    pub hours: Vec<HoursJson>,
    /// Lines of the price, the total last.
    pub price: Vec<MoneyJson>,
}

/// One of the two.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SideJson {
    /// Name of the job.
    pub job: String,
    /// Number of the estimate.
    pub estimate_number: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Its date.
    pub date: String,
    /// Price with tax.
    pub total: Number,
}

/// Words that differ.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WordsJson {
    /// What it is.
    pub name: String,
    /// In the first; nothing where it is not there.
    pub before: Option<String>,
    /// In the second.
    pub after: Option<String>,
}

/// Money that differs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MoneyJson {
    /// What it is.
    pub name: String,
    /// In the first; nothing where it is not there.
    pub before: Option<Number>,
    /// In the second.
    pub after: Option<Number>,
}

/// An order that differs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OrderedJson {
    /// What it is.
    pub name: String,
    /// Packs in the first, in words.
    pub packs_before: Option<String>,
    /// Packs in the second.
    pub packs_after: Option<String>,
    /// Cost in the first.
    pub cost_before: Option<Number>,
    /// Cost in the second.
    pub cost_after: Option<Number>,
}

/// Hours that differ.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoursJson {
    /// The task.
    pub name: String,
    /// In the first.
    pub before: Option<Number>,
    /// In the second.
    pub after: Option<Number>,
}

/// What differs, as a JSON text that ends in a line end.
///
/// # Errors
/// Never in practice: all parts are text and lists.
pub fn changes_json(
    (before, after): (&Estimate, &Estimate),
    changes: &Changes,
) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(&tree((before, after), changes))?;
    text.push('\n');
    Ok(text)
}

fn tree((before, after): (&Estimate, &Estimate), changes: &Changes) -> ChangesJson {
    let currency = after.job.settings.currency.value;
    let money = |m: Money| Number::money(m, currency);
    let moneys = |all: &[Moved<Money>]| -> Vec<MoneyJson> {
        let one = |m: &Moved<Money>| MoneyJson {
            name: m.name.clone(),
            before: m.before.map(money),
            after: m.after.map(money),
        };
        all.iter().map(one).collect()
    };
    let words = |m: &Moved<String>| WordsJson {
        name: m.name.clone(),
        before: m.before.clone(),
        after: m.after.clone(),
    };
    let (was, now) = changes.total;
    ChangesJson {
        schema: LAYOUT.to_owned(),
        currency: currency.as_str().to_owned(),
        before: side(before),
        after: side(after),
        difference: money(now - was),
        beds: changes.sizes.iter().map(words).collect(),
        bed_prices: moneys(&changes.beds),
        orders: changes
            .orders
            .iter()
            .map(|m| OrderedJson {
                name: m.name.clone(),
                packs_before: m.before.as_ref().map(|b| b.packs.clone()),
                packs_after: m.after.as_ref().map(|b| b.packs.clone()),
                cost_before: m.before.as_ref().map(|b| money(b.cost)),
                cost_after: m.after.as_ref().map(|b| money(b.cost)),
            })
            .collect(),
        choices: changes
            .choices
            .iter()
            .map(|m| WordsJson {
                name: m.name.clone(),
                before: m.before.as_ref().map(|met| met.words.clone()),
                after: m.after.as_ref().map(|met| met.words.clone()),
            })
            .collect(),
        hours: changes
            .hours
            .iter()
            .map(|m| HoursJson {
                name: m.name.clone(),
                before: m.before.map(|h| Number::of(h.in_hours())),
                after: m.after.map(|h| Number::of(h.in_hours())),
            })
            .collect(),
        price: moneys(&changes.price),
    }
}

fn side(estimate: &Estimate) -> SideJson {
    let settings = &estimate.job.settings;
    let text = |t: &Option<std::sync::Arc<str>>| t.as_ref().map(ToString::to_string);
    SideJson {
        job: settings.job_name.to_string(),
        estimate_number: text(&settings.estimate_number),
        revision: text(&settings.revision),
        date: estimate.date.to_string(),
        total: Number::money(estimate.price.total, settings.currency.value),
    }
}
