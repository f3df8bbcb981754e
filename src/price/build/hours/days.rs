//! Crew days as a ledger block: started days for the hours that fill them, with set-up and travel.

use super::super::super::ledger::{Format, Ledger};
use super::super::super::term::Term;
use super::super::Setting;
use super::super::inputs::Inputs;
use super::super::orders::moment_words;
use super::super::table::Table;
use super::groups::{Groups, hours_of};
use super::repeated::Visits;
use super::wages::Wage;
use super::{WorkCells, Worked, WorkedRow, is_paid};
use crate::labour::SiteDays;
use crate::model::labour::Per;

impl<'a> Setting<'a> {
    /// The block of crew days. `fill` are the blocks whose paid hours fill them.
    pub(super) fn days(
        &self,
        ledger: &mut Ledger,
        inputs: &Inputs,
        (groups, fill): (&Groups, &[&WorkCells]),
        visits: &mut Visits,
    ) -> Worked<'a> {
        let days = &self.labour.days;
        let mut table = Table::new(ledger, "Hours", "Days, set-up and travel", days.len());
        table.words("Site", days.iter().map(|d| self.site_words(d.site)));
        table.words(
            "When",
            days.iter().map(|d| moment_words(d.moment).to_owned()),
        );
        let who = table.words("Worker", days.iter().map(|d| self.worker_words(d.worker)));
        table.note(
            who,
            "Who has the most hours, by which set-up and travel are paid.",
        );
        let crews: Vec<_> = days
            .iter()
            .map(|d| groups.paid(self, d.site, d.moment))
            .collect();
        let filled = crews
            .iter()
            .map(|crew| Term::add_all(crew.iter().map(|(_, group)| hours_of(*group, fill))));
        let filled = table.rows("Work", Format::Number(2), filled);
        let crew = days.iter().map(|d| self.crew(d, inputs));
        let crew = table.rows("Crew", Format::Number(0), crew);
        let site = |d: &SiteDays| inputs.sites.row(d.site.index());
        let to_site = table.link(inputs.sites.block, days.iter().map(site));
        let settings = &inputs.settings;
        let lost = settings.setup_hours.clone() + Term::Via(to_site, inputs.sites.travel);
        let lost = table.live("Set-up and travel a day", 2, lost);
        let holds = days.iter().map(|d| {
            let left = settings.hours_per_day.clone() - Term::Here(lost);
            let holds = Term::Here(crew) * left;
            let paid = |worker| is_paid(self, worker);
            let each = self.brought(inputs, Per::Day, (d.site, d.moment), paid);
            let left = each.map_or(holds.clone(), |each| holds.clone() - each);
            left.max(Term::whole(0))
        });
        let holds = table.rows("A day holds", Format::Number(2), holds);
        let count = Term::WholeUp(Box::new(Term::Here(filled).ratio(Term::Here(holds))));
        let count = table.live("Days", 0, count);
        let overhead = Term::Here(count) * Term::Here(lost) * Term::Here(crew);
        let overhead = table.live("Person-hours", 2, overhead);
        for (row, d) in days.iter().enumerate() {
            visits.work((d.site, d.moment), Term::cell(count, row));
        }
        let wages = crews.iter().map(|crew| {
            let named = crew.iter().filter_map(|(id, group)| Some(((*id)?, group)));
            let each = named.map(|(id, group)| {
                let wage = Wage::of(inputs, inputs.workers.row(id.index()));
                (hours_of(*group, fill), wage)
            });
            Wage::of_most(each.collect())
        });
        let moments = days.iter().map(|d| d.moment);
        Worked {
            what: "Set-up and travel",
            cells: self.paid_by_row(&mut table, overhead, wages.collect(), moments),
            rows: days
                .iter()
                .map(|d| WorkedRow::shared((d.site, d.moment)))
                .collect(),
        }
    }

    /// Crew of a row: the setting's cell where it is that number, else the number itself.
    fn crew(&self, days: &SiteDays, inputs: &Inputs) -> Term {
        if days.crew == self.job.settings.crew_size.value {
            inputs.settings.crew_size.clone()
        } else {
            Term::whole(i64::from(days.crew))
        }
    }
}
