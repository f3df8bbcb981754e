//! What can hurt somebody or the budget, said once for all the beds that it concerns.
//!
//! When a caution applies is code here; what it says is a row of the library's `cautions` table.
//! None of them ever says that something is safe.

mod beds;
mod deposit;
mod goods;
mod ground;
mod money;
mod panels;

use std::collections::BTreeMap;

use jiff::civil::Date;

use super::naming::first_three;
use crate::buying::Bought;
use crate::labour::Labour;
use crate::model::bed::Bed;
use crate::model::ground::Area;
use crate::model::job::Job;
use crate::model::library::{Checked, Library, LibraryCaution};
use crate::model::source::RowAt;
use crate::problem::{Concern, Problem};
use crate::takeoff::{BedKind, Kinds, TakeOff};
use crate::units::{Decimal, Length, System, Weight};

pub use deposit::of_deposit;
pub use money::oldest_price;

/// Every caution that the job gives reason for, in the order of the library's table.
///
/// `takeoffs` stand in the order of `kinds`; `date` is the day of the estimate.
pub fn cautions(
    job: &Job,
    kinds: &Kinds,
    takeoffs: &[TakeOff],
    bought: &Bought,
    labour: &Labour,
    library: &Library,
    date: Date,
) -> Vec<Problem> {
    let look = Look {
        job,
        kinds,
        takeoffs,
        bought,
        labour,
        library,
        date,
    };
    let mut met = Vec::new();
    met.extend(beds::cautions(&look));
    met.extend(ground::cautions(&look));
    met.extend(goods::cautions(&look));
    met.extend(money::cautions(&look));
    met.extend(panels::cautions(&look));
    let place = |key: &str| library.cautions.iter().position(|c| &*c.key == key);
    met.sort_by_key(|reason| place(reason.key));
    let said = |reason: Reason| reason.said(library, look.system());
    met.into_iter().map(said).collect()
}

/// Everything that a caution may look at.
struct Look<'a> {
    job: &'a Job,
    kinds: &'a Kinds,
    takeoffs: &'a [TakeOff],
    bought: &'a Bought,
    labour: &'a Labour,
    library: &'a Library,
    date: Date,
}

impl<'a> Look<'a> {
    /// Kinds of beds with their take-off.
    fn kinds(&self) -> impl Iterator<Item = (&'a BedKind, &'a TakeOff)> + use<'a> {
        self.kinds.kinds.iter().zip(self.takeoffs)
    }

    /// Areas with their take-off.
    fn areas(&self) -> impl Iterator<Item = (&'a Area, &'a TakeOff)> + use<'a> {
        let (job, takeoffs) = (self.job, self.takeoffs);
        let first = self.kinds.kinds.len();
        let areas = self.kinds.areas.iter().zip(takeoffs.iter().skip(first));
        areas.filter_map(|(kind, takeoff)| Some((job.areas.get(kind.area.index())?, takeoff)))
    }

    /// The beds of a kind.
    fn beds(&self, kind: &'a BedKind) -> impl Iterator<Item = &'a Bed> + use<'a> {
        let all = &self.job.beds;
        kind.beds.iter().filter_map(|id| all.get(id.index()))
    }

    /// The units in which the job is shown.
    fn system(&self) -> System {
        self.job.settings.units.value
    }

    /// The library's row of a caution.
    fn row(&self, key: &str) -> Option<&'a LibraryCaution> {
        self.library.caution(key)
    }

    /// The number that triggers a caution, in its unit; `None` for a caution without one.
    fn mark(&self, key: &str) -> Option<Decimal> {
        self.row(key)?.threshold
    }
}

/// A caution that applies, and to what.
struct Reason {
    key: &'static str,
    /// To what it applies, in words; its sentence begins with them.
    subject: String,
    /// The names of what it applies to.
    about: Vec<String>,
    spot: At,
}

impl Reason {
    fn said(self, library: &Library, system: System) -> Problem {
        let Some(row) = library.caution(self.key) else {
            return Problem::bug(format!("no caution is called {}", self.key));
        };
        let backed = backed(row, system);
        let words = format!("{}: {}{backed}", self.subject, row.words);
        let concern = Concern {
            key: self.key,
            about: self.about,
        };
        let problem = Problem::caution(words).of_concern(concern);
        match self.spot {
            Some((row, field)) => problem.at(row, field),
            None => problem,
        }
    }
}

/// The figure, the place and date of a rule, and a source that was really seen, in brackets.
fn backed(row: &LibraryCaution, system: System) -> String {
    let mut parts = Vec::new();
    if let Some(mark) = row.threshold {
        parts.push(format!("the figure is {}", figure(mark, &row.unit, system)));
    }
    if !row.jurisdiction.is_empty() {
        parts.push(row.jurisdiction.to_string());
    }
    if row.backing.checked != Checked::Recalled {
        parts.push(format!("see {}", row.backing.source));
    }
    if parts.is_empty() {
        String::new()
    } else {
        format!(" ({})", parts.join("; "))
    }
}

/// The cell that a caution points at, when there is one.
type At = Option<(RowAt, &'static str)>;

/// A mark with its unit, in the units of the job.
fn figure(mark: Decimal, unit: &str, system: System) -> String {
    match (unit, system) {
        ("in", System::Metric) => system.depth(Length::inches(mark)),
        ("lb", System::Metric) => system.weight(Weight::pounds(mark)),
        _ => format!("{} {unit}", mark.normalize()),
    }
}

/// Beds, goods or sites that one caution is about, in the order of their names.
#[derive(Default)]
struct Group {
    members: BTreeMap<String, (String, At)>,
}

impl Group {
    /// Adds one by its name, with what is said of it in brackets; empty for nothing.
    fn add(&mut self, name: &str, detail: String, spot: At) {
        self.members.insert(name.to_owned(), (detail, spot));
    }

    /// The reason that it gives, `None` when nothing was added.
    fn reason(self, key: &'static str) -> Option<Reason> {
        self.reason_of(key, "")
    }

    /// The same with `what` in front: `What `.
    fn reason_of(self, key: &'static str, what: &str) -> Option<Reason> {
        let (_, (_, spot)) = self.members.first_key_value()?;
        let spot = *spot;
        let about = self.members.keys().cloned().collect();
        let members = self.members.into_iter().map(|(name, (detail, _))| {
            if detail.is_empty() {
                name
            } else {
                format!("{name} ({detail})")
            }
        });
        Some(Reason {
            key,
            subject: format!("{what}{}", first_three(members)),
            about,
            spot,
        })
    }
}

#[cfg(test)]
mod tests;
