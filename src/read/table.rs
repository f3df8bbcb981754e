//! Text tables: CSV with any of the usual delimiters, encodings and quotes.

use std::collections::BTreeSet;
use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord};

use super::decode::decode;
use super::header;
use super::raw::{RawCell, RawRow, RawSheet, Shared};
use crate::model::sheet::Sheet;
use crate::model::source::Form;
use crate::problem::Problem;

/// Longer cells are a sign of a quotation mark that was never closed; sheets hold no more either.
const LONGEST_CELL: usize = 32_767;
/// Delimiters, the likeliest first; a tie goes to the first.
const DELIMITERS: [u8; 4] = *b",;\t|";
/// Rows that are looked at to find the delimiter.
const LOOKED_AT: usize = 40;

/// A text table as it lies in its file, and whether a semicolon parts its cells.
pub(super) struct TextTable {
    /// The rows.
    pub(super) sheet: RawSheet,
    /// Where semicolons part cells, a comma is usually the decimal mark.
    pub(super) semicolons: bool,
}

/// Reads a text table that should hold `sheet`.
pub(super) fn read(
    file: &str,
    label: &str,
    bytes: &[u8],
    sheet: Sheet,
    problems: &mut Vec<Problem>,
) -> TextTable {
    let known = |record: &StringRecord| header::known_titles(record.iter(), sheet);
    read_by(file, label, bytes, &known, problems)
}

/// Reads a text table whose titles `knows` tells.
pub(super) fn read_knowing(
    file: &str,
    label: &str,
    bytes: &[u8],
    knows: &dyn Fn(&str) -> bool,
    problems: &mut Vec<Problem>,
) -> TextTable {
    let counted = |record: &StringRecord| record.iter().filter(|title| knows(title)).count();
    read_by(file, label, bytes, &counted, problems)
}

/// `known` counts the titles of a record that are known.
fn read_by(
    file: &str,
    label: &str,
    bytes: &[u8],
    known: &dyn Fn(&StringRecord) -> usize,
    problems: &mut Vec<Problem>,
) -> TextTable {
    let decoded = decode(bytes);
    if let Some(encoding) = decoded.guessed {
        problems.push(
            Problem::notice(format!("{file} is not UTF-8 and was read as {encoding}"))
                .hint("save it as \"CSV UTF-8\" if letters look wrong"),
        );
    }
    let text = with_line_feeds(decoded.text);
    let (text, first_line) = without_delimiter_line(&text);
    let delimiter = delimiter(text, known);
    let text = closed_part(text, file, (first_line, delimiter), problems);
    let mut rows = Vec::new();
    let mut shared = Shared::default();
    for (line, record) in records(text, delimiter) {
        let row = first_line.saturating_add(line);
        if let Some(long) = record.iter().position(|cell| cell.len() > LONGEST_CELL) {
            problems.push(too_long(file, row, long));
            break;
        }
        let cells = cells(&record, &mut shared);
        if !cells.is_empty() {
            rows.push(RawRow { row, cells });
        }
    }
    TextTable {
        sheet: RawSheet {
            file: Arc::from(file),
            label: Arc::from(label),
            form: Form::Text,
            rows,
            merges: Vec::new(),
            struck: Vec::new(),
            hidden: Vec::new(),
            hidden_columns: Vec::new(),
            bold: Vec::new(),
            merged_across: Vec::new(),
            filled_in: BTreeSet::new(),
            formats_unknown: false,
        },
        semicolons: delimiter == b';',
    }
}

fn cells(record: &StringRecord, shared: &mut Shared) -> Vec<(u32, RawCell)> {
    let numbered = (0_u32..).zip(record.iter());
    numbered
        .filter_map(|(column, text)| Some((column, RawCell::text(unguarded(text), shared)?)))
        .collect()
}

/// Text without the apostrophe that keeps spreadsheet programs from taking it for a formula.
fn unguarded(text: &str) -> &str {
    let guarded = text.strip_prefix('\'').filter(|rest| {
        let rest = rest.trim_start_matches([' ', '\u{a0}', '\u{feff}']);
        rest.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'])
    });
    guarded.unwrap_or(text)
}

/// Old programs end lines with a carriage return alone.
fn with_line_feeds(text: String) -> String {
    if text.contains('\n') || !text.contains('\r') {
        return text;
    }
    text.replace('\r', "\n")
}

/// Some programs write `sep=;` in the first line to tell the delimiter, which is found anyway.
fn without_delimiter_line(text: &str) -> (&str, u32) {
    match text.split_once('\n') {
        Some((first, rest))
            if first.trim_start_matches('"').starts_with("sep=") && first.trim_end().len() <= 7 =>
        {
            (rest, 1)
        }
        _ => (text, 0),
    }
}

/// The records with their line, from 0.
fn records(text: &str, delimiter: u8) -> impl Iterator<Item = (u32, StringRecord)> {
    let reader = ReaderBuilder::new()
        .flexible(true)
        .has_headers(false)
        .delimiter(delimiter)
        .from_reader(text.as_bytes());
    let mut lines = Lines {
        text,
        at: 0,
        line: 0,
    };
    reader
        .into_records()
        .filter_map(Result::ok)
        .map(move |record| {
            let byte = record.position().map_or(0, csv::Position::byte);
            (lines.of(byte), record)
        })
}

/// Finds the line of a byte, going forward only.
struct Lines<'a> {
    text: &'a str,
    at: usize,
    line: u32,
}

impl Lines<'_> {
    /// The line, from 0, of the first character at or behind `byte` that ends no line: a record is
    /// said to begin where the one before ended, which may be at an empty line.
    fn of(&mut self, byte: u64) -> u32 {
        let bytes = self.text.as_bytes();
        let byte = usize::try_from(byte).unwrap_or(bytes.len());
        while let Some(b) = bytes.get(self.at) {
            if self.at >= byte && !matches!(b, b'\n' | b'\r') {
                break;
            }
            if *b == b'\n' {
                self.line = self.line.saturating_add(1);
            }
            self.at += 1;
        }
        self.line
    }
}

/// The text up to the line where a quotation mark opens that is never closed, which is told.
fn closed_part<'a>(
    text: &'a str,
    file: &str,
    (first_line, delimiter): (u32, u8),
    problems: &mut Vec<Problem>,
) -> &'a str {
    let (mut quoted, mut cell_start, mut skip) = (false, true, false);
    let (mut line, mut opened) = (first_line, (0, 0));
    let mut line_start = 0;
    let bytes = text.as_bytes();
    for (i, byte) in bytes.iter().enumerate() {
        if skip {
            skip = false;
            continue;
        }
        match byte {
            b'"' if quoted && bytes.get(i + 1) == Some(&b'"') => skip = true,
            b'"' if quoted => quoted = false,
            b'"' if cell_start => {
                quoted = true;
                opened = (line, line_start);
            }
            _ => {}
        }
        cell_start = !quoted && (*byte == delimiter || matches!(byte, b'\n' | b'\r'));
        if *byte == b'\n' {
            line = line.saturating_add(1);
            line_start = i + 1;
        }
    }
    if !quoted {
        return text;
    }
    problems.push(
        Problem::error("a quotation mark that opens in this line is never closed, so the file was read only up to here")
            .place(format!("{file}:{}", opened.0.saturating_add(1)))
            .hint("close it, or write inches as in"),
    );
    text.get(..opened.1).unwrap_or_default()
}

fn too_long(file: &str, row: u32, column: usize) -> Problem {
    let (line, column) = (row.saturating_add(1), column.saturating_add(1));
    Problem::error(format!(
        "a cell is longer than {LONGEST_CELL} bytes, so the file was read only up to here"
    ))
    .place(format!("{file}:{line}:{column}"))
    .hint("a quotation mark may have been left open")
}

/// The delimiter under which the header has most known titles; where that does not decide, the one
/// that parts most rows into the same number of cells.
fn delimiter(text: &str, known: &dyn Fn(&StringRecord) -> usize) -> u8 {
    let mut best = ((0, 0), b',');
    for delimiter in DELIMITERS {
        let start = records(text, delimiter).take(LOOKED_AT);
        let records: Vec<StringRecord> = start.map(|(_, record)| record).collect();
        let titles = records.iter().map(known);
        let score = (titles.max().unwrap_or(0), even_rows(&records));
        if score > best.0 {
            best = (score, delimiter);
        }
    }
    best.1
}

fn even_rows(records: &[StringRecord]) -> usize {
    let most = records.iter().map(StringRecord::len).max().unwrap_or(0);
    if most < 2 {
        return 0;
    }
    records.iter().filter(|r| r.len() == most).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(text: &str) -> (TextTable, Vec<Problem>) {
        let mut problems = Vec::new();
        let table = read(
            "Beds.csv",
            "Beds",
            text.as_bytes(),
            Sheet::Beds,
            &mut problems,
        );
        (table, problems)
    }

    /// Each row as `line: cell|cell`, with lines from 1.
    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        let (table, problems) = table(text);
        assert_eq!(problems, []);
        let rows: Vec<String> = table.sheet.rows.iter().map(spelled).collect();
        assert_eq!(rows, expected);
    }

    fn spelled(row: &RawRow) -> String {
        let cells: Vec<&str> = row.cells.iter().filter_map(|(_, c)| c.as_text()).collect();
        format!("{}: {}", row.row + 1, cells.join("|"))
    }

    #[test]
    fn guarded_text_loses_its_apostrophe_and_no_other_does() {
        check(
            "Bed,Note,Length\n'=A1,'+ mint,'-3 in\n'@home,\"'\tend\",'s Beet\n",
            &[
                "1: Bed|Note|Length",
                "2: =A1|+ mint|-3 in",
                "3: @home|end|'s Beet",
            ],
        );
    }

    #[test]
    fn every_usual_delimiter_is_found() {
        let expected = ["1: Bed|Length|Width", "2: A|8 ft|4 ft"];
        check("Bed,Length,Width\nA,8 ft,4 ft\n", &expected);
        check("Bed;Length;Width\r\nA;8 ft;4 ft\r\n", &expected);
        check("Bed\tLength\tWidth\nA\t8 ft\t4 ft", &expected);
        check(
            "sep=;\nBed;Length;Width\nA;8 ft;4 ft",
            &["2: Bed|Length|Width", "3: A|8 ft|4 ft"],
        );
        // The commas in the numbers part as many cells as the semicolons do.
        check(
            "Bed;Length;Width\nA;2,4 m;1,2 m\nB;3,6 m;1,2 m\n",
            &[
                "1: Bed|Length|Width",
                "2: A|2,4 m|1,2 m",
                "3: B|3,6 m|1,2 m",
            ],
        );
    }

    #[test]
    fn lines_are_counted_over_blank_lines_and_line_ends_in_cells() {
        check(
            "Bed,Length\n\n\nA,\"8\nft\"\n\r\nB,9 ft\n,\nC,7' 6\"\n",
            &["1: Bed|Length", "4: A|8\nft", "7: B|9 ft", "9: C|7' 6\""],
        );
    }

    #[test]
    fn an_open_quotation_mark_names_its_line() {
        let (table, problems) = table("Bed,Length\nA,8 ft\nB,\"9 ft\nC,9 ft\nD,9 ft\n");
        assert_eq!(table.sheet.rows.len(), 2);
        assert_eq!(problems.len(), 1);
        assert_eq!(problems[0].place.as_deref(), Some("Beds.csv:3"));
        assert!(problems[0].sentence.contains("never closed"));
    }

    #[test]
    fn a_cell_beyond_all_measure_names_its_place() {
        let long = "x".repeat(LONGEST_CELL + 1);
        let (table, problems) = table(&format!("Bed,Note\nA,{long}\n"));
        assert_eq!(table.sheet.rows.len(), 1);
        assert_eq!(problems[0].place.as_deref(), Some("Beds.csv:2:2"));
    }

    #[test]
    fn a_guessed_encoding_is_told() {
        let mut problems = Vec::new();
        let bytes = b"Bed,Length,Note\nS\xfcd,8 ft,f\xfcr Kr\xe4uter\n";
        let table = read("Beds.csv", "Beds", bytes, Sheet::Beds, &mut problems);
        assert_eq!(spelled(&table.sheet.rows[1]), "2: Süd|8 ft|für Kräuter");
        assert_eq!(
            problems[0].sentence,
            "Beds.csv is not UTF-8 and was read as windows-1252"
        );
    }
}
