//! Titles in two rows: `Size` over `L | W | H`, or titles that begin in one row and end in the next.

use std::sync::Arc;

use super::raw::{RawCell, RawRow};
use super::titles::column;
use crate::model::sheet::Sheet;
use crate::units::parse::unit;

/// What may stand around a unit.
const MARKS: &[char] = &['(', ')', '[', ']'];

/// A title, its column, and whether the lower row holds it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Title {
    /// Column from 0.
    pub(super) column: u32,
    /// In words, those of the group before where they belong to the title.
    pub(super) text: Arc<str>,
    /// Whether it stands in the lower row.
    pub(super) below: bool,
}

/// The titles of a header in one row.
pub(super) fn single(row: &RawRow) -> Vec<Title> {
    let texts = row.cells.iter();
    texts
        .filter_map(|(at, cell)| Some(titled(*at, cell.as_text()?, false)))
        .collect()
}

/// The titles that two rows make together; `None` when the lower one does not look like titles.
pub(super) fn titles(upper: &RawRow, lower: &RawRow, sheet: Sheet) -> Option<Vec<Title>> {
    if lower.row != upper.row.saturating_add(1) {
        return None;
    }
    let mut titles: Vec<Title> = Vec::new();
    let (mut known, mut unknown) = (0_usize, 0_usize);
    for (at, cell) in &lower.cells {
        let below = cell.as_text()?;
        let text = match title(group(upper, *at), below, sheet) {
            Some(text) => {
                known += 1;
                text
            }
            None => match upper.at(*at).and_then(RawCell::as_text) {
                Some(above) if unit(below.trim_matches(MARKS)).is_some() => {
                    format!("{above} ({})", below.trim_matches(MARKS))
                }
                _ => {
                    unknown += 1;
                    below.to_owned()
                }
            },
        };
        titles.push(titled(*at, &text, true));
    }
    if known < 2 || unknown > known / 2 {
        return None;
    }
    for (at, cell) in &upper.cells {
        if lower.at(*at).is_none()
            && let Some(text) = cell.as_text()
        {
            titles.push(titled(*at, text, false));
        }
    }
    titles.sort_by_key(|title| title.column);
    Some(titles)
}

fn titled(column: u32, text: &str, below: bool) -> Title {
    Title {
        column,
        text: Arc::from(text),
        below,
    }
}

/// The heading over a column: the nearest at its left, as a merged cell or an empty one goes on.
fn group(upper: &RawRow, column: u32) -> Option<&str> {
    let mut left = upper.cells.iter().rev();
    let (_, cell) = left.find(|(at, _)| *at <= column)?;
    cell.as_text()
}

/// The title that a word in the lower row is, with its heading or by itself. `Size L` is no other
/// column than `Size`, whose unit would be litres.
fn title(group: Option<&str>, below: &str, sheet: Sheet) -> Option<String> {
    let field = |title: &str| column(title, sheet).map(|(field, _)| field);
    let whole = group.and_then(|group| {
        let whole = format!("{group} {below}");
        field(&whole).filter(|meant| field(group) != Some(*meant))?;
        Some(whole)
    });
    whole.or_else(|| field(below).map(|_| below.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::super::raw::Shared;
    use super::*;

    fn row(row: u32, cells: &[&str]) -> RawRow {
        let mut shared = Shared::default();
        let cells = (0..).zip(cells);
        let cells = cells.filter_map(|(at, text)| Some((at, RawCell::text(text, &mut shared)?)));
        RawRow {
            row,
            cells: cells.collect(),
        }
    }

    #[track_caller]
    fn check(upper: &[&str], lower: &[&str], expected: Option<&[&str]>) {
        let titles = titles(&row(3, upper), &row(4, lower), Sheet::Beds);
        let texts = titles.map(|all| all.iter().map(|t| t.text.to_string()).collect::<Vec<_>>());
        let expected = expected.map(|all| all.iter().map(ToString::to_string).collect());
        assert_eq!(texts, expected);
    }

    #[test]
    fn a_heading_goes_on_over_the_columns_at_its_right() {
        check(
            &["Bed", "Size", "", "", "Frame"],
            &["", "L", "W", "H"],
            Some(&["Bed", "L", "W", "H", "Frame"]),
        );
        check(
            &["Bed", "Outside", "", "Notch", ""],
            &["", "Length (ft)", "Width (ft)", "Length (ft)", "Width (ft)"],
            Some(&[
                "Bed",
                "Outside Length (ft)",
                "Outside Width (ft)",
                "Notch Length (ft)",
                "Notch Width (ft)",
            ]),
        );
    }

    #[test]
    fn rows_of_a_table_are_not_taken_for_titles() {
        check(&["Bed", "Shape", "Length"], &["A", "L", "8 ft"], None);
        check(&["Bed", "Length"], &["Bed", "8 ft"], None);
    }
}
