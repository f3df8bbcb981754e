//! Cross-sections of lumber: from a name such as `2x10 cedar`, or from a cell.

use std::sync::Arc;

use super::reading::Reading;
use crate::model::known::Known;
use crate::model::library::{Library, LibrarySection};
use crate::model::material::Section;
use crate::units::{Length, parse};

/// The section that a name speaks of: `2x10`, `2 x 10 cedar`, `Cedar 2×10 #2`, `5/4x6`.
pub(super) fn section_in_name<'l>(library: &'l Library, name: &str) -> Option<&'l LibrarySection> {
    if let Some(whole) = library.section(name) {
        return Some(whole);
    }
    let plain = name.to_lowercase().replace('×', "x");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let rough = words
        .iter()
        .any(|w| matches!(*w, "rough" | "rough-sawn" | "roughsawn"));
    for (i, word) in words.iter().enumerate() {
        let spaced = match words.get(i..i.saturating_add(3)) {
            Some([a, "x", b]) => format!("{a}x{b}"),
            _ => (*word).to_owned(),
        };
        let Some(token) = two_sides(&spaced) else {
            continue;
        };
        let sawn = if rough {
            library.section(&format!("{token} rough"))
        } else {
            None
        };
        if let Some(found) = sawn.or_else(|| library.section(&token)) {
            return Some(found);
        }
    }
    None
}

/// `2x10` of `2x10`, `(2x10)` or `2x10x12`; nothing of `4x8ft`.
fn two_sides(token: &str) -> Option<String> {
    let token = token.trim_matches(|c: char| !c.is_ascii_digit());
    let mut sides = token.split('x');
    let (first, second) = (sides.next()?, sides.next()?);
    let number = |side: &str| {
        !side.is_empty()
            && side
                .chars()
                .all(|c| c.is_ascii_digit() || c == '/' || c == '.')
    };
    (number(first) && number(second)).then(|| format!("{first}x{second}"))
}

/// The `Section` cell: a trade name of the library, or a dressed size with its unit.
pub(super) fn section_cell(
    library: &Library,
    reading: &mut Reading<'_, '_>,
) -> Option<Known<Section>> {
    let typed = reading.text("Section")?;
    let at = reading.at();
    if let Some(known) = section_in_name(library, &typed) {
        return Some(Known::job(known.section.clone(), at, "Section"));
    }
    let context = reading.row.context("Section");
    let section = parse::sides(&typed, &context)
        .ok()
        .and_then(|sides| measured(&typed, &sides));
    if section.is_none() {
        let hint = "write 2x10, or the dressed size as 1.5 x 9.25 in or 38 x 235 mm";
        reading.complain("Section", "Section needs a board size", hint);
    }
    section.map(|s| Known::job(s, at, "Section"))
}

fn measured(typed: &str, sides: &[Length]) -> Option<Section> {
    let [a, b] = sides else {
        return None;
    };
    let (thickness, face) = if a <= b { (*a, *b) } else { (*b, *a) };
    (!thickness.is_zero()).then(|| Section {
        nominal: Arc::from(typed),
        nominal_face: face,
        thickness,
        face,
    })
}
