//! The page for the client in plain text, to read, print or paste into a letter: made from a
//! [`ClientView`] and from nothing else.

use std::cmp::Ordering;

use super::columns::{clean, pad, pad_left, width, wrap};
use crate::price::client::{Built, ClientView, Goods, LineKind};
use crate::units::Money;

/// Columns of a page.
const WIDE: usize = 76;
/// Columns that names of lines take at most.
const NAMES: usize = 56;
/// How far lists stand in.
const IN: &str = "  ";
/// How far what belongs to a line of a list stands in.
const FURTHER: &str = "      ";

/// The page, each line ended.
pub fn client_page(view: &ClientView) -> String {
    let page = Page { view };
    let sections = [
        page.head(),
        built("What is built", &view.beds),
        built("Paths and surrounds", &view.areas),
        page.price(),
        page.choices(),
        page.payments(),
        goods("What is brought or used from the site", &view.goods),
        goods("What is taken away", &view.taken_away),
        page.beside(),
        page.cautions(),
    ];
    let mut text = String::new();
    for section in sections.iter().filter(|section| !section.is_empty()) {
        if !text.is_empty() {
            text.push('\n');
        }
        for line in section {
            text.push_str(line.trim_end());
            text.push('\n');
        }
    }
    text
}

struct Page<'v> {
    view: &'v ClientView,
}

impl Page<'_> {
    fn head(&self) -> Vec<String> {
        let head = &self.view.head;
        let number = match (&head.number, &head.revision) {
            (Some(number), Some(revision)) => format!(" {number}, revision {revision},"),
            (Some(number), None) => format!(" {number}"),
            (None, Some(revision)) => format!(", revision {revision},"),
            (None, None) => String::new(),
        };
        let title = clean(&head.job);
        let rule = "=".repeat(width(&title).min(WIDE));
        let mut lines = vec![title, rule];
        lines.extend(
            head.client
                .iter()
                .map(|client| format!("For {}", clean(client))),
        );
        let by = head.prepared_by.as_ref();
        let by = by.map_or_else(String::new, |by| format!(", prepared by {by}"));
        lines.extend(wrapped(&format!("Quote{number} of {}{by}", head.date), ""));
        lines.push(format!("The price holds until {}", head.valid_until));
        for place in &self.view.places {
            let address = place.address.as_deref();
            let address = address.map_or_else(String::new, |a| format!(", {a}"));
            lines.extend(wrapped(&format!("Place: {}{address}", place.name), IN));
        }
        lines
    }

    fn price(&self) -> Vec<String> {
        let mut lines = vec![format!("Price in {}", self.view.head.currency.as_str())];
        let amounts = self.view.lines.iter().map(|line| line.amount);
        let amounts: Vec<String> = amounts.map(|amount| self.money(amount)).collect();
        let total = self.money(self.view.total);
        let wide = amounts.iter().chain([&total]).map(|a| width(a)).max();
        let wide = wide.unwrap_or(0);
        for (line, amount) in self.view.lines.iter().zip(&amounts) {
            if line.kind == LineKind::Tax {
                let before = self.money(self.view.total - line.amount);
                lines.extend(in_columns("Before sales tax", &before, wide));
            }
            lines.extend(in_columns(&line.in_words(), amount, wide));
        }
        lines.push(format!("{IN}{}", "-".repeat(NAMES + 2 + wide)));
        lines.extend(in_columns("Price", &total, wide));
        lines.extend(wrapped(&self.view.tax, IN));
        if self
            .view
            .lines
            .iter()
            .any(|l| l.kind == LineKind::Allowance)
        {
            let words = "An allowance is settled by what is really spent on it";
            lines.extend(wrapped(words, IN));
        }
        lines
    }

    fn choices(&self) -> Vec<String> {
        let top_up = self
            .view
            .top_up
            .map(|adds| ("Top-up after the first season", adds));
        let alternates = self.view.alternates.iter().map(|a| (&*a.name, a.adds));
        let all: Vec<(&str, Money)> = top_up.into_iter().chain(alternates).collect();
        if all.is_empty() {
            return Vec::new();
        }
        let mut lines = vec!["To choose from, each by itself".to_owned()];
        for (name, adds) in &all {
            let words = match adds.cmp(&Money::ZERO) {
                Ordering::Greater => format!("{name}: add {}", self.money(*adds)),
                Ordering::Less => format!("{name}: deduct {}", self.money(Money::ZERO - *adds)),
                Ordering::Equal => format!("{name}: the same price"),
            };
            lines.extend(listed(&words));
        }
        if all.len() > 1 {
            let words = "Two of them together are not the sum of both: ask before you add";
            lines.extend(wrapped(words, IN));
        }
        lines
    }

    fn payments(&self) -> Vec<String> {
        if self.view.payments.is_empty() {
            return Vec::new();
        }
        let amounts = self.view.payments.iter().map(|due| self.money(due.amount));
        let amounts: Vec<String> = amounts.collect();
        let wide = amounts.iter().map(|a| width(a)).max().unwrap_or(0);
        let mut lines = vec!["Payments".to_owned()];
        for (due, amount) in self.view.payments.iter().zip(&amounts) {
            let when = due.when.as_ref();
            let when = when.map_or_else(String::new, |when| format!(", {when}"));
            lines.extend(in_columns(&format!("{}{when}", due.stage), amount, wide));
        }
        lines
    }

    fn beside(&self) -> Vec<String> {
        let view = self.view;
        let mut lines = Vec::new();
        let included: Vec<&str> = view.included.iter().map(|item| &**item).collect();
        let lists = [
            ("Included", included.join(", ")),
            ("Not included", view.not_included.join(", ")),
        ];
        for (title, list) in lists.iter().filter(|(_, list)| !list.is_empty()) {
            lines.extend(wrapped(&format!("{title}: {list}"), IN));
        }
        lines.extend(view.settling.iter().flat_map(|words| wrapped(words, IN)));
        lines
    }

    fn cautions(&self) -> Vec<String> {
        if self.view.cautions.is_empty() {
            return Vec::new();
        }
        let mut lines = vec!["Please note: local code and licensed practice decide".to_owned()];
        lines.extend(self.view.cautions.iter().flat_map(|words| listed(words)));
        lines
    }

    fn money(&self, money: Money) -> String {
        self.view.head.currency.show(money)
    }
}

fn built(title: &str, all: &[Built]) -> Vec<String> {
    if all.is_empty() {
        return Vec::new();
    }
    let told = all.iter().flat_map(one_built);
    std::iter::once(title.to_owned()).chain(told).collect()
}

fn goods(title: &str, goods: &[Goods]) -> Vec<String> {
    if goods.is_empty() {
        return Vec::new();
    }
    let told = goods.iter().flat_map(|goods| {
        let packs = goods.packs.join(", ");
        listed(&format!("{}: {packs}", goods.name))
    });
    std::iter::once(title.to_owned()).chain(told).collect()
}

fn one_built(of: &Built) -> Vec<String> {
    let count = match of.count {
        None | Some(1) => String::new(),
        Some(n) => format!("{n} x "),
    };
    let place = of.place.as_ref();
    let place = place.map_or_else(String::new, |place| format!(" ({place})"));
    let mut lines = listed(&format!("{count}{}{place}", of.name));
    let walls = of.walls.as_ref();
    let walls = walls.map_or_else(String::new, |walls| format!("; walls: {walls}"));
    let further = |words: &str| wrapped(&format!("{FURTHER}{words}"), FURTHER);
    lines.extend(further(&format!("{}{walls}", of.size)));
    if !of.filled_with.is_empty() {
        let layers = of.filled_with.join(", ");
        lines.extend(further(&format!("from the bottom up: {layers}")));
    }
    lines
}

/// Words at the left and an amount at the right of their last line.
fn in_columns(words: &str, amount: &str, wide: usize) -> Vec<String> {
    let mut lines = wrap(&clean(words), NAMES, IN);
    let last = lines.pop().unwrap_or_default();
    let mut told: Vec<String> = lines.iter().map(|line| format!("{IN}{line}")).collect();
    let mut last = last;
    if width(&last) > NAMES {
        // A word longer than a line stays whole, and the amount stands below it.
        told.push(format!("{IN}{last}"));
        last.clear();
    }
    let amount = pad_left(amount, wide);
    told.push(format!("{IN}{}  {amount}", pad(&last, NAMES)));
    told
}

fn listed(words: &str) -> Vec<String> {
    wrapped(&format!("{IN}- {words}"), "    ")
}

fn wrapped(words: &str, indent: &str) -> Vec<String> {
    wrap(&clean(words), WIDE, indent)
}
