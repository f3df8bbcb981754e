//! The price of what is good in a job: beds that cannot be built as typed and prices that cannot be used
//! are left out whole, and everything is worked out as if they had never been there.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::estimate;
use crate::model::bed::BedId;
use crate::model::job::{Job, LeftOut};
use crate::model::library::Library;
use crate::model::sheet::Sheet;
use crate::model::source::{RowAt, Sources};
use crate::price::Estimate;
use crate::problem::{Problem, Severity, Staged};

/// Rounds in which prices are left out: one that goes can show what is wrong with another.
const MOST_ROUNDS: usize = 8;

/// As [`super::estimate`], without the beds and prices in which it would find errors. These errors are
/// among the problems, and what is left out is in [`Job::left_out`]. `None` when something else is
/// wrong, or nothing is left.
pub fn estimate_good_part(
    mut job: Job,
    sources: &Sources,
    library: &Library,
    date: Date,
) -> Staged<Option<Estimate>> {
    let mut told = leave_beds(&mut job, sources);
    for _ in 0..MOST_ROUNDS {
        if job.beds.is_empty() && job.pieces.is_empty() {
            told.push(Problem::error(
                "no bed and no piece is left that could be priced",
            ));
            break;
        }
        let mut staged = estimate(job.clone(), sources.clone(), library, date, None);
        if staged.output.is_some() {
            told.append(&mut staged.problems);
            return Staged {
                output: staged.output,
                problems: told,
            };
        }
        let errors = staged
            .problems
            .into_iter()
            .filter(|p| p.severity == Severity::Error);
        let errors: Vec<Problem> = errors.collect();
        let is_settled =
            !errors.is_empty() && errors.iter().all(|e| leave_price(&mut job, sources, e));
        told.extend(errors);
        if !is_settled {
            break;
        }
    }
    Staged {
        output: None,
        problems: told,
    }
}

/// Leaves out the beds of every kind whose take-off has an error; what was wrong.
fn leave_beds(job: &mut Job, sources: &Sources) -> Vec<Problem> {
    let kinds = crate::takeoff::kinds(job);
    let takeoffs = crate::takeoff::take_off_all(job, &kinds);
    let mut told = Vec::new();
    let mut gone: BTreeSet<RowAt> = BTreeSet::new();
    for (kind, takeoff) in kinds.kinds.iter().zip(&takeoffs) {
        let errors = takeoff
            .problems
            .iter()
            .filter(|p| p.severity == Severity::Error);
        let errors: Vec<&Problem> = errors.collect();
        if errors.is_empty() {
            continue;
        }
        for bed in kind.beds.iter().filter_map(|id| job.beds.get(id.index())) {
            gone.insert(bed.at);
            let why = errors.iter().map(|e| e.sentence.clone()).collect();
            job.left_out.push(LeftOut {
                at: bed.at,
                sheet: Sheet::Beds,
                name: bed.name.to_string(),
                why,
            });
        }
        told.extend(errors.into_iter().cloned());
    }
    take_out(job, &gone);
    job.left_out
        .sort_by_key(|left| (sources.sheet_of(left.at), left.at));
    told
}

/// Takes beds out of a job by their rows: pieces that are cut for them go too and are told in
/// [`Job::left_out`], and neighbours build the walls that they shared.
pub(in crate::price) fn take_out(job: &mut Job, gone: &BTreeSet<RowAt>) {
    let places = places_left(job, gone);
    leave_pieces(job, &places);
    leave_joins(job, &places);
    job.beds.retain(|bed| !gone.contains(&bed.at));
}

/// The place that each bed will have when those in `gone` are out; `None` for those.
fn places_left(job: &Job, gone: &BTreeSet<RowAt>) -> Vec<Option<BedId>> {
    let mut staying = (0..).map(BedId::of);
    let beds = job.beds.iter();
    beds.map(|bed| (!gone.contains(&bed.at)).then(|| staying.next())?)
        .collect()
}

/// A bed whose neighbour goes builds the wall that they shared; other joins follow their beds to new places.
fn leave_joins(job: &mut Job, places: &[Option<BedId>]) {
    for bed in &mut job.beds {
        bed.joins.retain_mut(|join| {
            let place = places.get(join.with.index()).copied().flatten();
            join.with = place.unwrap_or(join.with);
            place.is_some()
        });
    }
}

/// Leaves out what is cut for beds that are about to go; other pieces follow their beds to new places.
fn leave_pieces(job: &mut Job, places: &[Option<BedId>]) {
    for mut piece in std::mem::take(&mut job.pieces) {
        if let Some(bed) = piece.bed {
            piece.bed = places.get(bed.index()).copied().flatten();
            if piece.bed.is_none() {
                let name = job.beds.get(bed.index()).map_or("its bed", |b| &*b.name);
                job.left_out.push(LeftOut {
                    at: piece.at,
                    sheet: Sheet::Pieces,
                    name: job.material_name(piece.material).to_owned(),
                    why: vec![format!("it is cut for {name}, which is left out")],
                });
                continue;
            }
        }
        job.pieces.push(piece);
    }
}

/// Leaves out the offer that an error is about; `false` when it is about something else.
fn leave_price(job: &mut Job, sources: &Sources, error: &Problem) -> bool {
    let Some(at) = error.spot.map(|spot| spot.row) else {
        return false;
    };
    if sources.sheet_of(at) != Some(Sheet::Prices) {
        return false;
    }
    if let Some(left) = job.left_out.iter_mut().find(|left| left.at == at) {
        left.why.push(error.sentence.clone());
        return true;
    }
    let Some(offer) = job.offers.iter().find(|offer| offer.at == at) else {
        return false;
    };
    let name = job.material_name(offer.material).to_owned();
    job.offers.retain(|offer| offer.at != at);
    job.left_out.push(LeftOut {
        at,
        sheet: Sheet::Prices,
        name,
        why: vec![error.sentence.clone()],
    });
    true
}
