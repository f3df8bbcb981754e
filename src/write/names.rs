//! Names in place of ids, and the words for kinds of things that outputs share.

use crate::model::job::{Job, PhaseId, SiteId};
use crate::model::labour::WorkerId;
pub use crate::model::naming::by_name;
use crate::model::offer::{Offer, OfferId, SupplierId, VehicleId};
use crate::takeoff::{Moment, Part};

/// Looks up names in a job. Ids come from the job itself; a miss would be a mistake of ours and reads as `?`.
#[derive(Clone, Copy, Debug)]
pub struct Names<'a>(pub &'a Job);

const UNKNOWN: &str = "?";

impl<'a> Names<'a> {
    /// A site.
    pub fn site(self, id: SiteId) -> &'a str {
        let site = self.0.sites.get(id.index());
        site.map_or(UNKNOWN, |s| &s.name)
    }

    /// A phase.
    pub fn phase(self, id: PhaseId) -> &'a str {
        self.0.phases.get(id.index()).map_or(UNKNOWN, |p| p)
    }

    /// A supplier.
    pub fn supplier(self, id: SupplierId) -> &'a str {
        let supplier = self.0.suppliers.get(id.index());
        supplier.map_or(UNKNOWN, |s| &s.name)
    }

    /// A vehicle.
    pub fn vehicle(self, id: VehicleId) -> &'a str {
        let vehicle = self.0.vehicles.get(id.index());
        vehicle.map_or(UNKNOWN, |v| &v.name)
    }

    /// A worker.
    pub fn worker(self, id: WorkerId) -> &'a str {
        let worker = self.0.workers.get(id.index());
        worker.map_or(UNKNOWN, |w| &w.name)
    }

    /// A price row.
    pub fn offer(self, id: OfferId) -> Option<&'a Offer> {
        self.0.offers.get(id.index())
    }

    /// The site of a drop, and the phase where the job has several: `North yard, spring`.
    pub fn drop(self, site: SiteId, phase: PhaseId) -> String {
        match (self.0.sites.len() > 1, self.0.phases.len() > 1) {
            (true, true) => format!("{}, {}", self.site(site), self.phase(phase)),
            (true, false) => self.site(site).to_owned(),
            (false, true) => self.phase(phase).to_owned(),
            (false, false) => String::new(),
        }
    }
}

/// The word for what a need is for, without its place in the file.
pub const fn part_word(part: Part) -> &'static str {
    match part {
        Part::Board => "wall boards",
        Part::Timber => "wall timbers",
        Part::Stone => "wall stone",
        Part::Hearting => "hearting",
        Part::Mortar => "mortar",
        Part::WallBase => "base of the wall",
        Part::Panel => "wall panels",
        Part::Rail => "rails",
        Part::Post => "posts",
        Part::CornerTrim => "corner trim",
        Part::CornerPiece => "corner pieces",
        Part::Cap => "caps",
        Part::Brace => "braces",
        Part::Fastener => "fasteners",
        Part::Liner => "wall liner",
        Part::Mesh => "mesh below",
        Part::Finish => "finish",
        Part::EndTreatment => "end treatment",
        Part::Block => "wall blocks",
        Part::HalfBlock => "half blocks",
        Part::CoreFill => "filling of cells",
        Part::Bar => "bars",
        Part::Adhesive => "adhesive",
        Part::ReadyMade => "ready-made bed",
        Part::GroundCover => "ground cover",
        Part::Surface => "surface",
        Part::Under => "fabric below",
        Part::Edging => "edging",
        Part::Spoil => "spoil",
        Part::Layer(_) => "fill layer",
        Part::Amendment(_) => "amendment",
        Part::TopUp => "top-up",
        Part::Watering => "watering",
    }
}

/// The word for a moment.
pub const fn moment_word(moment: Moment) -> &'static str {
    match moment {
        Moment::Build => "build",
        Moment::TopUp => "top-up",
    }
}
