//! The beds by kind, as sizes in words.

use rust_decimal::Decimal;

use super::Page;
use crate::units::show;
use crate::write::columns::{fit, pad, width};
use crate::write::names::by_name;

/// Areas shown.
const MOST_AREAS: usize = 3;
/// Columns of a bed's name.
const MOST_NAME: usize = 20;

impl Page<'_> {
    /// How many kinds there are.
    pub(super) fn kind_count(&self) -> usize {
        self.estimate.kinds.kinds.len()
    }

    /// The heading with all counts, and the first kinds by name.
    pub(super) fn beds(&self, most: usize) -> Vec<String> {
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
        let mut lines = vec![self.heading(&self.beds_title(most))];
        let shown = shown.into_iter().take(most);
        let longest = shown.clone().map(|s| width(s.0)).max();
        let columns = longest.unwrap_or(0).min(MOST_NAME);
        for (name, count, size) in shown {
            let line = format!("{count:>4} x {} {size}", pad(name, columns));
            lines.push(fit(&line, self.screen.width));
        }
        lines.extend(self.areas());
        lines
    }

    /// The first areas by name, below the beds.
    fn areas(&self) -> Vec<String> {
        let estimate = self.estimate;
        let first = self.kind_count();
        let pairs = estimate.kinds.areas.iter();
        let pairs = pairs.zip(estimate.takeoffs.iter().skip(first));
        let mut shown: Vec<(&str, &str)> = pairs
            .filter_map(|(kind, takeoff)| {
                let area = estimate.job.areas.get(kind.area.index())?;
                Some((&*area.name, takeoff.size.as_str()))
            })
            .collect();
        shown.sort_by(|a, b| by_name(a.0, b.0));
        let lines = shown.iter().take(MOST_AREAS).map(|(name, size)| {
            let line = format!("     + {name}: {size}");
            fit(&line, self.screen.width)
        });
        let mut lines: Vec<String> = lines.collect();
        let more = shown.len().saturating_sub(MOST_AREAS);
        if more > 0 {
            lines.push(format!("     + {more} more on the sheet Areas"));
        }
        lines
    }

    fn beds_title(&self, most: usize) -> String {
        let kinds = self.kind_count();
        let counts = self.estimate.kinds.kinds.iter().map(|k| k.count);
        let total = counts.fold(Decimal::ZERO, Decimal::saturating_add);
        let total = show::grouped(total, 0);
        if kinds > most {
            format!("Beds: {total}, of {kinds} kinds; {most} here, all on sheet Beds")
        } else {
            format!("Beds: {total}")
        }
    }
}
