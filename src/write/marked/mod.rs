//! A marked copy of a job: each cell with a problem is coloured and has a note that says what is wrong,
//! in words too, and a last sheet lists all problems with links. All else of a workbook stays as it is,
//! byte for byte, since only the parts that change are written again.

mod anew;
mod book;
mod entries;
mod listing;
mod notes;
mod package;
mod sheet;
mod styles;
#[cfg(test)]
mod tests;
mod xml;

use std::collections::BTreeMap;

use rust_xlsxwriter::XlsxError;

use crate::model::source::Sources;
use crate::problem::{Problem, Severity};
use book::Book;
use entries::{Entry, entries, marks};
use package::Package;
use sheet::Marks;
use styles::Styles;

/// What begins the kinds of relations, and is the name space of their ids.
const OFFICE: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const NOTES: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml.comments+xml";
const DRAWING: &str = "application/vnd.openxmlformats-officedocument.vmlDrawing";

/// The mark of one cell.
#[derive(Clone, Debug, PartialEq, Eq)]
struct CellMark {
    /// The weight of the most important problem.
    severity: Severity,
    /// All of them in words; `None` beyond the most notes that a copy has.
    note: Option<String>,
}

/// Why a workbook cannot be patched, in words that follow its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unmarkable(&'static str);

impl Unmarkable {
    /// The words.
    pub const fn words(self) -> &'static str {
        self.0
    }
}

/// A marked copy.
#[derive(Clone, Debug)]
pub struct Marked {
    /// The file.
    pub bytes: Vec<u8>,
    /// How many cells are marked.
    pub cells: usize,
    /// How many problems are about no cell of the copy, and stand on its last sheet only.
    pub elsewhere: usize,
}

/// The workbook `original` (`.xlsx` or `.xlsm`) with marks.
///
/// # Errors
/// When its package is not one that can be patched safely; [`anew`] still makes a copy then.
pub fn patched(
    original: &[u8],
    problems: &[Problem],
    sources: &Sources,
) -> Result<Marked, Unmarkable> {
    let entries = entries(problems, sources);
    let marks = marks(&entries);
    let mut package = Package::open(original)?;
    let book = Book::read(&mut package)?;
    let mut styles = Styles::read(package.needed(&book.styles)?)?;
    for (table, marks) in &marks {
        let label = sources.tables.get(*table).map_or("", |t| &t.label);
        let part = book.sheets.iter().find(|(name, _)| name == label);
        let part = part.ok_or(Unmarkable("a sheet of it is not where it says"))?;
        mark_sheet(&mut package, &part.1, marks, &mut styles)?;
    }
    let label = |entry: &Entry| Some(&*sources.tables.get(entry.at?.table)?.label);
    let list = listing::sheet(&entries, label, &mut styles)?;
    book.add_listing(&mut package, list)?;
    package.put(&book.styles, styles.written()?);
    Ok(marked(package.packed()?, &entries, &marks))
}

/// A new workbook from the tables as read, with marks: for CSV files and older kinds of workbook.
///
/// # Errors
/// When a table is larger than a sheet can be.
pub fn anew(problems: &[Problem], sources: &Sources) -> Result<Marked, XlsxError> {
    let entries = entries(problems, sources);
    let marks = marks(&entries);
    let bytes = anew::workbook(sources, &entries, &marks)?;
    Ok(marked(bytes, &entries, &marks))
}

fn marked(bytes: Vec<u8>, entries: &[Entry], marks: &BTreeMap<usize, Marks>) -> Marked {
    Marked {
        bytes,
        cells: marks.values().map(Marks::len).sum(),
        elsewhere: entries.iter().filter(|e| e.at.is_none()).count(),
    }
}

/// Marks one sheet: its cells, its notes and their drawing.
fn mark_sheet(
    package: &mut Package<'_>,
    part: &str,
    marks: &Marks,
    styles: &mut Styles,
) -> Result<(), Unmarkable> {
    let relations = package.relations(part)?;
    let target = |kind: &str| {
        relations
            .iter()
            .find(|r| r.kind == kind)
            .map(|r| r.part.clone())
    };
    let comments = target("comments");
    let before = match &comments {
        Some(name) => package.part(name)?,
        None => None,
    };
    let (noted, boxes) = notes::noted(before, marks)?;
    if comments.is_none() {
        let name = package.new_name("xl/comments", "xml");
        package.put(&name, noted);
        package.list(&name, NOTES)?;
        package.relate(part, "comments", &name)?;
    } else if let Some(name) = comments {
        package.put(&name, noted);
    }
    let xml = package.needed(part)?;
    // A sheet can have a second drawing of this kind, for its header.
    let own = drawing_id(&xml).and_then(|id| relations.iter().find(|r| r.id == id));
    let own = own.map(|relation| relation.part.clone());
    let mut new_drawing = None;
    let name = if let Some(name) = own {
        name
    } else {
        let name = package.new_name("xl/drawings/vmlDrawing", "vml");
        package.list_ending("vml", DRAWING)?;
        new_drawing = Some(package.relate(part, "vmlDrawing", &name)?);
        name
    };
    let before = package.part(&name)?;
    package.put(&name, notes::boxed(before, &boxes, marks)?);
    let patched = sheet::marked(&xml, marks, styles, new_drawing.as_deref())?;
    package.put(part, patched);
    Ok(())
}

/// The id of the drawing of notes that a sheet points at.
fn drawing_id(sheet: &str) -> Option<String> {
    let pointer = sheet.get(sheet.rfind("<legacyDrawing ")?..)?;
    let piece = xml::pieces(pointer).next()?.ok()?;
    let (tag, _) = piece.opens()?;
    xml::attribute(tag, "id")
}
