//! From take-off, orders and hours to the priced ledger, and the named figures read back from it.

mod areas;
mod bearing;
mod beds;
mod budget;
mod choice;
mod collect;
mod echo;
mod extras;
mod good_part;
mod hours;
mod inputs;
mod orders;
mod owner;
mod payments;
mod quote;
mod ranged;
mod settings;
mod shares;
mod table;
mod tail;
mod tasks;
mod taxed;

pub use good_part::estimate_good_part;
pub(super) use good_part::take_out;

use std::collections::BTreeMap;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::estimate::{Estimate, Price};
use super::evaluate::{Values, evaluate};
use super::ledger::Ledger;
use crate::buying::{Bought, Held};
use crate::labour::Labour;
use crate::model::job::{Job, PhaseId, SiteId};
use crate::model::library::Library;
use crate::model::settings::TopUp;
use crate::model::source::Sources;
use crate::problem::{Problem, Severity, Staged};
use crate::takeoff::{Kinds, Moment, TakeOff};
use crate::units::System;

/// The stage set for the ledger: everything computed before money.
struct Setting<'a> {
    job: &'a Job,
    kinds: &'a Kinds,
    takeoffs: &'a [TakeOff],
    bought: &'a Bought,
    labour: &'a Labour,
    /// The day of the estimate.
    date: Date,
    /// Number of each site and phase that has beds, by name, from 0.
    places_of: BTreeMap<(SiteId, PhaseId), usize>,
}

/// Prices a job: take-off, orders, hours, ledger.
///
/// `date` is the date of the estimate; `held` keeps the choices of an earlier run. Output is `None`
/// when a problem forbids a price.
pub fn estimate(
    job: Job,
    sources: Sources,
    library: &Library,
    date: Date,
    held: Option<&Held>,
) -> Staged<Option<Estimate>> {
    let kinds = crate::takeoff::kinds(&job);
    let takeoffs = crate::takeoff::take_off_all(&job, &kinds);
    let bought = crate::buying::buy(&job, &kinds, &takeoffs, held);
    let labour = crate::labour::work(&job, &kinds, &takeoffs, &bought, library);
    let mut problems: Vec<Problem> = takeoffs
        .iter()
        .flat_map(|t| t.problems.iter().cloned())
        .collect();
    problems.extend(bought.problems.iter().cloned());
    problems.extend(labour.problems.iter().cloned());
    problems.extend(taxed::messages(&job));
    if problems.iter().any(|p| p.severity == Severity::Error) {
        return Staged {
            output: None,
            problems,
        };
    }
    let setting = Setting::new(&job, &kinds, &takeoffs, &bought, &labour, date);
    let (ledger, values, price) = match setting.priced(&sources) {
        Ok(priced) => priced,
        Err(mut wrong) => {
            problems.append(&mut wrong);
            return Staged {
                output: None,
                problems,
            };
        }
    };
    problems.extend(beside_price(&job, &price, library, date));
    problems.extend(super::cautions::cautions(
        &job, &kinds, &takeoffs, &bought, &labour, library, date,
    ));
    problems.sort_by_key(|p| p.severity);
    let assumptions =
        super::assumptions::assumptions(&job, &kinds, &takeoffs, &bought, &labour, library);
    let not_priced = super::assumptions::not_priced(&job, &takeoffs, &bought);
    let told = problems.clone();
    let estimate = Estimate {
        job,
        sources,
        date,
        kinds,
        takeoffs,
        bought,
        labour,
        ledger,
        values,
        price,
        assumptions,
        not_priced,
        problems,
        rechosen: None,
        alternates: Vec::new(),
    };
    Staged {
        output: Some(estimate),
        problems: told,
    }
}

/// What the price itself gives reason to tell.
fn beside_price(job: &Job, price: &Price, library: &Library, date: Date) -> Vec<Problem> {
    let deposit = super::cautions::of_deposit(job, &price.payments, library);
    let tax = taxed::to_come(job, date, price.valid_until);
    let budget = price.budget.iter();
    let budget = budget.flat_map(|budget| budget::messages(job, budget, library));
    tax.into_iter().chain(budget).chain(deposit).collect()
}

/// The parts of the ledger that figures are read from.
struct Cells {
    tail: tail::Tail,
    extras: extras::ExtraLines,
    owner: owner::Owner,
    payments: Option<payments::Stages>,
    budget: Option<budget::BudgetCells>,
    beds: bearing::Bearing,
    areas: Option<bearing::Bearing>,
}

impl<'a> Setting<'a> {
    fn new(
        job: &'a Job,
        kinds: &'a Kinds,
        takeoffs: &'a [TakeOff],
        bought: &'a Bought,
        labour: &'a Labour,
        date: Date,
    ) -> Self {
        let mut setting = Self {
            job,
            kinds,
            takeoffs,
            bought,
            labour,
            date,
            places_of: BTreeMap::new(),
        };
        setting.places_of = setting
            .place_list()
            .into_iter()
            .enumerate()
            .map(|(n, place)| (place, n))
            .collect();
        setting
    }

    /// The ledger, its numbers and the price; what forbids a price when there is none.
    fn priced(&self, sources: &Sources) -> Result<(Ledger, Values, Price), Vec<Problem>> {
        let mut ledger = Ledger::new(self.job.settings.currency.value);
        let cells = self.fill(&mut ledger, sources);
        let values = evaluate(&ledger).map_err(|error| vec![Problem::bug(error.to_string())])?;
        let mut price = self.collect(&values, &cells);
        let budget = cells.budget.as_ref();
        price.budget = budget.map(|cells| self.budget_of((&ledger, &values), cells));
        let wrong = payments::messages(self.job, &price);
        if wrong.is_empty() {
            Ok((ledger, values, price))
        } else {
            Err(wrong)
        }
    }

    /// Builds all blocks, in the order in which they are computed.
    fn fill(&self, ledger: &mut Ledger, sources: &Sources) -> Cells {
        let inputs = inputs::Inputs::new(
            ledger,
            self.job,
            sources,
            self.bought,
            self.labour,
            self.date,
        );
        ledger.ranged = ranged::ranged(ledger, self.job, &inputs);
        let orders = self.orders(ledger, &inputs);
        let trips = self.trips(ledger, &inputs);
        let hours = self.hours(ledger, &inputs);
        let extras = self.extras(ledger, &inputs, &hours.visits);
        let costs = tail::Costs {
            orders,
            trips,
            hours: hours.worked,
            hire: hours.hire,
            extras,
        };
        let tail = self.tail(ledger, &inputs, &costs);
        let owner = self.owner(ledger, &costs, &tail);
        let payments = self.payments(ledger, &inputs, &tail);
        let budget = self.budget(ledger, &inputs, (&costs, &tail), hours.present);
        let kinds = self.shares(ledger, &inputs, &costs);
        let beds = self.beds(ledger, sources, &kinds, &tail);
        let areas = self.areas(ledger, sources, (&kinds, &tail), &beds);
        self.places(ledger, &beds, areas.as_ref());
        Cells {
            extras: costs.extras,
            tail,
            owner,
            payments,
            budget,
            beds,
            areas,
        }
    }

    fn units(&self) -> System {
        self.job.settings.units.value
    }

    /// Whether a line of a moment stands in the price (1), in the top-up offered beside it (2), or in neither (0).
    fn stands(&self, moment: Moment) -> Decimal {
        match (moment, self.job.settings.top_up.value) {
            (Moment::Build, _) | (Moment::TopUp, TopUp::Included) => Decimal::ONE,
            (Moment::TopUp, TopUp::Offered) => Decimal::TWO,
            (Moment::TopUp, TopUp::None) => Decimal::ZERO,
        }
    }

    fn has_top_up(&self) -> bool {
        self.bought.lines.iter().any(|l| l.moment == Moment::TopUp)
    }

    fn phase_words(&self, phase: PhaseId) -> String {
        self.job
            .phases
            .get(phase.index())
            .map_or_else(String::new, ToString::to_string)
    }

    /// A site with its phase, which is named only when the job has several.
    fn place_words(&self, site: SiteId, phase: PhaseId) -> String {
        if self.job.phases.len() > 1 {
            format!("{}, {}", self.site_words(site), self.phase_words(phase))
        } else {
            self.site_words(site)
        }
    }

    /// Sites and phases that have beds or areas, by name.
    fn place_list(&self) -> Vec<(SiteId, PhaseId)> {
        let bearers = self.kinds.bearers();
        let mut places: Vec<(SiteId, PhaseId)> = bearers.map(|b| (b.site, b.phase)).collect();
        places.sort_by_cached_key(|(s, p)| (self.site_words(*s), self.phase_words(*p)));
        places.dedup();
        places
    }

    fn beds_at(&self, site: SiteId, phase: PhaseId) -> Decimal {
        let here = self
            .kinds
            .kinds
            .iter()
            .filter(|k| k.site == site && k.phase == phase);
        here.map(|k| k.count)
            .fold(Decimal::ZERO, Decimal::saturating_add)
    }

    /// The part of each visit's crew days or sessions with which an extra comes.
    fn extra_shares(&self, extra: &crate::model::labour::Extra) -> Vec<(SiteId, Moment, Decimal)> {
        crate::labour::extra_shares(self.job, self.kinds, self.takeoffs, self.labour, extra)
    }

    /// How often an extra comes on each site.
    fn extra_times(&self, extra: &crate::model::labour::Extra) -> Vec<(SiteId, Decimal)> {
        crate::labour::extra_times(self.job, self.kinds, self.takeoffs, self.labour, extra)
    }
}
