//! The one door through which cells reach a sheet.
//!
//! Text that users typed goes in as strings, never as a formula or a link. Every formula goes in
//! together with its result, because most viewers show the stored result and never compute.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_xlsxwriter::{Format as Look, Formula, Note, Worksheet};

use super::super::formats::{Digits, Formats, Style};
use super::WriteError;

/// Most characters of a cell; spreadsheet programs count them as UTF-16 does.
const LONGEST_TEXT: usize = 32_767;
/// What stands at the end of a text that was cut.
const CUT_MARK: &str = " [cut]";

/// The result of a formula as it is stored.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Shown {
    /// A number.
    Number(Decimal),
    /// One of the program's own words.
    Word(&'static str),
}

/// A sheet being written.
pub(crate) struct Page<'a> {
    pub(crate) sheet: &'a mut Worksheet,
    pub(crate) formats: &'a Formats,
    /// Widths so far, in characters.
    pub(crate) widths: BTreeMap<u16, usize>,
    /// The row last made taller, and its height in points.
    tall: (u32, u32),
    /// The lowest row with a cell.
    lowest: u32,
    /// Points by which rows are taller than usual.
    taller: u32,
}

/// Widest column, in characters.
const WIDEST: usize = 60;
/// Points of a row of the usual height.
const LINE: u32 = 15;
/// Narrowest column that is set.
const NARROWEST: usize = 7;

impl<'a> Page<'a> {
    /// A sheet without cells.
    pub(crate) fn new(sheet: &'a mut Worksheet, formats: &'a Formats) -> Self {
        Self {
            sheet,
            formats,
            widths: BTreeMap::new(),
            tall: (0, 0),
            lowest: 0,
            taller: 0,
        }
    }

    /// Makes a column at least so many characters wide.
    pub(crate) fn widen(&mut self, column: u16, characters: usize) -> Result<(), WriteError> {
        let characters = characters.clamp(NARROWEST, WIDEST);
        let width = self.widths.entry(column).or_default();
        if characters > *width {
            *width = characters;
            let wide = u16::try_from(characters + 2).unwrap_or(u16::MAX);
            self.sheet.set_column_width(column, wide)?;
        }
        Ok(())
    }

    /// All widths together, in characters.
    pub(crate) fn width(&self, last: u16) -> usize {
        self.widths.range(..=last).map(|(_, w)| w + 2).sum()
    }

    /// How tall the sheet is, in rows of the usual height.
    pub(crate) fn height(&self) -> usize {
        let rows = self.lowest.saturating_add(1 + self.taller / LINE);
        usize::try_from(rows).unwrap_or(usize::MAX)
    }

    /// Writes words in a style.
    pub(crate) fn words(
        &mut self,
        row: u32,
        column: u16,
        text: &str,
        style: Style,
    ) -> Result<(), WriteError> {
        let points = match style {
            Style::Title | Style::Price => 24,
            Style::Heading => 18,
            Style::Head | Style::HeadNumber | Style::HeadQuiet | Style::Wrapped => {
                let width = self.widths.get(&column).copied().unwrap_or(NARROWEST);
                let lines = super::words::lines(text, width).len();
                u32::try_from(lines).unwrap_or(20).clamp(1, 20) * LINE
            }
            _ => LINE,
        };
        self.raise(row, points)?;
        let format = self.formats.words(style);
        self.text(row, column, text, Some(&format))
    }

    /// Makes a row tall enough: not every program does so by itself when it opens the file.
    fn raise(&mut self, row: u32, points: u32) -> Result<(), WriteError> {
        let now = if self.tall.0 == row { self.tall.1 } else { 0 };
        self.lowest = self.lowest.max(row);
        if points > LINE && points > now {
            self.taller += points - now.max(LINE);
            self.tall = (row, points);
            self.sheet.set_row_height(row, points)?;
        }
        Ok(())
    }

    /// Writes a number in a style.
    pub(crate) fn figure(
        &mut self,
        (row, column): (u32, u16),
        number: Decimal,
        style: Style,
        digits: Digits,
    ) -> Result<(), WriteError> {
        let format = self.formats.get(style, digits);
        self.number(row, column, number, Some(&format))
    }

    /// Writes a text as it is; nothing for an empty one without a look.
    pub(crate) fn text(
        &mut self,
        row: u32,
        column: u16,
        text: &str,
        look: Option<&Look>,
    ) -> Result<(), WriteError> {
        self.lowest = self.lowest.max(row);
        let text = allowed(text);
        match look {
            Some(look) => self
                .sheet
                .write_string_with_format(row, column, text, look)?,
            None => self.sheet.write_string(row, column, text)?,
        };
        Ok(())
    }

    /// Writes a number.
    pub(crate) fn number(
        &mut self,
        row: u32,
        column: u16,
        number: Decimal,
        look: Option<&Look>,
    ) -> Result<(), WriteError> {
        self.lowest = self.lowest.max(row);
        let number = as_float(number)?;
        match look {
            Some(look) => self
                .sheet
                .write_number_with_format(row, column, number, look)?,
            None => self.sheet.write_number(row, column, number)?,
        };
        Ok(())
    }

    /// Writes a formula (without `=`) and the result that the engine found.
    pub(crate) fn live(
        &mut self,
        row: u32,
        column: u16,
        formula: &str,
        result: Shown,
        look: Option<&Look>,
    ) -> Result<(), WriteError> {
        self.lowest = self.lowest.max(row);
        let result = stored(result)?;
        let formula = Formula::new(formula).set_result(result);
        match look {
            Some(look) => self
                .sheet
                .write_formula_with_format(row, column, formula, look)?,
            None => self.sheet.write_formula(row, column, formula)?,
        };
        Ok(())
    }

    /// Puts a note on a cell.
    pub(crate) fn note(&mut self, row: u32, column: u16, text: &str) -> Result<(), WriteError> {
        let text = allowed(text);
        let lines = text.chars().count() / 38 + 2;
        let height = u32::try_from(lines).unwrap_or(20).min(20) * 17;
        let note = Note::new(text)
            .add_author_prefix(false)
            .set_author("loamwright")
            .set_width(260)
            .set_height(height.max(50));
        self.sheet.insert_note(row, column, &note)?;
        Ok(())
    }
}

/// The stored form of a result. The file format decides between number and text by whether the text
/// reads as a number, so a word that does would change its kind: `inf` and `1E5` are such words.
fn stored(result: Shown) -> Result<String, WriteError> {
    match result {
        Shown::Number(number) => Ok(number.normalize().to_string()),
        Shown::Word(word) if word.parse::<f64>().is_ok() || word.is_empty() => {
            Err(WriteError::WordLikeNumber(word))
        }
        Shown::Word(word) => Ok(word.to_owned()),
    }
}

/// A decimal as the nearest float, by its text: the direct conversion is off by one unit in the last
/// place now and then.
fn as_float(number: Decimal) -> Result<f64, WriteError> {
    let text = number.normalize().to_string();
    text.parse().map_err(|_| WriteError::NotANumber(text))
}

/// Text without characters that XML forbids, cut to what a cell holds.
pub(crate) fn allowed(text: &str) -> String {
    let clean = |c: char| {
        let forbidden = (c.is_control() && !matches!(c, '\n' | '\t' | '\u{80}'..='\u{9f}'))
            || matches!(c, '\u{fffe}' | '\u{ffff}');
        if forbidden { '\u{fffd}' } else { c }
    };
    if text.len() <= LONGEST_TEXT {
        return text.chars().map(clean).collect();
    }
    let length: usize = text.chars().map(char::len_utf16).sum();
    if length <= LONGEST_TEXT {
        return text.chars().map(clean).collect();
    }
    let room = LONGEST_TEXT - CUT_MARK.len();
    let mut used = 0;
    let start = text.chars().take_while(|c| {
        used += c.len_utf16();
        used <= room
    });
    let mut out: String = start.map(clean).collect();
    out.push_str(CUT_MARK);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_texts_are_cut_with_a_mark_and_forbidden_characters_replaced() {
        // 40,000 letters: 32,761 stay, and the mark of 6 fills the cell's 32,767.
        let cut = allowed(&"a".repeat(40_000));
        assert_eq!(cut.len(), 32_767);
        assert!(cut.ends_with("aa [cut]"));
        // A tree of two UTF-16 units counts twice.
        let trees = allowed(&"\u{1f332}".repeat(20_000));
        assert_eq!(trees.encode_utf16().count(), 32_760 + 6);
        assert_eq!(allowed("bed\u{1}one\n\u{ffff}"), "bed\u{fffd}one\n\u{fffd}");
    }

    #[test]
    fn a_word_that_reads_as_a_number_is_refused() {
        for word in ["inf", "NaN", "1E5", "00123", ""] {
            assert!(stored(Shown::Word(word)).is_err(), "{word}");
        }
        assert_eq!(stored(Shown::Word("yes")).unwrap(), "yes");
        let price = Decimal::new(1_387_500, 2);
        assert_eq!(stored(Shown::Number(price)).unwrap(), "13875");
    }
}
