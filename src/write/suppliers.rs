//! Suppliers side by side, for the terminal.

use super::columns::{clean, fit, pad, pad_left, width, wrap};
use super::names::moment_word;
use super::screen::Screen;
use crate::buying::BreakEven;
use crate::price::Estimate;
use crate::price::suppliers::{Comparison, Row, Single};
use crate::takeoff::Moment;
use crate::units::show::{grouped_plain, plain};
use crate::units::{Decimal, Money, System};

/// Columns of a material's name at most.
const NAMES: usize = 28;
/// Columns of one supplier.
const SELLER: usize = 12;
/// Doubtful prices that are told; `--json` has all.
const MOST_DOUBTS: usize = 12;
/// Ranges of a break-even that are told.
const MOST_RANGES: usize = 4;
/// Points of a break-even that are drawn.
const POINTS: usize = 12;
/// Columns of the bars of a break-even.
const BARS: usize = 30;
/// Said at the end.
const HOW: &str = "Landed cost: goods and the trips that bring them, before tax, for the prices and specs typed; quality is not \
     compared. Each supplier was asked for the whole need, with their packs, steps, least orders, loads and fees. The best \
     split is made material by material and drop by drop: least orders and free delivery over several materials are granted \
     after the choice and not hunted for.";

/// The comparison as text, each line ended.
pub fn suppliers_text(estimate: &Estimate, of: &Comparison, screen: Screen) -> String {
    let page = Page {
        estimate,
        of,
        screen,
    };
    let sections = [
        vec![fit(&estimate.job.settings.job_name, screen.width)],
        page.matrix(),
        page.ways(),
        page.flips(),
        page.break_evens(),
        page.doubts(),
        wrap(HOW, screen.width, ""),
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

/// The comparison of a job without a supplier.
pub const NOBODY: &str = "No supplier sells anything that this job needs: fill in Prices first.\n";

struct Page<'a> {
    estimate: &'a Estimate,
    of: &'a Comparison,
    screen: Screen,
}

impl Page<'_> {
    fn money(&self, money: Money) -> String {
        self.estimate.job.settings.currency.value.show(money)
    }

    /// `Topsoil`, `Topsoil, top-up`.
    fn name(row: &Row) -> String {
        match row.moment {
            Moment::Build => row.name.to_string(),
            Moment::TopUp => format!("{}, {}", row.name, moment_word(row.moment)),
        }
    }

    /// Materials down, suppliers across; `*` stands at whoever has it in the orders. Where suppliers do not fit side
    /// by side they stand in blocks.
    fn matrix(&self) -> Vec<String> {
        let code = self.estimate.job.settings.currency.value;
        let title = format!("Landed cost in {} of all that is needed", code.as_str());
        let mut lines = vec![self.screen.paint.heading(&title)];
        let names: Vec<String> = self.of.rows.iter().map(Self::name).collect();
        let wide = names.iter().map(|name| width(name)).max().unwrap_or(0);
        let wide = wide.clamp(8, NAMES);
        let room = self.screen.width.saturating_sub(wide + 2);
        let beside = (room / (SELLER + 2)).max(1);
        let places: Vec<usize> = (0..self.of.suppliers.len()).collect();
        for block in places.chunks(beside) {
            let heads = block
                .iter()
                .filter_map(|place| self.of.suppliers.get(*place));
            let heads: Vec<String> = heads.map(|name| pad_left(&clean(name), SELLER)).collect();
            lines.push(format!("  {}  {}", pad("", wide), heads.join("  ")));
            for (row, name) in self.of.rows.iter().zip(&names) {
                let cells: String = block.iter().map(|place| self.cell(row, *place)).collect();
                lines.push(format!("  {}{cells}", pad(name, wide)));
            }
        }
        lines.push("  * has it in the orders, or a part of it; - no price, or too few".to_owned());
        lines
    }

    fn cell(&self, row: &Row, place: usize) -> String {
        let landed = row.landed.get(place).copied().flatten();
        let name = self.of.suppliers.get(place);
        let is_chosen = name.is_some_and(|name| row.chosen.0.contains(name));
        let words = landed.map_or_else(|| "-".to_owned(), |money| self.money(money));
        let mark = if is_chosen { "*" } else { " " };
        format!(" {}{mark}", pad_left(&words, SELLER))
    }

    /// One supplier alone, the orders, the least, and with fewer.
    fn ways(&self) -> Vec<String> {
        let mut lines = vec![self.screen.paint.heading("Everything together")];
        let singles = self.of.singles.iter();
        for single in singles {
            let name = single
                .from
                .first()
                .map_or_else(|| "nobody".to_owned(), |n| clean(n));
            lines.extend(self.way(&format!("all from {name}"), single));
        }
        lines.extend(self.way("as the orders have it", &self.of.as_ruled));
        lines.extend(self.way("least cost", &self.of.least));
        let fewest = &self.of.fewest;
        let percent = plain(fewest.within.saturating_mul(Decimal::ONE_HUNDRED), 2);
        let proof = if fewest.is_proven {
            "every set tried"
        } else {
            "searched, not proven"
        };
        lines.extend(self.way(
            &format!("fewest suppliers within {percent}% ({proof})"),
            &fewest.single,
        ));
        lines
    }

    fn way(&self, words: &str, single: &Single) -> Vec<String> {
        let more = single.cost - self.of.least.cost;
        let from: Vec<String> = single.from.iter().map(|name| clean(name)).collect();
        let mut told = format!("  {words}: {}", self.money(single.cost));
        if single.lacks.is_empty() {
            if more > Money::ZERO {
                told = format!("{told}, {} more than the least", self.money(more));
            }
            if from.len() > 1 {
                told = format!("{told}; from {}", from.join(", "));
            }
        } else {
            let lacks: Vec<String> = single.lacks.iter().map(|name| clean(name)).collect();
            told = format!("{told} without {}: no price, or too few", lacks.join(", "));
        }
        wrap(&told, self.screen.width, "    ")
    }

    /// Which price would have to move to which, before another offer is taken.
    fn flips(&self) -> Vec<String> {
        let rows = self.of.rows.iter().filter_map(|row| Some((row, row.flip?)));
        let mut rows: Vec<(&Row, (Decimal, Decimal))> = rows.collect();
        let change = |(price, flip): &(Decimal, Decimal)| {
            let part = flip.checked_div(*price).unwrap_or(Decimal::ONE);
            part.saturating_sub(Decimal::ONE)
        };
        rows.sort_by(|a, b| {
            change(&a.1)
                .cmp(&change(&b.1))
                .then_with(|| a.0.name.cmp(&b.0.name))
        });
        if rows.is_empty() {
            return Vec::new();
        }
        let title = "What would change the choice: the price of a unit, and from where on another is cheaper";
        let mut lines = wrap(title, self.screen.width, "");
        if let Some(first) = lines.first_mut() {
            *first = self.screen.paint.heading(first);
        }
        for (row, (price, flip)) in rows {
            let percent = plain(
                change(&(price, flip)).saturating_mul(Decimal::ONE_HUNDRED),
                1,
            );
            let sign = if flip >= price { "+" } else { "" };
            let who: Vec<String> = row.chosen.0.iter().map(|name| clean(name)).collect();
            let words = format!(
                "  {} from {}: {} now, another from {} on ({sign}{percent}%)",
                Self::name(row),
                who.join(" and "),
                grouped_plain(price, 4),
                grouped_plain(flip, 4)
            );
            lines.extend(wrap(&words, self.screen.width, "    "));
        }
        lines
    }

    fn break_evens(&self) -> Vec<String> {
        let mut lines = Vec::new();
        for even in &self.of.break_evens {
            if !lines.is_empty() {
                lines.push(String::new());
            }
            lines.extend(self.break_even(even));
        }
        lines
    }

    /// Which of the two the need takes, in which ranges loads are no dearer, and bars of both.
    fn break_even(&self, even: &BreakEven) -> Vec<String> {
        let units = self.estimate.job.settings.units.value;
        let name = clean(self.estimate.job.material_name(even.material));
        let title = format!("{name}: packs against loads, delivery included");
        let mut lines = vec![self.screen.paint.heading(&fit(&title, self.screen.width))];
        for words in [self.at_need(even), ranges(even, units)] {
            lines.extend(wrap(&format!("  {words}"), self.screen.width, "    "));
        }
        let most = even.points.iter().map(|(_, a, b)| (*a).max(*b)).max();
        let most = most.unwrap_or_default();
        let step = even.points.len().div_ceil(POINTS).max(1);
        let drawn = even.points.iter().skip(step - 1).step_by(step);
        for (amount, packed, loose) in drawn {
            let amount = pad_left(&units.amount(*amount), 10);
            for (word, money) in [("packs", packed), ("loads", loose)] {
                let bar = bar(*money, most, if word == "packs" { '=' } else { '#' });
                let lead = if word == "packs" { amount.as_str() } else { "" };
                lines.push(format!(
                    "  {} {word} {} {}",
                    pad_left(lead, 10),
                    pad_left(&self.money(*money), 10),
                    bar
                ));
            }
        }
        lines
    }

    /// `the largest drop needs 5.1 yd3: packs 368.00, loads 326.00`.
    fn at_need(&self, even: &BreakEven) -> String {
        let units = self.estimate.job.settings.units.value;
        let cost = |money: Option<Money>| {
            money.map_or_else(
                || "nobody has so much at a known price".to_owned(),
                |m| self.money(m),
            )
        };
        let (packs, loads) = even.at_need;
        let need = units.amount(even.need);
        format!(
            "the largest drop needs {need}: packs {}, loads {}",
            cost(packs),
            cost(loads)
        )
    }

    fn doubts(&self) -> Vec<String> {
        let doubts = &self.of.doubts;
        if doubts.is_empty() {
            return Vec::new();
        }
        let mut lines = vec![self.screen.paint.heading("Prices to look at again")];
        for doubt in doubts.iter().take(MOST_DOUBTS) {
            let words = format!("  {}  [{}]", clean(&doubt.words), clean(&doubt.place));
            lines.extend(wrap(&words, self.screen.width, "    "));
        }
        if doubts.len() > MOST_DOUBTS {
            lines.push(format!("  and {} more", doubts.len() - MOST_DOUBTS));
        }
        lines
    }
}

/// `a load costs no more from 3.65 yd3 to 6.35 yd3, and from 6.7 yd3 on (tried up to 8 yd3)`.
fn ranges(even: &BreakEven, units: System) -> String {
    let Some((last, ..)) = even.points.last() else {
        return "no quantity could be had both ways".to_owned();
    };
    let tried = format!("(tried up to {})", units.amount(*last));
    let ranges = even.ranges();
    let left = ranges.len().saturating_sub(MOST_RANGES);
    let told = ranges.iter().skip(left).map(|(from, to)| {
        let from_words = units.amount(*from);
        if to == last {
            format!("from {from_words} on")
        } else if from == to {
            format!("at {from_words}")
        } else {
            format!("from {from_words} to {}", units.amount(*to))
        }
    });
    let told: Vec<String> = told.collect();
    let less = match left {
        0 => String::new(),
        1 => "in 1 range of less, ".to_owned(),
        n => format!("in {n} ranges of less, "),
    };
    match told.as_slice() {
        [] => format!("packs cost less for every quantity {tried}"),
        _ => format!("a load costs no more {less}{} {tried}", told.join(", ")),
    }
}

fn bar(money: Money, most: Money, mark: char) -> String {
    let part = money
        .amount()
        .checked_div(most.amount())
        .unwrap_or_default();
    let long = part.saturating_mul(Decimal::from(BARS)).round();
    let long = usize::try_from(u64::try_from(long).unwrap_or(0)).unwrap_or(0);
    std::iter::repeat_n(mark, long.min(BARS)).collect()
}
