//! The job and its settings in JSON.

use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::number::{Measure, Number};
use crate::model::job::{HaulGround, Job, LeftOut, Site};
use crate::model::known::{From, Known};
use crate::model::quote::{Part, Quote};
use crate::model::settings::{Buying, FullAfter, Paper, ProfitAs, Settings, TaxMode, TopUp};
use crate::price::Estimate;
use crate::units::{Amount, Hours, Length, System};
use crate::write::names::by_name;

/// What the estimate is of.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobJson {
    /// Name of the job.
    pub name: String,
    /// Whom it is for.
    pub client: Option<String>,
    /// Number of the estimate.
    pub estimate_number: Option<String>,
    /// Its revision.
    pub revision: Option<String>,
    /// Who prepared it.
    pub prepared_by: Option<String>,
    /// Date of the estimate, as 2026-11-24.
    pub date: String,
    /// Last day on which the price holds.
    pub valid_until: String,
    /// Units of the figures: `us` or `metric`.
    pub units: String,
    /// Currency of all money, ISO 4217.
    pub currency: String,
    /// Whether every line has a price. When it has not, no total is the price of the job.
    pub price_complete: bool,
}

/// One setting and where it came from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SettingJson {
    /// Its name on the `Job` sheet.
    pub setting: String,
    /// Its value: a word, or a number as a string.
    pub value: String,
    /// The unit of a number; absent for words and plain numbers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// `job`, `trade library`, or the words of an assumption: `not set, taken as 0%`.
    pub origin: String,
}

/// One site.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SiteJson {
    /// Name.
    pub name: String,
    /// Address.
    pub address: Option<String>,
    /// Elapsed travel there and back, a day.
    pub travel_a_day: Measure,
    /// One-way distance from the tipping place to the beds.
    pub haul_distance: Measure,
    /// What the way is like: `firm`, `soft`, `stairs`.
    pub haul_ground: String,
    /// Narrowest gate.
    pub gate_width: Option<Measure>,
    /// Where bulk goods are tipped.
    pub tipping_place: Option<String>,
    /// Hours in which work is allowed, in words.
    pub allowed_hours: Option<String>,
    /// First day of work.
    pub first_day: Option<String>,
}

/// The head of the estimate.
pub(super) fn job(estimate: &Estimate) -> JobJson {
    let settings = &estimate.job.settings;
    let text = |t: &Option<std::sync::Arc<str>>| t.as_ref().map(ToString::to_string);
    JobJson {
        name: settings.job_name.to_string(),
        client: text(&settings.client),
        estimate_number: text(&settings.estimate_number),
        revision: text(&settings.revision),
        prepared_by: text(&settings.prepared_by),
        date: estimate.date.to_string(),
        valid_until: estimate.price.valid_until.to_string(),
        units: system_word(settings.units.value).to_owned(),
        currency: settings.currency.value.as_str().to_owned(),
        price_complete: estimate.is_complete(),
    }
}

/// All sites, by name.
pub(super) fn sites(job: &Job) -> Vec<SiteJson> {
    let system = job.settings.units.value;
    let mut sites: Vec<SiteJson> = job.sites.iter().map(|s| site(s, system)).collect();
    sites.sort_by(|a, b| by_name(&a.name, &b.name));
    sites
}

fn site(site: &Site, system: System) -> SiteJson {
    let ground = match site.haul_ground.value {
        HaulGround::Firm => "firm",
        HaulGround::Soft => "soft",
        HaulGround::Stairs => "stairs",
    };
    let gate = site.gate.as_ref();
    SiteJson {
        name: site.name.to_string(),
        address: site.address.as_ref().map(ToString::to_string),
        travel_a_day: Measure::hours(site.travel.value),
        haul_distance: Measure::of(system, Amount::Length(site.haul.value)),
        haul_ground: ground.to_owned(),
        gate_width: gate.map(|g| Measure::short(system, g.value)),
        tipping_place: site.tipping_place.as_ref().map(ToString::to_string),
        allowed_hours: site.allowed_hours.as_ref().map(ToString::to_string),
        first_day: site.first_day.map(|d| d.to_string()),
    }
}

/// All settings, in the order of the `Job` sheet.
pub(super) fn settings(settings: &Settings) -> Vec<SettingJson> {
    let mut list = SettingList {
        system: settings.units.value,
        settings: Vec::new(),
    };
    list.add_quantities(settings);
    list.add_money(settings);
    list.settings
}

struct SettingList {
    system: System,
    settings: Vec<SettingJson>,
}

impl SettingList {
    fn add_quantities(&mut self, s: &Settings) {
        self.word("Units", &s.units, |v| system_word(*v).to_owned());
        self.word("Paper", &s.paper, |v| {
            match v {
                Paper::Letter => "letter",
                Paper::A4 => "A4",
            }
            .to_owned()
        });
        self.word("Full after", &s.full_after, |v| {
            match v {
                FullAfter::WetDown => "wet-down",
                FullAfter::FirstSeason => "first season",
            }
            .to_owned()
        });
        self.length("Crown", &s.crown);
        self.length("Freeboard", &s.freeboard);
        self.word("Top-up", &s.top_up, |v| {
            match v {
                TopUp::Offered => "offered",
                TopUp::Included => "included",
                TopUp::None => "none",
            }
            .to_owned()
        });
        self.length("Kerf", &s.kerf);
        self.length("End trim", &s.end_trim);
        self.word("Trimmed ends", &s.trimmed_ends, |e| e.words().to_owned());
        self.length("Least offcut", &s.least_offcut);
        self.length("Cut tolerance", &s.cut_tolerance);
        self.percent("Cull %", &s.culls);
        let units = s.units.value;
        self.word("Ground work", &s.ground.work, |w| w.words(units));
        self.length("Ground margin", &s.ground.margin);
        self.percent("Swell %", &s.ground.swell);
        self.percent("Spoil kept %", &s.ground.spoil_kept);
        self.number("Crew size", &s.crew_size, "people", |v| Decimal::from(*v));
        self.hours("Hours per day", &s.hours_per_day);
        self.hours("Set-up hours", &s.setup_hours);
        self.number("Season factor", &s.season_factor, "", |v| *v);
        let calendar = &s.calendar;
        self.word("Working days", &calendar.week, |w| w.words());
        self.number("Days to settle", &calendar.settling, "days", |v| {
            Decimal::from(*v)
        });
        self.number("Days to top-up", &calendar.season, "days", |v| {
            Decimal::from(*v)
        });
    }

    fn add_money(&mut self, s: &Settings) {
        let currency = s.currency.value.as_str().to_owned();
        self.word("Currency", &s.currency, |v| v.as_str().to_owned());
        self.number("Valid days", &s.valid_days, "days", |v| Decimal::from(*v));
        self.percent("Overhead %", &s.overhead);
        self.percent("Contingency %", &s.contingency);
        self.percent("Profit %", &s.profit);
        self.word("Profit as", &s.profit_as, |v| {
            match v {
                ProfitAs::Markup => "markup",
                ProfitAs::Margin => "margin",
            }
            .to_owned()
        });
        self.word("Tax mode", &s.tax_mode, |v| tax_word(*v).to_owned());
        self.percent("Tax %", &s.tax);
        self.number("Round price to", &s.round_to, &currency, |v| *v);
        self.number("Minimum charge", &s.minimum_charge, &currency, |v| *v);
        let seen = &s.client_sees_contingency;
        self.word("Client sees contingency", seen, |seen| {
            if *seen { "yes" } else { "no" }.to_owned()
        });
        self.add_quote(&s.quote, &currency);
        if let Some(form) = &s.budgeting.form {
            self.word("Budget form", form, |f| f.word().to_owned());
        }
        if let Some(share) = &s.budgeting.tax_recovered {
            self.percent("Tax recovered %", share);
        }
        self.word("Buying", &s.buying, |v| {
            match v {
                Buying::LeastCost => "least cost",
                Buying::OneSupplier => "one supplier",
                Buying::AsMarked => "as marked",
            }
            .to_owned()
        });
        self.number("Stale after", &s.stale_days, "days", |v| Decimal::from(*v));
    }

    fn add_quote(&mut self, quote: &Quote, currency: &str) {
        for (category, markup) in &quote.markups {
            self.percent(category.setting(), markup);
        }
        if let Some(rate) = &quote.overhead_per_hour {
            self.number("Overhead per hour", rate, currency, |v| *v);
        }
        if let Some(discount) = &quote.discount {
            match discount.value {
                Part::Share(share) => self.percent("Discount", &discount.clone().map(|_| share)),
                Part::Sum(sum) => self.number("Discount", discount, currency, |_| sum),
                Part::Rest => {}
            }
        }
        if let Some(rounding) = &quote.rounding {
            self.word("Rounding", rounding, |r| r.word().to_owned());
        }
        if let Some(new) = &quote.new_tax {
            self.percent("New tax %", &new.rate);
            self.word("New tax from", &new.from, ToString::to_string);
        }
    }

    fn word<T>(&mut self, setting: &str, known: &Known<T>, word: impl Fn(&T) -> String) {
        self.push(setting, word(&known.value), None, &known.from);
    }

    fn number<T>(
        &mut self,
        setting: &str,
        known: &Known<T>,
        unit: &str,
        number: impl Fn(&T) -> Decimal,
    ) {
        let value = plain(number(&known.value));
        let unit = (!unit.is_empty()).then(|| unit.to_owned());
        self.push(setting, value, unit, &known.from);
    }

    fn percent(&mut self, setting: &str, known: &Known<Decimal>) {
        self.number(setting, known, "%", |v| {
            v.saturating_mul(Decimal::ONE_HUNDRED)
        });
    }

    fn hours(&mut self, setting: &str, known: &Known<Hours>) {
        self.number(setting, known, "h", |v| v.in_hours());
    }

    fn length(&mut self, setting: &str, known: &Known<Length>) {
        match self.system {
            System::UsCustomary => self.number(setting, known, "in", |v| v.in_inches()),
            System::Metric => self.number(setting, known, "mm", |v| v.in_millimetres()),
        }
    }

    fn push(&mut self, setting: &str, value: String, unit: Option<String>, from: &From) {
        self.settings.push(SettingJson {
            setting: setting.to_owned(),
            value,
            unit,
            origin: origin(from).to_owned(),
        });
    }
}

fn plain(number: Decimal) -> String {
    crate::units::round::tidy15(number).to_string()
}

/// Where a value came from, without its cell.
fn origin(from: &From) -> &str {
    match from {
        From::Job(..) => "job",
        From::Library(_) => "trade library",
        From::Assumed(words) => words,
    }
}

const fn system_word(system: System) -> &'static str {
    match system {
        System::UsCustomary => "us",
        System::Metric => "metric",
    }
}

const fn tax_word(mode: TaxMode) -> &'static str {
    match mode {
        TaxMode::None => "none",
        TaxMode::OnPurchases => "paid on purchases",
        TaxMode::OnMaterials => "on materials",
        TaxMode::OnPrice => "on the whole price",
        TaxMode::OnCategories => "on chosen categories",
    }
}

/// A number of `T`, or nothing.
pub(super) fn number(value: Option<Decimal>) -> Option<Number> {
    value.map(Number::of)
}

/// One row that is left out of the job, and of everything in this file.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LeftOutJson {
    /// The sheet.
    pub sheet: String,
    /// The row, by the name in its naming column.
    pub row: String,
    /// What is wrong, one sentence for each thing.
    pub why: Vec<String>,
}

/// What is left out, by sheet and name.
pub(super) fn left_out(job: &Job) -> Vec<LeftOutJson> {
    let one = |left: &LeftOut| LeftOutJson {
        sheet: left.sheet.title().to_owned(),
        row: left.name.clone(),
        why: left.why.clone(),
    };
    let mut list: Vec<LeftOutJson> = job.left_out.iter().map(one).collect();
    list.sort();
    list
}
