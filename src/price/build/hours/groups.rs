//! Who works on which visit: the hours that fill crew days and the sessions of volunteers.

use std::collections::BTreeMap;

use super::super::super::term::Term;
use super::super::Setting;
use super::{WorkCells, number, works_itself};
use crate::labour::LabourLine;
use crate::model::job::SiteId;
use crate::model::labour::{Pay, WorkerId};
use crate::takeoff::Moment;
use crate::units::Decimal;

/// One worker on one visit to a site.
type Group = (SiteId, Moment, Option<WorkerId>);

/// Groups by number, from 1. The number stands beside each line of work, so that a formula can add up
/// the hours of its group.
pub(super) struct Groups(BTreeMap<Group, Decimal>);

impl Groups {
    /// Groups in the order in which their first lines stand.
    pub(super) fn of(lines: &[LabourLine]) -> Self {
        let mut numbers = BTreeMap::new();
        for line in lines.iter().filter(|l| works_itself(l)) {
            let next = number(numbers.len());
            numbers
                .entry((line.site, line.moment, line.worker))
                .or_insert(next);
        }
        Self(numbers)
    }

    /// The group of a line.
    pub(super) fn number(&self, line: &LabourLine) -> Decimal {
        self.at((line.site, line.moment, line.worker))
    }

    /// The number of a group, 0 for one without work.
    pub(super) fn at(&self, group: Group) -> Decimal {
        self.0.get(&group).copied().unwrap_or_default()
    }

    /// Those who are paid and work on a visit, by name; an unnamed worker is paid.
    pub(super) fn paid(
        &self,
        setting: &Setting<'_>,
        site: SiteId,
        moment: Moment,
    ) -> Vec<(Option<WorkerId>, Decimal)> {
        let worker = |id: Option<WorkerId>| setting.job.workers.get(id?.index());
        let mut paid: Vec<_> = self
            .0
            .iter()
            .filter(|((s, m, _), _)| (*s, *m) == (site, moment))
            .map(|((_, _, id), number)| (*id, *number))
            .filter(|(id, _)| worker(*id).is_none_or(|w| w.pay == Pay::Paid))
            .collect();
        paid.sort_by_key(|(id, _)| (worker(*id).map(|w| &w.name), *id));
        paid
    }
}

/// Hours of a group in all of the blocks.
pub(super) fn hours_of(group: Decimal, blocks: &[&WorkCells]) -> Term {
    let of = |block: &&WorkCells| Term::SumIf {
        key: block.group,
        is: Box::new(Term::Number(group)),
        col: block.hours,
    };
    Term::Round(Box::new(Term::add_all(blocks.iter().map(of))), 9)
}
