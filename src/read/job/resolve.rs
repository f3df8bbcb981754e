//! Names of one list of the job, and how what was typed finds them.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::library::folded;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::names::did_you_mean;

/// The names of one list: frames, fills, materials, sites, suppliers, workers, beds.
///
/// Case, spaces, `_` and `-` do not count. A name whose row was wrong stays known, so that one
/// mistake is told once and not again by everything that points at it.
#[derive(Debug, Default)]
pub(super) struct Names {
    places: BTreeMap<String, Option<usize>>,
    typed: Vec<Arc<str>>,
}

/// What a name leads to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Found {
    /// The place in the list.
    Is(usize),
    /// The name is defined, but its row was wrong and has been reported.
    Broken,
    /// Nothing has that name.
    Unknown,
}

impl Names {
    /// Adds a name; `false` when it is taken, and then nothing changes.
    pub(super) fn add(&mut self, name: &Arc<str>, place: usize) -> bool {
        self.put(name, Some(place))
    }

    /// Adds a name whose row was wrong.
    pub(super) fn add_broken(&mut self, name: &Arc<str>) {
        self.put(name, None);
    }

    fn put(&mut self, name: &Arc<str>, place: Option<usize>) -> bool {
        let key = folded(name);
        if self.places.contains_key(&key) {
            return false;
        }
        self.places.insert(key, place);
        self.typed.push(Arc::clone(name));
        true
    }

    /// Gives a name another place in the list.
    pub(super) fn move_to(&mut self, name: &str, place: usize) {
        self.places.insert(folded(name), Some(place));
    }

    /// Where a typed name leads.
    pub(super) fn find(&self, typed: &str) -> Found {
        match self.places.get(&folded(typed)) {
            Some(Some(place)) => Found::Is(*place),
            Some(None) => Found::Broken,
            None => Found::Unknown,
        }
    }

    /// Whether the name is in the list, wrong rows included.
    pub(super) fn has(&self, typed: &str) -> bool {
        self.find(typed) != Found::Unknown
    }

    /// The names as typed, in the order met.
    pub(super) fn all(&self) -> impl Iterator<Item = &str> {
        self.typed.iter().map(|n| &**n)
    }

    /// Whether there is no name at all.
    pub(super) fn is_empty(&self) -> bool {
        self.typed.is_empty()
    }

    /// The place of a name that must be one of this list's, or the problem that it is not.
    /// `None` without a problem when its own row has been reported.
    pub(super) fn resolve(
        &self,
        typed: &str,
        spot: (RowAt, &'static str),
        sheet: &str,
        problems: &mut Vec<Problem>,
    ) -> Option<usize> {
        match self.find(typed) {
            Found::Is(place) => Some(place),
            Found::Broken => None,
            Found::Unknown => {
                let hint = unknown_hint(typed, self.all(), &format!("add a row for it to {sheet}"));
                let sentence = format!("{} is not among {sheet}", spot.1);
                problems.push(Problem::error(sentence).at(spot.0, spot.1).hint(hint));
                None
            }
        }
    }
}

/// `did you mean "Cedar beds"?`, or `otherwise` when nothing is near.
pub(super) fn unknown_hint<'a>(
    typed: &str,
    known: impl Iterator<Item = &'a str>,
    otherwise: &str,
) -> String {
    match did_you_mean(typed, known) {
        Some(near) => format!("did you mean \"{near}\"? Otherwise {otherwise}"),
        None => otherwise.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_match_without_regard_to_case_spaces_and_dashes() {
        let mut names = Names::default();
        assert!(names.add(&Arc::from("Cedar Beds"), 3));
        assert!(!names.add(&Arc::from("cedar-beds"), 4), "taken");
        assert_eq!(names.find("CEDAR_BEDS"), Found::Is(3));
        assert_eq!(names.find("oak beds"), Found::Unknown);
    }

    #[test]
    fn a_name_of_a_wrong_row_is_not_reported_again() {
        let mut names = Names::default();
        names.add_broken(&Arc::from("Tank"));
        let mut problems = Vec::new();
        let at = RowAt { table: 0, row: 4 };
        assert_eq!(
            names.resolve("tank", (at, "Frame"), "Frames", &mut problems),
            None
        );
        assert!(problems.is_empty());
    }
}
