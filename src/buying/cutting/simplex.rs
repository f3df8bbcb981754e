//! A small revised simplex for covering rows: dense inverse, sparse columns, columns that come as they
//! are found. It guides the search; nothing that is claimed rests on its digits.
#![allow(
    clippy::float_arithmetic,
    reason = "a linear program that only guides: claims are certified in whole numbers"
)]

use super::number::count;
use super::work::Work;

/// What counts as nothing for a step's size.
const TINY: f64 = 1e-9;
/// What counts as nothing for a reduced cost, as a part of the largest cost.
pub(super) const NO_GAIN: f64 = 1e-9;
/// Steps between two looks at how far the inverse has drifted.
const CHECK: u32 = 50;

/// A column: what it costs, and its coefficients by row.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) cost: f64,
    pub(super) entries: Vec<(usize, f64)>,
}

/// A linear program `min cost x, A x = b, x >= 0` with a basis that is feasible at all times.
#[derive(Clone, Debug)]
pub(super) struct Simplex {
    rows: usize,
    inverse: Vec<f64>,
    right: Vec<f64>,
    /// Value of the basic column of each row.
    pub(super) values: Vec<f64>,
    /// Column of each row.
    pub(super) basis: Vec<usize>,
    /// Dual price of each row.
    pub(super) duals: Vec<f64>,
    pub(super) columns: Vec<Column>,
    /// Columns that may not enter any more.
    dead: Vec<bool>,
    basic: Vec<bool>,
    steps: u32,
}

impl Simplex {
    /// A program whose first basis is one column of its own for each row, at the given cost.
    pub(super) fn new(right: Vec<f64>, dear: f64) -> Self {
        let rows = right.len();
        let mut inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            inverse[row * rows + row] = 1.0;
        }
        let own = |row| Column {
            cost: dear,
            entries: vec![(row, 1.0)],
        };
        Self {
            rows,
            inverse,
            values: right.clone(),
            right,
            basis: (0..rows).collect(),
            duals: vec![dear; rows],
            columns: (0..rows).map(own).collect(),
            // Once out, they stay out.
            dead: vec![true; rows],
            basic: vec![true; rows],
            steps: 0,
        }
    }

    /// Adds a column outside the basis.
    pub(super) fn add(&mut self, column: Column) -> usize {
        self.columns.push(column);
        self.dead.push(false);
        self.basic.push(false);
        self.columns.len() - 1
    }

    /// Steps that a copy takes.
    pub(super) fn size(&self) -> i64 {
        count(self.rows * self.rows) / 2 + count(self.columns.len()) * 80
    }

    /// Cost of the present solution.
    pub(super) fn cost(&self) -> f64 {
        let pairs = self.basis.iter().zip(&self.values);
        pairs
            .map(|(column, value)| self.columns[*column].cost * value)
            .sum()
    }

    /// Keeps a column from entering; inside the basis it is made so dear that it leaves.
    pub(super) fn bar(&mut self, column: usize, dear: f64) {
        self.dead[column] = true;
        if self.basic[column] && self.columns[column].cost < dear {
            self.columns[column].cost = dear;
        }
    }

    /// Whether a column may still enter.
    pub(super) fn is_open(&self, column: usize) -> bool {
        !self.dead[column]
    }

    /// Changes a column's cost; `price_out` has to follow.
    pub(super) fn set_cost(&mut self, column: usize, cost: f64) {
        self.columns[column].cost = cost;
    }

    /// The column outside the basis that gains most at the present duals.
    pub(super) fn dearest(&self, least: f64, work: &mut Work) -> Option<usize> {
        work.spend(count(self.columns.len()) * 10);
        let mut best = (least, None);
        for (at, column) in self.columns.iter().enumerate() {
            if self.dead[at] || self.basic[at] {
                continue;
            }
            let gain = self.worth(&column.entries) - column.cost;
            if gain > best.0 {
                best = (gain, Some(at));
            }
        }
        best.1
    }

    /// What coefficients are worth at the present duals.
    pub(super) fn worth(&self, entries: &[(usize, f64)]) -> f64 {
        entries
            .iter()
            .map(|(row, times)| self.duals[*row] * times)
            .sum()
    }

    /// Brings a column into the basis; false when no row bounds it or it does not gain anything.
    pub(super) fn enter(&mut self, column: usize, work: &mut Work) -> bool {
        let along = self.direction(&self.columns[column].entries);
        let gain = self.worth(&self.columns[column].entries) - self.columns[column].cost;
        let Some(leaving) = self.leaving(&along) else {
            return false;
        };
        let step = (self.values[leaving] / along[leaving]).max(0.0);
        for (value, by) in self.values.iter_mut().zip(&along) {
            if by.abs() > 0.0 {
                *value = (*value - by * step).max(0.0);
            }
        }
        self.values[leaving] = step;
        let touched = self.pivot(leaving, &along);
        for (dual, part) in self
            .duals
            .iter_mut()
            .zip(&self.inverse[leaving * self.rows..])
        {
            *dual -= gain * part;
        }
        self.basic[self.basis[leaving]] = false;
        self.basic[column] = true;
        self.basis[leaving] = column;
        work.spend(count((touched + 3) * self.rows) / 4);
        self.steps += 1;
        if self.steps.is_multiple_of(CHECK) {
            self.check(work);
        }
        true
    }

    /// The inverse times a column.
    fn direction(&self, entries: &[(usize, f64)]) -> Vec<f64> {
        let one = |row: &[f64]| entries.iter().map(|(at, times)| row[*at] * times).sum();
        self.inverse.chunks_exact(self.rows).map(one).collect()
    }

    /// The row that bounds the step; among equals the one with the largest coefficient.
    fn leaving(&self, along: &[f64]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (row, by) in along.iter().enumerate() {
            if *by <= TINY {
                continue;
            }
            let ratio = self.values[row] / by;
            let better = match best {
                None => true,
                Some((least, at)) => {
                    ratio < least - TINY || (ratio <= least + TINY && *by > along[at])
                }
            };
            if better {
                best = Some((ratio, row));
            }
        }
        best.map(|(_, row)| row)
    }

    /// Updates the inverse; says how many rows were touched.
    fn pivot(&mut self, leaving: usize, along: &[f64]) -> usize {
        let (rows, mut touched) = (self.rows, 0);
        let span = leaving * rows..(leaving + 1) * rows;
        for part in &mut self.inverse[span.clone()] {
            *part /= along[leaving];
        }
        let pivot: Vec<f64> = self.inverse[span].to_vec();
        for (row, parts) in self.inverse.chunks_exact_mut(rows).enumerate() {
            let by = along[row];
            if row == leaving || by.abs() < 1e-13 {
                continue;
            }
            touched += 1;
            for (part, of) in parts.iter_mut().zip(&pivot) {
                *part -= by * of;
            }
        }
        touched
    }

    /// Builds the inverse anew when the values have drifted from the right side.
    fn check(&mut self, work: &mut Work) {
        let mut sums = vec![0.0; self.rows];
        for (column, value) in self.basis.iter().zip(&self.values) {
            for (row, times) in &self.columns[*column].entries {
                sums[*row] += times * value;
            }
        }
        let off = sums
            .iter()
            .zip(&self.right)
            .map(|(a, b)| (a - b).abs() / (1.0 + b.abs()));
        if off.fold(0.0, f64::max) > 1e-7 {
            self.rebuild(work);
        }
        self.price_out();
    }

    /// The duals from the costs of the basis.
    pub(super) fn price_out(&mut self) {
        self.duals = vec![0.0; self.rows];
        for (row, column) in self.basis.iter().enumerate() {
            let cost = self.columns[*column].cost;
            if cost.abs() > 0.0 {
                let parts = &self.inverse[row * self.rows..(row + 1) * self.rows];
                for (dual, part) in self.duals.iter_mut().zip(parts) {
                    *dual += cost * part;
                }
            }
        }
    }

    fn rebuild(&mut self, work: &mut Work) {
        let rows = self.rows;
        let columns = std::mem::take(&mut self.basis);
        self.inverse = vec![0.0; rows * rows];
        for row in 0..rows {
            self.inverse[row * rows + row] = 1.0;
        }
        let mut places: Vec<Option<usize>> = vec![None; rows];
        let mut lost = Vec::new();
        for column in columns {
            let along = self.direction(&self.columns[column].entries);
            let free = (0..rows).filter(|row| places[*row].is_none());
            let row = free.max_by(|a, b| along[*a].abs().total_cmp(&along[*b].abs()));
            match row.filter(|row| along[*row].abs() > 1e-8) {
                Some(row) => {
                    let touched = self.pivot(row, &along);
                    work.spend(count((touched + 2) * rows) / 4);
                    places[row] = Some(column);
                }
                None => lost.push(column),
            }
        }
        for column in lost {
            self.basic[column] = false;
        }
        // A row whose column turned out to depend on others gets its own first column back.
        let own = |(row, place): (usize, Option<usize>)| place.unwrap_or(row);
        self.basis = places.into_iter().enumerate().map(own).collect();
        for column in &self.basis {
            self.basic[*column] = true;
        }
        let right = &self.right;
        let one = |row: &[f64]| {
            row.iter()
                .zip(right)
                .map(|(a, b)| a * b)
                .sum::<f64>()
                .max(0.0)
        };
        self.values = self.inverse.chunks_exact(rows).map(one).collect();
    }

    /// Takes a basic column `times` out of the right side. What it lacks then is lent by a dear column
    /// of opposite sign, so that the basis stays feasible.
    pub(super) fn fix(&mut self, row: usize, times: f64, dear: f64) {
        let column = self.basis[row];
        for (at, by) in &self.columns[column].entries {
            self.right[*at] -= by * times;
        }
        self.values[row] -= times;
        if self.values[row] < 0.0 {
            self.lend(row, dear);
        }
    }

    /// Changes the right side of a row; `repair` has to follow.
    pub(super) fn shift(&mut self, row: usize, by: f64) {
        self.right[row] += by;
        let parts = self.inverse.chunks_exact(self.rows);
        for (value, parts) in self.values.iter_mut().zip(parts) {
            *value += parts[row] * by;
        }
    }

    /// Makes the basis feasible after right sides have changed: what rows lack is lent.
    pub(super) fn repair(&mut self, dear: f64) {
        for row in 0..self.rows {
            if self.values[row] < -TINY {
                self.lend(row, dear);
            }
            self.values[row] = self.values[row].max(0.0);
        }
        self.price_out();
    }

    /// Puts a dear column of opposite sign in the place of a basic one whose value is below nothing.
    fn lend(&mut self, row: usize, dear: f64) {
        let column = self.basis[row];
        let entries = self.columns[column]
            .entries
            .iter()
            .map(|(at, by)| (*at, -by))
            .collect();
        let lent = self.add(Column {
            cost: dear,
            entries,
        });
        self.dead[lent] = true;
        self.basic[lent] = true;
        self.basic[column] = false;
        self.basis[row] = lent;
        self.values[row] = -self.values[row];
        for part in &mut self.inverse[row * self.rows..(row + 1) * self.rows] {
            *part = -*part;
        }
    }
}
