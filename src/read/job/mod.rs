//! From rows to a job: every sheet read, every name resolved, every figure with its origin.
//!
//! All problems are told in one run. A wrong row is left out after it has been reported, and
//! what points at it is not reported again.

mod alternates;
mod amendments;
mod areas;
mod beds;
mod block;
mod by_measure;
mod calendar;
mod deliveries;
mod draft;
mod drivers;
mod equipment;
mod extras;
mod fills;
mod foreign_words;
mod frames;
mod funding;
mod good_part;
mod ground;
mod irrigation;
mod joins;
mod keyhole;
mod labour;
mod lists;
mod materials;
mod measure_words;
mod measured;
mod measures;
mod outline;
mod packs;
mod panel_size;
mod payments;
mod pieces;
mod prices;
mod quote;
mod reading;
mod resolve;
mod roles;
mod section;
mod setting_words;
mod settings;
mod shapes;
mod sites;
mod spreads;
mod sticks;
mod strangers;
#[cfg(test)]
mod tests;
mod unused;
mod workers;

use std::path::{Path, PathBuf};

use super::lists::List;
use super::open::{Opened, Source, open};
use crate::model::alternate::Alternate;
use crate::model::choices::Choice;
use crate::model::job::Job;
use crate::model::library::Library;
use crate::model::material::MaterialId;
use crate::model::settings::{Settings, TaxMode};
use crate::model::sheet::Sheet;
use crate::model::source::Sources;
use crate::problem::{Problem, Staged};
use crate::units::System;
use crate::units::parse::Commas;
use draft::Draft;

pub use good_part::read_good_part;

/// A job and the tables that it was read from.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The job, as complete as its rows allowed.
    pub job: Job,
    /// The tables, for places and for showing what a cell holds.
    pub sources: Sources,
    /// What was chosen, when the job is an estimate of this program.
    pub choices: Option<Vec<Choice>>,
    /// The same job with the changes of each alternate.
    pub alternates: Vec<Alternate>,
}

/// Reads a job. `None` only when the source could not be opened; with errors among the problems
/// the job is incomplete and must not be priced.
pub fn read_job(source: &Source, library: &Library) -> Staged<Option<Loaded>> {
    let mut problems = Vec::new();
    let Some(mut opened) = open(source).keep(&mut problems) else {
        return Staged {
            output: None,
            problems,
        };
    };
    let lists = super::lists::open(&opened, &folder_of(source), &mut problems);
    let has_alternates = opened
        .sources
        .of(Sheet::Alternates)
        .any(|(_, t)| !t.rows.is_empty());
    let as_opened = has_alternates.then(|| opened.clone());
    let job = build(&mut opened, lists, library, source, &mut problems);
    let alternates = as_opened.map_or_else(Vec::new, |as_opened| {
        alternates::read(&as_opened, (library, source), &mut problems)
    });
    Staged {
        output: Some(Loaded {
            job,
            sources: opened.sources,
            choices: opened.choices,
            alternates,
        }),
        problems,
    }
}

fn build(
    opened: &mut Opened,
    lists: Vec<List>,
    library: &Library,
    source: &Source,
    problems: &mut Vec<Problem>,
) -> Job {
    let mut settings = settings::settings(opened, library, &fallback_name(source), problems);
    let mut draft = Draft::new(library, settings.units.value);
    draft.sites_given = opened
        .sources
        .of(Sheet::Sites)
        .any(|(_, t)| !t.rows.is_empty());
    draft.ground_work = settings.ground.work.clone();
    draft.taxed = settings.tax_mode.value != TaxMode::None;
    prices::note_priced(&mut draft, opened, &lists);
    sites::read(&mut draft, opened);
    workers::read(&mut draft, opened);
    materials::read(&mut draft, opened);
    fills::read_mixes(&mut draft, opened);
    fills::read_fills(&mut draft, opened);
    frames::read(&mut draft, opened);
    beds::read(&mut draft, opened);
    areas::read(&mut draft, opened);
    amendments::read(&mut draft, opened);
    pieces::read(&mut draft, opened);
    irrigation::read(&mut draft, opened);
    prices::read_suppliers(&mut draft, opened);
    draft.to_review = lists::take(&mut draft, opened, lists);
    prices::read_prices(&mut draft, opened);
    sticks::offer_all(&mut draft);
    deliveries::read(&mut draft, opened);
    labour::read(&mut draft, opened);
    equipment::read(&mut draft, opened);
    extras::read(&mut draft, opened);
    payments::read(&mut draft, opened);
    funding::read(&mut draft, opened, settings.budgeting.form());
    let goods = ground::goods(&mut draft, &mut settings.ground);
    problems.append(&mut draft.take_problems());
    problems.extend(unused::notices(opened));
    finished(draft, (settings, goods), opened, problems)
}

fn finished(
    mut draft: Draft<'_>,
    (settings, [spoil, ground_cover]): (Settings, [Option<MaterialId>; 2]),
    opened: &Opened,
    problems: &mut Vec<Problem>,
) -> Job {
    let has_sheet = |sheet| opened.sources.of(sheet).next().is_some();
    if draft.bed_names.is_empty() && !has_sheet(Sheet::Beds) && !has_sheet(Sheet::Pieces) {
        let hint = "name a sheet or a file Beds, with columns Bed, Size, Frame and Fill";
        problems.push(Problem::error("there are no beds").hint(hint));
    }
    if draft.sites.is_empty() {
        sites::unnamed_site(&mut draft);
        problems.append(&mut draft.take_problems());
    }
    if draft.phases.is_empty() {
        draft.phase(None);
    }
    Job {
        settings,
        sites: draft.sites,
        phases: draft.phases,
        beds: draft.beds,
        areas: draft.areas,
        frames: draft.frames,
        fills: draft.fills,
        mixes: draft.mixes,
        materials: draft.materials,
        spoil,
        ground_cover,
        suppliers: draft.suppliers,
        offers: draft.offers,
        vehicles: draft.vehicles,
        tasks: draft.tasks,
        workers: draft.workers,
        equipment: draft.equipment,
        extras: draft.extras,
        pieces: draft.pieces,
        payments: draft.payments,
        funding: draft.funding,
        drips: draft.drips,
        to_review: draft.to_review,
        spreads: draft.spreads,
        sheets_used: sheets_used(opened),
        left_out: Vec::new(),
    }
}

fn sheets_used(opened: &Opened) -> Vec<Sheet> {
    let filled = |sheet: Sheet| opened.sources.of(sheet).any(|(_, t)| !t.rows.is_empty());
    Sheet::ALL.into_iter().filter(|s| filled(*s)).collect()
}

/// What commas in numbers are by the word of the setting `Decimal mark`.
pub(super) fn decimal_mark(word: &str) -> Option<Commas> {
    reading::meaning_in("Value", word, setting_words::DECIMAL_MARKS)
}

/// The system of units by the word of the setting `Units`.
pub(super) fn system_of(word: &str) -> Option<System> {
    reading::meaning_in("Value", word, setting_words::SYSTEMS)
}

/// The folder in which files that the job names are looked for: the job's own.
fn folder_of(source: &Source) -> PathBuf {
    match source {
        Source::Path(path) if path.is_dir() => path.clone(),
        Source::Path(path) | Source::Files { beds: path, .. } => {
            path.parent().map(Path::to_owned).unwrap_or_default()
        }
        Source::Text { .. } => PathBuf::new(),
    }
}

/// What the job is called when it does not say: its file or folder.
fn fallback_name(source: &Source) -> String {
    let stem = |path: &Path| {
        let named = if path.is_dir() {
            path.file_name()
        } else {
            path.file_stem()
        };
        named.map_or_else(|| "Job".to_owned(), |n| n.to_string_lossy().into_owned())
    };
    match source {
        Source::Path(path) | Source::Files { beds: path, .. } => stem(path),
        Source::Text { .. } => "Job".to_owned(),
    }
}
