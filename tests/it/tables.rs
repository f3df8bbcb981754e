//! A job as tables of text, to change cells and orders and to write it as CSV files or as a workbook.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use rust_xlsxwriter::Workbook;
use tempfile::TempDir;

use crate::folders::root;

/// One sheet: its titles and its rows of text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Table {
    pub(crate) titles: Vec<String>,
    pub(crate) rows: Vec<Vec<String>>,
}

/// The sheets of a job by name.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Tables(pub(crate) BTreeMap<String, Table>);

/// A job that stands in a folder of its own until it is dropped.
pub(crate) struct Standing {
    _root: TempDir,
    pub(crate) path: PathBuf,
}

impl Table {
    /// Where a column stands; its title may end in a unit.
    #[track_caller]
    pub(crate) fn column(&self, title: &str) -> usize {
        let bare = |t: &str| t.split(" (").next().unwrap().to_owned();
        let found = self.titles.iter().position(|t| bare(t) == title);
        found.unwrap_or_else(|| panic!("no column {title} in {:?}", self.titles))
    }
}

impl Tables {
    /// The CSV files of a folder below the root of the repository.
    pub(crate) fn of(folder: &str) -> Self {
        let mut tables = Self::default();
        for entry in fs::read_dir(root(folder)).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            tables.put(&name, &fs::read_to_string(&path).unwrap());
        }
        tables
    }

    /// Sets a sheet from CSV text.
    pub(crate) fn put(&mut self, name: &str, text: &str) {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .from_reader(text.as_bytes());
        let row = |r: csv::StringRecord| r.iter().map(str::to_owned).collect();
        let mut rows: Vec<Vec<String>> = reader.records().map(|r| row(r.unwrap())).collect();
        let titles = rows.remove(0);
        self.0.insert(name.to_owned(), Table { titles, rows });
    }

    #[track_caller]
    pub(crate) fn table(&mut self, sheet: &str) -> &mut Table {
        self.0
            .get_mut(sheet)
            .unwrap_or_else(|| panic!("no sheet {sheet}"))
    }

    /// Everything that stands under a title, blank cells apart.
    pub(crate) fn column(&self, sheet: &str, title: &str) -> Vec<String> {
        let table = &self.0[sheet];
        let column = table.column(title);
        let cells = table.rows.iter().map(|row| row[column].clone());
        cells.filter(|cell| !cell.is_empty()).collect()
    }

    /// The rows whose cells hold these words, each under its title.
    #[track_caller]
    pub(crate) fn rows(&self, sheet: &str, keys: &[(&str, &str)]) -> Vec<usize> {
        let table = self
            .0
            .get(sheet)
            .unwrap_or_else(|| panic!("no sheet {sheet}"));
        let holds = |row: &&Vec<String>| {
            keys.iter()
                .all(|(title, word)| row[table.column(title)] == *word)
        };
        let rows = table.rows.iter().enumerate();
        rows.filter(|(_, row)| holds(row)).map(|(i, _)| i).collect()
    }

    /// Sets one cell of the only row that the keys name.
    #[track_caller]
    pub(crate) fn set(&mut self, sheet: &str, keys: &[(&str, &str)], title: &str, value: &str) {
        let rows = self.rows(sheet, keys);
        assert_eq!(rows.len(), 1, "{sheet} {keys:?}");
        let table = self.table(sheet);
        let column = table.column(title);
        value.clone_into(&mut table.rows[rows[0]][column]);
    }

    /// Sets a setting of the `Job` sheet, and adds it when it is not there.
    pub(crate) fn setting(&mut self, name: &str, value: &str) {
        if self.rows("Job", &[("Setting", name)]).is_empty() {
            let row = vec![name.to_owned(), value.to_owned()];
            self.table("Job").rows.push(row);
        } else {
            self.set("Job", &[("Setting", name)], "Value", value);
        }
    }

    /// Writes the job as a folder of CSV files.
    pub(crate) fn folder(&self) -> Standing {
        let root = tempfile::tempdir().unwrap();
        let path = root.path().join("job");
        fs::create_dir(&path).unwrap();
        for (name, table) in &self.0 {
            let mut writer = csv::Writer::from_path(path.join(format!("{name}.csv"))).unwrap();
            writer.write_record(&table.titles).unwrap();
            for row in &table.rows {
                writer.write_record(row).unwrap();
            }
            writer.flush().unwrap();
        }
        Standing { _root: root, path }
    }

    /// Writes the job as a workbook of text cells, its sheets in the given order.
    pub(crate) fn workbook(&self, order: &[String]) -> Standing {
        let root = tempfile::tempdir().unwrap();
        let path = root.path().join("job.xlsx");
        let mut book = Workbook::new();
        for name in order {
            let table = &self.0[name];
            let sheet = book.add_worksheet();
            sheet.set_name(name).unwrap();
            for (row, cells) in (0..).zip(std::iter::once(&table.titles).chain(&table.rows)) {
                for (column, cell) in (0..).zip(cells) {
                    sheet.write_string(row, column, cell).unwrap();
                }
            }
        }
        book.save(&path).unwrap();
        Standing { _root: root, path }
    }

    /// The names of its sheets.
    pub(crate) fn names(&self) -> Vec<String> {
        self.0.keys().cloned().collect()
    }
}

impl AsRef<Path> for Standing {
    fn as_ref(&self) -> &Path {
        &self.path
    }
}
