//! The sheet of problems: all of them, with links to their cells.

use super::Unmarkable;
use super::entries::Entry;
use super::styles::{Look, Styles};
use super::xml::text;
use crate::model::sheet::PROBLEMS;
use crate::model::source::a1;
use std::fmt::Write as _;
use unicode_width::UnicodeWidthStr;

/// Problems that are listed on the sheet.
pub(super) const MOST_LISTED: usize = 5_000;
/// Points of height of a line, and lines that a row may have.
const LINE: u32 = 15;
const MOST_LINES: u32 = 12;
/// Titles of the columns, and how many letters wide each is.
pub(super) const COLUMNS: [(&str, u32); 5] = [
    ("What", 10),
    ("Cell", 30),
    ("It holds", 24),
    ("Problem", 70),
    ("Hint", 50),
];

/// A name that no sheet has: `Problems`, `Problems 2`.
pub(super) fn free_name<'a>(taken: impl Iterator<Item = &'a str>) -> String {
    let taken: Vec<String> = taken.map(str::to_lowercase).collect();
    let numbered = (2_u32..).map(|n| format!("{PROBLEMS} {n}"));
    let mut names = std::iter::once(PROBLEMS.to_owned()).chain(numbered);
    let free = names.find(|name| !taken.contains(&name.to_lowercase()));
    free.unwrap_or_else(|| PROBLEMS.to_owned())
}

/// The words of a problem by column.
pub(super) fn words(entry: &Entry) -> [String; 5] {
    [
        entry.severity.word().to_owned(),
        entry.place.clone(),
        entry.holds.clone(),
        entry.sentence.clone(),
        entry.hint.clone(),
    ]
}

/// Where a link to a cell leads: `'Beds'!D7`.
pub(super) fn link(sheet: &str, row: u32, column: u32) -> String {
    format!("'{}'!{}", sheet.replace('\'', "''"), a1(row, column))
}

/// What stands below the list when it is not whole.
pub(super) fn not_listed(entries: &[Entry]) -> Option<String> {
    let more = entries.len().checked_sub(MOST_LISTED).filter(|n| *n > 0)?;
    Some(format!(
        "and {more} more: loamwright check --json lists all"
    ))
}

/// The sheet as XML. `label` gives the sheet name of an entry's cell.
pub(super) fn sheet<'a>(
    entries: &[Entry],
    label: impl Fn(&Entry) -> Option<&'a str>,
    styles: &mut Styles,
) -> Result<String, Unmarkable> {
    let heading = styles.like(0, Look::Heading)?;
    let plain = styles.like(0, Look::Words)?;
    let mut xml = String::from(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetViews><sheetView workbookViewId=\"0\"><pane ySplit=\"1\" topLeftCell=\"A2\" activePane=\"bottomLeft\" state=\"frozen\"/></sheetView></sheetViews><cols>",
    );
    // Writing to a string cannot fail.
    for (number, (_, width)) in (1..).zip(COLUMNS) {
        let _ = write!(
            xml,
            "<col min=\"{number}\" max=\"{number}\" width=\"{width}\" customWidth=\"1\"/>"
        );
    }
    xml.push_str("</cols><sheetData>");
    row(
        &mut xml,
        0,
        &COLUMNS.map(|(title, _)| title.to_owned()),
        &[heading; 5],
    );
    let mut links = String::new();
    let mut last = 0;
    for (at, entry) in (1..).zip(entries.iter().take(MOST_LISTED)) {
        let first = styles.like(plain, Look::Marked(entry.severity))?;
        row(
            &mut xml,
            at,
            &words(entry),
            &[first, plain, plain, plain, plain],
        );
        if let Some((cell, label)) = entry.at.zip(label(entry)) {
            let leads = text(&link(label, cell.row, cell.column));
            let _ = write!(
                links,
                "<hyperlink ref=\"{}\" location=\"{leads}\"/>",
                a1(at, 1)
            );
        }
        last = at;
    }
    if let Some(more) = not_listed(entries) {
        row(
            &mut xml,
            last.saturating_add(1),
            &[String::new(), more],
            &[plain; 2],
        );
    }
    xml.push_str("</sheetData>");
    if !links.is_empty() {
        let _ = write!(xml, "<hyperlinks>{links}</hyperlinks>");
    }
    xml.push_str("<pageSetup orientation=\"landscape\" fitToHeight=\"0\"/></worksheet>");
    Ok(xml)
}

/// A row of words. They are written as text, so that none of them is a formula. It is as high as its
/// longest cell, since not every program works that out when it opens a file.
fn row(xml: &mut String, at: u32, words: &[String], formats: &[usize]) {
    let lines = words.iter().zip(COLUMNS).map(|(word, (_, width))| {
        let letters = u32::try_from(word.width()).unwrap_or(u32::MAX);
        letters.div_ceil(width).clamp(1, MOST_LINES)
    });
    let height = lines.max().unwrap_or(1).saturating_mul(LINE);
    let number = u64::from(at) + 1;
    let _ = write!(
        xml,
        "<row r=\"{number}\" ht=\"{height}\" customHeight=\"1\">"
    );
    for ((column, word), format) in (0..).zip(words).zip(formats) {
        if !word.is_empty() {
            let _ = write!(
                xml,
                "<c r=\"{}\" s=\"{format}\" t=\"inlineStr\"><is><t xml:space=\"preserve\">{}</t></is></c>",
                a1(at, column),
                text(word)
            );
        }
    }
    xml.push_str("</row>");
}
