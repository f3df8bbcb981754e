//! A stick drawn in one line of text: `|A───────|B───|····|`. Letters and not colours tell the pieces.

use crate::buying::{CutList, Stick};
use crate::units::{Decimal, Length};

/// Characters for the whole length of a stick.
const WIDE: Decimal = Decimal::from_parts(40, 0, 0, false, 0);

/// The letters of a cut list's pieces, by length and mark, longest first.
pub(super) struct Key {
    entries: Vec<(Length, std::sync::Arc<str>, u64)>,
}

impl Key {
    pub(super) fn of(list: &CutList) -> Self {
        let mut entries: Vec<(Length, std::sync::Arc<str>, u64)> = Vec::new();
        for stick in &list.sticks {
            for (length, mark, count) in &stick.pieces {
                let more = u64::from(*count).saturating_mul(u64::from(stick.count));
                let same = entries
                    .iter_mut()
                    .find(|(l, m, _)| (*l, m) == (*length, mark));
                match same {
                    Some((_, _, sum)) => *sum = sum.saturating_add(more),
                    None => entries.push((*length, mark.clone(), more)),
                }
            }
        }
        entries.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
        Self { entries }
    }

    /// Letters, lengths, marks and how many there are of each.
    pub(super) fn lines(&self) -> impl Iterator<Item = (String, Length, &str, u64)> {
        let numbered = self.entries.iter().enumerate();
        numbered.map(|(at, (length, mark, sum))| (letters(at), *length, &**mark, *sum))
    }

    pub(super) fn letters_of(&self, length: Length, mark: &str) -> String {
        let is_it = |(l, m, _): &(Length, std::sync::Arc<str>, u64)| *l == length && **m == *mark;
        self.entries
            .iter()
            .position(is_it)
            .map_or_else(String::new, letters)
    }

    /// One stick as a bar.
    pub(super) fn bar(&self, stick: &Stick) -> String {
        let mut bar = String::from("|");
        for (length, mark, count) in &stick.pieces {
            let name = self.letters_of(*length, mark);
            for _ in 0..*count {
                let rest = wide(*length, stick.length).saturating_sub(name.chars().count() + 1);
                bar.push_str(&name);
                bar.extend(std::iter::repeat_n('─', rest));
                bar.push('|');
            }
        }
        let rest = wide(stick.offcut, stick.length).saturating_sub(1);
        if rest > 0 {
            bar.extend(std::iter::repeat_n('·', rest));
            bar.push('|');
        }
        bar
    }
}

/// Characters for a part of a stick.
fn wide(part: Length, whole: Length) -> usize {
    let share = part
        .in_metres()
        .checked_div(whole.in_metres())
        .unwrap_or_default();
    share.saturating_mul(WIDE).round().try_into().unwrap_or(0)
}

/// A, B, ... Z, AA, AB and so on.
fn letters(at: usize) -> String {
    let (mut left, mut name) = (at, Vec::new());
    loop {
        let letter = u8::try_from(left % 26).map_or('?', |n| char::from(b'A'.saturating_add(n)));
        name.push(letter);
        match (left / 26).checked_sub(1) {
            Some(next) => left = next,
            None => break,
        }
    }
    name.iter().rev().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::by_hand::feet;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(
            [0, 25, 26, 51, 52, 702].map(letters),
            ["A", "Z", "AA", "AZ", "BA", "AAA"]
        );
    }

    #[test]
    fn a_bar_is_as_wide_as_its_parts() {
        // 8 ft of 16 ft are 20 of 40 characters, 4 ft are 10, and what remains of 4 ft is dotted.
        let pieces = vec![
            (feet("8"), "long".into(), 1),
            (feet("4"), "short".into(), 1),
        ];
        let stick = Stick {
            offer: None,
            length: feet("16"),
            count: 1,
            pieces,
            offcut: feet("4"),
        };
        let list = CutList {
            material: crate::model::material::MaterialId(0),
            sticks: vec![stick.clone()],
            culls: 0,
            cost: crate::units::Money::ZERO,
            lower_bound: crate::units::Money::ZERO,
            proven: true,
            pieces: Vec::new(),
        };
        let bar = Key::of(&list).bar(&stick);
        assert_eq!(bar, "|A──────────────────|B────────|·········|");
    }
}
