//! Binary workbooks whose cells leave out their column.
//!
//! A cell that stands right of the one before it may be written in a short form without its column
//! ([MS-XLSB] 2.4, records 12 to 18). Some writers use it for most cells, and the foreign library passes
//! over it: whole columns would be lost without a word. So such parts are written out in full first.

use std::io::{Cursor, Read, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, ZipArchive, ZipWriter};

/// Bytes of one part; a longer one is cut, which its reader will tell.
const MOST_BYTES: u64 = 300_000_000;
/// Begins a row.
const ROW: u16 = 0;
/// Full forms of cells: blank, short number, error, boolean, number, text, shared text, and formulas.
const FULL: std::ops::RangeInclusive<u16> = 1..=11;
/// Short forms of the first seven.
const SHORT: std::ops::RangeInclusive<u16> = 12..=18;
/// How much less the number of the full form is.
const BETWEEN: u16 = 11;

/// The package with all cells in full; `None` when it has no short ones, or is damaged, which its
/// reader will tell.
pub(super) fn in_full(package: &[u8]) -> Option<Vec<u8>> {
    let mut archive = ZipArchive::new(Cursor::new(package)).ok()?;
    let mut is_changed = false;
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    for index in 0..archive.len() {
        let mut part = archive.by_index(index).ok()?;
        let name = part.name().ok()?.into_owned();
        let mut bytes = Vec::new();
        // The size is what the package claims; the limit holds whatever it is.
        part.by_ref()
            .take(MOST_BYTES)
            .read_to_end(&mut bytes)
            .ok()?;
        let is_binary = std::path::Path::new(&name)
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case("bin"));
        if name.to_lowercase().contains("worksheets")
            && is_binary
            && let Some(full) = sheet_in_full(&bytes)
        {
            is_changed = true;
            bytes = full;
        }
        writer.start_file(name, stored).ok()?;
        writer.write_all(&bytes).ok()?;
    }
    let whole = writer.finish().ok()?;
    is_changed.then(|| whole.into_inner())
}

/// The records of a sheet with all cells in full; `None` when nothing changes.
fn sheet_in_full(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut rest = bytes;
    let mut out = Vec::with_capacity(bytes.len() * 2);
    let mut is_changed = false;
    let mut next_column: u32 = 0;
    while !rest.is_empty() {
        let before = rest;
        let kind = kind(&mut rest)?;
        let length = length(&mut rest)?;
        let (body, after) = rest.split_at_checked(length)?;
        rest = after;
        if SHORT.contains(&kind) {
            is_changed = true;
            push_full(&mut out, kind, next_column, body)?;
            next_column = next_column.checked_add(1)?;
            continue;
        }
        if kind == ROW {
            next_column = 0;
        } else if FULL.contains(&kind) {
            next_column = column(body)?.checked_add(1)?;
        }
        out.extend_from_slice(before.get(..before.len() - rest.len())?);
    }
    is_changed.then_some(out)
}

/// A short cell holds its style and its value; a full one holds its column before them.
fn push_full(out: &mut Vec<u8>, short: u16, column: u32, body: &[u8]) -> Option<()> {
    out.push(u8::try_from(short.checked_sub(BETWEEN)?).ok()?);
    let mut length = body.len().checked_add(4)?;
    loop {
        let low = u8::try_from(length & 0x7f).ok()?;
        length >>= 7;
        if length == 0 {
            out.push(low);
            break;
        }
        out.push(low | 0x80);
    }
    out.extend_from_slice(&column.to_le_bytes());
    out.extend_from_slice(body);
    Some(())
}

fn column(body: &[u8]) -> Option<u32> {
    let four = body.get(..4)?;
    Some(u32::from_le_bytes(four.try_into().ok()?))
}

/// One byte, or two when the first has its high bit set.
fn kind(rest: &mut &[u8]) -> Option<u16> {
    let first = u16::from(byte(rest)?);
    if first & 0x80 == 0 {
        return Some(first);
    }
    let second = u16::from(byte(rest)?);
    Some((first & 0x7f) | ((second & 0x7f) << 7))
}

/// Up to four bytes of seven bits, the lowest first.
fn length(rest: &mut &[u8]) -> Option<usize> {
    let mut length = 0_usize;
    for place in 0..4 {
        let next = byte(rest)?;
        length |= usize::from(next & 0x7f) << (7 * place);
        if next & 0x80 == 0 {
            break;
        }
    }
    Some(length)
}

fn byte(rest: &mut &[u8]) -> Option<u8> {
    let (first, after) = rest.split_first()?;
    *rest = after;
    Some(*first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_short_cell_gets_the_column_after_the_one_before_it() {
        // A row, a full number in column 2 (style 0, value 8), then a short shared text, number 5.
        let sheet = [
            &[0, 1, 9][..],
            &[2, 12, 2, 0, 0, 0, 0, 0, 0, 0, 32, 0, 0, 0],
            &[18, 8, 0, 0, 0, 0, 5, 0, 0, 0],
        ]
        .concat();
        let expected = [
            &[0, 1, 9][..],
            &[2, 12, 2, 0, 0, 0, 0, 0, 0, 0, 32, 0, 0, 0],
            &[7, 12, 3, 0, 0, 0, 0, 0, 0, 0, 5, 0, 0, 0],
        ]
        .concat();
        assert_eq!(sheet_in_full(&sheet), Some(expected.clone()));
        assert_eq!(sheet_in_full(&expected), None);
    }

    #[test]
    fn what_is_damaged_is_left_to_the_reader() {
        assert_eq!(in_full(b"no package"), None);
        assert_eq!(sheet_in_full(&[18, 8, 0]), None);
    }
}
