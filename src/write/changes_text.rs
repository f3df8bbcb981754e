//! What moved between two estimates, for the terminal: the lines of the price, then why.

use super::columns::{fit, pad, pad_left, width, wrap};
use super::names::by_name;
use super::screen::Screen;
use crate::price::changes::{Changes, Met, Moved};
use crate::units::{Currency, Money, show};

/// Things of one kind that are shown where the price is what is looked for.
const FEW: usize = 5;
/// Columns of the names of lines.
const NAMES: usize = 26;

/// What moved, each line ended; a sentence when nothing did.
pub fn changes_text(changes: &Changes, currency: Currency, screen: Screen) -> String {
    told(changes, currency, screen, FEW)
}

/// As [`changes_text`], with everything that moved.
pub fn all_changes_text(changes: &Changes, currency: Currency, screen: Screen) -> String {
    told(changes, currency, screen, usize::MAX)
}

fn told(changes: &Changes, currency: Currency, screen: Screen, most: usize) -> String {
    let text = Text {
        currency,
        screen,
        most,
    };
    let mut lines = Vec::new();
    if changes.is_empty() {
        lines.push(format!(
            "Nothing moved; the price is {}",
            currency.show(changes.total.1)
        ));
    } else {
        lines.extend(text.beds(changes));
        lines.extend(text.choices(changes));
        lines.extend(text.orders(changes));
        lines.extend(text.hours(changes));
        lines.extend(text.price(changes));
    }
    lines.into_iter().map(|line| line + "\n").collect()
}

struct Text {
    currency: Currency,
    screen: Screen,
    /// Things of one kind that are shown.
    most: usize,
}

impl Text {
    fn wrapped(&self, words: &str) -> Vec<String> {
        wrap(&super::columns::clean(words), self.screen.width, "    ")
    }

    fn beds(&self, changes: &Changes) -> Vec<String> {
        let told = |m: &Moved<String>| match (&m.before, &m.after) {
            (None, Some(now)) => format!("  new bed {}: {now}", m.name),
            (Some(was), None) => format!("  no bed {} any more: {was}", m.name),
            (was, now) => format!(
                "  bed {}: {} -> {}",
                m.name,
                of(was.as_ref()),
                of(now.as_ref())
            ),
        };
        self.list(&changes.sizes, "beds", told)
    }

    fn choices(&self, changes: &Changes) -> Vec<String> {
        let words = |met: &Option<Met>| met.as_ref().map_or("", |m| &m.words).to_owned();
        let told =
            |m: &Moved<Met>| format!("  {}: {} -> {}", m.name, words(&m.before), words(&m.after));
        self.list(&changes.choices, "choices", told)
    }

    fn orders(&self, changes: &Changes) -> Vec<String> {
        let told = |m: &Moved<crate::price::changes::Bought>| {
            let words = |b: &crate::price::changes::Bought| {
                format!("{}, {}", b.packs, self.currency.show(b.cost))
            };
            match (&m.before, &m.after) {
                (None, Some(now)) => format!("  new order {}: {}", m.name, words(now)),
                (Some(was), None) => format!("  no more {}: {}", m.name, words(was)),
                (Some(was), Some(now)) => {
                    format!("  {}: {} -> {}", m.name, words(was), words(now))
                }
                (None, None) => String::new(),
            }
        };
        self.list(&changes.orders, "orders", told)
    }

    fn hours(&self, changes: &Changes) -> Vec<String> {
        let hours = |h: &Option<crate::units::Hours>| {
            show::grouped_plain(h.unwrap_or_default().in_hours(), 2)
        };
        let told = |m: &Moved<crate::units::Hours>| {
            format!(
                "  {}: {} -> {} hours",
                m.name,
                hours(&m.before),
                hours(&m.after)
            )
        };
        self.list(&changes.hours, "tasks", told)
    }

    /// The first few by name, and how many more.
    fn list<T>(
        &self,
        moved: &[Moved<T>],
        things: &str,
        told: impl Fn(&Moved<T>) -> String,
    ) -> Vec<String> {
        let mut sorted: Vec<&Moved<T>> = moved.iter().collect();
        sorted.sort_by(|a, b| by_name(&a.name, &b.name));
        let mut lines = Vec::new();
        // A long list gets a title.
        if self.most > FEW && !sorted.is_empty() {
            let mut title = things.to_owned();
            if let Some(first) = title.get_mut(..1) {
                first.make_ascii_uppercase();
            }
            lines.push(self.screen.paint.heading(&title));
        }
        for one in sorted.iter().take(self.most) {
            lines.extend(self.wrapped(&told(one)));
        }
        if sorted.len() > self.most {
            lines.push(format!("  and {} more {things}", sorted.len() - self.most));
        }
        lines
    }

    fn price(&self, changes: &Changes) -> Vec<String> {
        let mut lines = Vec::new();
        if changes.price.is_empty() {
            lines.push(format!(
                "The price stays {}",
                self.currency.show(changes.total.1)
            ));
            return lines;
        }
        let title = format!(
            "Price in {}: before, now, difference",
            self.currency.as_str()
        );
        lines.push(self.screen.paint.heading(&title));
        let rows: Vec<[String; 4]> = changes.price.iter().map(|m| self.row(m)).collect();
        let column = |n: usize| {
            let widths = rows.iter().filter_map(|row| row.get(n)).map(|t| width(t));
            widths.max().unwrap_or(0)
        };
        let widths = [column(1), column(2), column(3)];
        for [name, was, now, by] in &rows {
            let [w, n, b] = widths;
            let line = format!(
                "  {} {} -> {}  {}",
                pad(name, NAMES),
                pad_left(was, w),
                pad_left(now, n),
                pad_left(by, b)
            );
            lines.push(fit(&line, self.screen.width.max(NAMES + w + n + b + 9)));
        }
        lines
    }

    fn row(&self, moved: &Moved<Money>) -> [String; 4] {
        let (was, now) = (moved.before, moved.after);
        let show = |money: Option<Money>| money.map_or_else(String::new, |m| self.currency.show(m));
        let by = now.unwrap_or(Money::ZERO) - was.unwrap_or(Money::ZERO);
        let sign = if by > Money::ZERO { "+" } else { "" };
        [
            moved.name.clone(),
            show(was),
            show(now),
            format!("{sign}{}", self.currency.show(by)),
        ]
    }
}

fn of(words: Option<&String>) -> &str {
    words.map_or("", |words| words)
}
