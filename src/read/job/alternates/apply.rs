//! One changed cell, or the same cell of several rows, in the tables of a job.

use super::{Edit, is_one_of, near};
use crate::model::library::folded;
use crate::model::setting_titles::title_of;
use crate::model::sheet::Sheet;
use crate::model::source::{Cell, RowAt, SourceColumn, SourceRow, SourceTable};
use crate::problem::{Problem, Spot};
use crate::read::open::Opened;
use crate::read::{fields, titles};

/// Words for every row of a sheet.
const ALL: [&str; 4] = ["all", "every", "todos", "todas"];
/// What parts the name of a row from another of its cells.
const BESIDE: &str = " / ";
/// Settings by which every cell of the job is read.
const READ_BY: [&str; 3] = ["Units", "Currency", "Decimal mark"];

/// What an edit did.
pub(super) struct Applied {
    /// The row of `Alternates`.
    pub(super) at: RowAt,
    /// `Beds B2, Fill: Deep bed -> Compost only`.
    pub(super) words: String,
    rows: Vec<RowAt>,
    column: Option<&'static str>,
}

impl Applied {
    /// Whether a cell is one of those that it changed.
    pub(super) fn touched(&self, spot: Option<Spot>) -> bool {
        spot.is_some_and(|spot| self.rows.contains(&spot.row) && self.column == Some(spot.field))
    }
}

/// Changes the cells that a row is about; tells what it did in words.
pub(super) fn apply(opened: &mut Opened, edit: &Edit) -> Result<Applied, Box<Problem>> {
    let column = column(edit)?;
    readable_still(edit)?;
    let title = edit.sheet.title();
    if opened.sources.of(edit.sheet).next().is_none() {
        let hint = format!("add a sheet {title}, or name another one");
        let sentence = format!("the job has no {title}");
        return Err(complaint(edit, "Sheet", sentence, hint));
    }
    let mut rows = rows_met(opened, edit);
    if rows.is_empty() && edit.sheet == Sheet::Job {
        rows.extend(new_setting(opened, edit));
    }
    match rows.as_slice() {
        [] => return Err(no_such_row(opened, edit)),
        [_] => {}
        many if !asks_for_all(edit) => {
            let sentence = format!("{title} has {} rows {}", many.len(), edit.row);
            let hint = format!(
                "write {}{BESIDE}and another cell of the one that is meant, or all{BESIDE}{}",
                edit.row, edit.row
            );
            return Err(complaint(edit, "Row", sentence, hint));
        }
        _ => {}
    }
    let before = match column {
        None => leave_out(opened, &rows),
        Some(field) => put(opened, &rows, field, &edit.value),
    };
    Ok(Applied {
        at: edit.at,
        words: said(edit, column, before),
        rows,
        column,
    })
}

fn asks_for_all(edit: &Edit) -> bool {
    let first = edit.row.split(BESIDE).next();
    first.is_some_and(|first| is_one_of(first, &ALL))
}

/// The column that changes; `None` where rows are taken out.
fn column(edit: &Edit) -> Result<Option<&'static str>, Box<Problem>> {
    let Some(typed) = &edit.column else {
        return Ok((edit.sheet == Sheet::Job).then_some("Value"));
    };
    if let Some((field, _)) = titles::column(typed, edit.sheet) {
        return Ok(Some(field));
    }
    let title = edit.sheet.title();
    let known = fields::of(edit.sheet).iter().copied();
    let hint = near(typed, known, &format!("write a column of {title}"));
    let sentence = format!("{title} has no column {typed}");
    Err(complaint(edit, "Column", sentence, hint))
}

/// An alternate is one job beside another: both are read and added up alike.
fn readable_still(edit: &Edit) -> Result<(), Box<Problem>> {
    match title_of(&edit.row).filter(|title| READ_BY.contains(title)) {
        Some(title) if edit.sheet == Sheet::Job => {
            let sentence = format!("{title} cannot change in an alternate");
            let hint = "make a job of its own for that";
            Err(complaint(edit, "Row", sentence, hint.to_owned()))
        }
        _ => Ok(()),
    }
}

/// Rows that an edit is about, in the order of the tables.
fn rows_met(opened: &Opened, edit: &Edit) -> Vec<RowAt> {
    let tables = opened.sources.of(edit.sheet);
    let rows = tables.flat_map(|(index, table)| {
        let met = table.rows.iter().filter(|row| is_met(table, row, edit));
        met.map(move |row| RowAt {
            table: index,
            row: row.row,
        })
    });
    rows.collect()
}

fn is_met(table: &SourceTable, row: &SourceRow, edit: &Edit) -> bool {
    let name = name_of(table, row, edit.sheet);
    if edit.sheet == Sheet::Job && title_of(&name).is_some() {
        return title_of(&name) == title_of(&edit.row);
    }
    if folded(&name) == folded(&edit.row) {
        return true;
    }
    let mut parts = edit.row.split(BESIDE);
    let is_named = parts
        .next()
        .is_some_and(|first| is_one_of(first, &ALL) || folded(&name) == folded(first));
    let holds = |part: &str| row.cells.iter().any(|c| folded(&c.text()) == folded(part));
    is_named && parts.all(holds)
}

/// What a row of a sheet is called.
fn name_of(table: &SourceTable, row: &SourceRow, sheet: Sheet) -> String {
    let naming = sheet.naming_column();
    let named = table.columns.iter().position(|c| c.field == Some(naming));
    let cell = named.and_then(|position| row.cells.get(position));
    cell.map(Cell::text).unwrap_or_default()
}

fn leave_out(opened: &mut Opened, rows: &[RowAt]) -> Vec<String> {
    for (index, table) in (0_u16..).zip(&mut opened.sources.tables) {
        table.rows.retain(|row| {
            !rows.contains(&RowAt {
                table: index,
                row: row.row,
            })
        });
    }
    Vec::new()
}

/// Puts a value into a column of rows; what stood there, each text once.
fn put(opened: &mut Opened, rows: &[RowAt], field: &'static str, value: &Cell) -> Vec<String> {
    let mut before = Vec::new();
    let tables = opened.sources.tables.iter_mut().zip(&mut opened.ways);
    for (index, (table, way)) in (0_u16..).zip(tables) {
        let of_table = rows.iter().filter(|at| at.table == index);
        let of_table: Vec<u32> = of_table.map(|at| at.row).collect();
        if of_table.is_empty() {
            continue;
        }
        let position = position(table, field);
        let found = table.rows.iter_mut().filter(|r| of_table.contains(&r.row));
        for row in found {
            way.filled_in.remove(&row.row);
            way.spoilt.remove(&(row.row, position));
            if let Some(cell) = row.cells.get_mut(position) {
                before.push(cell.text());
                cell.clone_from(value);
            }
        }
    }
    before.sort();
    before.dedup();
    before
}

/// Where the column stands, added at the right when the table does not have it.
fn position(table: &mut SourceTable, field: &'static str) -> usize {
    let found = table.columns.iter().position(|c| c.field == Some(field));
    found.unwrap_or_else(|| {
        let last = table.columns.iter().map(|c| c.index).max();
        table.columns.push(SourceColumn {
            index: last.map_or(0, |last| last.saturating_add(1)),
            title: field.into(),
            field: Some(field),
        });
        for row in &mut table.rows {
            row.cells.push(Cell::Empty);
        }
        table.columns.len() - 1
    })
}

/// A setting that the job does not have yet, as a last row of its sheet.
fn new_setting(opened: &mut Opened, edit: &Edit) -> Option<RowAt> {
    let title = title_of(&edit.row)?;
    let tables = (0_u16..).zip(&mut opened.sources.tables);
    let mut tables = tables.filter(|(_, t)| t.sheet == Some(Sheet::Job));
    let (index, table) = tables.next()?;
    let name = position(table, "Setting");
    position(table, "Value");
    let row = table.rows.last().map_or(0, |row| row.row).saturating_add(1);
    let mut cells = vec![Cell::Empty; table.columns.len()];
    *cells.get_mut(name)? = Cell::Text(title.into());
    table.rows.push(SourceRow { row, cells });
    Some(RowAt { table: index, row })
}

/// What an edit did, in words.
fn said(edit: &Edit, column: Option<&'static str>, before: Vec<String>) -> String {
    let whose = format!("{} {}", edit.sheet.title(), edit.row);
    let shown = |text: String| {
        if text.is_empty() {
            "nothing".to_owned()
        } else {
            text
        }
    };
    let now = shown(edit.value.text());
    let was: Vec<String> = before.into_iter().map(shown).collect();
    let was = was.join(" or ");
    match (column, edit.sheet) {
        (None, _) => format!("{whose}: left out"),
        (_, Sheet::Job) => format!("{}: {was} -> {now}", edit.row),
        (Some(column), _) => format!("{whose}, {column}: {was} -> {now}"),
    }
}

fn no_such_row(opened: &Opened, edit: &Edit) -> Box<Problem> {
    let tables = opened.sources.of(edit.sheet);
    let names = tables.flat_map(|(_, table)| {
        let rows = table.rows.iter();
        rows.map(move |row| name_of(table, row, edit.sheet))
    });
    let names: Vec<String> = names.collect();
    let known = names.iter().map(String::as_str);
    let hint = near(
        &edit.row,
        known,
        "write the name of a row as it stands there, or all",
    );
    let sentence = format!("{} has no row {}", edit.sheet.title(), edit.row);
    complaint(edit, "Row", sentence, hint)
}

fn complaint(edit: &Edit, field: &'static str, sentence: String, hint: String) -> Box<Problem> {
    Box::new(Problem::error(sentence).at(edit.at, field).hint(hint))
}
