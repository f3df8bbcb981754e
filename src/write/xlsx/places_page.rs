//! Below a cut list: where its pieces go, so that each can be marked as it is cut.

use super::super::formats::{Digits, Style};
use super::bar::Key;
use super::page::Page;
use super::{Book, WriteError};
use crate::buying::{CutList, CutPiece};
use crate::units::Decimal;

/// Rows that are written; `estimate.json` has all.
const MOST: usize = 300;
const HEADS: [&str; 6] = [
    "Each bed",
    "Length",
    "Bed",
    "Where it goes",
    "Piece",
    "Beds alike",
];
/// How sides and courses are counted.
const COUNTED: &str = "Sides are counted round the bed from 1, the first along its length or from its first corner; courses from \
                       the lowest ground up. Mark each piece as it is cut: bed, side, course.";

/// Writes the table and gives the row below it.
pub(super) fn write(
    book: &Book<'_>,
    page: &mut Page<'_>,
    mut row: u32,
    (list, key): (&CutList, &Key),
) -> Result<u32, WriteError> {
    if list.pieces.is_empty() {
        return Ok(row);
    }
    let name = book.estimate.job.material_name(list.material);
    let title = format!("Where the pieces of {name} go");
    page.words(row, 0, &title, Style::Heading)?;
    for (column, head) in (0_u16..).zip(HEADS) {
        let style = if column == 0 {
            Style::HeadNumber
        } else {
            Style::Head
        };
        page.words(row + 1, column, head, style)?;
    }
    row += 2;
    for piece in list.pieces.iter().take(MOST) {
        one(book, page, row, (piece, key))?;
        row += 1;
    }
    let more = list.pieces.len().saturating_sub(MOST);
    if more > 0 {
        let words = format!("{more} rows more stand in estimate.json, under cut_list, pieces.");
        page.words(row, 0, &words, Style::Beside)?;
        row += 1;
    }
    page.words(row, 0, COUNTED, Style::Beside)?;
    Ok(row + 1)
}

fn one(
    book: &Book<'_>,
    page: &mut Page<'_>,
    row: u32,
    (piece, key): (&CutPiece, &Key),
) -> Result<(), WriteError> {
    let job = &book.estimate.job;
    let length = job.settings.units.value.length(piece.length);
    let bed = job.beds.get(piece.bed.index());
    let beds = match piece.beds {
        1 => String::new(),
        n => format!("{n} beds"),
    };
    let count = Decimal::from(piece.count);
    page.figure((row, 0), count, Style::Plain, Digits::Fixed(0))?;
    page.words(row, 1, &length, Style::Words)?;
    page.words(row, 2, bed.map_or("", |b| &b.name), Style::Words)?;
    page.words(row, 3, &place(piece), Style::Words)?;
    page.words(
        row,
        4,
        &key.letters_of(piece.length, &piece.mark),
        Style::Words,
    )?;
    page.words(row, 5, &beds, Style::Words)
}

/// `long side 1, courses 1 to 3`.
fn place(piece: &CutPiece) -> String {
    let mark = &piece.mark;
    let side = match piece.side {
        Some(side) if mark.ends_with("side") => format!("{mark} {side}"),
        Some(side) => format!("{mark}, side {side}"),
        None => mark.to_string(),
    };
    // A timber's mark names its course already.
    if mark.starts_with("course ") {
        return side;
    }
    match courses(&piece.courses) {
        words if words.is_empty() => side,
        words => format!("{side}, {words}"),
    }
}

/// `course 2`, `courses 1 to 3`, `courses 1, 3`.
fn courses(all: &[u16]) -> String {
    let last = all.last().copied().unwrap_or_default();
    match all {
        [] => String::new(),
        [one] => format!("course {one}"),
        [first, .., _] if usize::from(last - first) + 1 == all.len() => {
            format!("courses {first} to {last}")
        }
        _ => {
            let words: Vec<String> = all.iter().map(ToString::to_string).collect();
            format!("courses {}", words.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn courses_read_as_people_say_them() {
        assert_eq!(courses(&[]), "");
        assert_eq!(courses(&[2]), "course 2");
        assert_eq!(courses(&[1, 2, 3]), "courses 1 to 3");
        assert_eq!(courses(&[1, 3]), "courses 1, 3");
    }
}
