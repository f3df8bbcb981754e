//! What the alternates add or deduct.

use std::cmp::Ordering;

use super::Page;
use crate::price::{Alternate, Outcome};
use crate::units::Money;

impl Page<'_> {
    /// A line each, below the price.
    pub(super) fn alternates(&self) -> Vec<String> {
        let all = &self.estimate.alternates;
        if all.is_empty() {
            return Vec::new();
        }
        let mut lines = vec![self.heading("Alternates, each by itself")];
        for alternate in all {
            lines.extend(self.wrapped(&self.alternate(alternate), "    "));
        }
        lines
    }

    fn alternate(&self, alternate: &Alternate) -> String {
        let name = &alternate.name;
        let (total, adds) = match &alternate.outcome {
            Outcome::Priced { total, adds } => (self.money(*total), *adds),
            Outcome::NotComplete(words) => return format!("  {name}: {words}"),
        };
        match adds.cmp(&Money::ZERO) {
            Ordering::Greater => format!("  {name}: add {}, then {total}", self.money(adds)),
            Ordering::Less => {
                let off = self.money(Money::ZERO - adds);
                format!("  {name}: deduct {off}, then {total}")
            }
            Ordering::Equal => format!("  {name}: the same price"),
        }
    }
}
