//! What choosing anew changed in an estimate that was read back.

use std::cmp::Ordering;

use super::Page;
use crate::price::changes::Met;
use crate::write::names::by_name;

/// Choices shown.
const MOST: usize = 6;

impl Page<'_> {
    pub(super) fn chosen_anew(&self) -> Vec<String> {
        let Some(anew) = &self.estimate.rechosen else {
            return Vec::new();
        };
        let (kept, now) = (anew.kept, anew.now);
        let effect = match now.cmp(&kept) {
            Ordering::Less => format!("saves {}", self.money(kept - now)),
            Ordering::Greater => format!("adds {}", self.money(now - kept)),
            Ordering::Equal => "leaves it as it is".to_owned(),
        };
        let words = format!(
            "Chosen anew since the estimate read, which {effect}: {} with its choices (--hold)",
            self.money(kept)
        );
        let mut lines = self.wrapped(&words, "  ");
        if let Some(first) = lines.first_mut() {
            *first = self.screen.paint.heading(first);
        }
        let mut choices: Vec<_> = anew.choices.iter().collect();
        choices.sort_by(|a, b| by_name(&a.name, &b.name));
        let told = |met: &Option<Met>| {
            let met = met.as_ref();
            met.map_or_else(String::new, |m| {
                format!("{} ({})", m.words, self.money(m.landed))
            })
        };
        for choice in choices.iter().take(MOST) {
            let words = format!(
                "  {}: {} -> {}",
                choice.name,
                told(&choice.before),
                told(&choice.after)
            );
            lines.extend(self.wrapped(&words, "    "));
        }
        if choices.len() > MOST {
            lines.push(format!("  and {} more", choices.len() - MOST));
        }
        lines
    }
}
