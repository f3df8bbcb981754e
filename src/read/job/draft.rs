//! The job while it is being read: its lists so far, their names, and everything to tell.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::reading::Reading;
use super::resolve::Names;
use super::sticks::OnHand;
use crate::model::bed::Bed;
use crate::model::drip::Drip;
use crate::model::fill::{Fill, Mix};
use crate::model::frame::Frame;
use crate::model::funding::Funding;
use crate::model::ground::{Area, GroundWork};
use crate::model::job::{CutRow, PhaseId, Site};
use crate::model::known::Known;
use crate::model::labour::{Equipment, Extra, Task, Worker};
use crate::model::library::Library;
use crate::model::material::Material;
use crate::model::offer::{Offer, Supplier, Vehicle};
use crate::model::price_list::ToReview;
use crate::model::quote::Payment;
use crate::model::source::RowAt;
use crate::model::spread::Spread;
use crate::problem::{Problem, Severity};
use crate::units::{Length, System};

/// Lists that grow sheet by sheet.
pub(super) struct Draft<'a> {
    pub(super) library: &'a Library,
    pub(super) system: System,
    /// Whether the job deals with tax, so that an empty `Taxable` matters.
    pub(super) taxed: bool,
    pub(super) problems: Vec<Problem>,
    /// Notices told so far, with their place among the problems and how many rows gave them.
    told: BTreeMap<String, (usize, u32)>,
    /// Whether it has been said that the beds have no `Frame` column.
    pub(super) frames_asked_for: bool,
    pub(super) sites: Vec<Site>,
    pub(super) site_names: Names,
    /// Whether the job has a `Sites` sheet with rows.
    pub(super) sites_given: bool,
    /// The site of beds that name none, once there is one.
    pub(super) unnamed_site: Option<usize>,
    pub(super) phases: Vec<Arc<str>>,
    pub(super) phase_names: Names,
    pub(super) workers: Vec<Worker>,
    pub(super) worker_names: Names,
    pub(super) materials: Vec<Material>,
    pub(super) material_names: Names,
    /// Places of materials by the key of the library's material that they are.
    pub(super) library_places: BTreeMap<Arc<str>, usize>,
    /// Places of materials that a frame, fill, mix or amendment uses.
    pub(super) used: BTreeSet<usize>,
    /// Folded names of everything that `Prices` sells.
    pub(super) priced: BTreeSet<String>,
    pub(super) mixes: Vec<Mix>,
    pub(super) mix_names: Names,
    pub(super) fills: Vec<Fill>,
    pub(super) fill_names: Names,
    pub(super) frames: Vec<Frame>,
    pub(super) frame_names: Names,
    /// Height of each frame's unit, for ready-made beds that give none themselves.
    pub(super) unit_heights: Vec<Option<Length>>,
    pub(super) beds: Vec<Bed>,
    pub(super) bed_names: Names,
    /// Cells that name walls in common, until all beds are read.
    pub(super) joins: Vec<super::joins::Said>,
    pub(super) areas: Vec<Area>,
    pub(super) area_names: Names,
    /// What is done to the ground where neither bed nor site says it.
    pub(super) ground_work: Known<GroundWork>,
    pub(super) suppliers: Vec<Supplier>,
    pub(super) supplier_names: Names,
    pub(super) offers: Vec<Offer>,
    pub(super) vehicles: Vec<Vehicle>,
    pub(super) tasks: Vec<Task>,
    pub(super) equipment: Vec<Equipment>,
    pub(super) extras: Vec<Extra>,
    pub(super) pieces: Vec<CutRow>,
    pub(super) payments: Vec<Payment>,
    pub(super) funding: Funding,
    pub(super) drips: Vec<Drip>,
    /// Sticks that are there already.
    pub(super) on_hand: Vec<OnHand>,
    /// Rows of suppliers' lists that wait for the user.
    pub(super) to_review: Vec<ToReview>,
    /// How far figures may lie from what is typed.
    pub(super) spreads: BTreeMap<RowAt, Spread>,
}

impl<'a> Draft<'a> {
    /// An empty job.
    pub(super) fn new(library: &'a Library, system: System) -> Self {
        Self {
            library,
            system,
            taxed: false,
            problems: Vec::new(),
            told: BTreeMap::new(),
            frames_asked_for: false,
            sites: Vec::new(),
            site_names: Names::default(),
            sites_given: false,
            unnamed_site: None,
            phases: Vec::new(),
            phase_names: Names::default(),
            workers: Vec::new(),
            worker_names: Names::default(),
            materials: Vec::new(),
            material_names: Names::default(),
            library_places: BTreeMap::new(),
            used: BTreeSet::new(),
            priced: BTreeSet::new(),
            mixes: Vec::new(),
            mix_names: Names::default(),
            fills: Vec::new(),
            fill_names: Names::default(),
            frames: Vec::new(),
            frame_names: Names::default(),
            unit_heights: Vec::new(),
            beds: Vec::new(),
            bed_names: Names::default(),
            joins: Vec::new(),
            areas: Vec::new(),
            area_names: Names::default(),
            ground_work: Known::assumed(GroundWork::Leave, "not set, taken as leave"),
            suppliers: Vec::new(),
            supplier_names: Names::default(),
            offers: Vec::new(),
            vehicles: Vec::new(),
            tasks: Vec::new(),
            equipment: Vec::new(),
            extras: Vec::new(),
            pieces: Vec::new(),
            payments: Vec::new(),
            funding: Funding::default(),
            drips: Vec::new(),
            on_hand: Vec::new(),
            to_review: Vec::new(),
            spreads: BTreeMap::new(),
        }
    }

    /// Takes over what a row had to tell. A notice that an earlier row gave in the same words is
    /// counted there instead of being told again.
    pub(super) fn hear(&mut self, reading: Reading<'_, '_>) {
        for problem in reading.problems {
            if problem.severity == Severity::Notice
                && let Some((_, times)) = self.told.get_mut(&problem.sentence)
            {
                *times = times.saturating_add(1);
                continue;
            }
            if problem.severity == Severity::Notice {
                let place = self.problems.len();
                self.told.insert(problem.sentence.clone(), (place, 1));
            }
            self.problems.push(problem);
        }
    }

    /// Everything to tell, repeated notices with the number of their rows.
    pub(super) fn take_problems(&mut self) -> Vec<Problem> {
        for (place, times) in std::mem::take(&mut self.told).into_values() {
            if times > 1
                && let Some(problem) = self.problems.get_mut(place)
            {
                problem.sentence = format!("{} ({times} rows)", problem.sentence);
            }
        }
        std::mem::take(&mut self.problems)
    }

    /// The phase of a name, made when it is new; a bed that names none is in phase `1`.
    pub(super) fn phase(&mut self, name: Option<Arc<str>>) -> PhaseId {
        let name = name.unwrap_or_else(|| Arc::from("1"));
        if self.phase_names.add(&name, self.phases.len()) {
            self.phases.push(name);
            return PhaseId::of(self.phases.len().saturating_sub(1));
        }
        match self.phase_names.find(&name) {
            super::resolve::Found::Is(place) => PhaseId::of(place),
            _ => PhaseId::of(0),
        }
    }

    /// The first phase, made when there is none.
    pub(super) fn any_phase(&mut self) -> PhaseId {
        if self.phases.is_empty() {
            return self.phase(None);
        }
        PhaseId::of(0)
    }
}

/// The typical value of a single figure of the library, made into a quantity.
pub(super) fn figure<T>(
    library: &Library,
    key: &'static str,
    make: impl FnOnce(Decimal) -> T,
) -> Known<T> {
    let value = make(library.typical(key));
    Known::library(value, "figures", Arc::from(key), "typical")
}
