//! Workbooks of every usual kind to raw sheets, guarded against files that ask for the moon.

use std::borrow::Cow;
use std::collections::BTreeSet;
use std::io::{Cursor, Read};
use std::sync::Arc;

use calamine::{
    Data, DataRef, Ods, OdsError, Range, Reader, SheetType, SheetVisible, Style, Xls, XlsError,
    Xlsb, XlsbError, Xlsx, XlsxError,
};
use zip::ZipArchive;

use super::cell::CellMaker;
use super::compound::Compound;
use super::extent;
use super::foreign::caught;
use super::gathering::Gathering;
use super::hidden::{self, Facts};
use super::kind::Kind;
use super::number_format::shows_percent;
use super::raw::{Merge, RawCell, RawSheet};
use super::records;
use super::short_cells;
use crate::model::source::Form;

/// Bytes that a workbook may unpack to.
const MOST_UNPACKED: u64 = 600_000_000;
/// Bytes at the start of the table of texts in which it says how many it holds.
const TABLE_HEAD: u64 = 65_536;
/// Merged blocks that are looked at on one sheet.
const MOST_MERGES: usize = 20_000;

type Bytes<'a> = Cursor<&'a [u8]>;

/// Why a workbook cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Refused {
    /// It is encrypted.
    Password,
    /// Its parts do not fit together; with what the library says.
    Damaged(String),
    /// It holds more than [`super::gathering::MOST_CELLS`] cells.
    TooManyCells,
    /// Its cells lie so far apart that more than [`extent::MOST_LAID_OUT`] would have to be kept.
    TooFarApart,
    /// It unpacks to more than [`MOST_UNPACKED`] bytes.
    TooLarge,
}

/// An open workbook.
pub(super) enum Book<'a> {
    /// A package of XML parts, and its bytes.
    Xlsx(Box<Xlsx<Bytes<'a>>>, &'a [u8]),
    /// A package of binary parts.
    Xlsb(Box<Xlsb<Cursor<Cow<'a, [u8]>>>>),
    /// The binary format of 1997.
    Xls(Box<Xls<Bytes<'a>>>),
    /// An OpenDocument spreadsheet.
    Ods(Box<Ods<Bytes<'a>>>),
}

/// Runs a piece of the foreign library.
fn foreign<T>(work: impl FnOnce() -> Result<T, Refused>) -> Result<T, Refused> {
    let damaged = || Refused::Damaged("its parts contradict each other".to_owned());
    caught(work).unwrap_or_else(|| Err(damaged()))
}

/// Opens a workbook of a known kind.
pub(super) fn open(bytes: &[u8], kind: Kind) -> Result<Book<'_>, Refused> {
    check_package(bytes, kind)?;
    let from = || Cursor::new(bytes);
    foreign(|| match kind {
        Kind::Xlsb => {
            let full = short_cells::in_full(bytes).map_or(Cow::Borrowed(bytes), Cow::Owned);
            Ok(Book::Xlsb(Box::new(Xlsb::new(Cursor::new(full))?)))
        }
        Kind::Ods => Ok(Book::Ods(Box::new(Ods::new(from())?))),
        // An encrypted package is a compound file, and only the package reader tells it apart.
        Kind::Compound => match Xlsx::new(from()) {
            Err(XlsxError::Password) => Err(Refused::Password),
            _ => Ok(Book::Xls(Box::new(Xls::new(from())?))),
        },
        _ => Ok(Book::Xlsx(Box::new(Xlsx::new(from())?), bytes)),
    })
}

/// Refuses a compound file in which a chain never ends, or whose sheets would take more room than
/// memory should hold.
fn check_compound(bytes: &[u8]) -> Result<(), Refused> {
    let circular = |_| Refused::Damaged("a chain of its sectors runs in a circle".to_owned());
    let Some(file) = Compound::open(bytes).map_err(circular)? else {
        return Ok(());
    };
    let stream = file.stream("Workbook").or_else(|| file.stream("Book"));
    match stream.map_or(0, |stream| records::laid_out(&stream)) {
        0..=extent::MOST_LAID_OUT => Ok(()),
        _ => Err(Refused::TooFarApart),
    }
}

/// Refuses a package that would unpack to more than memory should hold.
fn check_package(bytes: &[u8], kind: Kind) -> Result<(), Refused> {
    if kind == Kind::Compound {
        return check_compound(bytes);
    }
    let mut package =
        ZipArchive::new(Cursor::new(bytes)).map_err(|e| Refused::Damaged(e.to_string()))?;
    let mut unpacked = 0_u64;
    for part in 0..package.len() {
        let size = package.by_index_raw(part).map_or(0, |part| part.size());
        unpacked = unpacked.saturating_add(size);
    }
    if unpacked > MOST_UNPACKED {
        return Err(Refused::TooLarge);
    }
    if claims_too_many_texts(&mut package) {
        let words = "its table of texts claims more texts than it has room for";
        return Err(Refused::Damaged(words.to_owned()));
    }
    if kind == Kind::Ods {
        let content = hidden::part(&mut package, "content.xml").unwrap_or_default();
        if extent::laid_out(&content) > extent::MOST_LAID_OUT {
            return Err(Refused::TooFarApart);
        }
    }
    Ok(())
}

/// Whether the table of texts says that it holds more of them than it has bytes: the foreign library
/// would ask for room for all of them at once, and a process that is refused memory cannot be saved.
fn claims_too_many_texts(package: &mut ZipArchive<Cursor<&[u8]>>) -> bool {
    let names: Vec<String> = package
        .file_names()
        .filter_map(|name| Some(name.ok()?.into_owned()))
        .collect();
    let is_table = |n: &&String| {
        n.to_lowercase()
            .replace('\\', "/")
            .ends_with("sharedstrings.xml")
    };
    names.iter().filter(is_table).any(|name| {
        let Ok(part) = package.by_name(name) else {
            return false;
        };
        let size = part.size();
        let mut head = Vec::new();
        let read = part.take(TABLE_HEAD).read_to_end(&mut head);
        let head = String::from_utf8_lossy(&head);
        let claimed = head.split("uniqueCount").nth(1).unwrap_or_default();
        let digits = claimed.trim_start_matches(['=', '"', '\'', ' ']);
        let digits: String = digits.chars().take_while(char::is_ascii_digit).collect();
        let fits = digits.parse::<u64>().is_ok_and(|claimed| claimed <= size);
        read.is_ok() && !digits.is_empty() && !fits
    })
}

impl Book<'_> {
    /// Names of the sheets that hold cells, in the order of their tabs, and whether each is shown.
    pub(super) fn names(&self) -> Vec<(String, bool)> {
        let sheets = match self {
            Self::Xlsx(book, _) => book.sheets_metadata(),
            Self::Xlsb(book) => book.sheets_metadata(),
            Self::Xls(book) => book.sheets_metadata(),
            Self::Ods(book) => book.sheets_metadata(),
        };
        let cells = sheets.iter().filter(|s| s.typ == SheetType::WorkSheet);
        cells
            .map(|s| (s.name.clone(), s.visible == SheetVisible::Visible))
            .collect()
    }

    /// Whether a name is defined in the workbook; programs keep the case of it, or do not.
    pub(super) fn defines(&self, name: &str) -> bool {
        let names = match self {
            Self::Xlsx(book, _) => book.defined_names(),
            Self::Xlsb(book) => book.defined_names(),
            Self::Xls(book) => book.defined_names(),
            Self::Ods(book) => book.defined_names(),
        };
        names.iter().any(|(n, _)| n.eq_ignore_ascii_case(name))
    }

    /// Reads one sheet, at most `most_rows` rows of it.
    pub(super) fn sheet(
        &mut self,
        file: &Arc<str>,
        name: &str,
        most_rows: usize,
        maker: &mut CellMaker,
    ) -> Result<RawSheet, Refused> {
        let mut gathering = Gathering::of_at_most(most_rows);
        let formats_unknown = !matches!(self, Self::Xlsx(..));
        let facts = match self {
            Self::Xlsx(_, bytes) => hidden::facts(bytes, name),
            _ => None,
        };
        let merged = foreign(|| match self {
            Self::Xlsx(book, _) => xlsx_cells(book, name, facts.as_ref(), maker, &mut gathering),
            Self::Xlsb(book) => xlsb_cells(book, name, maker, &mut gathering).map(|()| Vec::new()),
            Self::Xls(book) => {
                range_cells(&book.worksheet_range(name)?, maker, &mut gathering)?;
                Ok(merges(book.merge_cells_by_sheet_name(name)?))
            }
            Self::Ods(book) => {
                range_cells(&book.worksheet_range(name)?, maker, &mut gathering)?;
                Ok(Vec::new())
            }
        })?;
        let settled = gathering.settled();
        let facts = facts.unwrap_or_default();
        Ok(RawSheet {
            file: Arc::clone(file),
            label: Arc::from(name),
            form: Form::Workbook,
            rows: settled.rows,
            merged_across: across(&merged),
            merges: down(&merged),
            struck: settled.struck,
            bold: settled.bold,
            hidden: facts.hidden,
            hidden_columns: facts.columns,
            filled_in: BTreeSet::new(),
            formats_unknown,
        })
    }
}

/// Streams the cells, so that a stray cell in the last corner costs nothing, and then looks for
/// formulas without results among the empty ones.
fn xlsx_cells(
    book: &mut Xlsx<Bytes<'_>>,
    name: &str,
    facts: Option<&Facts>,
    maker: &mut CellMaker,
    gathering: &mut Gathering,
) -> Result<Vec<Merge>, Refused> {
    let mut reader = book.worksheet_cells_reader(name)?;
    let looks: Vec<Look> = reader.styles().iter().map(Look::of).collect();
    let mut empties = false;
    let mut more = true;
    while more && let Some((cell, style)) = reader.next_cell_with_style_id()? {
        let look = looks.get(style).copied().unwrap_or_default();
        let Some(raw) = maker.cell(cell.get_value(), look.percent) else {
            empties = true;
            continue;
        };
        let place = cell.get_position();
        if look.struck {
            gathering.strike(place.0);
        }
        if look.bold {
            gathering.embolden(place.0);
        }
        more = gathering.take(place, raw)?;
    }
    drop(reader);
    if empties && facts.is_none_or(|facts| facts.formulas) {
        let mut reader = book.worksheet_cells_reader(name)?;
        while let Some(record) = reader.next_cell_with_formula_metadata()? {
            if record.formula.is_some() && record.value == DataRef::Empty {
                gathering.take(record.pos, RawCell::Unevaluated)?;
            }
        }
    }
    if facts.is_some_and(|facts| !facts.merges) {
        return Ok(Vec::new());
    }
    Ok(merges(book.merge_cells_by_sheet_name(name)?))
}

fn xlsb_cells(
    book: &mut Xlsb<Cursor<Cow<'_, [u8]>>>,
    name: &str,
    maker: &mut CellMaker,
    gathering: &mut Gathering,
) -> Result<(), Refused> {
    let mut reader = book.worksheet_cells_reader(name)?;
    while let Some(cell) = reader.next_cell()? {
        if let Some(raw) = maker.cell(cell.get_value(), false)
            && !gathering.take(cell.get_position(), raw)?
        {
            break;
        }
    }
    Ok(())
}

/// The dense ranges of the two formats that offer nothing else; a range starts at its first cell.
fn range_cells(
    range: &Range<Data>,
    maker: &mut CellMaker,
    gathering: &mut Gathering,
) -> Result<(), Refused> {
    let (first_row, first_column) = range.start().unwrap_or((0, 0));
    for (row, cells) in (first_row..).zip(range.rows()) {
        for (column, data) in (first_column..).zip(cells) {
            if let Some(raw) = maker.cell(&borrowed(data), false)
                && !gathering.take((row, column), raw)?
            {
                return Ok(());
            }
        }
    }
    Ok(())
}

fn borrowed(data: &Data) -> DataRef<'_> {
    match data {
        Data::Int(n) => DataRef::Int(*n),
        Data::Float(n) => DataRef::Float(*n),
        Data::String(text) => DataRef::SharedString(text),
        Data::Bool(yes) => DataRef::Bool(*yes),
        Data::DateTime(moment) => DataRef::DateTime(*moment),
        Data::DateTimeIso(text) => DataRef::DateTimeIso(text.clone()),
        Data::DurationIso(text) => DataRef::DurationIso(text.clone()),
        Data::Error(error) => DataRef::Error(error.clone()),
        Data::Empty => DataRef::Empty,
    }
}

fn merges(found: Vec<calamine::Dimensions>) -> Vec<Merge> {
    let merge = |d: calamine::Dimensions| Merge {
        from: d.start,
        to: d.end,
    };
    found.into_iter().take(MOST_MERGES).map(merge).collect()
}

/// Blocks of more than one row.
fn down(merges: &[Merge]) -> Vec<Merge> {
    let down = merges.iter().filter(|m| m.to.0 > m.from.0);
    down.copied().collect()
}

/// Rows with blocks of one row and more than one column, in file order.
fn across(merges: &[Merge]) -> Vec<u32> {
    let across = merges.iter();
    let across = across.filter(|m| m.to.0 == m.from.0 && m.to.1 > m.from.1);
    let mut rows: Vec<u32> = across.map(|m| m.from.0).collect();
    rows.sort_unstable();
    rows
}

/// What matters of a cell's format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Look {
    percent: bool,
    struck: bool,
    bold: bool,
}

impl Look {
    fn of(style: &Style) -> Self {
        let format = style.number_format.as_ref();
        let font = style.font.as_ref();
        Self {
            percent: format.is_some_and(|f| shows_percent(&f.format_code)),
            struck: font.is_some_and(calamine::Font::has_strikethrough),
            bold: font.is_some_and(calamine::Font::is_bold),
        }
    }
}

macro_rules! refusals {
    ($($error:ident),*) => {
        $(impl From<$error> for Refused {
            fn from(error: $error) -> Self {
                match error {
                    $error::Password => Self::Password,
                    other => Self::Damaged(other.to_string()),
                }
            }
        })*
    };
}
refusals!(XlsxError, XlsbError, XlsError, OdsError);
