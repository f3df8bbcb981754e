//! Which columns of the ledger hold the beds' shares: found by their numbers, so that every live
//! check points at cells that really hold what it names.

use crate::model::sheet::Sheet;
use crate::price::ledger::{Column, Format, Role};
use crate::price::term::{CellRef, ColRef};
use crate::price::{BedMoney, Estimate};
use crate::units::Money;

/// A column with one figure for each row of `Beds`.
#[derive(Clone, Debug)]
pub(super) struct BedColumn {
    /// The column.
    pub(super) col: ColRef,
    /// For each bed in the job's order, the row of the block.
    rows: Vec<usize>,
}

impl BedColumn {
    /// The live column whose numbers are `figure` of every bed; among several, one whose title
    /// names `hint`.
    pub(super) fn find(
        estimate: &Estimate,
        hint: &str,
        figure: impl Fn(&BedMoney) -> Money,
    ) -> Option<Self> {
        let wanted: Vec<Money> = estimate.price.beds.iter().map(figure).collect();
        let orders = [in_job_order(estimate), in_name_order(estimate)];
        let mut found: Option<Self> = None;
        for at in &estimate.ledger.sequence {
            let column = estimate.ledger.get(*at)?;
            let is_money = column.format == Format::Money
                && matches!(column.role, Role::Live(_) | Role::LiveRows(_));
            let numbers = estimate.values.column(*at).unwrap_or_default();
            if !is_money || numbers.len() != wanted.len() {
                continue;
            }
            let named = column.title.to_lowercase().contains(hint);
            if !named && wanted.iter().all(|money| money.is_zero()) {
                continue;
            }
            for rows in &orders {
                let mut pairs = rows.iter().zip(&wanted);
                let same =
                    pairs.all(|(row, money)| numbers.get(*row).copied() == Some(money.amount()));
                if same && (named || found.is_none()) {
                    found = Some(Self {
                        col: *at,
                        rows: rows.clone(),
                    });
                    break;
                }
            }
            if named && found.as_ref().is_some_and(|f| f.col == *at) {
                return found;
            }
        }
        found
    }

    /// The cell of a bed, by its place in the job.
    pub(super) fn cell(&self, bed: usize) -> Option<CellRef> {
        Some(CellRef {
            col: self.col,
            row: u32::try_from(*self.rows.get(bed)?).ok()?,
        })
    }
}

/// The live column of that title beside the rows of `Areas`; `None` when the job has none.
pub(super) fn of_areas(estimate: &Estimate, title: &str) -> Option<ColRef> {
    let ledger = &estimate.ledger;
    let block = ledger
        .blocks
        .iter()
        .position(|b| b.sheet == Sheet::Areas.title())?;
    let columns = &ledger.blocks.get(block)?.columns;
    let is_share = |c: &Column| &*c.title == title && matches!(c.role, Role::Live(_));
    Some(ColRef {
        block: u16::try_from(block).ok()?,
        column: u16::try_from(columns.iter().rposition(is_share)?).ok()?,
    })
}

fn in_job_order(estimate: &Estimate) -> Vec<usize> {
    (0..estimate.price.beds.len()).collect()
}

/// Places of the beds in the job, by name.
pub(super) fn by_name(estimate: &Estimate) -> Vec<usize> {
    let mut beds = in_job_order(estimate);
    beds.sort_by_key(|bed| estimate.job.beds.get(*bed).map(|b| &b.name));
    beds
}

fn in_name_order(estimate: &Estimate) -> Vec<usize> {
    let mut rows = vec![0; estimate.price.beds.len()];
    for (row, bed) in by_name(estimate).into_iter().enumerate() {
        if let Some(slot) = rows.get_mut(bed) {
            *slot = row;
        }
    }
    rows
}
