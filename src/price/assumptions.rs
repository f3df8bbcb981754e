//! Everything that the job did not say and the estimate rests on, with where it came from.

mod library_use;
mod materials;
mod not_priced;
mod settings;
mod walls;
mod work;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::naming::first_three;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::job::Job;
use crate::model::known::{From, Known, LibraryRef};
use crate::model::library::{Library, TYPICAL, is_sourced};
use crate::takeoff::{Kinds, TakeOff};
use crate::units::show::plain;
use crate::units::{Length, System};

pub use library_use::{LibraryUse, library_use};
pub use not_priced::{not_included, not_priced};

/// One value that the estimate rests on and the job did not give.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumption {
    /// What it is: `Wet-down loss of Compost`.
    pub what: String,
    /// The value with its unit: `15%`.
    pub value: String,
    /// `typical, change it to your own`, a source that was really seen, or `not set, taken as 0%`.
    pub basis: String,
    /// `published`, `typical-range` or `assumption`.
    pub confidence: String,
    /// What it was used for: `quantities to order`, or the names of what it was taken for.
    pub used_for: String,
}

/// Every value of the library and every value taken by rule that the job really used.
///
/// Settings come first, then sites, materials, walls, work and extras, each in the order of names.
pub fn assumptions(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    bought: &Bought,
    labour: &Labour,
    library: &Library,
) -> Vec<Assumption> {
    let noted = noted(job, kinds, takeoffs, bought, labour, library);
    let silent = noted
        .into_iter()
        .filter(|n| !matches!(n.from, From::Job(..)));
    silent.map(Note::finished).collect()
}

/// Everything that the estimate rests on, whether the job gave it or not.
fn noted(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    bought: &Bought,
    labour: &Labour,
    library: &Library,
) -> Vec<Note> {
    let mut notes = Notes {
        job,
        kinds,
        takeoffs,
        bought,
        labour,
        library,
        list: Vec::new(),
        places: BTreeMap::new(),
    };
    settings::note(&mut notes);
    materials::note(&mut notes);
    walls::note(&mut notes);
    work::note(&mut notes);
    notes.list
}

/// The results that are looked through, and what was found so far.
struct Notes<'a> {
    job: &'a Job,
    kinds: &'a Kinds,
    takeoffs: &'a [TakeOff],
    bought: &'a Bought,
    labour: &'a Labour,
    library: &'a Library,
    list: Vec<Note>,
    places: BTreeMap<(String, String, String), usize>,
}

/// One value with everything that it is used for.
struct Note {
    assumption: Assumption,
    from: From,
    /// What it is a value of, when it is one of several alike: the name of a material or site.
    thing: Option<String>,
    uses: Vec<String>,
}

impl Note {
    fn finished(self) -> Assumption {
        Assumption {
            used_for: first_three(self.uses.into_iter()),
            ..self.assumption
        }
    }
}

impl Notes<'_> {
    /// Notes a value and where it came from.
    fn known<T>(&mut self, what: &str, known: &Known<T>, show: impl Fn(&T) -> String, used: &str) {
        let assumption = self.taken(what.to_owned(), known, show);
        self.add(assumption, known.from.clone(), None, used);
    }

    fn taken<T>(&self, what: String, known: &Known<T>, show: impl Fn(&T) -> String) -> Assumption {
        let (basis, confidence) = match &known.from {
            From::Job(..) => (String::new(), String::new()),
            From::Library(at) => backed(self.library, at),
            From::Assumed(words) => ((*words).to_owned(), "assumption".to_owned()),
        };
        Assumption {
            what,
            value: show(&known.value),
            basis,
            confidence,
            used_for: String::new(),
        }
    }

    /// Notes a value of one `thing`: a figure of the library under the thing's own name, a value
    /// taken by rule once for all the things that it was taken for.
    fn of<T>(
        &mut self,
        label: &str,
        thing: &str,
        known: &Known<T>,
        show: impl Fn(&T) -> String,
        used: &str,
    ) {
        if let From::Assumed(_) = known.from {
            return self.known(label, known, show, thing);
        }
        let assumption = self.taken(format!("{label} of {thing}"), known, show);
        let from = known.from.clone();
        self.add(assumption, from, Some(thing.to_owned()), used);
    }

    /// Notes a single figure of the library.
    fn figure(&mut self, key: &str, used: &str) {
        let Some(figure) = self.library.figure(key) else {
            return;
        };
        let (basis, confidence) = figure.backing.said(true);
        let (low, typical, high) = figure.value;
        let [low, typical, high] = [low, typical, high].map(|number| plain(number, 4));
        let assumption = Assumption {
            what: figure.name.to_string(),
            value: format!("{typical} {} ({low} to {high})", figure.unit),
            basis: basis.to_owned(),
            confidence: confidence.to_owned(),
            used_for: String::new(),
        };
        let from = From::Library(LibraryRef {
            table: "figures",
            key: Arc::clone(&figure.key),
            column: "typical",
        });
        self.add(assumption, from, None, used);
    }

    fn add(&mut self, assumption: Assumption, from: From, thing: Option<String>, used: &str) {
        let Assumption {
            what, value, basis, ..
        } = &assumption;
        let key = (what.clone(), value.clone(), basis.clone());
        match self.places.entry(key) {
            Entry::Vacant(place) => {
                place.insert(self.list.len());
                self.list.push(Note {
                    assumption,
                    from,
                    thing,
                    uses: vec![used.to_owned()],
                });
            }
            Entry::Occupied(place) => {
                if let Some(note) = self.list.get_mut(*place.get())
                    && !note.uses.iter().any(|known| known == used)
                {
                    note.uses.push(used.to_owned());
                }
            }
        }
    }
}

/// How a figure of the library is backed, in words, and how sure it is.
fn backed(library: &Library, at: &LibraryRef) -> (String, String) {
    let key = &*at.key;
    let backing = match at.table {
        "materials" => library
            .materials
            .iter()
            .find(|m| &*m.key == key)
            .map(|m| &m.backing),
        "sections" => library
            .sections
            .iter()
            .find(|s| &*s.key == key)
            .map(|s| &s.backing),
        "blocks" => library
            .blocks
            .iter()
            .find(|b| &*b.key == key)
            .map(|b| &b.backing),
        "tasks" => library
            .tasks
            .iter()
            .find(|t| &*t.key == key)
            .map(|t| &t.backing),
        "figures" => library.figure(key).map(|f| &f.backing),
        "crops" => library
            .crops
            .iter()
            .find(|c| &*c.key == key)
            .map(|c| &c.backing),
        _ => None,
    };
    let seen = is_sourced(at.table, at.column);
    let (basis, confidence) = match backing {
        Some(backing) => backing.said(seen),
        None => (TYPICAL, "assumption"),
    };
    (basis.to_owned(), confidence.to_owned())
}

/// A thin length so that it can be typed back: `0.125 in`, `3.18 mm`.
fn exact(system: System, length: Length) -> String {
    match system {
        System::UsCustomary => format!("{} in", plain(length.in_inches(), 4)),
        System::Metric => format!("{} mm", plain(length.in_millimetres(), 2)),
    }
}

/// A fraction as a percentage: `15%`.
fn percent(fraction: &Decimal) -> String {
    let hundredfold = fraction.saturating_mul(Decimal::ONE_HUNDRED);
    format!("{}%", plain(hundredfold, 4))
}

#[cfg(test)]
mod tests;
