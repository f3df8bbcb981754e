//! Walls of stone.

use rust_decimal::Decimal;

use super::mortar::{self, LAID};
use super::timbers::pounds_per_cubic_foot;
use super::{Draft, Reading, Role, figure, material_for, wall_base, wall_material};
use crate::model::frame::{Hearting, Laid, StoneWall};
use crate::model::known::Known;
use crate::model::library::folded;
use crate::units::{Length, parse};

/// The stone of a row, and how it is laid; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<StoneWall> {
    let stone = wall_material(draft, reading, Role::Stone)?;
    let laid = reading
        .known_choice("Laid", LAID)
        .unwrap_or_else(|| Known::assumed(Laid::Dry, "not set, taken as dry"));
    let thickness = match laid.value {
        Laid::Dry => "stone_dry_thickness_in",
        Laid::Mortared => "stone_mortar_thickness_in",
    };
    let mortar = mortar::read(draft, reading, laid.value, "stone is");
    let library = draft.library;
    Some(StoneWall {
        stone,
        thickness: reading
            .known_length("Thickness")
            .unwrap_or_else(|| figure(library, thickness, Length::inches)),
        batter_rise: batter(reading).unwrap_or_else(|| match laid.value {
            Laid::Dry => figure(library, "stone_batter_rise", |rise| rise),
            Laid::Mortared => Known::assumed(Decimal::ZERO, "not set, taken as upright"),
        }),
        laid,
        hearting: hearting(draft, reading),
        mortar,
        mortar_share: figure(library, "stone_mortar_pct", share),
        solid: figure(library, "stone_solid_lb_ft3", pounds_per_cubic_foot),
        cap: material_for(draft, reading, "Cap material", Role::Stone),
        base: wall_base::read(draft, reading),
    })
}

fn share(percent: Decimal) -> Decimal {
    percent
        .checked_div(Decimal::ONE_HUNDRED)
        .unwrap_or_default()
}

fn hearting(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Hearting> {
    let typed = reading.known_percent("Hearting %");
    if typed
        .as_ref()
        .is_some_and(|known| known.value >= Decimal::ONE)
    {
        let hint = "write the share of small stone in the wall, as 25%";
        reading.complain("Hearting %", "Hearting % must be under 100%", hint);
        return None;
    }
    let material = material_for(draft, reading, "Hearting material", Role::Hearting);
    if material.is_none() && typed.is_some() && !reading.has("Hearting material") {
        let words = "Hearting % is not used, because no Hearting material is named: the wall stone is its own hearting";
        reading.notice("Hearting %", words);
    }
    let usual = || figure(draft.library, "stone_hearting_pct", share);
    Some(Hearting {
        material: material?,
        share: typed.unwrap_or_else(usual),
    })
}

/// `1:6`, `1 in 6`, `1/6` or `6`: rise for each one that the face leans in; `none` and 0 stand upright.
fn batter(reading: &mut Reading<'_, '_>) -> Option<Known<Decimal>> {
    let at = reading.at();
    let typed = reading.text("Batter")?;
    let plain = folded(&typed);
    if matches!(plain.as_str(), "none" | "no" | "upright" | "plumb" | "0") {
        return Some(Known::job(Decimal::ZERO, at, "Batter"));
    }
    let comma = reading.row.context("Batter").decimal_comma;
    let number = |text: &str| parse::number(text.trim(), comma).ok();
    let parts = [":", " in ", "/"]
        .iter()
        .find_map(|mark| typed.split_once(mark));
    let rise = match parts {
        Some((one, rise)) => number(rise)
            .zip(number(one))
            .and_then(|(rise, one)| rise.checked_div(one)),
        None => number(&typed),
    };
    let rise = rise.filter(|rise| *rise >= Decimal::ONE);
    if rise.is_none() {
        let sentence = "Batter must be a lean for a rise, no flatter than 1:1";
        reading.complain("Batter", sentence, "write 1:6, or none for an upright face");
    }
    rise.map(|rise| Known::job(rise, at, "Batter"))
}
