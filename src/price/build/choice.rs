//! Beside each price: from where on the choice of supplier would be another, and a live caution.

use std::collections::{BTreeMap, BTreeSet};

use rust_decimal::Decimal;

use super::super::ledger::{Format, Ledger, Role, Value};
use super::super::term::{ColRef, Cond, Term};
use super::inputs::put;
use crate::buying::Bought;
use crate::model::by_measure::ByMeasure;
use crate::model::job::Job;
use crate::model::offer::OfferId;
use crate::units::round::tidy15;

const CHOSEN: &str = "This price was chosen. Above this figure another one becomes the cheaper.";
const REFUSED: &str =
    "This price was not chosen. Below this figure the choice should be made again.";

/// Adds the columns at the right of the prices. `rows` are the block's rows of the job's offers.
pub(super) fn columns(
    ledger: &mut Ledger,
    job: &Job,
    bought: &Bought,
    (block, rows): (u16, &[Option<usize>]),
    price: ColRef,
) {
    let count = ledger.rows(block);
    let mut above = vec![Value::Empty; count];
    let mut below = vec![Value::Empty; count];
    let flips = flips(bought);
    let wanted: BTreeSet<_> = bought.lines.iter().map(|l| l.material).collect();
    // A price by a measure may be for several lengths: one of them that is bought makes the row chosen.
    let mut chosen: BTreeMap<usize, Option<Decimal>> = BTreeMap::new();
    for (index, (offer, row)) in job.offers.iter().zip(rows).enumerate() {
        if let (Some(row), Some(flip)) = (*row, flips.get(&OfferId::of(index))) {
            let times = offer.by.as_ref().map_or(Decimal::ONE, ByMeasure::times);
            let flip = flip.and_then(|flip| flip.checked_div(times)).map(tidy15);
            let least = chosen.entry(row).or_insert(flip);
            *least = [*least, flip].into_iter().flatten().min();
        }
    }
    for (offer, row) in job.offers.iter().zip(rows) {
        let Some(row) = *row else { continue };
        let asked = offer.price.as_ref().map_or(Decimal::ZERO, |p| p.value);
        match chosen.get(&row) {
            Some(Some(flip)) => put(&mut above, row, *flip),
            None if wanted.contains(&offer.material) => put(&mut below, row, asked),
            _ => {}
        }
    }
    let format = Format::UnitPrice;
    let above = ledger.numbers(block, "Chosen up to", format, Role::Label, above);
    ledger.note(above, CHOSEN);
    let below = ledger.numbers(block, "Not chosen at", format, Role::Label, below);
    ledger.note(below, REFUSED);
    let role = Role::Flag {
        when: Cond::Greater(
            one(both(positive(above), greater(price, above)))
                + one(both(positive(price), greater(below, price))),
            Term::whole(0),
        ),
        yes: "run again: another supplier may now be cheaper",
        no: "as chosen",
    };
    ledger.numbers(block, "Choice", Format::Text, role, Vec::new());
}

/// The least flip price of each chosen offer, `None` for an offer without a rival.
fn flips(bought: &Bought) -> BTreeMap<OfferId, Option<Decimal>> {
    let mut flips: BTreeMap<OfferId, Option<Decimal>> = BTreeMap::new();
    for line in &bought.lines {
        if let Some(offer) = line.offer {
            let flip = flips.entry(offer).or_insert(line.flip_price);
            *flip = [*flip, line.flip_price].into_iter().flatten().min();
        }
    }
    flips
}

fn greater(a: ColRef, b: ColRef) -> Cond {
    Cond::Greater(Term::Here(a), Term::Here(b))
}

fn positive(a: ColRef) -> Cond {
    Cond::Greater(Term::Here(a), Term::whole(0))
}

fn both(a: Cond, b: Cond) -> Cond {
    Cond::And(Box::new(a), Box::new(b))
}

/// 1 where a condition holds, else 0.
fn one(when: Cond) -> Term {
    Term::If(
        Box::new(when),
        Box::new(Term::whole(1)),
        Box::new(Term::whole(0)),
    )
}
