//! The price: costs on the left, what is put on them, with what it is a share of, on the right.

use rust_decimal::Decimal;

use super::Page;
use crate::model::quote::Rounding;
use crate::model::settings::{ProfitAs, TaxMode};
use crate::price::PriceLine;
use crate::units::show;
use crate::write::columns::{fit, pad, pad_left, width};

/// Lines of the price between direct cost and total that only carry a sum on.
const CARRIED: [&str; 3] = ["marked_up", "before_rounding", "before_tax"];
/// Columns of the names on the left.
const LEFT: usize = 22;
/// Columns that part left from right.
const GAP: usize = 3;
/// Fewest columns in which the names on the right can be read.
const FEWEST: usize = 26;

impl Page<'_> {
    pub(super) fn price(&self) -> Vec<String> {
        let currency = self.estimate.job.settings.currency.value;
        let title = format!("Price in {}", currency.as_str());
        let mut lines = vec![self.heading(&title)];
        lines.extend(self.table());
        if !self.estimate.is_complete() {
            let words = if self.estimate.job.left_out.is_empty() {
                "  Not complete: lines without a price are missing above"
            } else {
                "  Not complete: what is left out, as told above, is not in it"
            };
            lines.push(self.screen.paint.warning(words));
        }
        lines.extend(self.top_up());
        lines
    }

    /// Both columns side by side, or one below the other where amounts are too long for that.
    fn table(&self) -> Vec<String> {
        let lines = self.estimate.price.lines.iter();
        let told: Vec<&PriceLine> = lines.filter(|line| is_told(line)).collect();
        let direct = told.iter().position(|line| line.key == "direct_cost");
        let (costs, rest) = told.split_at(direct.unwrap_or(0));
        let amounts = told.iter().map(|line| width(&self.money(line.amount)));
        // An amount is never cut: words give way.
        let amount = amounts.max().unwrap_or(0).max(10);
        let right = self
            .screen
            .width
            .saturating_sub(2 + LEFT + 1 + amount + GAP + 1 + amount);
        if right < FEWEST || costs.is_empty() {
            let room = self.screen.width.saturating_sub(3 + amount);
            let all = room.min(LEFT + FEWEST);
            return told
                .iter()
                .map(|l| self.line(l, all, amount, "  "))
                .collect();
        }
        // Costs stand at the top, and the price at the bottom.
        let rows = costs.len().max(rest.len());
        let blank = " ".repeat(2 + LEFT + 1 + amount);
        (0..rows)
            .map(|row| {
                let cost = costs.get(row);
                let left = cost.map_or_else(|| blank.clone(), |l| self.line(l, LEFT, amount, "  "));
                let added = (row + rest.len())
                    .checked_sub(rows)
                    .and_then(|r| rest.get(r));
                let gap = " ".repeat(GAP);
                let added = added.map_or_else(String::new, |l| self.line(l, right, amount, &gap));
                format!("{left}{added}").trim_end().to_owned()
            })
            .collect()
    }

    fn line(&self, line: &PriceLine, words: usize, amount: usize, indent: &str) -> String {
        let shown = format!(
            "{indent}{} {}",
            pad(&self.told(line), words),
            pad_left(&self.money(line.amount), amount)
        );
        if line.key == "total" {
            self.screen.paint.heading(&shown)
        } else {
            shown
        }
    }

    /// A line's name with its base: `Overhead 12% of direct cost`. A total that leaves lines out does
    /// not call itself the price.
    fn told(&self, line: &PriceLine) -> String {
        let settings = &self.estimate.job.settings;
        let percent = |share: Decimal| {
            let hundred = share.saturating_mul(Decimal::ONE_HUNDRED);
            format!("{}%", show::plain(hundred, 3))
        };
        match line.key {
            "overhead" => format!(
                "Overhead {} of direct cost",
                percent(settings.overhead.value)
            ),
            "contingency" => format!(
                "Contingency {} of direct cost",
                percent(settings.contingency.value)
            ),
            "profit" => {
                let profit = percent(settings.profit.value);
                match settings.profit_as.value {
                    ProfitAs::Markup => format!("Profit {profit} on the above"),
                    ProfitAs::Margin => format!("Profit {profit} of the price"),
                }
            }
            "overhead_hours" => {
                let rate = settings.quote.overhead_per_hour.as_ref();
                let rate = rate.map_or(Decimal::ZERO, |rate| rate.value);
                format!("Overhead {} a paid hour", show::grouped_plain(rate, 4))
            }
            "minimum" => "Up to the minimum charge".to_owned(),
            "rounding" => {
                let step = show::grouped_plain(settings.round_to.value, 3);
                match settings.quote.rounds() {
                    Rounding::Up => format!("Rounding to the next {step}"),
                    Rounding::Nearest => format!("Rounding to the nearest {step}"),
                    Rounding::Down => format!("Rounding down to {step}"),
                }
            }
            "tax" => {
                let on = match settings.tax_mode.value {
                    TaxMode::OnMaterials => "on materials",
                    TaxMode::OnCategories => "on some lines",
                    _ => "on the price",
                };
                {
                    let rate = settings.tax_on(self.estimate.date);
                    format!("Sales tax {} {on}", percent(rate.value))
                }
            }
            "total" if !self.estimate.is_complete() => "So far, not the price".to_owned(),
            _ => line.label.to_string(),
        }
    }

    /// The priced alternative beside the total.
    fn top_up(&self) -> Option<String> {
        let adds = self.estimate.price.top_up;
        let adds = adds.filter(|adds| !adds.is_zero())?;
        let total = self.estimate.price.total;
        let words = format!(
            "  With the top-up after the first season: {} + {} = {}",
            self.money(total),
            self.money(adds),
            self.money(total + adds)
        );
        let short = format!("  With the top-up: {}", self.money(total + adds));
        let fits = width(&words) <= self.screen.width;
        Some(if fits {
            words
        } else {
            fit(&short, self.screen.width)
        })
    }
}

/// Nothing added and nothing but a sum carried on is left out; the total stands even at nothing.
fn is_told(line: &PriceLine) -> bool {
    line.key == "total" || !(line.amount.is_zero() || CARRIED.contains(&line.key))
}
