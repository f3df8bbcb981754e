//! What is read but not used yet, said so that nothing is ignored silently.

use crate::model::sheet::Sheet;
use crate::model::source::Cell;
use crate::problem::Problem;
use crate::read::open::Opened;

/// Sheets that the engine does not use yet.
const SHEETS: [Sheet; 1] = [Sheet::Actuals];
/// Columns of used sheets that the engine does not use yet.
const COLUMNS: &[(Sheet, &str)] = &[
    (Sheet::Sites, "Travel distance"),
    (Sheet::Suppliers, "Tax status"),
    (Sheet::Suppliers, "Off-load"),
    (Sheet::Labour, "Crew"),
];

/// One notice for each sheet and column that holds something nobody uses yet.
pub(super) fn notices(opened: &Opened) -> Vec<Problem> {
    let mut problems = Vec::new();
    for table in &opened.sources.tables {
        let unused = table.sheet.filter(|s| SHEETS.contains(s));
        if let Some(sheet) = unused.filter(|_| !table.rows.is_empty()) {
            let said = format!("{} is read but not used yet", sheet.title());
            let first = table.rows.first().map_or(0, |r| r.row);
            problems.push(Problem::notice(said).place(table.place(first, None)));
        }
    }
    for (sheet, field) in COLUMNS {
        for (index, table) in opened.sources.of(*sheet) {
            let column = table.columns.iter().position(|c| c.field == Some(field));
            let Some(column) = column else {
                continue;
            };
            let filled = table.rows.iter().find(|r| {
                r.cells
                    .get(column)
                    .is_some_and(|c| !matches!(c, Cell::Empty))
            });
            if let Some(row) = filled {
                let at = crate::model::source::RowAt {
                    table: index,
                    row: row.row,
                };
                let said = format!("{field} is read but not used yet");
                problems.push(Problem::notice(said).at(at, field));
            }
        }
    }
    problems
}
