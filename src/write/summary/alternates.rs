//! What the alternates add or deduct.

use std::cmp::Ordering;

use super::Page;
use crate::price::Alternate;

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
        let (name, adds) = (&alternate.name, alternate.adds);
        let total = self.money(alternate.total);
        match adds.cmp(&crate::units::Money::ZERO) {
            Ordering::Greater => format!("  {name}: add {}, then {total}", self.money(adds)),
            Ordering::Less => {
                let off = crate::units::Money::ZERO - adds;
                format!("  {name}: deduct {}, then {total}", self.money(off))
            }
            Ordering::Equal => format!("  {name}: the same price"),
        }
    }
}
