//! `Irrigation`: which beds have drip lines, how near to each other, and what the tap gives.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::draft::{Draft, figure};
use super::ground::found;
use super::reading::{Reading, Words};
use crate::model::bed::BedId;
use crate::model::drip::{Drip, DripFigures, DripId, DripParts, ZoneBy};
use crate::model::known::Known;
use crate::model::library::{Library, folded};
use crate::model::sheet::Sheet;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::{Flow, Length, Pressure};

/// Words for what makes a zone.
pub(super) const ZONES: &Words<ZoneBy> = &[
    (&["supply", "flow"], ZoneBy::Supply),
    (&["bed", "beds"], ZoneBy::Bed),
    (&["site", "sites", "all", "one"], ZoneBy::Site),
];
/// Classes of emitters by their spacing in inches and their flow in tenths of a gallon an hour, for which the
/// library has the longest run.
const SPACINGS: [u32; 5] = [6, 9, 12, 18, 24];
const FLOWS: [u32; 5] = [4, 5, 6, 9, 10];

/// Reads every row and tells each bed which one waters it; a row of its own wins over that for all.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    let mut own: BTreeMap<BedId, DripId> = BTreeMap::new();
    let mut of_all: Option<DripId> = None;
    for row in rows(opened, Sheet::Irrigation) {
        let mut reading = Reading::of(&row);
        if let Some((beds, drip)) = drip(draft, &mut reading) {
            let id = DripId::of(draft.drips.len());
            let is_second = match beds {
                Waters::One(bed) => own.insert(bed, id).is_some(),
                Waters::All => of_all.replace(id).is_some(),
            };
            if is_second {
                reading.complain(
                    "Bed",
                    "Bed is watered by two rows",
                    "keep one of the two rows",
                );
            }
            draft.drips.push(drip);
        }
        draft.hear(reading);
    }
    for (place, bed) in draft.beds.iter_mut().enumerate() {
        bed.drip = own.get(&BedId::of(place)).copied().or(of_all);
    }
}

/// Which beds it waters, and how.
fn drip(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<(Waters, Drip)> {
    let beds = beds(draft, reading);
    let line_spacing = spacing(
        reading,
        "Line spacing",
        figure(draft.library, "drip_line_spacing_in", Length::inches),
    );
    let usual = figure(draft.library, "drip_emitter_spacing_in", Length::inches);
    let emitter_spacing = spacing(reading, "Emitter spacing", usual);
    let emitter_flow = flow(draft.library, reading);
    let supply = reading.known_flow("Supply flow");
    let pressure = reading.known_pressure("Pressure");
    let zone_by = zone_by(reading);
    let main = reading.known_length("Main length");
    let parts = parts(draft, reading);
    let (emitter_spacing, emitter_flow) = (emitter_spacing?, emitter_flow?);
    let longest = longest(draft.library, emitter_spacing.value, emitter_flow.value);
    let drip = Drip {
        at: reading.at(),
        line_spacing: line_spacing?,
        emitter_spacing,
        emitter_flow,
        supply,
        pressure,
        zone_by: zone_by?,
        main,
        longest,
        parts: parts?,
        figures: figures(draft.library),
    };
    Some((beds?, drip))
}

/// Which beds a row waters.
enum Waters {
    /// Every one that has no row of its own.
    All,
    /// This one.
    One(BedId),
}

/// The bed that the row names; `all` or nothing for every one.
fn beds(draft: &Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<Waters> {
    let Some(name) = reading.text("Bed") else {
        return Some(Waters::All);
    };
    if matches!(folded(&name).as_str(), "all" | "every" | "todos" | "todas") {
        return Some(Waters::All);
    }
    let spot = (reading.at(), "Bed");
    let names = &draft.bed_names;
    let place = names.resolve(&name, spot, "Beds", &mut reading.problems)?;
    Some(Waters::One(BedId::of(place)))
}

/// A distance greater than zero, the usual one where nothing is written.
fn spacing(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
    usual: Known<Length>,
) -> Option<Known<Length>> {
    if !reading.has(field) {
        return Some(usual);
    }
    let typed = reading.known_length(field)?;
    if typed.value < Length::inches(Decimal::ONE) {
        let sentence = format!("{field} must be an inch or 25 mm at the least");
        reading.complain(field, sentence, "write 12 in or 300 mm");
        return None;
    }
    Some(typed)
}

fn flow(library: &Library, reading: &mut Reading<'_, '_>) -> Option<Known<Flow>> {
    const FIELD: &str = "Emitter flow";
    if !reading.has(FIELD) {
        return Some(figure(
            library,
            "drip_emitter_flow_gph",
            Flow::gallons_per_hour,
        ));
    }
    let typed = reading.known_flow(FIELD)?;
    if typed.value.is_zero() {
        reading.complain(
            FIELD,
            "Emitter flow must be more than zero",
            "write 0.5 gal/h or 2 L/h",
        );
        return None;
    }
    Some(typed)
}

fn zone_by(reading: &mut Reading<'_, '_>) -> Option<Known<ZoneBy>> {
    if !reading.has("Zone by") {
        return Some(Known::assumed(
            ZoneBy::Supply,
            "not set, taken as by the supply",
        ));
    }
    reading.known_choice("Zone by", ZONES)
}

/// The parts by their names in the library; the line by its own name where the row has one.
fn parts(draft: &mut Draft<'_>, reading: &mut Reading<'_, '_>) -> Option<DripParts> {
    let line = match reading.text("Dripline") {
        Some(name) => {
            let line = found(draft, &name);
            if line.is_none() {
                let hint =
                    "give it a row in Materials with the Category tube, or leave the cell empty";
                reading.complain("Dripline", "Dripline is not known", hint);
            }
            line?
        }
        None => found(draft, "Dripline")?,
    };
    Some(DripParts {
        line,
        tube: found(draft, "Supply tube")?,
        fitting: found(draft, "Drip fitting")?,
        end: found(draft, "End plug")?,
        stake: found(draft, "Hold-down stake")?,
        valve: found(draft, "Shut-off valve")?,
        backflow: found(draft, "Backflow preventer")?,
        filter: found(draft, "Drip filter")?,
        regulator: found(draft, "Pressure regulator")?,
        timer: found(draft, "Water timer")?,
        adapter: found(draft, "Hose adapter")?,
        flush: found(draft, "Flush valve")?,
    })
}

fn figures(library: &Library) -> DripFigures {
    let percent = |key| {
        let part = library.typical(key).checked_div(Decimal::ONE_HUNDRED);
        part.unwrap_or(Decimal::ONE)
    };
    DripFigures {
        need: figure(library, "drip_need_in_week", Length::inches),
        efficiency: percent("drip_efficiency_pct"),
        least_pressure: Pressure::psi(library.typical("drip_least_pressure_psi")),
        zone_share: percent("drip_zone_share_pct"),
        riser: Length::feet(library.typical("drip_riser_ft")),
        stake_every: Length::feet(library.typical("drip_stake_every_ft")),
    }
}

/// The longest run of the class that is no better fed: the next closer spacing, the next greater flow.
fn longest(library: &Library, spacing: Length, flow: Flow) -> Option<Length> {
    let inches = spacing.in_inches().round_dp(6).floor().to_u32()?;
    let tenths = flow.in_gallons_per_hour().saturating_mul(Decimal::TEN);
    let tenths = tenths.round_dp(6).ceil().to_u32()?;
    let spacing = SPACINGS.iter().rev().find(|s| **s <= inches)?;
    let flow = FLOWS.iter().find(|f| **f >= tenths)?;
    let key = format!("drip_run_{spacing}_{flow:02}_ft");
    let (_, typical, _) = library.figure(&key)?.value;
    Some(Length::feet(typical))
}
