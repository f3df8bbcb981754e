//! The cut list of one material: the bench as a cutting task, and its answer as cuts.

use super::cutting::{self, Answer, Effort, Task};
use super::sticks::{Bench, Cut, Stock};

/// A cut list found.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    /// The sticks.
    pub(super) cuts: Vec<Cut>,
    /// A price in millionths that no cutting can go below; `None` when it was not asked for.
    pub(super) bound: Option<i128>,
}

impl Solved {
    /// Whether no other cutting costs less.
    pub(super) fn is_least(&self, bench: &Bench<'_>) -> bool {
        let cost = cost_of(bench, &self.cuts);
        self.bound.is_some_and(|bound| cost <= bound)
    }
}

/// The cheapest cutting found; `None` when the sticks for sale cannot yield all pieces.
pub(super) fn solve(bench: &Bench<'_>) -> Option<Solved> {
    let Answer {
        cuts, lower_bound, ..
    } = cutting::solve(&task_of(bench), Effort::default())?;
    Some(Solved {
        cuts,
        bound: Some(lower_bound),
    })
}

/// A good cutting found with little work, for questions beside the list itself.
pub(super) fn quick(bench: &Bench<'_>) -> Option<Vec<Cut>> {
    let effort = Effort {
        steps: 30_000_000,
        dives: 4,
    };
    cutting::solve(&task_of(bench), effort).map(|answer| answer.cuts)
}

/// A price in millionths below which no cutting can go.
pub(super) fn lower_bound(bench: &Bench<'_>) -> i128 {
    cutting::lower_bound(&task_of(bench), Effort::default())
}

/// Price of a cutting, in millionths.
pub(super) fn cost_of(bench: &Bench<'_>, cuts: &[Cut]) -> i128 {
    let price = |cut: &Cut| bench.stocks.get(cut.stock).map_or(0, |stock| stock.price);
    cuts.iter()
        .map(|cut| i128::from(price(cut)).saturating_mul(i128::from(cut.times)))
        .fold(0, i128::saturating_add)
}

fn task_of(bench: &Bench<'_>) -> Task {
    Task {
        kerf: bench.kerf,
        stocks: bench.stocks.iter().map(stock_of).collect(),
        sizes: bench.sizes.to_vec(),
    }
}

/// A stick yields a piece of its true or its selling length whole, without trim.
fn stock_of(stock: &Stock) -> cutting::Stock {
    let mut whole = vec![stock.full];
    if stock.nominal < stock.full {
        whole.push(stock.nominal);
    }
    cutting::Stock {
        usable: stock.usable,
        whole,
        price: stock.price,
        most: stock.most,
    }
}
