//! Settings of the quote: markups of categories, overhead by the hour, discount, rounding, a tax rate to come.

use super::payments::part;
use super::reading::Words;
use super::settings::Cells;
use crate::model::quote::{Marked, NewTax, Quote, Rounding};
use crate::problem::Problem;

const DISCOUNT: &str = "write a share as 5%, or a sum as 200";
/// Ways to round.
const ROUNDINGS: &Words<Rounding> = &[
    (&["up", "next"], Rounding::Up),
    (&["nearest", "near"], Rounding::Nearest),
    (&["down"], Rounding::Down),
];

/// What the `Job` sheet says of the quote.
pub(super) fn quote(cells: &mut Cells<'_>) -> Quote {
    let mut markups = Vec::new();
    for category in Marked::ALL {
        let own = cells.take(category.setting(), |r| r.percent("Value"));
        markups.extend(own.map(|markup| (category, markup)));
    }
    let quote = Quote {
        markups,
        overhead_per_hour: cells.take("Overhead per hour", |r| r.money("Value")),
        discount: cells.take("Discount", |r| part(r, "Value", DISCOUNT)),
        discount_for: cells.text("Discount for"),
        rounding: cells.take("Rounding", |r| r.choice("Value", ROUNDINGS)),
        new_tax: new_tax(cells),
    };
    if let Some(words) = quote
        .discount_for
        .as_ref()
        .filter(|_| quote.discount.is_none())
    {
        let said = format!("Discount for \"{words}\" is set and no discount");
        cells.notice("Discount for", said, "add a row Discount, with 5% or a sum");
    }
    quote
}

/// Both of the rate and its first day, or a problem about the one that is missing.
fn new_tax(cells: &mut Cells<'_>) -> Option<NewTax> {
    let rate = cells.take("New tax %", |r| r.percent("Value"));
    let from = cells.take("New tax from", |r| r.date("Value"));
    match (rate, from) {
        (Some(rate), Some(from)) => Some(NewTax { rate, from }),
        (Some(_), None) if !cells.has("New tax from") => {
            let hint = "add a row New tax from with the first day of the new rate";
            cells.complain("New tax %", "New tax % has no first day", hint);
            None
        }
        (None, Some(_)) if !cells.has("New tax %") => {
            let hint = "add a row New tax % with the rate from that day";
            cells.complain("New tax from", "New tax from has no rate", hint);
            None
        }
        _ => None,
    }
}

impl Cells<'_> {
    fn notice(&mut self, title: &'static str, said: String, hint: &str) {
        let notice = Problem::notice(said).hint(hint);
        let at = self.at(title);
        self.tell(at.map_or(notice.clone(), |row| notice.at(row, "Value")));
    }
}
