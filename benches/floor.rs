//! The floor of the benchmark: reads a job with calamine and writes the cells of an estimate with
//! `rust_xlsxwriter` in its default mode, without formats, and thinks nothing in between.
//!
//! `cargo run --release --example floor -- job.xlsx estimate.shape out.xlsx`

#![allow(
    clippy::float_arithmetic,
    clippy::print_stdout,
    reason = "a program of the benchmark: no money is reckoned here"
)]

use std::error::Error;

use calamine::{Data, Reader, Xlsx, open_workbook};
use rust_xlsxwriter::{Formula, Workbook, Worksheet};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let job = arguments.next().ok_or("which job?")?;
    let shape = std::fs::read_to_string(arguments.next().ok_or("which shape?")?)?;
    let out = arguments.next().ok_or("which output?")?;
    println!("{} cells read", read(&job)?);
    let mut book = Workbook::new();
    let mut name = "";
    for line in shape.lines() {
        let mut parts = line.split('\t');
        let sheet = parts.next().ok_or("no sheet")?;
        let first: u32 = parts.next().ok_or("no row")?.parse()?;
        let rows: u32 = parts.next().ok_or("no count")?.parse()?;
        let cells: Vec<&str> = parts.collect();
        if sheet != name {
            book.add_worksheet().set_name(sheet)?;
            name = sheet;
        }
        let page = book.worksheet_from_name(sheet)?;
        for row in first..first + rows {
            write_row(page, row, &cells)?;
        }
    }
    book.save(out)?;
    Ok(())
}

fn read(job: &str) -> Result<usize, Box<dyn Error>> {
    let mut book: Xlsx<_> = open_workbook(job)?;
    let mut cells = 0;
    for sheet in book.sheet_names() {
        let range = book.worksheet_range(&sheet)?;
        cells += range
            .used_cells()
            .filter(|(_, _, v)| !matches!(v, Data::Empty))
            .count();
    }
    Ok(cells)
}

fn write_row(page: &mut Worksheet, row: u32, cells: &[&str]) -> Result<(), Box<dyn Error>> {
    for cell in cells.chunks_exact(3) {
        let [column, kind, sample] = cell else {
            continue;
        };
        let column: u16 = column.parse()?;
        match *kind {
            "n" => page.write_number(row, column, sample.parse::<f64>()? + f64::from(row))?,
            "f" => {
                let text = sample.replace("{r}", &(row + 1).to_string());
                page.write_formula(row, column, Formula::new(text).set_result(row.to_string()))?
            }
            _ => page.write_string(row, column, format!("{sample} {row}"))?,
        };
    }
    Ok(())
}
