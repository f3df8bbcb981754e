//! A supplier's file, opened: the raw sheet that the mapping means.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::mapping::Mapping;
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::cell::CellMaker;
use crate::read::files::{MOST_BYTES, name_of, read_most, refusal, why_not_read};
use crate::read::kind::{Kind, kind};
use crate::read::names::{did_you_mean, key};
use crate::read::raw::RawSheet;
use crate::read::table;
use crate::read::titles::{self, SheetName};
use crate::read::workbook::{self, Book};

/// A raw list, and whether semicolons part its cells.
pub(super) struct RawList {
    pub(super) raw: RawSheet,
    pub(super) semicolons: bool,
}

/// The path that a mapping names, seen from the folder of the job. Nothing is ever fetched.
pub(super) fn path(base: &Path, file: &str) -> Option<PathBuf> {
    (!file.contains("://")).then(|| base.join(file))
}

/// Opens the list of a mapping. Whatever is wrong is told at the mapping's cell.
pub(super) fn open(
    mapping: &Mapping,
    base: &Path,
    titles: &[&str],
    problems: &mut Vec<Problem>,
) -> Option<RawList> {
    let Some(path) = path(base, &mapping.file) else {
        let said = mapping.wrong(
            "File",
            "File must be a file on this machine, not an address",
        );
        problems.push(said.hint("save the list beside the job and write its file name"));
        return None;
    };
    let bytes = match read_most(&path, MOST_BYTES) {
        Ok(Some(bytes)) => bytes,
        Ok(None) => {
            problems.push(mapping.wrong("File", "the list is larger than any job needs"));
            return None;
        }
        Err(error) => {
            let why = why_not_read(&error);
            let said = mapping.wrong("File", format!("the list cannot be read: {why}"));
            problems.push(said.hint("write the file's name as seen from the folder of the job"));
            return None;
        }
    };
    let name = name_of(&path);
    match kind(&bytes) {
        Kind::Text => Some(text(&name, &bytes, titles, problems)),
        Kind::Markup | Kind::Other => {
            let said = mapping.wrong("File", "the list is neither a workbook nor a text table");
            problems.push(said.hint("save it as .xlsx or as CSV in a spreadsheet program"));
            None
        }
        kind => sheet(mapping, &name, &bytes, kind, problems),
    }
}

fn text(name: &str, bytes: &[u8], titles: &[&str], problems: &mut Vec<Problem>) -> RawList {
    let label = Path::new(name).file_stem().map(|s| s.to_string_lossy());
    let label = label.unwrap_or_default();
    let keys: Vec<String> = titles.iter().map(|title| key(title)).collect();
    let knows =
        |title: &str| keys.contains(&key(title)) || titles::column(title, Sheet::Prices).is_some();
    let read = table::read_knowing(name, &label, bytes, &knows, problems);
    RawList {
        raw: read.sheet,
        semicolons: read.semicolons,
    }
}

fn sheet(
    mapping: &Mapping,
    name: &str,
    bytes: &[u8],
    kind: Kind,
    problems: &mut Vec<Problem>,
) -> Option<RawList> {
    let mut book = match workbook::open(bytes, kind) {
        Ok(book) => book,
        Err(refused) => {
            problems.push(refusal(name, refused).at(mapping.at, "File"));
            return None;
        }
    };
    let sheet = chosen(mapping, &book, name, problems)?;
    let file: Arc<str> = Arc::from(name);
    match book.sheet(&file, &sheet, usize::MAX, &mut CellMaker::default()) {
        Ok(raw) => Some(RawList {
            raw,
            semicolons: false,
        }),
        Err(refused) => {
            problems.push(refusal(name, refused).at(mapping.at, "File"));
            None
        }
    }
}

/// The sheet that the mapping names, else the only one, else the only one that is called as prices are.
fn chosen(
    mapping: &Mapping,
    book: &Book<'_>,
    name: &str,
    problems: &mut Vec<Problem>,
) -> Option<String> {
    let all = book.names();
    if let Some(typed) = &mapping.sheet {
        let found = all.iter().find(|(sheet, _)| key(sheet) == key(typed));
        if found.is_none() {
            let names = all.iter().map(|(sheet, _)| sheet.as_str());
            let hint = match did_you_mean(typed, names.clone()) {
                Some(near) => format!("did you mean {near}?"),
                None => format!("it has {}", names.collect::<Vec<_>>().join(", ")),
            };
            let said = mapping.wrong("Sheet", format!("{name} has no such sheet"));
            problems.push(said.hint(hint));
        }
        return found.map(|(sheet, _)| sheet.clone());
    }
    let shown: Vec<&String> = all
        .iter()
        .filter(|(_, shown)| *shown)
        .map(|(n, _)| n)
        .collect();
    if let [only] = shown.as_slice() {
        return Some((*only).clone());
    }
    let is_prices = |n: &&&String| titles::sheet(n) == SheetName::Known(Sheet::Prices);
    let mut prices = shown.iter().filter(is_prices);
    if let (Some(only), None) = (prices.next(), prices.next()) {
        return Some((**only).clone());
    }
    let names: Vec<&str> = shown.iter().map(|n| n.as_str()).collect();
    let said = mapping.wrong("File", format!("{name} has {} sheets", names.len()));
    problems.push(said.hint(format!(
        "write under Sheet which one is the list: {}",
        names.join(", ")
    )));
    None
}
