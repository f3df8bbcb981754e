//! Writes down the shape of a workbook for the floor program: which cells each row has, and of which kind.
//!
//! `cargo run --release --example shape -- estimate.xlsx estimate.shape`
//!
//! A line is a run of rows whose cells are of the same kinds: `sheet TAB first row TAB rows`, and then for
//! each cell `TAB column TAB kind TAB sample`, where kind is `s` (text), `n` (number) or `f` (formula), and
//! `{r}` in a formula stands for the number of its own row.

#![allow(
    clippy::float_arithmetic,
    clippy::print_stdout,
    reason = "a program of the benchmark: no money is reckoned here"
)]

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write as _;

use calamine::{Data, Reader, Xlsx, open_workbook};

/// Kind and sample of each cell of a row, by column.
type Row = BTreeMap<u32, (char, String)>;

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let from = arguments.next().ok_or("which workbook?")?;
    let to = arguments.next().ok_or("which shape?")?;
    let mut book: Xlsx<_> = open_workbook(from)?;
    let mut text = String::new();
    for sheet in book.sheet_names() {
        let rows = rows(&mut book, &sheet)?;
        runs(&sheet, &rows, &mut text)?;
    }
    std::io::Write::write_all(&mut std::fs::File::create(to)?, text.as_bytes())?;
    Ok(())
}

fn rows(
    book: &mut Xlsx<std::io::BufReader<std::fs::File>>,
    sheet: &str,
) -> Result<BTreeMap<u32, Row>, Box<dyn Error>> {
    let mut rows: BTreeMap<u32, Row> = BTreeMap::new();
    let values = book.worksheet_range(sheet)?;
    let (top, left) = values.start().unwrap_or((0, 0));
    for (row, column, value) in values.used_cells() {
        let cell = match value {
            Data::Empty => continue,
            Data::Float(n) => ('n', n.to_string()),
            Data::Int(n) => ('n', n.to_string()),
            other => ('s', other.to_string().replace(['\t', '\n'], " ")),
        };
        rows.entry(top + u32::try_from(row)?)
            .or_default()
            .insert(left + u32::try_from(column)?, cell);
    }
    let formulas = book.worksheet_formula(sheet)?;
    let (top, left) = formulas.start().unwrap_or((0, 0));
    for (row, column, formula) in formulas.used_cells() {
        let row = top + u32::try_from(row)?;
        let own = (row + 1).to_string();
        let cell = ('f', templated(formula, &own));
        rows.entry(row)
            .or_default()
            .insert(left + u32::try_from(column)?, cell);
    }
    Ok(rows)
}

/// A formula with its own row's number, where it ends a cell reference, as `{r}`.
fn templated(formula: &str, own: &str) -> String {
    let mut out = String::new();
    let mut rest = formula;
    while let Some(at) = rest.find(own) {
        let (before, after) = rest.split_at(at);
        let tail = after.get(own.len()..).unwrap_or_default();
        let reference = before.ends_with(|c: char| c.is_ascii_uppercase() || c == '$');
        let ends = !tail.starts_with(|c: char| c.is_ascii_digit());
        out.push_str(before);
        out.push_str(if reference && ends { "{r}" } else { own });
        rest = tail;
    }
    out.push_str(rest);
    out
}

fn runs(sheet: &str, rows: &BTreeMap<u32, Row>, text: &mut String) -> Result<(), Box<dyn Error>> {
    let kinds = |row: &Row| row.iter().map(|(c, (k, _))| (*c, *k)).collect::<Vec<_>>();
    let mut run: Option<(u32, u32, &Row)> = None;
    for (at, row) in rows {
        match &mut run {
            Some((first, count, sample))
                if *first + *count == *at && kinds(sample) == kinds(row) =>
            {
                *count += 1;
            }
            _ => {
                flush(sheet, run.take(), text)?;
                run = Some((*at, 1, row));
            }
        }
    }
    flush(sheet, run, text)
}

fn flush(
    sheet: &str,
    run: Option<(u32, u32, &Row)>,
    text: &mut String,
) -> Result<(), Box<dyn Error>> {
    let Some((first, count, row)) = run else {
        return Ok(());
    };
    write!(text, "{sheet}\t{first}\t{count}")?;
    for (column, (kind, sample)) in row {
        write!(text, "\t{column}\t{kind}\t{sample}")?;
    }
    text.push('\n');
    Ok(())
}
