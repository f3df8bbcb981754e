//! Shares of cost and price, by running totals that go on from block to block: beds first, then areas.

use super::super::estimate::Group;
use super::super::ledger::{Format, Ledger, Rank, Role, Value};
use super::super::term::{ColRef, Cond, LinkRef, Term};
use super::Setting;
use super::inputs::row_u32;
use super::shares::Kinds;
use super::tail::Tail;
use crate::model::job::{PhaseId, SiteId};
use crate::units::Decimal;

/// The money columns of one block of bearers, and which row each bearer has.
pub(super) struct Bearing {
    pub rows: Vec<usize>,
    pub groups: Vec<ColRef>,
    pub cost: ColRef,
    pub price: ColRef,
    pub place: ColRef,
    /// The running totals at the last row: where the next block goes on.
    pub ends: Ends,
}

/// Running totals at the end of a block.
#[derive(Clone)]
pub(super) struct Ends {
    groups: Vec<Term>,
    cost: Term,
}

impl Ends {
    /// Before the first row of all.
    pub(super) fn none() -> Self {
        Self {
            groups: Group::ALL.iter().map(|_| Term::whole(0)).collect(),
            cost: Term::whole(0),
        }
    }
}

/// What the shares of a block rest on.
pub(super) struct Base<'a> {
    /// The block.
    pub block: u16,
    /// Its row of each bearer.
    pub rows: Vec<usize>,
    /// The bearers in the order in which cost is shared, as places in `rows`.
    pub order: Vec<usize>,
    /// From each row to its kind.
    pub to_kind: LinkRef,
    /// How many stand on a row.
    pub count: Term,
    /// Site and phase of each bearer.
    pub places: Vec<(SiteId, PhaseId)>,
    pub kinds: &'a Kinds,
    pub tail: &'a Tail,
    /// Where the running totals go on from.
    pub after: Ends,
}

impl Setting<'_> {
    /// Adds the columns of shares to a block.
    pub(super) fn bearing(&self, ledger: &mut Ledger, base: Base<'_>) -> Bearing {
        let block = base.block;
        let last = set_order(ledger, block, &base.rows, &base.order);
        let end = |start: &Term, run: ColRef| match last {
            Some(row) => start.clone().plus(Term::cell(run, row)),
            None => start.clone(),
        };
        let (mut groups, mut ends) = (Vec::new(), Vec::new());
        let pairs = Group::ALL.iter().zip(&base.kinds.groups);
        for ((group, of_kind), start) in pairs.zip(&base.after.groups) {
            let step = Term::Via(base.to_kind, *of_kind) * base.count.clone();
            let run = running(ledger, block, &format!("Running {}", group.title()), step);
            let until = start.clone().plus(Term::Here(run));
            let before = start.clone().plus(Term::Before(run));
            groups.push(share(ledger, block, group.title(), until, before));
            ends.push(end(start, run));
        }
        let cost = Term::add_all(groups.iter().map(|g| Term::Here(*g))).money();
        let cost = ledger.live(block, "Cost", Format::Money, cost);
        let (price, run) = self.price_share(ledger, &base, cost);
        let place = self.place_share(ledger, &base);
        let ends = Ends {
            groups: ends,
            cost: end(&base.after.cost, run),
        };
        Bearing {
            rows: base.rows,
            groups,
            cost,
            price,
            place,
            ends,
        }
    }

    /// The price is shared by cost, or by beds when nothing costs anything.
    fn price_share(&self, ledger: &mut Ledger, base: &Base<'_>, cost: ColRef) -> (ColRef, ColRef) {
        let tail = base.tail;
        let parts = ["direct_cost", "labour_charged", "pass_through"];
        let whole = Term::add_all(parts.iter().map(|key| Term::Cell(tail.cell(key))));
        let free = Cond::Equal(whole.clone(), Term::whole(0));
        let beds = self.job.beds.iter().map(|b| i64::from(b.count));
        let beds = beds.sum::<i64>() + i64::try_from(self.job.areas.len()).unwrap_or(0);
        let step = Term::If(
            Box::new(free.clone()),
            Box::new(base.count.clone()),
            Box::new(Term::Here(cost)),
        );
        let of = Term::If(Box::new(free), Box::new(Term::whole(beds)), Box::new(whole));
        let run = running(ledger, base.block, "Running cost", step);
        let start = &base.after.cost;
        let until = |at: Term| (Term::Cell(tail.cell("total")) * at).ratio(of.clone());
        let (up_to, before) = (
            until(start.clone().plus(Term::Here(run))),
            until(start.clone().plus(Term::Before(run))),
        );
        (share(ledger, base.block, "Price", up_to, before), run)
    }

    fn place_share(&self, ledger: &mut Ledger, base: &Base<'_>) -> ColRef {
        let mut values = vec![Value::Empty; ledger.rows(base.block)];
        for (place, row) in base.places.iter().zip(&base.rows) {
            if let (Some(n), Some(slot)) = (self.places_of.get(place), values.get_mut(*row)) {
                *slot = Value::number(Decimal::from(row_u32(*n).saturating_add(1)));
            }
        }
        let format = Format::Number(0);
        let place = ledger.numbers(base.block, "Place", format, Role::Label, values);
        ledger.note(
            place,
            "Its row of the table By site and phase on the sheet Price.",
        );
        if let Some(column) = ledger.column_mut(place) {
            column.rank = Rank::Behind;
        }
        place
    }
}

/// Sets the sharing order of a block; says its last row.
fn set_order(ledger: &mut Ledger, block: u16, rows: &[usize], order: &[usize]) -> Option<usize> {
    let order: Vec<usize> = order.iter().filter_map(|b| rows.get(*b).copied()).collect();
    let mut before = vec![None; ledger.rows(block)];
    for (first, second) in order.iter().zip(order.iter().skip(1)) {
        if let Some(slot) = before.get_mut(*second) {
            *slot = Some(row_u32(*first));
        }
    }
    let last = order.last().copied();
    if let Some(block) = ledger.blocks.get_mut(usize::from(block)) {
        block.order = order.into_iter().map(row_u32).collect();
        block.before = before;
    }
    last
}

/// A running total in sharing order; eight decimals, so that engine and sheet stay together over many rows.
fn running(ledger: &mut Ledger, block: u16, title: &str, step: Term) -> ColRef {
    let next = ledger
        .blocks
        .get(usize::from(block))
        .map_or(0, |b| b.columns.len());
    let own = ColRef {
        block,
        column: u16::try_from(next).unwrap_or(u16::MAX),
    };
    let term = Term::Round(Box::new(Term::Before(own) + step), 8);
    ledger.running(block, title, term)
}

/// A share: the rounded running total less the one before it.
fn share(ledger: &mut Ledger, block: u16, title: &str, until: Term, before: Term) -> ColRef {
    ledger.live(
        block,
        title,
        Format::Money,
        (until.money() - before.money()).money(),
    )
}
