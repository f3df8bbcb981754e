//! The estimate workbook as another program opens it: cells found by their titles, typed into, recomputed.

use std::io::Cursor;

use calamine::{Data, Range, Reader, Xlsx};
use ironcalc::base::Model;
use ironcalc::base::cell::CellValue;

use crate::recompute::{evaluated, formulas, value};

/// A workbook with its formulas evaluated anew.
pub(crate) struct Sheets {
    bytes: Vec<u8>,
    model: Model<'static>,
}

/// Row and column of a cell, from 0.
pub(crate) type At = (u32, u32);

impl Sheets {
    pub(crate) fn open(bytes: &[u8]) -> Self {
        Self {
            bytes: bytes.to_vec(),
            model: evaluated(bytes),
        }
    }

    fn range(&self, sheet: &str) -> Range<Data> {
        let mut book = Xlsx::new(Cursor::new(&self.bytes[..])).unwrap();
        book.worksheet_range(sheet).unwrap()
    }

    /// All cells of a sheet, with their places.
    fn cells(&self, sheet: &str) -> Vec<(At, String)> {
        let range = self.range(sheet);
        let (top, left) = range.start().unwrap();
        let place = |(row, column, held): (usize, usize, &Data)| {
            let at = (
                top + u32::try_from(row).unwrap(),
                left + u32::try_from(column).unwrap(),
            );
            (at, held.to_string())
        };
        range.used_cells().map(place).collect()
    }

    /// The cell under `title` in the first row of an input sheet, in the only row that the keys name.
    /// Titles may end in a unit.
    #[track_caller]
    pub(crate) fn input(&self, sheet: &str, keys: &[(&str, &str)], title: &str) -> At {
        let cells = self.cells(sheet);
        let column = |title: &str| {
            let is_title = |(at, held): &&(At, String)| {
                at.0 == 0 && held.split(" (").next().is_some_and(|t| t == title)
            };
            let found = cells.iter().find(is_title);
            found
                .unwrap_or_else(|| panic!("{sheet} has no {title}"))
                .0
                .1
        };
        let holds = |row: u32, title: &str, word: &str| {
            let at = (row, column(title));
            cells.iter().any(|(a, held)| *a == at && held == word)
        };
        let last = cells.iter().map(|(at, _)| at.0).max().unwrap();
        let rows: Vec<u32> = (1..=last)
            .filter(|row| keys.iter().all(|(title, word)| holds(*row, title, word)))
            .collect();
        assert_eq!(rows.len(), 1, "{sheet} {keys:?}");
        (rows[0], column(title))
    }

    /// The cell of a page that stands under the header `title` in the row that is named `row` under the
    /// header `named`: both headers in one row.
    #[track_caller]
    pub(crate) fn figure(&self, sheet: &str, (named, row): (&str, &str), title: &str) -> At {
        let cells = self.cells(sheet);
        let header = |at: &At| {
            let beside = cells.iter().find(|(a, held)| a.0 == at.0 && held == title);
            beside.map(|(a, _)| *a)
        };
        for (at, held) in &cells {
            if held != named {
                continue;
            }
            if let Some(head) = header(at) {
                let line = |(a, held): &&(At, String)| a.1 == at.1 && a.0 > at.0 && held == row;
                if let Some((line, _)) = cells.iter().find(line) {
                    return (line.0, head.1);
                }
            }
        }
        panic!("{sheet} has no {title} for {row}");
    }

    /// The cell at the right of the only one that holds these words.
    #[track_caller]
    pub(crate) fn beside(&self, sheet: &str, words: &str) -> At {
        let cells = self.cells(sheet);
        let found: Vec<&At> = cells
            .iter()
            .filter(|(_, held)| held == words)
            .map(|(at, _)| at)
            .collect();
        assert_eq!(found.len(), 1, "{words} on {sheet}");
        (found[0].0, found[0].1 + 1)
    }

    /// The places of formulas of a sheet that hold these words.
    pub(crate) fn formulas_with(&self, sheet: &str, words: &str) -> Vec<At> {
        let all = formulas(&self.bytes);
        let on = all.into_iter().filter(|(name, _)| name == sheet);
        on.flat_map(|(_, cells)| cells)
            .filter(|(_, _, formula, _)| formula.contains(words))
            .map(|(row, column, _, _)| (row, column))
            .collect()
    }

    /// Types into a cell, as a user does.
    #[track_caller]
    pub(crate) fn type_in(&mut self, sheet: &str, at: At, typed: &str) {
        let names = self.model.workbook.get_worksheet_names();
        let index = names.iter().position(|name| name == sheet).unwrap();
        let (row, column) = (i32::try_from(at.0).unwrap(), i32::try_from(at.1).unwrap());
        self.model
            .set_user_input(
                u32::try_from(index).unwrap(),
                row + 1,
                column + 1,
                typed.to_owned(),
            )
            .unwrap();
        self.model.evaluate();
    }

    /// The workbook in the other program, to be saved from there.
    pub(crate) fn model(&self) -> &Model<'static> {
        &self.model
    }

    /// The words that stand in a cell now.
    #[track_caller]
    pub(crate) fn words(&self, sheet: &str, at: At) -> String {
        match value(&self.model, sheet, at.0, at.1) {
            CellValue::String(words) => words,
            other => panic!("{sheet} {at:?} holds {other:?}"),
        }
    }

    /// The money that stands in a cell now, to the cent.
    #[track_caller]
    pub(crate) fn money(&self, sheet: &str, at: At) -> String {
        match value(&self.model, sheet, at.0, at.1) {
            CellValue::Number(number) => format!("{number:.2}"),
            other => panic!("{sheet} {at:?} holds {other:?}"),
        }
    }
}
