//! What every session of volunteers and every crew day brings: how often both come, and the hours of extras
//! that come as often.

use std::collections::BTreeMap;

use super::super::super::term::Term;
use super::super::Setting;
use super::super::inputs::Inputs;
use crate::labour::{LabourLine, Volunteering};
use crate::model::job::SiteId;
use crate::model::labour::{Extra, Per, WorkerId};
use crate::takeoff::Moment;
use crate::units::Decimal;

/// How often people come on each visit, as cells.
#[derive(Default)]
pub(in super::super) struct Visits {
    sessions: BTreeMap<(SiteId, Moment), Term>,
    days: BTreeMap<(SiteId, Moment), Term>,
    stays: BTreeMap<(SiteId, Moment), Term>,
}

impl Visits {
    /// Volunteers come for so many sessions on so many days.
    pub(super) fn come(&mut self, band: &Volunteering, sessions: Term, days: Term) {
        let visit = (band.site, band.moment);
        let sum = self.sessions.remove(&visit).unwrap_or(Term::whole(0));
        self.sessions.insert(visit, sum.plus(sessions));
        self.stay(visit, days);
    }

    /// The crew comes on so many days.
    pub(super) fn work(&mut self, visit: (SiteId, Moment), days: Term) {
        self.days.insert(visit, days.clone());
        self.stay(visit, days);
    }

    /// Crew and volunteers may come on the same days, so the longer stay counts and not the sum.
    fn stay(&mut self, visit: (SiteId, Moment), days: Term) {
        let longest = match self.stays.remove(&visit) {
            Some(other) => other.max(days),
            None => days,
        };
        self.stays.insert(visit, longest);
    }

    /// Crew days or sessions of a visit; 0 for what comes otherwise.
    pub(in super::super) fn times(&self, per: Per, visit: (SiteId, Moment)) -> Term {
        let found = match per {
            Per::Session => self.sessions.get(&visit),
            Per::Day => self.days.get(&visit),
            _ => None,
        };
        found.cloned().unwrap_or(Term::whole(0))
    }

    /// Days on which anybody is there.
    pub(super) fn stay_of(&self, visit: (SiteId, Moment)) -> Term {
        self.stays.get(&visit).cloned().unwrap_or(Term::whole(0))
    }
}

impl Setting<'_> {
    fn extra_of(&self, line: &LabourLine) -> Option<(usize, &Extra)> {
        let mut extras = self.job.extras.iter().enumerate();
        extras.find(|(_, extra)| Some(extra.at) == line.extra)
    }

    /// What a line is counted by when that is sessions or crew days.
    pub(super) fn comes_with(&self, line: &LabourLine) -> Option<Per> {
        let (_, extra) = self.extra_of(line)?;
        matches!(extra.per, Per::Session | Per::Day).then_some(extra.per)
    }

    /// The extra of a line: its row, and the part of its sessions or days that it comes with.
    pub(super) fn each_time(&self, inputs: &Inputs, line: &LabourLine) -> Option<(u32, Decimal)> {
        let (index, extra) = self.extra_of(line)?;
        let typed = inputs.extras.typed.get(index).filter(|t| !t.is_zero())?;
        let times = line.quantity.checked_div(*typed)?;
        let count = self.counted_times(extra.per, (line.site, line.moment));
        let share = count.map_or(Some(times), |count| times.checked_div(count))?;
        Some((inputs.extras.row(index)?, share))
    }

    /// Sessions or crew days of a visit as the program counted them.
    fn counted_times(&self, per: Per, visit: (SiteId, Moment)) -> Option<Decimal> {
        let labour = self.labour;
        match per {
            Per::Session => {
                let bands = labour.volunteering.iter();
                let here = bands.filter(|b| (b.site, b.moment) == visit);
                Some(here.map(|b| b.sessions).sum())
            }
            Per::Day => {
                let mut days = labour.days.iter();
                let here = days.find(|d| (d.site, d.moment) == visit);
                Some(here.map_or(Decimal::ZERO, |d| d.days))
            }
            _ => None,
        }
    }

    /// Hours that one session or one crew day of a visit brings by itself; `None` for none.
    pub(super) fn brought(
        &self,
        inputs: &Inputs,
        per: Per,
        visit: (SiteId, Moment),
        whose: impl Fn(Option<WorkerId>) -> bool,
    ) -> Option<Term> {
        let lines = self.labour.lines.iter();
        let its = lines.filter(|l| (l.site, l.moment) == visit && whose(l.worker));
        let one = |line: &LabourLine| {
            let (row, share) = self.each_time(inputs, line)?;
            let quantity = Term::cell(inputs.extras.quantity, usize::try_from(row).ok()?);
            let each = share.saturating_mul(line.rate);
            Some(quantity * Term::Number(each.saturating_mul(line.multiplier)))
        };
        its.filter(|line| self.comes_with(line) == Some(per))
            .filter_map(one)
            .reduce(|sum, term| sum + term)
    }
}
