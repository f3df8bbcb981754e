//! Titles that mean one thing to one person and another to the next: which of them a column means
//! follows from the columns beside it, or is asked.

use std::collections::BTreeSet;

use super::names::key;
use super::titles::with_unit;
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::units::parse::Unit;

/// Titles, as they are compared, and the columns that each may mean.
type Doubts = &'static [(&'static [&'static str], &'static [&'static str])];

/// Of `Beds`. Depth is how high to one and how far back to another; a number counts or names.
const OF_BEDS: Doubts = &[
    (&["depth", "deep", "profundidad"], &["Height", "Width"]),
    (&["d"], &["Diameter", "Height", "Width"]),
    (&["fondo"], &["Width", "Closed bottom"]),
    (&["number", "no", "nr", "num", "numero"], &["Bed", "Count"]),
    (&["suelo"], &["Fill", "Ground"]),
    (&["material"], &["Frame", "Fill"]),
];
/// Of `Workers`.
const OF_WORKERS: Doubts = &[(&["rate", "tarifa"], &["Pay rate", "Charge rate"])];

/// What a doubtful title turned out to mean.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum Doubt {
    /// Only this is left, under this unit.
    Is(&'static str, Option<Unit>),
    /// Any of these.
    Asks(Vec<&'static str>),
}

/// What `title` may mean beside columns that mean `taken`; `None` for a title without a doubt.
pub(super) fn doubt(title: &str, sheet: Sheet, taken: &BTreeSet<&'static str>) -> Option<Doubt> {
    let doubts = match sheet {
        Sheet::Beds => OF_BEDS,
        Sheet::Workers => OF_WORKERS,
        _ => return None,
    };
    let known = |name: &str| {
        let name = key(name);
        let mut doubts = doubts.iter();
        doubts.find_map(|(titles, fields)| titles.contains(&&*name).then_some(*fields))
    };
    let (fields, unit) = with_unit(title, known)?;
    // One cell with all sizes holds the width too.
    let sized = taken.contains("Size");
    let is_taken = |field: &str| taken.contains(field) || sized && field == "Width";
    let open: Vec<&'static str> = fields.iter().copied().filter(|f| !is_taken(f)).collect();
    match open.as_slice() {
        [] => None,
        [only] => Some(Doubt::Is(only, unit)),
        _ => Some(Doubt::Asks(open)),
    }
}

/// The question which column a title means.
pub(super) fn asked(title: &str, open: &[&str]) -> Problem {
    Problem::error(format!("this column may be {}", open.join(" or ")))
        .holds(title)
        .hint("head it with the word for what it holds")
}

/// The notice that a title was understood by what stands beside it.
pub(super) fn said(title: &str, field: &str) -> Problem {
    Problem::notice(format!("this column is read as {field}")).holds(title)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(title: &str, taken: &[&'static str], expected: Option<&Doubt>) {
        let taken: BTreeSet<&'static str> = taken.iter().copied().collect();
        assert_eq!(
            doubt(title, Sheet::Beds, &taken).as_ref(),
            expected,
            "{title}"
        );
    }

    #[test]
    fn what_is_left_is_meant_and_two_that_are_left_are_asked() {
        let is = |field, unit| Doubt::Is(field, unit);
        let inches = is("Height", Some(Unit::Inch));
        check("Depth (in)", &["Length", "Width"], Some(&inches));
        check("DEPTH", &["Size"], Some(&is("Height", None)));
        check("Depth", &["Length", "Height"], Some(&is("Width", None)));
        let both = Doubt::Asks(vec!["Height", "Width"]);
        check("Depth", &["Length"], Some(&both));
        check("Depth", &["Width", "Height"], None);
        check("No.", &["Bed"], Some(&is("Count", None)));
        check("Número", &["Count"], Some(&is("Bed", None)));
        check("Colour", &[], None);
    }
}
