//! Cautions about the ground, the way in, the weather and water.

use super::super::naming::speaks_of;
use super::{Group, Look, Reason};
use crate::model::bed::Base;
use crate::model::job::{Job, Site};
use crate::model::labour::{Driver, Extra, ExtraKind};
use crate::model::sheet::Sheet;
use crate::units::{Decimal, Length, System};

pub(super) fn cautions(look: &Look) -> Vec<Reason> {
    [
        utilities(look),
        lead(look),
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
            let ground = bed.ground.as_deref().unwrap_or_default();
            if let Some((_, words)) = dug {
                let spot = Some((bed.at, "Frame"));
                group.add(&bed.name, words.to_owned(), spot);
            } else if speaks_of(ground, digging) {
                group.add(&bed.name, ground.to_owned(), Some((bed.at, "Ground")));
            }
        }
    }
    for extra in priced(look.job).filter(|extra| speaks_of(&extra.item, digging)) {
        group.add(&extra.item, String::new(), Some((extra.at, "Item")));
    }
    group.reason_of("utilities", "Digging at ")
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
