//! A matrix whose entries lie near the diagonal, and its factors L·U.
//!
//! With four unknowns a node and elements between neighbours, nothing lies further than seven places off the diagonal.
//! The factors are found row by row as in any book; no pivoting, for without friction the matrix is symmetric and
//! positive definite wherever the work is held, and the friction of jaws changes little of that.
#![allow(clippy::needless_range_loop, reason = "a matrix is read by its indices")]

use super::wide::Wide;

/// Entries on either side of the diagonal that can be different from 0.
const REACH: usize = 7;

type Row = [Wide; 2 * REACH + 1];

/// A matrix, row after row.
#[derive(Clone)]
pub struct Band {
    rows: Vec<Row>,
}

/// L (its diagonal is 1) and U of a matrix, in one.
pub struct Factors {
    rows: Vec<Row>,
}

/// Place of (`row`, `column`) in its row.
fn place(row: usize, column: usize) -> usize {
    REACH + column - row
}

impl Band {
    pub fn zero(size: usize) -> Self {
        Self { rows: vec![[Wide::ZERO; 2 * REACH + 1]; size] }
    }

    pub fn size(&self) -> usize {
        self.rows.len()
    }

    /// Adds to the entry at (`row`, `column`).
    pub fn add(&mut self, row: usize, column: usize, value: Wide) {
        assert!(row.abs_diff(column) <= REACH, "entry too far off the diagonal");
        self.rows[row][place(row, column)] += value;
    }

    /// The factors, or nothing where a pivot is not positive: the work is not held, or buckles.
    pub fn factors(&self) -> Option<Factors> {
        self.factors_if(|pivot| pivot > 0.0)
    }

    /// The factors with pivots of any sign: the drag of a stiff jaw can turn one over without anything being loose.
    pub fn factors_of_any_sign(&self) -> Option<Factors> {
        self.factors_if(|_| true)
    }

    fn factors_if(&self, sound: impl Fn(f64) -> bool) -> Option<Factors> {
        let mut rows = self.rows.clone();
        for pivot in 0..self.size() {
            let diagonal = rows[pivot][REACH];
            // 22 digits lost of 32: what is left is rounding.
            let pivot_size = diagonal.to_f64();
            if !sound(pivot_size) || pivot_size.abs() <= 1e-22 * self.rows[pivot][REACH].to_f64().abs() {
                return None;
            }
            let upper = rows[pivot];
            for row in pivot + 1..self.size().min(pivot + REACH + 1) {
                let entry = rows[row][place(row, pivot)];
                if entry.to_f64() == 0.0 {
                    continue;
                }
                let share = entry / diagonal;
                rows[row][place(row, pivot)] = share;
                for column in pivot + 1..self.size().min(pivot + REACH + 1) {
                    rows[row][place(row, column)] -= share * upper[place(pivot, column)];
                }
            }
        }
        Some(Factors { rows })
    }
}

impl Factors {
    /// The vector that the matrix turns into `right_side`.
    pub fn solve(&self, right_side: &[Wide]) -> Vec<Wide> {
        let mut solution = right_side.to_vec();
        for row in 0..solution.len() {
            for column in row.saturating_sub(REACH)..row {
                let known = solution[column];
                solution[row] -= self.rows[row][place(row, column)] * known;
            }
        }
        for row in (0..solution.len()).rev() {
            for column in row + 1..solution.len().min(row + REACH + 1) {
                let known = solution[column];
                solution[row] -= self.rows[row][place(row, column)] * known;
            }
            solution[row] = solution[row] / self.rows[row][REACH];
        }
        solution
    }
}
