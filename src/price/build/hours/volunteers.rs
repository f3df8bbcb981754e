//! Volunteers as a ledger block: how often they come for their hours, and who is paid to look after them.

use super::super::super::ledger::{Format, Ledger};
use super::super::super::term::{ColRef, Term};
use super::super::Setting;
use super::super::inputs::Inputs;
use super::super::orders::moment_words;
use super::super::table::Table;
use super::groups::{Groups, hours_of};
use super::repeated::Visits;
use super::wages::Wage;
use super::{WorkCells, Worked, WorkedRow};
use crate::labour::Volunteering;
use crate::model::labour::{Pay, Per, Worker};
use crate::units::{Decimal, Hours};

/// Columns of the block on the way to the hours of supervision.
struct Coming {
    session: ColRef,
    sessions: ColRef,
}

impl<'a> Setting<'a> {
    fn volunteer(&self, band: &Volunteering) -> Option<&'a Worker> {
        self.job.workers.get(band.worker.index())
    }

    /// The block of volunteers, whose sessions and days go into `visits`, and its column of the hours that
    /// they are there.
    pub(super) fn volunteers(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (groups, work): (&Groups, &WorkCells),
        visits: &mut Visits,
    ) -> (ColRef, Worked<'a>) {
        let bands = &self.labour.volunteering;
        let title = "Volunteers: sessions, and supervision of them";
        let mut table = Table::new(ledger, "Hours", title, bands.len());
        table.words("Site", bands.iter().map(|b| self.site_words(b.site)));
        table.words(
            "When",
            bands.iter().map(|b| moment_words(b.moment).to_owned()),
        );
        table.words(
            "Volunteers",
            bands.iter().map(|b| self.worker_words(Some(b.worker))),
        );
        let coming = self.sessions(&mut table, inputs, (groups, work));
        let days = bands.iter().map(|b| self.volunteer_days(b, &coming));
        let days = table.rows("Days", Format::Number(0), days);
        for (row, band) in bands.iter().enumerate() {
            let sessions = Term::cell(coming.sessions, row);
            visits.come(band, sessions, Term::cell(days, row));
        }
        let there = Term::Here(coming.sessions) * Term::Here(coming.session);
        let there = table.live("Hours there", 2, there);
        table.note(there, "Of all volunteers, briefing and idle time included.");
        let supervision = self.supervision(&mut table, &coming, days);
        let first = self.job.workers.iter().position(|w| w.pay == Pay::Paid);
        let wage = Wage::of(inputs, first.and_then(|index| inputs.workers.row(index)));
        let wages = bands.iter().map(|_| wage.clone()).collect();
        let moments = bands.iter().map(|b| b.moment);
        let cells = self.paid_by_row(&mut table, supervision, wages, moments);
        let rows = bands.iter().map(|b| (b.site, b.moment));
        let rows = rows.map(WorkedRow::shared).collect();
        let what = "Supervision of volunteers";
        (there, Worked { what, cells, rows })
    }

    /// Person-sessions: work by what a session holds, rounded up.
    fn sessions(
        &self,
        table: &mut Table<'_>,
        inputs: &Inputs,
        (groups, work): (&Groups, &WorkCells),
    ) -> Coming {
        let bands = &self.labour.volunteering;
        let own = |b: &Volunteering| {
            let group = groups.at((b.site, b.moment, Some(b.worker)));
            hours_of(group, &[work])
        };
        let filled = table.rows("Work", Format::Number(2), bands.iter().map(own));
        let hours = |of: fn(&Worker) -> Hours| {
            let hours = move |b| self.volunteer(b).map_or(Hours::ZERO, of).in_hours();
            bands.iter().map(hours).collect::<Vec<Decimal>>()
        };
        let session = table.fixed("Session (h)", 2, hours(|w| w.session.value));
        let briefing = table.fixed("Briefing (h)", 2, hours(|w| w.briefing.value));
        let room = bands.iter().map(|b| {
            let visit = (b.site, b.moment);
            let its = |worker| worker == Some(b.worker);
            let brought = self.brought(inputs, Per::Session, visit, its);
            let room = Term::Here(session) - Term::Here(briefing);
            let left = brought.map_or(room.clone(), |each| room - each);
            left.max(Term::whole(0))
        });
        let room = table.rows("A session holds", Format::Number(2), room);
        table.note(
            room,
            "Hours of work, less what every session brings besides.",
        );
        let sessions = whole_up_of(Term::Here(filled), Term::Here(room));
        let sessions = table.live("Sessions", 0, sessions);
        table.note(sessions, "One volunteer coming once is one session.");
        Coming { session, sessions }
    }

    /// Days on which they come: as many as their headcount makes of the sessions, one without a headcount.
    fn volunteer_days(&self, band: &Volunteering, coming: &Coming) -> Term {
        let most = self.volunteer(band).and_then(|w| w.headcount);
        let sessions = Term::Here(coming.sessions);
        match most.filter(|n| *n > 0) {
            Some(most) => whole_up_of(sessions, Term::whole(i64::from(most))),
            None => Term::Min(Box::new(sessions), Box::new(Term::whole(1))),
        }
    }

    /// Paid hours of supervisors: as many as a day's volunteers need, a whole session each.
    fn supervision(&self, table: &mut Table<'_>, coming: &Coming, days: ColRef) -> ColRef {
        let bands = &self.labour.volunteering;
        let a_day = whole_up_of(Term::Here(coming.sessions), Term::Here(days));
        let a_day = table.live("A day", 0, a_day);
        let most = |b| self.volunteer(b).map_or(0, |w| w.per_supervisor.value);
        let most = bands.iter().map(|b| Decimal::from(most(b)));
        let most = table.fixed("For one supervisor", 0, most);
        let supervisors = whole_up_of(Term::Here(a_day), Term::Here(most));
        let supervisors = table.live("Supervisors", 0, supervisors);
        let hours = Term::Here(supervisors) * Term::Here(days) * Term::Here(coming.session);
        let hours = table.live("Supervision (h)", 2, hours);
        table.note(hours, "Paid hours of supervisors, a whole session each.");
        hours
    }
}

fn whole_up_of(number: Term, by: Term) -> Term {
    Term::WholeUp(Box::new(number.ratio(by)))
}
