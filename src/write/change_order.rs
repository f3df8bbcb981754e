//! A change order as plain text, safe to send: it is written from [`ChangeOrder`] alone.

use std::fmt::Write as _;

use super::columns::{clean, pad, pad_left, wrap};
use crate::price::change_order::{ChangeOrder, ChangedBed};
use crate::units::Money;

/// Characters of a line.
const WIDE: usize = 78;
/// Characters of its amounts.
const AMOUNT: usize = 14;

/// The text, each line ended.
pub fn change_order(order: &ChangeOrder) -> String {
    let mut text = String::new();
    let revision = if order.revision.is_empty() {
        String::new()
    } else {
        format!(", revision {}", order.revision)
    };
    let _ = writeln!(text, "CHANGE ORDER {}{revision}\n", clean(&order.number));
    let _ = writeln!(text, "Job:   {}", clean(&order.job));
    if let Some(client) = &order.client {
        let _ = writeln!(text, "For:   {}", clean(client));
    }
    if let Some(number) = &order.estimate {
        let _ = writeln!(text, "Changes estimate number {}", clean(number));
    }
    let _ = writeln!(text, "Date:  {}\n", order.date);
    let _ = writeln!(
        text,
        "What changes, in {} with tax\n",
        order.currency.as_str()
    );
    for bed in &order.beds {
        line(&mut text, order, &words(bed), bed.adds);
    }
    if order.rest != Money::ZERO {
        let words = if order.beds.is_empty() {
            "What goes into the beds and how it is built and paid for"
        } else {
            "Everything else: shared deliveries, days on site, rounding"
        };
        line(&mut text, order, words, order.rest);
    }
    text.push('\n');
    total(&mut text, order, "Price before", order.before, false);
    total(
        &mut text,
        order,
        "This change",
        order.after - order.before,
        true,
    );
    total(&mut text, order, "New price", order.after, false);
    let _ = writeln!(
        text,
        "\nThe new price holds until {}. Nothing is changed on site before both have signed.\n\n\
         For the client   ______________________________   Date ______________\n\n\
         For the builder  ______________________________   Date ______________",
        order.valid_until
    );
    text
}

fn words(bed: &ChangedBed) -> String {
    match (&bed.before, &bed.after) {
        (None, Some(now)) => format!("Added: {}, {now}", bed.name),
        (Some(was), None) => format!("Left out: {}, {was}", bed.name),
        (was, now) => {
            let of = |words: &Option<String>| words.clone().unwrap_or_default();
            format!("{}: {} instead of {}", bed.name, of(now), of(was))
        }
    }
}

fn signed(order: &ChangeOrder, money: Money) -> String {
    let sign = if money > Money::ZERO { "+" } else { "" };
    format!("{sign}{}", order.currency.show(money))
}

/// Words that wrap, with the amount behind the last of their lines.
fn line(text: &mut String, order: &ChangeOrder, words: &str, money: Money) {
    let lines = wrap(&clean(words), WIDE.saturating_sub(AMOUNT), "  ");
    let last = lines.len().saturating_sub(1);
    for (place, words) in lines.iter().enumerate() {
        let amount = if place == last {
            pad_left(&signed(order, money), AMOUNT)
        } else {
            String::new()
        };
        let words = pad(words, WIDE.saturating_sub(AMOUNT));
        let _ = writeln!(text, "{}", format!("{words}{amount}").trim_end());
    }
}

fn total(text: &mut String, order: &ChangeOrder, words: &str, money: Money, is_change: bool) {
    let amount = if is_change {
        signed(order, money)
    } else {
        order.currency.show(money)
    };
    let words = pad(words, WIDE.saturating_sub(AMOUNT));
    let _ = writeln!(text, "{words}{}", pad_left(&amount, AMOUNT));
}
