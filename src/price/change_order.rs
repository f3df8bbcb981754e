//! What a client may see of the difference between two estimates: beds, and prices with tax.
//!
//! The type has no room for costs, markups, wages or names of suppliers, and is made in one place.

use std::collections::BTreeSet;
use std::sync::Arc;

use jiff::civil::Date;

use super::Estimate;
use super::changes::{Changes, Moved};
use crate::units::{Currency, Money};

/// A change to what was agreed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangeOrder {
    /// Number of the change order, in the user's words.
    pub number: String,
    /// Its revision.
    pub revision: String,
    /// The job.
    pub job: Arc<str>,
    /// For whom.
    pub client: Option<Arc<str>>,
    /// Number of the estimate that is changed.
    pub estimate: Option<Arc<str>>,
    /// Day of the change.
    pub date: Date,
    /// Last day on which the new price holds.
    pub valid_until: Date,
    /// Money is in this currency.
    pub currency: Currency,
    /// Beds that are new, left out or altered.
    pub beds: Vec<ChangedBed>,
    /// What everything else comes to: shared deliveries, days on site, rounding.
    pub rest: Money,
    /// Price with tax before.
    pub before: Money,
    /// Price with tax after.
    pub after: Money,
}

/// A bed that is new, left out or altered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangedBed {
    /// What it is called.
    pub name: String,
    /// Number and size before.
    pub before: Option<String>,
    /// Number and size after.
    pub after: Option<String>,
    /// What it adds to the price with tax.
    pub adds: Money,
}

impl ChangeOrder {
    /// The change from one estimate to another; `changes` are those between them.
    pub fn of(
        (number, revision): (String, String),
        (before, after): (&Estimate, &Estimate),
        changes: &Changes,
    ) -> Self {
        let beds: Vec<ChangedBed> = changes.sizes.iter().map(|m| bed(m, changes)).collect();
        let told: Money = beds.iter().map(|bed| bed.adds).sum();
        let settings = &after.job.settings;
        let (was, now) = changes.total;
        Self {
            number,
            revision,
            job: Arc::clone(&settings.job_name),
            client: settings.client.clone(),
            estimate: before.job.settings.estimate_number.clone(),
            date: after.date,
            valid_until: after.price.valid_until,
            currency: settings.currency.value,
            beds,
            rest: now - was - told,
            before: was,
            after: now,
        }
    }

    /// Names of the beds that changed.
    pub fn names(&self) -> BTreeSet<&str> {
        self.beds.iter().map(|bed| bed.name.as_str()).collect()
    }
}

fn bed(moved: &Moved<String>, changes: &Changes) -> ChangedBed {
    let share = changes.beds.iter().find(|bed| bed.name == moved.name);
    let of = |money: Option<Money>| money.unwrap_or(Money::ZERO);
    ChangedBed {
        name: moved.name.clone(),
        before: moved.before.clone(),
        after: moved.after.clone(),
        adds: share.map_or(Money::ZERO, |m| of(m.after) - of(m.before)),
    }
}
