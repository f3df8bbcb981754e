//! Workbooks from a plain text, for what a CSV file cannot show: hidden rows, merged cells, lines through.
//!
//! ```text
//! [Beds]                           a sheet; [Beds hidden] hides it
//! 3: Bed | Length (ft) | Note      row 3 from column A; an empty cell is nothing
//! 4: A | 8 | '08 | 2.5%            numbers are numbers, behind an apostrophe they are text
//! 5: B | =4+4 -> 8 |               a formula and its stored result; without one the result is missing
//! merge A4:A5                      likewise: table A3:C5, filter A3:C5
//! strike row 4                     likewise: bold row 4, hide row 4
//! hide column C
//! ```

use std::path::Path;

use rust_xlsxwriter::{Format, Formula, Table, TableColumn, Workbook, Worksheet};

/// One sheet of the text.
#[derive(Default)]
struct Sheet {
    name: String,
    hidden: bool,
    rows: Vec<(u32, Vec<String>)>,
    orders: Vec<String>,
}

/// A block of cells, ends included: first row and column, last row and column.
type Block = (u32, u16, u32, u16);

/// Writes the workbook that `text` describes.
///
/// # Errors
/// The line that cannot be understood, or what the writer says.
pub(crate) fn write(text: &str, path: &Path) -> Result<(), String> {
    let mut book = Workbook::new();
    for sheet in sheets(text)? {
        write_sheet(&sheet, book.add_worksheet()).map_err(|e| format!("[{}]: {e}", sheet.name))?;
    }
    book.save(path).map_err(|e| e.to_string())
}

fn sheets(text: &str) -> Result<Vec<Sheet>, String> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for line in text.lines().filter(|line| !line.is_empty()) {
        if let Some(name) = line.strip_prefix('[').and_then(|l| l.strip_suffix(']')) {
            let bare = name.strip_suffix(" hidden");
            sheets.push(Sheet {
                name: bare.unwrap_or(name).to_owned(),
                hidden: bare.is_some(),
                ..Sheet::default()
            });
            continue;
        }
        let sheet = sheets.last_mut().ok_or("begins without a sheet")?;
        let row = line
            .split_once(':')
            .and_then(|(n, cells)| Some((n.parse::<u32>().ok()?, cells)));
        match row {
            Some((number, cells)) => {
                let cells = cells.split('|').map(|cell| cell.trim().to_owned());
                sheet.rows.push((number - 1, cells.collect()));
            }
            None => sheet.orders.push(line.to_owned()),
        }
    }
    Ok(sheets)
}

fn write_sheet(sheet: &Sheet, page: &mut Worksheet) -> Result<(), String> {
    let said = |e: rust_xlsxwriter::XlsxError| e.to_string();
    page.set_name(&sheet.name).map_err(said)?;
    page.set_hidden(sheet.hidden);
    let mut looks: Vec<(u32, Format)> = Vec::new();
    for order in &sheet.orders {
        let (what, of) = order.rsplit_once(' ').ok_or_else(|| order.clone())?;
        let row = || of.parse::<u32>().map(|n| n - 1).map_err(|_| order.clone());
        match what {
            "merge" => {
                let (top, left, bottom, right) = block(of)?;
                page.merge_range(top, left, bottom, right, "", &Format::new())
                    .map_err(said)?;
            }
            "table" => add_table(sheet, page, block(of)?)?,
            "filter" => {
                let (top, left, bottom, right) = block(of)?;
                page.autofilter(top, left, bottom, right).map_err(said)?;
            }
            "hide row" => drop(page.set_row_hidden(row()?).map_err(said)?),
            "hide column" => drop(page.set_column_hidden(column(of)).map_err(said)?),
            "strike row" => looks.push((row()?, Format::new().set_font_strikethrough())),
            "bold row" => looks.push((row()?, Format::new().set_bold())),
            _ => return Err(order.clone()),
        }
    }
    for (row, cells) in &sheet.rows {
        let look = looks.iter().find(|(at, _)| at == row);
        let look = look.map_or_else(Format::new, |(_, look)| look.clone());
        for (column, cell) in (0..).zip(cells).filter(|(_, cell)| !cell.is_empty()) {
            write_cell(page, (*row, column), cell, &look).map_err(said)?;
        }
    }
    Ok(())
}

fn write_cell(
    page: &mut Worksheet,
    (row, column): (u32, u16),
    cell: &str,
    look: &Format,
) -> Result<(), rust_xlsxwriter::XlsxError> {
    let cell = cell.replace("\\n", "\n");
    if let Some(text) = cell.strip_prefix('\'') {
        page.write_with_format(row, column, text, look)?;
    } else if let Some(formula) = cell.strip_prefix('=') {
        let (formula, result) = formula.split_once(" -> ").unwrap_or((formula, ""));
        let formula = Formula::new(formula).set_result(result);
        page.write_formula_with_format(row, column, formula, look)?;
    } else if let Some(Ok(share)) = cell
        .strip_suffix('%')
        .map(|n| format!("{n}e-2").parse::<f64>())
    {
        let percent = look.clone().set_num_format("0.0%");
        page.write_number_with_format(row, column, share, &percent)?;
    } else if let Ok(number) = cell.parse::<f64>() {
        page.write_number_with_format(row, column, number, look)?;
    } else {
        page.write_with_format(row, column, cell, look)?;
    }
    Ok(())
}

/// A table over cells that are written besides; its titles are those of the first row.
fn add_table(sheet: &Sheet, page: &mut Worksheet, block: Block) -> Result<(), String> {
    let (top, left, bottom, right) = block;
    let titles = sheet.rows.iter().find(|(row, _)| *row == top);
    let titles = titles
        .map(|(_, cells)| cells.as_slice())
        .unwrap_or_default();
    let titles = titles.iter().skip(usize::from(left));
    let columns: Vec<TableColumn> = titles.map(|t| TableColumn::new().set_header(t)).collect();
    let table = Table::new().set_columns(&columns);
    page.add_table(top, left, bottom, right, &table)
        .map(drop)
        .map_err(|e| e.to_string())
}

/// `B3:C7`.
fn block(words: &str) -> Result<Block, String> {
    let cell = |word: &str| {
        let letters = word.trim_end_matches(|c: char| c.is_ascii_digit());
        let row = word.strip_prefix(letters)?.parse::<u32>().ok()?;
        Some((row - 1, column(letters)))
    };
    let ends = words.split_once(':');
    let ends = ends.and_then(|(from, to)| Some((cell(from)?, cell(to)?)));
    let ((top, left), (bottom, right)) = ends.ok_or_else(|| words.to_owned())?;
    Ok((top, left, bottom, right))
}

/// A column by its letter.
fn column(letter: &str) -> u16 {
    let letter = letter.bytes().next().unwrap_or(b'A');
    u16::from(letter.saturating_sub(b'A'))
}
