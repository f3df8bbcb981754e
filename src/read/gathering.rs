//! Cells of a workbook on their way into rows.

use super::raw::{RawCell, RawRow};
use super::workbook::Refused;

/// Cells with something in them that one workbook may hold: half a million beds of twelve columns.
pub(super) const MOST_CELLS: usize = 6_000_000;

/// Cells on their way into rows.
#[derive(Default)]
pub(super) struct Gathering {
    rows: Vec<RawRow>,
    struck: Vec<u32>,
    bold: Vec<u32>,
    cells: usize,
    most_rows: usize,
    unsorted: bool,
}

/// Rows in file order, and how some of them look.
pub(super) struct Settled {
    /// The rows.
    pub(super) rows: Vec<RawRow>,
    /// Rows with a cell that is struck out.
    pub(super) struck: Vec<u32>,
    /// Rows with bold letters.
    pub(super) bold: Vec<u32>,
}

impl Gathering {
    /// Cells of at most so many rows.
    pub(super) fn of_at_most(most_rows: usize) -> Self {
        Self {
            most_rows,
            ..Self::default()
        }
    }

    /// Takes a cell at its absolute place; `false` when no more rows are wanted.
    pub(super) fn take(
        &mut self,
        (row, column): (u32, u32),
        cell: RawCell,
    ) -> Result<bool, Refused> {
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
    pub(super) fn strike(&mut self, row: u32) {
        if self.struck.last() != Some(&row) {
            self.struck.push(row);
        }
    }

    /// Counts a cell in bold letters.
    pub(super) fn embolden(&mut self, row: u32) {
        if self.bold.last() != Some(&row) {
            self.bold.push(row);
        }
    }

    /// The rows in file order, whatever order the file kept them in.
    pub(super) fn settled(mut self) -> Settled {
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
        self.bold.sort_unstable();
        Settled {
            rows: self.rows,
            struck: self.struck,
            bold: self.bold,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_in_any_order_become_rows_in_file_order() {
        let mut gathering = Gathering::of_at_most(10);
        for place in [(5, 1), (2, 3), (2, 1), (5, 0)] {
            assert_eq!(gathering.take(place, RawCell::Unevaluated), Ok(true));
        }
        let settled = gathering.settled();
        let places: Vec<(u32, Vec<u32>)> = settled
            .rows
            .iter()
            .map(|row| (row.row, row.cells.iter().map(|c| c.0).collect()))
            .collect();
        assert_eq!(places, [(2, vec![1, 3]), (5, vec![0, 1])]);
    }
}
