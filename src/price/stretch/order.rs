//! Beds one by one in the order of priority, and the job with some of them.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::super::build::take_out;
use crate::model::job::Job;
use crate::model::naming::by_name;
use crate::model::source::RowAt;

/// One bed of a row.
#[derive(Clone, Debug)]
pub(super) struct One {
    /// The row.
    pub(super) at: RowAt,
    /// Its name.
    pub(super) name: Arc<str>,
    /// Which of its beds, from 1, and how many there are.
    pub(super) of_row: (u32, u32),
    /// Its priority.
    pub(super) priority: Option<u32>,
}

/// All beds, in the order in which they are built.
#[derive(Clone, Debug)]
pub(super) struct Steps(Vec<One>);

impl Steps {
    /// Priority 1 first; beds without one after all others; equals by name.
    pub(super) fn of(job: &Job) -> Self {
        let mut rows: Vec<_> = job.beds.iter().collect();
        rows.sort_by(|a, b| {
            let rank = |priority: Option<u32>| priority.map_or((1, 0), |p| (0, p));
            let by_rank = rank(a.priority).cmp(&rank(b.priority));
            by_rank.then_with(|| by_name(&a.name, &b.name))
        });
        let ones = rows.into_iter().flat_map(|bed| {
            (1..=bed.count).map(|n| One {
                at: bed.at,
                name: Arc::clone(&bed.name),
                of_row: (n, bed.count),
                priority: bed.priority,
            })
        });
        Self(ones.collect())
    }

    pub(super) fn len(&self) -> usize {
        self.0.len()
    }

    pub(super) fn beds(&self) -> impl Iterator<Item = &One> {
        self.0.iter()
    }

    /// The job with the first `n` beds.
    pub(super) fn first(&self, job: &Job, n: usize) -> Job {
        with(job, self.0.iter().take(n))
    }

    /// Whether the first `n` beds of another order hold each of the first `n - 1` here.
    pub(super) fn is_kept_by(&self, other: &Steps, n: usize) -> bool {
        let rows =
            |steps: &Steps, n| -> Vec<RowAt> { steps.0.iter().take(n).map(|one| one.at).collect() };
        let (own, theirs) = (rows(self, n.saturating_sub(1)), rows(other, n));
        let count = |rows: &[RowAt], at| rows.iter().filter(|one| **one == at).count();
        theirs.len() == n && own.iter().all(|at| count(&own, *at) <= count(&theirs, *at))
    }

    /// The job with the first `n` beds and one other.
    pub(super) fn first_and(&self, job: &Job, n: usize, other: &One) -> Job {
        with(job, self.0.iter().take(n).chain([other]))
    }
}

/// Rows keep so many beds as are named of them; what belongs to no bed stays.
fn with<'a>(job: &Job, kept: impl Iterator<Item = &'a One>) -> Job {
    let kept: Vec<RowAt> = kept.map(|one| one.at).collect();
    let mut job = job.clone();
    let mut gone = BTreeSet::new();
    for bed in &mut job.beds {
        let count = kept.iter().filter(|at| **at == bed.at).count();
        match u32::try_from(count) {
            Ok(0) | Err(_) => {
                gone.insert(bed.at);
            }
            Ok(count) => bed.count = count,
        }
    }
    let left_out = job.left_out.len();
    take_out(&mut job, &gone);
    // Beds that wait for money are no mistake of the job's.
    job.left_out.truncate(left_out);
    job
}
