//! `Payments`: the stages in which the price is paid.

use super::draft::Draft;
use super::reading::Reading;
use crate::model::known::Known;
use crate::model::library::folded;
use crate::model::quote::{Part, Payment};
use crate::model::sheet::Sheet;
use crate::problem::Problem;
use crate::read::open::Opened;
use crate::read::row::rows;
use crate::units::Decimal;

const HINT: &str = "write a share as 30%, a sum as 500, or rest for what the other stages leave";
/// Words for what the other stages leave.
const REST: [&str; 6] = ["rest", "balance", "remainder", "resto", "saldo", "restante"];
/// Reads every stage, in the order of the rows.
pub(super) fn read(draft: &mut Draft<'_>, opened: &Opened) {
    let mut stages = Vec::new();
    for row in rows(opened, Sheet::Payments) {
        let mut reading = Reading::of(&row);
        stages.extend(stage(&mut reading));
        draft.hear(reading);
    }
    draft.problems.extend(messages(&stages));
    draft.payments = stages;
}

fn stage(reading: &mut Reading<'_, '_>) -> Option<Payment> {
    let stage = reading.wanted("Stage", "write what it is, as deposit")?;
    let part = part_of_stage(reading)?;
    Some(Payment {
        at: reading.at(),
        stage,
        part: Known::job(part, reading.at(), "Share or amount"),
        when: reading.text("When"),
    })
}

/// Nothing or a word for the rest, else a share or a sum.
fn part_of_stage(reading: &mut Reading<'_, '_>) -> Option<Part> {
    let field = "Share or amount";
    let Some(text) = reading.text(field) else {
        return Some(Part::Rest);
    };
    if REST.iter().any(|word| folded(word) == folded(&text)) {
        return Some(Part::Rest);
    }
    part(reading, field, HINT)
}

/// A share where the cell holds a percent sign or is formatted so, else a sum.
pub(super) fn part(reading: &mut Reading<'_, '_>, field: &'static str, hint: &str) -> Option<Part> {
    let text = reading.text(field)?;
    if text.contains('%') || reading.row.is_percent(field) {
        let share = reading.percent(field)?;
        if share > Decimal::ONE {
            let sentence = format!("{field} must be at most 100% of the price");
            reading.complain(field, sentence, hint);
            return None;
        }
        return Some(Part::Share(share));
    }
    let sum = reading.money(field)?;
    if sum > Decimal::ZERO && sum < Decimal::ONE {
        let sentence = format!("{field} is unclear: {sum} may be a sum or a share");
        reading.complain(field, sentence, hint);
        return None;
    }
    Some(Part::Sum(sum))
}

/// What is wrong with the stages together, whatever the price will be.
fn messages(stages: &[Payment]) -> Vec<Problem> {
    let mut told = Vec::new();
    let is_rest = |stage: &&Payment| stage.part.value == Part::Rest;
    for second in stages.iter().filter(is_rest).skip(1) {
        let two = Problem::error("two stages take the rest of the price").hint(HINT);
        told.push(two.at(second.at, "Share or amount"));
    }
    let share = |stage: &Payment| match stage.part.value {
        Part::Share(share) => share,
        _ => Decimal::ZERO,
    };
    let shares: Decimal = stages.iter().map(share).sum();
    let only_shares = stages
        .iter()
        .all(|stage| matches!(stage.part.value, Part::Share(_)));
    let percent = shares.saturating_mul(Decimal::ONE_HUNDRED).normalize();
    let amiss = shares > Decimal::ONE || (only_shares && shares != Decimal::ONE);
    if let Some(last) = stages.last().filter(|_| amiss) {
        let sentence = format!("the stages come to {percent}% of the price");
        let hint = "let them come to 100%, or write rest for the last one";
        told.push(
            Problem::error(sentence)
                .hint(hint)
                .at(last.at, "Share or amount"),
        );
    }
    told
}
