//! A kind of bed on its page: drawings, layers with their marks, pieces, order of work, hours.

use serde::Serialize;

use super::super::page::{Draft, Picture};
use super::parts::{PartRow, parts};
use super::{Drawn, cautions, hours};
use crate::buying::OrderLine;
use crate::drawing::{MM, Room, drawings};
use crate::model::bed::{Base, Bed};
use crate::model::material::{Category, MaterialId};
use crate::model::offer::Handover;
use crate::price::Estimate;
use crate::takeoff::{BedKind, KindId, LayerTakeOff, Moment, Need, Part, Piece, TakeOff};
use crate::units::show::plain;
use crate::units::{Amount, Decimal, Length, Volume};
use crate::write::names::{Names, by_name};

/// Paper of the drawings beside each other.
const ROOM: Room = Room {
    plan: (48 * MM, 46 * MM),
    section: (46 * MM, 42 * MM),
    words: 38 * MM,
    letters: 27,
};
/// Names that are all said in a title.
const MOST_NAMES: usize = 8;

#[derive(Debug, Serialize)]
pub(super) struct KindPage {
    title: String,
    size: String,
    place: String,
    more: String,
    plan: Option<Picture>,
    section: Option<Picture>,
    scales: Option<String>,
    layers: Vec<LayerRow>,
    pieces: Vec<PieceRow>,
    parts: Vec<PartRow>,
    steps: Vec<String>,
    tasks: Vec<TaskRow>,
    hours_head: String,
    hours: String,
    cautions: Vec<String>,
}

#[derive(Debug, Serialize)]
struct LayerRow {
    name: String,
    depth: String,
    mark: String,
    loose: String,
    barrows: String,
}

#[derive(Debug, Serialize)]
struct PieceRow {
    count: String,
    length: String,
    mark: String,
    material: String,
    sides: String,
}

#[derive(Debug, Serialize)]
struct TaskRow {
    name: String,
    hours: String,
}

/// A page for each kind, by the names of their first beds.
pub(super) fn kinds(estimate: &Estimate, draft: &mut Draft<'_>) -> Vec<KindPage> {
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    let pages = pairs.enumerate().filter_map(|(index, (kind, takeoff))| {
        let bed = estimate.job.beds.get(kind.first.index())?;
        let page = Page {
            estimate,
            id: KindId::of(index),
            kind,
            bed,
            takeoff,
        };
        Some((&*bed.name, page))
    });
    let mut pages: Vec<(&str, Page<'_>)> = pages.collect();
    pages.sort_by(|a, b| by_name(a.0, b.0));
    pages.iter().map(|(_, page)| page.page(draft)).collect()
}

struct Page<'a> {
    estimate: &'a Estimate,
    id: KindId,
    kind: &'a BedKind,
    bed: &'a Bed,
    takeoff: &'a TakeOff,
}

impl Page<'_> {
    fn page(&self, draft: &mut Draft<'_>) -> KindPage {
        let takeoff = self.takeoff;
        let (plan, section, scales) = self.drawn(draft);
        let (tasks, one) = self.tasks();
        KindPage {
            title: self.title(),
            size: takeoff.size.clone(),
            place: Names(&self.estimate.job).drop(self.kind.site, self.kind.phase),
            more: self.more(),
            plan,
            section,
            scales,
            layers: self.layers(),
            pieces: self.pieces(),
            parts: parts(self.estimate, takeoff),
            steps: self.steps(),
            tasks,
            hours_head: match self.kind.count {
                one if one == Decimal::ONE => "Hours".to_owned(),
                n => format!("One bed, all {}", plain(n, 0)),
            },
            hours: self.both(one),
            cautions: self.cautions(),
        }
    }

    fn names(&self) -> Vec<&str> {
        let beds = self.kind.beds.iter();
        let beds = beds.filter_map(|id| self.estimate.job.beds.get(id.index()));
        let mut names: Vec<&str> = beds.map(|bed| &*bed.name).collect();
        names.sort_by(|a, b| by_name(a, b));
        names
    }

    /// `U1 Long plots: 4 beds`.
    fn title(&self) -> String {
        let names = self.names();
        let more = names.len().saturating_sub(MOST_NAMES);
        let shown: Vec<&str> = names.into_iter().take(MOST_NAMES).collect();
        let more = match more {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        let count = match self.kind.count {
            one if one == Decimal::ONE => "1 bed".to_owned(),
            n => format!("{} beds", plain(n, 0)),
        };
        format!("{}{more}: {count}", shown.join(", "))
    }

    /// Base, frame, what grows there, and the notes of the rows.
    fn more(&self) -> String {
        let bed = self.bed;
        let job = &self.estimate.job;
        let base = match bed.base {
            Base::OpenGround => None,
            Base::Paved => Some("stands on paving".to_owned()),
            Base::RoofOrDeck => Some("stands on a roof or deck".to_owned()),
        };
        let frame = job.frames.get(bed.frame.index());
        let frame = frame.map(|frame| format!("frame {}", frame.name));
        let crop = bed.crop.as_ref().map(|crop| format!("for {crop}"));
        let beds = self.kind.beds.iter();
        let beds = beds.filter_map(|id| job.beds.get(id.index()));
        let notes = beds.filter_map(|bed| Some(format!("{}: {}", bed.name, bed.note.as_ref()?)));
        let parts: Vec<String> = [frame, base, crop]
            .into_iter()
            .flatten()
            .chain(notes)
            .collect();
        parts.join("; ")
    }

    fn drawn(&self, draft: &mut Draft<'_>) -> Drawn {
        let Some(drawn) = drawings(&self.estimate.job, self.bed, self.takeoff, &ROOM) else {
            return (None, None, None);
        };
        let (plan, section) = (drawn.plan.scale.words(), drawn.section.scale.words());
        let scales = format!(
            "Plan at {plan}, section at {section}. Numbers in the plan are the sides that pieces name."
        );
        let pictures = (draft.picture(&drawn.plan), draft.picture(&drawn.section));
        (Some(pictures.0), Some(pictures.1), Some(scales))
    }

    fn layers(&self) -> Vec<LayerRow> {
        let units = self.estimate.job.settings.units.value;
        let mut up = Length::ZERO;
        let layers = self.takeoff.layers.iter().zip(0_u16..);
        let rows = layers.map(|(layer, place)| {
            up += layer.depth;
            if layer.sheets > 0 {
                let sheets = if layer.sheets == 1 {
                    "1 sheet"
                } else {
                    "sheets"
                };
                return LayerRow {
                    name: layer.name.to_string(),
                    depth: match layer.sheets {
                        1 => sheets.to_owned(),
                        n => format!("{n} {sheets}"),
                    },
                    mark: String::new(),
                    loose: String::new(),
                    barrows: String::new(),
                };
            }
            LayerRow {
                name: self.named(layer, place),
                depth: units.depth(layer.depth),
                mark: units.depth(up),
                loose: units.volume(layer.order),
                barrows: self.barrows(place),
            }
        });
        rows.collect()
    }

    fn of_layer(&self, place: u16) -> impl Iterator<Item = &Need> {
        let needs = self.takeoff.needs.iter();
        needs.filter(move |n| n.part == Part::Layer(place) && n.moment == Moment::Build)
    }

    /// A mix with its parts by volume: `Plot mix (0.42 m3 Compost, 0.64 m3 Topsoil)`.
    fn named(&self, layer: &LayerTakeOff, place: u16) -> String {
        let job = &self.estimate.job;
        let units = job.settings.units.value;
        let parts = self.of_layer(place).map(|need| {
            let name = job.material_name(need.material);
            format!("{} {name}", units.amount(need.order))
        });
        let parts: Vec<String> = parts.collect();
        if parts.len() < 2 {
            return layer.name.to_string();
        }
        format!("{} ({})", layer.name, parts.join(", "))
    }

    /// Barrow loads of what is wheeled from a heap; packs of what comes in packs.
    fn barrows(&self, place: u16) -> String {
        let words = self.of_layer(place).filter_map(|need| {
            let Amount::Volume(volume) = need.order else {
                return None;
            };
            self.wheeled(need.material, volume)
        });
        let words: Vec<String> = words.collect();
        words.join(" + ")
    }

    fn wheeled(&self, material: MaterialId, volume: Volume) -> Option<String> {
        let estimate = self.estimate;
        let barrow = estimate.labour.barrow?;
        let in_packs = |line: &OrderLine| {
            let offer = line
                .offer
                .and_then(|id| estimate.job.offers.get(id.index()));
            line.material == material && offer.is_some_and(|o| o.handover == Handover::Packed)
        };
        if estimate.bought.lines.iter().any(in_packs) {
            return Some("in packs".to_owned());
        }
        let density = estimate.job.material(material)?.delivered.as_ref();
        let loads = barrow.loads(volume, density.map(|d| d.value));
        let word = if loads == Decimal::ONE {
            "barrow"
        } else {
            "barrows"
        };
        Some(format!("{} {word}", plain(loads, 0)))
    }

    fn pieces(&self) -> Vec<PieceRow> {
        let job = &self.estimate.job;
        let units = job.settings.units.value;
        let rows = self.takeoff.pieces.iter().map(|piece| PieceRow {
            count: piece.count.to_string(),
            length: units.length(piece.length),
            mark: piece.mark.to_string(),
            material: job.material_name(piece.material).to_owned(),
            sides: sides(piece),
        });
        let sheets = self.takeoff.sheet_pieces.iter().map(|piece| PieceRow {
            count: piece.count.to_string(),
            length: format!(
                "{} x {}",
                units.length(piece.length),
                units.length(piece.width)
            ),
            mark: piece.mark.to_string(),
            material: job.material_name(piece.material).to_owned(),
            sides: String::new(),
        });
        rows.chain(sheets).collect()
    }

    /// What the take-off says of the walls, then the fill.
    fn steps(&self) -> Vec<String> {
        let units = self.estimate.job.settings.units.value;
        let mut steps = self.takeoff.crew_notes.clone();
        let mut up = Length::ZERO;
        for layer in &self.takeoff.layers {
            up += layer.depth;
            steps.push(match layer.sheets {
                0 => format!("Fill {} up to the mark at {}", layer.name, units.depth(up)),
                1 => format!("Lay 1 sheet of {}", layer.name),
                n => format!("Lay {n} sheets of {}", layer.name),
            });
        }
        let is_wetted = |layer: &LayerTakeOff| {
            matches!(
                layer.category,
                Category::Soil | Category::Compost | Category::Medium
            )
        };
        if self.takeoff.layers.iter().any(is_wetted) {
            steps.push("Wet the fill down, let it settle, rake it level".to_owned());
        }
        steps
    }

    /// Tasks with their hours for one bed and for all, and the hours of one bed together.
    fn tasks(&self) -> (Vec<TaskRow>, Decimal) {
        let mut together = Decimal::ZERO;
        let lines = self.estimate.labour.lines.iter();
        let rows = lines.filter_map(|line| {
            let (_, one) = line.measures.iter().find(|(kind, _)| *kind == self.id)?;
            if one.is_zero() {
                return None;
            }
            together = together.saturating_add(*one);
            let top_up = if line.moment == Moment::TopUp {
                ", top-up visit"
            } else {
                ""
            };
            Some(TaskRow {
                name: format!("{}{top_up}", line.name),
                hours: self.both(*one),
            })
        });
        (rows.collect(), together)
    }

    /// Hours of one bed, and of all where there are several: `0.25, 1 h`.
    fn both(&self, one: Decimal) -> String {
        if self.kind.count == Decimal::ONE {
            return hours(one);
        }
        let all = hours(one.saturating_mul(self.kind.count));
        format!("{}, {all}", plain(one, 2))
    }

    /// Those that name one of the beds of this page.
    fn cautions(&self) -> Vec<String> {
        let names = self.names();
        let told = cautions(self.estimate).filter(|problem| {
            let about = problem.caution.iter().flat_map(|concern| &concern.about);
            about.into_iter().any(|name| names.contains(&&**name))
        });
        told.map(|problem| problem.sentence.clone()).collect()
    }
}

/// `sides 1, 3`.
fn sides(piece: &Piece) -> String {
    let mut sides: Vec<u16> = piece.places.iter().map(|place| place.side).collect();
    sides.sort_unstable();
    sides.dedup();
    let words: Vec<String> = sides.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => format!("side {one}"),
        _ => format!("sides {}", words.join(", ")),
    }
}
