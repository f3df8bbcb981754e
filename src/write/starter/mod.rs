//! Starters: job files filled in with an example to type over, as a workbook that explains itself or
//! as a folder of CSV files. What stands in them is data in `templates/start`; here it is laid out.

mod content;
mod guide;
mod lists;
mod notes;
mod sheets;
#[cfg(test)]
mod tests;

use jiff::civil::Date;
use rust_xlsxwriter::Workbook;

use super::csv_safe::CsvTable;
use super::formats::Formats;
use super::sheet_style::Stationery;
use super::xlsx::{WriteError, properties};
use crate::model::library::Library;
use crate::model::settings::Paper;
use crate::units::System;

/// The defined name by which a workbook is known to have begun as a starter.
pub const MARK: &str = "loamwright_starter";

/// What a job file is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// A price for a client.
    Quote,
    /// A budget with volunteers and donations.
    Grant,
    /// One list of beds and the prices of several suppliers.
    Suppliers,
}

impl Purpose {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Quote, Self::Grant, Self::Suppliers];

    /// The word for it on the command line and in the templates.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Quote => "quote",
            Self::Grant => "grant",
            Self::Suppliers => "suppliers",
        }
    }
}

/// A starter to be written.
#[derive(Clone, Copy, Debug)]
pub struct Starter<'a> {
    /// What it is for.
    pub purpose: Purpose,
    /// The units of its sizes and packs.
    pub system: System,
    /// Name of the job.
    pub job: &'a str,
    /// The date of its prices.
    pub today: Date,
    /// What to type next.
    pub commands: &'a [String],
}

/// The starter as the bytes of a workbook.
///
/// # Errors
/// [`WriteError`] when a sheet cannot be written.
pub fn workbook(starter: &Starter<'_>, library: &Library) -> Result<Vec<u8>, WriteError> {
    let tables = content::tables(starter);
    let lists = lists::plan(&tables, library, starter.system);
    let formats = Formats::new(2);
    let stationery = Stationery {
        paper: match starter.system {
            System::UsCustomary => Paper::Letter,
            System::Metric => Paper::A4,
        },
        job: starter.job.to_owned(),
        estimate: format!("Job file, {}", starter.today),
    };
    let mut workbook = Workbook::new();
    let title = format!("Job: {}", starter.job);
    workbook.set_properties(&properties(title, starter.today)?);
    guide::write(&mut workbook, &formats, &stationery, starter, &tables)?;
    for table in &tables {
        sheets::write(&mut workbook, &formats, &stationery, table)?;
    }
    lists::write(&mut workbook, &formats, &lists)?;
    let start = format!("='{}'!$A$1", guide::SHEET);
    workbook.define_name(MARK, &start)?;
    Ok(workbook.save_to_buffer()?)
}

/// The starter as CSV files, each with its name.
pub fn csv_files(starter: &Starter<'_>) -> Vec<(String, Vec<u8>)> {
    let file = |table: &content::Table| {
        let titles: Vec<&str> = table.columns.iter().map(|c| &*c.title).collect();
        let mut csv = CsvTable::new(&titles);
        for row in &table.rows {
            for cell in row {
                csv.text(cell);
            }
            csv.end_row();
        }
        let name = format!("{}.csv", table.sheet.title());
        (name, csv.into_bytes())
    };
    content::tables(starter).iter().map(file).collect()
}
