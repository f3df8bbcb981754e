//! The estimate on one screen: 24 lines of 80 columns for an ordinary job, wider and longer only where
//! the terminal is. What does not fit stands in the workbook, whose sheets are named.
//!
//! What the price needs stands whole; beds and orders share the lines that are left.

mod alternates;
mod beds;
mod chosen_anew;
mod orders;
mod price_lines;

use crate::labour::hours_in_price;
use crate::price::{Estimate, Validity};
use crate::problem::Severity;
use crate::units::{Length, Money, System};

use super::columns::{clean, fit, width, wrap};
use super::names::Names;
use super::screen::Screen;
use super::stage::Written;

/// Lines without a price shown.
const MOST_MISSING: usize = 4;
/// Kinds of bed, and lines of the order, that are shown even where they make the screen longer.
const FEWEST: usize = 2;
/// Kinds of bed, and lines of the order, that are shown at most.
const MOST: usize = 12;

/// The summary, each line ended.
pub fn summary(estimate: &Estimate, screen: Screen, written: Option<&Written>) -> String {
    let page = Page {
        estimate,
        names: Names(&estimate.job),
        screen,
    };
    page.composed(written)
}

struct Page<'a> {
    estimate: &'a Estimate,
    names: Names<'a>,
    screen: Screen,
}

impl Page<'_> {
    fn composed(&self, written: Option<&Written>) -> String {
        let head = self.head();
        let missing = self.missing_prices();
        let (price, work) = (self.price(), self.work());
        let anew = [self.alternates(), self.chosen_anew()].concat();
        let mut last = self.beside_the_price();
        last.extend(written.map_or_else(Vec::new, |written| self.outputs(written)));
        let (kinds, lines) = (self.kind_count(), self.estimate.bought.lines.len());
        // Two headings, and the line in which the next command is typed.
        let fixed =
            head.len() + missing.len() + anew.len() + price.len() + work.len() + last.len() + 3;
        let room = self.screen.height.saturating_sub(fixed);
        let (kinds, lines, air) = shared_out(room, kinds, lines);
        let sections = [
            head,
            missing,
            self.beds(kinds),
            self.orders(lines),
            work,
            price,
            anew,
            last,
        ];
        let mut text = String::new();
        // Blank lines go first where they part most: before the price, the beds, the orders, the end.
        let order = [5, 2, 3, 7];
        let parted = order.get(..air.min(order.len())).unwrap_or_default();
        for (place, section) in sections.iter().enumerate() {
            if parted.contains(&place) && !section.is_empty() {
                text.push('\n');
            }
            for line in section {
                text.push_str(line);
                text.push('\n');
            }
        }
        text
    }

    fn head(&self) -> Vec<String> {
        let settings = &self.estimate.job.settings;
        let name = fit(&settings.job_name, self.screen.width);
        let mut lines = vec![self.screen.paint.heading(&name)];
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
        lines.extend(self.wrapped(&line, "  "));
        lines
    }

    /// Loud, and before any figure.
    fn missing_prices(&self) -> Vec<String> {
        let Some(words) = self.estimate.not_complete() else {
            return Vec::new();
        };
        let lacking = self.estimate.lacking();
        let mut lines = vec![self.screen.paint.warning(&words)];
        for sentence in lacking.iter().take(MOST_MISSING) {
            lines.extend(self.wrapped(&format!("  {sentence}"), "    "));
        }
        if lacking.len() > MOST_MISSING {
            lines.push(format!("  and {} more", lacking.len() - MOST_MISSING));
        }
        lines
    }

    fn work(&self) -> Vec<String> {
        let hours = hours_in_price(&self.estimate.job, &self.estimate.labour);
        if hours.total.is_zero() {
            return Vec::new();
        }
        self.wrapped(&format!("Work: {}", hours.short()), "  ")
    }

    fn beside_the_price(&self) -> Vec<String> {
        let validity = Validity::of(self.estimate);
        let mut lines = self.wrapped(&format!("The price holds {validity}"), "  ");
        lines.extend(self.budget());
        lines.extend(self.sinking());
        // The top-up has a line of its own beside the price.
        let not_priced = self.estimate.not_priced.iter();
        let has_top_up = self
            .estimate
            .price
            .top_up
            .is_some_and(|adds| !adds.is_zero());
        let not_priced: Vec<&str> = not_priced
            .map(String::as_str)
            .filter(|words| !(has_top_up && words.starts_with("top-up visit")))
            .collect();
        if !not_priced.is_empty() {
            let words = format!("Not priced: {}", not_priced.join(", "));
            lines.extend(self.wrapped(&words, "  "));
        }
        let cautions = self.estimate.problems.iter();
        let cautions = cautions.filter(|p| p.severity == Severity::Caution).count();
        let cautions = match cautions {
            0 => None,
            1 => Some("1 caution: local code and licensed practice decide".to_owned()),
            n => Some(format!(
                "{n} cautions: local code and licensed practice decide"
            )),
        };
        let oldest = self.estimate.price.oldest_price;
        let oldest = oldest.filter(|_| validity.cut_by().is_none());
        let oldest = oldest.map(|(_, age)| format!("oldest price {} old", crate::price::days(age)));
        let both: Vec<String> = cautions.into_iter().chain(oldest).collect();
        let mut both = both.join("; ");
        if let Some(first) = both.get_mut(..1) {
            first.make_ascii_uppercase();
            lines.extend(self.wrapped(&both, "  "));
        }
        lines
    }

    /// Who pays, in a line or two.
    fn budget(&self) -> Vec<String> {
        let Some(budget) = &self.estimate.price.budget else {
            return Vec::new();
        };
        let mut parts: Vec<String> = budget
            .funders
            .iter()
            .map(|funder| {
                let most = funder
                    .amount
                    .map(|most| format!(" of {}", self.money(most)));
                format!(
                    "{} {}{}",
                    funder.name,
                    self.money(funder.total),
                    most.unwrap_or_default()
                )
            })
            .collect();
        let given: Money = budget.lines.iter().map(|line| line.in_kind).sum();
        if given != Money::ZERO {
            parts.push(format!("given in kind {}", self.money(given)));
        }
        parts.push(format!("not funded {}", self.money(budget.unfunded)));
        let mut lines = self.wrapped(&format!("Budget: {}", parts.join("; ")), "  ");
        if let Some(matching) = &budget.matching {
            let words = format!(
                "Match asked for {}, lacking {}",
                self.money(matching.asked),
                self.money(matching.short)
            );
            lines.extend(self.wrapped(&words, "  "));
        }
        lines
    }

    fn sinking(&self) -> Vec<String> {
        let takeoffs = &self.estimate.takeoffs;
        let sinks = takeoffs.iter().map(|t| t.sink).filter(|s| !s.is_zero());
        let sinks = range(sinks).map(|(least, most)| {
            format!(
                "Surface will sink about {} by autumn",
                self.depths(least, most)
            )
        });
        let above = takeoffs.iter().map(|t| t.stands_above);
        let above = range(above.filter(|h| *h > Length::ZERO))
            .map(|(least, most)| format!("{} above the wall", self.depths(least, most)));
        match (sinks, above) {
            (Some(sinks), Some(above)) => self.wrapped(&format!("{sinks}, from {above}"), "  "),
            (Some(sinks), None) => vec![sinks],
            (None, Some(above)) => vec![format!("On filling day the fill stands {above}")],
            (None, None) => Vec::new(),
        }
    }

    /// On one line, unless the folder has a long name: that stays whole, since paths are copied.
    fn outputs(&self, written: &Written) -> Vec<String> {
        let folder = clean(&written.folder.display().to_string());
        let names = clean(&written.names.join(", "));
        let line = format!("Written to {folder}: {names}");
        if width(&line) <= self.screen.width {
            return vec![line];
        }
        let mut lines = vec![format!("Written to {folder}:")];
        lines.extend(self.wrapped(&format!("  {names}"), "  "));
        lines
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

    fn money(&self, money: Money) -> String {
        self.estimate.job.settings.currency.value.show(money)
    }

    fn heading(&self, title: &str) -> String {
        self.screen.paint.heading(&fit(title, self.screen.width))
    }

    /// Breaks a sentence between words; lines after the first begin with `indent`.
    fn wrapped(&self, sentence: &str, indent: &str) -> Vec<String> {
        wrap(&clean(sentence), self.screen.width, indent)
    }
}

/// Lines for kinds of bed, for the order, and blank lines, out of the lines that are left: first a few
/// of each kind, then air, then as many as there are.
fn shared_out(room: usize, kinds: usize, lines: usize) -> (usize, usize, usize) {
    let (mut shown_kinds, mut shown_lines) = (kinds.min(FEWEST), lines.min(FEWEST));
    let mut left = room.saturating_sub(shown_kinds + shown_lines);
    let mut air = 0;
    let mut give = |to: &mut usize, most: usize| {
        let given = left > 0 && *to < most;
        if given {
            left -= 1;
            *to += 1;
        }
        given
    };
    // One blank line before the price is worth more than a third bed.
    give(&mut air, 1);
    give(&mut shown_lines, lines.min(FEWEST + 1));
    give(&mut shown_kinds, kinds.min(FEWEST + 1));
    while give(&mut air, 4) {}
    loop {
        let more_lines = give(&mut shown_lines, lines.min(MOST));
        let more_kinds = give(&mut shown_kinds, kinds.min(MOST));
        if !more_lines && !more_kinds {
            return (shown_kinds, shown_lines, air);
        }
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
