//! The good part of a job with errors: whole rows are left out, never halves of them, and what rests on
//! a row that is left out goes with it. Where that could make money wrong, nothing is left out.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::alternates::not_read;
use super::{Loaded, build, folder_of};
use crate::model::job::{Job, LeftOut};
use crate::model::library::{Library, folded};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceRow, SourceTable, Sources};
use crate::problem::{Problem, Severity, Spot, Staged};
use crate::read::lists;
use crate::read::open::{Opened, Source, open};

/// Rounds in which rows are left out: each round finds what only shows once others are gone.
const MOST_ROUNDS: usize = 8;

/// What is done about an error in a row of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Remedy {
    /// The row is left out.
    Row,
    /// All rows of the same name are left out, and every bed that uses them.
    WithBeds,
    /// No job without it: money, hours or loads of all beds would be wrong, and nothing would show it.
    Refuse,
}

const fn remedy(sheet: Sheet) -> Remedy {
    match sheet {
        // One bed, one offer, one extra or the pieces of a row. A supplier's row holds only how to reach them, and nothing
        // is computed yet from the sheets below.
        Sheet::Beds
        | Sheet::Prices
        | Sheet::Extras
        | Sheet::Pieces
        | Sheet::Suppliers
        | Sheet::Areas
        | Sheet::Irrigation
        | Sheet::Alternates
        | Sheet::Payments
        | Sheet::Funding
        | Sheet::BudgetClasses
        | Sheet::Actuals
        | Sheet::PriceLists
        | Sheet::SupplierNames => Remedy::Row,
        Sheet::Frames | Sheet::Fills | Sheet::Mixes | Sheet::Amendments => Remedy::WithBeds,
        Sheet::Job
        | Sheet::Sites
        | Sheet::Materials
        | Sheet::Deliveries
        | Sheet::Labour
        | Sheet::Workers
        | Sheet::Equipment => Remedy::Refuse,
    }
}

/// Reads a job and leaves out what is wrong in it; [`Job::left_out`] tells what. All errors are among
/// the problems. Where an error forbids even that, the job is that of [`super::read_job`], and nothing
/// is left out.
pub fn read_good_part(source: &Source, library: &Library) -> Staged<Option<Loaded>> {
    let mut at_opening = Vec::new();
    let Some(mut opened) = open(source).keep(&mut at_opening) else {
        return Staged {
            output: None,
            problems: at_opening,
        };
    };
    let mut cut = Cut::default();
    let mut problems = Vec::new();
    let (first, whole) = attempt(&opened, &cut, library, source, &mut problems);
    let aside = not_read(&opened);
    let staged = |job: Job, mut problems: Vec<Problem>, sources: Sources| {
        problems.extend(aside.clone());
        Staged {
            output: Some(Loaded {
                job,
                sources,
                choices: None,
                alternates: Vec::new(),
            }),
            problems,
        }
    };
    let mut told: Vec<Problem> = at_opening.clone();
    told.extend(problems.iter().cloned());
    let mut sources = whole.clone();
    let (mut job, mut found) = (first.clone(), told.clone());
    for _ in 0..MOST_ROUNDS {
        let errors: Vec<&Problem> = found
            .iter()
            .filter(|p| p.severity == Severity::Error)
            .collect();
        if errors.is_empty() {
            job.left_out = cut.rows.into_values().collect();
            let mut all: Vec<Problem> = cut.errors;
            all.extend(found);
            return staged(job, all, whole);
        }
        let before = cut.rows.len();
        if !cut.take(&errors, &job, &sources) || cut.rows.len() == before {
            break;
        }
        cut.remove_from(&mut opened.sources);
        found = at_opening
            .iter()
            .filter(|p| !(p.severity == Severity::Error && cut.holds(p)))
            .cloned()
            .collect();
        (job, sources) = attempt(&opened, &cut, library, source, &mut found);
    }
    staged(first, told, whole)
}

/// A job of what is left, and the tables that it was read from: those that were opened, then those of
/// suppliers' lists.
fn attempt(
    opened: &Opened,
    cut: &Cut,
    library: &Library,
    source: &Source,
    problems: &mut Vec<Problem>,
) -> (Job, Sources) {
    let mut opened = opened.clone();
    opened.beds_left_out = cut.beds();
    let mut lists = lists::open(&opened, &folder_of(source), problems);
    for list in &mut lists {
        list.leave_out(&cut.listed);
    }
    let job = build(&mut opened, lists, library, source, problems);
    (job, opened.sources)
}

/// What is left out so far.
#[derive(Default)]
struct Cut {
    rows: BTreeMap<RowAt, LeftOut>,
    /// Rows of suppliers' lists, by file and row.
    listed: BTreeSet<(Arc<str>, u32)>,
    /// Every error met on the way.
    errors: Vec<Problem>,
}

impl Cut {
    fn holds(&self, problem: &Problem) -> bool {
        problem
            .spot
            .is_some_and(|spot| self.rows.contains_key(&spot.row))
    }

    /// The names of beds that are left out.
    fn beds(&self) -> Vec<String> {
        let beds = self.rows.values().filter(|left| left.sheet == Sheet::Beds);
        beds.map(|left| left.name.clone()).collect()
    }

    /// Leaves out what these errors are about; `false` when one of them forbids it.
    fn take(&mut self, errors: &[&Problem], job: &Job, sources: &Sources) -> bool {
        let mut broken: Vec<(Sheet, String, String)> = Vec::new();
        for error in errors {
            let Some((spot, sheet)) = row_of(error, sources) else {
                return false;
            };
            match remedy(sheet) {
                Remedy::Refuse => return false,
                Remedy::Row => {}
                Remedy::WithBeds => {
                    let name = sources.held(Spot {
                        row: spot.row,
                        field: sheet.naming_column(),
                    });
                    let Some(name) = name.filter(|name| !name.is_empty()) else {
                        return false;
                    };
                    let place = sources.place(spot).unwrap_or_default();
                    broken.push((sheet, name, place));
                }
            }
            self.errors.push((*error).clone());
            self.leave(spot.row, sheet, sources, error.sentence.clone());
        }
        self.leave_users(broken, sources);
        self.leave_unread_beds(job, sources);
        self.leave_pieces_of_beds(sources);
        true
    }

    fn leave(&mut self, at: RowAt, sheet: Sheet, sources: &Sources, why: String) {
        if let Some(table) = sources.tables.get(usize::from(at.table)) {
            self.listed.insert((Arc::clone(&table.file), at.row));
        }
        let name = sources.held(Spot {
            row: at,
            field: sheet.naming_column(),
        });
        let left = self.rows.entry(at).or_insert_with(|| LeftOut {
            at,
            sheet,
            name: name.unwrap_or_default(),
            why: Vec::new(),
        });
        if !left.why.contains(&why) {
            left.why.push(why);
        }
    }

    /// Leaves out everything that uses a frame, fill or mix with an error.
    fn leave_users(&mut self, mut broken: Vec<(Sheet, String, String)>, sources: &Sources) {
        let mut done: BTreeSet<(Sheet, String)> = BTreeSet::new();
        while let Some((sheet, name, place)) = broken.pop() {
            if !done.insert((sheet, folded(&name))) {
                continue;
            }
            for &(user, field) in users(sheet) {
                let why = format!("it uses {name}, in which {place} is wrong");
                for (at, row) in rows_with(sources, user, field, &name) {
                    self.leave(at, user, sources, why.clone());
                    let table = sources.tables.get(usize::from(at.table));
                    let own = table.and_then(|t| held(t, row, user.naming_column()));
                    if user != Sheet::Beds
                        && let Some(own) = own
                    {
                        broken.push((user, own, place.clone()));
                    }
                }
            }
        }
    }

    /// A bed can be unreadable although its row has no error: another one has told of their common
    /// frame or fill.
    fn leave_unread_beds(&mut self, job: &Job, sources: &Sources) {
        let read: BTreeSet<RowAt> = job.beds.iter().map(|bed| bed.at).collect();
        for (table, rows) in sources.of(Sheet::Beds) {
            for row in &rows.rows {
                let at = RowAt {
                    table,
                    row: row.row,
                };
                if !read.contains(&at) && !self.rows.contains_key(&at) {
                    let why = "its frame or fill is not known, as another bed's is not";
                    self.leave(at, Sheet::Beds, sources, why.to_owned());
                }
            }
        }
    }

    /// Pieces that are cut for a bed go with it.
    fn leave_pieces_of_beds(&mut self, sources: &Sources) {
        let mut stay: BTreeSet<String> = BTreeSet::new();
        let mut gone: BTreeMap<String, String> = BTreeMap::new();
        for (table, beds) in sources.of(Sheet::Beds) {
            for row in &beds.rows {
                let at = RowAt {
                    table,
                    row: row.row,
                };
                let Some(name) = held(beds, row, Sheet::Beds.naming_column()) else {
                    continue;
                };
                if self.rows.contains_key(&at) {
                    gone.insert(folded(&name), name);
                } else {
                    stay.insert(folded(&name));
                }
            }
        }
        gone.retain(|key, _| !stay.contains(key));
        for name in gone.into_values() {
            for (at, _) in rows_with(sources, Sheet::Pieces, "Bed", &name) {
                let why = format!("it is cut for {name}, which is left out");
                self.leave(at, Sheet::Pieces, sources, why);
            }
        }
    }

    fn remove_from(&self, sources: &mut Sources) {
        for (table, found) in (0_u16..).zip(&mut sources.tables) {
            found.rows.retain(|row| {
                !self.rows.contains_key(&RowAt {
                    table,
                    row: row.row,
                })
            });
        }
    }
}

/// The row that an error is about, when it is one that could be left out.
fn row_of(error: &Problem, sources: &Sources) -> Option<(Spot, Sheet)> {
    let spot = error
        .spot
        .filter(|spot| error.place.is_none() && !spot.field.is_empty())?;
    let table = sources.tables.get(usize::from(spot.row.table))?;
    let found = table
        .rows
        .binary_search_by_key(&spot.row.row, |row| row.row);
    found.ok().and(table.sheet).map(|sheet| (spot, sheet))
}

/// Which columns of which sheets name a row of this sheet, its own rows of the same name among them.
const fn users(sheet: Sheet) -> &'static [(Sheet, &'static str)] {
    match sheet {
        Sheet::Frames => &[(Sheet::Frames, "Frame"), (Sheet::Beds, "Frame")],
        Sheet::Mixes => &[
            (Sheet::Mixes, "Mix"),
            (Sheet::Fills, "Material"),
            (Sheet::Beds, "Fill"),
        ],
        Sheet::Fills | Sheet::Amendments => &[
            (Sheet::Fills, "Fill"),
            (Sheet::Amendments, "Fill"),
            (Sheet::Beds, "Fill"),
        ],
        _ => &[],
    }
}

/// Rows of a sheet whose cell in a column holds a name.
fn rows_with<'s>(
    sources: &'s Sources,
    sheet: Sheet,
    field: &'static str,
    name: &str,
) -> Vec<(RowAt, &'s SourceRow)> {
    let wanted = folded(name);
    let of_sheet = sources.of(sheet);
    let rows =
        of_sheet.flat_map(|(table, found)| found.rows.iter().map(move |row| (table, found, row)));
    let named = rows
        .filter(|(_, found, row)| held(found, row, field).is_some_and(|n| folded(&n) == wanted));
    named
        .map(|(table, _, row)| {
            (
                RowAt {
                    table,
                    row: row.row,
                },
                row,
            )
        })
        .collect()
}

fn held(table: &SourceTable, row: &SourceRow, field: &str) -> Option<String> {
    let column = table.columns.iter().position(|c| c.field == Some(field))?;
    row.cells.get(column).map(Cell::text)
}
