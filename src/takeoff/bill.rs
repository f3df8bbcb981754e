//! What is gathered while one bed or one area is taken off.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::shared::Shared;
use super::{Moment, Need, Part, Piece, SheetPiece};
use crate::model::bed::Bed;
use crate::model::frame::Frame;
use crate::model::job::Job;
use crate::model::known::From;
use crate::model::labour::Driver;
use crate::model::material::{Material, MaterialId};
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::units::{Amount, Area, Density, Length, System, Volume, Weight};

/// The gathered needs, pieces, work and problems of one bed; of one area, which is no bed, with `()`.
pub(super) struct Bill<'a, B = &'a Bed> {
    pub(super) job: &'a Job,
    pub(super) bed: B,
    /// The row of the bed or area.
    pub(super) at: RowAt,
    pub(super) units: System,
    pub(super) needs: Vec<Need>,
    pieces: Vec<Piece>,
    pub(super) sheet_pieces: Vec<SheetPiece>,
    work: Vec<(Driver, Decimal)>,
    pub(super) hauled: Vec<(MaterialId, Volume)>,
    pub(super) wall_weight: Weight,
    pub(super) crew_notes: Vec<String>,
    pub(super) problems: Vec<Problem>,
    /// What its walls leave to the beds beside it.
    pub(super) shared: Shared,
}

impl<'a> Bill<'a> {
    pub(super) fn new(job: &'a Job, bed: &'a Bed) -> Self {
        Self::of(job, bed, bed.at)
    }
}

impl<'a, B> Bill<'a, B> {
    /// An empty bill of a row.
    pub(super) fn of(job: &'a Job, bed: B, at: RowAt) -> Self {
        Self {
            job,
            bed,
            at,
            units: job.settings.units.value,
            needs: Vec::new(),
            pieces: Vec::new(),
            sheet_pieces: Vec::new(),
            work: Vec::new(),
            hauled: Vec::new(),
            wall_weight: Weight::ZERO,
            crew_notes: Vec::new(),
            problems: Vec::new(),
            shared: Shared::default(),
        }
    }

    /// Tells about a cell of the row.
    pub(super) fn tell(&mut self, problem: Problem, field: &'static str) {
        self.problems.push(problem.at(self.at, field));
    }

    /// Tells about a cell of the frame's row, or of the bed's when the frame is the library's.
    pub(super) fn tell_frame(&mut self, frame: &Frame, problem: Problem, field: &'static str) {
        self.problems.push(match frame.at {
            Some(row) => problem.at(row, field),
            None => problem.at(self.at, "Frame"),
        });
    }

    /// Tells about the cell that a value came from, or about a cell of the bed when it came from none.
    pub(super) fn tell_from(&mut self, from: &From, problem: Problem, otherwise: &'static str) {
        self.problems.push(match from {
            From::Job(row, field) => problem.at(*row, field),
            _ => problem.at(self.at, otherwise),
        });
    }

    /// A material by its id; a miss is a mistake of ours and is told as one.
    pub(super) fn material(&mut self, id: MaterialId) -> Option<&'a Material> {
        let found = self.job.material(id);
        if found.is_none() {
            self.tell(
                Problem::bug(format!("no material has the number {}", id.0)),
                "Frame",
            );
        }
        found
    }

    /// `1 + waste` of a material.
    pub(super) fn with_waste(&self, id: MaterialId) -> Decimal {
        let waste = self
            .job
            .material(id)
            .map_or(Decimal::ZERO, |m| m.waste.value);
        Decimal::ONE.saturating_add(waste)
    }

    /// Something needed on the building day; nothing is needed of nothing.
    pub(super) fn need(&mut self, material: MaterialId, part: Part, net: Amount, order: Amount) {
        self.need_at(Moment::Build, material, part, net, order);
    }

    pub(super) fn need_at(
        &mut self,
        moment: Moment,
        material: MaterialId,
        part: Part,
        net: Amount,
        order: Amount,
    ) {
        if !order.base().is_zero() {
            self.needs.push(Need {
                material,
                part,
                moment,
                net,
                order,
            });
        }
    }

    /// Lengths to cut. Equal ones with one mark are counted together.
    pub(super) fn cut(&mut self, material: MaterialId, length: Length, mark: &str, count: u32) {
        let length = length.tidy();
        if count == 0 || length <= Length::ZERO {
            return;
        }
        let alike =
            |p: &&mut Piece| p.material == material && p.length == length && &*p.mark == mark;
        match self.pieces.iter_mut().find(alike) {
            Some(piece) => piece.count = piece.count.saturating_add(count),
            None => self.pieces.push(Piece {
                material,
                length,
                count,
                mark: Arc::from(mark),
            }),
        }
    }

    /// Rectangles to cut from sheets, `length` along their ribs. Equal ones with one mark are counted together.
    pub(super) fn cut_sheet(&mut self, piece: SheetPiece) {
        let piece = SheetPiece {
            length: piece.length.tidy(),
            width: piece.width.tidy(),
            ..piece
        };
        if piece.count == 0 || piece.length <= Length::ZERO || piece.width <= Length::ZERO {
            return;
        }
        let alike = |p: &&mut SheetPiece| {
            p.material == piece.material
                && (p.length, p.width) == (piece.length, piece.width)
                && p.mark == piece.mark
        };
        match self.sheet_pieces.iter_mut().find(alike) {
            Some(known) => known.count = known.count.saturating_add(piece.count),
            None => self.sheet_pieces.push(piece),
        }
    }

    /// Summed length of all pieces of a material with one of the marks.
    pub(super) fn length_of(&self, material: MaterialId, marks: &[&str]) -> Length {
        let wanted = |p: &&Piece| p.material == material && marks.contains(&&*p.mark);
        let pieces = self.pieces.iter().filter(wanted);
        pieces.map(|p| p.length.times(Decimal::from(p.count))).sum()
    }

    /// Summed length of all pieces of a material.
    pub(super) fn length_in(&self, material: MaterialId) -> Length {
        let pieces = self.pieces.iter().filter(|p| p.material == material);
        pieces.map(|p| p.length.times(Decimal::from(p.count))).sum()
    }

    /// How many pieces there are with one of the marks.
    pub(super) fn count_of(&self, marks: &[&str]) -> u32 {
        let pieces = self.pieces.iter().filter(|p| marks.contains(&&*p.mark));
        pieces.fold(0, |sum, p| sum.saturating_add(p.count))
    }

    /// The pieces with one of the marks as a sum: `4 x 8' + 4 x 3' 9"`.
    pub(super) fn terms(&self, marks: &[&str]) -> String {
        let pieces = self.pieces.iter().filter(|p| marks.contains(&&*p.mark));
        let terms = pieces.map(|p| format!("{} x {}", p.count, self.units.length(p.length)));
        terms.collect::<Vec<_>>().join(" + ")
    }

    /// How many pieces there are in all.
    pub(super) fn count(&self) -> u32 {
        self.pieces
            .iter()
            .fold(0, |sum, p| sum.saturating_add(p.count))
    }

    /// Something to do, in base units of the driver.
    pub(super) fn work(&mut self, driver: Driver, quantity: Decimal) {
        if quantity.is_zero() {
            return;
        }
        match self.work.iter_mut().find(|(d, _)| *d == driver) {
            Some((_, sum)) => *sum = sum.saturating_add(quantity),
            None => self.work.push((driver, quantity)),
        }
    }

    /// How much there is of a driver so far, in its base units.
    pub(super) fn worked(&self, driver: Driver) -> Decimal {
        let found = self.work.iter().find(|(d, _)| *d == driver);
        found.map_or(Decimal::ZERO, |(_, sum)| *sum)
    }

    /// Undisturbed ground that leaves its place and is wheeled away loose; what carries it off
    /// the site is ordered when all of it is known.
    pub(super) fn spoil(&mut self, ground: Volume) {
        self.work(Driver::SpoilVolume, ground.in_cubic_metres());
        if let Some(spoil) = self.job.spoil {
            self.haul(spoil, self.loosened(ground));
        }
    }

    /// The volume of ground once it is dug.
    pub(super) fn loosened(&self, ground: Volume) -> Volume {
        let swell = self.job.settings.ground.swell.value;
        ground.times(Decimal::ONE.saturating_add(swell))
    }

    /// A step of the crew, after those that were noted before.
    pub(super) fn note(&mut self, step: impl Into<String>) {
        self.crew_notes.push(step.into());
    }

    /// Something built into the walls.
    pub(super) fn weighs(&mut self, weight: Weight) {
        self.wall_weight += weight;
    }

    /// How many pieces there are of each material, in the order met.
    pub(super) fn counts(&self) -> Vec<(MaterialId, u32)> {
        let mut counts: Vec<(MaterialId, u32)> = Vec::new();
        for piece in &self.pieces {
            match counts.iter_mut().find(|(m, _)| *m == piece.material) {
                Some((_, count)) => *count = count.saturating_add(piece.count),
                None => counts.push((piece.material, piece.count)),
            }
        }
        counts
    }

    /// What covers an area: by volume when the material says how far it reaches, else by area.
    pub(super) fn spread(&self, material: MaterialId, area: Area) -> Amount {
        let coverage = self
            .job
            .material(material)
            .and_then(|m| m.coverage.as_ref())
            .map(|c| c.value)
            .filter(|c| *c > Decimal::ZERO);
        match coverage {
            Some(per_volume) => {
                let volume = area.in_square_metres().checked_div(per_volume);
                Amount::Volume(Volume::cubic_metres(volume.unwrap_or_default()))
            }
            None => Amount::Area(area),
        }
    }

    /// Pieces that are bought and placed whole, with waste in what is ordered, and their weight where the
    /// material says it.
    pub(super) fn need_whole(&mut self, material: MaterialId, part: Part, number: Decimal) {
        let order = number.saturating_mul(self.with_waste(material));
        self.need(material, part, Amount::Count(number), Amount::Count(order));
        let weight = self
            .material(material)
            .and_then(|m| m.panel.weight.as_ref());
        if let Some(weight) = weight {
            self.weighs(weight.value.times(number));
        }
    }

    /// Counts the weight of all pieces whose section and density are known; `otherwise` is that of
    /// lumber whose material does not say it.
    pub(super) fn weigh_pieces(&mut self, otherwise: Option<Density>) {
        let weight = |piece: &Piece| {
            let material = self.job.material(piece.material)?;
            let section = &material.section.as_ref()?.value;
            let density = material.delivered.as_ref().map(|d| d.value).or(otherwise)?;
            let length = piece.length.times(Decimal::from(piece.count));
            Some(density.weigh((section.face * section.thickness).filled_to(length)))
        };
        let all: Weight = self.pieces.iter().filter_map(weight).sum();
        self.weighs(all);
    }

    /// Loose goods that come from the tipping place.
    pub(super) fn haul(&mut self, material: MaterialId, volume: Volume) {
        if volume.is_zero() {
            return;
        }
        match self.hauled.iter_mut().find(|(m, _)| *m == material) {
            Some((_, sum)) => *sum += volume,
            None => self.hauled.push((material, volume)),
        }
    }

    /// The pieces by material name, longest first, and the work by driver.
    pub(super) fn sorted(&mut self) -> (Vec<Piece>, Vec<(Driver, Decimal)>) {
        let mut pieces = std::mem::take(&mut self.pieces);
        let job = self.job;
        let name = |p: &Piece| job.material_name(p.material);
        pieces.sort_by(|a, b| {
            name(a)
                .cmp(name(b))
                .then(b.length.cmp(&a.length))
                .then(a.mark.cmp(&b.mark))
        });
        let mut work = std::mem::take(&mut self.work);
        work.sort_by_key(|(driver, _)| *driver);
        (pieces, work)
    }
}
