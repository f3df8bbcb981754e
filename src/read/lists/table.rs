//! The rows taken from a list as a table of `Prices`, every cell with its place in the supplier's file.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::List;
use super::take::{Surroundings, Use};
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, Form, SourceColumn, SourceRow, SourceTable, a1};
use crate::problem::Problem;
use crate::read::assemble;
use crate::read::header::Header;
use crate::read::open::Way;
use crate::read::raw::RawSheet;
use crate::units::parse::{Commas, Unit};

/// Columns that every table has, whatever the list has.
const ALWAYS: [&str; 6] = ["Supplier", "Material", "Spec", "Pack", "Holds", "Price"];
/// Columns at the end: what the list calls it, and the cell of its price.
const AT_END: [&str; 2] = ["Their name", "Listed at"];
/// Fields whose text may have a decimal mark.
const NUMBERS: [&str; 7] = [
    "Holds",
    "Price",
    "From quantity",
    "Step",
    "Least quantity",
    "Available",
    "Actual length",
];

impl List {
    /// A place in the list in words; `field` by its title in `Prices`.
    pub(super) fn place(&self, row: u32, field: Option<&str>) -> String {
        let column = field.map(|field| self.index(field));
        let number = row.saturating_add(1);
        let (file, label) = (&self.raw.file, &self.raw.label);
        match (self.raw.form, column) {
            (Form::Workbook, Some(column)) => {
                format!("{file}!{label}!{}", a1(row, column))
            }
            (Form::Workbook, None) => format!("{file}!{label}!{number}"),
            (Form::Text, Some(column)) => {
                format!("{file}:{number}:{}", column.saturating_add(1))
            }
            (Form::Text, None) => format!("{file}:{number}"),
        }
    }

    /// The column of a field in the file; what the list does not have stands with the name.
    fn index(&self, field: &str) -> u32 {
        let columns = || self.columns.header.columns.iter();
        let of = |field: &str| columns().find(|c| c.field == Some(field)).map(|c| c.index);
        of(field).or_else(|| of("Material")).unwrap_or(0)
    }

    /// The table, and how it was written; `None` when no row is used.
    pub(super) fn table(
        &self,
        used: &BTreeMap<u32, Use<'_>>,
        around: &Surroundings<'_>,
        problems: &mut Vec<Problem>,
    ) -> Option<(SourceTable, Way)> {
        if used.is_empty() {
            return None;
        }
        let (raw, header) = self.used_rows(used);
        let theirs = assemble::rows(raw, header, Sheet::Prices, around.index, problems);
        let fields = self.fields();
        let units: Vec<Option<Unit>> = fields.iter().map(|field| self.unit(field)).collect();
        let target = target(around.commas);
        let build = Build {
            list: self,
            theirs: &theirs.table,
            target,
        };
        let rows = theirs.table.rows.iter().filter_map(|row| {
            let taken = used.get(&row.row)?;
            let cells = fields.iter().map(|field| build.cell(field, row, taken));
            Some(SourceRow {
                row: row.row,
                cells: cells.collect(),
            })
        });
        let rows = rows.collect();
        let place = |field: &str| fields.iter().position(|f| *f == field);
        let spoilt = theirs.way.spoilt.iter().filter_map(|(row, position)| {
            let field = theirs.table.columns.get(*position)?.field?;
            Some((*row, place(field)?))
        });
        let way = Way {
            units: units.clone(),
            commas: target,
            spoilt: spoilt.collect(),
            ..theirs.way.clone()
        };
        let table = SourceTable {
            sheet: Some(Sheet::Prices),
            columns: self.titled(&fields, &units),
            rows,
            ..theirs.table
        };
        Some((table, way))
    }

    /// The columns under titles that read back, each with its place in the list.
    fn titled(&self, fields: &[&'static str], units: &[Option<Unit>]) -> Vec<SourceColumn> {
        let columns = fields.iter().zip(units).map(|(field, unit)| SourceColumn {
            index: self.index(if *field == "Listed at" {
                "Price"
            } else {
                field
            }),
            title: Arc::from(match unit {
                Some(unit) => format!("{field} ({})", unit.symbol()),
                None => (*field).to_owned(),
            }),
            field: Some(*field),
        });
        columns.collect()
    }

    /// The rows that are used, alone: only what is used can be wrong.
    fn used_rows(&self, used: &BTreeMap<u32, Use<'_>>) -> (RawSheet, Header) {
        let mut raw = RawSheet {
            rows: self
                .raw
                .rows
                .iter()
                .filter(|r| used.contains_key(&r.row))
                .cloned()
                .collect(),
            ..self.raw.clone()
        };
        // A cell too many in a line of text may be half of a number, and is told. Elsewhere what the
        // mapping does not name is nobody's business.
        if self.columns.header.used == 0 || self.raw.form == Form::Workbook {
            let named = |index: u32| self.columns.header.columns.iter().any(|c| c.index == index);
            for row in &mut raw.rows {
                row.cells.retain(|(index, _)| named(*index));
            }
        }
        let columns = self.columns.header.columns.iter().cloned();
        let columns = columns.zip(self.columns.header.units.iter().copied());
        let header = Header::of(columns.collect(), 0);
        (raw, header)
    }

    /// The fields of the table, in the order of its columns.
    fn fields(&self) -> Vec<&'static str> {
        let mut fields = ALWAYS.to_vec();
        let theirs = self.columns.header.columns.iter().filter_map(|c| c.field);
        let fixed = self.columns.fixed.iter().map(|(field, _)| *field);
        for field in theirs.chain(fixed) {
            if !fields.contains(&field) {
                fields.push(field);
            }
        }
        fields.extend(AT_END);
        fields
    }

    fn unit(&self, field: &str) -> Option<Unit> {
        let header = &self.columns.header;
        let place = header.columns.iter().position(|c| c.field == Some(field))?;
        header.units.get(place).copied().flatten()
    }
}

/// How the numbers of the table are written: as those of the job, so that they read back with it.
fn target(job: Commas) -> Commas {
    match job {
        Commas::Decimal | Commas::Mostly => Commas::Decimal,
        Commas::Thousands | Commas::Ask => Commas::Thousands,
    }
}

struct Build<'b> {
    list: &'b List,
    theirs: &'b SourceTable,
    target: Commas,
}

impl Build<'_> {
    fn cell(&self, field: &'static str, row: &SourceRow, taken: &Use<'_>) -> Cell {
        let text = |text: &str| Cell::Text(Arc::from(text));
        let own = self.own(field, row);
        match field {
            "Supplier" => text(&self.list.mapping.supplier),
            "Material" => Cell::Text(Arc::clone(&taken.wanted.name)),
            "Their name" => self.own("Material", row),
            "Listed at" => text(&self.list.place(row.row, Some("Price"))),
            // The names were matched, so the specification that the job asks for is this one.
            "Spec" if own.is_empty() => match &taken.wanted.spec {
                Some(spec) => Cell::Text(Arc::clone(spec)),
                None => Cell::Empty,
            },
            "Pack" => taken.goods.pack.as_deref().map_or(own, text),
            "Holds" if own.is_empty() => {
                let holds = taken.goods.holds.as_deref();
                // Amounts out of names have a point, whatever the list has.
                holds.map_or(Cell::Empty, |h| {
                    turned(text(h), Commas::Thousands, self.target)
                })
            }
            _ if NUMBERS.contains(&field) => turned(own, self.list.commas, self.target),
            _ => own,
        }
    }

    /// The list's own cell, or the value that the mapping gives for all rows.
    fn own(&self, field: &str, row: &SourceRow) -> Cell {
        let place = self
            .theirs
            .columns
            .iter()
            .position(|c| c.field == Some(field));
        if let Some(cell) = place.and_then(|place| row.cells.get(place)) {
            return cell.clone();
        }
        let mut fixed = self.list.columns.fixed.iter();
        let fixed = fixed.find(|(of, _)| *of == field);
        fixed.map_or(Cell::Empty, |(_, cell)| cell.clone())
    }
}

/// A number in text with the decimal mark of another convention.
fn turned(cell: Cell, from: Commas, to: Commas) -> Cell {
    let Cell::Text(text) = &cell else {
        return cell;
    };
    let (mark, other) = match (from.is_decimal(), to.is_decimal()) {
        (true, false) => (',', '.'),
        (false, true) => ('.', ','),
        _ => return cell,
    };
    let mut turned = String::with_capacity(text.len());
    let chars: Vec<char> = text.chars().collect();
    for (at, c) in chars.iter().enumerate() {
        let beside = |place: Option<usize>| {
            let c = place.and_then(|p| chars.get(p));
            c.is_some_and(char::is_ascii_digit)
        };
        let inside = beside(at.checked_sub(1)) && beside(at.checked_add(1));
        match c {
            c if *c == mark && inside => turned.push(other),
            // Marks between thousands go: they would read as the decimal mark.
            c if *c == other && inside => {}
            c => turned.push(*c),
        }
    }
    Cell::Text(Arc::from(turned))
}
