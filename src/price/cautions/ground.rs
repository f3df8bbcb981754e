//! Cautions about the ground, the way in, the weather and water.

use super::super::naming::speaks_of;
use super::{Group, Look, Reason};
use crate::model::bed::Base;
use crate::model::ground::{Area, GroundWork, Plan};
use crate::model::job::{Job, Site};
use crate::model::labour::{Driver, Extra, ExtraKind};
use crate::model::material::{Category, Material};
use crate::model::sheet::Sheet;
use crate::takeoff::TakeOff;
use crate::units::{Decimal, Length, System};

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    [
        utilities(look),
        lead(look),
        dust(look),
        path_access(look),
        heat(look),
        backflow(look),
        clear_width(look),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn utilities(look: &Look) -> Option<Reason> {
    let digging = &look.row("utilities")?.names;
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        let does = |wanted: Driver| {
            let mut work = takeoff.work.iter();
            work.any(|(driver, quantity)| *driver == wanted && *quantity > Decimal::ZERO)
        };
        let built = [
            (Driver::PostSet, "posts set in the ground"),
            (Driver::TrenchLength, "a trench for the wall"),
            (Driver::Anchor, "anchors dug in"),
            (Driver::GroundPin, "pins driven into the ground"),
        ];
        let dug = built.into_iter().find(|(driver, _)| does(*driver));
        for bed in look.beds(kind) {
            if let Some((_, words)) = dug {
                let spot = Some((bed.at, "Frame"));
                group.add(&bed.name, words.to_owned(), spot);
            } else if opens_ground(bed.ground.value, takeoff) {
                let words = bed.ground.value.words(look.system());
                group.add(&bed.name, words, Some((bed.at, "Ground")));
            }
        }
    }
    for (area, takeoff) in look.areas() {
        if opens_ground(area.ground.value, takeoff) {
            let words = area.ground.value.words(look.system());
            group.add(&area.name, words, Some((area.at, "Ground")));
        }
    }
    for extra in priced(look.job).filter(|extra| speaks_of(&extra.item, digging)) {
        group.add(&extra.item, String::new(), Some((extra.at, "Item")));
    }
    group.reason_of("utilities", "Digging at ")
}

/// Whether tools go into the ground: for the work that is named, or because spoil comes out of it.
fn opens_ground(work: GroundWork, takeoff: &TakeOff) -> bool {
    let worked = !takeoff.ground_area.is_zero() && work.opens_ground();
    worked || !takeoff.spoil.is_zero()
}

fn lead(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for bed in &look.job.beds {
        let site = look.job.sites.get(bed.site.index());
        let open = bed.base == Base::OpenGround && !bed.closed_bottom;
        if open && !site.is_some_and(tested) {
            group.add(&bed.name, String::new(), Some((bed.at, "Base")));
        }
    }
    group.reason_of("soil_lead", "Ground below ")
}

fn dust(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for (kind, takeoff) in look.kinds() {
        for bed in look.beds(kind) {
            if opens_ground(bed.ground.value, takeoff) {
                group.add(&bed.name, String::new(), Some((bed.at, "Ground")));
            }
        }
    }
    for area in &look.job.areas {
        let aggregate = surface(look, area).is_some_and(|m| m.category == Category::Aggregate);
        if aggregate {
            group.add(&area.name, String::new(), Some((area.at, "Material")));
        } else if area.ground.value.opens_ground() {
            group.add(&area.name, String::new(), Some((area.at, "Ground")));
        }
    }
    group.reason_of("ground_dust", "Dust at ")
}

fn surface<'a>(look: &Look<'a>, area: &Area) -> Option<&'a Material> {
    look.job.material(area.surface.as_ref()?.material)
}

/// Paths that not everybody can use: narrow ones, and those that give way under a wheel.
fn path_access(look: &Look) -> Option<Reason> {
    let mark = Length::inches(look.mark("path_access")?);
    let round = &look.row("path_access")?.names;
    let mut group = Group::default();
    for area in &look.job.areas {
        let loose = surface(look, area).filter(|m| {
            let category = matches!(
                m.category,
                Category::Mulch | Category::Wood | Category::Litter
            );
            category || speaks_of(&m.name, round)
        });
        let narrow = match area.plan {
            Plan::Rectangle { length, width } => Some(length.min(width)).filter(|w| *w < mark),
            Plan::Measured(_) => None,
        };
        if let Some(width) = narrow {
            let detail = format!("{} wide", look.system().depth(width));
            group.add(&area.name, detail, Some((area.at, "Width")));
        } else if let Some(material) = loose {
            let detail = material.name.to_string();
            group.add(&area.name, detail, Some((area.at, "Material")));
        }
    }
    group.reason_of("path_access", "Path of ")
}

fn tested(site: &Site) -> bool {
    let ground = site.ground.as_deref().unwrap_or_default();
    speaks_of(ground, &["tested"])
}

fn heat(look: &Look) -> Option<Reason> {
    let mut group = Group::default();
    for line in look.labour.lines.iter().filter(|l| !l.hours.is_zero()) {
        let Some(site) = look.job.sites.get(line.site.index()) else {
            continue;
        };
        if may_be_hot(look, site) {
            let spot = site.at.map(|at| (at, "First day"));
            group.add(&site.name, String::new(), spot);
        }
    }
    group.reason_of("heat", "Work outdoors at ")
}

/// Whether the work may fall in a hot month: the cool months are known for US jobs with a date only.
fn may_be_hot(look: &Look, site: &Site) -> bool {
    match (look.system(), site.first_day) {
        (System::UsCustomary, Some(day)) => (4..=10).contains(&day.month()),
        _ => true,
    }
}

fn backflow(look: &Look) -> Option<Reason> {
    let watering = &look.row("backflow")?.names;
    let mut group = Group::default();
    if look.job.sheets_used.contains(&Sheet::Irrigation) {
        group.add("Watering lines", String::new(), None);
    }
    for extra in priced(look.job).filter(|extra| speaks_of(&extra.item, watering)) {
        group.add(&extra.item, String::new(), Some((extra.at, "Item")));
    }
    for (id, spot) in super::goods::in_use(look) {
        let name = look.job.material_name(id);
        if speaks_of(name, watering) {
            group.add(name, String::new(), spot);
        }
    }
    group.reason("backflow")
}

fn clear_width(look: &Look) -> Option<Reason> {
    let mark = Length::inches(look.mark("clear_width")?);
    let mut group = Group::default();
    for site in &look.job.sites {
        let gate = site.gate.as_ref().map(|gate| gate.value);
        if let Some(gate) = gate.filter(|gate| *gate < mark) {
            let detail = format!("{} wide", look.system().depth(gate));
            let spot = site.at.map(|at| (at, "Gate width"));
            group.add(&site.name, detail, spot);
        }
    }
    group.reason_of("clear_width", "Gate of ")
}

/// Extras that are part of the job; an exclusion is not done.
fn priced(job: &Job) -> impl Iterator<Item = &Extra> {
    let extras = job.extras.iter();
    extras.filter(|extra| extra.kind != ExtraKind::Exclusion)
}
