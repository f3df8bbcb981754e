//! Everything that the job did not say and the estimate rests on, with where it came from.

mod materials;
mod not_priced;
mod settings;
mod walls;
mod work;

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use rust_decimal::Decimal;

use super::naming::first_three;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::job::Job;
use crate::model::known::{From, Known, LibraryRef};
use crate::model::library::{Backing, Checked, Library};
use crate::takeoff::{Kinds, TakeOff};
use crate::units::show::plain;
use crate::units::{Length, System};

pub use not_priced::not_priced;

/// What is said of a figure that nobody looked up.
const TYPICAL: &str = "typical, change it to your own";

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
    notes.list.into_iter().map(Note::finished).collect()
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

/// One assumption with everything that it is used for.
struct Note {
    assumption: Assumption,
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
    /// Notes a value unless the job gave it.
    fn known<T>(&mut self, what: &str, known: &Known<T>, show: impl Fn(&T) -> String, used: &str) {
        let (basis, confidence) = match &known.from {
            From::Job(..) => return,
            From::Library(at) => backed(self.library, at),
            From::Assumed(words) => ((*words).to_owned(), "assumption".to_owned()),
        };
        self.add(
            Assumption {
                what: what.to_owned(),
                value: show(&known.value),
                basis,
                confidence,
                used_for: String::new(),
            },
            used,
        );
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
        match known.from {
            From::Assumed(_) => self.known(label, known, show, thing),
            _ => self.known(&format!("{label} of {thing}"), known, show, used),
        }
    }

    /// Notes a single figure of the library.
    fn figure(&mut self, key: &str, used: &str) {
        let Some(figure) = self.library.figure(key) else {
            return;
        };
        let (basis, confidence) = said(&figure.backing, true);
        let (low, typical, high) = figure.value;
        let [low, typical, high] = [low, typical, high].map(|number| plain(number, 4));
        let assumption = Assumption {
            what: figure.name.to_string(),
            value: format!("{typical} {} ({low} to {high})", figure.unit),
            basis,
            confidence,
            used_for: String::new(),
        };
        self.add(assumption, used);
    }

    fn add(&mut self, assumption: Assumption, used: &str) {
        let Assumption {
            what, value, basis, ..
        } = &assumption;
        let key = (what.clone(), value.clone(), basis.clone());
        match self.places.entry(key) {
            Entry::Vacant(place) => {
                place.insert(self.list.len());
                self.list.push(Note {
                    assumption,
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
    // Sources of materials give weights as delivered; settling, voids and waste are judgement.
    let seen = at.table != "materials" || at.column == "delivered_lb_yd3";
    match backing {
        Some(backing) => said(backing, seen),
        None => (TYPICAL.to_owned(), "assumption".to_owned()),
    }
}

/// A source is an authority only for a figure that was seen in it or computed.
fn said(backing: &Backing, seen: bool) -> (String, String) {
    if seen && backing.checked != Checked::Recalled {
        return (backing.source.to_string(), backing.confidence.to_string());
    }
    let confidence = match &*backing.confidence {
        "published" => "typical-range",
        other => other,
    };
    (TYPICAL.to_owned(), confidence.to_owned())
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
