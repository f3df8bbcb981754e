//! The estimate on one screen: at most 80 columns, and short of 45 lines for an ordinary job.

use std::cmp::Ordering;

use crate::buying::{OrderLine, Scope};
use crate::price::Estimate;
use crate::problem::Severity;
use crate::takeoff::Moment;
use crate::units::{Length, System};

use super::columns::{clean, fit, pad, pad_left, wrap};
use super::names::{Names, by_name};
use super::paint::Paint;
use super::stage::Written;

/// Columns of the screen.
const WIDTH: usize = 80;
/// Kinds of bed shown before "and N more".
const MOST_KINDS: usize = 9;
/// Order lines shown.
const MOST_ORDERS: usize = 10;
/// Sentences shown of each other list.
const MOST_SENTENCES: usize = 4;

/// The summary, each line ended.
pub fn summary(estimate: &Estimate, paint: Paint, written: Option<&Written>) -> String {
    let mut page = Page {
        estimate,
        names: Names(&estimate.job),
        paint,
        text: String::new(),
    };
    page.head();
    page.missing_prices();
    page.beds();
    page.orders();
    page.work();
    page.price();
    page.beside_the_price();
    if let Some(written) = written {
        page.outputs(written);
    }
    page.text
}

struct Page<'a> {
    estimate: &'a Estimate,
    names: Names<'a>,
    paint: Paint,
    text: String,
}

impl Page<'_> {
    fn head(&mut self) {
        let settings = &self.estimate.job.settings;
        let name = fit(&settings.job_name, WIDTH);
        self.raw(&self.paint.heading(&name));
        let number = settings.estimate_number.as_ref();
        let revision = settings.revision.as_ref();
        let parts = [
            number.map(|n| format!("number {n}")),
            revision.map(|r| format!("revision {r}")),
            settings.client.as_ref().map(|c| format!("for {c}")),
        ];
        let parts: Vec<String> = parts.into_iter().flatten().collect();
        let mut line = format!("Estimate of {}", self.estimate.date);
        if !parts.is_empty() {
            line.push_str(", ");
            line.push_str(&parts.join(", "));
        }
        self.wrapped(&line, "");
        let until = self.estimate.price.valid_until;
        self.raw(&format!("The price holds until {until}"));
    }

    /// Loud, and before any figure.
    fn missing_prices(&mut self) {
        let missing = &self.estimate.price.missing;
        if missing.is_empty() {
            return;
        }
        let words = match missing.len() {
            1 => "PRICE NOT COMPLETE: 1 line has no price".to_owned(),
            n => format!("PRICE NOT COMPLETE: {n} lines have no price"),
        };
        self.raw("");
        self.raw(&self.paint.warning(&words));
        self.few(missing, MOST_SENTENCES, "  ");
    }

    fn beds(&mut self) {
        let kinds = self.estimate.kinds.kinds.iter();
        let mut shown: Vec<(&str, String, &str)> = kinds
            .zip(&self.estimate.takeoffs)
            .map(|(kind, takeoff)| {
                let first = self.estimate.job.beds.get(kind.first.index());
                let name: &str = first.map_or("?", |b| &b.name);
                let count = crate::units::show::plain(kind.count, 0);
                (name, count, takeoff.size.as_str())
            })
            .collect();
        shown.sort_by(|a, b| by_name(a.0, b.0));
        let total = self.estimate.kinds.kinds.iter().map(|k| k.count).fold(
            rust_decimal::Decimal::ZERO,
            rust_decimal::Decimal::saturating_add,
        );
        self.heading(&format!("Beds: {}", crate::units::show::grouped(total, 0)));
        for (name, count, size) in shown.iter().take(MOST_KINDS) {
            let line = format!("{count:>4} x {} {size}", pad(name, 14));
            self.wrapped(&line, &" ".repeat(22));
        }
        self.and_more(shown.len(), MOST_KINDS, "kind", "Beds");
    }

    fn orders(&mut self) {
        let mut lines: Vec<&OrderLine> = self.estimate.bought.lines.iter().collect();
        lines.sort_by(|a, b| self.order_of(a, b));
        self.heading("Orders");
        let mut group = None;
        for line in lines.iter().take(MOST_ORDERS) {
            let this = self.group_of(line);
            if group.as_ref() != Some(&this) {
                self.raw(&fit(&format!("  {this}"), WIDTH));
                group = Some(this);
            }
            let told = self.order(line);
            self.raw(&told);
        }
        self.and_more(lines.len(), MOST_ORDERS, "line", "Orders");
        let trips = self.estimate.bought.trips.iter();
        let mut loads: Vec<String> = trips
            .map(|t| format!("{}: {}", self.names.supplier(t.supplier), t.words))
            .collect();
        loads.sort();
        self.few(&loads, MOST_SENTENCES, "  ");
    }

    fn order_of(&self, a: &OrderLine, b: &OrderLine) -> Ordering {
        let is_open = |l: &OrderLine| l.offer.is_none();
        let material = |l: &OrderLine| self.names.0.material_name(l.material).to_owned();
        is_open(a)
            .cmp(&is_open(b))
            .then_with(|| by_name(&self.group_of(a), &self.group_of(b)))
            .then_with(|| by_name(&material(a), &material(b)))
            .then_with(|| a.quantity.cmp(&b.quantity))
    }

    /// Who brings it where: `Creek Yard to North lot, spring`.
    fn group_of(&self, line: &OrderLine) -> String {
        let seller = match line.offer.and_then(|id| self.names.offer(id)) {
            Some(offer) => self.names.supplier(offer.supplier),
            None if line.free => "Nothing to buy",
            None => "No supplier yet",
        };
        let place = match line.scope {
            Scope::Drop(site, phase) => self.names.drop(site, phase),
            Scope::Job => String::new(),
        };
        let topping = match line.moment {
            Moment::Build => "",
            Moment::TopUp => ", top-up after the first season",
        };
        let to = if place.is_empty() { "" } else { " to " };
        format!("{seller}{to}{place}{topping}")
    }

    fn order(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.names.offer(id));
        let quantity = match offer {
            Some(offer) => {
                let number = crate::units::show::grouped_plain(line.quantity, 3);
                format!("{number} {}", offer.pack)
            }
            None => self.system().amount(line.need),
        };
        let cost = match line.price {
            _ if line.free => "free".to_owned(),
            None => "no price".to_owned(),
            Some(_) => self.money(line.cost),
        };
        let material = self.names.0.material_name(line.material);
        format!(
            "  {} {} {}",
            pad_left(&quantity, 16),
            pad(material, 44),
            pad_left(&cost, 16)
        )
        .trim_end()
        .to_owned()
    }

    fn work(&mut self) {
        let words = &self.estimate.price.hours_words;
        if words.is_empty() {
            return;
        }
        self.heading("Work");
        self.wrapped(&format!("  {words}"), "  ");
    }

    fn price(&mut self) {
        let currency = self.estimate.job.settings.currency.value;
        let title = format!("Price in {}", currency.as_str());
        self.heading(&title);
        for line in &self.estimate.price.lines {
            let amount = self.money(line.amount);
            let shown = format!(
                "  {} {}  {}",
                pad(&line.label, 26),
                pad_left(&amount, 14),
                fit(&line.words, 35)
            );
            let shown = shown.trim_end();
            if line.is_total {
                self.raw(&self.paint.heading(shown));
            } else {
                self.raw(shown);
            }
        }
        if !self.estimate.price.is_complete() {
            let words = "  Not complete: lines without a price are missing above";
            self.raw(&self.paint.warning(words));
        }
        self.top_up();
    }

    /// The priced alternative beside the total.
    fn top_up(&mut self) {
        let Some(adds) = self.estimate.price.top_up else {
            return;
        };
        let total = self.estimate.price.total;
        let words = format!(
            "  With the top-up after the first season: {} + {} = {}",
            self.money(total),
            self.money(adds),
            self.money(total + adds)
        );
        self.wrapped(&words, "  ");
    }

    fn beside_the_price(&mut self) {
        self.raw("");
        self.sinking();
        if !self.estimate.not_priced.is_empty() {
            let words = format!("Not priced: {}", self.estimate.not_priced.join(", "));
            self.wrapped(&words, "  ");
        }
        if let Some((day, age)) = self.estimate.price.oldest_price {
            let days = if age == 1 { "day" } else { "days" };
            self.raw(&format!("Oldest price used: {day}, {age} {days} old"));
        }
        let cautions = self.estimate.problems.iter();
        match cautions.filter(|p| p.severity == Severity::Caution).count() {
            0 => {}
            1 => self.raw("1 caution: local code and licensed practice decide"),
            n => self.raw(&format!(
                "{n} cautions: local code and licensed practice decide"
            )),
        }
    }

    fn sinking(&mut self) {
        let takeoffs = &self.estimate.takeoffs;
        let sinks = takeoffs.iter().map(|t| t.sink).filter(|s| !s.is_zero());
        if let Some((least, most)) = range(sinks) {
            let about = self.depths(least, most);
            self.raw(&format!("Surface will sink about {about} by autumn"));
        }
        let above = takeoffs.iter().map(|t| t.stands_above);
        if let Some((least, most)) = range(above.filter(|h| *h > Length::ZERO)) {
            let above = self.depths(least, most);
            self.raw(&format!(
                "On filling day the fill stands {above} above the wall"
            ));
        }
    }

    fn outputs(&mut self, written: &Written) {
        self.raw("");
        self.raw(&format!(
            "Written to {}:",
            clean(&written.folder.display().to_string())
        ));
        self.wrapped(&format!("  {}", written.names.join(", ")), "  ");
    }

    fn depths(&self, least: Length, most: Length) -> String {
        let (least, most) = (self.system().depth(least), self.system().depth(most));
        match (least.split_once(' '), least == most) {
            (_, true) | (None, _) => most,
            (Some((number, _)), false) => format!("{number} to {most}"),
        }
    }

    fn system(&self) -> System {
        self.estimate.job.settings.units.value
    }

    fn money(&self, money: crate::units::Money) -> String {
        self.estimate.job.settings.currency.value.show(money)
    }

    fn heading(&mut self, title: &str) {
        self.raw("");
        self.raw(&self.paint.heading(title));
    }

    fn few(&mut self, sentences: &[String], most: usize, indent: &str) {
        for sentence in sentences.iter().take(most) {
            self.wrapped(&format!("{indent}{sentence}"), &format!("{indent}  "));
        }
        if sentences.len() > most {
            self.raw(&format!("{indent}and {} more", sentences.len() - most));
        }
    }

    fn and_more(&mut self, count: usize, most: usize, thing: &str, sheet: &str) {
        let more = count.saturating_sub(most);
        let plural = if more == 1 { "" } else { "s" };
        if more > 0 {
            self.raw(&format!(
                "  and {more} more {thing}{plural}, on the sheet {sheet}"
            ));
        }
    }

    /// Breaks a sentence between words; lines after the first begin with `indent`.
    fn wrapped(&mut self, sentence: &str, indent: &str) {
        for line in wrap(&clean(sentence), WIDTH, indent) {
            self.raw(&line);
        }
    }

    fn raw(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }
}

fn range(lengths: impl Iterator<Item = Length>) -> Option<(Length, Length)> {
    lengths.fold(None, |range, length| match range {
        None => Some((length, length)),
        Some((least, most)) => Some((least.min(length), most.max(length))),
    })
}

#[cfg(test)]
#[path = "summary_tests.rs"]
mod tests;
