//! Hours by hand, for the tests of what comes after.

use super::{LabourLine, LineKind};
use crate::model::job::SiteId;
use crate::model::labour::Driver;
use crate::takeoff::Moment;
use crate::units::Decimal;
use crate::units::by_hand::{d, hours as of_hours};

/// One of something that takes these hours, at a typical rate, on the first site.
pub(crate) fn line(name: &str, driver: Driver, hours: &str) -> LabourLine {
    LabourLine {
        kind: LineKind::Work,
        extra: None,
        task: None,
        name: name.into(),
        site: SiteId(0),
        moment: Moment::Build,
        driver,
        quantity: Decimal::ONE,
        unit: "each".into(),
        rate: d(hours),
        multiplier: Decimal::ONE,
        multiplier_words: String::new(),
        hours: of_hours(hours),
        range: None,
        typical: true,
        worker: None,
        measures: Vec::new(),
    }
}
