//! What is done to the ground, and what is there: words of `Beds`, `Areas`, `Sites` and `Job`.

use rust_decimal::Decimal;

use super::draft::{Draft, figure};
use super::materials::{SizeIn, look_up};
use super::reading::{Reading, Words, meaning};
use super::resolve::Found;
use crate::model::ground::{Cover, Cutter, GroundWork};
use crate::model::job::SiteId;
use crate::model::known::Known;
use crate::model::library::{Library, folded};
use crate::model::material::MaterialId;
use crate::model::settings::Ground;
use crate::units::{Density, Length, System, parse};

/// Work that has no depth.
const PLAIN: &Words<GroundWork> = &[
    (
        &["leave", "none", "nothing", "no", "leave as is"],
        GroundWork::Leave,
    ),
    (
        &["mow and cover", "cover", "sheet mulch", "mow, cover"],
        GroundWork::Cover,
    ),
    (
        &["loosen", "fork", "broadfork", "loosen with a fork"],
        GroundWork::Loosen,
    ),
    (&["double dig", "dig double"], GroundWork::DoubleDig),
];
/// Endings that name a powered cutter.
const POWERED: [&str; 5] = [
    " with a cutter",
    " with cutter",
    " with a sod cutter",
    " by machine",
    " powered",
];
/// Words that a remark on the ground may hold, and what they say is there.
const COVERS: &Words<Cover> = &[
    (&["lawn", "grass", "turf", "sod", "meadow"], Cover::Lawn),
    (&["weeds", "weed", "weedy", "weedpatch"], Cover::Weeds),
    (
        &["brush", "brambles", "bramble", "scrub", "shrubs", "thicket"],
        Cover::Brush,
    ),
    (&["bare", "soil", "dirt", "earth", "tilled"], Cover::Bare),
    (
        &["paving", "paved", "concrete", "asphalt", "patio", "slabs"],
        Cover::Paving,
    ),
];
const HINT: &str = "write leave, mow and cover, strip 3 in, strip 3 in with a cutter, dig 6 in, loosen or double dig";

/// The work that a cell names; `None` when it is empty and after a problem.
pub(super) fn ground_work(
    reading: &mut Reading<'_, '_>,
    field: &'static str,
) -> Option<GroundWork> {
    let typed = reading.text(field)?;
    if let Some(plain) = meaning(&typed, PLAIN) {
        return Some(plain);
    }
    let lower = typed.trim().to_lowercase();
    let powered = POWERED.iter().find_map(|end| lower.strip_suffix(end));
    let rest = powered.unwrap_or(&lower);
    let (strips, depth) = match (rest.strip_prefix("strip "), rest.strip_prefix("dig ")) {
        (Some(depth), _) => (true, depth),
        (_, Some(depth)) if powered.is_none() => {
            (false, depth.strip_prefix("out ").unwrap_or(depth))
        }
        _ => {
            let sentence = format!("{field} names no work on the ground");
            reading.complain(field, sentence, HINT);
            return None;
        }
    };
    let depth = depth_of(reading, field, depth)?;
    Some(if strips {
        let by = powered.map_or(Cutter::Hand, |_| Cutter::Powered);
        GroundWork::Strip { depth, by }
    } else {
        GroundWork::Dig { depth }
    })
}

fn depth_of(reading: &mut Reading<'_, '_>, field: &'static str, typed: &str) -> Option<Length> {
    let context = parse::Context {
        bare: None,
        ..reading.row.context(field)
    };
    let depth = parse::length(typed, &context).ok();
    let depth =
        depth.filter(|d| *d > Length::ZERO && crate::units::limit::LENGTH.holds(d.in_metres()));
    if depth.is_none() {
        let sentence = format!("{field} needs a depth with its unit");
        reading.complain(field, sentence, "write strip 3 in or dig 150 mm");
    }
    depth
}

/// What a remark on a site says is there: the first word of it that names something.
pub(super) fn cover(reading: &Reading<'_, '_>) -> Option<Known<Cover>> {
    let typed = reading.text("Ground")?;
    let mut words = typed.split(|c: char| !c.is_alphanumeric());
    let cover = words.find_map(|word| meaning(word, COVERS))?;
    Some(Known::job(cover, reading.at(), "Ground"))
}

/// The work under a bed: its own, else its site's, else the job's; a bed that says something else
/// than they do wins, and that is said.
pub(super) fn under_bed(
    draft: &Draft<'_>,
    reading: &mut Reading<'_, '_>,
    site: Option<SiteId>,
) -> Option<Known<GroundWork>> {
    let of_site = site.and_then(|id| draft.sites.get(id.index())?.ground_work.clone());
    let (wider, whose) = match of_site {
        Some(work) => (work, "the site"),
        None => (draft.ground_work.clone(), "the job"),
    };
    if !reading.has("Ground") {
        return Some(wider);
    }
    let own = ground_work(reading, "Ground")?;
    if wider.is_given() && wider.value != own {
        let words = |work: GroundWork| work.words(draft.system);
        let said = format!(
            "Ground of the bed, {}, wins over {} of {whose}",
            words(own),
            words(wider.value)
        );
        reading.notice("Ground", said);
    }
    Some(Known::job(own, reading.at(), "Ground"))
}

/// The figures of the library for what the job does not say of the ground.
pub(super) fn figures(library: &Library, system: System) -> Ground {
    let percent = |n: Decimal| n.checked_div(Decimal::ONE_HUNDRED).unwrap_or_default();
    Ground {
        work: Known::assumed(GroundWork::Leave, "not set, taken as leave"),
        margin: match system {
            System::UsCustomary => figure(library, "ground_margin_in", Length::inches),
            System::Metric => Known::assumed(
                Length::millimetres(Decimal::from(150)),
                "not set, taken as 150 mm",
            ),
        },
        swell: figure(library, "swell_pct", percent),
        spoil_kept: Known::assumed(
            Decimal::ONE,
            "not set, and nobody is priced to take spoil: taken as 100%, all stays on the site",
        ),
        sheets: figure(library, "ground_cover_sheets", |n| n),
    }
}

/// What is taken for `Spoil kept %` where somebody is there to take the spoil.
pub(super) fn none_kept() -> Known<Decimal> {
    Known::assumed(Decimal::ZERO, "not set, taken as 0%: all is taken away")
}

/// Makes spoil and the cardboard of covered ground materials of the job, as far as beds or areas may
/// need them. Loose spoil weighs what the ground does, divided by the swell, unless `Materials` says it.
pub(super) fn goods(draft: &mut Draft<'_>, ground: &mut Ground) -> [Option<MaterialId>; 2] {
    let spoil = found(draft, "Spoil");
    if let Some(material) = spoil.and_then(|id| draft.materials.get_mut(id.index())) {
        let given = material.delivered.as_ref().is_some_and(Known::is_given);
        let grown = Decimal::ONE.saturating_add(ground.swell.value);
        let figure = figure(draft.library, "ground_density_lb_yd3", |n| {
            let loose = n.checked_div(grown).unwrap_or(n);
            Density::pounds_per_cubic_yard(loose)
        });
        if !given {
            material.delivered = Some(figure);
        }
    }
    let taken = spoil.is_some_and(|id| {
        let sold = draft.offers.iter().any(|o| o.material == id);
        let name = draft.materials.get(id.index()).map(|m| folded(&m.name));
        let mut cargo = draft.vehicles.iter().flat_map(|v| &v.carries);
        sold || cargo.any(|c| Some(folded(c)) == name)
    });
    if taken && !ground.spoil_kept.is_given() {
        ground.spoil_kept = none_kept();
    }
    let works = draft.beds.iter().map(|b| b.ground.value);
    let works = works.chain(draft.areas.iter().map(|a| a.ground.value));
    let covers = works.into_iter().any(|w| w == GroundWork::Cover);
    let sheet = if covers {
        found(draft, "Cardboard")
    } else {
        None
    };
    [spoil, sheet]
}

/// A material that the job or the library knows by this name, as one that is used.
pub(super) fn found(draft: &mut Draft<'_>, name: &str) -> Option<MaterialId> {
    match look_up(draft, &name.into(), SizeIn::Nothing) {
        Found::Is(place) => {
            draft.used.insert(place);
            Some(MaterialId::of(place))
        }
        Found::Broken | Found::Unknown => None,
    }
}
