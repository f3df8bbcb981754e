//! The lists behind the drop-downs, on a hidden sheet: names that the job gives itself, found by
//! formulas so that a new one is offered at once, and names that the library knows.
//!
//! A list takes three columns: what is found, its running number where it is found for the first time,
//! and the names closed up below their count. A defined name covers as many of these as there are, since most programs
//! would offer the empty cells below them, too, and begin there.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_xlsxwriter::{Formula, Workbook};

use super::super::formats::{Formats, Style};
use super::super::xlsx::WriteError;
use super::super::xlsx::page::Page;
use super::content::Table;
use crate::model::library::Library;
use crate::model::material::Category;
use crate::model::sheet::Sheet;
use crate::model::source::column_letters;
use crate::units::System;

/// The sheet of the lists.
pub(super) const SHEET: &str = "Lists";
/// Where the entries of a list begin, from 0, below its title and its count.
const FIRST: u32 = 2;
/// Rows below the header of a sheet that may be typed in and are looked at.
pub(super) const TYPED_ROWS: u32 = 300;
/// The same of sheets with a row for each name.
const NAMED_ROWS: u32 = 100;

/// Where a list comes from.
struct Source {
    /// As the notes call it.
    name: &'static str,
    /// Columns of the job's own sheets.
    own: &'static [(Sheet, &'static str)],
    /// Names of the library.
    known: fn(&Library, System) -> Vec<Arc<str>>,
}

const SOURCES: [Source; 13] = [
    own("frames", &[(Sheet::Frames, "Frame")]),
    own("fills", &[(Sheet::Fills, "Fill")]),
    own("sites", &[(Sheet::Sites, "Site")]),
    own("suppliers", &[(Sheet::Suppliers, "Supplier")]),
    own("workers", &[(Sheet::Workers, "Worker")]),
    Source {
        name: "materials",
        own: &[
            (Sheet::Mixes, "Mix"),
            (Sheet::Materials, "Material"),
            (Sheet::Prices, "Material"),
        ],
        known: |library, _| {
            of_category(library, |c| {
                c.is_fill() || matches!(c, Category::Sheet | Category::Mesh)
            })
        },
    },
    Source {
        name: "walls",
        own: &[(Sheet::Materials, "Material"), (Sheet::Prices, "Material")],
        known: |library, system| {
            let sections = library.sections.iter().filter(|s| s.system == system);
            let boards = sections.map(|s| Arc::clone(&s.key));
            let blocks = of_category(library, |c| c == Category::Block);
            boards.chain(blocks).collect()
        },
    },
    Source {
        name: "goods",
        own: &[
            (Sheet::Fills, "Material"),
            (Sheet::Mixes, "Material"),
            (Sheet::Frames, "Material"),
            (Sheet::Frames, "Post material"),
            (Sheet::Frames, "Cap material"),
            (Sheet::Materials, "Material"),
        ],
        known: |library, _| of_category(library, |_| true),
    },
    known("fasteners", |l, _| {
        of_category(l, |c| c == Category::Fastener)
    }),
    known("liners", |l, _| of_category(l, |c| c == Category::Liner)),
    known("meshes", |l, _| of_category(l, |c| c == Category::Mesh)),
    known("crops", |l, _| {
        l.crops.iter().map(|c| Arc::clone(&c.name)).collect()
    }),
    known("tasks", |l, _| {
        l.tasks.iter().map(|t| Arc::clone(&t.name)).collect()
    }),
];

const fn own(name: &'static str, own: &'static [(Sheet, &'static str)]) -> Source {
    Source {
        name,
        own,
        known: |_, _| Vec::new(),
    }
}

const fn known(name: &'static str, known: fn(&Library, System) -> Vec<Arc<str>>) -> Source {
    Source {
        name,
        own: &[],
        known,
    }
}

fn of_category(library: &Library, is_meant: fn(Category) -> bool) -> Vec<Arc<str>> {
    let meant = library.materials.iter().filter(|m| is_meant(m.category));
    meant.map(|m| Arc::clone(&m.name)).collect()
}

/// A list as it will be written.
pub(super) struct List {
    /// Its defined name.
    pub(super) name: String,
    title: &'static str,
    found: Vec<Found>,
}

/// One row of what is found.
struct Found {
    /// The formula that finds it, without `=`; `None` for a name of the library.
    formula: Option<String>,
    /// What is there in the example.
    now: String,
}

/// The defined name of a list.
pub(super) fn defined(list: &str) -> String {
    format!("list_{list}")
}

/// The lists of a starter with these tables.
pub(super) fn plan(tables: &[Table], library: &Library, system: System) -> Vec<List> {
    let list = |source: &Source| {
        let own = source.own.iter();
        let mut found: Vec<Found> = own.flat_map(|at| of_column(tables, *at)).collect();
        let known = (source.known)(library, system).into_iter();
        found.extend(known.map(|name| Found {
            formula: None,
            now: name.to_string(),
        }));
        List {
            name: defined(source.name),
            title: source.name,
            found,
        }
    };
    SOURCES.iter().map(list).collect()
}

/// What may be found in a column of the job's own, row by row.
fn of_column(tables: &[Table], (sheet, field): (Sheet, &str)) -> Vec<Found> {
    let table = tables.iter().find(|t| t.sheet == sheet);
    let Some((table, column)) = table.and_then(|t| Some((t, t.column(field)?))) else {
        return Vec::new();
    };
    let rows = match sheet {
        Sheet::Fills | Sheet::Prices => TYPED_ROWS,
        _ => NAMED_ROWS,
    };
    let letters = column_letters(u32::try_from(column).unwrap_or(u32::MAX));
    let range = format!("{}!${letters}$2:${letters}${}", sheet.title(), rows + 1);
    let mut now = table.entries(field);
    let row = |k: u32| Found {
        // Rows that were deleted shorten the range.
        formula: Some(format!(
            "IF(ROWS({range})<{k},\"\",IF(INDEX({range},{k})=\"\",\"\",INDEX({range},{k})))"
        )),
        now: now.next().unwrap_or_default().to_owned(),
    };
    (1..=rows).map(row).collect()
}

/// Writes the hidden sheet and defines the names.
pub(super) fn write(
    workbook: &mut Workbook,
    formats: &Formats,
    lists: &[List],
) -> Result<(), WriteError> {
    let sheet = workbook.add_worksheet();
    sheet.set_name(SHEET)?;
    sheet.set_hidden(true);
    sheet.set_formula_result_default("");
    let mut page = Page::new(sheet, formats);
    for (column, list) in (0_u16..).step_by(3).zip(lists) {
        list.write(&mut page, column)?;
    }
    for (column, list) in (0_u16..).step_by(3).zip(lists) {
        workbook.define_name(&list.name, &format!("={}", list.range(column)))?;
    }
    Ok(())
}

impl List {
    /// The last row of the list, counted from 1.
    fn last(&self) -> usize {
        self.found.len().saturating_add(2)
    }

    /// The cells that are offered.
    fn range(&self, column: u16) -> String {
        let Letters { name, .. } = Letters::from(column);
        let last = self.last();
        format!(
            "{SHEET}!${name}$3:INDEX({SHEET}!${name}$3:${name}${last},MAX(1,{SHEET}!${name}$2))"
        )
    }

    /// Running numbers as they are now: a name has one where it stands for the first time.
    fn numbers(&self) -> Vec<Option<usize>> {
        let mut seen = BTreeSet::new();
        let number = |found: &Found| {
            // Spreadsheets compare without regard to case.
            let is_new = !found.now.is_empty() && seen.insert(found.now.to_lowercase());
            is_new.then_some(seen.len())
        };
        self.found.iter().map(number).collect()
    }

    /// The names that are offered as long as nothing was typed.
    pub(super) fn names(&self) -> impl Iterator<Item = &str> {
        let numbered = self.found.iter().zip(self.numbers());
        numbered.filter_map(|(found, number)| number.map(|_| &*found.now))
    }

    fn write(&self, page: &mut Page<'_>, column: u16) -> Result<(), WriteError> {
        let Letters {
            found,
            number,
            name,
        } = Letters::from(column);
        let [first, second, third] = [0, 1, 2].map(|n| column.saturating_add(n));
        let last = self.last();
        page.words(0, first, "found", Style::HeadQuietWords)?;
        page.words(0, second, "number", Style::HeadQuiet)?;
        page.words(0, third, self.title, Style::Head)?;
        let count = format!("MAX({number}3:{number}{last})");
        // Above the names: the numbers below must not depend on it.
        live(page, (1, third), &count, &self.names().count().to_string())?;
        let mut names = self.names();
        let rows = self.found.iter().zip(self.numbers());
        for (row, (entry, numbered)) in (FIRST..).zip(rows) {
            let at = row + 1;
            match &entry.formula {
                Some(formula) => live(page, (row, first), formula, &entry.now)?,
                None => page.text(row, first, &entry.now, None)?,
            }
            // Compared cell by cell, since a search takes signs in a name for placeholders.
            let is_first = format!("SUMPRODUCT(--({found}$3:{found}{at}={found}{at}))=1");
            let next = format!("1+MAX({number}$1:{number}{row})");
            let formula = format!("IF({found}{at}=\"\",\"\",IF({is_first},{next},\"\"))");
            let now = numbered.map(|n| n.to_string()).unwrap_or_default();
            live(page, (row, second), &formula, &now)?;
            let place = format!("MATCH({},{number}$3:{number}${last},0)", row - 1);
            let entry = format!("INDEX({found}$3:{found}${last},{place})");
            let formula = format!("IF({}>{name}$2,\"\",{entry})", row - 1);
            live(
                page,
                (row, third),
                &formula,
                names.next().unwrap_or_default(),
            )?;
        }
        Ok(())
    }
}

/// The three columns of a list.
struct Letters {
    found: String,
    number: String,
    name: String,
}

impl From<u16> for Letters {
    fn from(column: u16) -> Self {
        let letters = |n| column_letters(u32::from(column).saturating_add(n));
        Self {
            found: letters(0),
            number: letters(1),
            name: letters(2),
        }
    }
}

/// Writes a formula and what it gives for the example.
fn live(page: &mut Page<'_>, at: (u32, u16), formula: &str, now: &str) -> Result<(), WriteError> {
    let formula = Formula::new(formula).set_result(now);
    page.sheet.write_formula(at.0, at.1, formula)?;
    Ok(())
}
