//! CSV that a spreadsheet program can open without running anything.
//!
//! A cell that begins with `=`, `+`, `-`, `@`, a tab or a carriage return is a formula, or can be
//! made one, in every common spreadsheet program. Text gets an apostrophe in front then, which those
//! programs take as "this is text". Numbers are written as they are: `-5` is a number, not a formula.

use std::borrow::Cow;

use rust_decimal::Decimal;

/// Marks a file as UTF-8 for spreadsheet programs that would guess otherwise.
const BYTE_ORDER_MARK: &str = "\u{feff}";
/// The same on every system (RFC 4180).
const LINE_END: &str = "\r\n";

/// Text that no spreadsheet program takes for a formula.
///
/// # Examples
/// `=1+1` becomes `'=1+1`; `2x10` stays.
pub fn guarded(text: &str) -> Cow<'_, str> {
    // Some programs skip blanks, and treat the full-width forms as the plain ones.
    let first = text
        .trim_start_matches([' ', '\u{a0}', '\u{feff}'])
        .chars()
        .next();
    match first {
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠') => {
            Cow::Owned(format!("'{text}"))
        }
        _ => Cow::Borrowed(text),
    }
}

/// A table that becomes a CSV file.
#[derive(Clone, Debug, Default)]
pub struct CsvTable {
    text: String,
    at_start_of_row: bool,
}

impl CsvTable {
    /// A table with its header row.
    pub fn new(header: &[&str]) -> Self {
        let mut table = Self {
            text: BYTE_ORDER_MARK.to_owned(),
            at_start_of_row: true,
        };
        for title in header {
            table.text(title);
        }
        table.end_row();
        table
    }

    /// Adds a cell of text, guarded.
    pub fn text(&mut self, text: &str) {
        let safe = guarded(text).into_owned();
        self.raw(&safe);
    }

    /// Adds a number, without trailing zeros.
    pub fn number(&mut self, number: Decimal) {
        self.raw(&number.normalize().to_string());
    }

    /// Adds an empty cell.
    pub fn empty(&mut self) {
        self.raw("");
    }

    /// Ends the row.
    pub fn end_row(&mut self) {
        self.text.push_str(LINE_END);
        self.at_start_of_row = true;
    }

    /// The file's bytes.
    pub fn into_bytes(self) -> Vec<u8> {
        self.text.into_bytes()
    }

    fn raw(&mut self, cell: &str) {
        if !self.at_start_of_row {
            self.text.push(',');
        }
        self.at_start_of_row = false;
        if cell.contains([',', ';', '"', '\n', '\r', '\t']) {
            self.text.push('"');
            self.text.push_str(&cell.replace('"', "\"\""));
            self.text.push('"');
        } else {
            self.text.push_str(cell);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn text_that_could_run_is_guarded_and_numbers_are_not() {
        assert_eq!(guarded("=HYPERLINK(\"x\")"), "'=HYPERLINK(\"x\")");
        assert_eq!(guarded("+1"), "'+1");
        assert_eq!(guarded("-cmd"), "'-cmd");
        assert_eq!(guarded("@SUM(A1)"), "'@SUM(A1)");
        assert_eq!(guarded("\t=1"), "'\t=1");
        assert_eq!(guarded("\r=1"), "'\r=1");
        assert_eq!(guarded("  =1"), "'  =1");
        assert_eq!(guarded("＝1"), "'＝1");
        assert_eq!(guarded("2x10 cedar"), "2x10 cedar");
        assert_eq!(guarded("a=b"), "a=b");
        assert_eq!(guarded(""), "");
        let mut table = CsvTable::new(&["Item", "Change"]);
        table.text("-x");
        table.number(Decimal::new(-50, 1));
        table.end_row();
        assert_eq!(
            String::from_utf8(table.into_bytes()).unwrap(),
            "\u{feff}Item,Change\r\n'-x,-5\r\n"
        );
    }

    proptest! {
        #[test]
        fn what_was_written_comes_back_cell_by_cell(cells in proptest::collection::vec("\\PC*|[=+@,;\"\n\r-]{0,4}", 2..5)) {
            let mut table = CsvTable::new(&[]);
            for cell in &cells {
                table.text(cell);
            }
            table.end_row();
            let bytes = table.into_bytes();
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .from_reader(&bytes[BYTE_ORDER_MARK.len()..]);
            let row = reader.records().next().unwrap().unwrap();
            let expected: Vec<String> = cells.iter().map(|c| guarded(c).into_owned()).collect();
            prop_assert_eq!(row.iter().collect::<Vec<_>>(), expected);
        }
    }
}
