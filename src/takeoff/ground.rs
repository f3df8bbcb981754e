//! What is done to the ground before a bed or path comes onto it, and the spoil that it gives.

use rust_decimal::Decimal;

use super::Part;
use super::bill::Bill;
use super::faces::Faces;
use super::rolls::cover;
use super::skins::order_of;
use super::trace::Trace;
use crate::model::bed::Base;
use crate::model::ground::{Cover, Cutter, GroundWork};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::labour::Driver;
use crate::problem::Problem;
use crate::units::{Amount, Area, Length, Volume};

/// A piece of ground that is worked.
#[derive(Clone, Copy, Debug)]
pub(super) struct Patch {
    /// How large it is.
    pub(super) area: Area,
    /// Length and width of the rectangle round it, for sheets from a roll; `None` when they are not known.
    pub(super) extent: Option<(Length, Length)>,
    /// The site that it lies on.
    pub(super) site: SiteId,
}

/// Ground below a bed: its outline outside the walls, grown by the margin. Says how much is worked.
///
/// A bed that stands on paving, a roof or a deck has no ground of its own.
pub(super) fn below(bill: &mut Bill<'_>, faces: &Faces, trace: &mut impl Trace) -> Area {
    let bed = bill.bed;
    if bed.ground.value == GroundWork::Leave || bed.base != Base::OpenGround {
        return Area::ZERO;
    }
    let margin = bill.job.settings.ground.margin.value;
    let grown = faces.outside.inward(Length::ZERO - margin);
    let outline = grown.unwrap_or_else(|| faces.outside.clone());
    let patch = Patch {
        area: outline.area(),
        extent: Some(outline.extent()),
        site: bed.site,
    };
    let units = bill.units;
    trace.step(
        "ground worked",
        || format!("outside of the walls and {} more", units.length(margin)),
        || units.area(patch.area),
    );
    prepare(bill, &bed.ground, patch);
    patch.area
}

/// Clears, covers, strips or digs one patch.
pub(super) fn prepare<B>(bill: &mut Bill<'_, B>, work: &Known<GroundWork>, patch: Patch) {
    let site = bill.job.sites.get(patch.site.index());
    let now = site.and_then(|s| s.cover.as_ref()).map(|c| c.value);
    let area = patch.area.in_square_metres();
    if now == Some(Cover::Paving) && work.value.opens_ground() {
        let words = "there is paving to break out first, which is not priced";
        let paved = Problem::caution(words).hint("add its breaking out and disposal to Extras");
        bill.tell_from(&work.from, paved, "Ground");
    }
    clear(bill, work.value, now, area);
    match work.value {
        GroundWork::Leave => return,
        GroundWork::Cover => lay_cover(bill, patch),
        GroundWork::Loosen => bill.work(Driver::Loosened, area),
        GroundWork::DoubleDig => bill.work(Driver::DoubleDug, area),
        GroundWork::Strip { depth, by } => strip(bill, patch.area.filled_to(depth), by, now, area),
        GroundWork::Dig { depth } => dig(bill, patch.area.filled_to(depth)),
    }
    let units = bill.units;
    let step = format!(
        "ground: {} over {}",
        work.value.words(units),
        units.area(patch.area)
    );
    bill.note(step);
}

/// What grows there goes first, unless turf is cut with what is stripped or nothing is done at all.
fn clear<B>(bill: &mut Bill<'_, B>, work: GroundWork, now: Option<Cover>, area: Decimal) {
    match (now, work) {
        (_, GroundWork::Leave) => {}
        (Some(Cover::Weeds), _) => bill.work(Driver::Weeded, area),
        (Some(Cover::Brush), _) => bill.work(Driver::Grubbed, area),
        (Some(Cover::Lawn) | None, GroundWork::Cover) => bill.work(Driver::Mown, area),
        _ => {}
    }
}

/// Cardboard over the patch. Where its outline is not known, laps are added in proportion.
fn lay_cover<B>(bill: &mut Bill<'_, B>, patch: Patch) {
    bill.work(Driver::Covered, patch.area.in_square_metres());
    let Some(sheet) = bill.job.ground_cover else {
        return;
    };
    let once = lapped(bill, sheet, patch.area, patch.extent);
    let sheets = bill.job.settings.ground.sheets.value;
    let amount = |area: Area| Amount::Area(area.times(sheets));
    let (net, order) = (amount(patch.area), amount(once));
    bill.need(sheet, Part::GroundCover, net, order);
}

/// What covers an area takes of its roll: whole strips over its rectangle, or its own area with its laps
/// when no rectangle is known; with waste when it comes from no roll.
pub(super) fn lapped<B>(
    bill: &mut Bill<'_, B>,
    sheet: crate::model::material::MaterialId,
    net: Area,
    extent: Option<(Length, Length)>,
) -> Area {
    order_of(bill, sheet, net, |roll, lap| match extent {
        Some((length, width)) => cover(length, width, roll, lap).map(|strips| strips.area),
        None => (lap < roll).then(|| net.times(roll.ratio(roll - lap))),
    })
}

/// Turf is carried the first stretch by those who cut it; a top without turf is dug.
fn strip<B>(bill: &mut Bill<'_, B>, ground: Volume, by: Cutter, now: Option<Cover>, area: Decimal) {
    let driver = match by {
        Cutter::Powered => Driver::SodPowered,
        Cutter::Hand if matches!(now, Some(Cover::Lawn) | None) => Driver::SodByHand,
        Cutter::Hand => return dig(bill, ground),
    };
    bill.work(driver, area);
    bill.work(Driver::SpoilVolume, ground.in_cubic_metres());
}

fn dig<B>(bill: &mut Bill<'_, B>, ground: Volume) {
    bill.work(Driver::DugVolume, ground.in_cubic_metres());
    bill.spoil(ground);
}

/// Orders the carrying away of all spoil, less the share that stays; says how much ground it was.
///
/// Loads are filled by what it swells to; its weight is that of the ground, since the loose density is
/// the ground's divided by the swell.
pub(super) fn carry_away<B>(bill: &mut Bill<'_, B>) -> Volume {
    let ground = Volume::cubic_metres(bill.worked(Driver::SpoilVolume));
    if let Some(spoil) = bill.job.spoil {
        let kept = bill.job.settings.ground.spoil_kept.value;
        let goes = bill
            .loosened(ground)
            .times(Decimal::ONE.saturating_sub(kept));
        let (net, order) = (Amount::Volume(ground), Amount::Volume(goes));
        bill.need(spoil, Part::Spoil, net, order);
    }
    ground
}
