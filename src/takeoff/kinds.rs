//! Beds that are alike, so that each is taken off once.

use std::collections::{BTreeSet, HashMap};

use rust_decimal::Decimal;

use super::{AreaKind, BedKind, KindId, Kinds};
use crate::model::bed::{Base, Bed, BedId, Measured, Shape, Slope};
use crate::model::drip::DripId;
use crate::model::fill::FillId;
use crate::model::frame::FrameId;
use crate::model::ground::{Area, AreaId, GroundWork};
use crate::model::job::{Job, PhaseId, SiteId};
use crate::units::Length;

/// Everything about a bed that any figure depends on; its name, count, priority and note are not.
#[derive(PartialEq, Eq, Hash)]
struct Likeness<'a> {
    shape: &'a Shape,
    measured: Measured,
    height: Option<Length>,
    courses: Option<u32>,
    frame: FrameId,
    fill: Option<FillId>,
    crop: Option<&'a str>,
    site: SiteId,
    phase: PhaseId,
    base: Base,
    closed_bottom: bool,
    underside_clear: Option<Length>,
    ground: GroundWork,
    slope: Option<Slope>,
    drip: Option<DripId>,
    /// The bed itself when pieces are cut for it alone, which bear on its cost, or when it shares a wall.
    own: Option<BedId>,
}

impl<'a> Likeness<'a> {
    fn of(bed: &'a Bed, own: Option<BedId>) -> Self {
        Self {
            shape: &bed.shape,
            measured: bed.measured,
            height: bed.height,
            courses: bed.courses,
            frame: bed.frame,
            fill: bed.fill,
            crop: bed.crop.as_deref(),
            site: bed.site,
            phase: bed.phase,
            base: bed.base,
            closed_bottom: bed.closed_bottom,
            underside_clear: bed.underside_clear,
            ground: bed.ground.value,
            slope: bed.slope,
            drip: bed.drip,
            own,
        }
    }
}

/// Sorts the beds of a job into kinds.
///
/// Kinds, and the beds in each, come in the order of their names, byte by byte: `Bed 10` stands
/// before `Bed 2`, and no order of rows changes it. The map below is only looked up, never walked.
pub fn kinds(job: &Job) -> Kinds {
    let mut order: Vec<usize> = (0..job.beds.len()).collect();
    order.sort_by(|a, b| {
        let name = |i: &usize| job.beds.get(*i).map(|bed| &*bed.name);
        name(a).cmp(&name(b)).then(a.cmp(b))
    });
    let with_pieces: BTreeSet<BedId> = job.pieces.iter().filter_map(|piece| piece.bed).collect();
    let mut seen: HashMap<Likeness<'_>, KindId> = HashMap::new();
    let mut result = Kinds {
        kinds: Vec::new(),
        of_bed: vec![KindId(0); job.beds.len()],
        areas: areas(job),
    };
    for index in order {
        let Some(bed) = job.beds.get(index) else {
            continue;
        };
        let joined = (!bed.joins.is_empty()).then(|| BedId::of(index));
        let own = with_pieces.get(&BedId::of(index)).copied().or(joined);
        let kind = *seen.entry(Likeness::of(bed, own)).or_insert_with(|| {
            result.kinds.push(new_kind(bed, BedId::of(index)));
            KindId::of(result.kinds.len().saturating_sub(1))
        });
        join(&mut result, kind, index, bed);
    }
    result
}

/// Areas in the order of their names.
fn areas(job: &Job) -> Vec<AreaKind> {
    let mut areas: Vec<(usize, &Area)> = job.areas.iter().enumerate().collect();
    areas.sort_by(|(_, a), (_, b)| a.name.cmp(&b.name));
    let kind = |(index, area): (usize, &Area)| AreaKind {
        area: AreaId::of(index),
        site: area.site,
        phase: area.phase,
    };
    areas.into_iter().map(kind).collect()
}

fn new_kind(bed: &Bed, first: BedId) -> BedKind {
    BedKind {
        first,
        beds: Vec::new(),
        count: Decimal::ZERO,
        site: bed.site,
        phase: bed.phase,
    }
}

fn join(result: &mut Kinds, kind: KindId, index: usize, bed: &Bed) {
    if let Some(found) = result.kinds.get_mut(kind.index()) {
        found.beds.push(BedId::of(index));
        found.count = found.count.saturating_add(Decimal::from(bed.count));
    }
    if let Some(of_bed) = result.of_bed.get_mut(index) {
        *of_bed = kind;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::takeoff::support::{boards_bed, job_of};

    #[test]
    fn alike_beds_are_one_kind_whatever_they_are_called() {
        let mut beds = vec![
            boards_bed("North 2", 8, 4, 2),
            boards_bed("East", 6, 4, 2),
            boards_bed("North 1", 8, 4, 2),
        ];
        beds[0].count = 3;
        beds[2].note = Some("by the gate".into());
        beds[2].priority = Some(1);
        let job = job_of(beds);
        let kinds = kinds(&job);
        assert_eq!(kinds.kinds.len(), 2);
        // East, then North 1 and North 2: 1 bed, and 1 + 3.
        assert_eq!(kinds.kinds[0].first, BedId(1));
        assert_eq!(kinds.kinds[1].beds, [BedId(2), BedId(0)]);
        assert_eq!(kinds.kinds[1].count, Decimal::from(4));
        assert_eq!(kinds.of_bed, [KindId(1), KindId(0), KindId(1)]);
    }

    #[test]
    fn whatever_changes_a_figure_makes_another_kind() {
        let plain = boards_bed("A", 8, 4, 2);
        let mut paved = boards_bed("B", 8, 4, 2);
        paved.base = Base::Paved;
        let mut inside = boards_bed("C", 8, 4, 2);
        inside.measured = Measured::Inside;
        let mut later = boards_bed("D", 8, 4, 2);
        later.phase = PhaseId(1);
        let mut crop = boards_bed("E", 8, 4, 2);
        crop.crop = Some("carrots".into());
        let taller = boards_bed("F", 8, 4, 3);
        let job = job_of(vec![plain, paved, inside, later, crop, taller]);
        assert_eq!(kinds(&job).kinds.len(), 6);
    }

    #[test]
    fn the_order_of_rows_changes_nothing() {
        let rows = ["d", "b", "a", "c"];
        let forward: Vec<_> = rows
            .iter()
            .enumerate()
            .map(|(i, n)| boards_bed(n, 4 + i64::try_from(i % 2).unwrap(), 4, 2))
            .collect();
        let mut backward = forward.clone();
        backward.reverse();
        let named = |beds: Vec<Bed>| {
            let job = job_of(beds);
            let name = |id: &BedId| job.beds[id.index()].name.to_string();
            let all = kinds(&job).kinds;
            all.iter()
                .map(|k| k.beds.iter().map(name).collect::<Vec<_>>())
                .collect::<Vec<_>>()
        };
        assert_eq!(named(forward.clone()), named(backward));
        assert_eq!(named(forward), [vec!["a", "d"], vec!["b", "c"]]);
    }
}
