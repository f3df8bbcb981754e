//! A caution about what is asked for before work begins: some places cap it by law.

use super::super::estimate::Due;
use super::super::naming::speaks_of;
use super::Reason;
use crate::model::job::Job;
use crate::model::library::Library;
use crate::problem::Problem;
use crate::units::{Decimal, Money};

const SHARE: &str = "deposit_share";
const SUM: &str = "deposit_sum";

/// A stage of payment that is due before anything is built and is more than some place allows, by its
/// share of the price or by its sum. The first such stage is told, since all of them are in one contract.
pub fn of_deposit(job: &Job, payments: &[Due], library: &Library) -> Option<Problem> {
    let (share, sum) = (library.caution(SHARE)?, library.caution(SUM)?);
    let total: Money = payments.iter().map(|due| due.amount).sum();
    let hundredths = share.threshold?;
    let most = total
        .amount()
        .saturating_mul(hundredths)
        .checked_div(Decimal::ONE_HUNDRED)?;
    let currency = job.settings.currency.value;
    // The cap by a sum is a law of one country, in its own money.
    let most_in_money = sum.threshold.filter(|_| currency.as_str() == &*sum.unit);
    let stages = job.payments.iter().zip(payments);
    let mut early = stages.filter(|(_, due)| {
        let words = format!("{}, {}", due.stage, due.when.as_deref().unwrap_or_default());
        speaks_of(&words, &share.names)
    });
    let (key, stage, due) = early.find_map(|(stage, due)| {
        let amount = due.amount.amount();
        if amount > most {
            return Some((SHARE, stage, due));
        }
        let is_above = most_in_money.is_some_and(|most| amount > most);
        is_above.then_some((SUM, stage, due))
    })?;
    let reason = Reason {
        key,
        subject: format!("{} ({})", due.stage, currency.show(due.amount)),
        about: vec![due.stage.to_string()],
        spot: Some((stage.at, "Share or amount")),
    };
    Some(reason.said(library, job.settings.units.value))
}

#[cfg(test)]
mod tests {
    use super::super::super::trial::{Trial, row};
    use super::*;
    use crate::model::known::Known;
    use crate::model::quote::{Part, Payment};
    use crate::units::Currency;

    /// What is said of stages `(name, when, amount)`, before the words of the caution.
    fn said(stages: &[(&str, &str, i64)], currency: &str) -> Option<String> {
        let mut trial = Trial::new();
        trial.job.settings.currency.value = Currency::from_code(currency).unwrap();
        let mut due = Vec::new();
        for (place, (name, when, amount)) in (1..).zip(stages) {
            let amount = Decimal::from(*amount);
            trial.job.payments.push(Payment {
                at: row(9, place),
                stage: (*name).into(),
                part: Known::assumed(Part::Sum(amount), "by hand"),
                when: (!when.is_empty()).then(|| (*when).into()),
            });
            due.push(Due {
                stage: (*name).into(),
                when: (!when.is_empty()).then(|| (*when).into()),
                amount: Money::of(amount),
            });
        }
        let problem = of_deposit(&trial.job, &due, &trial.library)?;
        assert_eq!(problem.spot.unwrap().field, "Share or amount");
        let concern = problem.caution.unwrap();
        let subject = problem.sentence.split(": ").next().unwrap();
        Some(format!("{} {subject}", concern.key))
    }

    #[test]
    fn more_than_a_tenth_of_the_price_before_work_is_told() {
        // A tenth of 5,000 is 500.
        let stages = |first| [("Deposit", "", first), ("Completion", "", 5_000 - first)];
        let told = Some("deposit_share Deposit (501.00)".to_owned());
        assert_eq!(said(&stages(501), "USD"), told);
        assert_eq!(said(&stages(501), "EUR"), told);
        assert_eq!(said(&stages(500), "USD"), None);
    }

    #[test]
    fn a_sum_is_held_against_a_cap_in_the_same_money_only() {
        // A tenth of 20,000 is 2,000: 1,500 is less than that and more than 1,000.
        let stages = [("First part", "on signing", 1_500), ("Rest", "", 18_500)];
        let told = Some("deposit_sum First part (1,500.00)".to_owned());
        assert_eq!(said(&stages, "USD"), told);
        assert_eq!(said(&stages, "EUR"), None);
    }

    #[test]
    fn what_is_due_for_work_that_stands_is_no_deposit() {
        let stages = [("Frames stand", "", 3_000), ("Completion", "", 2_000)];
        assert_eq!(said(&stages, "USD"), None);
    }
}
