//! What stands in columns that the program does not know, carried along for whoever does.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::model::sheet::Sheet;
use crate::model::source::{Cell, SourceColumn, SourceTable, Sources};
use crate::write::names::by_name;

/// One cell of a column that nothing was computed from.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CarriedJson {
    /// The sheet.
    pub sheet: String,
    /// The row, by the name in its naming column.
    pub row: String,
    /// The title of the column as typed.
    pub column: String,
    /// What the cell holds, as text.
    pub text: String,
}

/// All such cells: by sheet in the order of a job file, then by row, column and text.
pub(super) fn carried(sources: &Sources) -> Vec<CarriedJson> {
    let mut all = Vec::new();
    for sheet in Sheet::ALL {
        let tables = sources.of(sheet);
        let mut cells: Vec<CarriedJson> = tables.flat_map(|(_, t)| of_table(sheet, t)).collect();
        cells.sort_by(|a, b| {
            let row = by_name(&a.row, &b.row);
            row.then_with(|| (&a.column, &a.text).cmp(&(&b.column, &b.text)))
        });
        all.append(&mut cells);
    }
    all
}

fn of_table(sheet: Sheet, table: &SourceTable) -> Vec<CarriedJson> {
    let columns = table.columns.iter().enumerate();
    let unknown: Vec<(usize, &SourceColumn)> = columns.filter(|(_, c)| c.field.is_none()).collect();
    if unknown.is_empty() {
        return Vec::new();
    }
    let named = |c: &SourceColumn| c.field == Some(sheet.naming_column());
    let name = table.columns.iter().position(named);
    let mut cells = Vec::new();
    for row in &table.rows {
        let name = name.and_then(|place| row.cells.get(place));
        for (place, column) in &unknown {
            let Some(cell) = row.cells.get(*place).filter(|cell| !cell.is_empty()) else {
                continue;
            };
            cells.push(CarriedJson {
                sheet: sheet.title().to_owned(),
                row: name.map(Cell::text).unwrap_or_default(),
                column: column.title.to_string(),
                text: cell.text(),
            });
        }
    }
    cells
}
