//! Sizes of wall panels: from `Materials`, and from the packs in which sheets are sold.

use std::sync::Arc;

use super::reading::Reading;
use crate::model::known::Known;
use crate::model::library::folded;
use crate::model::material::{Category, Material, PanelSize};
use crate::units::parse::{self, Context};
use crate::units::{Length, Weight};

/// What a row of `Materials` says of a panel.
pub(super) fn read(reading: &mut Reading<'_, '_>) -> PanelSize {
    let size = PanelSize {
        length: positive(reading, "Panel length"),
        width: positive(reading, "Panel width"),
        cover: positive(reading, "Cover width"),
        radius: positive(reading, "Bend radius"),
        weight: weight(reading),
    };
    let (Some(cover), Some(width)) = (&size.cover, &size.width) else {
        return size;
    };
    if cover.value > width.value {
        let hint = "the cover is the width less the lap, as 24 in of a sheet 26 in wide";
        reading.complain("Cover width", "Cover width is more than Panel width", hint);
    }
    size
}

fn positive(reading: &mut Reading<'_, '_>, field: &'static str) -> Option<Known<Length>> {
    let known = reading.known_length(field)?;
    if known.value <= Length::ZERO {
        let sentence = format!("{field} must be more than 0");
        reading.complain(
            field,
            sentence,
            "write a length, as 26 in, or leave it empty",
        );
        return None;
    }
    Some(known)
}

/// What one sheet, module or ready-made bed weighs.
pub(super) fn weight(reading: &mut Reading<'_, '_>) -> Option<Known<Weight>> {
    let known = reading.known_weight("Piece weight")?;
    (known.value > Weight::ZERO).then_some(known)
}

/// Size of a sheet of panels: by `Holds`, else by the pack, else the one size that the material has.
pub(super) fn of_pack(
    reading: &Reading<'_, '_>,
    material: &Material,
    pack: &str,
) -> Option<(Length, Length)> {
    if material.category != Category::Panel {
        return None;
    }
    let told = reading.text("Holds").unwrap_or_else(|| Arc::from(pack));
    let context = reading.row.context("Holds");
    let size = in_words(&told, &material.panel, context).or_else(|| {
        let is_sheet = folded(&told).ends_with("sheet");
        is_sheet.then(|| known(&material.panel))?
    })?;
    let (length, width) = size;
    (length > Length::ZERO && width > Length::ZERO).then_some(size)
}

/// The one size that a material has by `Materials`.
pub(super) fn known(size: &PanelSize) -> Option<(Length, Length)> {
    Some((size.length.as_ref()?.value, size.width.as_ref()?.value))
}

/// Length and width of the sheet that a text speaks of: `sheet 4x8 ft`, `26 in x 10 ft panel`.
///
/// Ribs and grain run along the longer side, unless one of the sides is the panel's known width.
pub(super) fn in_words(
    text: &str,
    panel: &PanelSize,
    context: Context,
) -> Option<(Length, Length)> {
    let measure = measure_in(text)?;
    let width = panel.width.as_ref().map(|known| known.value);
    if let Ok(sides) = parse::sides(measure, &context) {
        let [a, b] = *sides.as_slice() else {
            return None;
        };
        return Some(match width {
            Some(width) if a.tidy() == width.tidy() => (b, a),
            Some(width) if b.tidy() == width.tidy() => (a, b),
            _ => (a.max(b), a.min(b)),
        });
    }
    // One length is that of a sheet whose width the material tells: `10 ft`.
    let bare = Context {
        bare: None,
        ..context
    };
    let length = parse::length(measure, &bare).ok()?;
    width.map(|width| (length, width))
}

/// The text without the words around its measure.
fn measure_in(text: &str) -> Option<&str> {
    let start = text.find(|c: char| c.is_ascii_digit())?;
    let measure = text.get(start..)?.trim();
    let words = ["sheets", "sheet", "panels", "panel", "board", "boards"];
    let ending = words.iter().find_map(|word| {
        let cut = measure.len().checked_sub(word.len())?;
        let (front, tail) = measure.split_at_checked(cut)?;
        tail.eq_ignore_ascii_case(word).then_some(front)
    });
    Some(ending.unwrap_or(measure).trim())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::System;
    use crate::units::by_hand::inches;
    use crate::units::parse::Commas;

    #[track_caller]
    fn check(text: &str, width: Option<&str>, expected: Option<(&str, &str)>) {
        let panel = PanelSize {
            width: width.map(|w| Known::assumed(inches(w), "set by the example")),
            ..PanelSize::default()
        };
        let context = Context {
            bare: None,
            system: System::UsCustomary,
            decimal_comma: Commas::Ask,
        };
        let expected = expected.map(|(l, w)| (inches(l), inches(w)));
        assert_eq!(in_words(text, &panel, context), expected);
    }

    #[test]
    fn a_pack_tells_the_size_of_a_sheet() {
        check("sheet 4x8 ft", None, Some(("96", "48")));
        check("4 ft x 8 ft sheet", None, Some(("96", "48")));
        check("panel 26 in x 10 ft", None, Some(("120", "26")));
        // A sheet of 4 x 3 ft whose ribs run along the shorter side.
        check("sheet 4 ft x 3 ft", Some("48"), Some(("36", "48")));
        check("10 ft panel", Some("26"), Some(("120", "26")));
        check("10 ft panel", None, None);
        check("sheet", None, None);
    }
}
