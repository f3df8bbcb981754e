//! What is cut for the whole job: lengths from sticks and rectangles from sheets, by size and mark.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::demand::{Demand, PieceNeed, SheetNeed};
use crate::model::job::CutRow;
use crate::model::material::MaterialId;
use crate::takeoff::{Moment, TakeOff};
use crate::units::{Decimal, Dimension, Length};

/// Everything to cut, smallest first.
#[derive(Default)]
pub(super) struct ToCut {
    lengths: BTreeMap<(MaterialId, Length, Arc<str>), Decimal>,
    /// By width, then by length.
    sheets: BTreeMap<(MaterialId, Length, Length, Arc<str>), Decimal>,
}

impl ToCut {
    /// Adds the take-off of one, so many times.
    pub(super) fn take_off(&mut self, takeoff: &TakeOff, times: Decimal) {
        for piece in &takeoff.pieces {
            let key = (piece.material, piece.length, piece.mark.clone());
            let count = Decimal::from(piece.count).saturating_mul(times);
            add(self.lengths.entry(key).or_default(), count);
        }
        for piece in &takeoff.sheet_pieces {
            let mark = piece.mark.clone();
            let key = (piece.material, piece.width, piece.length, mark);
            let count = Decimal::from(piece.count).saturating_mul(times);
            add(self.sheets.entry(key).or_default(), count);
        }
    }

    /// Adds a row of `Pieces`.
    pub(super) fn row(&mut self, row: &CutRow) {
        let key = (row.material, row.length.tidy(), row.mark.clone());
        add(self.lengths.entry(key).or_default(), row.count.into());
    }

    /// Gives each demand what is cut for it: longest first, widest before longest where sheets are cut.
    pub(super) fn give_out(self, demands: &mut [Demand]) {
        for ((material, length, mark), count) in self.lengths.into_iter().rev() {
            if let Some(demand) = built_of(demands, material, Dimension::Length) {
                demand.pieces.push(PieceNeed {
                    length,
                    mark,
                    count,
                });
            }
        }
        for ((material, width, length, mark), count) in self.sheets.into_iter().rev() {
            if let Some(demand) = built_of(demands, material, Dimension::Area) {
                demand.sheets.push(SheetNeed {
                    length,
                    width,
                    mark,
                    count,
                });
            }
        }
    }
}

fn add(total: &mut Decimal, count: Decimal) {
    *total = total.saturating_add(count);
}

fn built_of(
    demands: &mut [Demand],
    material: MaterialId,
    dimension: Dimension,
) -> Option<&mut Demand> {
    let wanted = (material, Moment::Build, dimension);
    let mut all = demands.iter_mut();
    all.find(|d| (d.material, d.moment, d.dimension) == wanted)
}
