//! The values of an order: what one supplier is asked for, at the prices that they gave.

use serde::Serialize;

use super::crew::{LoadRow, load_rows, packs};
use crate::buying::{OrderLine, Trips};
use crate::model::job::{PhaseId, SiteId};
use crate::model::offer::{Offer, SupplierId};
use crate::price::Estimate;
use crate::takeoff::Moment;
use crate::units::show::{grouped_plain, plain};
use crate::units::{Decimal, Money};
use crate::write::names::Names;
use crate::write::orders::sellers;

/// Template of an order.
pub(super) const TEMPLATE: &str = "order.typ";

#[derive(Debug, Serialize)]
pub(super) struct OrderPage {
    supplier: String,
    beside: Vec<String>,
    facts: Vec<Fact>,
    drops: Vec<DropOf>,
    collected: Vec<GoodsRow>,
    currency: String,
    sums: Vec<SumRow>,
    say: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Fact {
    name: &'static str,
    value: String,
}

/// Where loads go or come from, when, and whether they take ground away.
type Drop = (SiteId, PhaseId, Moment, bool);

#[derive(Debug, Serialize)]
struct DropOf {
    heading: String,
    facts: Vec<Fact>,
    rows: Vec<GoodsRow>,
    loads: Vec<LoadRow>,
    words: Vec<String>,
}

#[derive(Debug, Serialize)]
struct GoodsRow {
    packs: String,
    what: String,
    about: String,
    price: String,
    amount: String,
}

#[derive(Debug, Serialize)]
struct SumRow {
    name: String,
    amount: String,
}

/// An order that is to be made: whom it goes to, and its file name.
#[derive(Clone, Debug)]
pub(super) struct ToOrder {
    pub(super) supplier: SupplierId,
    pub(super) file: String,
    pub(super) title: String,
}

/// One for each supplier of whom anything is bought, by name.
pub(super) fn orders(estimate: &Estimate) -> Vec<ToOrder> {
    let names = Names(&estimate.job);
    let job = &estimate.job.settings.job_name;
    let sellers = sellers(estimate).into_iter();
    sellers
        .map(|(supplier, file)| ToOrder {
            supplier,
            file: format!("order-{file}.pdf"),
            title: format!("{job}: order to {}", names.supplier(supplier)),
        })
        .collect()
}

/// The values.
pub(super) fn page(estimate: &Estimate, supplier: SupplierId) -> OrderPage {
    Order {
        estimate,
        supplier,
        names: Names(&estimate.job),
    }
    .page()
}

struct Order<'a> {
    estimate: &'a Estimate,
    supplier: SupplierId,
    names: Names<'a>,
}

impl<'a> Order<'a> {
    fn page(&self) -> OrderPage {
        let settings = &self.estimate.job.settings;
        let number = settings.estimate_number.as_ref();
        let number = number.map(|number| format!("Our number {number}"));
        let date = format!("Estimate of {}", self.estimate.date);
        OrderPage {
            supplier: self.names.supplier(self.supplier).to_owned(),
            beside: number.into_iter().chain([date]).collect(),
            facts: self.facts(),
            drops: self.drops().map(|drop| self.drop_of(drop)).collect(),
            collected: self.collected().map(|(l, o)| self.row(l, o)).collect(),
            currency: format!("In {}", settings.currency.value.as_str()),
            sums: self.sums(),
            say: self.say(),
        }
    }

    fn facts(&self) -> Vec<Fact> {
        let job = &self.estimate.job;
        let supplier = job.suppliers.get(self.supplier.index());
        let of = |pick: fn(&crate::model::offer::Supplier) -> &Option<std::sync::Arc<str>>| {
            supplier.and_then(|s| pick(s).as_ref().map(ToString::to_string))
        };
        let facts = [
            ("For the job", Some(job.settings.job_name.to_string())),
            (
                "Ordered by",
                job.settings.prepared_by.as_ref().map(ToString::to_string),
            ),
            ("To speak to", of(|s| &s.contact)),
            ("Account", of(|s| &s.account)),
            ("Terms", of(|s| &s.terms)),
        ];
        let known = facts.into_iter();
        known
            .filter_map(|(name, value)| value.map(|value| Fact { name, value }))
            .collect()
    }

    fn lines(&self) -> impl Iterator<Item = (&'a OrderLine, &'a Offer)> {
        let lines = self.estimate.bought.lines.iter();
        let own = self.supplier;
        let names = self.names;
        lines.filter_map(move |line| {
            let offer = names.offer(line.offer?)?;
            (offer.supplier == own && !line.quantity.is_zero()).then_some((line, offer))
        })
    }

    fn collected(&self) -> impl Iterator<Item = (&'a OrderLine, &'a Offer)> {
        let brought: Vec<usize> = self.trips().flat_map(|trips| trips.lines.clone()).collect();
        let all = &self.estimate.bought.lines;
        self.lines().filter(move |(line, _)| {
            let place = all.iter().position(|l| std::ptr::eq(l, *line));
            place.is_none_or(|place| !brought.contains(&place))
        })
    }

    fn trips(&self) -> impl Iterator<Item = &'a Trips> {
        let own = self.supplier;
        let trips = self.estimate.bought.trips.iter();
        trips.filter(move |trips| trips.supplier == own)
    }

    fn drop_at(&self, trips: &Trips) -> Drop {
        let spoil = self.estimate.job.spoil;
        let away = self.estimate.bought.is_taken_away(trips, spoil);
        (trips.site, trips.phase, trips.moment, away)
    }

    /// Each drop, in the order of the trips.
    fn drops(&self) -> impl Iterator<Item = Drop> {
        let mut drops: Vec<Drop> = Vec::new();
        for trips in self.trips() {
            let drop = self.drop_at(trips);
            if !drops.contains(&drop) {
                drops.push(drop);
            }
        }
        drops.into_iter()
    }

    fn drop_of(&self, drop: Drop) -> DropOf {
        let estimate = self.estimate;
        let trips: Vec<&Trips> = self
            .trips()
            .filter(|trips| self.drop_at(trips) == drop)
            .collect();
        let lines = trips.iter().flat_map(|trips| &trips.lines);
        let lines = lines.filter_map(|place| estimate.bought.lines.get(*place));
        let rows = lines.filter_map(|line| Some(self.row(line, self.names.offer(line.offer?)?)));
        DropOf {
            heading: if drop.3 {
                format!("Taken away from {}", self.place(drop))
            } else {
                format!("Brought to {}", self.place(drop))
            },
            facts: self.site_facts(drop.0, drop.3),
            rows: rows.collect(),
            loads: trips
                .iter()
                .flat_map(|trips| load_rows(estimate, trips))
                .collect(),
            words: trips.iter().map(|trips| trips.words.clone()).collect(),
        }
    }

    /// `Upper terrace, spring`; `the site`; `Upper terrace, for the top-up`.
    fn place(&self, (site, phase, moment, _): Drop) -> String {
        let place = self.names.drop(site, phase);
        let place = if place.is_empty() {
            "the site".to_owned()
        } else {
            place
        };
        match moment {
            Moment::Build => place,
            Moment::TopUp => format!("{place}, for the top-up after the first season"),
        }
    }

    /// Where it is tipped says nothing of what leaves.
    fn site_facts(&self, site: SiteId, away: bool) -> Vec<Fact> {
        let Some(site) = self.estimate.job.sites.get(site.index()) else {
            return Vec::new();
        };
        let units = self.estimate.job.settings.units.value;
        let text = |text: &Option<std::sync::Arc<str>>| text.as_ref().map(ToString::to_string);
        let facts = [
            ("Address", text(&site.address)),
            ("Tipped", text(&site.tipping_place).filter(|_| !away)),
            (
                "Narrowest gate",
                site.gate.as_ref().map(|gate| units.length(gate.value)),
            ),
            ("Hours allowed", text(&site.allowed_hours)),
        ];
        let known = facts.into_iter();
        known
            .filter_map(|(name, value)| value.map(|value| Fact { name, value }))
            .collect()
    }

    fn row(&self, line: &OrderLine, offer: &Offer) -> GoodsRow {
        let job = &self.estimate.job;
        let money = |money: Money| job.settings.currency.value.show(money);
        let spec = offer.spec.as_ref().map(ToString::to_string);
        let given = offer.price_date.map(|day| format!("price of {day}"));
        let lead = offer.lead_days.map(|days| match days {
            1 => "1 day ahead".to_owned(),
            n => format!("{n} days ahead"),
        });
        let note = offer.note.as_ref().map(ToString::to_string);
        let about: Vec<String> = [spec, given, lead, note].into_iter().flatten().collect();
        let currency = job.settings.currency.value;
        // Prices of a coin or less keep their digits: 0.0425 a screw.
        let price = line.price.map(|price| match Money::of(price) {
            whole if currency.round_line(price) == whole => currency.show(whole),
            _ => grouped_plain(price, 4),
        });
        GoodsRow {
            packs: packs(self.estimate, line, line.quantity),
            what: job.material_name(line.material).to_owned(),
            about: about.join("; "),
            price: price.unwrap_or_else(|| "?".to_owned()),
            amount: match line.price {
                Some(_) => money(line.cost),
                None => "?".to_owned(),
            },
        }
    }

    fn sums(&self) -> Vec<SumRow> {
        let money = |money: Money| self.estimate.job.settings.currency.value.show(money);
        let goods: Money = self.lines().map(|(line, _)| line.cost).sum();
        let delivery: Money = self.trips().map(|trips| trips.cost).sum();
        let charged = self.trips().map(|trips| trips.charged);
        let charged = charged.fold(Decimal::ZERO, Decimal::saturating_add);
        let row = |name: &str, amount: Money| SumRow {
            name: name.to_owned(),
            amount: money(amount),
        };
        let mut sums = vec![row("Goods", goods)];
        if self.trips().next().is_some() {
            let trips = if charged == Decimal::ONE {
                "trip"
            } else {
                "trips"
            };
            let name = format!("Delivery, {} {trips} charged", plain(charged, 0));
            sums.push(row(&name, delivery));
        }
        sums.push(row("Together", goods + delivery));
        sums
    }

    /// The order in sentences.
    fn say(&self) -> Vec<String> {
        let job = &self.estimate.job;
        let by = job.settings.prepared_by.as_ref();
        let by = by.map_or_else(String::new, |by| format!("This is {by}. "));
        let mut say = vec![format!(
            "{by}I want to order for {}.",
            job.settings.job_name
        )];
        for drop in self.drops() {
            let trips = self.trips().filter(|trips| self.drop_at(trips) == drop);
            let loads: Vec<String> = trips
                .flat_map(|trips| load_rows(self.estimate, trips))
                .map(|load| load.what().to_owned())
                .collect();
            let count = match loads.len() {
                1 => "1 load".to_owned(),
                n => format!("{n} loads"),
            };
            let way = if drop.3 { "Taken away from" } else { "To" };
            say.push(format!(
                "{way} {}: {count}: {}.",
                self.place(drop),
                loads.join("; ")
            ));
        }
        let collected = self.collected().count();
        if collected > 0 {
            let lines = if collected == 1 { "line" } else { "lines" };
            say.push(format!(
                "To collect or be sent together: {collected} {lines}, as listed above."
            ));
        }
        say.push("Do these prices still hold, and is tax added to them?".to_owned());
        say.push("On which day, at what hour, and who is to be called on the way?".to_owned());
        if self.trips().next().is_some() {
            say.push(
                "How wet is the soil now? A wet load is heavier, and may take a trip more."
                    .to_owned(),
            );
        }
        say
    }
}
