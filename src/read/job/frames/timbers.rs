//! Walls of timbers and sleepers.

use super::boards::{CORNERS, spacing};
use super::{Draft, Reading, Role, Words, figure, material_for, wall_base, wall_material};
use crate::model::frame::{Anchors, Corner, Lie, Pins, TimberWall};
use crate::model::known::Known;
use crate::model::material::MaterialId;
use crate::units::{Area, Density, Length, Weight};
use rust_decimal::Decimal;

const LIES: &Words<Lie> = &[
    (&["flat", "on the flat", "laid flat"], Lie::Flat),
    (&["on edge", "edge", "upright", "standing"], Lie::OnEdge),
];

/// The timbers of a row, and what holds them; `None` after a problem.
pub(super) fn read(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<TimberWall> {
    let timber = wall_material(draft, reading, Role::Lumber)?;
    let assumed = Known::assumed(Corner::Lapped, "not set, taken as lapped for timbers");
    Some(TimberWall {
        timber,
        lie: lie(draft, reading, timber),
        corner: reading.known_choice("Corner", CORNERS).unwrap_or(assumed),
        pins: pins(draft, reading),
        anchors: anchors(draft, reading),
        cap: material_for(draft, reading, "Cap material", Role::Lumber),
        end_treatment: material_for(draft, reading, "End treatment", Role::Finish),
        base: wall_base::read(draft, reading),
        density: figure(draft.library, "timber_lb_ft3", pounds_per_cubic_foot),
    })
}

/// A density from pounds per cubic foot.
pub(super) fn pounds_per_cubic_foot(number: Decimal) -> Density {
    let foot = Area::square_feet(Decimal::ONE).filled_to(Length::feet(Decimal::ONE));
    let kilograms = Weight::pounds(number).in_kilograms();
    let each = kilograms.checked_div(foot.in_cubic_metres());
    Density::kilograms_per_cubic_metre(each.unwrap_or_default())
}

/// How they lie. The side decides height and thickness, so it is said where the sides differ.
fn lie(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, timber: MaterialId) -> Known<Lie> {
    if let Some(known) = reading.known_choice("Laid", LIES) {
        return known;
    }
    let section = draft
        .materials
        .get(timber.index())
        .and_then(|m| m.section.as_ref());
    let sides = section.map(|s| (s.value.thickness, s.value.face));
    if let Some((thickness, face)) = sides.filter(|(thickness, face)| thickness != face)
        && !reading.has("Laid")
    {
        let words = format!(
            "Laid is not set: timbers are taken as laid flat, each course {} high and the wall {} thick",
            draft.system.length(thickness),
            draft.system.length(face)
        );
        reading.notice("Laid", words);
    }
    Known::assumed(Lie::Flat, "not set, taken as flat")
}

fn pins(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Pins> {
    let every = spacing(reading, "Pin every");
    let length = reading.known_length("Pin length");
    let material = material_for(draft, reading, "Fastener", Role::Fastener);
    if material.is_none() && !reading.has("Fastener") {
        let words = "no Fastener is named, so timbers are not pinned: name the pins, as Rebar pins";
        reading.notice("Fastener", words);
    }
    let library = draft.library;
    Some(Pins {
        material: material?,
        every: every.unwrap_or_else(|| figure(library, "pin_every_ft", Length::feet)),
        length: length.unwrap_or_else(|| figure(library, "pin_length_in", Length::inches)),
    })
}

fn anchors(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Anchors {
    let library = draft.library;
    Anchors {
        every: spacing(reading, "Anchor every")
            .unwrap_or_else(|| figure(library, "anchor_every_ft", Length::feet)),
        length: spacing(reading, "Anchor length")
            .unwrap_or_else(|| figure(library, "anchor_length_ft", Length::feet)),
        cross: figure(library, "anchor_cross_ft", Length::feet),
        tier: figure(library, "anchor_tier_in", Length::inches),
    }
}
