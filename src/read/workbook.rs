//! Workbooks of every usual kind to raw sheets, guarded against files that ask for the moon.

use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use calamine::{
    Data, DataRef, Ods, OdsError, Range, Reader, SheetType, SheetVisible, Style, Xls, XlsError,
    Xlsb, XlsbError, Xlsx, XlsxError,
};
use zip::ZipArchive;

use super::cell::CellMaker;
use super::hidden::{self, Facts};
use super::raw::{Merge, RawCell, RawRow, RawSheet};
use crate::model::source::Form;

/// Cells with something in them that one workbook may hold: half a million beds of ten columns.
pub(super) const MOST_CELLS: usize = 6_000_000;
/// Bytes that a workbook may unpack to.
const MOST_UNPACKED: u64 = 2_000_000_000;
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
    /// It holds more than [`MOST_CELLS`] cells.
    TooManyCells,
    /// It unpacks to more than [`MOST_UNPACKED`] bytes.
    TooLarge,
}

/// What the first bytes of a file say that it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A package of XML parts.
    Xlsx,
    /// A package of binary parts.
    Xlsb,
    /// An OpenDocument spreadsheet.
    Ods,
    /// The binary format of 1997, or an encrypted package.
    Compound,
    /// A web page or bare XML, which some programs save under the name of a workbook.
    Markup,
    /// Text, as far as can be told.
    Text,
    /// Neither.
    Other,
}

/// What kind of file the bytes are, whatever the file is called.
pub(super) fn kind(bytes: &[u8]) -> Kind {
    let start = bytes.get(..bytes.len().min(512)).unwrap_or_default();
    if start.starts_with(b"PK\x03\x04") {
        return kind_of_package(bytes);
    }
    if start.starts_with(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1") {
        return Kind::Compound;
    }
    let text = super::decode::decode(start).text;
    let trimmed = text.trim_start();
    if trimmed.starts_with('<') {
        Kind::Markup
    } else if text.contains('\0') || start.starts_with(b"%PDF") {
        Kind::Other
    } else {
        Kind::Text
    }
}

fn kind_of_package(bytes: &[u8]) -> Kind {
    let Ok(package) = ZipArchive::new(Cursor::new(bytes)) else {
        return Kind::Xlsx;
    };
    let holds = |name: &[u8]| package.file_names_raw().any(|n| n == name);
    if holds(b"xl/workbook.bin") {
        Kind::Xlsb
    } else if holds(b"content.xml") {
        Kind::Ods
    } else {
        Kind::Xlsx
    }
}

/// An open workbook.
pub(super) enum Book<'a> {
    /// A package of XML parts, and its bytes.
    Xlsx(Box<Xlsx<Bytes<'a>>>, &'a [u8]),
    /// A package of binary parts.
    Xlsb(Box<Xlsb<Bytes<'a>>>),
    /// The binary format of 1997.
    Xls(Box<Xls<Bytes<'a>>>),
    /// An OpenDocument spreadsheet.
    Ods(Box<Ods<Bytes<'a>>>),
}

/// Runs a piece of the foreign library; hostile files make it panic in places, which is no more
/// than a damaged file to us.
fn foreign<T>(work: impl FnOnce() -> Result<T, Refused>) -> Result<T, Refused> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
        Err(Refused::Damaged(
            "its parts contradict each other".to_owned(),
        ))
    })
}

/// Opens a workbook of a known kind.
pub(super) fn open(bytes: &[u8], kind: Kind) -> Result<Book<'_>, Refused> {
    check_package(bytes, kind)?;
    let from = || Cursor::new(bytes);
    foreign(|| match kind {
        Kind::Xlsb => Ok(Book::Xlsb(Box::new(Xlsb::new(from())?))),
        Kind::Ods => Ok(Book::Ods(Box::new(Ods::new(from())?))),
        // An encrypted package is a compound file, and only the package reader tells it apart.
        Kind::Compound => match Xlsx::new(from()) {
            Err(XlsxError::Password) => Err(Refused::Password),
            _ => Ok(Book::Xls(Box::new(Xls::new(from())?))),
        },
        _ => Ok(Book::Xlsx(Box::new(Xlsx::new(from())?), bytes)),
    })
}

/// Refuses a package that would unpack to more than memory should hold.
fn check_package(bytes: &[u8], kind: Kind) -> Result<(), Refused> {
    if kind == Kind::Compound {
        return Ok(());
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
    Ok(())
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

    /// Reads one sheet, at most `most_rows` rows of it.
    pub(super) fn sheet(
        &mut self,
        file: &Arc<str>,
        name: &str,
        most_rows: usize,
        maker: &mut CellMaker,
    ) -> Result<RawSheet, Refused> {
        let mut gathering = Gathering {
            most_rows,
            ..Gathering::default()
        };
        let formats_unknown = !matches!(self, Self::Xlsx(..));
        let facts = match self {
            Self::Xlsx(_, bytes) => hidden::facts(bytes, name),
            _ => None,
        };
        let merges = foreign(|| match self {
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
        let (rows, struck) = gathering.settled();
        Ok(RawSheet {
            file: Arc::clone(file),
            label: Arc::from(name),
            form: Form::Workbook,
            rows,
            merges,
            struck,
            hidden: facts.map(|facts| facts.hidden).unwrap_or_default(),
            formats_unknown,
        })
    }
}

/// Cells on their way into rows.
#[derive(Default)]
struct Gathering {
    rows: Vec<RawRow>,
    struck: Vec<u32>,
    cells: usize,
    most_rows: usize,
    unsorted: bool,
}

impl Gathering {
    /// Takes a cell at its absolute place; `false` when no more rows are wanted.
    fn take(&mut self, (row, column): (u32, u32), cell: RawCell) -> Result<bool, Refused> {
        self.cells += 1;
        if self.cells > MOST_CELLS {
            return Err(Refused::TooManyCells);
        }
        match self.rows.last_mut() {
            Some(last) if last.row == row => {
                self.unsorted |= last.cells.last().is_some_and(|(c, _)| *c >= column);
                last.cells.push((column, cell));
            }
            last => {
                self.unsorted |= last.is_some_and(|last| last.row > row);
                if self.rows.len() >= self.most_rows {
                    return Ok(false);
                }
                let capacity = self.rows.last().map_or(8, |row| row.cells.len());
                let mut cells = Vec::with_capacity(capacity);
                cells.push((column, cell));
                self.rows.push(RawRow { row, cells });
            }
        }
        Ok(true)
    }

    /// Counts a cell with a line through it.
    fn strike(&mut self, row: u32) {
        if self.struck.last() != Some(&row) {
            self.struck.push(row);
        }
    }

    /// The rows in file order, whatever order the file kept them in.
    fn settled(mut self) -> (Vec<RawRow>, Vec<u32>) {
        if self.unsorted {
            self.rows.sort_by_key(|row| row.row);
            self.rows.dedup_by(|later, kept| {
                let same = later.row == kept.row;
                if same {
                    kept.cells.append(&mut later.cells);
                }
                same
            });
            for row in &mut self.rows {
                row.cells.sort_by_key(|(column, _)| *column);
                row.cells.dedup_by_key(|(column, _)| *column);
            }
        }
        (self.rows, self.struck)
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
    book: &mut Xlsb<Bytes<'_>>,
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
    let down = found.into_iter().filter(|d| d.end.0 > d.start.0);
    down.take(MOST_MERGES)
        .map(|d| Merge {
            from: d.start,
            to: d.end,
        })
        .collect()
}

/// What matters of a cell's format.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
struct Look {
    percent: bool,
    struck: bool,
}

impl Look {
    fn of(style: &Style) -> Self {
        let format = style.number_format.as_ref();
        Self {
            percent: format.is_some_and(|f| shows_percent(&f.format_code)),
            struck: style
                .font
                .as_ref()
                .is_some_and(calamine::Font::has_strikethrough),
        }
    }
}

/// Whether a number format has a percent sign that is not quoted or escaped.
fn shows_percent(format: &str) -> bool {
    let (mut quoted, mut escaped) = (false, false);
    for c in format.chars() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => quoted = !quoted,
            '%' if !quoted => return true,
            _ => {}
        }
    }
    false
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percent_signs_count_where_they_show() {
        assert!(shows_percent("0.00%"));
        assert!(shows_percent("0%;[Red]-0%"));
        assert!(!shows_percent("0 \"% of all\""));
        assert!(!shows_percent("0\\%"));
        assert!(!shows_percent("General"));
    }

    #[test]
    fn cells_in_any_order_become_rows_in_file_order() {
        let mut gathering = Gathering {
            most_rows: 10,
            ..Gathering::default()
        };
        for place in [(5, 1), (2, 3), (2, 1), (5, 0)] {
            assert_eq!(gathering.take(place, RawCell::Unevaluated), Ok(true));
        }
        let (rows, _) = gathering.settled();
        let places: Vec<(u32, Vec<u32>)> = rows
            .iter()
            .map(|row| (row.row, row.cells.iter().map(|c| c.0).collect()))
            .collect();
        assert_eq!(places, [(2, vec![1, 3]), (5, vec![0, 1])]);
    }

    #[test]
    fn files_are_known_by_their_first_bytes() {
        assert_eq!(kind(b"Bed,Length\n"), Kind::Text);
        assert_eq!(kind(b"  <html><table>"), Kind::Markup);
        assert_eq!(
            kind(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest"),
            Kind::Compound
        );
        assert_eq!(kind(b"PK\x03\x04cut short"), Kind::Xlsx);
        assert_eq!(kind(b"\x09\x08\x00\x00\x01\x02\x00\x00"), Kind::Other);
        assert_eq!(kind(b"B\0e\0d\0;\0L\0e\0n\0"), Kind::Text);
    }
}
