//! A name of a list taken apart: words that say what it is, sizes, grades, and how it is packed.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::lexemes::{Lexeme, lexemes};
use super::vocabulary::{Meaning, in_full, meaning};
use crate::units::parse::{Measures, Unit, unit};

/// A name taken apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Name {
    /// Words in their usual spelling and in order, telling words among them, without packs and units.
    pub(super) words: Vec<String>,
    /// Telling words by property: species, treatment, screening, grade.
    pub(super) telling: BTreeMap<&'static str, BTreeSet<String>>,
    /// Sizes as they are said: two or three sides, each with its unit when it has one.
    pub(super) sizes: Vec<Vec<Side>>,
    /// Single amounts with a unit.
    pub(super) amounts: Vec<Side>,
    /// Numbers without a unit: `70/30`, `50%`.
    pub(super) numbers: BTreeSet<String>,
    /// Words for packs, as the job's prices have them.
    pub(super) packs: Vec<&'static str>,
    /// Units without a number: `cu yd` in `Topsoil, cu yd`.
    pub(super) bare_units: Vec<Unit>,
}

/// A number and its unit, when it has one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Side {
    /// As typed: `1/2`, `4.8`.
    pub(super) number: String,
    /// The unit.
    pub(super) unit: Option<Unit>,
}

impl Side {
    /// `8 ft`, with `bare` where no unit was said.
    pub(super) fn text(&self, bare: &str) -> String {
        let unit = match self.unit {
            Some(unit) => unit.symbol(),
            None => bare,
        };
        format!("{} {unit}", self.number).trim_end().to_owned()
    }

    /// The number, when it is a plain one.
    pub(super) fn value(&self) -> Option<Decimal> {
        self.number.parse().ok()
    }
}

impl Name {
    /// Takes a name apart. `decimal_comma` says what `4,8` is.
    pub(super) fn of(name: &str, decimal_comma: bool) -> Self {
        let lexemes = lexemes(name, decimal_comma);
        let mut taking = Taking {
            rest: &lexemes,
            name: Self::default(),
        };
        while !taking.rest.is_empty() {
            taking.one();
        }
        taking.name
    }

    /// The board size that it speaks of, the lesser side first: `2x10`.
    pub(super) fn section(&self) -> Option<String> {
        let is_section = |side: &Side| {
            matches!(
                side.unit,
                None | Some(Unit::Inch | Unit::Millimetre | Unit::Centimetre)
            )
        };
        let [a, b] = self
            .sizes
            .iter()
            .filter_map(|sides| sides.first_chunk::<2>())
            .find(|sides| sides.iter().all(is_section))?;
        let turned = a.value().zip(b.value()).is_some_and(|(a, b)| a > b);
        let (a, b) = if turned { (b, a) } else { (a, b) };
        Some(format!("{}x{}", a.number, b.number))
    }
}

struct Taking<'l> {
    rest: &'l [Lexeme],
    name: Name,
}

impl Taking<'_> {
    fn skip(&mut self, count: usize) {
        self.rest = self.rest.get(count..).unwrap_or_default();
    }

    fn word_at(&self, ahead: usize) -> Option<&str> {
        self.rest.get(ahead)?.word()
    }

    fn one(&mut self) {
        if self.rest.first().is_some_and(|l| l.number().is_some()) {
            self.number();
        } else {
            self.word();
        }
    }

    /// The unit at a place, and how many words name it: `cu yd` are two.
    fn unit_at(&self, ahead: usize) -> Option<(Unit, usize)> {
        let first = self.word_at(ahead)?;
        if let Some(second) = self.word_at(ahead.saturating_add(1))
            && let Some(unit) = unit(&format!("{first} {second}"))
        {
            return Some((unit, 2));
        }
        match first {
            "ct" | "count" | "pk" | "qty" => Some((Unit::Each, 1)),
            // Before a number it is a grade, behind one it is pounds.
            "#" if self
                .rest
                .get(ahead.saturating_add(1))
                .is_some_and(|l| l.number().is_some()) =>
            {
                None
            }
            word => Some((unit(word)?, 1)),
        }
    }

    fn side(&mut self) -> Option<Side> {
        let number = self.rest.first()?.number()?.to_owned();
        self.skip(1);
        let unit = self.unit_at(0);
        self.skip(unit.map_or(0, |(_, words)| words));
        Some(Side {
            number,
            unit: unit.map(|(unit, _)| unit),
        })
    }

    fn number(&mut self) {
        let Some(first) = self.side() else {
            self.skip(1);
            return;
        };
        let mut sides = vec![first];
        while self.word_at(0) == Some("x") && self.rest.get(1).is_some_and(|l| l.number().is_some())
        {
            self.skip(1);
            sides.extend(self.side());
        }
        if let [single] = sides.as_slice() {
            self.single(single.clone());
        } else {
            self.name.sizes.push(sides);
        }
    }

    fn single(&mut self, side: Side) {
        if side.unit.is_some() {
            self.name.amounts.push(side);
        } else if self.word_at(0) == Some("%") {
            self.skip(1);
            self.name.numbers.insert(format!("{}%", side.number));
        } else {
            self.name.numbers.insert(side.number);
        }
    }

    fn word(&mut self) {
        if let Some((unit, words)) = self.unit_at(0) {
            self.bare_unit(unit, words);
            return;
        }
        let Some(word) = self.word_at(0).map(str::to_owned) else {
            self.skip(1);
            return;
        };
        if word == "#" {
            self.grade();
            return;
        }
        // `un-treated`, `not treated`, `non woven`: the word with its denial in front.
        let denied = matches!(word.as_str(), "un" | "non" | "not" | "no");
        let next = self.word_at(1).map(in_full);
        if let Some(next) = next.filter(|_| denied) {
            let prefixes = ["un", "non"].map(|prefix| format!("{prefix}{next}"));
            if let Some(whole) = prefixes.into_iter().find(|w| meaning(w).is_some()) {
                self.skip(2);
                self.plain(whole);
                return;
            }
        }
        self.skip(1);
        self.plain(in_full(&word));
    }

    fn bare_unit(&mut self, unit: Unit, words: usize) {
        self.skip(words);
        if unit == Unit::Each {
            self.name.packs.push("each");
        } else {
            self.name.bare_units.push(unit);
        }
    }

    /// `#2` is a grade of lumber.
    fn grade(&mut self) {
        let number = self.rest.get(1).and_then(Lexeme::number).map(str::to_owned);
        self.skip(1);
        if let Some(number) = number {
            self.skip(1);
            let grades = self.name.telling.entry("number of grade").or_default();
            grades.insert(format!("#{number}"));
            self.name.words.push(format!("#{number}"));
        }
    }

    fn plain(&mut self, word: String) {
        match meaning(&word) {
            Some(Meaning::Pack(pack)) => self.name.packs.push(pack),
            Some(Meaning::Idle) => {}
            Some(Meaning::Telling(property, means)) => {
                let said = self.name.telling.entry(property).or_default();
                said.insert(means.to_owned());
                self.name.words.push(means.to_owned());
            }
            None if word == "%" || word == "x" => {}
            None => self.name.words.push(word),
        }
    }
}

/// Whether a unit measures a length that may be the size of a stone or a mesh rather than of a pack.
pub(super) fn is_small_length(unit: Unit) -> bool {
    matches!(unit, Unit::Inch | Unit::Millimetre | Unit::Centimetre)
}

/// Whether a unit measures a length.
pub(super) fn is_length(unit: Unit) -> bool {
    unit.measures() == Measures::Length && unit != Unit::Yard
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(name: &str, words: &str, section: Option<&str>) -> Name {
        let taken = Name::of(name, false);
        assert_eq!(taken.words.join(" "), words, "{name}");
        assert_eq!(taken.section().as_deref(), section, "{name}");
        taken
    }

    #[test]
    fn packs_units_and_idle_words_are_not_what_a_thing_is() {
        let topsoil = check("TOPSOIL SCRND - BULK, PER CU YD", "topsoil screened", None);
        assert_eq!(topsoil.packs, ["bulk"]);
        assert_eq!(topsoil.bare_units, [Unit::CubicYard]);
        let compost = check("Premium Compost 1.5 cu ft bag", "compost", None);
        assert_eq!(compost.amounts[0].text(""), "1.5 ft3");
        assert_eq!(compost.packs, ["bag"]);
    }

    #[test]
    fn boards_have_a_section_and_a_length() {
        for name in ["2x10x8 CEDAR #2", "CDR 2\"x10\"x8' #2", "10x2x8 cedar #2"] {
            let taken = Name::of(name, false);
            assert_eq!(taken.section().as_deref(), Some("2x10"), "{name}");
            assert_eq!(taken.sizes[0][2].number, "8", "{name}");
            assert!(taken.telling["species"].contains("cedar"), "{name}");
        }
        check("Fabric 4 ft x 50 ft", "fabric", None);
    }

    #[test]
    fn a_denial_belongs_to_its_word() {
        check("Un-treated pine 2x6", "untreated pine", Some("2x6"));
        check("Pine, not treated, 2x6", "pine untreated", Some("2x6"));
        check("Not rocks", "not rock", None);
    }
}
