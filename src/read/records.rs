//! The records of a workbook of 1997, looked through for how much room its sheets would take: the
//! library lays them out dense, and believes what they declare.

use super::compound::{four, two};

/// Bytes of records that are looked through in all sheets together.
const MOST_BYTES: usize = 600_000_000;
/// A sheet of 1997 has so many rows and columns.
const ROWS: u64 = 65_536;
const COLUMNS: u64 = 256;

/// Cells that the greatest sheet of a workbook stream takes when laid out dense (MS-XLS). Sheets begin
/// where the first part of the stream says.
pub(super) fn laid_out(stream: &[u8]) -> u64 {
    let mut greatest = 0;
    let mut looked_at = 0;
    let starts = Records { bytes: stream }
        .take_while(|(kind, _)| *kind != END)
        .filter(|(kind, _)| *kind == SHEET)
        .filter_map(|(_, data)| usize::try_from(four(data, 0)?).ok());
    let starts: Vec<usize> = starts.collect();
    for start in starts {
        let sheet = stream.get(start..).unwrap_or_default();
        let mut room = Room::default();
        let mut depth = 0_u32;
        for (kind, data) in (Records { bytes: sheet }) {
            looked_at += data.len() + 4;
            match kind {
                BEGIN => depth = depth.saturating_add(1),
                END if depth <= 1 => break,
                END => depth -= 1,
                _ if depth <= 1 => room.take(kind, data),
                _ => {}
            }
            if looked_at > MOST_BYTES {
                return u64::MAX;
            }
        }
        greatest = greatest.max(room.cells());
    }
    greatest
}

const BEGIN: u16 = 0x0809;
const END: u16 = 0x000A;
const SHEET: u16 = 0x0085;
const DECLARED: u16 = 0x0200;
/// Numbers, texts, truth values and formulas of one cell, and a row of numbers.
const CELLS: [u16; 8] = [
    0x0203, 0x0204, 0x00D6, 0x0205, 0x027E, 0x00FD, 0x0006, 0x00BD,
];
/// The record of a row of numbers.
const NUMBERS: u16 = 0x00BD;

/// Records of a stream: kind, length, data.
struct Records<'a> {
    bytes: &'a [u8],
}

impl<'a> Iterator for Records<'a> {
    type Item = (u16, &'a [u8]);

    fn next(&mut self) -> Option<Self::Item> {
        let kind = two(self.bytes, 0)?;
        let length = usize::from(two(self.bytes, 2)?);
        let rest = self.bytes.get(4..)?;
        let (data, rest) = rest.split_at_checked(length)?;
        self.bytes = rest;
        Some((kind, data))
    }
}

/// The block of cells that a sheet takes.
#[derive(Default)]
struct Room {
    rows: Option<(u16, u16)>,
    columns: Option<(u16, u16)>,
    declared_too_much: bool,
}

impl Room {
    fn take(&mut self, kind: u16, data: &[u8]) {
        if kind == DECLARED {
            self.declared_too_much |= declares_too_much(data).unwrap_or(false);
            return;
        }
        let (Some(row), Some(column)) = (two(data, 0), two(data, 2)) else {
            return;
        };
        if CELLS.contains(&kind) {
            widen(&mut self.rows, row);
            widen(&mut self.columns, column);
            let last = data.len().checked_sub(2).and_then(|at| two(data, at));
            if let (NUMBERS, Some(last)) = (kind, last) {
                widen(&mut self.columns, last);
            }
        }
    }

    fn cells(&self) -> u64 {
        let span =
            |ends: Option<(u16, u16)>| ends.map_or(0, |(first, last)| u64::from(last - first) + 1);
        if self.declared_too_much {
            return u64::MAX;
        }
        span(self.rows).saturating_mul(span(self.columns))
    }
}

/// First row, row behind the last, first column, column behind the last; older files keep the rows in
/// two bytes each.
fn declares_too_much(data: &[u8]) -> Option<bool> {
    let (first, last, columns) = if data.len() == 10 {
        (
            u32::from(two(data, 0)?),
            u32::from(two(data, 2)?),
            two(data, 6)?,
        )
    } else {
        (four(data, 0)?, four(data, 4)?, two(data, 10)?)
    };
    let backwards = first > last.saturating_sub(1) && last > 0;
    Some(backwards || u64::from(last) > ROWS || u64::from(columns) > COLUMNS)
}

fn widen(ends: &mut Option<(u16, u16)>, place: u16) {
    *ends = Some(ends.map_or((place, place), |(a, b)| (a.min(place), b.max(place))));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(kind: u16, data: &[u8]) -> Vec<u8> {
        let length = u16::try_from(data.len()).unwrap();
        [&kind.to_le_bytes(), &length.to_le_bytes(), data].concat()
    }

    /// A number in a cell.
    fn number(row: u16, column: u16) -> Vec<u8> {
        let place = [row.to_le_bytes(), column.to_le_bytes()].concat();
        record(0x0203, &[place, vec![0; 10]].concat())
    }

    fn declared(first: u32, last: u32, columns: u16) -> Vec<u8> {
        let rows = [first.to_le_bytes(), last.to_le_bytes()].concat();
        let columns = [[0, 0], columns.to_le_bytes(), [0, 0]].concat();
        record(DECLARED, &[rows, columns].concat())
    }

    /// A stream of one sheet with these records.
    #[track_caller]
    fn check(records: &[Vec<u8>], expected: u64) {
        let begin = record(BEGIN, &[0; 16]);
        let length = begin.len() + 4 + 8 + 4;
        let start = u32::try_from(length).unwrap().to_le_bytes();
        let sheet = record(SHEET, &[&start[..], &[0; 4]].concat());
        let end = record(END, &[]);
        let stream = [
            begin.clone(),
            sheet,
            end.clone(),
            begin,
            records.concat(),
            end,
        ]
        .concat();
        assert_eq!(laid_out(&stream), expected);
    }

    #[test]
    fn a_sheet_is_as_large_as_the_block_of_its_cells() {
        check(&[declared(0, 12, 5), number(2, 1), number(11, 4)], 40);
        check(&[number(0, 0), number(65_535, 255)], 16_777_216);
    }

    #[test]
    fn what_no_sheet_of_the_format_can_hold_is_too_much() {
        check(&[declared(0, 4_000_000_000, 5)], u64::MAX);
        check(&[declared(9, 3, 5)], u64::MAX);
        check(&[declared(0, 65_536, 256), number(0, 0)], 1);
    }

    #[test]
    fn cells_of_a_chart_within_a_sheet_do_not_count() {
        let chart = [record(BEGIN, &[0; 16]), number(60_000, 9), record(END, &[])].concat();
        check(&[number(0, 0), chart, number(0, 1)], 2);
    }
}
