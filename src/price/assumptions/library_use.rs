//! What an estimate takes from the trade library, and what its job put in the library's place.

use super::{Assumption, Note, noted};
use crate::model::known::{From, LibraryRef};
use crate::model::library::Library;
use crate::model::sheet::Sheet;
use crate::model::source::RowAt;
use crate::price::Estimate;

/// A figure of the library that an estimate rests on, or that its job replaced.
#[derive(Clone, Debug)]
pub struct LibraryUse {
    /// The value that counts, in words: the library's, or the job's where it gave one.
    pub taken: Assumption,
    /// The library's figures that it is, or stands in place of. More than one only where the
    /// library tells cases apart that the job does not.
    pub figures: Vec<LibraryRef>,
    /// The cell that gave it, when the job did.
    pub given: Option<(RowAt, &'static str)>,
}

/// What the estimate takes from the library, in the order of its assumptions, with the figures of
/// the library that the job replaced among them.
pub fn library_use(estimate: &Estimate, library: &Library) -> Vec<LibraryUse> {
    let notes = noted(
        &estimate.job,
        &estimate.kinds,
        &estimate.takeoffs,
        &estimate.bought,
        &estimate.labour,
        library,
    );
    let used = notes
        .into_iter()
        .filter_map(|note| used(estimate, library, note));
    used.collect()
}

fn used(estimate: &Estimate, library: &Library, note: Note) -> Option<LibraryUse> {
    let (figures, given) = match &note.from {
        From::Library(at) => (vec![at.clone()], None),
        From::Job(at, field) => {
            let figures = replaced(estimate, library, &note, *at, field);
            (figures, Some((*at, *field)))
        }
        From::Assumed(_) => return None,
    };
    (!figures.is_empty()).then(|| LibraryUse {
        taken: note.finished(),
        figures,
        given,
    })
}

/// The library's figures in whose place a cell of the job stands.
fn replaced(
    estimate: &Estimate,
    library: &Library,
    note: &Note,
    at: RowAt,
    field: &'static str,
) -> Vec<LibraryRef> {
    let table = estimate.sources.tables.get(usize::from(at.table));
    let Some(sheet) = table.and_then(|table| table.sheet) else {
        return Vec::new();
    };
    // All settings stand in one column; their titles are what they are called.
    let column = if sheet == Sheet::Job {
        &*note.assumption.what
    } else {
        field
    };
    let thing = note.thing.as_deref().unwrap_or(&note.assumption.what);
    let replaced = library.replaced_by(sheet, column).filter_map(|entry| {
        let (table, key) = match (&*entry.table, &entry.key) {
            ("figures", Some(key)) => ("figures", Some(key.clone())),
            ("materials", _) => ("materials", library.material(thing).map(|m| m.key.clone())),
            ("tasks", _) => ("tasks", library.task(thing).map(|t| t.key.clone())),
            // A section of one's own is a size, and the library has no other size for it.
            _ => return None,
        };
        Some(LibraryRef {
            table,
            key: key?,
            column: column_of(table, entry.column.as_deref())?,
        })
    });
    replaced.collect()
}

/// The column as references name it.
fn column_of(table: &str, column: Option<&str>) -> Option<&'static str> {
    /// Columns of materials that a job may replace.
    const OF_MATERIALS: [&str; 9] = [
        "delivered_lb_yd3",
        "wet_lb_yd3",
        "wet_down_pct",
        "first_season_pct",
        "void_pct",
        "infill_pct",
        "waste_pct",
        "roll_width_in",
        "lap_in",
    ];
    match table {
        "figures" => Some("typical"),
        "tasks" => Some("typical_h"),
        _ => OF_MATERIALS.into_iter().find(|c| Some(*c) == column),
    }
}
