//! Marks in the XML of a sheet: cells get another format, and cells that do not exist yet are made.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::iter::Peekable;

use quick_xml::events::BytesStart;

use super::styles::{Look, Styles};
use super::xml::{Edits, Piece, attribute, pieces, with};
use super::{CellMark, OFFICE, Unmarkable};
use crate::model::source::a1;

/// What may stand behind the pointer to the drawing of notes, in the order of the format.
const AFTER_NOTES: [&str; 9] = [
    "legacyDrawingHF",
    "drawingHF",
    "picture",
    "oleObjects",
    "controls",
    "webPublishItems",
    "tableParts",
    "extLst",
    "AlternateContent",
];

/// Cells to be marked, by row and column from 0.
pub(super) type Marks = BTreeMap<(u32, u32), CellMark>;

/// The sheet with its marks. `notes` is the id of the drawing of notes, when the sheet has none yet.
pub(super) fn marked(
    xml: &str,
    marks: &Marks,
    styles: &mut Styles,
    notes: Option<&str>,
) -> Result<String, Unmarkable> {
    let waiting: Vec<_> = marks.iter().map(|(at, mark)| (*at, mark)).collect();
    let mut walk = Walk {
        waiting: waiting.into_iter().peekable(),
        styles,
        columns: Vec::new(),
        row: None,
        column: None,
        row_format: None,
        edits: Edits::default(),
    };
    let mut notes = notes;
    let (mut in_cells, mut past_cells, mut is_whole) = (false, false, false);
    for piece in pieces(xml) {
        let piece = piece?;
        check_root(&piece)?;
        is_whole |= piece.depth == 0 && piece.closes_as("worksheet");
        if let Some((_, empty)) = piece.opens_as("sheetData") {
            in_cells = !empty;
            past_cells = empty;
            if empty {
                let rows = walk.rows_before(u32::MAX)?;
                let full = format!("<sheetData>{rows}</sheetData>");
                walk.edits.replace(piece.at.clone(), full);
            }
        } else if in_cells {
            walk.take(&piece)?;
            if piece.closes_as("sheetData") {
                (in_cells, past_cells) = (false, true);
            }
        } else if let Some((tag, _)) = piece.opens_as("col") {
            walk.columns.extend(column_format(tag));
        } else if past_cells
            && comes_after_notes(&piece)
            && let Some(id) = notes.take()
        {
            let pointer = format!("<legacyDrawing xmlns:r=\"{OFFICE}\" r:id=\"{id}\"/>");
            walk.edits.insert(piece.at.start, pointer);
        }
    }
    if !past_cells || !is_whole {
        return Err(Unmarkable("a sheet of it is not whole"));
    }
    walk.edits.applied(xml)
}

fn check_root(piece: &Piece<'_>) -> Result<(), Unmarkable> {
    match piece.opens() {
        Some((tag, _)) if piece.depth == 0 && tag.name().as_ref() != "worksheet" => {
            Err(Unmarkable("its parts are written with names of their own"))
        }
        _ => Ok(()),
    }
}

fn comes_after_notes(piece: &Piece<'_>) -> bool {
    let ends = piece.closes_as("worksheet");
    let name = |(tag, _): (&BytesStart<'_>, bool)| AFTER_NOTES.contains(&tag.local_name().as_ref());
    ends || (piece.depth == 1 && piece.opens().is_some_and(name))
}

/// First and last column of a column format, from 0, and its number.
fn column_format(tag: &BytesStart<'_>) -> Option<(u32, u32, usize)> {
    let number = |name| attribute(tag, name)?.parse::<u32>().ok();
    let format = attribute(tag, "style")?.parse().ok()?;
    Some((
        number("min")?.checked_sub(1)?,
        number("max")?.checked_sub(1)?,
        format,
    ))
}

/// The state on the way through the cells.
struct Walk<'m, 's> {
    waiting: Peekable<std::vec::IntoIter<((u32, u32), &'m CellMark)>>,
    styles: &'s mut Styles,
    columns: Vec<(u32, u32, usize)>,
    /// Of the last row and of the last cell in it, from 0.
    row: Option<u32>,
    column: Option<u32>,
    row_format: Option<usize>,
    edits: Edits,
}

impl Walk<'_, '_> {
    fn take(&mut self, piece: &Piece<'_>) -> Result<(), Unmarkable> {
        if let Some((tag, empty)) = piece.opens_as("row") {
            self.open_row(piece, tag, empty)
        } else if let Some((tag, empty)) = piece.opens_as("c") {
            self.cell(piece, tag, empty)
        } else if piece.closes_as("row") {
            let cells = self.cells_before(u32::MAX)?;
            self.edits.insert(piece.at.start, cells);
            Ok(())
        } else if piece.closes_as("sheetData") {
            let rows = self.rows_before(u32::MAX)?;
            self.edits.insert(piece.at.start, rows);
            Ok(())
        } else {
            Ok(())
        }
    }

    fn open_row(
        &mut self,
        piece: &Piece<'_>,
        tag: &BytesStart<'_>,
        empty: bool,
    ) -> Result<(), Unmarkable> {
        let typed = attribute(tag, "r").and_then(|r| r.parse::<u32>().ok()?.checked_sub(1));
        let next = self.row.map_or(0, |row| row.saturating_add(1));
        let row = typed.unwrap_or(next);
        let rows = self.rows_before(row)?;
        self.edits.insert(piece.at.start, rows);
        (self.row, self.column) = (Some(row), None);
        let own = attribute(tag, "customFormat").is_some_and(|own| own == "1" || own == "true");
        let format = attribute(tag, "s").and_then(|s| s.parse().ok());
        self.row_format = format.filter(|_| own);
        if self.waiting.peek().is_some_and(|((at, _), _)| *at == row) {
            // What a row says of its extent would not be true of the cells that are added.
            let open = with(tag, &[("spans", None)], false);
            let full = if empty {
                format!("{open}{}</row>", self.cells_before(u32::MAX)?)
            } else {
                open
            };
            self.edits.replace(piece.at.clone(), full);
        }
        Ok(())
    }

    fn cell(
        &mut self,
        piece: &Piece<'_>,
        tag: &BytesStart<'_>,
        empty: bool,
    ) -> Result<(), Unmarkable> {
        let typed = attribute(tag, "r").and_then(|r| column_of(&r));
        let next = self.column.map_or(0, |column| column.saturating_add(1));
        let column = typed.unwrap_or(next);
        let cells = self.cells_before(column)?;
        self.edits.insert(piece.at.start, cells);
        self.column = Some(column);
        let here = (self.row.unwrap_or(0), column);
        if let Some((_, mark)) = self.waiting.next_if(|(at, _)| *at == here) {
            let base = attribute(tag, "s")
                .and_then(|s| s.parse().ok())
                .unwrap_or(0);
            let format = self.styles.like(base, Look::Marked(mark.severity))?;
            let cell = with(tag, &[("s", Some(format.to_string()))], empty);
            self.edits.replace(piece.at.clone(), cell);
        }
        Ok(())
    }

    /// New rows for marks above a row.
    fn rows_before(&mut self, row: u32) -> Result<String, Unmarkable> {
        let mut rows = String::new();
        while let Some(((at, _), _)) = self
            .waiting
            .peek()
            .copied()
            .filter(|((at, _), _)| *at < row)
        {
            (self.row, self.row_format) = (Some(at), None);
            let cells = self.cells_before(u32::MAX)?;
            // Writing to a string cannot fail.
            let _ = write!(rows, "<row r=\"{}\">{cells}</row>", u64::from(at) + 1);
        }
        Ok(rows)
    }

    /// New cells for marks in this row left of a column.
    fn cells_before(&mut self, column: u32) -> Result<String, Unmarkable> {
        let row = self.row.unwrap_or(0);
        let mut cells = String::new();
        while let Some(((_, at), mark)) =
            self.waiting.next_if(|((r, c), _)| *r == row && *c < column)
        {
            let mut formats = self.columns.iter();
            let of_column = formats.find(|(first, last, _)| (*first..=*last).contains(&at));
            let base = self.row_format.or(of_column.map(|(.., format)| *format));
            let format = self
                .styles
                .like(base.unwrap_or(0), Look::Marked(mark.severity))?;
            let _ = write!(cells, "<c r=\"{}\" s=\"{format}\"/>", a1(row, at));
        }
        Ok(cells)
    }
}

/// The column, from 0, of a cell's name: 3 of `D7`.
pub(super) fn column_of(name: &str) -> Option<u32> {
    let letters = name.bytes().take_while(u8::is_ascii_alphabetic);
    let number = letters.fold(0_u32, |number, letter| {
        let digit = u32::from(letter.to_ascii_uppercase().saturating_sub(b'A')).saturating_add(1);
        number.saturating_mul(26).saturating_add(digit)
    });
    number.checked_sub(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Severity;

    const STYLES: &str = r#"<styleSheet><fonts count="1"><font/></fonts><fills count="1"><fill/></fills><cellXfs count="3"><xf fontId="0"/><xf numFmtId="9"/><xf numFmtId="2"/></cellXfs></styleSheet>"#;

    /// The sheet with errors at some cells; the formats that were added begin at number 3.
    #[track_caller]
    fn check(xml: &str, cells: &[(u32, u32)], notes: Option<&str>, expected: &str) {
        let mark = CellMark {
            severity: Severity::Error,
            note: None,
        };
        let marks: Marks = cells.iter().map(|at| (*at, mark.clone())).collect();
        let mut styles = Styles::read(STYLES.to_owned()).unwrap();
        let wrapped = |inner: &str| format!("<worksheet>{inner}</worksheet>");
        let done = marked(&wrapped(xml), &marks, &mut styles, notes).unwrap();
        assert_eq!(done, wrapped(expected));
    }

    #[test]
    fn a_cell_gets_a_format_made_from_its_own() {
        check(
            r#"<sheetData><row r="1" spans="1:2"><c r="A1" s="2" t="s"><v>0</v></c><c r="B1"/></row></sheetData>"#,
            &[(0, 0), (0, 1)],
            None,
            r#"<sheetData><row r="1"><c r="A1" t="s" s="3"><v>0</v></c><c r="B1" s="4"/></row></sheetData>"#,
        );
    }

    #[test]
    fn cells_and_rows_that_are_missing_are_made_in_their_place() {
        check(
            r#"<cols><col min="4" max="5" style="1"/></cols><sheetData><row r="2"><c r="B2"/></row><row r="4"/></sheetData><pageMargins/>"#,
            &[(0, 3), (1, 0), (1, 2), (3, 1), (6, 0)],
            None,
            r#"<cols><col min="4" max="5" style="1"/></cols><sheetData><row r="1"><c r="D1" s="3"/></row><row r="2"><c r="A2" s="4"/><c r="B2"/><c r="C2" s="4"/></row><row r="4"><c r="B4" s="4"/></row><row r="7"><c r="A7" s="4"/></row></sheetData><pageMargins/>"#,
        );
        check(
            "<sheetData/>",
            &[(0, 0)],
            None,
            r#"<sheetData><row r="1"><c r="A1" s="3"/></row></sheetData>"#,
        );
    }

    #[test]
    fn rows_and_cells_without_names_are_counted() {
        check(
            "<sheetData><row><c/></row><row s='2' customFormat='1'><c/><c><v>1</v></c></row></sheetData>",
            &[(1, 1), (1, 3)],
            None,
            "<sheetData><row><c/></row><row s=\"2\" customFormat=\"1\"><c/><c s=\"3\"><v>1</v></c><c r=\"D2\" s=\"4\"/></row></sheetData>",
        );
    }

    #[test]
    fn the_drawing_of_notes_is_pointed_at_where_the_format_wants_it() {
        let pointer = format!("<legacyDrawing xmlns:r=\"{OFFICE}\" r:id=\"rId9\"/>");
        check(
            "<sheetData/><drawing/><tableParts/>",
            &[],
            Some("rId9"),
            &format!("<sheetData></sheetData><drawing/>{pointer}<tableParts/>"),
        );
        check(
            "<sheetData/><drawing/>",
            &[],
            Some("rId9"),
            &format!("<sheetData></sheetData><drawing/>{pointer}"),
        );
    }

    #[test]
    fn columns_are_read_from_the_names_of_cells() {
        assert_eq!(column_of("A1"), Some(0));
        assert_eq!(column_of("AA7"), Some(26));
        assert_eq!(column_of("XFD1048576"), Some(16_383));
        assert_eq!(column_of("7"), None);
    }
}
