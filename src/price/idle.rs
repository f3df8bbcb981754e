//! Cells that are nothing and stay so whatever is typed into the marked cells: no line of a page need
//! show them.

use super::ledger::{Ledger, Role};
use super::term::{CellRef, ColRef, Term};

/// Whether a cell is 0 and no cell that is meant for change can make it more.
pub fn is_idle(ledger: &Ledger, at: CellRef) -> bool {
    usize::try_from(at.row).is_ok_and(|row| cell(ledger, at.col, row))
}

fn cell(ledger: &Ledger, at: ColRef, row: usize) -> bool {
    let Some(column) = ledger.get(at) else {
        return false;
    };
    match &column.role {
        Role::Live(of) | Role::Running(of) => term(ledger, of, row),
        Role::LiveRows(terms) => {
            let of = terms.get(row).and_then(Option::as_ref);
            of.is_none_or(|of| term(ledger, of, row))
        }
        Role::Fixed | Role::Label => {
            let value = column.values.get(row);
            value.is_none_or(|value| value.as_number().is_zero())
        }
        Role::Given | Role::Flag { .. } => false,
    }
}

fn term(ledger: &Ledger, of: &Term, row: usize) -> bool {
    let idle = |of: &Term| term(ledger, of, row);
    match of {
        Term::Number(number) => number.is_zero(),
        Term::Here(at) => cell(ledger, *at, row),
        Term::Cell(at) => is_idle(ledger, *at),
        Term::SumIf { key, is, col } => match is.as_ref() {
            Term::Number(is) => {
                let keys = ledger.get(*key).map(|c| c.values.iter().enumerate());
                let mut rows = keys.into_iter().flatten();
                rows.all(|(row, key)| key.as_number() != *is || cell(ledger, *col, row))
            }
            _ => false,
        },
        Term::Add(a, b) | Term::Sub(a, b) => idle(a) && idle(b),
        Term::Mul(a, b) => idle(a) || idle(b),
        Term::Div(a, _)
        | Term::StepUp(a, _)
        | Term::Money(a)
        | Term::Round(a, _)
        | Term::WholeUp(a) => idle(a),
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::price::ledger::{Format, Value};
    use crate::units::{Currency, Decimal};

    #[test]
    fn a_sum_over_nothing_stays_nothing_and_one_over_a_marked_cell_does_not() {
        let mut ledger = Ledger::new(Currency::USD);
        let block = ledger.block("Extras", "", 2);
        let numbers = |of: [i64; 2]| of.map(|n| Value::number(Decimal::from(n))).to_vec();
        let number = Format::Number(0);
        let kind = ledger.numbers(block, "Kind", number, Role::Label, numbers([1, 1]));
        let cost = ledger.numbers(block, "Cost", number, Role::Given, numbers([0, 0]));
        let rate = ledger.numbers(block, "Rate", number, Role::Fixed, numbers([0, 0]));
        let price = ledger.block("Price", "", 4);
        let terms = [
            // Costs of kind 1 are marked, there is none of kind 2.
            Term::total_if(kind, 1, cost),
            Term::total_if(kind, 2, cost),
            // No tax is added: nothing times a rate.
            Term::whole(0) * Term::cell(cost, 0),
            // Kind 1 has a rate of 0 that only the program can redo.
            Term::total_if(kind, 1, rate) + Term::total_if(kind, 2, cost),
        ];
        let role = Role::LiveRows(terms.into_iter().map(Some).collect());
        let col = ledger.numbers(price, "Amount", Format::Money, role, Vec::new());
        let idle: Vec<bool> = (0..4)
            .map(|row| is_idle(&ledger, CellRef { col, row }))
            .collect();
        assert_eq!(idle, [false, true, true, true]);
    }
}
