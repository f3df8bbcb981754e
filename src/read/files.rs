//! Files and folders to tables.

use std::ffi::OsStr;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::cell::CellMaker;
use super::gather::Gathered;
use super::gathering::MOST_CELLS;
use super::header;
use super::kind::{Kind, kind};
use super::names::did_you_mean;
use super::ours;
use super::raw::RawSheet;
use super::table;
use super::titles::{self, SheetName};
use super::workbook::{self, Book, Refused};
use crate::model::sheet::{MARKED_NAME, Sheet};
use crate::problem::Problem;

/// Larger files are no job of garden beds.
pub(super) const MOST_BYTES: u64 = 300_000_000;
/// Files of a folder that are looked at.
const MOST_FILES: usize = 500;
/// Rows of an unknown sheet that are looked at to see whether it holds beds.
const LOOKED_AT: usize = 30;
/// Known titles that make an unknown sheet one of beds.
const TITLES_OF_BEDS: usize = 3;

/// Reads a workbook, or one CSV file of beds.
pub(super) fn file(path: &Path, gathered: &mut Gathered) {
    let Some(bytes) = bytes_of(path, gathered) else {
        return;
    };
    let name = name_of(path);
    match kind(&bytes) {
        Kind::Text => text(&name, &bytes, Sheet::Beds, gathered),
        kind @ (Kind::Markup | Kind::Other) => gathered.problems.push(no_table(&name, kind)),
        kind => whole_workbook(&name, &bytes, kind, gathered),
    }
}

/// Reads one CSV file that holds `sheet`.
pub(super) fn text_file(path: &Path, sheet: Sheet, gathered: &mut Gathered) {
    if let Some(table) = table_of_file(path, sheet, gathered) {
        gathered.add_known(table, sheet);
    }
}

/// The rows of a CSV file that should hold `sheet`; `None` after a problem.
fn table_of_file(path: &Path, sheet: Sheet, gathered: &mut Gathered) -> Option<RawSheet> {
    let bytes = bytes_of(path, gathered)?;
    let name = name_of(path);
    match kind(&bytes) {
        Kind::Text => return Some(table_of_text(&name, &bytes, sheet, gathered)),
        kind @ (Kind::Markup | Kind::Other) => gathered.problems.push(no_table(&name, kind)),
        _ => gathered.problems.push(
            Problem::file(format!(
                "{name} is a workbook, where a CSV file is expected"
            ))
            .hint("give the workbook by itself; it can hold beds and prices"),
        ),
    }
    None
}

/// Reads CSV text that holds `sheet`.
pub(super) fn text(name: &str, bytes: &[u8], sheet: Sheet, gathered: &mut Gathered) {
    let table = table_of_text(name, bytes, sheet, gathered);
    gathered.add_known(table, sheet);
}

fn table_of_text(name: &str, bytes: &[u8], sheet: Sheet, gathered: &mut Gathered) -> RawSheet {
    let label = Path::new(name).file_stem().unwrap_or(OsStr::new(name));
    let label = label.to_string_lossy();
    let table = table::read(name, &label, bytes, sheet, &mut gathered.problems);
    gathered.begin_file(table.semicolons);
    table.sheet
}

/// Reads every CSV file of a folder that is named as a sheet.
pub(super) fn folder(path: &Path, gathered: &mut Gathered) {
    let files = match files_of(path) {
        Ok(files) => files,
        Err(error) => {
            gathered.problems.push(cannot("read", path, &error));
            return;
        }
    };
    // The file that names suppliers' lists is read first: lists are no sheets, whatever they are called.
    let (naming, others): (Vec<PathBuf>, Vec<PathBuf>) = files
        .into_iter()
        .partition(|file| sheet_of_file(file) == SheetName::Known(Sheet::PriceLists));
    for file in &naming {
        text_file(file, Sheet::PriceLists, gathered);
    }
    let lists: Vec<PathBuf> = gathered
        .texts(Sheet::PriceLists, "File")
        .map(|list| path.join(list))
        .collect();
    for file in others {
        let name = name_of(&file);
        if lists.contains(&file) {
            continue;
        }
        let read = match sheet_of_file(&file) {
            SheetName::Known(sheet) => {
                text_file(&file, sheet, gathered);
                true
            }
            SheetName::Called(sheet) | SheetName::Begins(sheet) => {
                table_of_file(&file, sheet, gathered).is_none_or(|t| gathered.add(t, sheet))
            }
            SheetName::Unknown => false,
        };
        if !read {
            gathered.problems.push(not_read(&name));
            gathered.unknown.push(name);
        }
    }
}

/// The files of a folder by name, without folders, hidden files and the lock files of programs.
fn files_of(path: &Path) -> std::io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in std::fs::read_dir(path)?.take(MOST_FILES) {
        let entry = entry?;
        let name = entry.file_name();
        let name = name.to_string_lossy();
        let passing = name.starts_with('.') || name.starts_with("~$");
        if !passing && entry.path().is_file() {
            files.push(entry.path());
        }
    }
    files.sort();
    Ok(files)
}

fn sheet_of_file(path: &Path) -> SheetName {
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    let is_text = matches!(&*ending.to_lowercase(), "csv" | "tsv" | "txt" | "tab");
    let stem = path.file_stem().filter(|_| is_text).unwrap_or_default();
    titles::sheet(&stem.to_string_lossy())
}

fn not_read(name: &str) -> Problem {
    let notice = Problem::notice(format!(
        "{name} is not named as a sheet of a job and is not read"
    ));
    let stem = name.split('.').next().unwrap_or(name);
    match did_you_mean(stem, Sheet::ALL.into_iter().map(Sheet::title)) {
        Some(title) => notice.hint(format!("did you mean {title}.csv?")),
        None => notice,
    }
}

/// The file's name without its folders.
pub(super) fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

fn bytes_of(path: &Path, gathered: &mut Gathered) -> Option<Vec<u8>> {
    match read_most(path, MOST_BYTES) {
        Ok(Some(bytes)) => return Some(bytes),
        Ok(None) => gathered
            .problems
            .push(too_large(&path.display().to_string())),
        Err(error) => gathered.problems.push(cannot("read", path, &error)),
    }
    None
}

/// All bytes of a file, or nothing when there are more than `most`. A pipe or a device does not say
/// beforehand how much it holds.
pub(super) fn read_most(path: &Path, most: u64) -> std::io::Result<Option<Vec<u8>>> {
    let file = std::fs::File::open(path)?;
    if file.metadata()?.len() > most {
        return Ok(None);
    }
    let mut bytes = Vec::new();
    file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
    let fits = u64::try_from(bytes.len()).is_ok_and(|length| length <= most);
    Ok(fits.then_some(bytes))
}

fn cannot(verb: &str, path: &Path, error: &std::io::Error) -> Problem {
    let why = why_not_read(error);
    Problem::file(format!("cannot {verb} {}: {why}", path.display()))
}

/// What an error of the system means to a user.
pub(super) fn why_not_read(error: &std::io::Error) -> String {
    match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file or folder".to_owned(),
        std::io::ErrorKind::PermissionDenied => "permission is denied".to_owned(),
        _ => error.to_string(),
    }
}

fn too_large(name: &str) -> Problem {
    Problem::file(format!("{name} is larger than any job needs"))
        .hint("keep only the sheets of the job in it")
}

fn no_table(name: &str, kind: Kind) -> Problem {
    if kind == Kind::Markup {
        return Problem::file(format!("{name} is a web page or bare XML, not a workbook"))
            .hint("open it in a spreadsheet program and save it as .xlsx");
    }
    Problem::file(format!("{name} is neither a workbook nor a text table"))
        .hint("a job is an .xlsx, .xlsm, .xlsb, .xls or .ods file, or CSV files")
}

/// Reads all known sheets of a workbook; where none holds beds, looks for them in the others.
fn whole_workbook(name: &str, bytes: &[u8], kind: Kind, gathered: &mut Gathered) {
    gathered.begin_file(false);
    let read = workbook::open(bytes, kind).and_then(|mut book| {
        let mut reading = Reading {
            is_estimate: book.defines(ours::MARK),
            is_starter: book.defines(ours::STARTER_MARK),
            is_marked: book.defines(MARKED_NAME),
            file: Arc::from(name),
            maker: CellMaker::default(),
            gathered,
        };
        reading.sheets(&mut book)
    });
    if let Err(refused) = read {
        gathered.problems.push(refusal(name, refused));
    }
}

struct Reading<'g> {
    /// Whether the workbook is an estimate of this program, which is read back as its job.
    is_estimate: bool,
    /// Whether the workbook began as a starter of this program.
    is_starter: bool,
    /// Whether it is a marked copy, in which the list of problems is not read.
    is_marked: bool,
    file: Arc<str>,
    maker: CellMaker,
    gathered: &'g mut Gathered,
}

impl Reading<'_> {
    fn sheets(&mut self, book: &mut Book<'_>) -> Result<(), Refused> {
        let mut unknown = Vec::new();
        for (name, shown) in book.names() {
            match titles::sheet(&name) {
                _ if self.is_estimate && name == ours::CHOICES => {
                    let raw = book.sheet(&self.file, &name, usize::MAX, &mut self.maker)?;
                    self.gathered.choices = Some(ours::choices(&raw));
                }
                _ if self.is_estimate && ours::is_computed(&name) => {}
                _ if self.is_starter && ours::is_guide(&name) => {}
                _ if self.is_marked && ours::lists_problems(&name) => {}
                SheetName::Known(Sheet::PriceLists) if self.is_estimate => self.tell_lists(&name),
                SheetName::Known(sheet) => {
                    let raw = self.raw(book, &name, sheet)?;
                    self.gathered.add_known(raw, sheet);
                    self.tell_if_hidden(&name, shown);
                }
                by @ (SheetName::Called(sheet) | SheetName::Begins(sheet)) => {
                    let raw = self.raw(book, &name, sheet)?;
                    if self.gathered.add(raw, sheet) {
                        if by == SheetName::Begins(sheet) && !self.is_estimate {
                            self.tell_read_as(&name, sheet);
                        }
                        self.tell_if_hidden(&name, shown);
                    } else {
                        unknown.push((name, shown));
                    }
                }
                SheetName::Unknown => unknown.push((name, shown)),
            }
        }
        for (name, shown) in unknown {
            let is_beds = !self.gathered.has(Sheet::Beds) && self.looks_like_beds(book, &name)?;
            if is_beds {
                let raw = book.sheet(&self.file, &name, usize::MAX, &mut self.maker)?;
                self.gathered.add_known(raw, Sheet::Beds);
                self.tell_read_as(&name, Sheet::Beds);
            } else if shown {
                self.tell_unknown(&name);
            }
        }
        Ok(())
    }

    /// One sheet; of an estimate, without what the program added to it.
    fn raw(&mut self, book: &mut Book<'_>, name: &str, sheet: Sheet) -> Result<RawSheet, Refused> {
        let mut raw = book.sheet(&self.file, name, usize::MAX, &mut self.maker)?;
        if self.is_estimate {
            ours::strip(&mut raw, sheet);
        }
        Ok(raw)
    }

    fn looks_like_beds(&mut self, book: &mut Book<'_>, name: &str) -> Result<bool, Refused> {
        let raw = book.sheet(&self.file, name, LOOKED_AT, &mut self.maker)?;
        Ok(header::most_known(&raw, Sheet::Beds) >= TITLES_OF_BEDS)
    }

    fn tell_read_as(&mut self, name: &str, sheet: Sheet) {
        let notice = Problem::notice(format!("this sheet is read as {}", sheet.title()));
        let place = format!("{}!{name}", self.file);
        self.gathered.problems.push(notice.place(place));
    }

    /// A reader may take a hidden sheet for absent.
    fn tell_if_hidden(&mut self, name: &str, shown: bool) {
        if shown || self.is_estimate {
            return;
        }
        let notice = Problem::notice("this sheet is hidden and is read all the same")
            .place(format!("{}!{name}", self.file))
            .hint("delete it if it does not count");
        self.gathered.problems.push(notice);
    }

    /// What was taken from suppliers' lists stands among the prices of an estimate.
    fn tell_lists(&mut self, name: &str) {
        let said = "the lists are not read again: what was used of them stands on Prices";
        let notice = Problem::notice(said).place(format!("{}!{name}", self.file));
        self.gathered.problems.push(notice);
    }

    fn tell_unknown(&mut self, name: &str) {
        self.gathered.unknown.push(name.to_owned());
        let notice = Problem::notice("this sheet is not known and is not read");
        let notice = notice.place(format!("{}!{name}", self.file));
        let like = did_you_mean(name, Sheet::ALL.into_iter().map(Sheet::title));
        self.gathered.problems.push(match like {
            Some(title) => notice.hint(format!("did you mean {title}?")),
            None => notice,
        });
    }
}

/// Why a workbook was refused.
pub(super) fn refusal(name: &str, refused: Refused) -> Problem {
    match refused {
        Refused::Password => Problem::file(format!("{name} is protected with a password"))
            .hint("open it in a spreadsheet program and save it without the password"),
        Refused::Damaged(why) => {
            Problem::file(format!("{name} cannot be read as a workbook: {why}"))
                .hint("open it in a spreadsheet program and save it again as .xlsx")
        }
        Refused::TooManyCells => Problem::file(format!(
            "{name} holds more than {MOST_CELLS} cells with something in them"
        ))
        .hint("split the job, or delete what does not belong to it"),
        Refused::TooFarApart => Problem::file(format!(
            "{name} has cells so far apart that the room between them is too large"
        ))
        .hint("delete what stands far from the tables, or save it as .xlsx"),
        Refused::TooLarge => too_large(name),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_more_is_read_than_a_job_can_hold() {
        let file = tempfile::NamedTempFile::new().unwrap();
        #[allow(clippy::disallowed_methods, reason = "a test makes its own input")]
        std::fs::write(file.path(), b"Bed,Size").unwrap();
        let read = |most| read_most(file.path(), most).unwrap();
        assert_eq!(read(8).as_deref(), Some(&b"Bed,Size"[..]));
        assert_eq!(read(7), None);
    }

    #[cfg(unix)]
    #[test]
    fn a_device_without_an_end_is_given_up() {
        // Its length is said to be 0.
        assert_eq!(read_most(Path::new("/dev/zero"), 1_000).unwrap(), None);
    }
}
