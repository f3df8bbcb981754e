//! The estimate on one screen: at most 80 columns, and short of 45 lines for an ordinary job. What does
//! not fit stands in the workbook, whose sheets are named.
//!
//! Longer than most because the sections of the one screen are written one after the other.

use std::cmp::Ordering;

use rust_decimal::Decimal;

use crate::buying::{OrderLine, Scope, Trips};
use crate::model::offer::Offer;
use crate::price::Estimate;
use crate::price::estimate::PriceLine;
use crate::problem::Severity;
use crate::takeoff::Moment;
use crate::units::{Amount, Length, System, show};

use super::columns::{clean, fit, pad, pad_left, wrap};
use super::names::{Names, by_name};
use super::paint::Paint;
use super::stage::Written;

/// Columns of the screen.
const WIDTH: usize = 80;
/// Kinds of bed shown before "and N more".
const MOST_KINDS: usize = 5;
/// Order lines shown.
const MOST_ORDERS: usize = 5;
/// Characters of a bed's name.
const MOST_NAME: usize = 16;
/// Lines without a price shown.
const MOST_MISSING: usize = 4;
/// Lines of the price between direct cost and total that only carry a sum on.
const CARRIED: [&str; 3] = ["marked_up", "before_rounding", "before_tax"];

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
        let Some(words) = self.estimate.not_complete() else {
            return;
        };
        self.raw("");
        self.raw(&self.paint.warning(&words));
        self.few(&self.estimate.lacking(), MOST_MISSING, "  ");
    }

    fn beds(&mut self) {
        let kinds = self.estimate.kinds.kinds.iter();
        let mut shown: Vec<(&str, String, &str)> = kinds
            .zip(&self.estimate.takeoffs)
            .map(|(kind, takeoff)| {
                let first = self.estimate.job.beds.get(kind.first.index());
                let name: &str = first.map_or("?", |b| &b.name);
                let count = show::plain(kind.count, 0);
                (name, count, takeoff.size.as_str())
            })
            .collect();
        shown.sort_by(|a, b| by_name(a.0, b.0));
        let counts = self.estimate.kinds.kinds.iter().map(|k| k.count);
        let total = counts.fold(Decimal::ZERO, Decimal::saturating_add);
        self.heading(&format!("Beds: {}", show::grouped(total, 0)));
        let longest = shown.iter().take(MOST_KINDS).map(|s| s.0.chars().count());
        let width = longest.max().unwrap_or(0).min(MOST_NAME);
        for (name, count, size) in shown.iter().take(MOST_KINDS) {
            let line = format!("{count:>4} x {} {size}", pad(name, width));
            self.raw(&fit(&line, WIDTH));
        }
        self.and_more(shown.len(), MOST_KINDS, "kind", "Beds");
    }

    /// The dearest lines: those are worth a second look. Lines without a price were told above.
    fn orders(&mut self) {
        let mut lines: Vec<&OrderLine> = self.estimate.bought.lines.iter().collect();
        lines.sort_by(|a, b| self.order_of(a, b));
        let is_priced = lines.iter().any(|line| line.price.is_some());
        self.heading(if is_priced {
            "Orders, the dearest first"
        } else {
            "Orders"
        });
        for line in lines.iter().take(MOST_ORDERS) {
            let told = self.order(line);
            self.raw(&told);
        }
        self.and_more(lines.len(), MOST_ORDERS, "line", "Orders");
        self.trips();
    }

    /// All loads, and the words of the trips that take the most, said once however many are alike.
    fn trips(&mut self) {
        // Without a vehicle nobody knows the loads; a caution says so.
        let trips = self.estimate.bought.trips.iter();
        let trips: Vec<&Trips> = trips.filter(|t| t.vehicle.is_some()).collect();
        let loads = |t: &Trips| (t.after_rain, t.loads.len());
        let by_loads = |a: &&&Trips, b: &&&Trips| {
            let words = b.words.cmp(&a.words);
            loads(a).cmp(&loads(b)).then(words)
        };
        let Some(most) = trips.iter().max_by(by_loads) else {
            return;
        };
        if trips.iter().all(|t| t.words == most.words) {
            self.wrapped(&format!("Loads: {}", most.words), "  ");
            return;
        }
        let dry: usize = trips.iter().map(|t| t.loads.len()).sum();
        let wet = trips
            .iter()
            .fold(0_u32, |sum, t| sum.saturating_add(t.after_rain));
        let (dry, wet) = (show::grouped(dry.into(), 0), show::grouped(wet.into(), 0));
        let words = format!(
            "Loads: {dry}, after rain {wet}; the most for {}",
            most.words
        );
        self.wrapped(&words, "  ");
    }

    fn order_of(&self, a: &OrderLine, b: &OrderLine) -> Ordering {
        let material = |l: &OrderLine| self.names.0.material_name(l.material).to_owned();
        let cost = b.cost.cmp(&a.cost).then_with(|| a.free.cmp(&b.free));
        cost.then_with(|| by_name(&material(a), &material(b)))
            .then_with(|| by_name(&self.place_of(a), &self.place_of(b)))
            .then_with(|| a.quantity.cmp(&b.quantity))
            .then_with(|| a.offer.cmp(&b.offer))
    }

    /// Where it goes and when, if the job has more than one drop: ` to North lot, top-up`.
    fn place_of(&self, line: &OrderLine) -> String {
        let place = match line.scope {
            Scope::Drop(site, phase) => self.names.drop(site, phase),
            Scope::Job => String::new(),
        };
        let to = if place.is_empty() { "" } else { " to " };
        let topping = match line.moment {
            Moment::Build => "",
            Moment::TopUp => ", top-up",
        };
        format!("{to}{place}{topping}")
    }

    /// `  8.5 yards of Garden blend to Front court   Creek Yard          391.00`
    fn order(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.names.offer(id));
        let material = self.names.0.material_name(line.material);
        let goods = match offer {
            Some(offer) => {
                let packs = show::packs(line.quantity, &offer.pack);
                let of = if packs.contains(' ') { "of " } else { "" };
                format!("{packs} {of}{material}{}", self.size_of(offer))
            }
            None => match line.need {
                Amount::Count(_) => format!("{} {material}", self.system().amount(line.need)),
                other => format!("{} of {material}", self.system().amount(other)),
            },
        };
        let cost = match line.price {
            _ if line.free => "free".to_owned(),
            None => "no price".to_owned(),
            Some(_) => self.money(line.cost),
        };
        let seller = offer.map_or("", |offer| self.names.supplier(offer.supplier));
        let goods = format!("{goods}{}", self.place_of(line));
        // An amount is never cut: the goods give way.
        let width = cost.chars().count().max(13);
        let line = format!(
            "  {} {} {cost:>width$}",
            pad(&goods, 56_usize.saturating_sub(width)),
            pad(seller, 20),
        );
        line.trim_end().to_owned()
    }

    /// How long a stick is: a board without its length cannot be ordered.
    fn size_of(&self, offer: &Offer) -> String {
        match offer.holds {
            Amount::Length(length) => format!(", {}", self.system().length(length)),
            _ => String::new(),
        }
    }

    fn work(&mut self) {
        let words = &self.estimate.price.hours_words;
        if words.is_empty() {
            return;
        }
        let words = format!("Work: {words}");
        self.wrapped(&words, "  ");
    }

    fn price(&mut self) {
        let currency = self.estimate.job.settings.currency.value;
        let title = format!("Price in {}", currency.as_str());
        self.heading(&title);
        let lines = self.estimate.price.lines.iter();
        let told: Vec<&PriceLine> = lines.filter(|line| is_told(line)).collect();
        let amounts: Vec<String> = told.iter().map(|line| self.money(line.amount)).collect();
        // An amount is never cut: words give way.
        let longest = amounts.iter().map(|a| a.chars().count()).max();
        let width = longest.unwrap_or(0).max(14);
        for (line, amount) in told.into_iter().zip(amounts) {
            let shown = format!(
                "  {} {}  {}",
                pad(self.label(line), 26),
                pad_left(&amount, width),
                fit(&line.words, 49_usize.saturating_sub(width))
            );
            let shown = shown.trim_end();
            if line.is_total {
                self.raw(&self.paint.heading(shown));
            } else {
                self.raw(shown);
            }
        }
        if !self.estimate.is_complete() {
            let words = if self.estimate.job.left_out.is_empty() {
                "  Not complete: lines without a price are missing above"
            } else {
                "  Not complete: what is left out, as told above, is not in it"
            };
            self.raw(&self.paint.warning(words));
        }
        self.top_up();
    }

    /// A total that leaves lines out does not call itself the price.
    fn label<'l>(&self, line: &'l PriceLine) -> &'l str {
        if line.key == "total" && !self.estimate.is_complete() {
            "So far, not the price"
        } else {
            &line.label
        }
    }

    /// The priced alternative beside the total.
    fn top_up(&mut self) {
        let adds = self.estimate.price.top_up;
        let Some(adds) = adds.filter(|adds| !adds.is_zero()) else {
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
        self.sinking();
        if !self.estimate.not_priced.is_empty() {
            let words = format!("Not priced: {}", self.estimate.not_priced.join(", "));
            self.wrapped(&words, "  ");
        }
        let mut last = Vec::new();
        if let Some((day, age)) = self.estimate.price.oldest_price {
            let days = if age == 1 { "day" } else { "days" };
            last.push(format!("Oldest price used: {day}, {age} {days} old"));
        }
        let cautions = self.estimate.problems.iter();
        match cautions.filter(|p| p.severity == Severity::Caution).count() {
            0 => {}
            1 => last.push("1 caution: local code and licensed practice decide".to_owned()),
            n => last.push(format!(
                "{n} cautions: local code and licensed practice decide"
            )),
        }
        // One line when it holds both.
        let both = last.join("; ");
        if both.chars().count() <= WIDTH {
            last = vec![both];
        }
        for line in last.iter().filter(|line| !line.is_empty()) {
            self.raw(line);
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

    /// On one line, unless the folder has a long name: that stays whole, since paths are copied.
    fn outputs(&mut self, written: &Written) {
        let folder = clean(&written.folder.display().to_string());
        let names = clean(&written.names.join(", "));
        let line = format!("Written to {folder}: {names}");
        if line.chars().count() <= WIDTH {
            self.raw(&line);
        } else {
            self.raw(&format!("Written to {folder}:"));
            self.wrapped(&format!("  {names}"), "  ");
        }
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

/// Nothing added and nothing but a sum carried on is left out; the total stands even at nothing.
fn is_told(line: &PriceLine) -> bool {
    line.key == "total" || !(line.amount.is_zero() || CARRIED.contains(&line.key))
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
